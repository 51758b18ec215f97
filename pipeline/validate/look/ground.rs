//! What lies beneath each text: the last filled shape before it that holds it whole.

use crate::model::drawing::{Drawing, Path, Seg, Shape, TextRun};
use crate::model::geometry::{Point, Rect};
use crate::model::plan::PdfPlan;
use crate::model::units::Rgb;

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

/// A filled area, or a picture, whose colour is not one.
#[derive(Clone, Copy)]
struct Fill {
    area: Rect,
    colour: Option<Rgb>,
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
                let beneath = fills.iter().rev().find(|fill| fill.area.contains(area, 0.5));
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
        Shape::Path { path, fill: Some(colour), .. } => {
            bounds(path).map(|area| Fill { area, colour: Some(*colour) }).into_iter().collect()
        }
        Shape::Picture { at, .. } => vec![Fill { area: *at, colour: None }],
        Shape::Form { form, at, scale } if depth < MAX_DEPTH => match pdf.forms.get(*form) {
            Some(form) => flatten(form, pdf, depth + 1).iter().map(|f| placed(f, *at, *scale)).collect(),
            None => Vec::new(),
        },
        _ => Vec::new(),
    }
}

fn placed(fill: &Fill, at: Point, scale: f64) -> Fill {
    let a = fill.area;
    Fill { area: Rect::new(at.x + a.x * scale, at.y + a.y * scale, a.w * scale, a.h * scale), ..*fill }
}

fn bounds(path: &Path) -> Option<Rect> {
    let points = path.0.iter().flat_map(|seg| match *seg {
        Seg::Move(p) | Seg::Line(p) => vec![p],
        Seg::Cubic(a, b, c) => vec![a, b, c],
        Seg::Close => vec![],
    });
    let mut range: Option<[f64; 4]> = None;
    for p in points {
        let [x0, y0, x1, y1] = range.unwrap_or([p.x, p.y, p.x, p.y]);
        range = Some([x0.min(p.x), y0.min(p.y), x1.max(p.x), y1.max(p.y)]);
    }
    range.map(|[x0, y0, x1, y1]| Rect::new(x0, y0, x1 - x0, y1 - y0))
}
