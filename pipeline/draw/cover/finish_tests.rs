//! What is stamped into a board and fitted to it, on boards of all shapes: nothing leaves the board, and nothing crosses label or title.

#![allow(clippy::unwrap_used)]

use super::tests::{FONTS, STYLE, cover, designs, points};
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
    let stamped =
        [Foil::None, Foil::Gold].into_iter().flat_map(|foil| STAMPS.map(|stamp| Finish { foil, stamp, ..plain }));
    fitted.chain(stamped).flat_map(|finish| LABELS.map(|label| Finish { label, ..finish })).collect()
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
fn fittings_of(cover: &Cover, book: &Book) -> Drawing {
    let mut d = Drawing::new();
    let tone = Rgb::new(0xb8, 0x56, 0x4f);
    fittings::cloth_corners(&mut d, cover, tone, book);
    fittings::stitches(&mut d, cover, tone, tone, book);
    fittings::metal_corners(&mut d, cover, &STYLE, book);
    fittings::elastic(&mut d, cover, tone, book);
    let label = label_rect(cover, book.page, book.page.is_landscape(), 12.0);
    emblem(&mut d, cover, None, label, book);
    if matches!(cover.design, CoverDesign::Framed) {
        d.fill(book.frame_areas(fittings::notch(cover.finish, book.unit)), tone);
    }
    d
}

#[test]
fn nothing_fitted_crosses_label_or_title() {
    for (size, finish) in SIZES.into_iter().flat_map(|size| finishes().into_iter().map(move |f| (size, f))) {
        for design in [CoverDesign::Flat, CoverDesign::Framed, CoverDesign::Patterned(base::model::look::Pattern::Dots)]
        {
            let cover = finished(design, finish);
            let book = book(&cover, size, 12.0);
            let label = label_rect(&cover, size, size.is_landscape(), 12.0);
            assert!(book.board().inset(book.unit * 0.5).contains(label, 0.0), "{finish:?} {size:?}");
            let whole = draw(&cover, &STYLE, size, size.is_landscape(), 12.0, &FONTS);
            let title = whole.shapes.iter().find_map(|s| match s {
                Shape::Text(run) => Some((run, FONTS.width(run.role, &run.text, run.size, run.tracking))),
                _ => None,
            });
            let (run, wide) = title.unwrap();
            let title = Rect::new(run.at.x, run.at.y - run.size * 0.75, wide, run.size * 0.95);
            assert!(!title.overlaps(label), "{finish:?} {size:?}");
            for shape in &fittings_of(&cover, &book).shapes {
                for at in grid(label).chain(grid(title)) {
                    assert!(!holds(shape, at), "{finish:?} {size:?}: {shape:?} at {at:?}");
                }
                for p in points(shape) {
                    let within = |r: Rect| p.x > r.x && p.x < r.right() && p.y > r.y && p.y < r.bottom();
                    assert!(!within(label) && !within(title), "{finish:?} {size:?}: {shape:?}");
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
    for (size, finish) in SIZES.into_iter().flat_map(|size| finishes().into_iter().map(move |f| (size, f))) {
        let cover = finished(CoverDesign::Flat, finish);
        let book = book(&cover, size, 12.0);
        // The desk is drawn over the edges afterwards: a shadow may reach beyond them by a hair.
        let near = book.rect.inset(-book.unit * 0.3);
        for p in fittings_of(&cover, &book).shapes.iter().flat_map(points) {
            assert!(near.contains(Rect::new(p.x, p.y, 0.0, 0.0), 0.0), "{finish:?} {size:?} {p:?}");
        }
        let mut d = Drawing::new();
        fittings::ribbons(&mut d, &cover, &STYLE, STYLE.accent, &book, Rect::page(size));
        assert_eq!(d.shapes.len(), 3 * usize::from(finish.ribbons));
        for p in d.shapes.iter().flat_map(points) {
            assert!(p.y >= book.rect.bottom() - 1e-6 && p.y <= size.h, "{finish:?} {size:?} {p:?}");
            assert!(p.x > book.rect.x && p.x < book.rect.right());
        }
    }
}

#[test]
fn every_finish_goes_with_every_design() {
    for design in designs() {
        for finish in finishes().into_iter().step_by(7) {
            for size in [SIZES[0], SIZES[5]] {
                let d = draw(&finished(design.clone(), finish), &STYLE, size, false, 12.0, &FONTS);
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
        let d = draw(&cover, &STYLE, size, false, 12.0, &FONTS);
        let Some(Shape::Text(run)) = d.shapes.iter().rfind(|s| matches!(s, Shape::Text(_))) else { panic!("a title") };
        let least = if run.size >= size.h * title::LARGE { 3.0 } else { 4.5 };
        prop_assert!(colour::contrast(run.colour, cover.colour) >= least - 0.005);
        let Some(Shape::GradedText { run: same, grade }) = d.shapes.last() else { panic!("foil on it") };
        prop_assert_eq!(same, run);
        for (_, tone) in &grade.tones {
            prop_assert!(colour::contrast(*tone, cover.colour) >= least - 0.005, "{} on {}", tone, cover.colour);
        }
    }
}
