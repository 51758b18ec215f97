// Looks at the manual and reports what happened: node manual.mjs FILE PICTURE

import { pathToFileURL } from "node:url";
import { elsewhere, judge, launch, open, report, settled } from "./browse.mjs";

const address = pathToFileURL(process.argv[2]).href;
const browser = await launch();
const result = { axe: {} };
const shown = (page) => page.locator("article:visible").count();

{
  const { page, context, diary } = await open(browser, address);
  result.axe.light = await judge(page);
  result.all = await shown(page);
  await page.keyboard.press("/");
  await page.keyboard.type("water drops");
  await settled(page);
  result.found = await page.locator("article:visible h3, article:visible h4").allTextContents();
  result.said = await page.textContent("#count");
  await page.fill("#seek", "");
  await settled(page);
  result.again = await shown(page);
  await page.evaluate(() => { for (const image of document.images) image.loading = "eager"; });
  await page.evaluate(() => Promise.all([...document.images].map((image) => image.decode().catch(() => {}))));
  result.broken = await page.evaluate(() => [...document.images].filter((image) => !image.naturalWidth).map((image) => image.alt));
  await page.locator("#ruling").scrollIntoViewIfNeeded();
  await page.evaluate(() => document.querySelector("#ruling").scrollIntoView());
  await page.screenshot({ path: process.argv[3] });
  result.diary = diary;
  await context.close();
}
await elsewhere(browser, address, shown, result);
await browser.close();
report(result);
