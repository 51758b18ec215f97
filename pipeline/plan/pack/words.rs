//! What an update pack says, in English and in German; other languages get English, as change notes do.

use super::{Setter, ends, number};
use base::model::pack::{Book, Named, Pack, Run, Spot};

/// So many pages are named before the rest is only counted.
const NAMED: usize = 24;

/// The language in which a pack speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Words {
    /// English.
    English,
    /// German.
    German,
}

impl Words {
    /// Those of a language tag.
    pub fn of(language: Option<&str>) -> Words {
        let code = language.unwrap_or("en").split(['-', '_']).next().unwrap_or_default().to_lowercase();
        if code == "de" { Words::German } else { Words::English }
    }

    /// The BCP 47 tag of the language that is spoken.
    pub fn tag(self, language: Option<&str>) -> String {
        let wanted = language.filter(|l| Words::of(Some(l)) != Words::English || l.to_lowercase().starts_with("en"));
        wanted.unwrap_or("en").to_owned()
    }

    fn say(self, english: &str, german: &str) -> String {
        match self {
            Words::English => english.to_owned(),
            Words::German => german.to_owned(),
        }
    }

    /// The title of the document.
    pub fn title(self, book: &str, version: Option<&str>) -> String {
        match version {
            Some(v) => self.say(&format!("{book} – new pages of {v}"), &format!("{book} – neue Seiten von {v}")),
            None => self.say(&format!("{book} – new pages"), &format!("{book} – neue Seiten")),
        }
    }

