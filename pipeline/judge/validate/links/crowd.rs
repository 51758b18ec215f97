//! Tap areas that get in each other's way: overlapping, too small, too near.

use super::words;
use crate::validate::catalogue::{Findings, found};
use crate::validate::screen::px_per_point;
use base::model::Where;
use base::model::facts::{Leads, LinkFacts, PageFacts};
use base::model::geometry::Rect;
use base::model::units::trim_number;

/// WCAG 2.2, success criteria 2.5.8 (AA) and 2.5.5 (AAA), in CSS pixels.
const SMALLEST: f64 = 24.0;
const COMFORTABLE: f64 = 44.0;
/// The days and weeks of a month stand as close as a month has them: WCAG lets an arrangement be that is essential, and other
/// pages lead to the same ones by larger areas. Smaller than this, in CSS pixels, they cannot be hit (common practice, no
/// source).
const SMALLEST_DAY: f64 = 14.0;
/// The most findings of one kind on one page; a broken generator can put thousands there.
const ENOUGH: usize = 20;

/// What is known of each page of a file as the target of taps.
#[derive(Clone, Copy, Debug, Default)]
pub struct Target {
    /// Whether it is a day's, a week's, a month's, a quarter's or a year's.
    pub dated: bool,
    /// Whether some area of a comfortable size leads to it.
    pub eased: bool,
}

/// Notes the pages to which comfortable areas of this page lead.
pub fn ease(page: &PageFacts, targets: &mut [Target]) {
    let px = px_per_point(page.size);
    let large = page.links.iter().filter(|link| link.rect.w.min(link.rect.h) * px >= COMFORTABLE - 0.01);
    for to in large.filter_map(|link| link.leads.page()) {
        if let Some(target) = targets.get_mut(to) {
            target.eased = true;
        }
    }
}

/// Checks the tap areas of a page against each other. `targets` are the pages of the file.
pub fn check(page: &PageFacts, targets: &[Target], at: &Where, findings: &mut Findings) {
    let px = px_per_point(page.size);
    let mut links: Vec<&LinkFacts> = page.links.iter().filter(|l| l.rect.w > 0.0 && l.rect.h > 0.0).collect();
    links.sort_by(|a, b| a.rect.y.total_cmp(&b.rect.y).then(a.rect.x.total_cmp(&b.rect.x)));
    let target = |link: &LinkFacts| link.leads.page().and_then(|to| targets.get(to)).copied().unwrap_or_default();
    let tallest = links.iter().map(|l| l.rect.h).fold(0.0, f64::max);
    let mut overlaps = 0;
    let mut small: Option<&LinkFacts> = None;
    for (i, link) in links.iter().enumerate() {
        let mut crowded = false;
        // Sorted by top: who begins below this one's reach can't touch it, nor can anybody after.
        let reach = link.rect.bottom().max(link.rect.centre().y + SMALLEST / px);
        for other in links[i + 1..].iter().take_while(|o| o.rect.y <= reach) {
            if same_target(link, other) {
                continue;
            }
            if overlaps < ENOUGH && overlap(link.rect, other.rect) {
                overlaps += 1;
                let (a, b) = (words(link.rect), words(other.rect));
                found!(
                    findings,
                    "tap-areas-overlap",
                    at.clone().rect(link.rect),
                    "the tap areas {a} and {b} overlap and lead to different places"
                );
            }
            crowded |= too_near(link.rect, other.rect, px);
        }
        let shortest = link.rect.w.min(link.rect.h) * px;
        if shortest < SMALLEST - 0.01 {
            // Those above were sorted before; only those within the tallest area's reach can be near.
            let above = links[..i].iter().rev().take_while(|o| o.rect.y + tallest + SMALLEST / px >= link.rect.y);
            crowded |= above.filter(|o| !same_target(link, o)).any(|o| too_near(link.rect, o.rect, px));
            if crowded && !(shortest >= SMALLEST_DAY && target(link).dated) {
                found!(
                    findings,
                    "tap-area-too-small",
                    at.clone().rect(link.rect),
                    "the tap area is {} by {} CSS pixels, less than 24, and its neighbours are close",
                    trim_number(link.rect.w * px, 1),
                    trim_number(link.rect.h * px, 1)
                );
                continue;
            }
        }
        let essential = shortest >= SMALLEST_DAY && target(link).dated && target(link).eased;
        if shortest < COMFORTABLE - 0.01
            && !essential
            && !is_line(link.rect, px)
            && small.is_none_or(|s| s.rect.w.min(s.rect.h) * px > shortest)
        {
            small = Some(link);
        }
    }
    if let Some(link) = small {
        found!(
            findings,
            "tap-area-small",
            at.clone().rect(link.rect),
            "the smallest tap area is {} by {} CSS pixels, less than 44",
            trim_number(link.rect.w * px, 1),
            trim_number(link.rect.h * px, 1)
        );
    }
}

