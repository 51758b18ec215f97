// The version that buyers have: a page that changed, beside what it was there.

/** Whether any page of a document has an earlier picture. */
const hasBefore = (document) => document.pages.some((page) => page.before);

/** Shows the earlier page beside the one on the stage, where there is one and it is wanted. */
function drawBefore(document, page) {
  const control = $("beside");
  if (!control) return;
  control.hidden = !hasBefore(document);
  control.setAttribute("aria-pressed", String(state.beside));
  const shown = state.beside && !control.hidden && page.before;
  const version = control.dataset.version;
  $("before").hidden = !shown;
  $("pair").classList.toggle("two", Boolean(shown));
  if (shown) {
    const [number, picture] = page.before;
    draw($("before-paper"), picture, null);
    $("before-paper").alt = `Page ${number} of ${version}`;
    $("before-says").textContent = `${version}, page ${number}`;
  }
  $("unchanged").hidden = !(state.beside && !control.hidden && !page.before);
}

/** Turns the earlier version on and off. */
function showBefore(shown) {
  state.beside = shown;
  const document = data.documents[state.at.document];
  drawBefore(document, document.pages[state.at.page]);
}

/** The filter for pages that changed. */
function fillChanged(document, select) {
  if (hasBefore(document)) select.append(make("option", { value: "changed" }, "pages that changed"));
}
