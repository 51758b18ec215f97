// A headless Chromium for the tests: opens a page, writes down what it asks for and complains of, and lets axe judge it.
// The libraries lie where tests/run put them (SHEAFWRIGHT_BROWSER), not beside this file.

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

const folder = process.env.SHEAFWRIGHT_BROWSER;
if (!folder) throw new Error("SHEAFWRIGHT_BROWSER names no folder with the libraries: run bash tests/run, which installs them");
const require = createRequire(join(folder, "package.json"));
const { chromium } = require("playwright-core");
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

// A machine that does other work as well may take its time; what never comes is told of all the same.
const PATIENCE = 240_000;

/** Starts the browser that the system has. */
export const launch = () =>
  chromium.launch({
    timeout: PATIENCE,
    executablePath: process.env.SHEAFWRIGHT_CHROMIUM || "/usr/bin/chromium",
    // A thousand taps in a few seconds are no attack; without this the browser drops some of them.
    args: ["--no-sandbox", "--disable-ipc-flooding-protection"],
  });

/** A page with its diary: messages of the console, errors, and every request that leaves the document. */
export async function open(browser, address, options = {}) {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
  context.setDefaultTimeout(PATIENCE);
  context.setDefaultNavigationTimeout(PATIENCE);
  const page = await context.newPage();
  const diary = { console: [], requests: [] };
  page.on("console", (message) => diary.console.push(`${message.type()}: ${message.text()}`));
  page.on("pageerror", (error) => diary.console.push(`error: ${error.message}`));
  page.on("request", (request) => {
    if (!/^(data|blob):/.test(request.url())) diary.requests.push(request.url());
  });
  await page.goto(address);
  return { context, page, diary };
}

/** Looks at a page in the dark, on a phone and without a script; `shown` says what is to be seen. Fills `axe.dark`, `wide`, `plain`. */
export async function elsewhere(browser, address, shown, result) {
  const looked = async (options, look) => {
    const { page, context } = await open(browser, address, options);
    const found = await look(page);
    await context.close();
    return found;
  };
  result.axe.dark = await looked({ colorScheme: "dark" }, judge);
  const beyond = (page) => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  result.wide = await looked({ viewport: { width: 390, height: 844 } }, beyond);
  result.plain = await looked({ javaScriptEnabled: false }, shown);
}

/** Waits until a page has dealt with what was asked of it: a few frames in a row in which nothing moves any more. */
export const settled = (page) => page.evaluate(async () => {
  const frame = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
  let [before, still] = ["", 0];
  while (still < 4) {
    await frame();
    const now = `${scrollX} ${scrollY} ${location.hash} ${document.activeElement?.id}`;
    still = now === before ? still + 1 : 0;
    before = now;
  }
});

/** Asks again and again until the answer is right, or time is up; gives the last answer. */
export async function until(ask, right) {
  const end = Date.now() + PATIENCE / 4;
  for (;;) {
    const answer = await ask();
    if (right(answer) || Date.now() > end) return answer;
    await new Promise((done) => setTimeout(done, 100));
  }
}

/** What axe finds against WCAG 2.2 AA and its own good practice, a line each. */
export async function judge(page) {
  await page.evaluate(axe);
  const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  const result = await page.evaluate((values) => globalThis.axe.run(document, { runOnly: { type: "tag", values } }), tags);
  return result.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.html.slice(0, 160)} ${n.failureSummary}`));
}

/** Prints the result of a script for the suite. */
export const report = (value) => process.stdout.write(JSON.stringify(value));
