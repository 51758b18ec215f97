//! A planned sticker against the bytes.

use super::super::catalogue::{Findings, found};
use crate::model::Where;
use crate::model::facts::{Inspected, PngFacts};
use crate::model::product::Sticker;
use crate::model::units::trim_number;

/// Checks a sticker's stated resolution.
pub fn check(file: &Inspected, facts: &PngFacts, plan: &Sticker, findings: &mut Findings) {
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
