//! What an update pack says, in the language of the notebook where there is a table for it, else in English.

use super::{Setter, ends, number};
use base::model::Role;
use base::model::pack::{Book, Named, Pack, Run, Spot};
use draw::Fonts;
use wording::pack::Pack as Sentences;
use wording::{Tongue, fill};

/// So many pages are named before the rest is only counted.
const NAMED: usize = 24;

/// The language in which a pack speaks.
#[derive(Debug)]
pub struct Words {
    tongue: Tongue,
    says: &'static Sentences,
    /// The tag of the language, English where there is no table for the one that was asked for.
    tag: String,
}

impl Words {
    /// Those of a language tag.
    pub fn of(language: Option<&str>) -> Words {
        let wanted = language.unwrap_or("en");
        let spoken = base::model::words::Words::of(wanted).speaks(wanted);
        let tongue = Tongue::new(wanted);
        Words { says: &tongue.documents().pack, tongue, tag: if spoken { wanted } else { "en" }.to_owned() }
    }

    /// Those for a page: English where the fonts have no characters for the language.
    pub fn on_paper(language: Option<&str>, fonts: &Fonts) -> Words {
        let words = Words::of(language);
        match fonts.missing(Role::Label, words.says.front).into_iter().next() {
            None => words,
            Some(_) => Words::of(None),
        }
    }

    /// Whether its lines run from right to left.
    pub fn is_right_to_left(&self) -> bool {
        self.tongue.is_right_to_left()
    }

    /// The BCP 47 tag of the language that is spoken.
    pub fn tag(&self) -> &str {
        &self.tag
    }

    /// A number that is no count of its own: of a page, of a note.
    fn figure(&self, n: usize) -> String {
        self.tongue.measure(&n.to_string())
    }

    fn numbered_as(&self, sentence: &str, n: usize) -> String {
        fill(sentence, &[("n", &self.figure(n))])
    }

    /// The title of the document.
    pub fn title(&self, book: &str, version: Option<&str>) -> String {
        match version {
            Some(version) => fill(self.says.title_of, &[("book", book), ("version", version)]),
            None => fill(self.says.title, &[("book", book)]),
        }
    }

