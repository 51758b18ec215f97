"use strict";
// The pages: one at a time as in a reader app, with working taps, and all of them as small pictures.

const $ = (id) => document.getElementById(id);
const state = { at: null, taps: false, filter: "all", ground: "light", variant: 0, beside: false, findings: new Map() };
let data;

/** Makes an element with attributes and children. */
function make(tag, attributes, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes || {})) {
    if (value !== null && value !== undefined && value !== false) element.setAttribute(name, value);
  }
  element.append(...children);
  return element;
}

const plural = (n, one, many) => `${n} ${n === 1 ? one : many}`;

/** Where an address of this page points to: document, page from 0, finding. */
function parse(hash) {
  const found = /^#d(\d+)p(\d+)(?:f(\d+))?$/.exec(hash);
  if (!found) return null;
  const document = data.documents[+found[1]];
  if (!document || !document.pages.length) return null;
  const page = Math.min(Math.max(+found[2] - 1, 0), document.pages.length - 1);
  return { document: +found[1], page, finding: found[3] === undefined ? null : +found[3] };
}

const address = (document, page) => `#d${document}p${page + 1}`;
const pictureOf = (page) => (page.picture === null ? null : data.pictures[page.picture]);

/** Shows a picture; of pages that differ little, the one that it lies over is its ground. */
function draw(image, picture, under) {
  image.src = data.pictures[picture];
  const ground = under === undefined || under === null || under === "" ? "" : `url("${data.pictures[under]}")`;
  image.style.backgroundImage = ground;
  image.style.backgroundSize = ground ? "100% 100%" : "";
}

/** What a page is called: its title, or the part that it stands in. */
function nameOf(document, page) {
  const entry = page.entry === null ? null : document.entries[page.entry];
  return page.title || (entry ? entry[1] : "");
}

const labelOf = (page, index) => page.label || String(index + 1);

/** A colour for a page as a target: one hue for each part of the outline. */
function hueOf(page) {
  return page.entry === null ? 150 : Math.round((page.entry * 137.508 + 20) % 360);
}

/** Findings by document and page. */
function sortFindings() {
  state.findings = new Map();
  data.findings.forEach((finding, index) => {
    if (!finding) return;
    const key = `${finding.document}/${finding.page}`;
    if (!state.findings.has(key)) state.findings.set(key, []);
    state.findings.get(key).push({ ...finding, index });
  });
}

const findingsOf = (document, page) => state.findings.get(`${document}/${page}`) || [];

/** Where a link leads, ready to be shown. */
function lead(document, link) {
  const [rect, target, says, other] = link;
  if (target !== null) {
    const page = document.pages[target];
    const label = labelOf(page, target);
    const name = nameOf(document, page);
    return { rect, target, label, says: says || `Go to page ${label}`, goes: `page ${label}${name ? `, ${name}` : ""}`, name, hue: hueOf(page) };
  }
  if (other && other.address !== undefined) {
    const safe = /^(https?|mailto):/i.test(other.address);
    return { rect, address: safe ? other.address : null, label: "↗", says: says || other.address, goes: other.address, name: "Addresses", hue: 215, kind: "outside" };
  }
  return { rect, label: "?", says: says || "A tap that leads nowhere", goes: `nowhere: ${other ? other.nowhere : "nothing is said"}`, name: "Nowhere", hue: 0, kind: "nowhere" };
}

/** A control that does what the tap does. */
function control(found, more) {
  if (found.target !== undefined) return make("a", { href: address(state.at.document, found.target), ...more });
  if (found.address) return make("a", { href: found.address, target: "_blank", rel: "noopener noreferrer", ...more });
  const button = make("button", { type: "button", ...more });
  button.addEventListener("click", () => say(`This tap leads ${found.goes}.`));
  return button;
}

