//! What is stamped into a board and fitted to it, on boards of all shapes: nothing leaves the board, and nothing crosses label or title.

#![allow(clippy::unwrap_used)]

use super::tests::{FONTS, SIDES, STYLE, bound, cover, designs, points};
use super::*;
use base::model::Point;
use base::model::drawing::{self, Seg};
use base::model::finish::{CornerPieces, Elastic, Finish, Foil, LabelShape, Quarter, Stamp, Stitching};
use proptest::prelude::*;

const LABELS: [LabelShape; 5] =
    [LabelShape::Rectangle, LabelShape::Oval, LabelShape::Arch, LabelShape::Tape, LabelShape::Plaque];
const FOILS: [Foil; 6] = [Foil::Gold, Foil::Silver, Foil::Copper, Foil::RoseGold, Foil::Black, Foil::Pearl];
const STAMPS: [Stamp; 5] = [Stamp::Sprig, Stamp::Sun, Stamp::Moon, Stamp::Compass, Stamp::Rule];
const ELASTICS: [Elastic; 3] = [Elastic::Upright, Elastic::Twin, Elastic::Corners];

/// The sizes of pages that notebooks have: a tall phone, A6, A5, four to three both ways, A4 across.
const SIZES: [Size; 6] = [
    Size::new(212.6, 459.2),
    Size::new(297.6, 419.5),
    Size::new(419.5, 595.3),
    Size::new(576.0, 768.0),
    Size::new(768.0, 576.0),
    Size::new(841.9, 595.3),
];

/// Every kind of thing that can be fitted, each label with each of them.
fn finishes() -> Vec<Finish> {
    let plain = Finish::default();
    let fitted = ELASTICS.into_iter().flat_map(|elastic| {
        [Quarter::None, Quarter::Leather].into_iter().flat_map(move |quarter| {
            [(CornerPieces::Metal, Stitching::Round), (CornerPieces::Cloth, Stitching::Spine)]
                .into_iter()
                .map(move |(corners, stitching)| Finish { elastic, quarter, corners, stitching, ribbons: 3, ..plain })
        })
    });
    let stamped = [(Foil::None, Elastic::None), (Foil::Gold, Elastic::None), (Foil::Gold, Elastic::Upright)]
        .into_iter()
        .flat_map(|(foil, elastic)| STAMPS.map(|stamp| Finish { foil, stamp, elastic, ..plain }));
    fitted.chain(stamped).flat_map(|finish| LABELS.map(|label| Finish { label, ..finish })).collect()
}

/// A book of every size bound at either edge.
fn cases() -> impl Iterator<Item = Case> {
    SIZES.into_iter().flat_map(|size| SIDES.map(|spine| bound(size, spine)))
}

fn finished(design: CoverDesign, finish: Finish) -> Cover {
    Cover { finish, ..cover(design, Rgb::new(0x4f, 0x6d, 0x5a), Rgb::new(0xe9, 0xdc, 0xc0)) }
}

/// Whether a point lies within an outline, whose curves are taken by their control points.
fn holds(shape: &Shape, at: Point) -> bool {
    let (Shape::Path { path, fill: Some(_), .. } | Shape::Graded { path, .. }) = shape else { return false };
    let mut inside = false;
    for part in path.0.chunk_by(|_, next| !matches!(next, Seg::Move(_))) {
        let corners: Vec<Point> = drawing::points(part).collect();
        for (p, q) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            if (p.y > at.y) != (q.y > at.y) && at.x < p.x + (at.y - p.y) / (q.y - p.y) * (q.x - p.x) {
                inside = !inside;
            }
        }
    }
    inside
}

/// Points all over an area, its edges included.
fn grid(r: Rect) -> impl Iterator<Item = Point> {
    (0..=12).flat_map(move |i| {
        (0..=6).map(move |j| Point::new(r.x + r.w * f64::from(i) / 12.0, r.y + r.h * f64::from(j) / 6.0))
    })
}

/// The fittings of a cover, drawn alone.
fn fittings_of(cover: &Cover, case: Case, book: &Book) -> Drawing {
    let mut d = Drawing::new();
    let tone = Rgb::new(0xb8, 0x56, 0x4f);
    fittings::cloth_corners(&mut d, cover, tone, book);
    fittings::stitches(&mut d, cover, tone, tone, book);
    fittings::metal_corners(&mut d, cover, &STYLE, book);
    fittings::elastic(&mut d, cover, tone, book);
    let label = label_rect(cover, case);
    emblem(&mut d, cover, None, label, book);
    if matches!(cover.design, CoverDesign::Banded) && cover.finish.elastic == Elastic::None {
        book.band(&mut d, tone, &STYLE);
    }
    if matches!(cover.design, CoverDesign::Framed) {
        d.fill(book.frame_areas(fittings::notch(cover.finish, book.unit)), tone);
    }
    d
}

