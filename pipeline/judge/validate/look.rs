//! The look, as far as it can be reckoned: contrast, colours that are told apart, text that stays on its page, the margin
//! that the reader app's toolbar covers.

mod ground;
mod margins;
pub mod shown;

use super::catalogue::{Findings, found};
use crate::validate::screen::px_per_point;
use base::colour::contrast;
use base::colour::difference::{Sight, difference};
use base::model::drawing::{TextRun, Turn};
use base::model::geometry::{Rect, Size};
use base::model::pdf_plan::PdfPlan;
use base::model::plan::Make;
use base::model::product::Edge;
use base::model::units::trim_number;
use base::model::{Finding, Item, Plan, Product, Where};
use base::text::Widths;
use ground::Written;

/// Contrast of rules on paper between which they are visible and not loud (our own range, no source; the ratio by WCAG 2.2).
const GENTLE: std::ops::RangeInclusive<f64> = 1.25..=4.5;
/// Neighbouring colours closer than this (CIEDE2000) are hard to tell apart at a glance; about 2.3 is just noticeable side
/// by side (common practice, no source).
const APART: f64 = 7.0;
/// The same for the common colour-vision deficiencies, for whom the tabs' order and labels help too.
const APART_DEFICIENT: f64 = 2.3;
/// WCAG 2.2, 1.4.3: least contrast of text, and of large text (24 CSS pixels and more).
const TEXT: f64 = 4.5;
const LARGE_TEXT: f64 = 3.0;
const LARGE: f64 = 24.0;
/// Numerals and letters this large are read by their shape alone (our own measure, no source).
const DISPLAY_TEXT: f64 = 2.0;
const DISPLAY: f64 = 96.0;

/// Checks the look of a planned product, with what was found in its drawings.
pub fn check(product: &Product, plan: &Plan, findings: &mut Findings) {
    rules(product, findings);
    sections(product, findings);
    credits(product, findings);
    findings.list.extend(plan.looked.iter().cloned());
}

/// Checks what is drawn on the pages of a planned file, which has to be done while they are at hand.
/// `fonts` are those of the product, where they can be asked.
pub fn drawn(product: &Product, item: &Item, fonts: Option<&dyn Widths>) -> Vec<Finding> {
    let mut findings = Findings { planned: true, ..Findings::default() };
    if let Make::Pdf(pdf) = &item.make {
        texts(item, pdf, fonts, &mut findings);
        toolbar(item, pdf, product, &mut findings);
    }
    findings.list
}

fn manifest() -> Where {
    Where::file("product.toml")
}

fn rules(product: &Product, findings: &mut Findings) {
    let style = &product.style;
    let ratio = contrast(style.rule, style.paper);
    if !GENTLE.contains(&ratio) {
        let (rule, paper, ratio) = (style.rule, style.paper, trim_number(ratio, 2));
        let how = if ratio.starts_with("1.") { "too faint" } else { "too loud" };
        found!(findings, "rules-not-gentle", manifest(), "rules of {rule} on {paper} are {how}: contrast {ratio}");
    }
}

/// Colours of sections that follow each other, as most people see them and as the colour-blind do.
fn sections(product: &Product, findings: &mut Findings) {
    let Some(notebook) = &product.notebook else { return };
    for (i, pair) in notebook.sections.windows(2).enumerate() {
        let (a, b) = (pair[0].colour, pair[1].colour);
        let (n, m) = (i + 1, i + 2);
        let seen = difference(a, b, None);
        if seen < APART {
            let seen = trim_number(seen, 1);
            found!(
                findings,
                "section-colours-alike",
                manifest(),
                "the colours of sections {n} and {m}, {a} and {b}, differ by {seen} (CIEDE2000), less than {APART}"
            );
            continue;
        }
        for sight in Sight::ALL {
            let seen = difference(a, b, Some(sight));
            if seen < APART_DEFICIENT {
                let (seen, sight) = (trim_number(seen, 1), sight.name());
                found!(
                    findings,
                    "section-colours-confusable",
                    manifest(),
                    "with {sight} the colours of sections {n} and {m}, {a} and {b}, differ by {seen} (CIEDE2000)"
                );
            }
        }
    }
}

