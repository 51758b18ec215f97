//! Listing pictures: what can be read on them when they are small.

use super::catalogue::{Findings, found};
use base::model::shot::Composed;
use base::model::units::trim_number;
use base::model::{Plan, Rect, Size, Where};

/// How wide a picture is in a list of results (common practice, no source).
const SMALL: f64 = 300.0;

/// The lowest capital that can be read, in pixels: the height that capitals have in the smallest pixel fonts
/// (common practice, no source).
const LOWEST: f64 = 5.0;

/// Checks the words on the listing pictures of a product.
pub fn check(plan: &Plan, findings: &mut Findings) {
    for picture in &plan.pictures {
        words(picture, findings);
    }
}

fn words(picture: &Composed, findings: &mut Findings) {
    let (w, h) = (f64::from(picture.width), f64::from(picture.height));
    let whole = Rect::page(Size::new(w, h));
    for words in &picture.words {
        let at = || Where::file(&picture.path);
        let said = &words.text;
        // Numbers are rounded on their way through the drawing.
        let cap = words.cap * SMALL / w;
        if cap < LOWEST - 0.02 {
            let cap = trim_number(cap, 1);
            found!(
                findings,
                "picture-text-small",
                at(),
                "the capitals of \u{201c}{said}\u{201d} are {cap} px high when the picture is 300 px wide"
            );
        }
        if !words.boxed.is_empty() {
            let boxed = &words.boxed;
            found!(
                findings,
                "font-glyph-missing",
                at(),
                "\u{201c}{said}\u{201d}: no font that sets it has \u{201c}{boxed}\u{201d}; an empty box stands in its place"
            );
        }
        if !whole.contains(words.rect(), 0.5) {
            found!(findings, "picture-text-cut", at(), "\u{201c}{said}\u{201d} runs out of the picture");
        }
    }
}
