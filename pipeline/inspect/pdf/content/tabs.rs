//! What lies under tap areas: anything at all, the tab that they belong to, the small picture that they cover.

use super::extent::Box4;
use super::sketch::Sketch;
use base::model::facts::{ImageFacts, PageFacts, Shown};
use base::model::geometry::Rect;

/// A mark that covers more of the page than this is a ground, not something to tap on.
const GROUND: f64 = 0.6;
/// A tab is not more than this much longer or shorter than its tap area.
const LIKE: std::ops::RangeInclusive<f64> = 0.65..=1.55;
/// A picture fills at least this share of its tap area.
const FILLS: f64 = 0.4;
/// Pages on which more pairs of links and shapes would have to be held together are left alone.
const MAX_PAIRS: usize = 4_000_000;

/// Looks under the links of a page, and finds the extent of what it draws besides them.
pub fn under_links(sketch: &Sketch, facts: &mut PageFacts, images: &[ImageFacts]) {
    if sketch.crowded {
        return;
    }
    let [x0, y0, x1, y1] = facts.crop_box;
    let page = Box4 { x0, y0, x1, y1 };
    let marks: Vec<Box4> = sketch.marks.iter().copied().filter(|m| m.area() < page.area() * GROUND).collect();
    let back = |b: Box4| Rect::new(b.x0 - x0, y1 - b.y1, b.x1 - b.x0, b.y1 - b.y0);
    let areas: Vec<Box4> = facts
        .links
        .iter()
        .map(|link| {
            let (left, top) = (link.rect.x + x0, y1 - link.rect.y);
            Box4 { x0: left, y0: top - link.rect.h, x1: left + link.rect.w, y1: top }
        })
        .collect();
    let few = areas.len() * (sketch.shapes.len() + sketch.forms.len() + sketch.images.len()) <= MAX_PAIRS;
    for (link, area) in facts.links.iter_mut().zip(&areas) {
        // A picture over the whole page is ground and may show anything: the tap area may well be painted in it.
        let painted = sketch.images.iter().any(|(_, matrix)| matrix.unit_square().touches(*area));
        link.over_marks = Some(painted || marks.iter().any(|m| m.touches(*area)));
        if few && area.area() > 0.0 {
            link.tab = tab(&sketch.shapes, *area).map(back);
            let shows = picture(sketch, images, *area).map(|(b, dots, scale)| Shown { area: back(b), dots, scale });
            link.shows = shows.map(Box::new);
        }
    }
    let pairs = areas.len() * marks.len();
    if pairs <= MAX_PAIRS {
        let free = marks.iter().map(|m| m.intersection(page)).filter(|m| m.x0 <= m.x1 && m.y0 <= m.y1);
        let free = free.filter(|m| !areas.iter().any(|a| a.touches(*m)));
        facts.content = free.reduce(Box4::union).map(back);
    }
}

/// The shape of about the size of a tap area that shares most with it.
fn tab(shapes: &[Box4], area: Box4) -> Option<Box4> {
    let sides = |b: Box4| (b.x1 - b.x0, b.y1 - b.y0);
    let (w, h) = sides(area);
    let alike = shapes.iter().filter(|shape| {
        let (a, b) = sides(**shape);
        LIKE.contains(&(a / w)) && LIKE.contains(&(b / h)) && shape.touches(area)
    });
    let shared = |shape: &Box4| shape.intersection(area).area() / (shape.area() + area.area());
    alike.max_by(|a, b| shared(a).total_cmp(&shared(b))).copied()
}

/// The picture or form that a tap area covers: where it lies, pixels in a point, and the scale of a form.
fn picture(sketch: &Sketch, images: &[ImageFacts], area: Box4) -> Option<(Box4, Option<f64>, Option<f64>)> {
    let fits = |b: &Box4| {
        let shared = b.intersection(area).area();
        shared >= 0.8 * b.area() && shared >= FILLS * area.area()
    };
    let forms = sketch.forms.iter().map(|(b, scale)| (*b, None, Some(*scale)));
    let placed = sketch.images.iter().filter_map(|(image, matrix)| {
        let (w, _) = matrix.lengths();
        let pixels = f64::from(images.get(*image)?.width);
        (w > 0.0).then(|| (matrix.unit_square(), Some(pixels / w), None))
    });
    forms.chain(placed).find(|(b, ..)| fits(b))
}
