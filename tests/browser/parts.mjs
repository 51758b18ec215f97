// Looks at the fill bars of the uploads and at the listing pictures of a proof: node parts.mjs FILE

import { pathToFileURL } from "node:url";
import { launch, open, report, settled, until } from "./browse.mjs";

const browser = await launch();
const { page, diary } = await open(browser, pathToFileURL(process.argv[2]).href);
const result = { diary };

result.slots = await page.locator("#uploads > p").first().evaluate((e) => [e.textContent, e.className]);
result.uploads = await page.locator(".uploads > li").evaluateAll((all) => all.map((item) => {
  const bar = item.querySelector(".bar");
  const fill = bar.firstElementChild;
  return {
    name: item.querySelector("strong").textContent,
    says: item.querySelector(".size").textContent,
    over: [item.querySelector(".size"), bar].map((e) => e.classList.contains("over")),
    room: bar.clientWidth,
    filled: fill.getBoundingClientRect().width,
    colour: getComputedStyle(fill).backgroundColor,
  };
}));

/** What is shown of every listing picture. */
const shown = () => page.locator(".shots > li").evaluateAll((all) => all.map((item) => {
  const image = item.querySelector("img");
  return {
    name: item.querySelector("strong").textContent,
    says: item.querySelector("p").textContent,
    stated: [Number(image.getAttribute("width")), Number(image.getAttribute("height"))],
    natural: [image.naturalWidth, image.naturalHeight],
    plays: Boolean(item.querySelector("button")),
    source: image.src,
  };
}));

if (await page.locator("#shots").count()) {
  const images = page.locator(".shots img");
  for (const image of await images.all()) await image.scrollIntoViewIfNeeded();
  await until(shown, (all) => all.every((shot) => shot.natural[0] > 0));
  result.shots = await shown();
  result.started = [];
  for (const button of await page.locator(".shots button").all()) {
    const image = button.locator("xpath=ancestor::li").locator("img");
    const state = async () => [await button.getAttribute("aria-pressed"), await image.getAttribute("src")];
    const states = [await state()];
    for (let n = 0; n < 2; n += 1) {
      await button.click();
      await settled(page);
      states.push(await state());
    }
    result.started.push(states);
  }
}
await browser.close();
report(result);