#[test]
fn nothing_fitted_crosses_label_or_title() {
    let dots = CoverDesign::Patterned(base::model::look::Pattern::Dots);
    for (case, finish) in cases().flat_map(|case| finishes().into_iter().map(move |f| (case, f))) {
        for design in [CoverDesign::Flat, CoverDesign::Banded, CoverDesign::Framed, dots.clone()] {
            let cover = finished(design, finish);
            let book = book(&cover, case);
            let label = label_rect(&cover, case);
            assert!(book.board().inset(book.unit * 0.5).contains(label, 0.0), "{finish:?} {case:?}");
            let whole = draw(&cover, &STYLE, case, &FONTS);
            let title = whole.shapes.iter().find_map(|s| match s {
                Shape::Text(run) => Some((run, FONTS.width(run.role, &run.text, run.size, run.tracking))),
                _ => None,
            });
            let (run, wide) = title.unwrap();
            let title = Rect::new(run.at.x, run.at.y - run.size * 0.75, wide, run.size * 0.95);
            assert!(!title.overlaps(label), "{finish:?} {case:?}");
            for shape in &fittings_of(&cover, case, &book).shapes {
                for at in grid(label).chain(grid(title)) {
                    assert!(!holds(shape, at), "{finish:?} {case:?}: {shape:?} at {at:?}");
                }
                for p in points(shape) {
                    let within = |r: Rect| p.x > r.x && p.x < r.right() && p.y > r.y && p.y < r.bottom();
                    assert!(!within(label) && !within(title), "{finish:?} {case:?}: {shape:?}");
                }
            }
            // What lies over the label is the label's own; what lies over the title is foil on it.
            let on = whole.shapes.iter().rposition(|s| matches!(s, Shape::Text(_))).unwrap();
            let above = &whole.shapes[on + 1..];
            assert!(above.iter().all(|s| matches!(s, Shape::GradedText { .. })) && above.len() < 2);
        }
    }
}

#[test]
fn nothing_fitted_leaves_the_board_and_ribbons_end_on_the_page() {
    for (case, finish) in cases().flat_map(|case| finishes().into_iter().map(move |f| (case, f))) {
        let cover = finished(CoverDesign::Flat, finish);
        let book = book(&cover, case);
        // The desk is drawn over the edges afterwards: a shadow may reach beyond them by a hair.
        let near = book.rect.inset(-book.unit * 0.3);
        for p in fittings_of(&cover, case, &book).shapes.iter().flat_map(points) {
            assert!(near.contains(Rect::new(p.x, p.y, 0.0, 0.0), 0.0), "{finish:?} {case:?} {p:?}");
        }
        let mut d = Drawing::new();
        fittings::ribbons(&mut d, &cover, &STYLE, STYLE.accent, &book, Rect::page(case.size));
        assert_eq!(d.shapes.len(), 3 * usize::from(finish.ribbons));
        for p in d.shapes.iter().flat_map(points) {
            assert!(p.y >= book.rect.bottom() - 1e-6 && p.y <= case.size.h, "{finish:?} {case:?} {p:?}");
            // They come out where the foot is straight.
            assert!(p.x >= book.rect.x + book.radii()[3] && p.x < book.rect.right());
        }
    }
}

/// The spine strip is drawn at the edge where the book is bound, and nowhere else.
#[test]
fn the_spine_lies_where_the_book_is_bound() {
    let all: Vec<Finish> = finishes().into_iter().step_by(11).chain([Finish::default()]).collect();
    let ends = || cases().filter(|case| [SIZES[0], SIZES[5]].contains(&case.size));
    for (design, case) in designs().into_iter().flat_map(|design| ends().map(move |case| (design.clone(), case))) {
        for finish in &all {
            let cover = finished(design.clone(), *finish);
            let d = draw(&cover, &STYLE, case, &FONTS);
            let book = book(&cover, case);
            let strip = |side: Side, wide: f64| match side {
                Side::Left => Path::rect(Rect { w: wide, ..book.rect }),
                Side::Top => Path::rect(Rect { h: wide, ..book.rect }),
            };
            let drawn = |wanted: &Path| {
                d.shapes.iter().any(|s| matches!(s, Shape::Path { path, fill: Some(_), .. } if path == wanted))
            };
            for side in SIDES {
                for wide in [book.spine, book.spine + book.quarter] {
                    assert_eq!(drawn(&strip(side, wide)), side == case.spine, "{design:?} {finish:?} {case:?}");
                }
            }
        }
    }
}

