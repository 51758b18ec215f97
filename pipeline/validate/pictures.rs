//! Listing pictures: what can be read on them when they are small, and the shop's limits for them.

use super::catalogue::{Findings, found};
use crate::model::shot::Composed;
use crate::model::units::{byte_size, trim_number};
use crate::model::{Plan, Product, Rect, Size, Where};

/// How wide a picture is in a list of results (common practice, no source).
const SMALL: f64 = 300.0;

/// The lowest capital that can be read, in pixels: the height that capitals have in the smallest pixel fonts
/// (common practice, no source).
const LOWEST: f64 = 5.0;

/// Checks the listing pictures of a product.
pub fn check(product: &Product, plan: &Plan, findings: &mut Findings) {
    let limits = &product.limits;
    let count = plan.pictures.len();
    if let Some(most) = limits.pictures.filter(|most| count > *most) {
        let at = Where::file("listing/pictures");
        found!(findings, "too-many-pictures", at, "there are {count} listing pictures, the shop takes {most}");
    }
    for picture in &plan.pictures {
        let at = || Where::file(&picture.path);
        let (w, h) = (picture.width, picture.height);
        if let Some(most) = limits.picture_pixels.filter(|most| w.max(h) > *most) {
            found!(
                findings,
                "picture-side-too-long",
                at(),
                "the picture is {w} × {h} px, the shop takes {most} px a side"
            );
        }
        if let Some(most) = limits.picture_bytes.filter(|most| picture.bytes > *most) {
            let [is, most] = [picture.bytes, most].map(byte_size);
            found!(findings, "picture-too-heavy", at(), "the picture has {is}, the shop takes {most}");
        }
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
        if !whole.contains(words.rect(), 0.5) {
            found!(findings, "picture-text-cut", at(), "\u{201c}{said}\u{201d} runs out of the picture");
        }
    }
}