    pub(super) fn how_to(self) -> &'static str {
        match self {
            Words::English => "How to use this pack",
            Words::German => "So geht es",
        }
    }

    /// The page label of a note; the first is that of the first page.
    pub(super) fn note_label(self, n: usize) -> String {
        match n {
            0 => self.say("read first", "zuerst lesen"),
            n => self.say(&format!("note {n}"), &format!("Zettel {n}")),
        }
    }

    fn quoted(self, text: &str) -> String {
        match self {
            Words::English => format!("\u{201c}{text}\u{201d}"),
            Words::German => format!("\u{201e}{text}\u{201c}"),
        }
    }

    /// A page by its number and its label.
    fn numbered(self, page: &Named) -> String {
        match number(page) {
            (n, None) => self.say(&format!("page {n}"), &format!("Seite {n}")),
            (n, Some(label)) => self.say(&format!("page {n} (“{label}”)"), &format!("Seite {n} („{label}“)")),
        }
    }

    /// What a page is called: its section or template, or else its number.
    pub fn called(self, page: &Named) -> String {
        if page.titles.is_empty() { self.numbered(page) } else { page.titles.join(" – ") }
    }

    /// A page by number, label and name.
    pub fn page(self, page: &Named) -> String {
        let number = self.numbered(page);
        if page.titles.is_empty() { number } else { format!("{number}, {}", self.quoted(&page.titles.join(" – "))) }
    }

    /// Where so many pages go, as plain text.
    pub fn place(self, spot: &Spot) -> String {
        match (spot, ends(spot)) {
            (_, Some((from, to))) if from == to => {
                self.say(&format!("in place of {}", self.page(from)), &format!("anstelle von {}", self.page(from)))
            }
            (_, Some((from, to))) => self.say(
                &format!("in place of {} to {}", self.page(from), self.page(to)),
                &format!("anstelle von {} bis {}", self.page(from), self.page(to)),
            ),
            (Spot::After(page), _) => {
                self.say(&format!("after {}", self.page(page)), &format!("nach {}", self.page(page)))
            }
            _ => self.say("before the first page", "vor die erste Seite"),
        }
    }

    pub(super) fn spot(self, spot: &Spot, count: usize, setter: &Setter) -> String {
        let place = setter.plain(&self.place(spot));
        let pages = match count {
            1 => self.say("1 page", "1 Seite"),
            n => self.say(&format!("{n} pages"), &format!("{n} Seiten")),
        };
        format!("{pages} {place}")
    }

    /// The entry of the outline for a group: where it goes, and what it begins with.
    pub(super) fn entry(self, place: &str, first: &Named) -> String {
        let plain: String = place.chars().filter(|c| *c != '\\').collect();
        format!("{} – {plain}", self.called(first))
    }

    /// The first page, in Markdown.
    pub(super) fn front(
        self,
        book: &Book,
        title: &str,
        places: &[String],
        link: &dyn Fn(usize) -> String,
        setter: &Setter,
    ) -> String {
        let mut out = format!("# {title}\n\n");
        out.push_str(&self.say(
            "These pages are for the notebook that you write in already. What you have written stays where it is. Open this \
             file in your reader app, copy the pages that you want, and put them into your notebook at the spots that are \
             named here. Before each group of pages stands a note like this one with a coloured edge; leave the notes out.\n\n\
             Have you written on a page that a new one takes the place of? Keep yours, and put the new one behind it.\n\n",
            "Diese Seiten sind für das Notizbuch, in das du schon schreibst. Was du geschrieben hast, bleibt, wo es ist. Öffne \
             diese Datei in deiner App, kopiere die Seiten, die du möchtest, und setze sie in deinem Notizbuch an die Stellen, \
             die hier stehen. Vor jeder Gruppe von Seiten steht ein Zettel wie dieser mit farbigem Rand; die Zettel lässt du \
             weg.\n\nHast du auf eine Seite geschrieben, an deren Stelle eine neue tritt? Behalte deine und setze die neue \
             dahinter.\n\n",
        ));
        out.push_str(&self.say("## Where the pages go\n\n", "## Wohin die Seiten gehören\n\n"));
        for (n, place) in places.iter().enumerate() {
            out.push_str(&format!("- [{place}]({})\n", link(n)));
        }
        if !book.moved.is_empty() {
            out.push_str(&self.say("\n## Pages that moved\n\n", "\n## Seiten, die umgezogen sind\n\n"));
            for (page, after) in book.moved.iter().take(NAMED) {
                let to = after.as_ref().map_or(Spot::Front, |p| Spot::After(p.clone()));
                out.push_str(&format!("- {}: {}\n", setter.plain(&self.page(page)), setter.plain(&self.place(&to))));
            }
            out.push_str(&self.more(book.moved.len()));
        }
        out.push_str(&self.say("\n## What copied pages cannot do\n\n", "\n## Was kopierte Seiten nicht können\n\n"));
        for line in self.limits(book) {
            out.push_str(&format!("- {}\n", setter.plain(&line)));
        }
        out
    }

    /// How many are left out of a list, as one more line of it.
    fn more(self, count: usize) -> String {
        match count.saturating_sub(NAMED) {
            0 => String::new(),
            n => self.say(&format!("- and {n} more\n"), &format!("- und {n} weitere\n")),
        }
    }

    /// What cannot be taken over by copying pages, a sentence or two each, as plain text.
    pub fn limits(self, book: &Book) -> Vec<String> {
        let mut out = Vec::new();
        let n = book.cut;
        if n > 0 {
            out.push(self.say(
                &format!(
                    "Taps to pages outside of this pack ({n}) are taken out: a copied page does not know the other pages of \
                     your notebook. Tabs and ways home on the new pages are drawn, and lead nowhere."
                ),
                &format!(
                    "Verknüpfungen zu Seiten außerhalb dieses Pakets ({n}) sind entfernt: Eine kopierte Seite kennt die anderen \
                     Seiten deines Notizbuchs nicht. Register und Rückwege auf den neuen Seiten sind gezeichnet und führen \
                     nirgendwohin."
                ),
            ));
        }
        let n = book.leading_in;
        if n > 0 {
            out.push(self.say(
                &format!(
                    "In the new version other pages lead to the new ones ({n} pages, such as the index or tabs). Those of your \
                     notebook cannot learn it by copying: bookmark the new pages, or find them by swiping."
                ),
                &format!(
                    "In der neuen Fassung führen andere Seiten zu den neuen ({n} Seiten, etwa Verzeichnis oder Register). Die \
                     deines Notizbuchs lernen das durch Kopieren nicht: Setze Lesezeichen, oder blättere."
                ),
            ));
        }
        let n = book.edges;
        if n > 0 {
            out.push(self.say(
                &format!(
                    "Pages on which only tabs or ways home are otherwise ({n}) are not in this pack: to replace them would cost \
                     what you wrote on them."
                ),
                &format!(
                    "Seiten, auf denen nur Register oder Rückwege anders sind ({n}), fehlen in diesem Paket: Sie zu ersetzen, \
                     würde kosten, was du darauf geschrieben hast."
                ),
            ));
        }
        if !book.removed.is_empty() {
            let mut names: Vec<String> = book.removed.iter().take(NAMED).map(|page| self.page(page)).collect();
            if book.removed.len() > NAMED {
                let more = book.removed.len() - NAMED;
                names.push(self.say(&format!("and {more} more"), &format!("und {more} weitere")));
            }
            out.push(self.say(
                &format!("The new version no longer has {}. Keep what you use.", names.join("; ")),
                &format!("Die neue Fassung hat nicht mehr: {}. Behalte, was du benutzt.", names.join("; ")),
            ));
        }
        if book.other_dates {
            out.push(self.say(
                "The new version is for other months. No dated page of it stands for one of yours: begin the new planner when \
                 its months begin.",
                "Die neue Fassung ist für andere Monate. Keine ihrer datierten Seiten steht für eine von deinen: Beginne den \
                 neuen Planer, wenn seine Monate beginnen.",
            ));
        }
        out.push(self.say(
            "The outline (list of contents) and the page labels of your notebook stay as they are, and lines of an index that \
             you copy in lead nowhere.",
            "Gliederung und Seitenbezeichnungen deines Notizbuchs bleiben, wie sie sind, und Zeilen eines Verzeichnisses, das \
             du hineinkopierst, führen nirgendwohin.",
        ));
        out.push(self.say(
            "The whole new notebook is yours as well, with every link: change over to it whenever a good moment comes.",
            "Das ganze neue Notizbuch gehört dir ebenso, mit jeder Verknüpfung: Wechsle, sobald ein guter Moment kommt.",
        ));
        out
    }

    /// The note before a group of pages, in Markdown.
    pub(super) fn slip(self, (n, all): (usize, usize), run: &Run, place: &str, setter: &Setter) -> String {
        let mut out = format!("# {place}\n\n");
        out.push_str(&self.say(
            &format!("Note {n} of {all}. It stands before:\n\n"),
            &format!("Zettel {n} von {all}. Er steht vor:\n\n"),
        ));
        for page in run.pages.iter().take(NAMED) {
            out.push_str(&format!("- {}\n", setter.plain(&self.called(page))));
        }
        out.push_str(&self.more(run.pages.len()));
        let all = self.say("All notes", "Alle Zettel");
        let leave = self.say("Leave this note out when you copy.", "Diesen Zettel beim Kopieren weglassen.");
        out.push_str(&format!("\n{leave} [{all}]({}0)\n", super::HERE));
        out
    }

    /// The text that lies beside the files of a pack: the change note, what there is, and what cannot be taken over.
    /// `files` are the paths of the pack with the book that each is made of, if any.
    pub fn read_first(self, note: &str, pack: &Pack, files: &[(String, Option<&Book>)]) -> String {
        let mut out = format!("{}\n\n", note.trim_end());
        out.push_str(&self.say("## In this pack\n\n", "## In diesem Paket\n\n"));
        for (path, book) in files {
            match book {
                None => out.push_str(&format!("- `{path}`\n")),
                Some(book) => {
                    let n = book.pages().count();
                    let pages =
                        self.say(&format!("new and changed pages: {n}"), &format!("neue und geänderte Seiten: {n}"));
                    out.push_str(&format!("- `{path}` – {pages}\n"));
                    for run in &book.runs {
                        out.push_str(&format!("  - {}: {}\n", self.called(&run.pages[0]), self.place(&run.spot)));
                    }
                }
            }
        }
        for book in &pack.books {
            let head = self.say("What copied pages cannot do", "Was kopierte Seiten nicht können");
            out.push_str(&format!("\n## {head}: {}\n\n", book.title));
            for (page, after) in book.moved.iter().take(NAMED) {
                let to = after.as_ref().map_or(Spot::Front, |p| Spot::After(p.clone()));
                let moved = self.say("moved", "umgezogen");
                out.push_str(&format!("- {} ({moved}): {}\n", self.page(page), self.place(&to)));
            }
            out.push_str(&self.more(book.moved.len()));
            for line in self.limits(book) {
                out.push_str(&format!("- {line}\n"));
            }
        }
        if !pack.gone.is_empty() {
            out.push_str(&self.say("\n## No longer there\n\n", "\n## Nicht mehr dabei\n\n"));
            for path in &pack.gone {
                out.push_str(&format!("- `{}`\n", path.trim_start_matches("contents/")));
            }
        }
        out
    }
}
