//! Tap areas beside the tabs that they belong to, as far as the drawn shapes tell.

use super::words;
use crate::validate::catalogue::{Findings, found};
use base::model::Where;
use base::model::facts::{LinkFacts, PageFacts};
use base::model::geometry::Rect;
use base::model::units::trim_number;

/// A tap area that shares at least this much with a shape (area of both over area of either) sits on it.
const SITS: f64 = 0.5;

/// Checks the links of a page.
pub fn check(page: &PageFacts, at: &Where, findings: &mut Findings) {
    let sits = |link: &&LinkFacts| link.tab.is_some_and(|tab| shared(tab, link.rect) >= SITS);
    let taken: Vec<Rect> = page.links.iter().filter(sits).filter_map(|l| l.tab).collect();
    for link in &page.links {
        if let Some(fault) = &link.quads {
            let place = at.clone().rect(link.rect);
            found!(findings, "tap-area-quads-astray", place, "the quadrilaterals of the tap area are wrong: {fault}");
        }
        let Some(tab) = link.tab.filter(|_| !sits(&link)) else { continue };
        // A shape on which another tap area sits is that one's tab, and one that holds the tap area is a ground.
        if taken.contains(&tab) || tab.contains(link.rect, 0.5) || link.rect.contains(tab, 0.5) {
            continue;
        }
        // A tap area with words of its own, which stand on nobody's tab, is a button that happens to touch a shape.
        let on_a_tab = |text: &Rect| page.links.iter().filter_map(|l| l.tab).any(|tab| tab.overlaps(*text));
        if page.texts.iter().any(|text| link.rect.contains(text.area, 0.5) && !on_a_tab(&text.area)) {
            continue;
        }
        let (dx, dy) = (link.rect.centre().x - tab.centre().x, link.rect.centre().y - tab.centre().y);
        let [dx, dy] = [dx, dy].map(|d| trim_number(d, 1));
        let (area, tab) = (words(link.rect), words(tab));
        found!(
            findings,
            "tap-area-misses-tab",
            at.clone().rect(link.rect),
            "the tap area {area} lies {dx} to the right of and {dy} below the drawn tab {tab}"
        );
    }
}

/// The area that two share, over the area that either covers.
pub fn shared(a: Rect, b: Rect) -> f64 {
    let w = (a.right().min(b.right()) - a.x.max(b.x)).max(0.0);
    let h = (a.bottom().min(b.bottom()) - a.y.max(b.y)).max(0.0);
    w * h / (a.w * a.h + b.w * b.h - w * h).max(1e-9)
}
