//! Which part of a page is shown where its tabs are seen from near by: no tab is cut.

use super::PictureContext;
use super::choose::read;
use base::model::facts::Leads;

/// The part of a page that is shown, in parts of its height, and the edge that its tabs stand at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Where it begins.
    pub top: f64,
    /// How high it is.
    pub high: f64,
    /// Whether the tabs stand at the left edge.
    pub left: bool,
}

/// How much of the page's height is shown best: so near that words on tabs can be read small.
const BEST: f64 = 0.59;
/// How much at least and at most.
const BOUNDS: (f64, f64) = (0.48, 0.76);
/// How near to an edge the middle of a tab lies, in parts of the page's width.
const EDGE: f64 = 0.06;
/// How far areas may reach over each other and still be taken to lie edge to edge, in parts of the page's height.
const TOUCH: f64 = 0.001;

/// The window on a page (from 0) of the notebook.
pub fn window(context: &PictureContext, page: usize) -> Window {
    let Some(page) = read(context).and_then(|pdf| pdf.pages.get(page)) else { return around(&[], false) };
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
    around(&sides[usize::from(!left)], left)
}

/// The window that cuts none of these tabs (their upper and lower ends), has most of them about its middle, and is nearest
/// to the height that is best. Where every window would cut one, the best height about the middle.
fn around(tabs: &[(f64, f64)], left: bool) -> Window {
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
    let mut best: Option<(f64, Window)> = None;
    for top in &cuts {
        for bottom in cuts.iter().filter(|b| (BOUNDS.0..=BOUNDS.1).contains(&(**b - top))) {
            let high = bottom - top;
            let away = ((top + bottom) / 2.0 - middle).abs();
            let worth = 4.0 * (room(*top) + room(*bottom)) - (high - BEST).abs() - 0.6 * away;
            if best.is_none_or(|(most, _)| worth > most) {
                best = Some((worth, Window { top: *top, high, left }));
            }
        }
    }
    best.map_or(Window { top: 0.5 - BEST / 2.0, high: BEST, left }, |(_, window)| window)
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
                    let window = around(&tabs, false);
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
        let window = around(&[(0.0, 1.0)], true);
        assert_eq!(window, Window { top: 0.5 - BEST / 2.0, high: BEST, left: true });
    }
}
