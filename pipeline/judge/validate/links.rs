//! Links: does every tap area lead somewhere, can it be hit, and is it alone.

mod crowd;
mod tabs;

use super::catalogue::{Findings, found};
use base::model::Where;
use base::model::artifact::Kind;
use base::model::facts::{Inspected, Leads, LinkFacts, LinkForm, PageFacts, PdfFacts, View};
use base::model::geometry::Rect;
use base::model::units::trim_number;
use std::collections::BTreeSet;

pub use tabs::shared;

/// How far a tap area may reach over the page's edge, in points, before anybody could notice.
const OVERHANG: f64 = 0.5;
/// Annotation flags (ISO 32000-1, table 165).
const INVISIBLE: i64 = 1;
const HIDDEN: i64 = 1 << 1;
const NO_VIEW: i64 = 1 << 5;
const LOCKED: i64 = 1 << 7;
/// Checks every link of a PDF.
pub fn check(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    let dated = facts.pages.iter().map(|page| page.label.as_deref().is_some_and(is_date));
    let mut targets: Vec<crowd::Target> = dated.map(|dated| crowd::Target { dated, eased: false }).collect();
    facts.pages.iter().for_each(|page| crowd::ease(page, &mut targets));
    for (i, page) in facts.pages.iter().enumerate() {
        for link in &page.links {
            let at = Where::page(&file.path, i + 1).rect(link.rect);
            target(link, &at, findings);
            aim(link, facts, &at, findings);
            area(link, page, &at, findings);
            manners(link, &at, findings);
        }
        let at = Where::page(&file.path, i + 1);
        crowd::check(page, &targets, &at, findings);
        tabs::check(page, &at, findings);
    }
    mixed(file, facts, findings);
    if is_plain(file) {
        plain(file, facts, findings);
    }
}

/// Whether a page label is a day, a week, a month, a quarter or a year: `2027-03-14`, `W09`, `2027-03`, `2027-Q1`, `2027`,
/// `2026/27`, with or without a page behind it.
fn is_date(label: &str) -> bool {
    let label = label.split('/').next().unwrap_or_default();
    let digits = |text: &str, count: usize| text.len() == count && text.bytes().all(|byte| byte.is_ascii_digit());
    let parts: Vec<&str> = label.split('-').collect();
    match parts[..] {
        [year, month, day] => digits(year, 4) && digits(month, 2) && digits(day, 2),
        [year, month] => {
            digits(year, 4) && (digits(month, 2) || month.strip_prefix('Q').is_some_and(|number| digits(number, 1)))
        }
        [one] => digits(one, 4) || one.strip_prefix('W').is_some_and(|number| digits(number, 2)),
        _ => false,
    }
}

/// Whether the link leads somewhere at all.
fn target(link: &LinkFacts, at: &Where, findings: &mut Findings) {
    match (link.has_dest, link.has_action) {
        (true, true) => {
            found!(findings, "link-with-two-targets", at.clone(), "the link has both a destination and an action");
        }
        (false, false) => {
            found!(findings, "link-without-target", at.clone(), "the link has neither a destination nor an action");
            return;
        }
        _ => {}
    }
    match &link.leads {
        Leads::Nowhere(why) => found!(findings, "link-to-nowhere", at.clone(), "the link leads nowhere: {why}"),
        Leads::Action(kind) => match kind.as_str() {
            "Launch" | "JavaScript" | "SubmitForm" | "ImportData" | "GoToR" | "GoToE" => {
                found!(findings, "link-runs-something", at.clone(), "the link's action is {kind}");
            }
            _ => found!(findings, "link-acts-oddly", at.clone(), "the link's action is {kind}"),
        },
        Leads::Uri(address) => {
            let lower = address.trim().to_ascii_lowercase();
            if !lower.starts_with("https:") && !lower.starts_with("mailto:") {
                found!(findings, "link-not-https", at.clone(), "the link leads to \u{201c}{address}\u{201d}");
            }
        }
        Leads::Page { .. } => {}
    }
}

/// Where on its page a destination opens.
fn aim(link: &LinkFacts, facts: &PdfFacts, at: &Where, findings: &mut Findings) {
    let Leads::Page { page, left, top } = link.leads else { return };
    if link.view == View::Spot && (left.is_none() || top.is_none()) {
        let which = if left.is_none() { "left" } else { "top" };
        found!(findings, "destination-without-coordinates", at.clone(), "the destination gives no {which}");
    }
    if let Some(zoom) = link.zoom {
        let zoom = trim_number(zoom * 100.0, 0);
        found!(findings, "destination-forces-zoom", at.clone(), "the destination sets the zoom to {zoom} %");
    }
    let Some(goal) = facts.pages.get(page) else { return };
    let [x0, y0, x1, y1] = goal.crop_box;
    let outside = |v: Option<f64>, low: f64, high: f64| v.is_some_and(|v| v < low - 1.0 || v > high + 1.0);
    // A top somewhat above the page is harmless and common: typesetters aim above the heading.
    if outside(left, x0, x1) || outside(top, y0, y1 + 72.0) {
        let [left, top] = [left, top].map(|v| v.map_or("null".to_owned(), |v| trim_number(v, 1)));
        let n = page + 1;
        found!(
            findings,
            "destination-off-page",
            at.clone(),
            "the destination {left}, {top} lies outside page {n} ({} to {}, {} to {})",
            trim_number(x0, 1),
            trim_number(x1, 1),
            trim_number(y0, 1),
            trim_number(y1, 1)
        );
    }
}

