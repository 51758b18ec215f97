// Plays the film in a proof: node film.mjs FILE

import { pathToFileURL } from "node:url";
import { judge, launch, open, report } from "./browse.mjs";

const browser = await launch();
const { page, diary } = await open(browser, pathToFileURL(process.argv[2]).href);
const result = { diary };
const film = page.locator("#shots video");
await film.scrollIntoViewIfNeeded();
result.played = await film.evaluate(async (video) => {
  await video.play();
  // A quarter of a second of it was shown, and then it goes somewhere else.
  const until = (reached) => new Promise((done) => {
    const look = () => (reached() ? done() : setTimeout(look, 20));
    look();
  });
  await until(() => video.currentTime > 0.25);
  video.pause();
  video.currentTime = video.duration / 2;
  await until(() => !video.seeking);
  return { width: video.videoWidth, height: video.videoHeight, seconds: video.duration, error: video.error && video.error.message };
});
result.shown = await film.evaluate((video) => ({ says: video.closest("li").textContent, muted: video.muted, loop: video.loop }));
result.axe = await judge(page);
await browser.close();
report(result);
