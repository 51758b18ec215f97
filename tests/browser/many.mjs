// Opens a proof of very many pages and looks around in it: node many.mjs FILE PAGE

import { pathToFileURL } from "node:url";
import { launch, open, report, settled, until } from "./browse.mjs";

const [file, wanted] = process.argv.slice(2);
const browser = await launch();
const { page, diary } = await open(browser, pathToFileURL(file).href);
const result = { diary };

const at = () => page.evaluate(() => Number(document.getElementById("stage").dataset.page));
const pictures = () => page.locator("#pages img").evaluateAll((all) => all.filter((i) => i.src).length);
await page.locator("#walk").scrollIntoViewIfNeeded();
await page.evaluate(() => document.getElementById("walk").scrollIntoView());
await page.waitForFunction(() => document.querySelector("#pages img[src]"));
await settled(page);
result.elements = await page.evaluate(() => document.querySelectorAll("*").length);
result.cards = await page.locator("#pages li").count();
result.pictures = await pictures();

await page.fill("#jump", wanted);
await page.press("#jump", "Enter");
await until(at, (n) => n === Number(wanted));
await page.evaluate(() => document.getElementById("paper").decode());
result.page = await at();
result.paper = await page.getAttribute("#paper", "src");
// In the list the page is in sight, with its picture.
const current = page.locator("#pages [aria-current=page]");
result.current = await until(
  () => current.evaluate((link) => {
    const [box, list] = [link.getBoundingClientRect(), document.getElementById("pages").getBoundingClientRect()];
    return { href: link.getAttribute("href"), seen: box.bottom > list.top && box.top < list.bottom, src: link.querySelector("img").src };
  }),
  (found) => found.seen && found.src,
);
await settled(page);
result.after = await pictures();

result.filter = {};
for (const option of await page.locator("#filter option").all()) {
  await page.selectOption("#filter", await option.getAttribute("value"));
  const cards = await page.locator("#pages li a").evaluateAll((all) => all.map((a) => Number(a.getAttribute("href").replace(/.*p/, ""))));
  result.filter[(await option.textContent()).trim()] = cards;
}
await browser.close();
report(result);
