//! Pages: one size, plain boxes, and an outline that holds together.

use super::catalogue::{Findings, found};
use super::links::is_plain;
use base::model::Where;
use base::model::artifact::Kind;
use base::model::facts::{Facts, Inspected, Leads, PageFacts, PdfFacts};
use base::model::units::trim_number;

/// Sizes that differ by less than this many points are the same.
const SAME_SIZE: f64 = 0.05;
/// Smallest and largest side in units (ISO 32000-1, annex C).
const RANGE: std::ops::RangeInclusive<f64> = 3.0..=14_400.0;

/// Checks the pages and the outline.
pub fn check(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    if facts.pages.is_empty() {
        if !facts.encrypted {
            found!(findings, "no-pages", Where::file(&file.path), "the file has no page");
        }
        return;
    }
    let first = &facts.pages[0];
    for (i, page) in facts.pages.iter().enumerate() {
        let at = || Where::page(&file.path, i + 1);
        if !same_size(first, page) {
            found!(
                findings,
                "page-size-differs",
                at(),
                "the page is {}, the first one {}",
                shown_size(page),
                shown_size(first)
            );
        }
        for fault in &page.broken {
            found!(findings, "page-damaged", at(), "{fault}");
        }
        let too_much = page.burden.too_much();
        if !too_much.is_empty() {
            found!(findings, "page-not-drawn", at(), "the page is not drawn: it takes {}", too_much.join(" and "));
        }
        boxes(page, at, findings);
        drawn(page, at, findings);
    }
    if let Some(claimed) = facts.claimed_pages
        && claimed != facts.pages.len() as i64
    {
        let has = facts.pages.len();
        found!(findings, "page-count-wrong", Where::file(&file.path), "the file claims {claimed} pages and has {has}");
    }
    outline(file, facts, findings);
}

/// What a page may ask of a tablet before turning to it stutters (budgets of our own, no source).
const MAX_OPERATORS: u64 = 60_000;
const MAX_MASKS: u64 = 60;
const MAX_PIXELS: u64 = 25_000_000;

/// How much a page draws.
fn drawn(page: &PageFacts, at: impl Fn() -> Where, findings: &mut Findings) {
    let Some(drawn) = page.drawn else { return };
    if drawn.marks == 0 && page.links.is_empty() && page.other_annotations.is_empty() {
        found!(findings, "page-blank", at(), "nothing at all is drawn on the page");
    }
    let heavy: Vec<String> = [
        (drawn.operators > MAX_OPERATORS).then(|| format!("{} operators (budget {MAX_OPERATORS})", drawn.operators)),
        (drawn.masks > MAX_MASKS).then(|| format!("{} masked pictures (budget {MAX_MASKS})", drawn.masks)),
        (drawn.pixels > MAX_PIXELS).then(|| format!("{} pixels of pictures (budget {MAX_PIXELS})", drawn.pixels)),
    ]
    .into_iter()
    .flatten()
    .collect();
    if !heavy.is_empty() {
        found!(findings, "page-too-heavy", at(), "the page draws {}", heavy.join(" and "));
    }
}

fn boxes(page: &PageFacts, at: impl Fn() -> Where, findings: &mut Findings) {
    let unit = page.user_unit;
    if ![page.size.w, page.size.h].iter().all(|side| RANGE.contains(side)) {
        found!(findings, "page-size-out-of-range", at(), "the page is {}, outside 3 to 14,400 units", shown_size(page));
    }
    let [x0, y0, ..] = page.media_box;
    let apart = |a: [f64; 4], b: [f64; 4]| a.iter().zip(b).any(|(p, q)| (p - q).abs() > SAME_SIZE);
    if apart(page.media_box, page.crop_box) {
        let [media, shown] = [page.media_box, page.crop_box].map(|b| b.map(|v| trim_number(v, 2)).join(" "));
        found!(findings, "page-cropped", at(), "the page is cropped: its MediaBox is {media}, its CropBox {shown}");
    } else if x0.abs() > SAME_SIZE || y0.abs() > SAME_SIZE {
        let [x, y] = [x0, y0].map(|v| trim_number(v, 2));
        found!(findings, "page-cropped", at(), "the page does not begin at 0, 0 but at {x}, {y}");
    }
    if !page.stray_boxes.is_empty() {
        let names = page.stray_boxes.join(", ");
        found!(findings, "page-boxes-odd", at(), "a box for printers does not lie within the page's MediaBox: {names}");
    }
    if page.rotate != 0 {
        found!(findings, "page-rotated", at(), "the page is turned by {} degrees", page.rotate);
    }
    if (unit - 1.0).abs() > 1e-9 {
        found!(findings, "page-unit-odd", at(), "the page's unit is {} points", trim_number(unit, 4));
    }
}

