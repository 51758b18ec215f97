// Looks at the manual and reports what happened: node manual.mjs FILE PICTURE

import { pathToFileURL } from "node:url";
import { judge, launch, open, report, settled } from "./browse.mjs";

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
{
  const { page, context } = await open(browser, address, { colorScheme: "dark" });
  result.axe.dark = await judge(page);
  await context.close();
}
{
  const { page, context } = await open(browser, address, { viewport: { width: 390, height: 844 } });
  result.wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  await context.close();
}
{
  const { page, context } = await open(browser, address, { javaScriptEnabled: false });
  result.plain = await shown(page);
  await context.close();
}
await browser.close();
report(result);
