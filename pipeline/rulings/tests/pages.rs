//! Single pages: music, the mind map, days of the week, weight and colour.

use super::super::TABLE;
use super::{context, drawn, level_lines, reach};
use base::model::drawing::{Seg, Shape, Stroke};
use base::model::look::Rules;
use base::model::{Drawing, Point, Rect, Rgb};
use draw::ruling::find;

/// Whatever a look does to rules, the lines of a staff are solid.
#[test]
fn staves_are_solid_in_every_manner() {
    let on = context(vec![Rect::new(0.0, 0.0, 400.0, 600.0)], None);
    for manner in [Rules::Dotted, Rules::Dashed, Rules::Paired] {
        let mut d = find(TABLE, "staves").unwrap().draw(&toml::Table::new(), &on).unwrap();
        let before = d.clone();
        draw::rules::redraw(&mut d, manner, &on.pen);
        assert_eq!(d, before, "{manner:?}");
    }
}

/// As many branches of a mind map lead up as down, as far on one side as on the other, and each has as many lines.
#[test]
fn a_mind_map_is_even() {
    for n in [4, 5, 6, 7, 8] {
        for h in [400.0, 567.0, 731.0] {
            let d = drawn("mind-map", &format!("branches = {n}"), vec![Rect::new(0.0, 0.0, 430.0, h)]);
            let ends = |shape: &Shape| match shape {
                Shape::Path { path, .. } => match path.0.as_slice() {
                    [Seg::Move(_), Seg::Cubic(_, _, to)] => Some(*to),
                    _ => None,
                },
                _ => None,
            };
            let ends: Vec<Point> = d.shapes.iter().filter_map(ends).collect();
            assert_eq!(ends.len(), n);
            // The thought is drawn last.
            let (at, _) = reach(d.shapes.last().unwrap());
            let (top, foot) = at.iter().fold((f64::MAX, 0.0_f64), |(a, b), p| (a.min(p.y), b.max(p.y)));
            let middle = (top + foot) / 2.0;
            for end in &ends {
                let mirrored = |e: &Point| (e.x - end.x).abs() < 1e-6 && (e.y + end.y - 2.0 * middle).abs() < 1e-6;
                assert!(ends.iter().any(mirrored), "{n} branches on {h}: {ends:?} about {middle}");
            }
            assert!(level_lines(&d).len().is_multiple_of(n), "{n} branches on {h}");
        }
    }
}

#[test]
fn weekdays_turn_and_labels_are_hers() {
    let area = vec![Rect::new(0.0, 0.0, 400.0, 560.0)];
    let texts = |d: &Drawing| -> Vec<String> {
        d.shapes.iter().filter_map(|s| if let Shape::Text(t) = s { Some(t.text.clone()) } else { None }).collect()
    };
    let with =
        "first-day = 'sunday'\nlabels = ['lundi', 'mardi', 'mercredi', 'jeudi', 'vendredi', 'samedi', 'dimanche']";
    for name in ["week", "month", "open-week"] {
        let said = texts(&drawn(name, with, area.clone()));
        let days: Vec<&String> = said.iter().filter(|t| t.ends_with("di") || *t == "dimanche").collect();
        assert_eq!(days, ["dimanche", "lundi", "mardi", "mercredi", "jeudi", "vendredi", "samedi"], "{name}");
    }
    let hours = texts(&drawn("day", "from = 8\nto = 13\nclock = 12\nto-do = ''\nnotes = ''", area));
    assert_eq!(hours[2..], ["8 am", "9 am", "10 am", "11 am", "12 pm", "1 pm"]);
}

#[test]
fn own_weight_and_colour_are_used() {
    let d = drawn("lined", "weight = 1.2\ncolour = '#3a7d44'", vec![Rect::new(0.0, 0.0, 300.0, 400.0)]);
    for shape in &d.shapes {
        let Shape::Path { stroke: Some(Stroke { width, colour, .. }), .. } = shape else { panic!("rules only") };
        assert!((width - 1.2).abs() < 1e-9);
        assert_eq!(*colour, Rgb::new(0x3a, 0x7d, 0x44));
    }
}
