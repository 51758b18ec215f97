//! Pictures of pages in the guide: each page a form of the document, with an edge, a shadow and marks laid round and over it once
//! everything has its place.

use crate::figures::{Content, Figure, PREFIX, Pane};
use base::colour;
use base::model::drawing::{Path, Picture, Shape, Stroke, TextRun, Turn};
use base::model::pdf_plan::PdfPlan;
use base::model::product::{Product, Style};
use base::model::units::between;
use base::model::words::in_digits;
use base::model::{Drawing, Point, Rect, Rgb, Role, Size};
use draw::flow::{FlowFigure, FlowPart};
use draw::{Fonts, flat};
use std::collections::BTreeMap;
use std::sync::Arc;

/// How wide a picture beside text is at least, as a share of the guide's page.
const LEAST: f64 = 0.22;

/// The picture of a sheet, which is shown as far as it has stickers.
const SHEET: &str = "stickers";
/// By how much a pixel of a sheet differs from its paper at least where something lies on it: the sum over its channels.
const DIFFERS: i32 = 36;
/// Pixels at the edges of a page that may be blended with what lies beyond it.
const EDGE: usize = 3;
/// What is shown of a sheet round its stickers, as a share of how far they reach; how low or narrow that is at most, and from which
/// share of the whole sheet on all of it is shown.
const ROUND: f64 = 0.09;
const LOWEST: f64 = 0.5;
const NEARLY_ALL: f64 = 0.5;
/// Pixels along the longer side of such a part at the least: 150 to the inch where a picture is 70 mm wide.
const SHARP: f64 = 410.0;

/// The forms of a guide: the pages that it shows.
#[derive(Default)]
pub struct Forms {
    /// The drawings.
    pub drawings: Vec<Drawing>,
    /// What lies on each.
    pages: Vec<OnForm>,
}

/// A page on a form.
struct OnForm {
    area: Rect,
    /// Marks with their steps.
    marks: Vec<(Rect, usize)>,
    taps: Vec<Rect>,
    /// Pixels that stand in the place of the form: of a part of a page, which is no page's shape.
    pixels: Option<Arc<Picture>>,
}

impl Forms {
    /// Takes the pictures that a text names; gives them by what it calls them.
    pub fn named(&mut self, figures: &[&Figure], markdown: &str, size: Size) -> BTreeMap<String, FlowFigure> {
        let called = |figure: &&&Figure| markdown.contains(&format!("({PREFIX}{})", figure.name));
        let mut out = BTreeMap::new();
        for &figure in figures.iter().filter(called) {
            let closer = closer(figure, SHARP);
            let shown = closer.as_ref().unwrap_or(figure);
            let parts = shown.panes.iter().map(|pane| self.part(pane, size, closer.is_some())).collect();
            let (whole, least) = (shown.size, size.w * LEAST);
            let flow = FlowFigure { size: whole, least, enlarged: 1.0, parts };
            out.insert(format!("{PREFIX}{}", figure.name), flow);
        }
        out
    }

    /// A page as a form, which is as large as the guide's pages are; of a part of a page nothing but its place.
    fn part(&mut self, pane: &Pane, size: Size, is_cut: bool) -> FlowPart {
        let page = pane.page;
        let scale = (size.w / page.w.max(1.0)).min(size.h / page.h.max(1.0));
        // In the middle, so that it lies at the same place if the document is turned over.
        let corner = Point::new((size.w - scale * page.w) / 2.0, (size.h - scale * page.h) / 2.0);
        let area = Rect::new(corner.x, corner.y, scale * page.w, scale * page.h);
        let mut drawing = Drawing::new();
        let mut pixels = None;
        match &pane.content {
            Content::Pixels(picture) if is_cut => pixels = Some(picture.clone()),
            Content::Drawn(drawn) if corner == Point::default() && scale == 1.0 => drawing = drawn.clone(),
            Content::Drawn(drawn) => {
                drawing.shapes = drawn.shapes.iter().map(|shape| within(shape, corner, scale, area)).collect();
            }
            Content::Pixels(picture) => drawing.push(Shape::Picture { picture: picture.clone(), at: area, turn: 0.0 }),
            Content::Built(..) => {}
        }
        let place = |r: Rect| Rect::new(corner.x + scale * r.x, corner.y + scale * r.y, scale * r.w, scale * r.h);
        self.drawings.push(drawing);
        let marks = pane.marks.iter().map(|(rect, step)| (place(*rect), *step)).collect();
        let taps = pane.taps.iter().map(|rect| place(*rect)).collect();
        self.pages.push(OnForm { area, marks, taps, pixels });
        let small = pane.at.w / area.w;
        let at = Point::new(pane.at.x - corner.x * small, pane.at.y - corner.y * small);
        FlowPart { form: self.drawings.len() - 1, at, scale: small }
    }

