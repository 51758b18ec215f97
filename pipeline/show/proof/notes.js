// Notes on pages, while `watch` shows the proof: kept in a file beside the manifest, shown until they are done.

let notes = [];

/** Whether a note belongs to a page: by the name that the page has, which lasts longer than its number, else by that. */
function noteIsOf(note, document, index) {
  if (note.file !== document.file) return false;
  const name = nameOf(document, document.pages[index]) || "";
  const named = note.name && document.pages.some((page) => nameOf(document, page) === note.name);
  return named ? note.name === name : note.page === index + 1;
}

async function keepNotes() {
  try {
    const answer = await fetch("/notes", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(notes) });
    if (!answer.ok) throw new Error(await answer.text());
    return true;
  } catch (error) {
    say(`The note could not be kept: ${error.message}`);
    return false;
  }
}

/** The notes of the page in sight, and how many are open elsewhere. */
function showNotes() {
  if (!$("notes") || !state.at) return;
  const document = data.documents[state.at.document];
  const here = notes.filter((note) => noteIsOf(note, document, state.at.page));
  $("notes-here").replaceChildren(...here.map((note) => {
    const row = make("li", note.done ? { class: "done" } : {});
    const label = make("label");
    const box = make("input", { type: "checkbox" });
    box.checked = note.done;
    box.addEventListener("change", async () => {
      note.done = box.checked;
      if (!(await keepNotes())) note.done = !box.checked;
      showNotes();
    });
    label.append(box, ` ${note.text}`);
    row.append(label);
    return row;
  }));
  const open = notes.filter((note) => !note.done && !here.includes(note));
  $("notes-elsewhere").replaceChildren(...(open.length ? [`${plural(open.length, "open note", "open notes")} on other pages: `] : []), ...open.slice(0, 12).flatMap((note) => {
    const index = data.documents.findIndex((d) => d.file === note.file);
    if (index < 0) return [`${note.text} (${note.file}) `];
    const page = data.documents[index].pages.findIndex((_, n) => noteIsOf(note, data.documents[index], n));
    const link = make("a", { href: address(index, Math.max(page, 0)) });
    link.textContent = note.text;
    return [link, " "];
  }));
}

/** Fetches the notes once the page lives, and takes new ones. */
async function startNotes() {
  if (!$("notes") || !$("note")) return;
  $("note").addEventListener("submit", async (event) => {
    event.preventDefault();
    const text = $("note-text").value.trim();
    if (!text) return;
    const document = data.documents[state.at.document];
    const note = { file: document.file, page: state.at.page + 1, name: nameOf(document, document.pages[state.at.page]) || "", text, done: false };
    notes.push(note);
    if (await keepNotes()) $("note-text").value = "";
    else notes.splice(notes.indexOf(note), 1);
    showNotes();
  });
  try {
    notes = await (await fetch("/notes")).json();
  } catch {
    notes = [];
  }
  showNotes();
}
