// Walks through a proof and reports what happened: node proof.mjs FILE [FOLDER FOR PICTURES]

import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { judge, launch, open, report, settled, until } from "./browse.mjs";

const [file, pictures] = process.argv.slice(2);
const address = pathToFileURL(file).href;
const browser = await launch();
const result = { axe: {} };

/** Clicks every tap area of every page of a document where it lies, and tells where one landed. */
async function walk(document) {
  const rounds = { document, pages: [] };
  const arrived = () => new Promise((done) => addEventListener("hashchange", done, { once: true }));
  const to = async (hash) => {
    if (location.hash === hash) return;
    const wait = arrived();
    location.hash = hash;
    await wait;
  };
  const stage = window.document.getElementById("stage");
  const taps = () => [...window.document.querySelectorAll("#taps > *")];
  const count = JSON.parse(window.document.getElementById("data").textContent).documents[document].pages.length;
  for (let n = 1; n <= count; n += 1) {
    await to(`#d${document}p${n}`);
    const [landed, many] = [[], taps().length];
    for (let i = 0; i < many; i += 1) {
      await to(`#d${document}p${n}`);
      const tap = taps()[i];
      tap.scrollIntoView({ block: "center" });
      const [box, paper] = [tap.getBoundingClientRect(), stage.getBoundingClientRect()];
      const hit = window.document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
      const link = hit && hit.closest("#taps > *");
      const rect = [(box.x - paper.x) / paper.width, (box.y - paper.y) / paper.height, box.width / paper.width, box.height / paper.height];
      const outside = link && link.target === "_blank" ? link.href : null;
      if (link === tap && !outside && link.getAttribute("href") !== location.hash) {
        const wait = arrived();
        link.click();
        await wait;
      }
      landed.push({ rect, hit: link === tap, page: outside ? null : Number(stage.dataset.page), address: outside });
    }
    rounds.pages.push(landed);
  }
  return rounds;
}

{
  const { page, diary, context } = await open(browser, address, { permissions: ["clipboard-read", "clipboard-write"] });
  await page.evaluate(() => document.fonts.ready);
  result.title = await page.title();
  result.verdict = await page.textContent(".verdict");
  result.axe.wide = await judge(page);
  const documents = await page.locator("#document option").count();
  result.walk = [];
  for (let n = 0; n < documents; n += 1) result.walk.push(await page.evaluate(walk, n));

  // With the mouse, as she does it.
  await page.evaluate(() => { location.hash = "#d0p3"; });
  await page.locator("#walk").scrollIntoViewIfNeeded();
  const tap = page.locator("#taps a").first();
  const wanted = (await tap.getAttribute("href")).replace(/.*p/, "");
  await tap.click();
  await page.waitForFunction((n) => document.getElementById("stage").dataset.page === n, wanted);
  await page.click("#back");
  await page.waitForFunction(() => document.getElementById("stage").dataset.page === "3");
  result.back = true;

  // Keys.
  const at = () => page.evaluate(() => Number(document.getElementById("stage").dataset.page));
  result.keys = {};
  await page.focus("#stage");
  for (const key of ["End", "Home", "ArrowRight", "PageDown", "ArrowLeft"]) {
    await page.keyboard.press(key);
    await settled(page);
    result.keys[key] = await at();
  }
  const pressed = () => page.getAttribute("#show", "aria-pressed");
  await page.keyboard.press("t");
  result.keys.shown = await pressed();
  result.legend = await page.locator("#legend li").allTextContents();
  result.axe.taps = await judge(page);
  await page.keyboard.press("t");
  result.keys.hidden = await pressed();

  // The jump: a number, a label, nonsense.
  result.jumps = {};
  for (const text of ["5", "iii", "T-2", "nowhere"]) {
    await page.fill("#jump", text);
    await page.press("#jump", "Enter");
    await settled(page);
    result.jumps[text] = await at();
  }
  result.said = await page.textContent("#copied");

  // The filter.
  result.filter = {};
  for (const option of await page.locator("#filter option").all()) {
    const value = await option.getAttribute("value");
    await page.selectOption("#filter", value);
    result.filter[(await option.textContent()).trim()] = await page.locator("#pages li").count();
  }
  await page.selectOption("#filter", "all");

  // Copies.
  result.copies = {};
  for (const id of ["text-title", "text-description", "text-tags", "text-licence"]) {
    // A listing without tags has nothing to copy.
    if ((await page.locator(`.head [data-copy=${id}]`).count()) === 0) continue;
    await page.click(`.head [data-copy=${id}]`);
    await settled(page);
    result.copies[id] = await page.evaluate(() => navigator.clipboard.readText());
  }

  // Every finding opens its place.
  result.findings = [];
  for (const link of await page.locator("#findings li a").all()) {
    await link.click();
    await settled(page);
    result.findings.push({
      href: await link.getAttribute("href"),
      page: await at(),
      marks: await page.locator("#marks div").count(),
      insight: await page.evaluate(() => document.getElementById("stage").getBoundingClientRect().top < innerHeight),
    });
  }

  // Grounds, true sizes, pictures that come when they are looked at.
  result.grounds = [];
  for (const ground of ["dark", "checks", "light"]) {
    if (!(await page.locator(`[value=${ground}]`).count())) break;
    await page.check(`[value=${ground}]`);
    result.grounds.push(await page.locator(".ground").first().evaluate((e) => getComputedStyle(e).background));
  }
  result.stickers = await page.locator(".stickers img").evaluateAll((all) => all.map((i) => [i.alt, i.width, i.height]));
  await page.evaluate(async () => {
    for (let y = 0; y < document.body.scrollHeight; y += 500) {
      scrollTo(0, y);
      await new Promise((done) => requestAnimationFrame(() => setTimeout(done, 20)));
    }
  });
  const blank = () => page.locator("main img").evaluateAll((all) =>
    all.filter((i) => i.checkVisibility() && i.closest("#pages") === null && (!i.complete || !i.naturalWidth)).map((i) => i.outerHTML.slice(0, 200)));
  result.blank = await until(blank, (left) => left.length === 0);
  result.diary = diary;
  await context.close();
}

if (pictures) mkdirSync(pictures, { recursive: true });
for (const [name, width, height, colorScheme] of [["wide-light", 1440, 900, "light"], ["wide-dark", 1440, 900, "dark"], ["tablet-light", 820, 1180, "light"], ["tablet-dark", 1180, 820, "dark"]]) {
  const { page, diary, context } = await open(browser, address, { viewport: { width, height }, colorScheme, reducedMotion: "reduce" });
  if (colorScheme === "dark" || width === 820) result.axe[name] = await judge(page);
  // Nothing is cut off: the page is not wider than the window.
  result.overflow = Math.max(result.overflow || 0, await page.evaluate(() => document.documentElement.scrollWidth - innerWidth));
  if (pictures) {
    await page.screenshot({ path: join(pictures, `${name}-top.png`) });
    await page.click("#show");
    await page.evaluate(() => { location.hash = "#d0p3"; document.getElementById("walk").scrollIntoView(); });
    await settled(page);
    await page.screenshot({ path: join(pictures, `${name}-pages.png`) });
  }
  result.diary.console.push(...diary.console);
  await context.close();
}
await browser.close();
report(result);