/// Corner pieces and elastic are at the edge that opens, stitches along the spine beside it.
#[test]
fn nothing_is_fitted_to_the_wrong_edge() {
    for (case, finish) in cases().flat_map(|case| finishes().into_iter().map(move |f| (case, f))) {
        for design in [CoverDesign::Flat, CoverDesign::Banded, CoverDesign::Framed] {
            let cover = finished(design, finish);
            let book = book(&cover, case);
            let (u, r) = (book.unit, book.rect);
            // How far a point is from the spine's edge and from that opposite.
            let from = |p: Point| match case.spine {
                Side::Left => (p.x - r.x, r.right() - p.x),
                Side::Top => (p.y - r.y, r.bottom() - p.y),
            };
            let mut d = Drawing::new();
            fittings::cloth_corners(&mut d, &cover, STYLE.accent, &book);
            fittings::metal_corners(&mut d, &cover, &STYLE, &book);
            fittings::elastic(&mut d, &cover, STYLE.accent, &book);
            if matches!(cover.design, CoverDesign::Banded) {
                book.band(&mut d, STYLE.accent, &STYLE);
            }
            for p in d.shapes.iter().flat_map(points) {
                assert!(from(p).1 <= u * 5.3 && from(p).1 >= -u * 0.2, "{finish:?} {case:?} {p:?}");
            }
            if finish.stitching != Stitching::Spine {
                continue;
            }
            let mut d = Drawing::new();
            fittings::stitches(&mut d, &cover, STYLE.accent, STYLE.accent, &book);
            assert_eq!(d.shapes.len(), 3);
            for p in d.shapes.iter().flat_map(points) {
                assert!(from(p).0 > book.spine && from(p).0 < u * 4.0, "{finish:?} {case:?} {p:?}");
            }
        }
    }
}

/// On a square page the elastic of a book that is bound along the top is that of the other one with across and down changed.
#[test]
fn an_elastic_turns_with_its_book() {
    let square = Size::new(500.0, 500.0);
    for finish in finishes() {
        let cover = finished(CoverDesign::Flat, finish);
        let of = |spine: Side| {
            let book = book(&cover, bound(square, spine));
            let mut d = Drawing::new();
            fittings::elastic(&mut d, &cover, STYLE.accent, &book);
            // What has a shadow of its own differs by where that falls.
            let lies = |s: &&Shape| match finish.elastic {
                Elastic::Corners => matches!(s, Shape::Graded { .. }),
                _ => matches!(s, Shape::Path { fill: Some(_), .. } | Shape::Graded { .. }),
            };
            d.shapes.iter().filter(lies).flat_map(points).collect::<Vec<Point>>()
        };
        let fine = |v: f64| (v * 1e6).round() as i64;
        let mut left: Vec<(i64, i64)> = of(Side::Left).iter().map(|p| (fine(p.y), fine(p.x))).collect();
        let mut top: Vec<(i64, i64)> = of(Side::Top).iter().map(|p| (fine(p.x), fine(p.y))).collect();
        left.sort_unstable();
        top.sort_unstable();
        assert_eq!(left, top, "{finish:?}");
    }
}

#[test]
fn every_finish_goes_with_every_design() {
    for design in designs() {
        for finish in finishes().into_iter().step_by(7) {
            for case in cases().filter(|case| [SIZES[0], SIZES[5]].contains(&case.size)) {
                let d = draw(&finished(design.clone(), finish), &STYLE, case, &FONTS);
                for shape in &d.shapes {
                    assert!(points(shape).iter().all(|p| p.x.is_finite() && p.y.is_finite()), "{finish:?} {shape:?}");
                    if let Shape::Graded { grade, .. } | Shape::GradedText { grade, .. } = shape {
                        let at: Vec<f64> = grade.tones.iter().map(|t| t.0).collect();
                        assert!(at.len() >= 2 && at[0] == 0.0 && *at.last().unwrap() == 1.0, "{at:?}");
                        assert!(at.windows(2).all(|w| w[0] <= w[1]), "{at:?}");
                        assert!(grade.from != grade.to);
                    }
                }
            }
        }
    }
}