function drawTaps(document, page) {
  const found = page.links.map((index) => lead(document, document.links[index]));
  const [w, h] = page.size;
  const percent = (value, of) => `${((100 * value) / of).toFixed(3)}%`;
  const taps = found.map((f) => {
    const [x, y, width, height] = f.rect;
    const area = control(f, { "aria-label": `${f.says}, to ${f.goes}`, title: `${f.says} (${f.goes})` });
    area.className = `${f.kind || ""}${width > 34 && height > 16 ? " room" : ""}`.trim();
    area.style.cssText = `left:${percent(x, w)};top:${percent(y, h)};width:${percent(width, w)};height:${percent(height, h)};--hue:${f.hue}`;
    area.append(make("span", { "aria-hidden": "true" }, f.label));
    return area;
  });
  $("taps").replaceChildren(...taps);
  const groups = new Map();
  for (const f of found) {
    const name = f.name || "Other pages";
    const group = groups.get(name) || { hue: f.hue, count: 0 };
    group.count += 1;
    groups.set(name, group);
  }
  $("legend").replaceChildren(...[...groups].map(([name, group]) => {
    const swatch = make("i", { "aria-hidden": "true" });
    swatch.style.setProperty("--hue", group.hue);
    return make("li", {}, swatch, `${name}${group.count > 1 ? ` (${group.count})` : ""}`);
  }));
  $("leads-title").textContent = found.length ? `Where the ${plural(found.length, "tap", "taps")} of this page ${found.length === 1 ? "leads" : "lead"}` : "This page has no taps";
  $("leads").replaceChildren(...found.map((f) => {
    const link = control(f, {});
    link.append(f.says);
    return make("li", {}, link, ` (${f.goes})`);
  }));
}

function drawMarks(at, page) {
  const found = findingsOf(at.document, at.page);
  const [w, h] = page.size;
  $("marks").replaceChildren(...found.filter((f) => f.rect).map((f) => {
    const mark = make("div", { class: `${f.severity}${f.index === at.finding ? " meant" : ""}`, title: f.says });
    const [x, y, width, height] = f.rect;
    mark.style.cssText = `left:calc(${(100 * x) / w}% - 4px);top:calc(${(100 * y) / h}% - 4px);width:calc(${(100 * width) / w}% + 8px);height:calc(${(100 * height) / h}% + 8px)`;
    return mark;
  }));
  $("said").replaceChildren(...found.map((f) => make("li", {}, f.says)));
}

/** Shows a page on the stage. */
function show(at) {
  state.at = at;
  adopt(at.document);
  const document = data.documents[at.document];
  const page = document.pages[at.page];
  const name = nameOf(document, page);
  const words = `Page ${at.page + 1} of ${document.pages.length}${page.label ? `, label ${page.label}` : ""}${name ? `: ${name}` : ""}`;
  const [w, h] = page.size;
  const stage = $("stage");
  stage.style.aspectRatio = `${w} / ${h}`;
  stage.style.width = `min(100%, calc((100vh - 15rem - var(--more, 0px)) * ${(w / h).toFixed(4)}))`;
  stage.setAttribute("aria-label", words);
  stage.dataset.page = String(at.page + 1);
  const source = pictureOf(page);
  if (source) draw($("paper"), page.picture, page.under);
  else {
    $("paper").removeAttribute("src");
    $("paper").style.backgroundImage = "";
  }
  $("paper").alt = source ? `Picture of page ${at.page + 1}${name ? `, ${name}` : ""}` : "This page could not be drawn";
  $("where").textContent = words;
  $("gap").hidden = page.whole && source !== null;
  $("jump").value = String(at.page + 1);
  $("of").textContent = `of ${document.pages.length}`;
  $("previous").disabled = at.page === 0;
  $("next").disabled = at.page === document.pages.length - 1;
  drawTaps(document, page);
  drawMarks(at, page);
  drawDates(document, at.page);
  drawBefore(document, page);
  showNotes();
  if ($("document").value !== String(at.document) || !$("pages").dataset.document) {
    $("document").value = String(at.document);
    fillFilter(document);
    fillPages();
  } else if ($("pages").dataset.document !== String(at.document)) {
    fillFilter(document);
    fillPages();
  }
  markCurrent();
}

