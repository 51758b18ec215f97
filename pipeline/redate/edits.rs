//! What is changed in the manifest: each at its place, everything around it left as it is.

use super::told::{Edit, Move, line_of};
use super::years::{moved, years};
use std::ops::Range;
use toml_edit::{Document, Item};

/// A piece of the manifest that gives way to another.
struct Piece {
    at: Range<usize>,
    key: String,
    text: Option<String>,
}

/// Edits the manifest, and lists the edits.
pub fn edit(manifest: &str, document: &Document<&str>, first: &Range<usize>, plan: &Move) -> (String, Vec<Edit>) {
    let mut pieces = vec![Piece {
        at: first.clone(),
        key: "calendar.first".into(),
        text: Some(manifest[first.clone()].replace(&plan.from.first().to_string(), &plan.to.first().to_string())),
    }];
    pieces.extend(version(manifest, document, plan));
    pieces.extend(issued(manifest, document));
    for (key, at) in named(document) {
        let written = &manifest[at.clone()];
        if moves(written, plan)
            && let Some(text) = moved(written, plan.years())
        {
            pieces.push(Piece { at, key, text: Some(text) });
        }
    }
    pieces.sort_by_key(|piece| piece.at.start);
    let mut out = manifest.to_owned();
    for piece in pieces.iter().rev() {
        out.replace_range(piece.at.clone(), piece.text.as_deref().unwrap_or_default());
    }
    let listed = |piece: Piece| Edit {
        line: line_of(manifest, piece.at.start),
        before: manifest[piece.at.clone()].trim_end().to_owned(),
        key: piece.key,
        after: piece.text,
    };
    (out, pieces.into_iter().map(listed).collect())
}

/// The texts by which buyers know the product, and where they stand: their years are those of the planner.
pub fn named(document: &Document<&str>) -> Vec<(String, Range<usize>)> {
    let mut out = Vec::new();
    for key in ["name", "slug"] {
        out.extend(document.get(key).and_then(Item::span).map(|at| (key.to_owned(), at)));
    }
    let listing = document.get("listing");
    out.extend(listing.and_then(|l| l.get("title")?.span()).map(|at| ("listing.title".to_owned(), at)));
    let tags = listing.and_then(|l| l.get("tags")).and_then(Item::as_array);
    for tag in tags.into_iter().flat_map(|tags| tags.iter()) {
        out.extend(tag.span().map(|at| ("listing.tags".to_owned(), at)));
    }
    out
}

/// Whether the years of a text are those of the planner, all of them, and moving them says nothing twice.
fn moves(written: &str, plan: &Move) -> bool {
    let years = years(written);
    !years.is_empty() && plan.years() != 0 && years.iter().all(|(year, _)| plan.is_old(*year))
}

/// A planner for later months is a new main version; going back undoes that.
fn version(manifest: &str, document: &Document<&str>, plan: &Move) -> Option<Piece> {
    let item = document.get("version")?;
    let (at, version) = (item.span()?, item.as_str()?);
    let main: u64 = version.split('.').next()?.parse().ok()?;
    let back = plan.to.first() < plan.from.first() && main > 1;
    let main = if back { main - 1 } else { main.checked_add(1)? };
    let written = &manifest[at.clone()];
    let text = written.contains(version).then(|| written.replacen(version, &format!("{main}.0.0"), 1))?;
    Some(Piece { at, key: "version".into(), text: Some(text) })
}

/// Nobody has the new version yet: the line that says so goes, with what stands on it.
fn issued(manifest: &str, document: &Document<&str>) -> Option<Piece> {
    let (key, item) = document.as_table().get_key_value("issued")?;
    let (from, to) = (key.span()?.start, item.span()?.end);
    let begin = manifest[..from].rfind('\n').map_or(0, |i| i + 1);
    let end = manifest[to..].find('\n').map_or(manifest.len(), |i| to + i + 1);
    Some(Piece { at: begin..end, key: "issued".into(), text: None })
}
