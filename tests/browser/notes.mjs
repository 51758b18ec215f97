// Writes a note on a page of a watched proof, leaves, comes back and ticks it off: node notes.mjs ADDRESS PICTURES

import { judge, launch, open, report, settled } from "./browse.mjs";

const [address, pictures] = process.argv.slice(2);
const browser = await launch();
const result = { axe: {}, wide: {} };
const ready = (page) => page.waitForFunction(() => document.querySelector("#pages li"));
const here = (page) => page.locator("#notes-here li").allTextContents();

{
  const { page, context, diary } = await open(browser, address);
  await ready(page);
  await page.evaluate(() => { location.hash = "#d0p3"; });
  await settled(page);
  await page.fill("#note-text", "tab too pale <b>");
  await page.click("#note button");
  await page.waitForFunction(() => document.querySelector("#notes-here li"));
  result.written = await here(page);
  result.emptied = await page.inputValue("#note-text");
  result.axe.light = await judge(page);
  await page.evaluate(() => { location.hash = "#d0p1"; });
  await settled(page);
  result.elsewhere = [await here(page), await page.textContent("#notes-elsewhere")];
  result.console = diary.console;
  await context.close();
}
{
  const { page, context } = await open(browser, address, { colorScheme: "dark" });
  await ready(page);
  await page.waitForFunction(() => document.querySelector("#notes-elsewhere a"));
  await page.click("#notes-elsewhere a");
  await settled(page);
  result.found = [await here(page), await page.evaluate(() => document.getElementById("stage").dataset.page)];
  result.axe.dark = await judge(page);
  await page.check("#notes-here input");
  await page.waitForFunction(() => document.querySelector("#notes-here .done"));
  await context.close();
}
for (const [name, width, height] of [["tablet", 1180, 820], ["phone", 390, 844]]) {
  const { page, context } = await open(browser, address, { viewport: { width, height } });
  await ready(page);
  await settled(page);
  result.wide[name] = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  await page.screenshot({ path: `${pictures}/${name}-top.png` });
  await page.evaluate(() => document.getElementById("walk").scrollIntoView());
  await settled(page);
  await page.screenshot({ path: `${pictures}/${name}-pages.png` });
  const box = await page.locator("#stage").boundingBox();
  result[name] = [Math.round(box.width), Math.round(box.height)];
  await context.close();
}
await browser.close();
report(result);
