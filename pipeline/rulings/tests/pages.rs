//! Single pages: music, the mind map, days of the week, weight and colour.

use super::super::TABLE;
use super::{all_papers, context, drawn, level_lines, level_strokes, reach};
use base::model::drawing::{Seg, Shape, Stroke};
use base::model::look::Rules;
use base::model::{Drawing, Mm, Point, Rect, Rgb};
use draw::ruling::find;

/// Whatever a look does to rules, the lines of a staff are solid, and guides for lettering are single lines, of which the base
/// line is the strongest.
#[test]
fn staves_and_guides_are_the_same_in_every_manner() {
    let on = context(vec![Rect::new(0.0, 0.0, 400.0, 600.0)], None);
    for name in ["staves", "calligraphy"] {
        for manner in [Rules::Dotted, Rules::Dashed, Rules::Paired] {
            let mut d = find(TABLE, name).unwrap().draw(&toml::Table::new(), &on).unwrap();
            let before = d.clone();
            draw::rules::redraw(&mut d, manner, &on.pen);
            assert_eq!(d, before, "{name}, {manner:?}");
        }
    }
    let guides = level_strokes(&drawn("calligraphy", "", on.areas.clone()));
    for set in guides.chunks(4) {
        let base = set[2].1.width;
        assert!([0, 1, 3].iter().all(|i| set[*i].1.width < base * 0.7), "{set:?}");
    }
}

/// Where a curve passes, in so many steps.
fn along(path: &[Seg], steps: usize) -> Vec<Point> {
    let [Seg::Move(a), Seg::Cubic(b, c, to)] = path else { return Vec::new() };
    let at = |i: usize| {
        let t = i as f64 / steps as f64;
        let (one, two, three) = (3.0 * (1.0 - t) * (1.0 - t) * t, 3.0 * (1.0 - t) * t * t, t * t * t);
        let none = (1.0 - t) * (1.0 - t) * (1.0 - t);
        let mixed = |of: fn(&Point) -> f64| none * of(a) + one * of(b) + two * of(c) + three * of(to);
        Point::new(mixed(|p| p.x), mixed(|p| p.y))
    };
    (0..=steps).map(at).collect()
}

/// The lines of a mind map pass boxes that they do not lead to, and the lines that are written on, at 2 mm at least; and they do
/// not bunch where they begin.
#[test]
fn lines_of_a_mind_map_keep_off_what_they_pass() {
    for (size, papers) in all_papers() {
        for with in ["", "branches = 5", "branches = 6", "branches = 7"] {
            let d = drawn("mind-map", with, papers[..1].to_vec());
            let paths =
                d.shapes.iter().filter_map(|s| if let Shape::Path { path, .. } = s { Some(path) } else { None });
            let curves: Vec<Vec<Point>> = paths.map(|path| along(&path.0, 64)).filter(|at| !at.is_empty()).collect();
            // The thought is drawn last, and lies under no line.
            let filled: Vec<Rect> = d
                .shapes
                .iter()
                .filter_map(|shape| match shape {
                    Shape::Path { path, fill: Some(_), .. } => Some(path.bounds()),
                    _ => None,
                })
                .collect();
            let Some((_, boxes)) = filled.split_last() else { continue };
            assert_eq!(curves.len(), boxes.len(), "{size:?}, {with}");
            let lines = level_lines(&d).into_iter().map(|[from, to, y]| Rect::new(from, y, to - from, 0.0));
            let (least, rules) = (Mm(2.0).pt(), lines.collect::<Vec<Rect>>());
            for (curve, own) in curves.iter().zip(boxes) {
                for other in boxes.iter().filter(|other| *other != own).chain(&rules) {
                    let wide = other.inset(-least);
                    let meets = curve
                        .iter()
                        .find(|p| p.x > wide.x && p.x < wide.right() && p.y > wide.y && p.y < wide.bottom());
                    assert!(meets.is_none(), "{size:?}, {with}: {meets:?} by {other:?}");
                }
            }
            for (i, curve) in curves.iter().enumerate() {
                for other in &curves[..i] {
                    let (dx, dy) = (curve[0].x - other[0].x, curve[0].y - other[0].y);
                    assert!((dx * dx + dy * dy).sqrt() >= least, "{size:?}, {with}: {:?}, {:?}", curve[0], other[0]);
                }
            }
        }
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
