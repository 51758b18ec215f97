// Measures how long a change takes from the save to the picture on the screen:
// node live.mjs ADDRESS FILE OLD NEW HASH TIMES [LONGEST PAUSE]

import { readFileSync, writeFileSync } from "node:fs";
import { launch, open, report } from "./browse.mjs";

const [address, file, old, fresh, hash, times, longest] = process.argv.slice(2);
const browser = await launch();
const { page } = await open(browser, address);
await page.waitForFunction(() => document.querySelector("#pages li"), null, { timeout: 120000 });
await page.evaluate((h) => { location.hash = h; }, hash);
// The browser writes down when the picture of the page that is looked at was drawn anew.
await page.evaluate(() => {
  let last = document.getElementById("paper").src;
  globalThis.drawn = [];
  const look = async () => {
    const paper = document.getElementById("paper");
    if (paper && paper.src && paper.src !== last) {
      last = paper.src;
      await paper.decode().catch(() => {});
      requestAnimationFrame(() => requestAnimationFrame(() => globalThis.drawn.push(Date.now())));
    }
    requestAnimationFrame(look);
  };
  look();
});
const took = [];
const good = readFileSync(file, "utf8");
for (let n = 0; n < Number(times); n += 1) {
  // Multiples of the golden ratio leave no moment out.
  await page.waitForTimeout(longest ? Number(longest) * ((n * 0.618034) % 1) : 4000);
  const before = await page.evaluate(() => globalThis.drawn.length);
  const text = readFileSync(file, "utf8");
  const begun = Date.now();
  writeFileSync(file, n % 2 ? text.replace(fresh, old) : text.replace(old, fresh));
  await page.waitForFunction((b) => globalThis.drawn.length > b, before, { timeout: 60000 });
  took.push((await page.evaluate((b) => globalThis.drawn[b], before)) - begun);
}
writeFileSync(file, good);
await browser.close();
report(took);
