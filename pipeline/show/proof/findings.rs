//! The verdict and the findings: what, how often, why a buyer would notice, and the way to each place.

use super::documents::Document;
use super::{ProofInput, Sticker, shots};
use base::model::finding::{Finding, Severity};
use serde::Serialize;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Places that one check lists at most; all of them are marked on their pages.
const PLACES: usize = 200;

/// What it all comes to.
#[derive(Serialize)]
pub struct Verdict {
    /// `good`, `look` or `stop`.
    class: &'static str,
    /// In words.
    words: String,
    /// How many of each severity, in words.
    counts: String,
}

/// All findings of one check.
#[derive(Serialize)]
pub struct Group {
    severity: &'static str,
    check: String,
    why: String,
    help: String,
    lowered: Option<String>,
    count: usize,
    places: Vec<Place>,
    more: usize,
}

/// A finding with its number and why a buyer would notice.
type Numbered<'a> = (usize, &'a Finding, &'a str);

/// A place that a finding is about.
#[derive(Serialize)]
struct Place {
    name: String,
    message: String,
    href: String,
}

/// The verdict.
pub fn verdict(sheet: &ProofInput) -> Verdict {
    let of = |severity| sheet.findings.iter().filter(|(f, _)| f.severity == severity).count();
    let (errors, warnings, notes) = (of(Severity::Error), of(Severity::Warning), of(Severity::Note));
    let (class, words) = match (sheet.stopped, errors, warnings) {
        (true, _, _) => ("stop", "Not written: mend these first, then build again"),
        (_, 1.., _) => ("stop", "Do not launch this yet"),
        (_, 0, 1..) => ("look", "Ready, once you have looked at the warnings"),
        _ => ("good", "Ready to launch"),
    };
    let counts = match (errors, warnings, notes) {
        (0, 0, 0) => "No check had anything to say.".to_owned(),
        _ => format!("{}, {}, {}", plural(errors, "error"), plural(warnings, "warning"), plural(notes, "note")),
    };
    Verdict { class, words: words.to_owned(), counts }
}

/// The findings by check, worst first.
pub fn groups(sheet: &ProofInput, documents: &[Document], stickers: &[Sticker]) -> Vec<Group> {
    let mut groups: BTreeMap<(Severity, &str), Vec<Numbered>> = BTreeMap::new();
    for (n, (finding, why)) in sheet.findings.iter().enumerate() {
        groups.entry((finding.severity, &finding.check)).or_default().push((n, finding, why));
    }
    groups
        .into_values()
        .map(|list| {
            let (_, first, why) = list[0];
            let place = |(n, finding, _): &Numbered| {
                let (name, href) = whereabouts(*n, finding, sheet, documents, stickers);
                Place { name, message: finding.message.clone(), href }
            };
            Group {
                severity: first.severity.name(),
                check: first.check.clone().into_owned(),
                why: why.to_owned(),
                help: first.help.clone(),
                lowered: first.lowered.clone(),
                count: list.len(),
                places: list.iter().take(PLACES).map(place).collect(),
                more: list.len().saturating_sub(PLACES),
            }
        })
        .collect()
}

/// A place in words, and the address on this page that shows it.
fn whereabouts(
    n: usize,
    finding: &Finding,
    sheet: &ProofInput,
    documents: &[Document],
    stickers: &[Sticker],
) -> (String, String) {
    let at = &finding.place;
    let mut name = if at.file.is_empty() { "the bundle".to_owned() } else { at.file.clone() };
    if let Some(page) = at.page {
        name.push_str(&format!(", page {page}"));
    }
    if let Some(span) = &at.span {
        name.push_str(&format!(", line {}, column {}", span.line, span.column));
    }
    if let Some((x, y)) = at.pixel {
        name.push_str(&format!(", pixel {x}, {y}"));
    }
    if let Some(entry) = &at.entry {
        name.push_str(&format!(", {entry}"));
    }
    let mut href = way(&at.file, at.page, sheet, documents, stickers);
    // On its page a finding is marked.
    if href.starts_with("#d") {
        href.push_str(&format!("f{n}"));
    }
    (name, href)
}

/// The address on this page that shows a file, or a page of it (from 1).
pub fn way(
    file: &str,
    page: Option<usize>,
    sheet: &ProofInput,
    documents: &[Document],
    stickers: &[Sticker],
) -> String {
    if let Some(d) = document(file, sheet, documents) {
        format!("#d{d}p{}", page.unwrap_or(1))
    } else if let Some(s) = stickers.iter().position(|s| s.file == file) {
        format!("#sticker-{s}")
    } else if file.starts_with(shots::FOLDER) {
        "#shots".to_owned()
    } else if file.starts_with("listing/") {
        "#listing".to_owned()
    } else if file.starts_with("upload/") {
        "#uploads".to_owned()
    } else {
        "#files".to_owned()
    }
}

/// The document that shows a file: itself, or the same bytes at another place.
fn document(file: &str, sheet: &ProofInput, documents: &[Document]) -> Option<usize> {
    if let Some(itself) = documents.iter().position(|d| d.file == file) {
        return Some(itself);
    }
    let (found, _) = sheet.files.iter().find(|(f, _)| f.path == file)?;
    documents.iter().position(|d| d.sha256 == found.sha256)
}

/// The findings that have a page, for the script: document, page from 0, rectangle, severity, words; null for others.
pub fn on_pages(sheet: &ProofInput, documents: &[Document]) -> Vec<Value> {
    sheet
        .findings
        .iter()
        .map(|(finding, _)| {
            let at = &finding.place;
            let (Some(document), Some(page)) = (document(&at.file, sheet, documents), at.page) else {
                return Value::Null;
            };
            let rect = at.rect.map(|r| [r.x, r.y, r.w, r.h].map(|v| (v * 100.0).round() / 100.0));
            json!({
                "document": document,
                "page": page.saturating_sub(1),
                "rect": rect,
                "severity": finding.severity.name(),
                "says": format!("{}: {}", finding.check, finding.message),
            })
        })
        .collect()
}

fn plural(n: usize, word: &str) -> String {
    if n == 1 { format!("1 {word}") } else { format!("{n} {word}s") }
}
