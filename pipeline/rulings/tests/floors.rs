//! Sizes that a hand and an eye need: what is ticked can be hit, numerals can be read, and there is height to write.

use super::super::TABLE;
use super::{NARROW_PHONE, PHONE, TABLETS, drawn, levels, papers};
use base::model::drawing::{Path, Seg, Shape};
use base::model::{Drawing, Mm, Rect};

/// All pages on papers of all sizes: tablets' pages one by one and in spreads, phones' one by one.
fn everywhere(mut holds: impl FnMut(&[Shape], &str)) {
    for entry in TABLE {
        for size in TABLETS {
            for second in [false, true] {
                let d = drawn(entry.name, "", papers(size, second));
                holds(&d.shapes, &format!("{} on {size:?} mm, {second}", entry.name));
            }
        }
        let d = drawn(entry.name, "", papers(PHONE, false));
        holds(&d.shapes, &format!("{} on a phone", entry.name));
    }
}

/// A small circle or a small square with round corners, which nothing fills: what is ticked or filled in.
fn mark(shape: &Shape) -> Option<Rect> {
    let Shape::Path { path, fill: None, stroke: Some(_) } = shape else { return None };
    let curves = path.0.iter().filter(|seg| matches!(seg, Seg::Cubic(..))).count();
    let pieces = path.0.iter().filter(|seg| matches!(seg, Seg::Move(_))).count();
    let bounds = path.bounds();
    let small = (bounds.w - bounds.h).abs() < 0.01 && bounds.w < Mm(8.0).pt();
    (curves == 4 && pieces == 1 && small).then_some(bounds)
}

#[test]
fn what_is_ticked_can_be_hit() {
    let mut seen = 0;
    everywhere(|shapes, what| {
        for bounds in shapes.iter().filter_map(mark) {
            seen += 1;
            assert!(bounds.w >= Mm(3.4).pt() - 1e-3, "{what}: {:.2} mm", bounds.w / Mm(1.0).pt());
        }
    });
    assert!(seen > 1000, "{seen} marks");
}

#[test]
fn numerals_can_be_read() {
    everywhere(|shapes, what| {
        for shape in shapes {
            if let Shape::Text(text) = shape {
                let number = text.text.parse::<u32>().is_ok();
                assert!(!number || text.size >= 6.0 - 1e-9, "{what}: {} in {} pt", text.text, text.size);
            }
        }
    });
}

/// Where one writes between two lines: 5 mm as everywhere else, the height of a small letter in lettering, the distance of two
/// lines in music.
#[test]
fn there_is_height_to_write_on_a_phone() {
    for (name, least) in [("storyboard", 5.0), ("staves", 2.2), ("calligraphy", 2.2), ("checklist", 5.0), ("day", 5.0)]
    {
        let lines = levels(&drawn(name, "", papers(PHONE, false)));
        assert!(lines.len() > 4, "{name}: {lines:?}");
        for pair in lines.windows(2) {
            let gap = (pair[1] - pair[0]) / Mm(1.0).pt();
            assert!(gap >= least - 1e-6, "{name}: {gap:.2} mm");
        }
    }
}

/// A straight line: where it stands, and from where to where it goes.
type Straight = (f64, f64, f64);

/// Where straight lines stand, in order, each place once.
fn places(lines: &[Straight]) -> Vec<f64> {
    let mut at: Vec<f64> = lines.iter().map(|line| line.0).collect();
    at.sort_by(f64::total_cmp);
    at.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    at
}

/// The fields of a year in colours: boxes of their own, else what lines enclose that cross.
fn fields(d: &Drawing) -> Vec<Rect> {
    let (mut found, mut level, mut upright) = (Vec::new(), Vec::new(), Vec::new());
    for shape in &d.shapes {
        let Shape::Path { path, fill: None, stroke: Some(_) } = shape else { continue };
        match path.0.as_slice() {
            [Seg::Move(a), Seg::Line(b)] if (a.y - b.y).abs() < 1e-9 => level.push((a.y, a.x, b.x)),
            [Seg::Move(a), Seg::Line(b)] => upright.push((a.x, a.y, b.y)),
            many => {
                let begins = |i: &usize| matches!(many[*i], Seg::Move(_));
                let at: Vec<usize> = (0..many.len()).filter(begins).chain([many.len()]).collect();
                // Those of the key are drawn one by one.
                if at.len() > 20 {
                    found.extend(at.windows(2).map(|own| Path(many[own[0]..own[1]].to_vec()).bounds()));
                }
            }
        }
    }
    let crosses = |lines: &[Straight], at: f64, by: f64| {
        lines.iter().any(|line| (line.0 - at).abs() < 1e-6 && line.1 < by && line.2 > by)
    };
    for x in places(&upright).windows(2) {
        for y in places(&level).windows(2) {
            let own = Rect::new(x[0], y[0], x[1] - x[0], y[1] - y[0]);
            let closed = y.iter().all(|at| crosses(&level, *at, own.centre().x))
                && x.iter().all(|at| crosses(&upright, *at, own.centre().y));
            found.extend(closed.then_some(own));
        }
    }
    found
}

/// All days of a year are there to be coloured, and a pen can hit each: on the low pages of phones the fields share their lines, so
/// that they are as large as the paper allows.
#[test]
fn every_day_of_a_year_can_be_coloured_on_a_phone() {
    for (size, least) in [(PHONE, 3.3), ((62.0, 130.0), 3.6), (NARROW_PHONE, 3.3), ((50.0, 90.0), 2.3)] {
        for language in ["en", "de", "pl"] {
            for second in [false, true] {
                let d = drawn("mood-year", &format!("language = '{language}'"), papers(size, second));
                let fields = fields(&d);
                let what = format!("in {language} on {size:?} mm, {second}");
                assert_eq!(fields.len(), 366, "{what}");
                let smallest = fields.iter().map(|field| field.w.min(field.h)).fold(f64::MAX, f64::min);
                assert!(smallest >= Mm(least).pt() - 1e-3, "{what}: {:.2} mm", smallest / Mm(1.0).pt());
                assert!(d.cuts.is_empty(), "{what}: {:?}", d.cuts);
            }
        }
    }
}

/// Circles that stand side by side are no chain: there is air between their lines.
#[test]
fn circles_keep_apart() {
    let mut seen = 0;
    everywhere(|shapes, what| {
        let mut all: Vec<(Rect, f64)> = shapes
            .iter()
            .filter_map(|shape| match shape {
                Shape::Path { stroke: Some(stroke), .. } => mark(shape).map(|bounds| (bounds, stroke.width)),
                _ => None,
            })
            .collect();
        all.sort_by(|(a, _), (b, _)| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x)));
        for pair in all.windows(2) {
            let [(one, width), (next, _)] = [pair[0], pair[1]];
            // Neighbours on one line.
            if (one.y - next.y).abs() > 1e-6 || next.x <= one.x || next.x - one.x > Mm(8.0).pt() {
                continue;
            }
            seen += 1;
            let air = (next.x - one.right() - width) / Mm(1.0).pt();
            assert!(air >= 0.6 - 1e-3, "{what}: {air:.2} mm");
        }
    });
    assert!(seen > 1000, "{seen} pairs");
}
