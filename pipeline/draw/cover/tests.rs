//! Covers of every design at every size, looked at as pixels and measured as shapes.

#![allow(clippy::unwrap_used)]

use super::*;
use crate::svg;
use base::model::drawing::Role;
use base::model::look::Material;
use base::model::product::{Coil, FontFile, Pattern};
use base::model::{Mm, Point};
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::sync::LazyLock;

pub static STYLE: LazyLock<Style> = LazyLock::new(|| {
    // One family for all roles will do here.
    let font = |role: &Role| {
        let bytes = notosans::REGULAR_TTF.into();
        (*role, vec![FontFile { from: "Noto Sans".into(), bytes, built_in: true, figures: None }])
    };
    Style {
        fonts: BTreeMap::from_iter(Role::ALL.iter().map(font)),
        ink: Rgb::new(0x2b, 0x2a, 0x33),
        rule: Rgb::new(0xb4, 0xb2, 0xb3),
        paper: Rgb::new(0xfd, 0xfb, 0xf6),
        desk: Rgb::new(0xd9, 0xd4, 0xc8),
        accent: Rgb::new(0xb5, 0x52, 0x3b),
        corner: Mm(3.0),
        manner: Default::default(),
    }
});

pub static FONTS: LazyLock<Fonts> = LazyLock::new(|| Fonts::open(&STYLE.fonts).unwrap());

fn picture(w: u32, h: u32) -> Arc<Picture> {
    // Each pixel tells where it was: red its column, green its row.
    let rgba = (0..h).flat_map(|y| (0..w).flat_map(move |x| [x as u8, y as u8, 0, 255])).collect();
    Arc::new(Picture { name: "linen".into(), width: w, height: h, rgba })
}

pub fn designs() -> Vec<CoverDesign> {
    let mut all = vec![CoverDesign::Flat, CoverDesign::Banded, CoverDesign::Framed];
    all.push(CoverDesign::Texture(picture(40, 30)));
    all.extend(Pattern::ALL.map(CoverDesign::Patterned));
    all
}

pub fn cover(design: CoverDesign, ground: Rgb, second: Rgb) -> Cover {
    Cover {
        name: "cover".into(),
        design,
        colour: ground,
        second,
        material: Material::Plain,
        finish: Default::default(),
        label: true,
        line: "Allotment Year".into(),
    }
}

pub const SIDES: [Side; 2] = [Side::Left, Side::Top];

/// A book bound at this edge on a page of this size, which stands for two papers where it is wide.
pub fn bound(size: Size, spine: Side) -> Case {
    Case { size, spread: size.is_landscape(), corner: 12.0, spine }
}

fn drawn(cover: &Cover, size: Size, spine: Side) -> Drawing {
    draw(cover, &STYLE, bound(size, spine), &FONTS)
}

fn sides() -> impl Strategy<Value = Side> {
    prop_oneof![Just(Side::Left), Just(Side::Top)]
}

/// The pixels of a drawing, by their place in points.
fn pixels(d: &Drawing, size: Size) -> impl Fn(f64, f64) -> Rgb + use<> {
    let text = svg::document(d, size, &FONTS, &[]);
    let tree = resvg::usvg::Tree::from_str(&text, &Default::default()).unwrap();
    let mut pixels = resvg::tiny_skia::Pixmap::new(size.w as u32, size.h as u32).unwrap();
    resvg::render(&tree, Default::default(), &mut pixels.as_mut());
    move |x, y| {
        let p = pixels.pixel(x as u32, y as u32).unwrap();
        assert_eq!(p.alpha(), 255);
        Rgb::new(p.red(), p.green(), p.blue())
    }
}

