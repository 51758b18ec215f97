//! Every ruling on every kind of area: what its tests share. What all rulings promise, the one frame, the one head, the pitch,
//! names and numerals, single pages, and the sizes that a hand needs have a file each.

#![allow(clippy::unwrap_used)]

mod floors;
mod frame;
mod heads;
mod names;
mod pages;
mod pitch;
mod promises;

use super::*;
use base::colour;
use base::model::drawing::{Role, Seg, Shape, Stroke, TextRun, Turn};
use base::model::product::{FontFile, Style};
use base::model::{Drawing, Mm, Point, Rect, Rgb};
use base::reading::Reading;
use draw::ruling::find;
use draw::{Fonts, Pen};
use proptest::prelude::*;
use rustybuzz::ttf_parser;
use std::collections::BTreeMap;
use std::sync::LazyLock;

pub(crate) static STYLE: LazyLock<Style> = LazyLock::new(|| {
    let font = |bytes: &[u8], from: &str| {
        vec![FontFile { from: from.into(), bytes: bytes.into(), built_in: true, figures: None }]
    };
    let serif = |name: &str| {
        let file = typst_assets::fonts().find(|bytes| {
            ttf_parser::Face::parse(bytes, 0).is_ok_and(|face| {
                face.names().into_iter().any(|n| {
                    n.name_id == ttf_parser::name_id::POST_SCRIPT_NAME && n.to_string().as_deref() == Some(name)
                })
            })
        });
        font(file.unwrap(), name)
    };
    let paper = Rgb::new(0xfd, 0xfb, 0xf6);
    let ink = Rgb::new(0x2b, 0x2a, 0x33);
    Style {
        fonts: BTreeMap::from([
            (Role::Heading, serif("LibertinusSerif-Regular")),
            (Role::HeadingItalic, serif("LibertinusSerif-Italic")),
            (Role::Label, font(notosans::REGULAR_TTF, "Noto Sans")),
            (Role::LabelBold, font(notosans::BOLD_TTF, "Noto Sans Bold")),
            (Role::LabelItalic, font(notosans::ITALIC_TTF, "Noto Sans Italic")),
        ]),
        ink,
        rule: colour::at_contrast(paper, ink, 1.9),
        paper,
        desk: Rgb::new(0xd9, 0xd4, 0xc8),
        accent: Rgb::new(0xb5, 0x52, 0x3b),
        corner: Mm(3.0),
        manner: Default::default(),
    }
});

pub(crate) static FONTS: LazyLock<Fonts> = LazyLock::new(|| Fonts::open(&STYLE.fonts).unwrap());

pub(crate) fn context(areas: Vec<Rect>, small: Option<f64>) -> RulingContext<'static> {
    let pen = Pen::new(&STYLE);
    // With margins, tabs and coil, pages are about an eighth longer than what is written on.
    let ends = areas.iter().flat_map(|a| [a.right() - areas[0].x, a.bottom() - areas[0].y]);
    let long_side = ends.fold(1.0, f64::max) * 1.18;
    RulingContext {
        long_side,
        areas,
        pen: small.map_or(pen, |s| pen.for_small(s)),
        fonts: &FONTS,
        corner: Mm(1.5).pt(),
        left: false,
    }
}

pub(crate) fn table(text: &str) -> toml::Table {
    text.parse().unwrap()
}

fn drawn(name: &str, with: &str, areas: Vec<Rect>) -> Drawing {
    find(TABLE, name).unwrap().draw(&table(with), &context(areas, None)).unwrap()
}

/// What is wrong with these parameters, in one text; empty when they are fine.
fn complaint(name: &str, with: &str) -> String {
    let value = toml::de::DeValue::parse(with).unwrap();
    match find(TABLE, name).unwrap().check(Reading::of(&value)) {
        Err(e) => format!("{} {}", e.message(), e.help().unwrap_or_default()),
        Ok(Err(text)) => text,
        Ok(Ok(())) => String::new(),
    }
}

/// The rectangle that a shape covers, line widths left out, and half of its line width.
pub(crate) fn reach(shape: &Shape) -> (Vec<Point>, f64) {
    match shape {
        Shape::Path { path, stroke, .. } => (path.points().collect(), stroke.map_or(0.0, |s| s.width / 2.0)),
        Shape::Dots { at, diameter, .. } => (at.clone(), diameter / 2.0),
        Shape::Text(t) => {
            assert_eq!(t.turn, Turn::None);
            let m = FONTS.metrics(t.role);
            let w = FONTS.width(t.role, &t.text, t.size, t.tracking);
            let (up, down) = (m.cap * t.size, 0.24 * t.size);
            (vec![Point::new(t.at.x, t.at.y - up), Point::new(t.at.x + w, t.at.y + down)], 0.0)
        }
        other => panic!("a ruling draws no {other:?}"),
    }
}

/// Fails when a shape leaves all areas, or has a number that is none.
pub(crate) fn assert_inside(name: &str, d: &Drawing, areas: &[Rect]) {
    for shape in &d.shapes {
        let (points, half) = reach(shape);
        assert!(half.is_finite() && points.iter().all(|p| p.x.is_finite() && p.y.is_finite()), "{name}: {shape:?}");
        let inside = |a: &Rect| {
            points
                .iter()
                .all(|p| p.x >= a.x - 1e-3 && p.x <= a.right() + 1e-3 && p.y >= a.y - 1e-3 && p.y <= a.bottom() + 1e-3)
        };
        // Dots of a page are one shape each; everything lies within one paper.
        assert!(areas.iter().any(inside), "{name} on {areas:?}: {shape:?}");
    }
}

