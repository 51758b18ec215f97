// Watches a product with variants while its manifest is edited: node variants-live.mjs ADDRESS MANIFEST

import { readFileSync, writeFileSync } from "node:fs";
import { launch, open, report, settled } from "./browse.mjs";

const [address, manifest] = process.argv.slice(2);
const browser = await launch();
const { page, diary } = await open(browser, address);
const result = {};
const where = () => page.evaluate(() => ({
  hash: location.hash,
  page: document.getElementById("stage").dataset.page,
  file: document.getElementById("document").selectedOptions[0].textContent,
  chosen: [...document.querySelectorAll("#variants :checked")].map((e) => e.labels[0].textContent.trim()),
  focus: document.activeElement.id,
  scroll: Math.round(scrollY),
}));
const picture = () => page.evaluate(() => document.getElementById("paper").src);
const number = () => page.evaluate(() => document.documentElement.dataset.build);
await page.waitForFunction(() => document.querySelector("#pages li"));
await page.evaluate(() => { location.hash = "#d0p3"; });
await settled(page);
await page.locator("#variants label", { hasText: "Clay pot" }).click();
await page.evaluate(() => scrollTo({ top: 222, behavior: "instant" }));
await settled(page);
result.before = await where();
const [first, old] = [await picture(), await number()];
writeFileSync(manifest, readFileSync(manifest, "utf8").replaceAll('name = "Crew"', 'name = "Hands"'));
await page.waitForFunction((n) => document.documentElement.dataset.build !== n, old);
await settled(page);
result.after = await where();
result.redrawn = (await picture()) !== first;
result.console = diary.console;
result.requests = [...new Set(diary.requests.map((r) => new URL(r).host))];
await browser.close();
report(result);
