//! What changed since the version that buyers have: file by file, each change a way to its page.

use super::documents::Document;
use super::{ProofInput, Sticker, findings};
use base::model::change::{Change, Verdict};
use base::model::difference::{Difference, Since};
use serde::Serialize;

/// So many changes of a file are listed; the rest is counted.
const SHOWN: usize = 40;

/// The section.
#[derive(Serialize)]
pub struct Changes {
    version: String,
    released: Option<String>,
    issued: bool,
    /// What the number must become, in words.
    verdict: String,
    /// Why the number is too low, if it is.
    low: Option<String>,
    download: bool,
    line: String,
    files: Vec<File>,
}

#[derive(Serialize)]
struct File {
    path: String,
    terms: bool,
    changes: Vec<Row>,
    more: usize,
}

#[derive(Serialize)]
struct Row {
    kind: &'static str,
    tone: &'static str,
    /// The page, and the address on this page that shows it; none for what is gone.
    place: Option<String>,
    href: Option<String>,
    message: String,
}

/// The section about an earlier version.
pub fn changes(since: &Since, sheet: &ProofInput, documents: &[Document], stickers: &[Sticker]) -> Changes {
    let found = &since.found;
    let told: Vec<&Difference> = found.differences.iter().filter(|d| !d.is_copy()).collect();
    let files = told.chunk_by(|a, b| a.path == b.path).map(|list| File {
        path: list[0].path.clone(),
        terms: list.iter().any(|d| d.message.starts_with("the licence terms changed")),
        changes: list.iter().take(SHOWN).map(|d| row(d, sheet, documents, stickers)).collect(),
        more: list.len().saturating_sub(SHOWN),
    });
    let numbers = found.numbers.as_ref();
    Changes {
        version: since.version.clone(),
        released: since.released.clone(),
        issued: since.issued,
        verdict: match found.verdict {
            Verdict::Same => "Nothing changed".to_owned(),
            step => format!("A {} version", step.name()),
        },
        low: numbers.filter(|n| !n.enough).map(|n| format!("{} is too low: what changed asks for {}", n.new, n.needed)),
        download: found.download_again,
        line: since.line.clone(),
        files: files.collect(),
    }
}

fn row(d: &Difference, sheet: &ProofInput, documents: &[Document], stickers: &[Sticker]) -> Row {
    let gone = matches!(d.kind, Change::FileRemoved | Change::PageRemoved);
    let way = findings::way(&d.path, d.page_new, sheet, documents, stickers);
    // What has no picture here has nothing to go to.
    let href = (!gone && (way.starts_with("#d") || way.starts_with("#sticker"))).then_some(way);
    let place = match (d.page_old, d.page_new) {
        (Some(old), Some(new)) if old != new => Some(format!("page {new}, before: {old}")),
        (_, Some(new)) => Some(format!("page {new}")),
        (Some(old), None) => Some(format!("page {old} before")),
        (None, None) => href.as_ref().map(|_| "see it".to_owned()),
    };
    let tone = match d.kind {
        Change::FileAdded | Change::PageInserted | Change::LinkAdded => "come",
        Change::FileRemoved | Change::PageRemoved | Change::LinkRemoved | Change::LinkRetargeted => "gone",
        _ => "other",
    };
    Row { kind: d.kind.words(1), tone, place, href, message: d.message.clone() }
}
