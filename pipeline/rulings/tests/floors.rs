//! Sizes that a hand and an eye need: what is ticked can be hit, numerals can be read, and there is height to write.

use super::super::TABLE;
use super::{PHONE, TABLETS, drawn, levels, papers};
use base::model::drawing::{Seg, Shape};
use base::model::{Mm, Rect};

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
