//! The look of any PDF, as its bytes show it: texts that leave their page or tab, thumbnails too small or too coarse to tell
//! apart.

use super::margins;
use crate::validate::catalogue::{Findings, found};
use crate::validate::links::{shared, words};
use crate::validate::screen::px_per_point;
use base::colour::contrast;
use base::model::Where;
use base::model::facts::{Inspected, LinkFacts, PageFacts, PdfFacts, TextShown};
use base::model::geometry::Rect;
use base::model::units::trim_number;
use std::collections::BTreeSet;

/// Height of capitals in ems, as they were measured.
const CAPITALS: f64 = 0.7;
/// How far a text may reach over an edge, in points, before it shows.
const OVERHANG: f64 = 1.0;
/// A shape that shares so much with a tap area is its tab.
const TAB: f64 = 0.7;
/// A page with at least this many small pages that can be tapped is an overview.
const OVERVIEW: usize = 6;
/// Sides that differ by less than this, measured against each other, have the proportions of a page.
const PROPORTIONS: f64 = 0.12;
/// CSS pixels along the longer side of a thumbnail, below which nobody tells what it shows (our own measure, no source).
const THUMBNAIL: f64 = 72.0;

/// Checks a PDF. `planned` files were checked for texts that leave their pages when they were drawn.
pub fn check(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    for (i, page) in facts.pages.iter().enumerate() {
        let at = Where::page(&file.path, i + 1);
        if !findings.planned {
            off_page(page, &at, findings);
            contrasts(page, &at, findings);
        }
        off_tab(page, &at, findings);
        thumbnails(page, &at, findings);
    }
    margins::check(file, facts, findings);
}

fn off_page(page: &PageFacts, at: &Where, findings: &mut Findings) {
    let whole = Rect::page(page.size);
    for text in page.texts.iter().filter(|t| t.exact) {
        // What lies outside altogether are marks for printers.
        if whole.overlaps(text.area) && !whole.contains(text.area, OVERHANG) {
            let shown = quoted(text);
            found!(findings, "text-off-page", at.clone().rect(text.area), "{shown} reaches past the edge of the page");
        }
    }
}

/// Texts that are hard to read on the ground on which they stand, each pair of colours once a page.
fn contrasts(page: &PageFacts, at: &Where, findings: &mut Findings) {
    let px = px_per_point(page.size);
    let mut told = BTreeSet::new();
    for text in page.texts.iter().filter(|t| !t.text.is_empty()) {
        let Some((colour, ground)) = text.colours else { continue };
        let ratio = contrast(colour, ground);
        // Text of the ground's own colour is meant to be hidden.
        let least = super::least(text.area.w.min(text.area.h) / CAPITALS * px);
        if ratio < least - 0.005 && colour != ground && told.insert((colour, ground)) {
            let (shown, ratio) = (quoted(text), trim_number(ratio, 2));
            let place = at.clone().rect(text.area);
            let said = format!("{shown} in {colour} on {ground} has a contrast of {ratio}, less than {least}");
            found!(findings, "text-contrast-low", place, "{said}");
        }
    }
}

/// Labels that are longer than the tab on which they stand.
fn off_tab(page: &PageFacts, at: &Where, findings: &mut Findings) {
    let tabs: Vec<Rect> =
        page.links.iter().filter_map(|link| link.tab.filter(|tab| shared(*tab, link.rect) >= TAB)).collect();
    if tabs.is_empty() {
        return;
    }
    for text in page.texts.iter().filter(|t| t.exact && t.area.w > 0.0 && t.area.h > 0.0) {
        let within = |tab: &&Rect| {
            let w = (tab.right().min(text.area.right()) - tab.x.max(text.area.x)).max(0.0);
            let h = (tab.bottom().min(text.area.bottom()) - tab.y.max(text.area.y)).max(0.0);
            let starts = text.level && (tab.x..=tab.right()).contains(&text.area.x) && h >= 0.5 * text.area.h;
            starts || w * h >= 0.5 * text.area.w * text.area.h
        };
        let mut on = tabs.iter().filter(within).peekable();
        if on.peek().is_some() && on.all(|tab| !tab.contains(text.area, OVERHANG + 0.5)) {
            let (shown, area) = (quoted(text), words(text.area));
            found!(
                findings,
                "text-off-tab",
                at.clone().rect(text.area),
                "{shown} takes {area} and reaches past the tab that it stands on"
            );
        }
    }
}

/// A text in quotation marks, or what to call it.
fn quoted(text: &TextShown) -> String {
    match text.text.chars().count() {
        0 => "a text".to_owned(),
        1..=40 => format!("\u{201c}{}\u{201d}", text.text),
        _ => format!("\u{201c}{}\u{2026}\u{201d}", text.text.chars().take(40).collect::<String>()),
    }
}

/// Small pages on an overview.
fn thumbnails(page: &PageFacts, at: &Where, findings: &mut Findings) {
    let px = px_per_point(page.size);
    let like_a_page = |link: &&LinkFacts| {
        let Some(shown) = &link.shows else { return false };
        let (a, b) = (shown.area.w / shown.area.h.max(0.01), page.size.w / page.size.h.max(0.01));
        link.leads.page().is_some() && shown.scale.is_none_or(|s| s < 0.7) && (a / b - 1.0).abs() <= PROPORTIONS
    };
    let small: Vec<&LinkFacts> = page.links.iter().filter(like_a_page).collect();
    let goals: BTreeSet<Option<usize>> = small.iter().map(|l| l.leads.page()).collect();
    if goals.len() < OVERVIEW {
        return;
    }
    for shown in small.iter().filter_map(|l| l.shows.as_deref()) {
        let side = shown.area.w.max(shown.area.h) * px;
        if side < THUMBNAIL {
            let side = trim_number(side, 0);
            found!(
                findings,
                "thumbnail-not-legible",
                at.clone().rect(shown.area),
                "the thumbnail is {side} CSS pixels long, less than {THUMBNAIL}"
            );
        } else if let Some(dots) = shown.dots.filter(|dots| *dots < px * 0.95) {
            let (has, takes) = (trim_number(dots * shown.area.w, 0), trim_number(px * shown.area.w, 0));
            found!(
                findings,
                "thumbnail-not-legible",
                at.clone().rect(shown.area),
                "the thumbnail has {has} pixels in a row and is shown {takes} CSS pixels wide"
            );
        }
    }
}