function markCurrent() {
  for (const link of $("pages").querySelectorAll("[aria-current]")) link.removeAttribute("aria-current");
  const current = $("pages").querySelector(`a[href="${address(state.at.document, state.at.page)}"]`);
  if (!current) return;
  current.setAttribute("aria-current", "page");
  const [box, list] = [current.getBoundingClientRect(), $("pages").getBoundingClientRect()];
  if (box.top < list.top || box.bottom > list.bottom) $("pages").scrollTop += box.top - list.top - list.height / 3;
}

/** The choices of the filter: everything, findings, and the parts of the outline. */
function fillFilter(document) {
  const select = $("filter");
  const flagged = document.pages.some((_, index) => findingsOf(state.at.document, index).length);
  select.replaceChildren(make("option", { value: "all" }, "all pages"));
  if (flagged) select.append(make("option", { value: "findings" }, "pages with findings"));
  fillChanged(document, select);
  fillKinds(document, select);
  let group = null;
  document.entries.forEach(([depth, title], index) => {
    if (!document.pages.some((page) => page.entry === index)) {
      const below = document.entries[index + 1];
      group = below && below[0] > depth ? make("optgroup", { label: title }) : null;
      if (group) select.append(group);
      return;
    }
    const below = document.entries[index + 1];
    if (depth === 0 && below && below[0] > 0) {
      group = make("optgroup", { label: title });
      select.append(group);
    } else if (depth === 0) group = null;
    (group || select).append(make("option", { value: String(index) }, title));
  });
  if (![...select.options].some((option) => option.value === state.filter)) state.filter = "all";
  select.value = state.filter;
}

const wanted = (page, index) =>
  state.filter === "all" ||
  (state.filter === "findings" ? findingsOf(state.at.document, index).length > 0
    : state.filter === "changed" ? Boolean(page.before)
    : state.filter.startsWith("kind-") ? kindOf(page) === state.filter.slice(5)
      : page.entry === Number(state.filter));

/** A small picture of a page that leads to it. */
function card(documentIndex, index) {
  const document = data.documents[documentIndex];
  const page = document.pages[index];
  const found = findingsOf(documentIndex, index);
  const image = make("img", { alt: "", "data-picture": page.picture, "data-under": page.under });
  const thumb = make("span", { class: "thumb" }, image);
  thumb.style.aspectRatio = `${page.size[0]} / ${page.size[1]}`;
  const name = make("span", { class: "name" }, `${index + 1}${nameOf(document, page) ? ` ${nameOf(document, page)}` : ""}`);
  if (found.length) name.append(make("span", { class: "flag" }, ` ${plural(found.length, "finding", "findings")}`));
  return make("li", { class: "card" }, make("a", { href: address(documentIndex, index) }, thumb, name));
}

function fillPages() {
  const document = data.documents[state.at.document];
  const indices = document.pages.map((_, index) => index).filter((index) => wanted(document.pages[index], index));
  $("pages").dataset.document = String(state.at.document);
  $("pages").replaceChildren(...indices.map((index) => card(state.at.document, index)));
  $("count").textContent = plural(indices.length, "page", "pages");
  lazily($("pages"));
  markCurrent();
}

const eye = new IntersectionObserver((seen) => {
  for (const { isIntersecting, target } of seen) {
    if (!isIntersecting) continue;
    draw(target, Number(target.dataset.picture), target.dataset.under);
    eye.unobserve(target);
  }
}, { rootMargin: "400px" });

/** Gives pictures their content once they come into sight. */
function lazily(root) {
  for (const image of root.querySelectorAll("img[data-picture]:not([src])")) {
    if (data.pictures[Number(image.dataset.picture)]) eye.observe(image);
  }
}