#[test]
fn an_emblem_stays_within_its_reach() {
    for stamp in STAMPS {
        let path = emblem::path(stamp, Point::new(300.0, 400.0), 50.0).unwrap();
        let far = path.0.iter().flat_map(|s| match *s {
            Seg::Move(p) | Seg::Line(p) | Seg::Cubic(_, _, p) => vec![p],
            Seg::Close => vec![],
        });
        let far = far.map(|p| libm::hypot(p.x - 300.0, p.y - 400.0)).fold(0.0, f64::max);
        assert!((40.0..=52.5).contains(&far), "{stamp:?} {far}");
    }
    assert!(emblem::path(Stamp::None, Point::default(), 1.0).is_none());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    /// Words in foil are read on a board of any colour, in all of the foil's light.
    #[test]
    fn foil_hides_no_title([r, g, b] in any::<[u8; 3]>(), which in 0..FOILS.len(), long in any::<bool>()) {
        let mut cover = finished(CoverDesign::Flat, Finish { foil: FOILS[which], ..Finish::default() });
        cover.colour = Rgb::new(r, g, b);
        if long {
            cover.line = "A Notebook for Everything That Grows Between the Wall and the Well".into();
        }
        let size = SIZES[2];
        let d = draw(&cover, &STYLE, bound(size, Side::Left), &FONTS);
        let Some(Shape::Text(run)) = d.shapes.iter().rfind(|s| matches!(s, Shape::Text(_))) else { panic!("a title") };
        let least = if run.size >= size.h * title::LARGE { 3.0 } else { 4.5 };
        prop_assert!(colour::contrast(run.colour, cover.colour) >= least - 0.005);
        let Some(Shape::GradedText { run: same, grade }) = d.shapes.last() else { panic!("foil on it") };
        prop_assert_eq!(same, run);
        for (_, tone) in &grade.tones {
            prop_assert!(colour::contrast(*tone, cover.colour) >= least - 0.005, "{} on {}", tone, cover.colour);
        }
    }

    /// Words in foil begin and end with its own tone and are lit between; nowhere are they as deep as its shadow, which would make
    /// a word of another colour where it lay there alone.
    #[test]
    fn words_in_foil_are_lit([r, g, b] in any::<[u8; 3]>(), which in 0..FOILS.len(), words in 1..12_usize) {
        let ground = Rgb::new(r, g, b);
        let foil = foil::on(foil::tones(FOILS[which]).unwrap(), ground, 3.0);
        let room = Rect::new(40.0, 700.0, 30.0 * words as f64, 14.0);
        let grade = foil::sheen_on_words(foil, room);
        let tone = |n: usize| grade.tones[n].1;
        let last = grade.tones.len() - 1;
        prop_assert_eq!([tone(0), tone(last)], [foil.body; 2]);
        prop_assert!(grade.tones.iter().any(|(_, tone)| *tone == foil.shine));
        let least = colour::mix(foil.body, foil.deep, 0.5);
        let allowed = [foil.body, foil.shine, least];
        prop_assert!(grade.tones.iter().all(|(_, tone)| allowed.contains(tone)));
        // One light is in the middle of its word, and nothing of the shadow beside it.
        if room.w < room.h * 20.0 {
            let middle = grade.tones.iter().find(|(at, _)| *at == 0.5);
            prop_assert_eq!(middle.map(|(_, tone)| *tone), Some(foil.shine));
            prop_assert!(grade.tones.iter().all(|(_, tone)| [foil.body, foil.shine].contains(tone)));
        }
        // Every light is as wide as about so many letters, however long the line.
        let lights = grade.tones.iter().filter(|(_, tone)| *tone == foil.shine).count();
        prop_assert!(foil.body == foil.shine || room.w / lights as f64 <= room.h * 21.0);
    }
}

/// Gold on a dark board is gold from the first letter to the last, never brown, whatever the word and wherever the book is bound.
#[test]
fn gold_on_navy_is_never_brown() {
    let words = ["I", "Log", "Ledger", "Tides", "Allotment Year", "A Year of Tides and Ferries by the Harbour Wall"];
    for (case, words) in cases().flat_map(|case| words.map(|words| (case, words))) {
        let mut cover = finished(CoverDesign::Framed, Finish { foil: Foil::Gold, ..Finish::default() });
        (cover.colour, cover.line) = (Rgb::new(0x22, 0x37, 0x4f), words.into());
        let d = draw(&cover, &STYLE, case, &FONTS);
        let Some(Shape::GradedText { run, grade }) = d.shapes.last() else { panic!("foil on the title") };
        // The light lies on the words themselves, not on the board round them.
        let wide = FONTS.width(run.role, &run.text, run.size, run.tracking);
        assert!((grade.from.x - run.at.x).abs() < 1e-6 && grade.to.x <= run.at.x + wide + run.size, "{words} {case:?}");
        for (_, tone) in &grade.tones {
            // The foil itself has a lightness of 0.76, and its shadow, which is brown, one of 0.58.
            assert!(colour::to_oklch(*tone)[0] > 0.66, "{tone} in {words:?} on {case:?}");
        }
    }
}
