// Looks at a page beside what it was in the version before: node before.mjs FILE PAGE [PICTURE], the page from 1.

import { pathToFileURL } from "node:url";
import { judge, launch, open, report, settled } from "./browse.mjs";

const [file, number, picture] = process.argv.slice(2);
const address = `${pathToFileURL(file).href}#d0p${number}`;
const browser = await launch();
const result = { at: {}, axe: {} };

/** What is seen of both pages. */
const seen = (page) => page.evaluate(() => {
  const box = (id) => {
    const { left, top, width, height } = document.getElementById(id).getBoundingClientRect();
    return [left, top, width, height];
  };
  const before = document.getElementById("before-paper");
  return {
    shown: !document.getElementById("before").hidden,
    says: document.getElementById("before-says").textContent,
    picture: before.src,
    whole: before.naturalWidth > 0,
    boxes: [box("before-paper"), box("stage")],
    unchanged: !document.getElementById("unchanged").hidden,
    wide: document.documentElement.scrollWidth - innerWidth,
  };
});

for (const [name, width, height] of [["desk", 1440, 900], ["tablet", 1180, 820], ["phone", 390, 844]]) {
  const { page, context, diary } = await open(browser, address, { viewport: { width, height } });
  await settled(page);
  const steps = [await seen(page)];
  await page.click("#beside");
  await page.evaluate(() => document.getElementById("before-paper").decode().catch(() => {}));
  await settled(page);
  steps.push(await seen(page));
  if (name === "desk") {
    result.axe.light = await judge(page);
    result.pressed = await page.getAttribute("#beside", "aria-pressed");
    await page.selectOption("#filter", "changed");
    result.changed = await page.locator("#pages a").evaluateAll((all) => all.map((a) => a.getAttribute("href")));
    if (picture) await page.screenshot({ path: picture });
    await page.focus("#stage");
    await page.keyboard.press("Home");
    await settled(page);
    steps.push(await seen(page));
    await page.keyboard.press("c");
    await settled(page);
    steps.push(await seen(page));
  }
  result.at[name] = steps;
  result.diary = diary;
  await context.close();
}
{
  const { page, context } = await open(browser, address, { colorScheme: "dark" });
  await page.click("#beside");
  await settled(page);
  result.axe.dark = await judge(page);
  await context.close();
}
await browser.close();
report(result);