/// Covers and sheets among the files against the notebook among them, where one can be told.
pub fn together(files: &[Inspected], findings: &mut Findings) {
    let pdfs = || files.iter().filter_map(|f| if let Facts::Pdf(p) = &f.facts { Some((f, &**p)) } else { None });
    let links = |facts: &PdfFacts| facts.pages.iter().map(|p| p.links.len()).sum::<usize>();
    let planned = pdfs().find(|(f, _)| f.kind == Some(Kind::Notebook));
    // Without a plan, the notebook is the file with the most links that is not called a cover or a sheet.
    let guessed =
        pdfs().filter(|(f, p)| f.kind.is_none() && !is_plain(f) && links(p) > 0).max_by_key(|(_, p)| links(p));
    let Some(first) = planned.or(guessed) else { return };
    let folder = |f: &Inspected| f.path.rsplit_once('/').map_or("", |(folder, _)| folder).to_owned();
    for (file, facts) in pdfs().filter(|(f, _)| is_plain(f)) {
        // Each variant has a folder of its own, and its covers fit its notebook.
        let own = pdfs().find(|(f, _)| f.kind == Some(Kind::Notebook) && folder(f) == folder(file));
        let (notebook, Some(page)) = own.map_or((first.0, first.1.pages.first()), |(f, p)| (f, p.pages.first())) else {
            continue;
        };
        let Some(other) = facts.pages.iter().position(|p| !same_size(p, page)) else { continue };
        let (is, was) = (shown_size(&facts.pages[other]), shown_size(page));
        let at = Where::page(&file.path, other + 1);
        found!(findings, "covers-do-not-fit", at, "the page is {is}, those of {} are {was}", notebook.path);
    }
}

fn outline(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    for entry in &facts.outline {
        if let Leads::Nowhere(why) = &entry.leads {
            let title = &entry.title;
            found!(
                findings,
                "outline-to-nowhere",
                Where::file(&file.path),
                "the outline entry \u{201c}{title}\u{201d} leads nowhere: {why}"
            );
        }
    }
    for fault in &facts.outline_faults {
        found!(findings, "outline-broken", Where::file(&file.path), "the outline is broken: {fault}");
    }
}

/// Whether two pages show the same size, turning and unit taken into account.
pub fn same_size(a: &PageFacts, b: &PageFacts) -> bool {
    let ([aw, ah], [bw, bh]) = (sides(a), sides(b));
    (aw - bw).abs() <= SAME_SIZE && (ah - bh).abs() <= SAME_SIZE
}

/// Width and height in points as a reader sees them.
pub fn sides(page: &PageFacts) -> [f64; 2] {
    let unit = if page.user_unit > 0.0 { page.user_unit } else { 1.0 };
    let (w, h) = (page.size.w * unit, page.size.h * unit);
    if page.rotate.rem_euclid(180) == 90 { [h, w] } else { [w, h] }
}

/// The size in words.
pub fn shown_size(page: &PageFacts) -> String {
    let [w, h] = sides(page);
    format!("{} \u{d7} {} pt", trim_number(w, 2), trim_number(h, 2))
}
