//! A drawing as it stands by itself: its forms written out and its texts as outlines, so that it can be shown small in another
//! document without bringing words or fonts along.

use super::fonts::Fonts;
use base::model::drawing::{Drawing, Path, Seg, Shape, Stroke, TextRun, Turn};
use base::model::{Point, Rect};

/// The drawing on its own, scaled and moved: `p ↦ at + scale · p`. Forms that it uses come from `forms`.
pub fn flat(drawing: &Drawing, forms: &[Drawing], fonts: &Fonts, at: Point, scale: f64) -> Drawing {
    let mut out = Drawing::new();
    let writer = Writer { forms, fonts };
    writer.lay(&mut out, drawing, at, scale, DEEPEST);
    out
}

/// Forms within forms at most: a page places its template, which places the chrome.
const DEEPEST: usize = 6;

struct Writer<'a> {
    forms: &'a [Drawing],
    fonts: &'a Fonts,
}

impl Writer<'_> {
    fn lay(&self, out: &mut Drawing, drawing: &Drawing, at: Point, scale: f64, deeper: usize) {
        let point = |p: Point| Point::new(at.x + scale * p.x, at.y + scale * p.y);
        let rect = |r: Rect| Rect::new(at.x + scale * r.x, at.y + scale * r.y, scale * r.w, scale * r.h);
        let line =
            |s: &Stroke| Stroke { width: s.width * scale, dash: s.dash.map(|(a, b)| (a * scale, b * scale)), ..*s };
        for shape in &drawing.shapes {
            match shape {
                Shape::Path { path, fill, stroke } => {
                    let (path, stroke) = (path.placed(at, scale), stroke.as_ref().map(line));
                    out.push(Shape::Path { path, fill: *fill, stroke });
                }
                Shape::Graded { path, grade } => {
                    out.grade(path.placed(at, scale), grade.clone().at(point));
                }
                Shape::GradedText { run, grade } => {
                    out.grade(outlined(run, self.fonts).placed(at, scale), grade.clone().at(point));
                }
                Shape::Dots { at: dots, diameter, colour } => {
                    let at = dots.iter().map(|p| point(*p)).collect();
                    out.push(Shape::Dots { at, diameter: diameter * scale, colour: *colour });
                }
                Shape::Text(run) => {
                    let path = outlined(run, self.fonts);
                    if !path.0.is_empty() {
                        out.fill(path.placed(at, scale), run.colour);
                    }
                }
                Shape::Picture { picture, at, turn } => {
                    out.push(Shape::Picture { picture: picture.clone(), at: rect(*at), turn: *turn });
                }
                // Shown small, a grain is not seen.
                Shape::Tiled { .. } => {}
                Shape::Art { art, at, clip } => {
                    out.push(Shape::Art { art: art.clone(), at: rect(*at), clip: rect(*clip) });
                }
                Shape::Form { form, at: corner, scale: more } => {
                    if let (Some(inner), Some(deeper)) = (self.forms.get(*form), deeper.checked_sub(1)) {
                        self.lay(out, inner, point(*corner), scale * more, deeper);
                    }
                }
            }
        }
    }
}

/// Outlines of letters lie on a grid so fine, in points: nobody sees it where they are shown small, and numbers are short.
const FINE: f64 = 0.04;

/// A line of text as the outlines of its glyphs.
pub fn outlined(run: &TextRun, fonts: &Fonts) -> Path {
    let (mut segs, mut pen) = (Vec::new(), 0.0);
    for glyph in fonts.shape(run.role, &run.text).iter().filter(|g| !g.is_hidden(&run.text)) {
        let at = Point::new((pen + glyph.dx) * run.size, -glyph.dy * run.size);
        segs.extend(fonts.outline(glyph, run.size).placed(at, 1.0).0);
        pen += glyph.tracked(run.tracking);
    }
    let fine = |v: f64| (v / FINE).round() * FINE;
    let turned = |p: Point| {
        let (x, y) = match run.turn {
            Turn::None => (p.x, p.y),
            Turn::Down => (-p.y, p.x),
            Turn::Up => (p.y, -p.x),
        };
        Point::new(fine(run.at.x + x), fine(run.at.y + y))
    };
    let seg = |seg: Seg| match seg {
        Seg::Move(p) => Seg::Move(turned(p)),
        Seg::Line(p) => Seg::Line(turned(p)),
        Seg::Cubic(a, b, c) => Seg::Cubic(turned(a), turned(b), turned(c)),
        Seg::Close => Seg::Close,
    };
    Path(segs.into_iter().map(seg).collect())
}