    /// Lays edge, shadow and marks round and over every page that is shown. Badges have the number of their step if `numbered`.
    pub fn dress(&self, pdf: &mut PdfPlan, product: &Product, fonts: &Fonts, text: f64, numbered: bool) {
        for page in &mut pdf.pages {
            let shapes = std::mem::take(&mut page.drawing.shapes);
            for shape in shapes {
                let Shape::Form { form, at, scale } = shape else {
                    page.drawing.push(shape);
                    continue;
                };
                let Some(OnForm { area, marks, taps, pixels }) = self.pages.get(form) else { continue };
                let place = |r: Rect| Rect::new(at.x + scale * r.x, at.y + scale * r.y, scale * r.w, scale * r.h);
                let area = place(*area);
                shadow(&mut page.drawing, area, &product.style, text);
                page.drawing.push(match pixels {
                    Some(picture) => Shape::Picture { picture: picture.clone(), at: area, turn: 0.0 },
                    None => Shape::Form { form, at, scale },
                });
                let edge = colour::at_contrast(product.style.paper, product.style.ink, 1.9);
                page.drawing.stroke(Path::rect(area), Stroke::new(text * 0.06, edge));
                let taps = taps.iter().map(|rect| place(*rect)).collect();
                let marker = Marker { product, fonts, text, area, taps };
                let marks: Vec<(Rect, usize)> = marks.iter().map(|(rect, step)| (place(*rect), *step)).collect();
                marker.draw(&mut page.drawing, &marks, numbered);
            }
        }
    }
}

/// A sheet as far as it has stickers, so that a few are no specks on an empty page; nothing where they fill it, and of other
/// pictures. Its longer side has so many pixels at the least.
fn closer(figure: &Figure, sharp: f64) -> Option<Figure> {
    let ([pane], Some(SHEET)) = (figure.panes.as_slice(), figure.name.rsplit('/').next()) else { return None };
    let Content::Pixels(picture) = &pane.content else { return None };
    let (wide, high) = (picture.width as usize, picture.height as usize);
    let bytes = picture.rgba.bytes();
    let used = used(&bytes, wide, high)?;
    let round = used.w.max(used.h) * ROUND;
    let (w, h) = (used.w + 2.0 * round, used.h + 2.0 * round);
    let (w, h) = (w.max(h * LOWEST), h.max(w * LOWEST));
    // Pixels enough to be shown as large as a page is.
    let more = (sharp / w.max(h)).max(1.0);
    let (w, h) = (w * more, h * more);
    let middle = used.centre();
    // Whole pixels, and none beyond the page.
    let span = |from: f64, length: f64, most: usize| {
        let first = from.floor().max(0.0) as usize;
        (first.min(most), ((from + length).ceil().max(0.0) as usize).min(most))
    };
    let ((left, right), (top, bottom)) = (span(middle.x - w / 2.0, w, wide), span(middle.y - h / 2.0, h, high));
    let (across, down) = (right - left, bottom - top);
    if (across * down) as f64 > NEARLY_ALL * (wide * high) as f64 {
        return None;
    }
    let row = |y: usize| bytes[4 * (y * wide + left)..4 * (y * wide + right)].iter().copied();
    let rgba = (top..bottom).flat_map(row).collect();
    let part = Picture { name: picture.name.clone(), width: across as u32, height: down as u32, rgba };
    let unit = pane.page.w / wide as f64;
    let size = Size::new(across as f64 * unit, down as f64 * unit);
    let place = |r: Rect| Rect::new(r.x - left as f64 * unit, r.y - top as f64 * unit, r.w, r.h);
    let pane = Pane {
        at: Rect::page(size),
        page: size,
        content: Content::Pixels(Arc::new(part)),
        marks: pane.marks.iter().map(|(rect, step)| (place(*rect), *step)).collect(),
        taps: pane.taps.iter().map(|rect| place(*rect)).collect(),
    };
    Some(Figure { name: figure.name.clone(), size, panes: vec![pane] })
}