/// Whether the tap area can be hit.
fn area(link: &LinkFacts, page: &PageFacts, at: &Where, findings: &mut Findings) {
    let rect = link.rect;
    if rect.w <= 0.0 || rect.h <= 0.0 {
        found!(
            findings,
            "tap-area-empty",
            at.clone(),
            "the tap area has no {}",
            if rect.w <= 0.0 { "width" } else { "height" }
        );
        return;
    }
    if link.reversed {
        found!(findings, "tap-area-reversed", at.clone(), "the corners of the tap area are stored in reverse order");
    }
    let whole = Rect::page(page.size);
    if !whole.overlaps(rect) {
        found!(findings, "link-off-page", at.clone(), "the tap area {} lies outside the page", words(rect));
    } else if !whole.contains(rect, OVERHANG) {
        found!(findings, "link-over-the-edge", at.clone(), "the tap area {} reaches past the page's edge", words(rect));
    }
}

/// What the annotation does besides leading somewhere.
fn manners(link: &LinkFacts, at: &Where, findings: &mut Findings) {
    if link.border > 0.0 {
        let width = trim_number(link.border, 2);
        let units = if width == "1" { "unit" } else { "units" };
        found!(findings, "link-border-shown", at.clone(), "the link draws a border {width} {units} wide");
    }
    if link.flags & (INVISIBLE | HIDDEN | NO_VIEW) != 0 {
        found!(findings, "link-hidden", at.clone(), "the link is flagged as not to be seen (flags {})", link.flags);
    }
    if link.flags & LOCKED != 0 {
        found!(findings, "link-locked", at.clone(), "the link is flagged as locked");
    }
    if link.says.as_deref().is_none_or(|says| says.trim().is_empty()) {
        found!(findings, "link-says-nothing", at.clone(), "the link has no description");
    }
    if link.over_marks == Some(false) && link.rect.w > 0.0 && link.rect.h > 0.0 {
        found!(
            findings,
            "tap-area-over-nothing",
            at.clone(),
            "nothing is drawn within the tap area {}",
            words(link.rect)
        );
    }
}

/// Files whose pages are pasted into the notebook: planned as such, or called so by their names.
pub fn is_plain(file: &Inspected) -> bool {
    match file.kind {
        Some(kind) => matches!(kind, Kind::Covers | Kind::Sheet),
        None => {
            let name = file.name().to_lowercase();
            name.contains("cover") || name.contains("sheet")
        }
    }
}

/// A link into the notebook leads nowhere once its page is pasted there.
fn plain(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    for (i, page) in facts.pages.iter().enumerate() {
        for link in page.links.iter().filter(|l| !matches!(l.leads, Leads::Uri(_))) {
            let at = Where::page(&file.path, i + 1).rect(link.rect);
            found!(findings, "link-in-plain-file", at, "the file should have no links within it");
        }
    }
}

/// Whether local links name their targets in more than one way.
fn mixed(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    let links = facts.pages.iter().flat_map(|p| &p.links);
    let forms: BTreeSet<LinkForm> = links.map(|l| l.form).filter(|f| f.is_local()).collect();
    if forms.len() > 1 {
        let names: Vec<&str> = forms.iter().map(|f| form_name(*f)).collect();
        let names = names.join(", ");
        found!(
            findings,
            "destinations-mixed",
            Where::file(&file.path),
            "local links use {} ways: {names}",
            forms.len()
        );
    }
}

fn form_name(form: LinkForm) -> &'static str {
    match form {
        LinkForm::DestArray => "explicit destinations",
        LinkForm::DestName => "named destinations",
        LinkForm::GoToArray => "GoTo actions with explicit destinations",
        LinkForm::GoToName => "GoTo actions with named destinations",
        LinkForm::Uri => "web addresses",
        LinkForm::Action => "other actions",
        LinkForm::Nothing => "nothing",
    }
}

/// A rectangle in words.
pub fn words(rect: Rect) -> String {
    let [x, y, w, h] = [rect.x, rect.y, rect.w, rect.h].map(|v| trim_number(v, 1));
    format!("{w} \u{d7} {h} at {x}, {y}")
}
