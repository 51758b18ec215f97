//! Which part of a page is shown where its tabs are seen from near by: no tab is cut.

use super::PictureContext;
use super::choose::read;
use base::model::facts::{Leads, TextShown};
use base::model::{Rect, Size};

/// The part of a page that is shown, in parts of its height, and the edge that its tabs stand at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Where it begins.
    pub top: f64,
    /// How high it is.
    pub high: f64,
    /// Whether the tabs stand at the left edge.
    pub left: bool,
    /// How much of the picture's width is left free beside the tabs, in parts of it.
    pub free: f64,
}

/// How much of the page's height is shown best: so near that words on tabs can be read small.
const BEST: f64 = 0.59;
/// How much at least and at most.
const BOUNDS: (f64, f64) = (0.48, 0.76);
/// How much of the picture's width is free beside the tabs best, and how far it may be from that.
const FREE: (f64, f64) = (0.345, 0.08);
/// How near to an edge the middle of a tab lies, in parts of the page's width.
const EDGE: f64 = 0.06;
/// How far areas may reach over each other and still be taken to lie edge to edge, in parts of the page's height.
const TOUCH: f64 = 0.001;

/// The window on a page (from 0) of the notebook, in a picture of this size.
pub fn window(context: &PictureContext, page: usize, picture: Size) -> Window {
    let Some(page) = read(context).and_then(|pdf| pdf.pages.get(page)) else {
        return around(&[], false, |_, _| (0.0, FREE.0));
    };
    let (w, h) = (page.size.w, page.size.h);
    let mut sides: [Vec<(f64, f64)>; 2] = [Vec::new(), Vec::new()];
    for link in page.links.iter().filter(|l| matches!(l.leads, Leads::Page { .. })) {
        let at = link.rect.centre().x / w;
        let span = (link.rect.y / h, link.rect.bottom() / h);
        if at < EDGE {
            sides[0].push(span);
        } else if at > 1.0 - EDGE {
            sides[1].push(span);
        }
    }
    let left = sides[0].len() > sides[1].len();
    // Texts in parts of the page, from its outer edge with the tabs on.
    let of_page = |shown: &TextShown| {
        let area = shown.area;
        let x = if left { area.x } else { w - area.right() };
        Rect::new(x / w, area.y / h, area.w / w, area.h / h)
    };
    let texts: Vec<Rect> = page.texts.iter().map(of_page).collect();
    let seen = |top: f64, high: f64| {
        // As wide as the page is where the window is as high as the picture, in widths of the picture.
        cuts_of(&texts, (top, top + high), picture.h / high * (w / h) / picture.w)
    };
    around(&sides[usize::from(!left)], left, seen)
}

/// What a window costs by the texts that it cuts, and how much beside its tabs it leaves free so as to cut none: texts in
/// parts of the page, the window's ends in parts of its height, the page's width in widths of the picture.
fn cuts_of(texts: &[Rect], (top, bottom): (f64, f64), wide: f64) -> (f64, f64) {
    let within = texts.iter().filter(|t| t.bottom() > top && t.y < bottom && t.x * wide < 1.0 - FREE.0);
    let (mut level, mut spans) = (0.0, Vec::new());
    for text in within {
        level += if text.y < top || text.bottom() > bottom { 0.08 } else { 0.0 };
        spans.push((text.x * wide, text.right() * wide));
    }
    let (free, clear) = free(&spans);
    (f64::min(level, 0.24) + if clear { 0.0 } else { 0.4 }, free)
}

/// How much is left free, so that the page is cut through none of these texts (their ends, from the page's outer edge on):
/// as near to the best as can be; and whether there is such a place.
fn free(texts: &[(f64, f64)]) -> (f64, bool) {
    // So much air between the cut and a text, in parts of the picture's width.
    const AIR: f64 = 0.012;
    let near: Vec<_> = texts.iter().filter(|(_, to)| *to + AIR > 1.0 - FREE.0 - FREE.1).collect();
    let clear = |free: f64| near.iter().all(|(from, to)| 1.0 - free <= from - AIR || 1.0 - free >= to + AIR);
    const STEPS: i32 = 60;
    let nearest = (0..=2 * STEPS).map(|i| (i + 1) / 2 * if i % 2 == 0 { 1 } else { -1 });
    let mut offered = nearest.map(|step| FREE.0 + FREE.1 * f64::from(step) / f64::from(STEPS));
    offered.find(|at| clear(*at)).map_or((FREE.0, false), |at| (at, true))
}

