//! Pictures of pages in the guide: each page a form of the document, with an edge, a shadow and marks laid round and over it once
//! everything has its place.

use crate::figures::{Content, Figure, PREFIX, Pane};
use base::colour;
use base::model::drawing::{Path, Shape, Stroke, TextRun, Turn};
use base::model::pdf_plan::PdfPlan;
use base::model::product::{Product, Style};
use base::model::units::between;
use base::model::words::in_digits;
use base::model::{Drawing, Point, Rect, Rgb, Role, Size};
use draw::flow::{FlowFigure, FlowPart};
use draw::{Fonts, flat};
use std::collections::BTreeMap;

/// How wide a picture beside text is at least, as a share of the guide's page.
const LEAST: f64 = 0.22;

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
}

impl Forms {
    /// Takes the pictures that a text names; gives them by what it calls them.
    pub fn named(&mut self, figures: &[&Figure], markdown: &str, size: Size) -> BTreeMap<String, FlowFigure> {
        let called = |figure: &&&Figure| markdown.contains(&format!("({PREFIX}{})", figure.name));
        let mut out = BTreeMap::new();
        for figure in figures.iter().filter(called) {
            let parts = figure.panes.iter().map(|pane| self.part(pane, size)).collect();
            let (whole, least) = (figure.size, size.w * LEAST);
            out.insert(format!("{PREFIX}{}", figure.name), FlowFigure { size: whole, least, parts });
        }
        out
    }

    /// A page as a form, which is as large as the guide's pages are.
    fn part(&mut self, pane: &Pane, size: Size) -> FlowPart {
        let page = pane.page;
        let scale = (size.w / page.w.max(1.0)).min(size.h / page.h.max(1.0));
        // In the middle, so that it lies at the same place if the document is turned over.
        let corner = Point::new((size.w - scale * page.w) / 2.0, (size.h - scale * page.h) / 2.0);
        let area = Rect::new(corner.x, corner.y, scale * page.w, scale * page.h);
        let mut drawing = Drawing::new();
        match &pane.content {
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
        self.pages.push(OnForm { area, marks, taps: pane.taps.iter().map(|rect| place(*rect)).collect() });
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
                let Some(OnForm { area, marks, taps }) = self.pages.get(form) else { continue };
                let place = |r: Rect| Rect::new(at.x + scale * r.x, at.y + scale * r.y, scale * r.w, scale * r.h);
                let area = place(*area);
                shadow(&mut page.drawing, area, &product.style, text);
                page.drawing.push(Shape::Form { form, at, scale });
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
