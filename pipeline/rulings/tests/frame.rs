//! One frame for all pages: the first and the last ink stand at one height, so that nothing jumps when a page is turned.

use super::super::TABLE;
use super::{PHONE, TABLETS, areas, drawn, ink, off_the_frame, papers, reach};
use base::model::Mm;
use base::model::drawing::Shape;
use proptest::prelude::*;

/// How far from the frame's foot the last ink may end, in mm: not at all but for a hair, except where the distance of lines is
/// what a page is bought for and does not divide its height.
fn slack(name: &str) -> f64 {
    match name {
        // Half of the distance of their rows.
        "square-grid" | "dot-grid" | "isometric" => 2.5,
        "hexagons" => 3.04,
        _ => 1.0,
    }
}

#[test]
fn all_pages_end_on_one_line() {
    // A blank page has no ink.
    for entry in TABLE.iter().filter(|entry| entry.name != "blank") {
        for size in [&TABLETS[..], &[PHONE]].concat() {
            for second in [false, true] {
                let papers = papers(size, second);
                let d = drawn(entry.name, "", papers.clone());
                for (i, paper) in papers.iter().enumerate() {
                    let (_, foot) = off_the_frame(&d, paper);
                    let slack = slack(entry.name) + 1e-6;
                    assert!(foot.abs() <= slack, "{} on {size:?} mm, paper {i}: {foot:.2} mm below", entry.name);
                }
            }
        }
    }
}

/// The first ink or word is the frame's edge, the head of two rows, or the first line of a page without one.
#[test]
fn all_pages_begin_within_the_head() {
    for entry in TABLE.iter().filter(|entry| entry.name != "blank") {
        for size in [&TABLETS[..], &[PHONE]].concat() {
            let papers = papers(size, true);
            let d = drawn(entry.name, "", papers.clone());
            let first = d.shapes.iter().flat_map(|shape| reach(shape).0).filter(|p| p.x < papers[1].x - 1.0);
            let top = (first.map(|p| p.y).fold(f64::MAX, f64::min) - papers[0].y) / Mm(1.0).pt();
            // Rows of hours are the highest.
            let most = if slack(entry.name) > 1.0 { slack(entry.name) } else { 28.0 };
            assert!((-1e-6..=most).contains(&top), "{} on {size:?} mm: {top:.2}", entry.name);
        }
    }
}

/// A count that is asked for is kept, and shared out over both papers; the paper with fewer is filled all the same.
#[test]
fn a_count_is_shared_out_and_no_paper_stays_free() {
    for size in TABLETS.into_iter().filter(|(_, h)| *h > 120.0) {
        let papers = papers(size, true);
        for (count, left) in [(2, 1), (3, 2), (4, 2)] {
            let d = drawn("goals", &format!("count = {count}"), papers.clone());
            let steps = d.shapes.iter().filter_map(|s| match s {
                Shape::Text(t) if t.text == "Steps" => Some(t.at.x < papers[1].x),
                _ => None,
            });
            let steps: Vec<bool> = steps.collect();
            let first = steps.iter().filter(|on_the_first| **on_the_first).count();
            assert_eq!((steps.len(), first), (count, left), "on {size:?} mm");
            for paper in &papers {
                let (_, foot) = off_the_frame(&d, paper);
                assert!(foot.abs() <= 1.0, "{count} goals on {size:?} mm: {foot:.2}");
            }
        }
        // Cards of a page of her own: three and two, not five on each.
        let parts = "parts = [{ part = 'cards', labels = ['Name', 'Phone'], columns = 1, count = 5 }]";
        let d = drawn("parts", parts, papers.clone());
        let names = |from: f64, to: f64| {
            let own = |s: &&Shape| matches!(s, Shape::Text(t) if t.text == "Name" && (from..to).contains(&t.at.x));
            d.shapes.iter().filter(own).count()
        };
        assert_eq!([names(0.0, papers[1].x), names(papers[1].x, f64::MAX)], [3, 2], "on {size:?} mm");
        for paper in &papers {
            assert!(off_the_frame(&d, paper).1.abs() <= 1.0, "cards on {size:?} mm");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    /// Grids of any distance on areas of any size: within half a row of the frame above and below, and never off the area.
    #[test]
    fn grids_keep_within_half_a_row_of_the_frame(areas in areas(), pitch in 3.0..15.0) {
        for name in ["dot-grid", "square-grid", "isometric"] {
            let d = drawn(name, &format!("pitch = {pitch}"), areas.clone());
            for area in &areas {
                let frame = super::super::parts::frame(*area);
                let at = ink(&d, area);
                // Triangles that are wider than the page are not drawn.
                prop_assert!(name == "isometric" || !at.is_empty());
                let half = Mm(pitch / 2.0).pt() + 1e-6;
                let (top, foot) = at.iter().fold((f64::MAX, f64::MIN), |(a, b), p| (a.min(p.y), b.max(p.y)));
                if !at.is_empty() {
                    prop_assert!(top - area.y >= -1e-6 && top - area.y <= half, "{name}: {top}");
                    prop_assert!((foot - frame.bottom()).abs() <= half && foot <= area.bottom() + 1e-6, "{name}: {foot}");
                }
            }
            prop_assert!(d.shapes.iter().all(|shape| reach(shape).1.is_finite()));
        }
    }
}