/// Where a page of so many pixels has anything but its paper, in pixels.
fn used(bytes: &[u8], wide: usize, high: usize) -> Option<Rect> {
    if bytes.len() < 4 * wide * high || wide.min(high) <= 2 * EDGE {
        return None;
    }
    let pixel = |x: usize, y: usize| &bytes[4 * (y * wide + x)..][..4];
    let paper = pixel(EDGE, EDGE);
    let off = |x: usize, y: usize| -> i32 {
        pixel(x, y).iter().zip(paper).map(|(a, b)| (i32::from(*a) - i32::from(*b)).abs()).sum()
    };
    let mut found: Option<[usize; 4]> = None;
    for y in EDGE..high - EDGE {
        for x in (EDGE..wide - EDGE).filter(|x| off(*x, y) > DIFFERS) {
            let [left, top, right, bottom] = found.unwrap_or([x, y, x, y]);
            found = Some([left.min(x), top.min(y), right.max(x), bottom.max(y)]);
        }
    }
    let [left, top, right, bottom] = found?.map(|side| side as f64);
    Some(Rect::new(left, top, right + 1.0 - left, bottom + 1.0 - top))
}

/// A shape of a page on a form where it takes another place; what would stick out of it stays on its edge.
fn within(shape: &Shape, corner: Point, scale: f64, area: Rect) -> Shape {
    let mut lone = Drawing::new();
    lone.push(shape.clone());
    let point = |p: Point| {
        let p = Point::new(corner.x + scale * p.x, corner.y + scale * p.y);
        Point::new(between(p.x, area.x, area.right()), between(p.y, area.y, area.bottom()))
    };
    let rect = |r: Rect| Rect::new(corner.x + scale * r.x, corner.y + scale * r.y, scale * r.w, scale * r.h);
    match shape.clone() {
        Shape::Path { path, fill, stroke } => {
            let stroke = stroke.map(|s| Stroke {
                width: s.width * scale,
                dash: s.dash.map(|(a, b)| (a * scale, b * scale)),
                ..s
            });
            Shape::Path { path: path.moved(point), fill, stroke }
        }
        Shape::Graded { path, grade } => {
            let end = |p: Point| Point::new(corner.x + scale * p.x, corner.y + scale * p.y);
            Shape::Graded { path: path.moved(point), grade: grade.at(end) }
        }
        Shape::Dots { at, diameter, colour } => {
            Shape::Dots { at: at.into_iter().map(point).collect(), diameter: diameter * scale, colour }
        }
        Shape::Picture { picture, at, turn } => Shape::Picture { picture, at: rect(at), turn },
        // Nothing else is left in a drawing that stands by itself.
        other => other,
    }
}

/// A soft shadow below a page.
fn shadow(to: &mut Drawing, area: Rect, style: &Style, text: f64) {
    let dark = colour::darker(style.ink, style.paper);
    let steps = 4;
    for i in (1..=steps).rev() {
        let by = text * 0.07 * f64::from(i);
        let lower = Rect::new(area.x - by, area.y - by + text * 0.16, area.w + 2.0 * by, area.h + 2.0 * by);
        let strength = 0.025 * f64::from(steps + 1 - i);
        to.fill(Path::rounded(lower, by), colour::mix(style.paper, dark, strength));
    }
}

/// Marks on one page.
struct Marker<'a> {
    product: &'a Product,
    fonts: &'a Fonts,
    text: f64,
    area: Rect,
    taps: Vec<Rect>,
}

