//! Every ruling on every kind of area: nothing leaves it, nothing is off the grid, bad parameters are refused.

#![allow(clippy::unwrap_used)]

use super::*;
use base::colour;
use base::model::drawing::{Role, Seg, Shape, Stroke, Turn};
use base::model::look::Rules;
use base::model::product::{FontFile, Style};
use base::model::{Drawing, Rect};
use base::model::{Mm, Point, Rgb, Size};
use base::reading::Reading;
use draw::ruling::{find, halves};
use draw::svg;
use draw::{Fonts, Pen};
use proptest::prelude::*;
use rustybuzz::ttf_parser;
use std::collections::BTreeMap;
use std::sync::LazyLock;

pub(crate) static STYLE: LazyLock<Style> = LazyLock::new(|| {
    let font = |bytes: &[u8], from: &str| vec![FontFile { from: from.into(), bytes: bytes.into(), built_in: true }];
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
    let level = |shape: &Shape| match shape {
        Shape::Path { path, stroke: Some(_), .. } => match path.0.as_slice() {
            [Seg::Move(a), Seg::Line(b)] if (a.y - b.y).abs() < 1e-9 => Some([a.x, b.x, a.y]),
            _ => None,
        },
        _ => None,
    };
    d.shapes.iter().filter_map(level).collect()
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
    fn everything_lies_within_the_areas(areas in areas(), small in proptest::option::of(0.06..0.5)) {
        for entry in TABLE {
            let d = entry.draw(&toml::Table::new(), &context(areas.clone(), small)).unwrap();
            assert_inside(entry.name, &d, &areas);
        }
    }

    #[test]
    fn unusual_parameters_stay_within_too(areas in areas(), pitch in 2.0..50.0) {
        for (name, with) in [
            ("titled", "head = 6".to_owned()),
            ("chart", "columns = 12\nhead = 3\nlabels = ['A long heading', 'B']".into()),
            ("two-column-list", "columns = 6\nlabels = ['One', 'Two', 'Three']".into()),
            ("checklist", "columns = 3\ntitle = 'A list'\nmark = 'circle'".into()),
            ("cue-notes", "cue = 0.6\nsummary-rows = 20".into()),
            ("day", "from = 0\nto = 23\nclock = 12".into()),
            ("week", "first-day = 'sunday'\nlabels = ['Donnerstagabend', 'b', 'c', 'd', 'e', 'f', 'g']".into()),
            ("open-week", "labels = ['Donnerstagabend', 'b', 'c', 'd', 'e', 'f', 'g']".into()),
            ("month", "rows = 5\nfirst-day = 'saturday'".into()),
            ("year", "layout = 'days'\nfirst-month = 9".into()),
            ("habits", "days = 7\nrows = 30\nmark = 'box'\nlabels = ['Water']".into()),
            ("habits", "days = 62".into()),
            ("staves", "joined = 4".into()),
            ("staves", "joined = 2\nbetween = 4".into()),
            ("storyboard", "ratio = 0.5\ncolumns = 8\nlines = 0".into()),
            ("isometric", "style = 'dots'".into()),
            ("perspective", "points = 2\nhorizon = 0.9\nrays = 240".into()),
            ("calligraphy", "x-height = 14\nslant = 90\nascender = 2".into()),
            ("mind-map", "branches = 11".into()),
            ("mood-year", "first-month = 9\nkey = ['so', 'and so']".into()),
            ("goals", "count = 6\nheadings = ['Donnerstagabendgesellschaft']".into()),
            ("ledger", format!("pitch = {pitch}\nrows = 9")),
            ("recipe", format!("pitch = {pitch}\nmark = 'circle'")),
            ("contacts", format!("pitch = {pitch}")),
            ("sleep-and-water", format!("pitch = {pitch}\nfirst-day = 'sunday'")),
            ("lined", format!("pitch = {pitch}")),
            ("chart", format!("pitch = {pitch}")),
            ("week", format!("pitch = {pitch}")),
            ("month", format!("pitch = {pitch}")),
            ("year", format!("pitch = {pitch}")),
            ("habits", format!("pitch = {pitch}")),
            ("day", format!("pitch = {pitch}")),
            ("storyboard", format!("pitch = {pitch}")),
            ("hexagons", format!("pitch = {pitch}")),
            ("isometric", format!("pitch = {pitch}")),
        ] {
            assert_eq!(complaint(name, &format!("{{ {} }}", with.replace('\n', ", "))), "", "{name} {with}");
            assert_inside(name, &drawn(name, &with, areas.clone()), &areas);
        }
    }

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

/// The pitches that the trade goes by (tests/fixtures/refs/rulings.csv) are the ones that names and defaults give.
#[test]
fn pitches_are_those_of_the_trade() {
    let text = include_str!("../../tests/fixtures/refs/rulings.csv");
    let mm = |name: &str| -> f64 {
        let row = text.lines().find(|l| l.split(',').next().unwrap().split('/').any(|n| n == name)).unwrap();
        row.split(',').nth(1).unwrap().parse().unwrap()
    };
    let area = vec![Rect::new(0.0, 0.0, 400.0, 600.0)];
    for name in ["wide", "college", "narrow"] {
        let lines = levels(&drawn("lined", &format!("pitch = '{name}'"), area.clone()));
        assert!((lines[1] - lines[0] - Mm(mm(name)).pt()).abs() < 1e-6, "{name}");
    }
    let gap = |name: &str| {
        let lines = levels(&drawn(name, "", area.clone()));
        (lines[1] - lines[0]) / Mm(1.0).pt()
    };
    assert!((gap("lined") - mm("college")).abs() < 1e-6);
    assert!((gap("checklist") - mm("wide")).abs() < 1e-6);
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
fn bad_parameters_are_refused_in_words() {
    for (name, with, says) in [
        ("lined", "{ pitch = 1 }", "2 to 50 mm"),
        ("lined", "{ pitch = 'colege' }", "college"),
        ("lined", "{ pitch = true }", "a number of mm"),
        ("lined", "{ pitch = nan }", "2 to 50 mm"),
        ("lined", "{ weight = 9 }", "0.1 to 4 pt"),
        ("lined", "{ colour = 'gray' }", "#8a8f98"),
        ("lined", "{ pich = 7 }", "pich"),
        ("blank", "{ pitch = 7 }", "pitch"),
        ("margin-ruled", "{ margin = 1 }", "5 to 80 mm"),
        ("margin-ruled", "{ side = 'middle' }", "outer"),
        ("titled", "{ head = 0 }", "1 to 6"),
        ("square-grid", "{ pitch = 0.2 }", "1 to 50 mm"),
        ("dot-grid", "{ size = 10 }", "0.3 to 4 pt"),
        ("isometric", "{ style = 'dotted' }", "dots"),
        ("hexagons", "{ pitch = 100 }", "2 to 50 mm"),
        ("chart", "{ columns = 0 }", "1 to 40"),
        ("chart", "{ columns = 1, labels = ['a', 'b'] }", "take some out"),
        ("chart", "{ columns = -1 }", "-1"),
        ("two-column-list", "{ columns = 7 }", "1 to 6"),
        ("checklist", "{ mark = 'tick' }", "circle"),
        ("cue-notes", "{ cue = 0.9 }", "0.15 to 0.6"),
        ("day", "{ from = 10, to = 8 }", "from 10 to 8"),
        ("day", "{ to = 24 }", "0 to 23"),
        ("day", "{ clock = 13 }", "24 or 12"),
        ("week", "{ labels = ['a'] }", "give 7"),
        ("week", "{ first-day = 'mon' }", "monday"),
        ("open-week", "{ labels = ['a'] }", "give 7"),
        ("month", "{ rows = 4 }", "5 to 6"),
        ("year", "{ labels = [] }", "give 12"),
        ("year", "{ first-month = 13 }", "1 to 12"),
        ("habits", "{ days = 0 }", "1 to 62"),
        ("staves", "{ joined = 0 }", "1 to 8"),
        ("staves", "{ between = 1 }", "2 to 20"),
        ("storyboard", "{ ratio = 9 }", "0.4 to 4"),
        ("meal-plan", "{ days = ['a'] }", "give 7"),
        ("meal-plan", "{ headings = ['a', 'b', 'c', 'd', 'e', 'f'] }", "Breakfast, Lunch"),
        ("meal-plan", "{ language = 'tlh' }", "give one of ar, de"),
        ("meal-plan", "{ rows = 7 }", "rows"),
        ("ledger", "{ rows = 1 }", "2 to 200"),
        ("goals", "{ count = 7 }", "1 to 6"),
        ("birthdays", "{ first-month = 0 }", "1 to 12"),
        ("mood-year", "{ key = ['one'] }", "2 to 8"),
        ("mind-map", "{ branches = 1 }", "2 to 12"),
        ("perspective", "{ points = 3 }", "1 to 2"),
        ("calligraphy", "{ slant = 10 }", "30 to 90 degrees"),
        ("parts", "{ parts = [] }", "at least one"),
        ("parts", "{ parts = [{ part = 'list' }] }", "ticks"),
        ("parts", "{ parts = [{ part = 'lines', colums = 2 }] }", "colums"),
        ("parts", "{ parts = [{ part = 'lines', count = 2 }] }", "part 1 (lines): it has no use for count"),
        ("parts", "{ parts = [{ part = 'lines', beside = true }] }", "stands beside none"),
        ("parts", "{ parts = [{ part = 'table' }] }", "part 1 (table): it needs labels"),
        (
            "parts",
            "{ parts = [{ part = 'lines' }, { part = 'table', labels = ['A'], widths = [1, 2] }] }",
            "part 2 (table)",
        ),
    ] {
        let said = complaint(name, with);
        assert!(said.contains(says), "{name} {with}: {said:?}");
        let table: toml::Table = format!("x = {with}").parse().unwrap();
        let refused = find(TABLE, name).unwrap().draw(table["x"].as_table().unwrap(), &context(vec![], None));
        assert!(refused.is_none(), "{name} {with} is drawn");
    }
}

#[test]
fn defaults_are_good_and_names_are_their_own() {
    let mut names: Vec<&str> = TABLE.iter().map(|e| e.name).collect();
    for name in &names {
        assert_eq!(complaint(name, "{}"), "", "{name}");
        assert!(name.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{name}");
        assert!(!find(TABLE, name).unwrap().what.is_empty());
    }
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), TABLE.len());
    assert!(find(TABLE, "linned").is_none());
}

#[test]
fn halves_go_by_the_pitch_that_a_ruling_tells() {
    let pitch = |name: &str, with: &str| find(TABLE, name).unwrap().pitch(&table(with));
    assert_eq!(pitch("lined", "pitch = 'wide'"), Some(Mm(8.7).pt()));
    assert_eq!(pitch("dot-grid", ""), Some(Mm(5.0).pt()));
    assert_eq!(pitch("week", ""), None);
    assert_eq!(pitch("lined", "pitch = 'none'"), None);
}

#[test]
fn small_pictures_have_no_text_and_no_empty_desk_fails() {
    let area = vec![Rect::new(0.0, 0.0, 360.0, 520.0)];
    for entry in TABLE {
        let d = entry.draw(&toml::Table::new(), &context(area.clone(), Some(0.2))).unwrap();
        assert!(!d.shapes.iter().any(|s| matches!(s, Shape::Text(_))), "{}", entry.name);
        assert_eq!(d.shapes.is_empty(), entry.name == "blank", "{}", entry.name);
        entry.draw(&toml::Table::new(), &context(Vec::new(), None)).unwrap();
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
