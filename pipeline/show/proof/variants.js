// Variants: one at a time is shown, and a switch leads to the same place in another one.

/** How many variants there are to switch between; none for a product without. */
const variants = () => (data.variants ? data.variants.cells.length : 0);

const titleOf = (variant) => data.variants.cells[variant].title;

/** The documents that a variant has: its own, and those that all share. */
const documentsOf = (variant) => data.documents.map((_, index) => index)
  .filter((index) => data.documents[index].variant === null || data.documents[index].variant === variant);

/** The variant with this choice that has most else in common with the one that is shown. */
function nearest(row, choice) {
  const { cells } = data.variants;
  const now = cells[state.variant].picks;
  const common = (cell) => cell.picks.filter((pick, index) => pick === now[index]).length;
  let best = null;
  cells.forEach((cell, index) => {
    if (cell.picks[row] === choice && (best === null || common(cell) > common(cells[best]))) best = index;
  });
  return best === null ? state.variant : best;
}

/** What else changes with a choice that the variants do not have beside the present ones, in words. */
function alongside(row, choice) {
  const { cells, rows } = data.variants;
  const [now, then] = [cells[state.variant].picks, cells[nearest(row, choice)].picks];
  return then.map((pick, index) => (index !== row && pick !== now[index] ? rows[index].choices[pick] : null)).filter(Boolean).join(", ");
}

/** Shows what the chosen variant has, and hides what only others have. */
function arrange() {
  if (!variants()) return;
  for (const part of document.querySelectorAll("#proof [data-variant]")) {
    part.hidden = !part.dataset.variant.split(" ").includes(String(state.variant));
  }
  $("document").replaceChildren(...documentsOf(state.variant).map((index) => make("option", { value: index }, data.documents[index].title)));
  if (state.at) $("document").value = String(state.at.document);
  const { picks } = data.variants.cells[state.variant];
  for (const control of $("variants").querySelectorAll("[data-row]")) {
    const row = Number(control.dataset.row);
    if (control.tagName === "SELECT") {
      for (const option of control.options) {
        const also = alongside(row, Number(option.value));
        option.textContent = data.variants.rows[row].choices[Number(option.value)] + (also ? ` (with ${also})` : "");
      }
      control.value = String(picks[row]);
      continue;
    }
    const also = alongside(row, Number(control.value));
    control.checked = picks[row] === Number(control.value);
    control.parentElement.classList.toggle("far", also !== "");
    control.parentElement.title = also ? `Comes only with ${also}` : "";
    control.parentElement.querySelector(".with").textContent = also ? `, with ${also}` : "";
  }
}

/** An entry of the outline with those above it. */
function pathOf(document, entry) {
  const path = [];
  let depth = Infinity;
  for (let index = entry; index >= 0; index -= 1) {
    if (document.entries[index][0] >= depth) continue;
    [depth] = document.entries[index];
    path.unshift(document.entries[index][1]);
  }
  return path.join("\n");
}

/** The same entry of another document's outline; of several with one name, the one in the same turn. */
function sameEntry(from, entry, to) {
  if (entry === null) return null;
  const path = pathOf(from, entry);
  const turn = from.entries.slice(0, entry).filter((_, index) => pathOf(from, index) === path).length;
  const found = to.entries.map((_, index) => index).filter((index) => pathOf(to, index) === path);
  return found.length ? found[Math.min(turn, found.length - 1)] : null;
}

/** The page of another document that is the same place: in its part of the outline, by its label, or by its number. */
function samePage(from, page, to) {
  const { entry, label } = from.pages[page];
  const inside = (document, index) => document.pages.map((_, n) => n).filter((n) => document.pages[n].entry === index);
  const nearby = (pages) => pages.find((n) => label && to.pages[n].label === label);
  const other = sameEntry(from, entry, to);
  const part = other === null ? [] : inside(to, other);
  if (part.length) return nearby(part) ?? part[Math.min(page - inside(from, entry)[0], part.length - 1)];
  return nearby(to.pages.map((_, n) => n)) ?? Math.min(page, to.pages.length - 1);
}

