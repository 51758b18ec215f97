// Watches a product in the browser while its manifest is edited: node watch.mjs ADDRESS MANIFEST

import { readFileSync, writeFileSync } from "node:fs";
import { launch, open, report, settled } from "./browse.mjs";

const [address, manifest] = process.argv.slice(2);
const browser = await launch();
const { page, diary } = await open(browser, address);
const result = {};
const good = readFileSync(manifest, "utf8");
const number = () => page.evaluate(() => document.documentElement.dataset.build);
const later = async (old) => {
  const begun = Date.now();
  await page.waitForFunction((n) => document.documentElement.dataset.build !== n, old);
  return Date.now() - begun;
};
const where = () => page.evaluate(() => ({
  hash: location.hash,
  page: document.getElementById("stage").dataset.page,
  scroll: Math.round(scrollY),
  list: Math.round(document.getElementById("pages").scrollTop),
  taps: document.getElementById("show").getAttribute("aria-pressed"),
  filter: document.getElementById("filter").value,
}));
await page.waitForFunction(() => document.querySelector("#pages li"));
await page.evaluate(() => { location.hash = "#d0p5"; });
await page.click("#show");
await settled(page);
await page.evaluate(() => scrollTo({ top: 333, behavior: "instant" }));
result.before = await where();
const picture = () => page.evaluate(() => document.getElementById("paper").src);
const first = await picture();
let old = await number();

writeFileSync(manifest, good.replace("Sea chart", "Chart of the bay").replace('name = "Boats"', 'name = "Dinghies"'));
result.milliseconds = await later(old);
result.after = await where();
result.redrawn = (await picture()) !== first;
result.text = await page.textContent("#pages");

old = await number();
writeFileSync(manifest, good.replace("[page]", "[page"));
await page.waitForFunction(() => !document.getElementById("live").hidden);
result.broken = await page.textContent("#live");
result.kept = await page.locator("#pages li").count();
writeFileSync(manifest, good);
await later(old);
result.healed = await page.isHidden("#live");
result.back = await where();
result.console = diary.console;
result.requests = [...new Set(diary.requests.map((r) => new URL(r).host))];
await browser.close();
report(result);
