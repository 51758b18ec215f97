// Looks at the dates in the proof of a planner: node planner.mjs FILE DATE… ; what is shown is read back as pixels.

import { pathToFileURL } from "node:url";
import { judge, launch, open, report, settled, until } from "./browse.mjs";

const [file, ...dates] = process.argv.slice(2);
const browser = await launch();
const { page, diary } = await open(browser, pathToFileURL(file).href);
const result = { diary, axe: {}, dates: {}, strip: {}, kinds: {} };
const at = () => page.evaluate(() => Number(document.getElementById("stage").dataset.page));

/** The page on the stage as the browser shows it, as PNG. */
const shown = async () => {
  await page.evaluate(() => document.getElementById("paper").decode());
  await page.evaluate(() => document.querySelectorAll("#taps, #marks").forEach((e) => { e.style.visibility = "hidden"; }));
  const picture = await page.locator("#paper").screenshot();
  await page.evaluate(() => document.querySelectorAll("#taps, #marks").forEach((e) => { e.style.visibility = ""; }));
  return picture.toString("base64");
};

for (const date of dates) {
  await page.fill("#date", date);
  await page.dispatchEvent("#date", "change");
  await settled(page);
  const current = await page.locator("#dates [aria-current=date]").evaluateAll((all) => all.map((a) => a.getAttribute("aria-label")));
  const under = await page.evaluate(() => document.getElementById("paper").style.backgroundImage !== "");
  result.dates[date] = { page: await at(), current, under, picture: await shown() };
}
// The strip: every month, and every day of the month in sight.
result.strip.months = await page.locator("#months a").evaluateAll((all) => all.map((a) => [a.getAttribute("aria-label"), Number(a.getAttribute("href").replace(/.*p/, ""))]));
result.strip.days = await page.locator("#days a").evaluateAll((all) => all.map((a) => [a.getAttribute("aria-label"), Number(a.getAttribute("href").replace(/.*p/, ""))]));
const goal = result.strip.days[4][1];
await page.locator("#days a").nth(4).click();
await until(at, (n) => n === goal);
for (const option of await page.locator("#filter option[value^=kind-]").all()) {
  const kind = (await option.getAttribute("value")).slice(5);
  await page.selectOption("#filter", `kind-${kind}`);
  result.kinds[kind] = await page.locator("#pages li a").evaluateAll((all) => all.map((a) => Number(a.getAttribute("href").replace(/.*p/, ""))));
}
result.axe.light = await judge(page);
await page.emulateMedia({ colorScheme: "dark" });
result.axe.dark = await judge(page);
await page.setViewportSize({ width: 420, height: 800 });
result.axe.narrow = await judge(page);
result.overflow = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
await browser.close();
report(result);
