// The dates of a planner: pages by kind, a jump to a day, and a strip of months and days.

/** Forms of the page labels of dated pages; what stands behind a page has a slash and its number or name. */
const KINDS = [
  ["year", "years", /^\d{4}(\/\d\d)?$/],
  ["quarter", "quarters", /^\d{4}-Q\d$/],
  ["month", "months", /^\d{4}-\d\d$/],
  ["week", "weeks", /^W\d\d$/],
  ["day", "days", /^\d{4}-\d\d-\d\d$/],
  ["behind", "pages behind dated ones", /^(\d{4}-\d\d(-\d\d)?|\d{4}-Q\d|W\d\d)\/.+$/],
];
const MONTHS = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];
const WEEKDAYS = ["Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"];

/** Whether a document is a planner: it has days or at least a few months. */
function isDated(document) {
  document.dated ??= document.pages.filter((page) => /^\d{4}-\d\d(-\d\d)?$/.test(page.label || "")).length >= 3
    || document.pages.some((page) => /^\d{4}-\d\d-\d\d$/.test(page.label || ""));
  return document.dated;
}

/** The kind of a dated page; null for all others. A lone year is one of months only among others of its form. */
function kindOf(page) {
  const label = page.label || "";
  const found = KINDS.find(([name, , form]) => name !== "year" && form.test(label));
  return found ? found[0] : /^\d{4}(\/\d\d)?$/.test(label) ? "year" : null;
}

/** Choices of the filter: the kinds that the document has. */
function fillKinds(document, select) {
  if (!isDated(document)) return;
  const group = make("optgroup", { label: "Kinds of pages" });
  for (const [name, many] of KINDS) {
    const count = document.pages.filter((page) => kindOf(page) === name).length;
    if (count) group.append(make("option", { value: `kind-${name}` }, `${many} (${count})`));
  }
  if (group.children.length) select.append(group);
}

/** The first page with a label; -1 where there is none. */
function labelled(document, label) {
  document.byLabel ??= new Map([...document.pages.entries()].reverse().map(([index, page]) => [page.label, index]));
  return document.byLabel.get(label) ?? -1;
}

/** Goes to the page of a day, or of its month where the day has none. */
function toDate(text) {
  const document = data.documents[state.at.document];
  const found = [text, text.slice(0, 7)].map((label) => labelled(document, label)).find((index) => index >= 0);
  if (found === undefined) return say(`There is no page for ${text}.`);
  go(found);
}

/** The month of a page: its own, or that of the last dated page before it. */
function monthOf(document, index) {
  for (let at = index; at >= 0; at -= 1) {
    const found = /^(\d{4}-\d\d)/.exec(document.pages[at].label || "");
    if (found) return found[1];
  }
  const first = document.pages.find((page) => /^\d{4}-\d\d/.test(page.label || ""));
  return first ? first.label.slice(0, 7) : null;
}

/** The strip: the months of the planner, and the days of the month in sight. */
function drawDates(document, index) {
  const strip = $("dates");
  strip.hidden = !isDated(document);
  if (strip.hidden) return;
  const link = (label, words, says, current) => {
    const page = labelled(document, label);
    const more = { "aria-label": says, title: says, "aria-current": current ? "date" : null };
    return make("li", {}, page < 0 ? make("span", {}, words) : make("a", { href: address(state.at.document, page), ...more }, words));
  };
  const month = monthOf(document, index);
  document.months ??= [...new Set(document.pages.map((page) => /^(\d{4}-\d\d)(-\d\d)?$/.exec(page.label || "")?.[1]).filter(Boolean))].sort();
  const named = (text) => `${MONTHS[Number(text.slice(5)) - 1]} ${text.slice(0, 4)}`;
  const first = (text) => (labelled(document, text) >= 0 ? text : `${text}-01`);
  $("months").replaceChildren(...document.months.map((text) => link(first(text), named(text).slice(0, 3), `${named(text).slice(0, 3)} ${text.slice(0, 4)}`, text === month)));
  const [year, number] = month.split("-").map(Number);
  const days = new Date(Date.UTC(year, number, 0)).getUTCDate();
  const all = Array.from({ length: days }, (_, n) => {
    const label = `${month}-${String(n + 1).padStart(2, "0")}`;
    const weekday = new Date(Date.UTC(year, number - 1, n + 1)).getUTCDay();
    const item = link(label, String(n + 1), `${WEEKDAYS[weekday]}, ${n + 1} ${named(month)}`, (document.pages[index].label || "").startsWith(label));
    if (weekday % 6 === 0) item.className = "weekend";
    return item;
  });
  const some = all.some((item) => item.querySelector("a"));
  $("days").hidden = !some;
  $("days").setAttribute("aria-label", `Days of ${named(month)}`);
  $("days").replaceChildren(...(some ? all : []));
  const day = /^\d{4}-\d\d-\d\d/.exec(document.pages[index].label || "");
  $("date").value = day ? day[0] : "";
  const dates = document.months;
  $("date").min = `${dates[0]}-01`;
  $("date").max = `${dates[dates.length - 1]}-31`.replace(/-31$/, () => `-${String(new Date(Date.UTC(...dates[dates.length - 1].split("-").map(Number), 0)).getUTCDate()).padStart(2, "0")}`);
}

/** Listens to the strip. */
function startDates() {
  $("date").addEventListener("change", () => { if ($("date").value) toDate($("date").value); });
}