/** The document of a variant that takes the place of another one, and the same page of it. */
function counterpart(at, variant) {
  const from = data.documents[at.document];
  if (from.variant === null || from.variant === variant) return at;
  const own = documentsOf(variant).filter((index) => data.documents[index].pages.length);
  const like = (key) => own.find((index) => data.documents[index][key] === from[key]);
  const index = like("kin") ?? like("kind") ?? own[0];
  return index === undefined ? at : { document: index, page: samePage(from, at.page, data.documents[index]), finding: null };
}

/** Does what changes the height of things above, and keeps in sight what is in sight: better than the browser, which does not
 * know that the covers of one variant stand for those of another. */
function steady(change) {
  const bar = document.querySelector(".helm").getBoundingClientRect().bottom;
  const parts = [...document.querySelectorAll("main > section")];
  let part = parts.find((section) => !section.hidden && section.getBoundingClientRect().bottom > bar + 80);
  const before = part ? part.getBoundingClientRect().top : 0;
  change();
  const number = part && part.hidden ? /^part-(\d+)$/.exec(part.id) : null;
  if (number) part = $(`part-${counterpart({ document: Number(number[1]), page: 0 }, state.variant).document}`);
  if (part && !part.hidden) scrollBy({ top: part.getBoundingClientRect().top - before, behavior: "instant" });
}

/** Shows another variant at the same place; `stay` leaves the address as it is. */
function turn(variant, stay) {
  const from = state.at;
  const to = from && counterpart(from, variant);
  if (from && to.document !== from.document) {
    const [one, other] = [data.documents[from.document], data.documents[to.document]];
    if (/^\d+$/.test(state.filter)) state.filter = String(sameEntry(one, Number(state.filter), other) ?? "all");
    // Back leads to the variant before.
    if (!stay && !parse(location.hash)) history.replaceState(null, "", address(from.document, from.page));
    if (!stay) history.pushState(null, "", address(to.document, to.page));
  }
  steady(() => {
    state.variant = variant;
    state.at = to;
    arrange();
    if (to) show(to);
  });
}

/** A choice in the switch. */
function choose(row, choice) {
  const [variant, also] = [nearest(row, choice), alongside(row, choice)];
  const title = data.variants.rows[row].choices[choice];
  turn(variant);
  say(also ? `${title} comes only with ${also}: ${titleOf(variant)} is shown.` : `${titleOf(variant)} is shown.`);
}

/** The next variant, or the one before. */
function nextVariant(step) {
  turn((state.variant + step + variants()) % variants());
  say(`${titleOf(state.variant)} is shown.`);
}

/** Takes the variant that a document belongs to, when a way leads to it. */
function adopt(index) {
  const { variant } = data.documents[index];
  if (!variants() || variant === null || variant === state.variant) return;
  state.variant = variant;
  arrange();
  say(`${titleOf(variant)} is shown.`);
}

/** Shows the variant that has a part of this page, when a way leads to that part. */
function reveal(hash) {
  const target = variants() && /^#[\w-]+$/.test(hash) ? $(hash.slice(1)) : null;
  const owner = target && target.closest("[data-variant]");
  if (!owner || !owner.hidden) return;
  turn(Number(owner.dataset.variant.split(" ")[0]), true);
  say(`${titleOf(state.variant)} is shown.`);
  target.scrollIntoView();
  target.focus({ preventScroll: true });
}

/** The switch may take a line of its own: what stands below the bar makes room for it. */
const bar = new ResizeObserver(() => {
  const helm = document.querySelector(".helm");
  const more = helm ? helm.clientHeight - helm.querySelector(".ways").offsetHeight : 0;
  document.documentElement.style.setProperty("--more", `${more}px`);
});

/** Brings the switch to life. */
function startVariants() {
  state.variant = Math.min(state.variant, Math.max(variants() - 1, 0));
  bar.disconnect();
  if (!variants()) return document.documentElement.style.removeProperty("--more");
  bar.observe(document.querySelector(".helm"));
  for (const control of $("variants").querySelectorAll("[data-row]")) {
    control.addEventListener("change", () => choose(Number(control.dataset.row), Number(control.value)));
  }
  $("variants").addEventListener("submit", (event) => event.preventDefault());
  arrange();
}