/// Fonts of the designer's own need a word on where they come from.
fn credits(product: &Product, findings: &mut Findings) {
    let mut own: Vec<&str> =
        product.style.fonts.values().flatten().filter(|f| !f.built_in).map(|f| f.from.as_str()).collect();
    own.sort_unstable();
    own.dedup();
    for from in own {
        let file = from.rsplit('/').next().unwrap_or(from);
        let stem: String = file.split(['.', '-', '_']).next().unwrap_or(file).to_lowercase();
        let spaceless = |text: &str| text.to_lowercase().replace([' ', '-', '_'], "");
        if product.assets.entry_of(from).is_some() || product.assets.is_own(from) {
            continue;
        }
        if !product.licence.credits.iter().any(|credit| spaceless(credit).contains(&stem)) {
            found!(findings, "credit-missing", manifest(), "no credit names the font {from}");
        }
    }
}

/// Contrast of every text with what lies beneath it, and whether it stays on its page.
fn texts(item: &Item, pdf: &PdfPlan, fonts: Option<&dyn Widths>, findings: &mut Findings) {
    let px = px_per_point(pdf.size);
    let written = ground::written(pdf, |run| extent(run, fonts));
    for Written { page, run, area, ground } in written {
        let at = || page.map_or_else(|| Where::file(&item.path), |p| Where::page(&item.path, p + 1)).rect(area);
        if let Some(ground) = ground {
            let ratio = contrast(run.colour, ground);
            let least = least(run.size * px);
            if ratio < least - 0.005 {
                let (ratio, colour) = (trim_number(ratio, 2), run.colour);
                found!(
                    findings,
                    "text-contrast-low",
                    at(),
                    "\u{201c}{}\u{201d} in {colour} on {ground} has a contrast of {ratio}, less than {least}",
                    run.text
                );
            }
        }
        if page.is_some() && !Rect::page(pdf.size).contains(area, 1.0) {
            found!(findings, "text-off-page", at(), "\u{201c}{}\u{201d} reaches past the edge of the page", run.text);
        }
    }
}

/// The least contrast of text of this size in CSS pixels.
fn least(size: f64) -> f64 {
    match size {
        size if size >= DISPLAY => DISPLAY_TEXT,
        size if size >= LARGE => LARGE_TEXT,
        _ => TEXT,
    }
}

/// The extent of a text on its page: from the pen's way and the height of its capitals.
fn extent(run: &TextRun, fonts: Option<&dyn Widths>) -> Rect {
    let guess = run.text.chars().count() as f64 * run.size * 0.5;
    let width = fonts.map_or(guess, |f| f.width(run.role, &run.text, run.size, run.tracking));
    let cap = run.size * 0.7;
    match run.turn {
        Turn::None => Rect::new(run.at.x, run.at.y - cap, width, cap),
        Turn::Down => Rect::new(run.at.x, run.at.y, cap, width),
        Turn::Up => Rect::new(run.at.x - cap, run.at.y - width, cap, width),
    }
}

/// Tap areas that the reader app's toolbar covers.
fn toolbar(item: &Item, pdf: &PdfPlan, product: &Product, findings: &mut Findings) {
    let band = band(pdf.size, product.page.toolbar_edge, product.page.toolbar.pt());
    for (i, page) in pdf.pages.iter().enumerate() {
        for link in page.links.iter().filter(|l| band.contains(l.rect, 0.5)) {
            let at = Where::page(&item.path, i + 1).rect(link.rect);
            found!(
                findings,
                "toolbar-margin-used",
                at,
                "the tap area to \u{201c}{}\u{201d} lies in the margin kept free for the toolbar",
                link.target
            );
        }
    }
}

fn band(page: Size, edge: Edge, depth: f64) -> Rect {
    match edge {
        Edge::Top => Rect::new(0.0, 0.0, page.w, depth),
        Edge::Bottom => Rect::new(0.0, page.h - depth, page.w, depth),
        Edge::Left => Rect::new(0.0, 0.0, depth, page.h),
        Edge::Right => Rect::new(page.w - depth, 0.0, depth, page.h),
    }
}

#[cfg(test)]
mod tests;
