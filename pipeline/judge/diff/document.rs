//! What a PDF says of itself: title, language, outline, page labels, fonts.

use super::links::{Places, other_aim, same_lead};
use base::model::change::Change;
use base::model::difference::Difference;
use base::model::facts::{Leads, Making, OutlineFacts, PdfFacts};
use base::model::versions::{LINK_MENDED, PLACE_REMOVED};
use similar::{Algorithm, DiffOp, capture_diff_slices};
use std::collections::BTreeSet;

/// Compares two documents. Of pages that are `passed` on either side, labels and entries of the outline are not told.
pub fn compare(
    path: &str,
    (a, b): (&PdfFacts, &PdfFacts),
    passed: [&[bool]; 2],
    places: &Places,
    out: &mut Vec<Difference>,
) {
    let mut tell = |message: String| out.push(Difference::of(path, Change::MetadataChanged, message));
    let quoted = |text: &Option<String>| text.as_ref().map_or("none".to_owned(), |t| format!("\u{201c}{t}\u{201d}"));
    for (what, old, new) in [("title", &a.title, &b.title), ("language", &a.language, &b.language)] {
        if old != new {
            tell(format!("the {what} was {} and is {}", quoted(old), quoted(new)));
        }
    }
    making(a, b, &mut tell);
    if a.shows_title != b.shows_title {
        let what = if b.shows_title { "the document\u{2019}s title" } else { "the name of the file" };
        tell(format!("the window shows {what} now"));
    }
    if a.actions != b.actions {
        tell("what the document does by itself (scripts, actions) differs".to_owned());
    }
    if a.repaired != b.repaired {
        let (broken, sound) = ("broken now: readers have to rebuild it", "sound again");
        tell(format!("its skeleton is {}", if b.repaired { broken } else { sound }));
    }
    if a.encrypted != b.encrypted {
        tell(if b.encrypted { "it is encrypted now" } else { "it is not encrypted any more" }.to_owned());
    }
    labels((a, b), passed[0], places.new_of, &mut tell);
    fonts(a, b, &mut tell);
    let kept = |pdf: &PdfFacts, passed: &[bool]| -> Vec<OutlineFacts> {
        let kept = |o: &&OutlineFacts| o.leads.page().and_then(|page| passed.get(page)) != Some(&true);
        pdf.outline.iter().filter(kept).cloned().collect()
    };
    outline(path, places, &kept(a, passed[0]), &kept(b, passed[1]), out);
}

/// Who made it and with what: by the document information, or else by the XMP metadata. Times and the program that
/// wrote the file last change with every save, and are told only as the way in which a file is stored.
fn making(a: &PdfFacts, b: &PdfFacts, tell: &mut impl FnMut(String)) {
    type Read = fn(&Making) -> &Option<String>;
    let said =
        |pdf: &PdfFacts, of: Read| of(&pdf.info).clone().or_else(|| pdf.xmp.as_ref().and_then(|x| of(x).clone()));
    let told: [(&str, Read); 2] = [("author", |m| &m.author), ("program in which it was written", |m| &m.creator)];
    for (what, of) in told {
        let (was, is) = (said(a, of), said(b, of));
        if was != is {
            let word = |text: Option<String>| text.map_or("none".to_owned(), |t| format!("\u{201c}{t}\u{201d}"));
            tell(format!("the {what} was {} and is {}", word(was), word(is)));
        }
    }
}

/// Page labels, one line for all that changed.
fn labels((a, b): (&PdfFacts, &PdfFacts), passed: &[bool], new_of: &[Option<usize>], tell: &mut impl FnMut(String)) {
    // A page whose label only counts pages keeps none of its own: it follows from where the page stands.
    let pairs = new_of.iter().enumerate().filter_map(|(i, j)| Some((i, (*j)?)));
    let pairs = pairs.filter(|(i, _)| passed.get(*i) != Some(&true));
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
        let bare = |f: &base::model::facts::FontFacts| if f.subset { f.name[7..].to_owned() } else { f.name.clone() };
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

/// The outline, entry by entry: depth and title say which entry is which; of the rest, where they lead.
fn outline(path: &str, places: &Places, a: &[OutlineFacts], b: &[OutlineFacts], out: &mut Vec<Difference>) {
    let mut tell = |message: String, case: Option<&'static str>| {
        let told = Difference::of(path, Change::MetadataChanged, message);
        out.push(if let Some(case) = case { told.as_case(case) } else { told });
    };
    let keys = |list: &[OutlineFacts]| list.iter().map(|o| (o.depth, o.title.clone())).collect::<Vec<_>>();
    let (mut gone, mut come): (Vec<&OutlineFacts>, Vec<&OutlineFacts>) = (Vec::new(), Vec::new());
    for op in capture_diff_slices(Algorithm::Patience, &keys(a), &keys(b)) {
        if let DiffOp::Equal { old_index, new_index, len } = op {
            for (x, y) in a[old_index..old_index + len].iter().zip(&b[new_index..new_index + len]) {
                if !same_lead(&x.leads, &y.leads, places.new_of) {
                    let (message, case) = other_aim(&x.leads, &y.leads, places);
                    tell(format!("the outline\u{2019}s \u{201c}{}\u{201d} {message}", x.title), Some(case));
                }
            }
        } else {
            gone.extend(&a[op.old_range()]);
            come.extend(&b[op.new_range()]);
        }
    }
    for x in gone {
        let leads = |y: &&OutlineFacts| same_lead(&x.leads, &y.leads, places.new_of);
        // Of several entries for one place, one with the same title is the same entry.
        let twin = come.iter().position(|y| y.title == x.title && leads(y));
        let dead = matches!(x.leads, Leads::Nowhere(_));
        match twin.or_else(|| come.iter().position(leads).filter(|_| !dead)).map(|i| come.remove(i)) {
            Some(y) if y.title == x.title => {
                tell(format!("\u{201c}{}\u{201d} stands elsewhere in the outline", x.title), None);
            }
            Some(y) => {
                let message = "is called";
                tell(
                    format!(
                        "the outline\u{2019}s \u{201c}{}\u{201d} {message} \u{201c}{}\u{201d} now",
                        x.title, y.title
                    ),
                    None,
                );
            }
            None => {
                let still = b.iter().any(|y| leads(&y));
                let case = if dead { Some(LINK_MENDED) } else { (!still).then_some(PLACE_REMOVED) };
                tell(format!("the outline has no \u{201c}{}\u{201d} any more", x.title), case);
            }
        }
    }
    for y in come {
        tell(format!("the outline has a new entry \u{201c}{}\u{201d}", y.title), None);
    }
}
