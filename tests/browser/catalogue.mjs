// Looks at a catalogue and reports what happened: node catalogue.mjs FILE PICTURE

import { pathToFileURL } from "node:url";
import { elsewhere, judge, launch, open, report, settled } from "./browse.mjs";

const address = pathToFileURL(process.argv[2]).href;
const browser = await launch();
const result = { axe: {}, only: {}, order: {} };
const names = (page) => page.locator("article:visible h2").allTextContents();

{
  const { page, context, diary } = await open(browser, address);
  result.axe.light = await judge(page);
  result.all = await names(page);
  for (const only of ["found", "changed", "undone", "all"]) {
    await page.selectOption("#only", only);
    result.only[only] = await names(page);
  }
  for (const order of ["findings", "days", "bytes", "name"]) {
    await page.selectOption("#order", order);
    result.order[order] = await names(page);
  }
  await page.fill("#seek", "tally stickers");
  await settled(page);
  result.found = [await names(page), await page.textContent("#count")];
  await page.fill("#seek", "");
  result.broken = await page.evaluate(() => Promise.all([...document.images].map((i) => i.decode().then(() => i.naturalWidth > 0, () => false))));
  await page.screenshot({ path: process.argv[3], fullPage: true });
  await page.locator("summary").first().click();
  result.axe.opened = await judge(page);
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  await page.getByRole("button", { name: "Copy description" }).first().click();
  result.copied = await page.evaluate(() => [document.activeElement.value.slice(document.activeElement.selectionStart, document.activeElement.selectionEnd), navigator.clipboard ? "clipboard" : "none"]);
  result.leads = await page.locator(".leads a").evaluateAll((all) => all.map((a) => a.getAttribute("href")));
  result.diary = diary;
  await context.close();
}
await elsewhere(browser, address, names, result);
await browser.close();
report(result);
