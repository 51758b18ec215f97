//! Whether the words on the pages of a PDF are in the language that the document says. Read from the finished file alone.

use super::catalogue::{Findings, found};
use super::tongues::{Evidence, of_tag};
use base::model::Where;
use base::model::facts::{Inspected, PageFacts, PdfFacts};

/// So many pages are named in a message.
const NAMED: usize = 6;

/// Checks a PDF. A page with few words tells nothing; a document in a language that cannot be told is left alone.
pub fn check(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    let Some(tag) = facts.language.as_deref() else { return };
    let Some(said) = of_tag(tag) else { return };
    let mut other: Vec<(usize, &'static str)> = Vec::new();
    for (n, page) in facts.pages.iter().enumerate() {
        let is = Evidence::of(&text(page)).instead_of(said);
        other.extend(is.map(|tongue| (n + 1, tongue.name)));
    }
    let mut names: Vec<&str> = other.iter().map(|(_, name)| *name).collect();
    names.sort_unstable();
    names.dedup();
    for name in names {
        let pages: Vec<usize> = other.iter().filter(|(_, of)| *of == name).map(|(page, _)| *page).collect();
        let Some(first) = pages.first().copied() else { continue };
        let named: Vec<String> = pages.iter().take(NAMED).map(usize::to_string).collect();
        let more = pages.len().saturating_sub(NAMED);
        let and = if more > 0 { format!(" and {more} more") } else { String::new() };
        let where_ = if pages.len() == 1 { "page" } else { "pages" };
        found!(
            findings,
            "language-of-text",
            Where::page(&file.path, first),
            "the document says that it is in {} (`{tag}`); the words on {where_} {}{and} are {name}",
            said.name,
            named.join(", ")
        );
    }
}

fn text(page: &PageFacts) -> String {
    page.texts.iter().map(|shown| &*shown.text).collect::<Vec<_>>().join(" ")
}