pub fn points(shape: &Shape) -> Vec<Point> {
    match shape {
        Shape::Path { path, .. } | Shape::Graded { path, .. } => path.points().collect(),
        Shape::Dots { at, .. } => at.clone(),
        Shape::Text(t) | Shape::GradedText { run: t, .. } => {
            let w = FONTS.width(t.role, &t.text, t.size, t.tracking);
            vec![t.at, Point::new(t.at.x + w, t.at.y - t.size)]
        }
        Shape::Picture { at, .. } => vec![Point::new(at.x, at.y), Point::new(at.right(), at.bottom())],
        Shape::Form { .. } | Shape::Art { .. } | Shape::Tiled { .. } => {
            panic!("a cover uses no forms, and no paper is seen")
        }
    }
}

fn colours() -> impl Strategy<Value = Rgb> {
    any::<[u8; 3]>().prop_map(|[r, g, b]| Rgb::new(r, g, b))
}

fn sizes() -> impl Strategy<Value = Size> {
    (100.0..1300.0, 100.0..1300.0).prop_map(|(w, h)| Size::new(w, h))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn nothing_strays_far_from_the_page(size in sizes(), spine in sides(), ground in colours(), second in colours()) {
        // Motifs overhang the book a little; the desk covers them and the page's edge cuts off what is left.
        let near = Rect::page(size).inset(-size.w.min(size.h) / 6.0);
        for design in designs() {
            let d = drawn(&cover(design.clone(), ground, second), size, spine);
            for shape in &d.shapes {
                for p in points(shape) {
                    let inside = p.x >= near.x && p.y >= near.y && p.x <= near.right() && p.y <= near.bottom();
                    prop_assert!(inside, "{:?} {:?} {:?}", design, shape, size);
                }
            }
        }
    }

    #[test]
    fn the_label_stands_at_the_optical_centre(size in sizes(), spine in sides(), spread in any::<bool>()) {
        let case = Case { spread, ..bound(size, spine) };
        let label = label_rect(&cover(CoverDesign::Flat, STYLE.accent, STYLE.ink), case);
        let board = Book::new(case).board();
        prop_assert!(board.contains(label, 1e-9));
        prop_assert!((label.centre().x - board.centre().x).abs() < 1e-9);
        prop_assert!((label.centre().y - board.y - board.h * 0.375).abs() < 1e-9);
    }

    #[test]
    fn the_line_is_legible_on_any_colour(ground in colours(), second in colours()) {
        for design in designs() {
            let d = drawn(&cover(design, ground, second), Size::new(768.0, 1024.0), Side::Left);
            let Some(Shape::Text(run)) = d.shapes.last() else { panic!("a line of text on top") };
            // What lies below it: a pill, or the board.
            let below = match &d.shapes[d.shapes.len() - 2] {
                Shape::Path { path, fill: Some(fill), .. } if path.0.len() > 5 => *fill,
                _ => ground,
            };
            let worst = colour::contrast(run.colour, below);
            prop_assert!(worst >= 4.5, "{} on {}: {}", run.colour, below, worst);
        }
    }

    #[test]
    fn patterns_are_tone_on_tone(ground in colours(), second in colours()) {
        for pattern in [Pattern::Dots, Pattern::Gingham] {
            let d = drawn(&cover(CoverDesign::Patterned(pattern), ground, second), Size::new(400.0, 600.0), Side::Left);
            let motif = d.shapes.iter().find_map(|s| match s {
                Shape::Dots { colour, .. } => Some(*colour),
                _ => None,
            });
            if let Some(motif) = motif {
                let off = room::distance(ground, motif);
                prop_assert!((0.015..0.08).contains(&off), "{} on {}: {}", motif, ground, off);
            }
        }
    }
}

