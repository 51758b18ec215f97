// Looks at a page of changes and reports what happened: node changes.mjs FILE

import { pathToFileURL } from "node:url";
import { judge, launch, open, report, settled } from "./browse.mjs";

const address = pathToFileURL(process.argv[2]).href;
const browser = await launch();
const result = { axe: {} };

{
  const { page, diary, context } = await open(browser, address);
  result.title = await page.title();
  result.verdict = await page.textContent("h1");
  result.first = await page.evaluate(() => document.querySelector("h1").compareDocumentPosition(document.querySelector("main")) & 4);
  result.viewers = await page.locator(".viewer").count();
  result.axe.light = await judge(page);

  // The slider by keys: Tab reaches the choice, an arrow goes to the slider, which takes the focus.
  const viewer = page.locator(".viewer").first();
  await viewer.locator("input.beside").focus();
  await page.keyboard.press("ArrowRight");
  const range = viewer.locator("input[type=range]");
  const at = () => range.evaluate((e) => [Number(e.value), e.getAttribute("aria-valuetext"), document.activeElement === e]);
  const edge = () => viewer.locator(".after").evaluate((e) => getComputedStyle(e).clipPath);
  result.slider = { begun: await at(), keys: {} };
  for (const key of ["ArrowRight", "Home", "End", "PageDown"]) {
    await page.keyboard.press(key);
    await settled(page);
    result.slider.keys[key] = [(await at())[0], await edge()];
  }
  // By the mouse: a quarter from the left.
  await viewer.locator(".panes").scrollIntoViewIfNeeded();
  await settled(page);
  const box = await viewer.locator(".panes").boundingBox();
  await page.mouse.click(box.x + box.width / 4, box.y + 20);
  await settled(page);
  result.slider.mouse = await at();
  const figures = await viewer.locator("figure:visible").evaluateAll((all) => all.map((e) => e.getBoundingClientRect().toJSON()));
  result.slider.stacked = figures.length === 2 && Math.abs(figures[0].x - figures[1].x) < 1 && Math.abs(figures[0].y - figures[1].y) < 1;
  result.axe.slider = await judge(page);
  await viewer.locator("label", { hasText: "Overlay" }).click();
  result.overlay = await viewer.locator("figure:visible").evaluateAll((all) => all.map((e) => e.className));
  result.broken = await page.evaluate(() => [...document.images].filter((i) => i.checkVisibility() && !i.naturalWidth).length);
  result.diary = diary;
  await context.close();
}
{
  const { page, context } = await open(browser, address, { colorScheme: "dark" });
  result.ground = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  result.axe.dark = await judge(page);
  await context.close();
}
{
  const { page, context } = await open(browser, address, { viewport: { width: 360, height: 740 } });
  result.wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  await context.close();
}
{
  const { page, context, diary } = await open(browser, address, { javaScriptEnabled: false });
  result.plain = {
    before: await page.locator(".viewer .before:visible").count(),
    after: await page.locator(".viewer .after:visible").count(),
    ranges: await page.locator("input[type=range]:visible").count(),
    verdict: await page.textContent("h1"),
    requests: diary.requests,
  };
  await page.locator(".viewer label", { hasText: "Overlay" }).first().click();
  result.plain.overlay = await page.locator(".viewer .over:visible").count();
  await context.close();
}
await browser.close();
report(result);
