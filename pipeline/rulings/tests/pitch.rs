//! The distance of lines: as asked, as the trade has it, the same on both papers.

use super::super::TABLE;
use super::{FONTS, areas, composed, drawn, levels, levels_within, reach, table};
use base::model::drawing::Shape;
use base::model::{Mm, Rect, Size};
use draw::ruling::{find, halves};
use draw::svg;
use proptest::prelude::*;

/// Pages of blocks that are alike: boxes one below another, cards, stations, goals.
const AIRY: [&str; 10] = [
    "shopping",
    "packing-list",
    "birthdays",
    "year-goals",
    "project-board",
    "contacts",
    "password-hints",
    "plant-care",
    "timeline",
    "goals",
];

/// What is wrong with the lines of a ruling whose pitch is so many millimetres, paper by paper.
fn on_the_pitch(name: &str, areas: &[Rect], pitch: f64, all: bool) -> Result<(), String> {
    let d = drawn(name, &format!("pitch = {pitch}"), areas.to_vec());
    let pitch = Mm(pitch).pt();
    for area in areas {
        let off = |y: &f64| {
            let steps = (y - area.y) / pitch;
            (steps - steps.round()).abs() > 1e-6
        };
        // Blocks that are alike share what is left of the page as air between them.
        let airy = AIRY.contains(&name);
        let off: Vec<f64> = levels_within(&d, area.x - 1e-6, area.right() + 1e-6).into_iter().filter(off).collect();
        if all && !off.is_empty() {
            return Err(format!("{name} at {off:?}"));
        }
        // Rows with names share what is left of the page: evenly, and each is higher for it.
        let gaps: Vec<f64> = off.windows(2).map(|pair| pair[1] - pair[0]).filter(|gap| *gap > 1e-6).collect();
        let least = gaps.iter().copied().fold(f64::MAX, f64::min);
        for gap in gaps {
            let steps = gap / least;
            if !airy && (steps - steps.round()).abs() > 1e-4 || gap < pitch - 1e-6 {
                return Err(format!("{name} goes {gap} where others go {least} and the pitch is {pitch}"));
            }
        }
    }
    Ok(())
}

/// Papers whose rows differ in height, side by side: what lies between a line of one and a line of the other is no row.
#[test]
fn papers_of_a_spread_have_rows_of_their_own() {
    let first = Rect::new(0.0, 0.0, 123.188, 446.902);
    let areas = [first, Rect::new(163.188, 0.0, first.w, first.h)];
    assert_eq!(on_the_pitch("sleep-and-water", &areas, 7.177343699121602, false), Ok(()));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn lines_lie_on_the_pitch(areas in areas(), pitch in 3.0..15.0) {
        let composed = TABLE.iter().map(|entry| entry.name).filter(|name| composed(name));
        let own = ["lined", "margin-ruled", "titled", "chart", "two-column-list", "checklist", "cue-notes", "week", "year"];
        for name in own.iter().copied().chain(composed) {
            if let Err(fault) = on_the_pitch(name, &areas, pitch, own.contains(&name)) {
                prop_assert!(false, "{fault}");
            }
        }
    }

    #[test]
    fn lines_fill_the_area_but_for_less_than_a_pitch(areas in areas(), pitch in 3.0..15.0) {
        let lined = levels(&drawn("lined", &format!("pitch = {pitch}"), areas.clone()));
        let last = lined.last().copied().unwrap_or(areas[0].y);
        prop_assert!(areas[0].bottom() - last < Mm(pitch).pt() + 1e-6);
    }

    #[test]
    fn squares_and_dots_leave_even_margins(areas in areas(), pitch in 3.0..15.0) {
        let d = drawn("dot-grid", &format!("pitch = {pitch}"), areas.clone());
        for (shape, area) in d.shapes.iter().zip(&areas) {
            let (points, _) = reach(shape);
            let (mut left, mut right) = (f64::MAX, f64::MIN);
            for p in &points {
                (left, right) = (left.min(p.x), right.max(p.x));
            }
            prop_assert!(((left - area.x) - (area.right() - right)).abs() < 1e-6);
            prop_assert!(left - area.x < Mm(pitch).pt() / 2.0);
        }
        let grid = levels(&drawn("square-grid", &format!("pitch = {pitch}"), areas.clone()));
        for pair in grid.windows(2) {
            prop_assert!((pair[1] - pair[0] - Mm(pitch).pt()).abs() < 1e-6);
        }
    }

    #[test]
    fn halves_share_the_baseline_grid(areas in areas(), pitch in 3.0..15.0) {
        let pitch = Mm(pitch).pt();
        let (one, other) = halves(&areas, pitch);
        prop_assert!(one.len() == 1 && other.len() == 1);
        prop_assert!(!one[0].overlaps(other[0]));
        for half in [one[0], other[0]] {
            prop_assert!(areas.iter().any(|a| a.contains(half, 1e-6)));
        }
        if areas.len() == 1 && areas[0].h > areas[0].w {
            let steps = (other[0].y - areas[0].y) / pitch;
            prop_assert!((steps - steps.round()).abs() < 1e-6 || other[0].h == 0.0);
        }
    }
}

