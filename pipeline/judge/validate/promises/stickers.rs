//! A planned sticker against the bytes.

use super::super::catalogue::{Findings, found};
use base::model::Where;
use base::model::facts::{Inspected, PngFacts};
use base::model::plan::PicturePlan;
use base::model::product::{Sticker, StickerSource};
use base::model::units::trim_number;

/// Checks a sticker's stated resolution.
pub fn check(file: &Inspected, facts: &PngFacts, plan: &Sticker, findings: &mut Findings) {
    // Fewer than planned is the art's fault, and said of it.
    let fewer = facts.dpi().is_some_and(|d| d < plan.dpi * 0.99);
    let drawn = matches!(plan.source, StickerSource::Png(_));
    if drawn && fewer && facts.pixels_per_metre.is_some_and(|(x, y)| x == y) {
        return;
    }
    // pHYs counts whole pixels a metre, so the nearest whole number is the most that can be promised.
    let wanted = (plan.dpi / 0.0254).round();
    if let Some((x, y)) = facts.pixels_per_metre
        && ((f64::from(x) - wanted).abs() > 0.5 || x != y)
    {
        let at = Where::file(&file.path);
        let is = trim_number(facts.dpi().unwrap_or(0.0), 2);
        let was = trim_number(plan.dpi, 2);
        found!(findings, "sticker-dpi-off-plan", at, "the sticker says {is} dpi, planned were {was}");
    }
}

/// Checks the size of a sheet that is a picture.
pub fn sheet(file: &Inspected, facts: &PngFacts, plan: &PicturePlan, findings: &mut Findings) {
    let [w, h] = [plan.size.w, plan.size.h].map(|v| (v * plan.dpi / 72.0).round());
    if (f64::from(facts.width), f64::from(facts.height)) != (w, h) {
        let (is_w, is_h) = (facts.width, facts.height);
        let at = Where::file(&file.path);
        found!(findings, "page-size-off-plan", at, "the sheet is {is_w} \u{d7} {is_h} px, planned were {w} \u{d7} {h}");
    }
}