impl Marker<'_> {
    fn draw(&self, to: &mut Drawing, marks: &[(Rect, usize)], numbered: bool) {
        let style = &self.product.style;
        let accent = colour::deepened(style.accent, style.paper, style.ink, 3.0);
        let (pen, rim) = (self.text * 0.15, self.text * 0.13);
        let rings: Vec<Rect> = marks.iter().map(|(rect, _)| rect.inset(-self.text * 0.24)).collect();
        for ring in &rings {
            let round = (self.text * 0.45).min(ring.h / 2.0).min(ring.w / 2.0);
            to.stroke(Path::rounded(*ring, round), Stroke::new(pen + 2.0 * rim, style.paper));
            to.stroke(Path::rounded(*ring, round), Stroke::new(pen, accent));
        }
        if !numbered {
            return;
        }
        let radius = self.text * 0.62;
        let mut taken: Vec<Rect> = rings.clone();
        for (ring, (_, step)) in rings.iter().zip(marks).filter(|(_, (_, step))| *step > 0) {
            let centre = self.badge(*ring, radius, &taken);
            taken.push(around(centre, radius));
            to.fill(Path::circle(centre, radius + rim), style.paper);
            to.fill(Path::circle(centre, radius), accent);
            let ink = colour::label_on(accent, style.ink, style.paper);
            self.number(to, centre, *step, ink);
        }
    }

    /// Where a badge stands: beside its ring, towards the nearer edge of the page if there is room, so that it hides nothing to
    /// which the ring points; clear of the other marks.
    fn badge(&self, ring: Rect, radius: f64, taken: &[Rect]) -> Point {
        let (middle, own) = (self.area.centre(), ring.centre());
        let out = radius * 0.85;
        let (left, right) = (Point::new(ring.x - out, own.y), Point::new(ring.right() + out, own.y));
        let (up, down) = (Point::new(own.x, ring.y - out), Point::new(own.x, ring.bottom() + out));
        let sides = if own.x > middle.x { [right, left] } else { [left, right] };
        let ends = if own.y > middle.y { [down, up] } else { [up, down] };
        let all = [sides[0], sides[1], ends[1], ends[0]];
        let room = self.area;
        let clear = |p: &&Point| {
            let badge = around(**p, radius);
            room.contains(badge, 0.0)
                && taken.iter().filter(|other| **other != ring).all(|other| !other.overlaps(badge))
        };
        let free = |p: &&Point| {
            let badge = around(**p, radius * 0.8);
            self.taps.iter().all(|tap| ring.contains(*tap, 0.0) || !tap.overlaps(badge))
        };
        let found = all.iter().find(|p| clear(p) && free(p)).or_else(|| all.iter().find(clear)).unwrap_or(&all[0]);
        Point::new(between(found.x, self.area.x, self.area.right()), between(found.y, self.area.y, self.area.bottom()))
    }

    /// The number of a step as an outline: a picture has no words of its own.
    fn number(&self, to: &mut Drawing, centre: Point, step: usize, colour: Rgb) {
        let text = in_digits(&step.to_string(), &self.product.words.digits);
        let size = self.text * 0.86;
        let wide = self.fonts.width(Role::LabelBold, &text, size, 0.0);
        let cap = self.fonts.metrics(Role::LabelBold).cap * size;
        let at = Point::new(centre.x - wide / 2.0, centre.y + cap / 2.0);
        let run = TextRun { text, role: Role::LabelBold, size, at, turn: Turn::None, tracking: 0.0, colour };
        to.fill(flat::outlined(&run, self.fonts), colour);
    }
}

fn around(centre: Point, radius: f64) -> Rect {
    Rect::new(centre.x - radius, centre.y - radius, 2.0 * radius, 2.0 * radius)
}

#[cfg(test)]
mod tests {
    use super::*;

    const WIDE: usize = 120;
    const HIGH: usize = 160;