/// The window that cuts none of these tabs (their upper and lower ends), has most of them about its middle, is nearest to the
/// height that is best, and costs least by what is seen in it. Where every window would cut one, the best height about the
/// middle.
fn around(tabs: &[(f64, f64)], left: bool, seen: impl Fn(f64, f64) -> (f64, f64)) -> Window {
    // Tap areas may lie edge to edge, with the gap between the tabs within them.
    let free = |at: f64| tabs.iter().all(|(top, bottom)| at <= top + TOUCH || at >= bottom - TOUCH);
    let first = tabs.iter().map(|t| t.0).fold(f64::INFINITY, f64::min);
    let last = tabs.iter().map(|t| t.1).fold(f64::NEG_INFINITY, f64::max);
    let middle = if first < last { (first + last) / 2.0 } else { 0.5 };
    // How much room stands between a cut and the next tab, up to as much as looks airy.
    let room = |at: f64| {
        let near = tabs.iter().flat_map(|t| [(t.0 - at).abs(), (t.1 - at).abs()]).fold(f64::INFINITY, f64::min);
        near.min(0.01)
    };
    const STEPS: usize = 400;
    let at = |step: usize| step as f64 / STEPS as f64;
    let ends = tabs.iter().flat_map(|t| [t.0, t.1]).filter(|end| (0.0..=1.0).contains(end));
    let cuts: Vec<f64> = (0..=STEPS).map(at).chain(ends).filter(|at| free(*at)).collect();
    let mut offered = Vec::new();
    for top in &cuts {
        for bottom in cuts.iter().filter(|b| (BOUNDS.0..=BOUNDS.1).contains(&(**b - top))) {
            let high = bottom - top;
            let away = ((top + bottom) / 2.0 - middle).abs();
            offered.push((4.0 * (room(*top) + room(*bottom)) - (high - BEST).abs() - 0.6 * away, *top, high));
        }
    }
    offered.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut best: Option<(f64, Window)> = None;
    for (worth, top, high) in offered {
        // What is seen in a window can only cost.
        if best.is_some_and(|(most, _)| worth <= most) {
            break;
        }
        let (cost, free) = seen(top, high);
        if best.is_none_or(|(most, _)| worth - cost > most) {
            best = Some((worth - cost, Window { top, high, left, free }));
        }
    }
    let usual = Window { top: 0.5 - BEST / 2.0, high: BEST, left, free: FREE.0 };
    best.map_or(usual, |(_, window)| window)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// However many tabs of whatever height there are, edge to edge or with gaps: none is cut, and the window lies on the page.
    #[test]
    fn no_tab_is_cut() {
        for count in 1..25 {
            for (top, end) in [(0.02, 0.98), (0.03, 0.97), (0.09, 0.91), (0.2, 0.8), (0.02, 0.8), (0.2, 0.98)] {
                for gap in [0.0, 0.1, 0.3, 0.6] {
                    let pitch = (end - top) / f64::from(count);
                    let tab = |i: i32| {
                        let at = top + pitch * f64::from(i);
                        (at, at + pitch * (1.0 - gap))
                    };
                    let tabs: Vec<(f64, f64)> = (0..count).map(tab).collect();
                    // Tabs as high as most of the page cannot be shown from near by.
                    if tabs.iter().any(|t| t.1 - t.0 > 0.3) {
                        continue;
                    }
                    let window = around(&tabs, false, |_, _| (0.0, FREE.0));
                    let (from, to) = (window.top, window.top + window.high);
                    assert!(from >= 0.0 && to <= 1.0 + 1e-9, "{window:?}");
                    assert!((BOUNDS.0..=BOUNDS.1 + 1e-9).contains(&window.high), "{window:?}");
                    for (upper, lower) in tabs {
                        for cut in [from, to] {
                            let whole = cut <= upper + TOUCH || cut >= lower - TOUCH;
                            assert!(whole, "{count} tabs, gap {gap}: {cut} cuts {upper} to {lower}");
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn where_every_window_would_cut_one_the_middle_is_shown() {
        let window = around(&[(0.0, 1.0)], true, |_, _| (0.0, FREE.0));
        assert_eq!(window, Window { top: 0.5 - BEST / 2.0, high: BEST, left: true, free: FREE.0 });
    }

    /// Whatever texts stand about the cut: it goes through none of them where a gap is near enough.
    #[test]
    fn the_page_is_cut_beside_its_texts() {
        for at in 0..100 {
            let from = 0.5 + f64::from(at) * 0.003;
            for long in [0.01, 0.03, 0.06, 0.1] {
                let texts = [(from, from + long), (from + long + 0.03, from + long + 0.3)];
                let (free, clear) = free(&texts);
                let cut = 1.0 - free;
                assert!((cut - (1.0 - FREE.0)).abs() <= FREE.1 + 1e-9, "{cut}");
                let through = texts.iter().any(|(from, to)| cut > *from && cut < *to);
                let gap = from + long + 0.015;
                assert!(clear || (gap - (1.0 - FREE.0)).abs() > FREE.1, "{texts:?} leave no place");
                assert!(!clear || !through, "{texts:?} are cut at {cut}");
            }
        }
    }
}