/// The pitches that the trade goes by (tests/fixtures/refs/rulings.csv) are the ones that names and defaults give.
#[test]
fn pitches_are_those_of_the_trade() {
    let text = include_str!("../../../tests/fixtures/refs/rulings.csv");
    let mm = |name: &str| -> f64 {
        let row = text.lines().find(|l| l.split(',').next().unwrap().split('/').any(|n| n == name)).unwrap();
        row.split(',').nth(1).unwrap().parse().unwrap()
    };
    let area = vec![Rect::new(0.0, 0.0, 400.0, 600.0)];
    for name in ["wide", "college", "narrow"] {
        let lines = levels(&drawn("lined", &format!("pitch = '{name}'"), area.clone()));
        assert!((lines[1] - lines[0] - Mm(mm(name)).pt()).abs() < 1e-6, "{name}");
        let rows = levels(&drawn("checklist", &format!("pitch = '{name}'"), area.clone()));
        assert!((rows[1] - rows[0] - Mm(mm(name)).pt()).abs() < 1e-6, "checklist, {name}");
    }
    let gap = |name: &str| {
        let lines = levels(&drawn(name, "", area.clone()));
        (lines[1] - lines[0]) / Mm(1.0).pt()
    };
    assert!((gap("lined") - mm("college")).abs() < 1e-6);
    // Rows that fill the page are as near to it as whole rows can be.
    assert!((gap("checklist") - mm("wide")).abs() < mm("wide") / 2.0 / 23.0);
    assert!((gap("square-grid") - mm("graph metric")).abs() < 1e-6);
    assert!((gap("staves") - mm("music")).abs() < 1e-6);
    let Shape::Dots { at, .. } = &drawn("dot-grid", "", area).shapes[0] else { panic!("dots") };
    assert!((at[1].x - at[0].x - Mm(mm("dot grid")).pt()).abs() < 1e-6);
}

/// The pitch measured on a picture of the page: rendered by resvg at 40 pixels a millimetre, the darkest rows found
/// again, to 0.05 mm.
#[test]
fn pitch_measured_on_the_picture() {
    for (name, pitch) in [("lined", 7.1), ("lined", 8.7), ("checklist", 6.35), ("square-grid", 5.0)] {
        let (w, h) = (Mm(12.0).pt(), Mm(60.0).pt());
        let d = drawn(name, &format!("pitch = {pitch}"), vec![Rect::new(0.0, 0.0, w, h)]);
        let text = svg::document(&d, Size::new(w, h), &FONTS, &[]);
        let tree = resvg::usvg::Tree::from_str(&text, &Default::default()).unwrap();
        let scale = 40.0 / Mm(1.0).pt() as f32;
        let mut pixels = resvg::tiny_skia::Pixmap::new(480, 2400).unwrap();
        resvg::render(&tree, resvg::tiny_skia::Transform::from_scale(scale, scale), &mut pixels.as_mut());
        // A column of pixels that crosses rules only.
        let x = 420;
        let dark: Vec<u32> = (0..2400).filter(|y| pixels.pixel(x, *y).unwrap().alpha() > 60).collect();
        let mut middles: Vec<f64> = Vec::new();
        for run in dark.chunk_by(|a, b| b - a == 1) {
            middles.push((f64::from(run[0]) + f64::from(run[run.len() - 1]) + 1.0) / 2.0);
        }
        let lines: Vec<f64> = middles.into_iter().filter(|m| *m > 20.0 && *m < 2380.0).collect();
        assert!(lines.len() >= 5, "{name}: {lines:?}");
        for pair in lines.windows(2) {
            let mm = (pair[1] - pair[0]) / 40.0;
            assert!((mm - pitch).abs() < 0.05, "{name}: {mm} for {pitch}");
        }
    }
}

#[test]
fn halves_go_by_the_pitch_that_a_ruling_tells() {
    let pitch = |name: &str, with: &str| find(TABLE, name).unwrap().pitch(&table(with));
    assert_eq!(pitch("lined", "pitch = 'wide'"), Some(Mm(8.7).pt()));
    assert_eq!(pitch("dot-grid", ""), Some(Mm(5.0).pt()));
    assert_eq!(pitch("week", ""), None);
    assert_eq!(pitch("lined", "pitch = 'none'"), None);
}
