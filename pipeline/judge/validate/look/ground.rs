//! What lies beneath each text: the last filled shape before it that holds it whole.

use base::model::drawing::{self, Drawing, Path, Seg, Shape, TextRun};
use base::model::geometry::{Point, Rect};
use base::model::pdf_plan::PdfPlan;
use base::model::units::Rgb;

/// The deepest nesting of forms that is followed.
const MAX_DEPTH: usize = 8;

/// A text with its place and its ground.
pub struct Written<'p> {
    /// Page index from 0; `None` for a text of a form, which stands on many pages.
    pub page: Option<usize>,
    /// The text.
    pub run: &'p TextRun,
    /// Its extent in the space in which it was written.
    pub area: Rect,
    /// The colour beneath it; `None` where it lies on a picture or on what cannot be told.
    pub ground: Option<Rgb>,
}

/// A filled area with the holes in it, or a picture or colours that run into each other, whose colour is not one.
#[derive(Clone)]
struct Fill {
    area: Rect,
    holes: Vec<Rect>,
    colour: Option<Rgb>,
}

impl Fill {
    /// Whether it lies beneath the whole of an area.
    fn is_beneath(&self, area: Rect) -> bool {
        self.area.contains(area, 0.5) && !self.holes.iter().any(|hole| hole.contains(area, 0.5))
    }
}

/// Every text of a document, forms once, pages with what their forms lay beneath.
pub fn written<'p>(pdf: &'p PdfPlan, extent: impl Fn(&TextRun) -> Rect) -> Vec<Written<'p>> {
    let mut out = Vec::new();
    for form in &pdf.forms {
        walk(form, pdf, None, &extent, &mut out);
    }
    let flat: Vec<Vec<Fill>> = pdf.forms.iter().map(|form| flatten(form, pdf, 0)).collect();
    for (i, page) in pdf.pages.iter().enumerate() {
        walk(&page.drawing, pdf, Some((i, &flat)), &extent, &mut out);
    }
    out
}

fn walk<'p>(
    drawing: &'p Drawing,
    pdf: &PdfPlan,
    page: Option<(usize, &[Vec<Fill>])>,
    extent: &impl Fn(&TextRun) -> Rect,
    out: &mut Vec<Written<'p>>,
) {
    let mut fills: Vec<Fill> = Vec::new();
    for shape in &drawing.shapes {
        match shape {
            Shape::Text(run) if !run.text.trim().is_empty() => {
                let area = extent(run);
                let beneath = fills.iter().rev().find(|fill| fill.is_beneath(area));
                out.push(Written { page: page.map(|(i, _)| i), run, area, ground: beneath.and_then(|f| f.colour) });
            }
            Shape::Form { form, at, scale } => match page {
                Some((_, flat)) => fills.extend(flat.get(*form).into_iter().flatten().map(|f| placed(f, *at, *scale))),
                None => fills.extend(shape_fills(shape, pdf, 0)),
            },
            _ => fills.extend(shape_fills(shape, pdf, 0)),
        }
    }
}

/// All fills of a drawing, its forms' included.
fn flatten(drawing: &Drawing, pdf: &PdfPlan, depth: usize) -> Vec<Fill> {
    drawing.shapes.iter().flat_map(|shape| shape_fills(shape, pdf, depth)).collect()
}

fn shape_fills(shape: &Shape, pdf: &PdfPlan, depth: usize) -> Vec<Fill> {
    match shape {
        Shape::Path { path, fill: Some(colour), .. } => path_fills(path, Some(*colour)),
        Shape::Graded { path, .. } => path_fills(path, None),
        Shape::Picture { at, turn, .. } => vec![Fill { area: at.turned(*turn), holes: Vec::new(), colour: None }],
        Shape::Art { clip, .. } => vec![Fill { area: *clip, holes: Vec::new(), colour: None }],
        Shape::Form { form, at, scale } if depth < MAX_DEPTH => match pdf.forms.get(*form) {
            Some(form) => flatten(form, pdf, depth + 1).iter().map(|f| placed(f, *at, *scale)).collect(),
            None => Vec::new(),
        },
        _ => Vec::new(),
    }
}

fn placed(fill: &Fill, at: Point, scale: f64) -> Fill {
    let moved = |a: &Rect| Rect::new(at.x + a.x * scale, at.y + a.y * scale, a.w * scale, a.h * scale);
    Fill { area: moved(&fill.area), holes: fill.holes.iter().map(moved).collect(), colour: fill.colour }
}

/// The parts of a path that are filled: those that turn like the first one. What turns the other way within one is a
/// hole in it (ISO 32000-1, 8.5.3.3.2).
fn path_fills(path: &Path, colour: Option<Rgb>) -> Vec<Fill> {
    let parts: Vec<(Rect, bool)> = path.0.chunk_by(|_, next| !matches!(next, Seg::Move(_))).filter_map(part).collect();
    let Some((_, turn)) = parts.first().copied() else { return Vec::new() };
    let holes: Vec<Rect> = parts.iter().filter(|p| p.1 != turn).map(|p| p.0).collect();
    let fill = |(area, _): &(Rect, bool)| Fill { area: *area, holes: holes.clone(), colour };
    parts.iter().filter(|p| p.1 == turn).map(fill).collect()
}

/// The rectangle round a part of a path, and whether it turns clockwise.
fn part(segments: &[Seg]) -> Option<(Rect, bool)> {
    let points: Vec<Point> = drawing::points(segments).collect();
    let first = points.first()?;
    let (mut x, mut y, mut twice) = ([first.x; 2], [first.y; 2], 0.0);
    for (p, q) in points.iter().zip(points.iter().cycle().skip(1)) {
        (x, y) = ([x[0].min(p.x), x[1].max(p.x)], [y[0].min(p.y), y[1].max(p.y)]);
        twice += p.x * q.y - q.x * p.y;
    }
    Some((Rect::new(x[0], y[0], x[1] - x[0], y[1] - y[0]), twice > 0.0))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn a_hole_shows_what_lies_below() {
        let mut ring = Path::rect(Rect::new(0.0, 0.0, 100.0, 100.0));
        let hole = [(20.0, 20.0), (20.0, 80.0), (80.0, 80.0), (80.0, 20.0)].map(|(x, y)| Point::new(x, y));
        ring.0.push(Seg::Move(hole[0]));
        ring.0.extend(hole[1..].iter().map(|p| Seg::Line(*p)));
        ring.0.push(Seg::Close);
        let fills = path_fills(&ring, Some(Rgb::BLACK));
        assert_eq!(fills.len(), 1);
        assert!(!fills[0].is_beneath(Rect::new(40.0, 40.0, 20.0, 10.0)));
        assert!(fills[0].is_beneath(Rect::new(2.0, 2.0, 10.0, 10.0)));
        assert!(!fills[0].is_beneath(Rect::new(2.0, 2.0, 100.0, 10.0)));
    }

    #[test]
    fn parts_that_lie_apart_are_fills_of_their_own() {
        let mut two = Path::circle(Point::new(10.0, 10.0), 5.0);
        two.0.extend(Path::circle(Point::new(90.0, 10.0), 5.0).0);
        let fills = path_fills(&two, Some(Rgb::BLACK));
        assert_eq!(fills.len(), 2);
        assert!(fills.iter().all(|f| !f.is_beneath(Rect::new(40.0, 8.0, 4.0, 4.0))));
    }
}
