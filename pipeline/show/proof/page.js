// What surrounds the pages: addresses, keys, the jump, copying, grounds, and the refresh while she works.

let quiet = 0;

/** Says something to everybody, for a moment. */
function say(words) {
  $("copied").textContent = words;
  clearTimeout(quiet);
  quiet = setTimeout(() => { $("copied").textContent = ""; }, 2500);
}

function go(page) {
  const last = data.documents[state.at.document].pages.length - 1;
  location.hash = address(state.at.document, Math.min(Math.max(page, 0), last));
}

/** Follows the address of this page; what is no page is left to the browser. */
function follow() {
  const at = parse(location.hash);
  if (!at) return reveal(location.hash);
  show(at);
  const box = $("stage").getBoundingClientRect();
  if (box.bottom < 80 || box.top > innerHeight - 120) {
    $("walk").scrollIntoView();
    $("stage").focus({ preventScroll: true });
  }
}

/** A page by number, or by the label that it has in the file. */
function jump(text) {
  const wanted = text.trim().toLowerCase();
  const pages = data.documents[state.at.document].pages;
  const number = Number(wanted);
  if (Number.isInteger(number) && number >= 1 && number <= pages.length) return go(number - 1);
  const index = pages.findIndex((page) => page.label && page.label.toLowerCase() === wanted);
  if (index >= 0) return go(index);
  $("jump").value = String(state.at.page + 1);
  say(`There is no page ${text.trim()}.`);
}

function showTaps(shown) {
  state.taps = shown;
  $("taps").classList.toggle("shown", shown);
  $("show").setAttribute("aria-pressed", String(shown));
  $("legend").hidden = !shown;
}

function keys(event) {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const pages = data.documents[state.at.document].pages.length;
  const turns = {
    ArrowLeft: () => go(state.at.page - 1),
    ArrowRight: () => go(state.at.page + 1),
    PageUp: () => go(state.at.page - 1),
    PageDown: () => go(state.at.page + 1),
    Home: () => go(0),
    End: () => go(pages - 1),
    t: () => showTaps(!state.taps),
    g: () => $("jump").select(),
    b: () => history.back(),
    ...($("beside") && { c: () => showBefore(!state.beside) }),
    ...(variants() && { v: () => nextVariant(event.shiftKey ? -1 : 1) }),
  };
  const turn = turns[event.key.length === 1 ? event.key.toLowerCase() : event.key];
  if (!turn) return;
  event.preventDefault();
  turn();
}

async function copy(button) {
  const text = $(button.dataset.copy).textContent.trimEnd();
  try {
    await navigator.clipboard.writeText(text);
  } catch {
    const area = make("textarea", { "aria-hidden": "true" });
    area.value = text;
    document.body.append(area);
    area.select();
    document.execCommand("copy");
    area.remove();
    button.focus();
  }
  say(`Copied ${plural([...text].length, "character", "characters")}.`);
}

function setGround(ground) {
  state.ground = ground;
  const list = document.querySelector(".stickers");
  if (!list) return;
  list.dataset.ground = ground;
  for (const radio of document.querySelectorAll("[name=ground]")) radio.checked = radio.value === ground;
}

/** Starts a picture that moves, or stops it. */
function play(button) {
  const on = button.getAttribute("aria-pressed") !== "true";
  button.setAttribute("aria-pressed", String(on));
  button.closest("li").querySelector("img").src = data.pictures[Number(on ? button.dataset.moving : button.dataset.still)];
}

