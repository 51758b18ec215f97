//! Heads, labels, titles and rows of tables.

use super::super::super::tests::{TABLETS, context, level_lines, level_strokes, reach};
use super::{SMALL, area, drawn, names};
use base::model::drawing::{Role, Seg, Shape};
use base::model::look::Rules;
use base::model::{Drawing, Mm, Rect};

/// Heads of columns keep clear of the lines beside them.
#[test]
fn heads_keep_clear_of_the_lines_beside_them() {
    let upright = |s: &Shape| match s {
        Shape::Path { path, stroke: Some(_), .. } => match path.0.as_slice() {
            [Seg::Move(a), Seg::Line(b)] if (a.x - b.x).abs() < 1e-9 => Some([a.x, a.y.min(b.y), a.y.max(b.y)]),
            _ => None,
        },
        _ => None,
    };
    for name in ["cleaning-rota", "gift-list", "bills", "meeting-notes", "ledger", "inventory", "meal-plan"] {
        for (w, h) in [&SMALL[..], &TABLETS[..4]].concat() {
            let d = drawn(name, "", vec![area(w, h)]);
            let lines: Vec<[f64; 3]> = d.shapes.iter().filter_map(upright).collect();
            let least = Mm(if w < 85.0 { 0.7 } else { 1.0 }).pt();
            for shape in d.shapes.iter().filter(|s| matches!(s, Shape::Text(t) if t.role != Role::Heading)) {
                let (at, _) = reach(shape);
                let beside = lines.iter().filter(|l| l[1] < at[0].y && l[2] > at[1].y);
                let near = beside.map(|l| (l[0] - at[1].x).max(at[0].x - l[0])).fold(f64::MAX, f64::min);
                assert!(near >= least - 0.01, "{name} on {w} x {h} mm: {near} beside {shape:?}");
            }
        }
    }
}

/// Labels of a page are of one size: those of two tables, and those of fields above them.
#[test]
fn labels_of_a_page_are_of_one_size() {
    for name in ["sleep-and-water", "bills", "budget-month", "ledger", "cleaning-rota", "meal-plan", "lesson-plan"] {
        for (w, h) in [&SMALL[..], &TABLETS[..4]].concat() {
            let d = drawn(name, "", vec![area(w, h)]);
            let labels = d.shapes.iter().filter_map(|s| match s {
                Shape::Text(t) if t.role != Role::Heading => Some(t.size),
                _ => None,
            });
            let (least, most) = labels.fold((f64::MAX, 0.0_f64), |(a, b), size| (a.min(size), b.max(size)));
            assert!(most - least < 0.01, "{name} on {w} x {h} mm: {least} to {most}");
        }
    }
}

/// The title of a table stands clear of the table, and farther from what is above it.
#[test]
fn titles_of_tables_stand_clear() {
    for name in ["bills", "budget-month", "cleaning-rota", "meeting-notes"] {
        for (w, h) in [&SMALL[..], &TABLETS[..4]].concat() {
            let d = drawn(name, "", vec![area(w, h)]);
            let washes: Vec<Rect> = d
                .shapes
                .iter()
                .filter_map(|s| match s {
                    Shape::Path { path, fill: Some(_), stroke: None } => Some(path.bounds()),
                    _ => None,
                })
                .collect();
            let lines = level_lines(&d);
            for (title, x, y) in names(&d) {
                let below = washes.iter().filter(|r| r.y > y && r.x <= x + 1.0 && r.right() > x + 1.0);
                let air = below.map(|r| r.y - y).fold(f64::MAX, f64::min);
                let line = lines.iter().filter(|l| l[0] <= x + 1.0 && l[1] >= x + 1.0 && l[2] > y).map(|l| l[2] - y);
                // Names of lines and of rows to tick stand on a line of their own.
                if air > Mm(7.0).pt() || line.fold(f64::MAX, f64::min) < air - 0.1 {
                    continue;
                }
                let least = Mm(if w < 85.0 { 1.4 } else { 2.0 }).pt();
                assert!(air >= least + 1.5, "{title} of {name} on {w} x {h} mm: {air}");
                let above = lines.iter().filter(|l| l[0] <= x + 1.0 && l[1] >= x + 1.0 && l[2] < y);
                let above = above.map(|l| y - 9.8 - l[2]).fold(f64::MAX, f64::min);
                assert!(above > air - 2.0, "{title} of {name} on {w} x {h} mm: {above} above, {air} below");
            }
        }
    }
}

/// Whatever a look does to rules, the lines between the rows of a table stay as they are; those that are written on within a row
/// go with the look.
#[test]
fn rows_of_tables_are_parted_by_one_line() {
    for (name, written) in [("ledger", false), ("cleaning-rota", true), ("meal-plan", true)] {
        let areas = vec![area(180.0, 260.0)];
        let plain = drawn(name, "", areas.clone());
        let on = context(areas, None);
        let rules = |d: &Drawing| level_strokes(d).into_iter().map(|(line, _)| line).collect::<Vec<_>>();
        for manner in [Rules::Dotted, Rules::Dashed, Rules::Paired] {
            let mut d = plain.clone();
            draw::rules::redraw(&mut d, manner, &on.pen);
            assert_eq!(rules(&d).len() < rules(&plain).len(), written, "{name}, {manner:?}");
            let heavier = level_strokes(&plain).into_iter().filter(|(_, stroke)| stroke.width > on.pen.weight + 1e-6);
            assert_eq!(rules(&d), heavier.map(|(line, _)| line).collect::<Vec<_>>(), "{name}, {manner:?}");
        }
    }
}