    pub(super) fn how_to(&self) -> &'static str {
        self.says.how_to
    }

    /// The page label of a note; the first is that of the first page.
    pub(super) fn note_label(&self, n: usize) -> String {
        if n == 0 { self.says.label_first.to_owned() } else { self.numbered_as(self.says.label, n) }
    }

    /// A page by its number and its label.
    fn numbered(&self, page: &Named) -> String {
        match number(page) {
            (n, None) => self.numbered_as(self.says.page_at, n),
            (n, Some(label)) => fill(self.says.page_labelled, &[("n", &self.figure(n)), ("label", label)]),
        }
    }

    /// What a page is called: its section or template, or else its number.
    pub fn called(&self, page: &Named) -> String {
        if page.titles.is_empty() { self.numbered(page) } else { page.titles.join(" – ") }
    }

    /// A page by number, label and name.
    pub fn page(&self, page: &Named) -> String {
        let number = self.numbered(page);
        if page.titles.is_empty() {
            return number;
        }
        let name = fill(self.says.quoted, &[("text", &page.titles.join(" – "))]);
        format!("{number}{}{name}", self.tongue.documents().start.comma)
    }

    /// Where so many pages go, as plain text.
    pub fn place(&self, spot: &Spot) -> String {
        match (spot, ends(spot)) {
            (_, Some((from, to))) if from == to => fill(self.says.in_place, &[("page", &self.page(from))]),
            (_, Some((from, to))) => fill(self.says.in_place_to, &[("from", &self.page(from)), ("to", &self.page(to))]),
            (Spot::After(page), _) => fill(self.says.after, &[("page", &self.page(page))]),
            _ => self.says.before_first.to_owned(),
        }
    }

    pub(super) fn spot(&self, spot: &Spot, count: usize, setter: &Setter) -> String {
        let (pages, place) = (self.tongue.count(count, self.says.pages), setter.plain(&self.place(spot)));
        fill(self.says.spot, &[("pages", &pages), ("place", &place)])
    }

    /// The entry of the outline for a group: where it goes, and what it begins with.
    pub(super) fn entry(&self, place: &str, first: &Named) -> String {
        let plain: String = place.chars().filter(|c| *c != '\\').collect();
        format!("{} – {plain}", self.called(first))
    }

    /// A thing, and what is said of it.
    fn said(&self, of: &str, what: &str) -> String {
        format!("{of}{}{what}", self.tongue.documents().start.colon)
    }

    /// The first page, in Markdown.
    pub(super) fn front(
        &self,
        book: &Book,
        title: &str,
        places: &[String],
        link: &dyn Fn(usize) -> String,
        setter: &Setter,
    ) -> String {
        let says = self.says;
        let mut out = format!("# {title}\n\n{}\n\n{}\n\n## {}\n\n", says.front, says.front_written, says.where_to);
        for (n, place) in places.iter().enumerate() {
            out.push_str(&format!("- [{place}]({})\n", link(n)));
        }
        if !book.moved.is_empty() {
            out.push_str(&format!("\n## {}\n\n", says.moved_pages));
            for (page, after) in book.moved.iter().take(NAMED) {
                let to = after.as_ref().map_or(Spot::Front, |p| Spot::After(p.clone()));
                let line = self.said(&setter.plain(&self.page(page)), &setter.plain(&self.place(&to)));
                out.push_str(&format!("- {line}\n"));
            }
            out.push_str(&self.more(book.moved.len()));
        }
        out.push_str(&format!("\n## {}\n\n", says.cannot));
        for line in self.limits(book) {
            out.push_str(&format!("- {}\n", setter.plain(&line)));
        }
        out
    }

    /// How many are left out of a list, as one more line of it.
    fn more(&self, count: usize) -> String {
        match count.saturating_sub(NAMED) {
            0 => String::new(),
            n => format!("- {}\n", self.numbered_as(self.says.more, n)),
        }
    }

    /// What cannot be taken over by copying pages, a sentence or two each, as plain text.
    pub fn limits(&self, book: &Book) -> Vec<String> {
        let says = self.says;
        let counted = [(book.cut, says.cut), (book.leading_in, says.leading_in), (book.edges, says.edges)];
        let counted = counted.into_iter().filter(|(n, _)| *n > 0);
        let mut out: Vec<String> = counted.map(|(n, sentence)| self.numbered_as(sentence, n)).collect();
        if !book.removed.is_empty() {
            let mut names: Vec<String> = book.removed.iter().take(NAMED).map(|page| self.page(page)).collect();
            if book.removed.len() > NAMED {
                names.push(self.numbered_as(says.more, book.removed.len() - NAMED));
            }
            out.push(fill(says.removed, &[("pages", &names.join(self.tongue.documents().start.semicolon))]));
        }
        if book.other_dates {
            out.push(says.other_dates.to_owned());
        }
        out.extend([says.outline.to_owned(), says.whole.to_owned()]);
        out
    }

    /// The note before a group of pages, in Markdown.
    pub(super) fn slip(&self, (n, all): (usize, usize), run: &Run, place: &str, setter: &Setter) -> String {
        let says = self.says;
        let slip = fill(says.slip, &[("n", &self.figure(n)), ("all", &self.figure(all))]);
        let mut out = format!("# {place}\n\n{slip}\n\n");
        for page in run.pages.iter().take(NAMED) {
            out.push_str(&format!("- {}\n", setter.plain(&self.called(page))));
        }
        out.push_str(&self.more(run.pages.len()));
        out.push_str(&format!(
            "\n{}{}[{}]({}0)\n",
            says.leave_out,
            self.tongue.documents().start.between,
            says.all_notes,
            super::HERE
        ));
        out
    }

    /// The text that lies beside the files of a pack: the change note, what there is, and what cannot be taken over.
    /// `files` are the paths of the pack with the book that each is made of, if any.
    pub fn read_first(&self, note: &str, pack: &Pack, files: &[(String, Option<&Book>)]) -> String {
        let says = self.says;
        let mut out = format!("{}\n\n## {}\n\n", note.trim_end(), says.in_pack);
        for (path, book) in files {
            match book {
                None => out.push_str(&format!("- `{path}`\n")),
                Some(book) => {
                    let pages = self.numbered_as(says.new_changed, book.pages().count());
                    out.push_str(&format!("- `{path}` – {pages}\n"));
                    for run in &book.runs {
                        let line = self.said(&self.called(&run.pages[0]), &self.place(&run.spot));
                        out.push_str(&format!("  - {line}\n"));
                    }
                }
            }
        }
        for book in &pack.books {
            out.push_str(&format!("\n## {}\n\n", self.said(says.cannot, &book.title)));
            for (page, after) in book.moved.iter().take(NAMED) {
                let to = after.as_ref().map_or(Spot::Front, |p| Spot::After(p.clone()));
                let moved = format!("{} ({})", self.page(page), says.moved);
                out.push_str(&format!("- {}\n", self.said(&moved, &self.place(&to))));
            }
            out.push_str(&self.more(book.moved.len()));
            for line in self.limits(book) {
                out.push_str(&format!("- {line}\n"));
            }
        }
        if !pack.gone.is_empty() {
            out.push_str(&format!("\n## {}\n\n", says.no_longer));
            for path in &pack.gone {
                out.push_str(&format!("- `{}`\n", path.trim_start_matches("contents/")));
            }
        }
        self.tongue.directed(&out)
    }
}