/** Brings the page to life: at first, and whenever a newer proof took its place. */
function start() {
  data = JSON.parse($("data").textContent);
  sortFindings();
  for (const strip of document.querySelectorAll(".strip")) {
    const index = Number(strip.dataset.document);
    strip.replaceChildren(...data.documents[index].pages.map((_, page) => card(index, page)));
  }
  lazily(document);
  setGround(state.ground);
  for (const radio of document.querySelectorAll("[name=ground]")) radio.addEventListener("change", () => setGround(radio.value));
  for (const button of document.querySelectorAll("[data-copy]")) button.addEventListener("click", () => copy(button));
  for (const button of document.querySelectorAll("[data-moving]")) button.addEventListener("click", () => play(button));
  startVariants();
  startDates();
  if (!data.documents.length) {
    $("walk").hidden = true;
    return;
  }
  $("document").addEventListener("change", () => {
    state.filter = "all";
    location.hash = address(Number($("document").value), 0);
  });
  $("filter").addEventListener("change", () => {
    state.filter = $("filter").value;
    fillPages();
  });
  $("previous").addEventListener("click", () => go(state.at.page - 1));
  $("next").addEventListener("click", () => go(state.at.page + 1));
  $("back").addEventListener("click", () => history.back());
  $("jump").addEventListener("change", () => jump($("jump").value));
  $("show").addEventListener("click", () => showTaps(!state.taps));
  $("beside")?.addEventListener("click", () => showBefore(!state.beside));
  $("stage").addEventListener("keydown", keys);
  startNotes();
  show(parse(location.hash) || state.at || { document: 0, page: 0, finding: null });
  showTaps(state.taps);
}

/** Puts a newer proof in the place of this one; page, scroll and choices stay. */
function renew(text) {
  const fresh = new DOMParser().parseFromString(text, "text/html").getElementById("proof");
  if (!fresh) return;
  const [file, page] = state.at ? [data.documents[state.at.document].file, state.at.page] : ["", 0];
  const variant = variants() ? data.variants.cells[state.variant].name : null;
  const [top, list, focus] = [scrollY, $("pages").scrollTop, document.activeElement?.id];
  const open = new Map([...document.querySelectorAll("#proof details")].map((d, n) => [n, d.open]));
  eye.disconnect();
  $("proof").replaceWith(fresh);
  data = JSON.parse($("data").textContent);
  state.variant = variants() ? Math.max(data.variants.cells.findIndex((cell) => cell.name === variant), 0) : 0;
  const same = data.documents.findIndex((d) => d.file === file);
  const index = same >= 0 ? same : variants() ? documentsOf(state.variant)[0] ?? 0 : 0;
  const last = (data.documents[index]?.pages.length || 1) - 1;
  state.at = { document: index, page: Math.min(page, last), finding: null };
  if (parse(location.hash)) history.replaceState(null, "", address(index, state.at.page));
  const details = [...document.querySelectorAll("#proof details")];
  if (details.length === open.size) details.forEach((d, n) => { d.open = open.get(n); });
  start();
  $("pages").scrollTop = list;
  // Once more when the rows above have the height of their pictures, not a guess of it.
  requestAnimationFrame(() => requestAnimationFrame(() => { $("pages").scrollTop = list; }));
  scrollTo({ top, behavior: "instant" });
  if (focus) $(focus)?.focus({ preventScroll: true });
}

/** Listens to `watch`: a new build, or the message of one that failed. */
function listen(bar) {
  let number = bar.dataset.build;
  document.documentElement.dataset.build = number;
  const events = new EventSource("/events");
  events.addEventListener("built", async (event) => {
    bar.hidden = true;
    bar.textContent = "";
    if (number !== event.data) renew(await (await fetch("/")).text());
    number = event.data;
    document.documentElement.dataset.build = number;
  });
  events.addEventListener("broken", (event) => {
    bar.textContent = JSON.parse(event.data);
    bar.hidden = false;
  });
  events.addEventListener("error", () => {
    bar.textContent = "The watching stopped. This is the last proof.";
    bar.hidden = false;
  });
  events.addEventListener("open", () => {
    if (bar.textContent.startsWith("The watching stopped")) bar.hidden = true;
  });
}

addEventListener("hashchange", follow);
start();
if (parse(location.hash)) follow();
if ($("live")) listen($("live"));
