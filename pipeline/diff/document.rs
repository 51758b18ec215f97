//! What a PDF says of itself: title, language, outline, page labels, fonts.

use super::links::{names, same_lead};
use crate::model::difference::{Change, Difference, Verdict};
use crate::model::facts::{OutlineFacts, PdfFacts};
use similar::{Algorithm, DiffOp, capture_diff_slices};
use std::collections::BTreeSet;

/// Compares two documents; `new_of` gives the new page of every old one.
pub fn compare(path: &str, a: &PdfFacts, b: &PdfFacts, new_of: &[Option<usize>], out: &mut Vec<Difference>) {
    let mut tell = |message: String| out.push(Difference::of(path, Change::MetadataChanged, Verdict::Patch, message));
    let quoted = |text: &Option<String>| text.as_ref().map_or("none".to_owned(), |t| format!("\u{201c}{t}\u{201d}"));
    for (what, old, new) in [("title", &a.title, &b.title), ("language", &a.language, &b.language)] {
        if old != new {
            tell(format!("the {what} was {} and is {}", quoted(old), quoted(new)));
        }
    }
    if a.encrypted != b.encrypted {
        tell(if b.encrypted { "it is encrypted now" } else { "it is not encrypted any more" }.to_owned());
    }
    labels(a, b, new_of, &mut tell);
    fonts(a, b, &mut tell);
    outline(a, b, new_of, &mut tell);
}

/// Page labels, one line for all that changed.
fn labels(a: &PdfFacts, b: &PdfFacts, new_of: &[Option<usize>], tell: &mut impl FnMut(String)) {
    // A page whose label only counts pages keeps none of its own: it follows from where the page stands.
    let pairs = new_of.iter().enumerate().filter_map(|(i, j)| Some((i, (*j)?)));
    let plain = |label: &Option<String>, page: usize| {
        label.clone().filter(|l| *l != (page + 1).to_string() && l.parse::<u32>().is_err())
    };
    let changed: Vec<(usize, usize)> =
        pairs.filter(|(i, j)| plain(&a.pages[*i].label, *i) != plain(&b.pages[*j].label, *j)).collect();
    if let Some((i, j)) = changed.first() {
        let word = |label: &Option<String>| label.clone().unwrap_or_else(|| "none".to_owned());
        let more = changed.len() - 1;
        let more = if more > 0 { format!("; {more} more changed") } else { String::new() };
        let (was, is) = (word(&a.pages[*i].label), word(&b.pages[*j].label));
        tell(format!("the label of page {} was {was} and is {is}{more}", j + 1));
    }
}

/// Fonts by their names, without the tags of subsets.
fn fonts(a: &PdfFacts, b: &PdfFacts, tell: &mut impl FnMut(String)) {
    let names = |pdf: &PdfFacts| -> BTreeSet<String> {
        let bare = |f: &crate::model::facts::FontFacts| if f.subset { f.name[7..].to_owned() } else { f.name.clone() };
        pdf.fonts.iter().map(bare).collect()
    };
    let (old, new) = (names(a), names(b));
    let list = |some: Vec<&String>| some.into_iter().map(String::as_str).collect::<Vec<_>>().join(", ");
    let (gone, come) = (list(old.difference(&new).collect()), list(new.difference(&old).collect()));
    if !gone.is_empty() {
        tell(format!("fonts no longer used: {gone}"));
    }
    if !come.is_empty() {
        tell(format!("fonts used for the first time: {come}"));
    }
}

/// The outline, entry by entry: depth and title say which entry is which.
fn outline(a: &PdfFacts, b: &PdfFacts, new_of: &[Option<usize>], tell: &mut impl FnMut(String)) {
    let keys = |list: &[OutlineFacts]| list.iter().map(|o| (o.depth, o.title.clone())).collect::<Vec<_>>();
    for op in capture_diff_slices(Algorithm::Patience, &keys(&a.outline), &keys(&b.outline)) {
        match op {
            DiffOp::Equal { old_index, new_index, len } => {
                for (x, y) in a.outline[old_index..old_index + len].iter().zip(&b.outline[new_index..new_index + len]) {
                    if !same_lead(&x.leads, &y.leads, new_of) {
                        let (was, is) = (names(&x.leads, &a.pages), names(&y.leads, &b.pages));
                        tell(format!(
                            "the outline\u{2019}s \u{201c}{}\u{201d} led to {was} and leads to {is}",
                            x.title
                        ));
                    }
                }
            }
            DiffOp::Delete { .. } | DiffOp::Insert { .. } | DiffOp::Replace { .. } => {
                for x in &a.outline[op.old_range()] {
                    tell(format!("the outline has no \u{201c}{}\u{201d} any more", x.title));
                }
                for y in &b.outline[op.new_range()] {
                    tell(format!("the outline has a new entry \u{201c}{}\u{201d}", y.title));
                }
            }
        }
    }
}