/// A line of text, whose height is that of its lines (WCAG 2.2 exempts those: "inline").
fn is_line(rect: Rect, px: f64) -> bool {
    rect.h * px <= 32.0 && rect.w >= 2.5 * rect.h
}

/// Whether a circle of 24 CSS pixels about the one's middle meets the other's area or circle (WCAG 2.2, 2.5.8, spacing).
fn too_near(a: Rect, b: Rect, px: f64) -> bool {
    let radius = SMALLEST / 2.0 / px;
    let (p, q) = (a.centre(), b.centre());
    let (dx, dy) = ((b.x - p.x).max(p.x - b.right()).max(0.0), (b.y - p.y).max(p.y - b.bottom()).max(0.0));
    let meets_area = libm::hypot(dx, dy) < radius - 1e-6;
    let other_small = b.w.min(b.h) * px < SMALLEST;
    meets_area || other_small && libm::hypot(p.x - q.x, p.y - q.y) < 2.0 * radius - 1e-6
}

/// Whether the two share more than a hair.
fn overlap(a: Rect, b: Rect) -> bool {
    let w = a.right().min(b.right()) - a.x.max(b.x);
    let h = a.bottom().min(b.bottom()) - a.y.max(b.y);
    w > 0.5 && h > 0.5
}

fn same_target(a: &LinkFacts, b: &LinkFacts) -> bool {
    match (&a.leads, &b.leads) {
        (Leads::Page { page: p, .. }, Leads::Page { page: q, .. }) => p == q,
        (p, q) => p == q,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use base::model::geometry::Size;

    /// What is found on a page of which a point is a CSS pixel; each area leads to a page of its own.
    fn told(side: f64, target: Target) -> Vec<String> {
        let at = |i: usize| Rect::new(100.0 + (i % 7) as f64 * side, 100.0 + (i / 7) as f64 * side, side, side);
        let link = |i: usize| LinkFacts {
            rect: at(i),
            leads: Leads::Page { page: i, left: None, top: None },
            ..LinkFacts::default()
        };
        let page =
            PageFacts { size: Size::new(1180.0, 800.0), links: (0..31).map(link).collect(), ..PageFacts::default() };
        let mut findings = Findings::default();
        check(&page, &[target; 31], &Where::page("a.pdf", 1), &mut findings);
        let mut checks: Vec<String> = findings.list.iter().map(|finding| finding.check.to_string()).collect();
        checks.dedup();
        checks
    }

    #[test]
    fn days_of_a_month_stand_as_close_as_a_month_has_them() {
        let day = Target { dated: true, eased: true };
        assert!(told(15.0, day).is_empty());
        // No finger hits these; those lead to no dates; and these are the only ways to theirs.
        assert_eq!(told(13.0, day), ["tap-area-too-small"]);
        assert_eq!(told(15.0, Target::default()), ["tap-area-too-small"]);
        assert_eq!(told(15.0, Target { eased: false, ..day }), ["tap-area-small"]);
        assert_eq!(told(30.0, Target { dated: false, ..day }), ["tap-area-small"]);
        assert!(told(44.0, Target::default()).is_empty());
    }
}