/// The desk shows at the page's corners whatever overhangs the book, the label in its place, paper and all. The spine is at its edge;
/// shadow and pages are seen at the right and below, wherever that is.
#[test]
fn pixels_are_where_they_belong() {
    let ground = Rgb::new(0x5f, 0x7a, 0x5c);
    let sizes = [Size::new(768.0, 1024.0), Size::new(1024.0, 768.0), Size::new(212.6, 459.2)];
    for (size, spine) in sizes.into_iter().flat_map(|size| SIDES.map(|spine| (size, spine))) {
        for design in designs() {
            if matches!(design, CoverDesign::Texture(_)) {
                continue;
            }
            let case = bound(size, spine);
            let d = drawn(&cover(design.clone(), ground, Rgb::new(0xe9, 0xdc, 0xc0)), size, spine);
            let at = pixels(&d, size);
            for (x, y) in [(1.0, 1.0), (size.w - 3.0, 1.0), (1.0, size.h - 3.0)] {
                assert_eq!(at(x, y), STYLE.desk, "{design:?} at {x}, {y}");
            }
            let label = label_rect(&cover(design.clone(), ground, ground), case);
            assert_eq!(at(label.centre().x, label.y + label.h * 0.3), STYLE.paper, "{design:?}");
            let book = Book::new(case);
            let (r, within) = (book.rect, book.spine / 2.0);
            let strip = match spine {
                Side::Left => at(r.x + within, size.h / 2.0),
                Side::Top => at(size.w / 2.0, r.y + within),
            };
            assert!(colour::luminance(strip) < colour::luminance(ground), "{design:?}");
            let (middle, sliver) = (r.centre(), book.unit * 0.15);
            for (x, y) in [(r.x - 2.0, middle.y), (middle.x, r.y - 2.0)] {
                assert_eq!(at(x, y), STYLE.desk, "{design:?} {spine:?}: the light comes from there");
            }
            for (x, y) in [(r.right() + sliver, middle.y), (middle.x, r.bottom() + sliver)] {
                assert_ne!(at(x, y), STYLE.desk, "{design:?} {spine:?}: pages are seen there");
            }
        }
    }
}

/// All that says where a book is bound, measured by hand on a page of 1000 by 750.
#[test]
fn a_book_is_bound_at_the_left_or_along_the_top() {
    assert_eq!([Coil::Middle, Coil::None, Coil::Top].map(Side::of), [Side::Left, Side::Left, Side::Top]);
    assert_eq!(SIDES.map(|side| Side::named(side.name())), SIDES.map(Some));
    assert_eq!(Side::named("foot"), None);
    let near = |a: Rect, [x, y, w, h]: [f64; 4]| {
        let off = [a.x - x, a.y - y, a.w - w, a.h - h];
        assert!(off.iter().all(|v| v.abs() < 1e-9), "{a:?} is not {x} {y} {w} {h}");
    };
    let made = |spine| Book::new(bound(Size::new(1000.0, 750.0), spine)).quartered();
    // The margin is 22.5, the measure 28.2; the spine takes 42.3 and the strip 59.22 more.
    let left = made(Side::Left);
    near(left.rect, [22.5, 22.5, 955.0, 705.0]);
    near(left.strip(), [22.5, 22.5, 101.52, 705.0]);
    near(left.board(), [124.02, 22.5, 853.48, 705.0]);
    assert_eq!(left.radii(), [5.4, 12.0, 12.0, 5.4]);
    assert_eq!(left.outer_corners().map(|c| (c.at.x, c.at.y)), [(977.5, 22.5), (977.5, 727.5)]);
    let top = made(Side::Top);
    near(top.rect, [22.5, 22.5, 955.0, 705.0]);
    near(top.strip(), [22.5, 22.5, 955.0, 101.52]);
    near(top.board(), [22.5, 124.02, 955.0, 603.48]);
    assert_eq!(top.radii(), [5.4, 5.4, 12.0, 12.0]);
    assert_eq!(top.outer_corners().map(|c| (c.at.x, c.at.y)), [(22.5, 727.5), (977.5, 727.5)]);
}