/// Whether a ruling is composed of parts of the kit.
pub(crate) fn composed(name: &str) -> bool {
    let takes = find(TABLE, name).unwrap().parameters();
    name == "parts" || takes.key("headings").is_some()
}

/// The level lines that are drawn, without those of frames: where they begin and end, and at which height.
pub(crate) fn level_lines(d: &Drawing) -> Vec<[f64; 3]> {
    level_strokes(d).into_iter().map(|(line, _)| line).collect()
}

/// The level lines with their strokes.
pub(crate) fn level_strokes(d: &Drawing) -> Vec<([f64; 3], Stroke)> {
    let level = |shape: &Shape| match shape {
        Shape::Path { path, stroke: Some(stroke), .. } => match path.0.as_slice() {
            [Seg::Move(a), Seg::Line(b)] if (a.y - b.y).abs() < 1e-9 => Some(([a.x, b.x, a.y], *stroke)),
            _ => None,
        },
        _ => None,
    };
    d.shapes.iter().filter_map(level).collect()
}

/// What is written, in order.
pub(crate) fn runs(d: &Drawing) -> Vec<&TextRun> {
    d.shapes.iter().filter_map(|shape| if let Shape::Text(run) = shape { Some(run) } else { None }).collect()
}

/// Heights of the level lines that are drawn, in order, each once.
fn levels(d: &Drawing) -> Vec<f64> {
    levels_within(d, f64::MIN, f64::MAX)
}

/// The same of lines that begin between two distances from the left, such as those of one paper.
fn levels_within(d: &Drawing, from: f64, to: f64) -> Vec<f64> {
    let lines = level_lines(d).into_iter().filter(|line| (from..=to).contains(&line[0]));
    let mut at: Vec<f64> = lines.map(|[_, _, y]| y).collect();
    at.sort_by(f64::total_cmp);
    at.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    at
}

pub(crate) fn areas() -> impl Strategy<Value = Vec<Rect>> {
    (20.0..420.0, 20.0..420.0, 0.0..30.0, 0.0..30.0, any::<bool>()).prop_map(
        |(w, h, x, y, two): (f64, f64, f64, f64, bool)| {
            let [w, h, x, y] = [w, h, x, y].map(|v| Mm(v).pt());
            let first = Rect::new(x, y, w, h);
            if two { vec![first, Rect::new(first.right() + 40.0, y, w, h)] } else { vec![first] }
        },
    )
}

/// Writing areas of the pages that people buy, in mm: tablets upright and lying, A5 and A4, one paper of a spread, half a page.
pub(crate) const TABLETS: [(f64, f64); 6] =
    [(125.0, 185.0), (185.0, 125.0), (180.0, 260.0), (265.0, 175.0), (110.0, 150.0), (150.0, 100.0)];

/// The same of a phone that is 9 : 19.5.
pub(crate) const PHONE: (f64, f64) = (64.0, 165.0);

/// The same of a phone that is 1 : 2, between tabs.
pub(crate) const NARROW_PHONE: (f64, f64) = (50.0, 114.0);

/// All of them, each as one paper and as two.
pub(crate) fn all_papers() -> Vec<((f64, f64), Vec<Rect>)> {
    let sizes = [&TABLETS[..], &[PHONE, NARROW_PHONE]].concat();
    sizes.into_iter().flat_map(|size| [false, true].map(|second| (size, papers(size, second)))).collect()
}

/// Whether such a page is a phone's.
pub(crate) fn is_phone(size: (f64, f64)) -> bool {
    size == PHONE || size == NARROW_PHONE
}

/// One area of this size in mm, or the two of a spread.
fn papers((w, h): (f64, f64), second: bool) -> Vec<Rect> {
    let first = Rect::new(40.0, 50.0, Mm(w).pt(), Mm(h).pt());
    if second { vec![first, Rect { x: first.right() + 40.0, ..first }] } else { vec![first] }
}

/// Points of what is drawn on a paper, without words.
pub(crate) fn ink(d: &Drawing, paper: &Rect) -> Vec<Point> {
    let drawn = d.shapes.iter().filter(|shape| !matches!(shape, Shape::Text(_))).flat_map(|shape| reach(shape).0);
    drawn.filter(|p| p.x >= paper.x - 1.0 && p.x <= paper.right() + 1.0).collect()
}

/// How far the highest and the lowest ink of a paper are from the frame that all pages share, which is measured here by itself: as
/// many lines 7.1 mm apart as there is room for. Both count downwards from the frame's edges, in mm.
pub(crate) fn off_the_frame(d: &Drawing, paper: &Rect) -> (f64, f64) {
    let ink = ink(d, paper);
    let (top, foot) = ink.iter().fold((f64::MAX, f64::MIN), |(top, foot), p| (top.min(p.y), foot.max(p.y)));
    let last = paper.y + (paper.h / Mm(7.1).pt() + 1e-9).floor() * Mm(7.1).pt();
    ((top - paper.y) / Mm(1.0).pt(), (foot - last) / Mm(1.0).pt())
}