    /// A sheet of paper with stickers: left, top, width, height in pixels. A pixel is two points.
    fn sheet(stickers: &[[usize; 4]], name: &str) -> Figure {
        let on = |x: usize, y: usize| {
            stickers.iter().any(|[left, top, w, h]| (*left..left + w).contains(&x) && (*top..top + h).contains(&y))
        };
        let pixel = |i: usize| if on(i % WIDE, i / WIDE) { [20, 90, 40, 255] } else { [250, 248, 240, 255] };
        let rgba = (0..WIDE * HIGH).flat_map(pixel).collect();
        let picture = Picture { name: "page".to_owned(), width: WIDE as u32, height: HIGH as u32, rgba };
        let size = Size::new(2.0 * WIDE as f64, 2.0 * HIGH as f64);
        let mark = |[left, top, w, h]: &[usize; 4]| {
            (Rect::new(2.0 * *left as f64, 2.0 * *top as f64, 2.0 * *w as f64, 2.0 * *h as f64), 0)
        };
        let marks = stickers.iter().take(1).map(mark).collect();
        let content = Content::Pixels(Arc::new(picture));
        let pane = Pane { at: Rect::page(size), page: size, content, marks, taps: Vec::new() };
        Figure { name: name.to_owned(), size, panes: vec![pane] }
    }

    fn pixels(figure: &Figure) -> Option<&Picture> {
        match &figure.panes.first()?.content {
            Content::Pixels(picture) => Some(picture),
            _ => None,
        }
    }

    /// Wherever a few stickers lie, all of each is shown, the mark lies round its own, and they are no specks.
    #[test]
    fn a_sheet_is_shown_as_far_as_it_has_stickers() {
        for (x, y) in (4..90).step_by(17).flat_map(|x| (4..130).step_by(21).map(move |y| (x, y))) {
            for (count, w, h) in [(1, 20, 24), (2, 12, 14), (3, 8, 10)] {
                let stickers: Vec<[usize; 4]> = (0..count).map(|i| [x + i * (w + 2), y, w, h]).collect();
                if stickers.iter().any(|[left, top, w, h]| left + w > WIDE - 4 || top + h > HIGH - 4) {
                    continue;
                }
                let figure = sheet(&stickers, "tide-log/stickers");
                let shown = closer(&figure, 0.0).expect("a few stickers are shown closer");
                let (picture, pane) = (pixels(&shown).expect("pixels"), &shown.panes[0]);
                let inked = picture.rgba.bytes().chunks_exact(4).filter(|pixel| pixel[0] == 20).count();
                assert_eq!(inked, count * w * h, "a sticker is cut at {x} {y}");
                let unit = shown.size.w / f64::from(picture.width);
                assert!((unit - 2.0).abs() < 1e-9 && (shown.size.h / f64::from(picture.height) - 2.0).abs() < 1e-9);
                // The middle of what is marked is a sticker.
                let middle = pane.marks[0].0.centre();
                let (i, j) = ((middle.x / unit) as usize, (middle.y / unit) as usize);
                assert_eq!(picture.rgba.bytes()[4 * (j * picture.width as usize + i)], 20);
                assert!(inked * 7 > (picture.width * picture.height) as usize, "specks on an empty page");
                let sharp = closer(&figure, 60.0).expect("so many pixels there are");
                let picture = pixels(&sharp).expect("pixels");
                let inked = picture.rgba.bytes().chunks_exact(4).filter(|pixel| pixel[0] == 20).count();
                assert_eq!(inked, count * w * h, "a sticker is cut at {x} {y}");
                // At the edge of the page there is less about it.
                assert!(picture.width.max(picture.height) >= 30, "{} x {}", picture.width, picture.height);
            }
        }
    }

    #[test]
    fn a_full_sheet_an_empty_one_and_other_pages_are_shown_whole() {
        let corners = [[5, 5, 10, 10], [105, 5, 10, 10], [5, 145, 10, 10], [105, 145, 10, 10]];
        for (stickers, name) in [(&corners[..], SHEET), (&corners[..0], SHEET), (&corners[..1], "cover")] {
            assert_eq!(closer(&sheet(stickers, name), 0.0), None);
        }
    }
}