/// The board is whole up to its outline at all four corners, however round they are, and beyond it nothing is board.
#[test]
fn the_corners_of_a_board_are_whole() {
    let ground = Rgb::new(0x9f, 0x3a, 0x5c);
    for (size, corner) in
        [(Size::new(768.0, 1024.0), 9.0), (Size::new(1024.0, 768.0), 24.0), (Size::new(500.0, 1083.0), 40.0)]
    {
        let plain = cover(CoverDesign::Flat, ground, ground);
        let made = SIDES.map(|spine| {
            let case = Case { spread: false, corner, ..bound(size, spine) };
            (case, pixels(&draw(&plain, &STYLE, case, &FONTS), size))
        });
        let corners = [(false, false), (true, false), (false, true), (true, true)];
        for ((case, at), (right, foot)) in made.iter().flat_map(|made| corners.map(|corner| (made, corner))) {
            let book = Book::new(*case);
            let r = book.rect;
            // The corners by the spine are sharper.
            let by_spine = if case.spine == Side::Left { !right } else { !foot };
            let round = if by_spine { book.corner * 0.45 } else { book.corner };
            let (across, down) = (if right { -1.0 } else { 1.0 }, if foot { -1.0 } else { 1.0 });
            let (x, y) = (if right { r.right() } else { r.x }, if foot { r.bottom() } else { r.y });
            let centre = Point::new(x + across * round, y + down * round);
            for step in 0..=8 {
                let (sin, cos) = libm::sincos(f64::from(step) / 8.0 * std::f64::consts::FRAC_PI_2);
                let seen = |reach: f64| {
                    let p = Point::new(centre.x - across * cos * reach, centre.y - down * sin * reach);
                    at(p.x, p.y)
                };
                // Board and spine have one hue, desk and pages have none.
                let is_board = |c: Rgb| c.r > c.g.saturating_add(40);
                assert!(is_board(seen((round - 2.0).max(0.0))), "{case:?} {right} {foot} {step}");
                assert!(!is_board(seen(round + 2.5)), "beyond: {case:?} {right} {foot} {step}");
            }
        }
    }
}

#[test]
fn a_picture_is_cropped_round_its_middle() {
    let wide = crop(&picture(40, 30), 0.5);
    assert_eq!((wide.width, wide.height), (15, 30));
    assert_eq!(wide.rgba.len(), 15 * 30 * 4);
    // (40 - 15) / 2 columns are left out on the left.
    assert_eq!(wide.rgba.bytes()[..4], [12, 0, 0, 255]);
    assert_eq!(wide.rgba.bytes()[wide.rgba.len() - 4..], [26, 29, 0, 255]);
    let tall = crop(&picture(20, 50), 2.0);
    assert_eq!((tall.width, tall.height), (20, 10));
    assert_eq!(tall.rgba.bytes()[..4], [0, 20, 0, 255]);
    let same = picture(30, 30);
    assert!(Arc::ptr_eq(&same, &crop(&same, 1.0)));
    let thin = crop(&picture(1, 1), 7.0);
    assert_eq!((thin.width, thin.height), (1, 1));
}

#[test]
fn label_and_line_are_left_out_when_unwanted() {
    let mut plain = cover(CoverDesign::Flat, Rgb::new(90, 120, 90), Rgb::WHITE);
    (plain.label, plain.line) = (false, String::new());
    let d = drawn(&plain, Size::new(400.0, 600.0), Side::Left);
    assert!(!d.shapes.iter().any(|s| matches!(s, Shape::Text(_))));
    assert!(!d.shapes.iter().any(|s| matches!(s, Shape::Path { fill: Some(f), .. } if *f == STYLE.paper)));
}

/// A line that is too long is shrunk, then cut.
#[test]
fn a_long_line_stays_on_the_board() {
    let mut long = cover(CoverDesign::Framed, Rgb::new(40, 40, 60), Rgb::WHITE);
    long.line = "The Longest Name That Anybody Ever Gave to a Notebook for Allotments ".repeat(4);
    let sizes = [Size::new(212.6, 459.2), Size::new(842.0, 595.0)];
    for (size, spine) in sizes.into_iter().flat_map(|size| SIDES.map(|spine| (size, spine))) {
        let d = drawn(&long, size, spine);
        let Some(Shape::Text(run)) = d.shapes.last() else { panic!("a line of text on top") };
        let w = FONTS.width(run.role, &run.text, run.size, run.tracking);
        let board = Book::new(bound(size, spine)).board();
        assert!(run.size >= 5.0 && run.text.ends_with('…'));
        assert!(run.at.x > board.x && run.at.x + w < board.right());
    }
}

