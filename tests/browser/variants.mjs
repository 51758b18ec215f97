// Switches variants in a proof and reports what happened: node variants.mjs FILE [FOLDER FOR PICTURES]

import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { judge, launch, open, report, settled } from "./browse.mjs";

const [file, pictures] = process.argv.slice(2);
const address = pathToFileURL(file).href;
const browser = await launch();
const result = { axe: {}, overflow: 0 };

/** What a person sees of the variant that is shown. */
const seen = () => {
  const shown = (selector) => [...document.querySelectorAll(selector)].filter((e) => e.checkVisibility());
  const text = (e) => e.textContent.replace(/\s+/g, " ").trim();
  const [paper, cover] = [document.getElementById("paper"), shown("[id^=part-] h2").filter((e) => /^Covers/.test(text(e)))];
  return {
    hash: location.hash,
    page: Number(document.getElementById("stage").dataset.page),
    where: text(document.getElementById("where")),
    picture: paper.src,
    size: [paper.naturalWidth, paper.naturalHeight],
    file: document.getElementById("document").selectedOptions[0]?.textContent,
    files: [...document.getElementById("document").options].map((o) => o.textContent),
    cards: document.querySelectorAll("#pages li").length,
    filter: document.getElementById("filter").selectedOptions[0].textContent,
    covers: cover.map(text),
    guides: shown("[id^=part-] h2").map(text).filter((t) => /^Guide/.test(t)),
    stickers: shown(".stickers li").map((e) => e.querySelector("img").alt),
    terms: shown("#terms h3").map(text),
    figures: Object.fromEntries(shown(".facts div").map((e) => [text(e.querySelector("dt")), text(e.querySelector("dd"))])),
    says: shown(".top .hint").map(text),
    ways: shown(".ways li").map(text),
    chosen: [...document.querySelectorAll("#variants :checked")].map((e) => text(e.tagName === "OPTION" ? e : e.parentElement)),
    said: text(document.getElementById("copied")),
  };
};

{
  const { page, diary, context } = await open(browser, address);
  const look = async () => {
    await settled(page);
    await page.waitForFunction(() => document.getElementById("paper").complete);
    return page.evaluate(seen);
  };
  const to = async (hash) => {
    await page.evaluate((h) => { location.hash = h; }, hash);
    return look();
  };
  result.status = await page.getAttribute("#copied", "role");
  result.controls = await page.locator("#variants [data-row]").evaluateAll((all) => all.map((e) => e.labels[0].textContent.trim()));
  result.groups = await page.locator("#variants legend").allTextContents();
  result.first = await look();
  result.axe.first = await judge(page);

  // By the mouse, on the page called Tides.
  const tides = await page.locator("#pages a", { hasText: /^\d+ Tides/ }).first().getAttribute("href");
  result.before = await to(tides);
  await page.locator("#variants label", { hasText: "Clay pot" }).click();
  result.clay = await look();
  result.axe.clay = await judge(page);
  await page.goBack();
  result.back = await look();

  // By keys: an arrow in the switch, V with the page in focus.
  await page.focus("#variants input:checked");
  await page.keyboard.press("ArrowRight");
  result.arrow = await look();
  result.focus = await page.evaluate(() => document.activeElement.value);
  await page.focus("#stage");
  result.v = [];
  for (const key of ["v", "v", "Shift+V"]) {
    await page.keyboard.press(key);
    result.v.push((await look()).file);
  }

  // A choice that the variants do not have beside the present one.
  await to("#d0p1");
  await page.locator("#variants label", { hasText: "Left" }).click();
  result.right = await look();
  result.far = await page.locator("#variants .far").evaluateAll((all) => all.map((e) => [e.textContent.trim(), e.title]));
  await page.locator("#variants label", { hasText: "Clay pot" }).click();
  result.nearest = await look();

  // The filter goes along.
  await to("#d0p1");
  await page.selectOption("#filter", { label: "Tides" });
  await page.locator("#variants label", { hasText: "Clay pot" }).click();
  result.filtered = await look();
  await page.selectOption("#filter", "all");

  // Another file, and ways that lead into another variant.
  await to("#d0p1");
  await page.selectOption("#document", { label: result.first.files.find((f) => f.startsWith("Covers")) });
  await look();
  await page.locator("#variants label", { hasText: "Clay pot" }).click();
  result.covers = await look();
  await to("#d0p1");
  const clay = await page.evaluate(() => JSON.parse(document.getElementById("data").textContent).documents.findIndex((d) => /clay/.test(d.file) && d.kind === "notebook"));
  result.way = await to(`#d${clay}p5`);
  await to("#d0p1");
  const last = await page.locator(".stickers li").last().getAttribute("id");
  result.sticker = await to(`#${last}`);
  result.insight = await page.evaluate((id) => {
    const [box, bar] = [document.getElementById(id).getBoundingClientRect(), document.querySelector(".helm").getBoundingClientRect()];
    return box.top >= bar.bottom - 1 && box.top < innerHeight;
  }, last);

  // What is in sight stays in sight: the covers of one beside the covers of the other.
  await to("#d0p1");
  await page.locator("[id^=part-]:not([hidden])").first().scrollIntoViewIfNeeded();
  await page.evaluate(() => { document.querySelector("[id^=part-]:not([hidden])").scrollIntoView(); });
  await settled(page);
  const top = () => page.evaluate(() => Math.round(document.querySelector("[id^=part-]:not([hidden])").getBoundingClientRect().top));
  result.steady = [await top()];
  await page.locator("#variants label", { hasText: "Clay pot" }).click();
  await settled(page);
  result.steady.push(await top());

  // A newer proof takes the place of this one.
  await to(`#d${clay}p5`);
  result.renewed = [await look()];
  await page.evaluate((text) => globalThis.eval("renew")(text), readFileSync(file, "utf8"));
  result.renewed.push(await look());
  result.diary = diary;
  await context.close();
}

if (pictures) mkdirSync(pictures, { recursive: true });
for (const [name, width, height, colorScheme] of [["wide-light", 1440, 900, "light"], ["wide-dark", 1440, 900, "dark"], ["tablet-light", 820, 1180, "light"], ["tablet-dark", 1180, 820, "dark"]]) {
  const { page, diary, context } = await open(browser, address, { viewport: { width, height }, colorScheme, reducedMotion: "reduce" });
  await page.focus("#stage");
  await page.keyboard.press("v");
  await page.evaluate(() => document.getElementById("walk").scrollIntoView());
  await settled(page);
  result.axe[name] = await judge(page);
  result.overflow = Math.max(result.overflow, await page.evaluate(() => document.documentElement.scrollWidth - innerWidth));
  // The switch is in sight while pages are walked.
  result.sticks = (result.sticks ?? true) && await page.evaluate(() => document.getElementById("variants").getBoundingClientRect().top >= 0);
  if (pictures) await page.screenshot({ path: join(pictures, `${name}-variants.png`) });
  result.diary.console.push(...diary.console);
  await context.close();
}
await browser.close();
report(result);