proptest! {
    /// What a reader takes for the content of the page has the same margin on both sides.
    #[test]
    fn dots_lie_evenly_between_the_sides(w in 120.0..900.0_f64, h in 120.0..900.0_f64, unit in 8.0..40.0_f64) {
        let tones = room::Tones::new(Rgb::new(90, 110, 80), Rgb::new(40, 50, 40), Rgb::new(30, 30, 30));
        let (mut d, r) = (Drawing::new(), Rect::new(17.0, 29.0, w, h));
        patterns::draw(&mut d, Pattern::Dots, room::Room { field: r, clear: None }, unit, &tones);
        let Some(Shape::Dots { at, diameter, .. }) = d.shapes.first() else { panic!("dots") };
        let ends = |of: &dyn Fn(&Point) -> f64| {
            let all: Vec<f64> = at.iter().map(of).collect();
            (all.iter().copied().fold(f64::INFINITY, f64::min), all.iter().copied().fold(f64::NEG_INFINITY, f64::max))
        };
        let ((left, right), (top, bottom)) = (ends(&|p| p.x), ends(&|p| p.y));
        prop_assert!(((left - r.x) - (r.right() - right)).abs() < 1e-6);
        prop_assert!(((top - r.y) - (r.bottom() - bottom)).abs() < 1e-6);
        // No strip along an edge stays bare, and nothing lies further out than the book is trimmed.
        prop_assert!(left - diameter < r.x + unit && left > r.x - unit * 1.1, "{left} {}", r.x);
    }

    /// No pattern leaves its field, and no motif that stands alone touches what is kept clear.
    #[test]
    fn a_pattern_ends_at_its_field(w in 120.0..900.0_f64, h in 120.0..900.0_f64, unit in 8.0..40.0_f64) {
        let tones = room::Tones::new(Rgb::new(90, 110, 80), Rgb::new(40, 50, 40), Rgb::new(30, 30, 30));
        let field = Rect::new(17.0, 29.0, w, h);
        let clear = Rect::new(17.0 + w * 0.3, 29.0 + h * 0.3, w * 0.4, h * 0.2);
        for pattern in Pattern::ALL {
            let mut d = Drawing::new();
            patterns::draw(&mut d, pattern, room::Room { field, clear: Some(clear) }, unit, &tones);
            let alone = pattern.stands_alone() && pattern != Pattern::Lattice;
            for p in d.shapes.iter().flat_map(points) {
                let inside = p.x >= field.x - 1e-6
                    && p.x <= field.right() + 1e-6
                    && p.y >= field.y - 1e-6
                    && p.y <= field.bottom() + 1e-6;
                prop_assert!(inside, "{:?} at {:?} of {:?}", pattern, p, field);
                let within = p.x > clear.x && p.x < clear.right() && p.y > clear.y && p.y < clear.bottom();
                prop_assert!(!(alone && within), "{:?} at {:?} meets the label", pattern, p);
            }
        }
    }

    /// A label stands out from a dark board, whatever the style, and a shadow on the board is darker than the board.
    #[test]
    fn a_label_is_no_hole(ground in colours()) {
        let mut dark = STYLE.clone();
        (dark.paper, dark.ink, dark.desk) = (Rgb::new(0x20, 0x24, 0x2b), Rgb::new(0xee, 0xea, 0xe2), Rgb::new(0x15, 0x18, 0x1c));
        for style in [&*STYLE, &dark] {
            let cover = cover(CoverDesign::Flat, ground, Rgb::WHITE);
            let paper = label::paper(&cover, style);
            let above = colour::contrast(paper, ground);
            let light = colour::contrast(Rgb::WHITE, ground) < label::ABOVE;
            prop_assert!(light || (above >= label::ABOVE && colour::luminance(paper) > colour::luminance(ground)));
            prop_assert!(light || colour::luminance(paper) > 0.2);
        }
    }
}
