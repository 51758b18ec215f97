//! A drawing as page operations: turns the page over (PDF counts y upwards) and leaves out what is set already.

use super::embed::{Resources, form_name};
use base::model::drawing::{Cap, Drawing, Grade, Path, Picture, Seg, Shape, Stroke, TextRun, Turn};
use base::model::{Point, Rgb, Size};
use draw::{Fonts, flat};
use printpdf::{
    Codepoint, Color, CurTransMat, FontId, Greyscale, Line, LineCapStyle, LineDashPattern, LineJoinStyle, LinePoint,
};
use printpdf::{Op, PaintMode, PdfFontHandle, Polygon, PolygonRing, Pt, TextItem, TextMatrix, WindingOrder};
use printpdf::{ShadingId, XObjectId, XObjectTransform};
use std::sync::Arc;

/// Operations that draw `drawing` on a page of this size.
pub fn translate(drawing: &Drawing, size: Size, resources: &Resources, fonts: &Fonts) -> Vec<Op> {
    let mut pen = Writer { ops: Vec::new(), height: size.h, state: State::default(), resources, fonts };
    for shape in &drawing.shapes {
        pen.shape(shape);
    }
    pen.ops
}

/// What the page has been told last.
#[derive(Default)]
struct State {
    fill: Option<Rgb>,
    line: Option<Rgb>,
    width: Option<f32>,
    cap: Cap,
    dash: Option<(f64, f64)>,
}

struct Writer<'a> {
    ops: Vec<Op>,
    height: f64,
    state: State,
    resources: &'a Resources,
    fonts: &'a Fonts,
}

impl Writer<'_> {
    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Path { path, fill, stroke } => self.path(path, *fill, stroke.as_ref()),
            Shape::Graded { path, grade } => self.graded(path, grade),
            Shape::GradedText { run, grade } => self.graded(&flat::outlined(run, self.fonts), grade),
            Shape::Dots { at, diameter, colour } => {
                // A dot is a line almost without length and with round ends: 20 bytes instead of 200, and round
                // in every reader.
                self.stroke(&Stroke::new(*diameter, *colour).round());
                for p in at {
                    let ends = [Point::new(p.x - 0.005, p.y), Point::new(p.x + 0.005, p.y)];
                    self.line(&ends);
                }
            }
            Shape::Text(run) => self.text(run),
            Shape::Picture { picture, at, turn } => {
                let id = self.resources.picture_id(picture);
                if *turn == 0.0 {
                    return self.place(id, Point::new(at.x, self.height - at.bottom()), at.w, at.h);
                }
                // About its middle; upwards is the other way round than on the page, so clockwise is negative.
                let (sin, cos) = libm::sincos(turn.to_radians());
                let middle = self.at(at.centre());
                let matrix = CurTransMat::Raw([fine(cos), fine(-sin), fine(sin), fine(cos), middle.x.0, middle.y.0]);
                self.ops.extend([Op::SaveGraphicsState, Op::SetTransformationMatrix { matrix }]);
                self.place(id, Point::new(-at.w / 2.0, -at.h / 2.0), at.w, at.h);
                self.ops.push(Op::RestoreGraphicsState);
            }
            Shape::Tiled { path, picture, side, ground } => {
                // Readers that smooth the edges of pictures, or widen them to whole pixels, leave no line between two of them.
                self.path(path, Some(*ground), None);
                self.tiled(path, picture, *side);
            }
            Shape::Art { art, at, clip } => {
                let id = self.resources.art_id(art);
                let cut = !clip.contains(*at, 0.01);
                if cut {
                    let (rings, _) = self.rings(&Path::rect(*clip));
                    let polygon = Polygon { rings, mode: PaintMode::Clip, winding_order: WindingOrder::NonZero };
                    self.ops.extend([Op::SaveGraphicsState, Op::DrawPolygon { polygon }]);
                }
                let low = Point::new(at.x, self.height - at.bottom());
                self.place(id, low, at.w / art.size.w, at.h / art.size.h);
                if cut {
                    self.ops.push(Op::RestoreGraphicsState);
                }
            }
            Shape::Form { form, at, scale } => {
                let lower = self.height - at.y - self.height * scale;
                self.place(form_name(*form), Point::new(at.x, lower), *scale, *scale);
            }
        }
    }

    fn graded(&mut self, path: &Path, grade: &Grade) {
        let (rings, _) = self.rings(path);
        let polygon = Polygon { rings, mode: PaintMode::Clip, winding_order: WindingOrder::NonZero };
        let id = ShadingId(self.resources.grade_id(grade));
        self.ops.extend([
            Op::SaveGraphicsState,
            Op::DrawPolygon { polygon },
            Op::PaintShading { id },
            Op::RestoreGraphicsState,
        ]);
    }

    fn tiled(&mut self, path: &Path, picture: &Arc<Picture>, side: f64) {
        let (rings, _) = self.rings(path);
        let polygon = Polygon { rings, mode: PaintMode::Clip, winding_order: WindingOrder::NonZero };
        let id = self.resources.picture_id(picture);
        let within = path.bounds();
        let steps = |length: f64| (length / side - 1e-6).ceil().max(0.0) as usize;
        self.ops.extend([Op::SaveGraphicsState, Op::DrawPolygon { polygon }]);
        for (row, column) in (0..steps(within.h)).flat_map(|row| (0..steps(within.w)).map(move |c| (row, c))) {
            let x = within.x + column as f64 * side;
            let low = self.height - within.y - (row + 1) as f64 * side;
            self.place(id.clone(), Point::new(x, low), side, side);
        }
        self.ops.push(Op::RestoreGraphicsState);
    }

    fn place(&mut self, id: String, at: Point, w: f64, h: f64) {
        let transform = XObjectTransform {
            translate_x: Some(Pt(short(at.x))),
            translate_y: Some(Pt(short(at.y))),
            scale_x: Some(fine(w)),
            scale_y: Some(fine(h)),
            no_auto_scale: true,
            ..Default::default()
        };
        self.ops.push(Op::UseXobject { id: XObjectId(id), transform });
    }

    fn at(&self, p: Point) -> printpdf::Point {
        printpdf::Point { x: Pt(short(p.x)), y: Pt(short(self.height - p.y)) }
    }

    fn path(&mut self, path: &Path, fill: Option<Rgb>, stroke: Option<&Stroke>) {
        let mode = match (fill, stroke) {
            (Some(_), Some(_)) => PaintMode::FillStroke,
            (Some(_), None) => PaintMode::Fill,
            (None, Some(_)) => PaintMode::Stroke,
            (None, None) => return,
        };
        if let Some(colour) = fill {
            self.fill(colour);
        }
        if let Some(stroke) = stroke {
            self.stroke(stroke);
        }
        let (rings, closed) = self.rings(path);
        if mode == PaintMode::Stroke && !closed {
            for ring in rings {
                self.ops.push(Op::DrawLine { line: Line { points: ring.points, is_closed: false } });
            }
        } else {
            let polygon = Polygon { rings, mode, winding_order: WindingOrder::NonZero };
            self.ops.push(Op::DrawPolygon { polygon });
        }
    }

    /// The subpaths as rings, and whether any of them is closed.
    fn rings(&self, path: &Path) -> (Vec<PolygonRing>, bool) {
        let mut rings: Vec<PolygonRing> = Vec::new();
        let mut closed = false;
        for seg in &path.0 {
            let mut add = |p: Point, bezier: bool| {
                let point = LinePoint { p: self.at(p), bezier };
                if let Some(ring) = rings.last_mut() {
                    ring.points.push(point);
                }
            };
            match *seg {
                Seg::Move(p) => {
                    rings.push(PolygonRing { points: vec![LinePoint { p: self.at(p), bezier: false }] });
                }
                Seg::Line(p) => add(p, false),
                Seg::Cubic(a, b, c) => {
                    add(a, true);
                    add(b, true);
                    add(c, false);
                }
                Seg::Close => closed = true,
            }
        }
        (rings, closed)
    }

    fn line(&mut self, points: &[Point]) {
        let points = points.iter().map(|p| LinePoint { p: self.at(*p), bezier: false }).collect();
        self.ops.push(Op::DrawLine { line: Line { points, is_closed: false } });
    }

    fn fill(&mut self, colour: Rgb) {
        if self.state.fill != Some(colour) {
            self.state.fill = Some(colour);
            self.ops.push(Op::SetFillColor { col: color(colour) });
        }
    }

    fn stroke(&mut self, stroke: &Stroke) {
        if self.state.line != Some(stroke.colour) {
            self.state.line = Some(stroke.colour);
            self.ops.push(Op::SetOutlineColor { col: color(stroke.colour) });
        }
        let width = short(stroke.width);
        if self.state.width != Some(width) {
            self.state.width = Some(width);
            self.ops.push(Op::SetOutlineThickness { pt: Pt(width) });
        }
        if self.state.cap != stroke.cap {
            self.state.cap = stroke.cap;
            let (cap, join) = match stroke.cap {
                Cap::Butt => (LineCapStyle::Butt, LineJoinStyle::Miter),
                Cap::Round => (LineCapStyle::Round, LineJoinStyle::Round),
            };
            self.ops.push(Op::SetLineCapStyle { cap });
            self.ops.push(Op::SetLineJoinStyle { join });
        }
        if self.state.dash != stroke.dash {
            self.state.dash = stroke.dash;
            let pattern: Vec<f32> = stroke.dash.map_or(Vec::new(), |(d, g)| vec![short(d), short(g)]);
            self.ops.push(Op::SetLineDashPattern { dash: LineDashPattern::new(0.0, &pattern) });
        }
    }

    fn text(&mut self, run: &TextRun) {
        let glyphs = self.fonts.shape(run.role, &run.text);
        let seen: Vec<_> = glyphs.iter().filter(|glyph| !glyph.is_hidden(&run.text)).collect();
        let Some(first) = seen.first() else { return };
        let size = Pt(short(run.size));
        self.fill(run.colour);
        let at = self.at(run.at);
        let (x, y) = (at.x.0, at.y.0);
        let matrix = match run.turn {
            Turn::None => [1.0, 0.0, 0.0, 1.0, x, y],
            Turn::Down => [0.0, -1.0, 1.0, 0.0, x, y],
            Turn::Up => [0.0, 1.0, -1.0, 0.0, x, y],
        };
        let handle = |c: &Self, font: usize| PdfFontHandle::External(FontId(c.resources.font_id(font)));
        let mut font = first.font;
        self.ops.push(Op::StartTextSection);
        self.ops.push(Op::SetFont { font: handle(self, font), size });
        self.ops.push(Op::SetTextMatrix { matrix: TextMatrix::Raw(matrix) });
        let mut items: Vec<TextItem> = Vec::new();
        let mut rise = 0.0;
        // How far the pen of the file is behind the pen of the shaper, in thousandths of an em.
        let mut owed = 0.0;
        let mut named = None;
        for glyph in seen {
            if glyph.font != font {
                self.show(&mut items);
                font = glyph.font;
                self.ops.push(Op::SetFont { font: handle(self, font), size });
            }
            if (glyph.dy - rise).abs() > 1e-4 {
                self.show(&mut items);
                self.ops.push(Op::SetLineOffset { multiplier: short(glyph.dy * run.size) });
                rise = glyph.dy;
            }
            let before = owed + glyph.dx * 1000.0;
            if before.abs() >= 0.5 {
                items.push(TextItem::Offset(-before.round() as f32));
                owed -= before.round();
            }
            let (id, width) = self.resources.glyph(glyph);
            // Several glyphs of one cluster: the first of them says the whole text.
            let first = named != Some(glyph.cluster.clone());
            let says = if first { glyph.says(&run.text) } else { String::new() };
            named = Some(glyph.cluster.clone());
            items.push(TextItem::GlyphIds(vec![Codepoint::with_cid(id, 0.0, says)]));
            owed += glyph.tracked(run.tracking) * 1000.0 - width;
        }
        self.show(&mut items);
        if rise != 0.0 {
            self.ops.push(Op::SetLineOffset { multiplier: 0.0 });
        }
        self.ops.push(Op::EndTextSection);
    }

    fn show(&mut self, items: &mut Vec<TextItem>) {
        if !items.is_empty() {
            self.ops.push(Op::ShowText { items: std::mem::take(items) });
        }
    }
}

/// Greys are written as greys: shorter, and print in one ink.
fn color(c: Rgb) -> Color {
    let [r, g, b] = c.fractions().map(fine);
    if c.r == c.g && c.g == c.b {
        Color::Greyscale(Greyscale { percent: r, icc_profile: None })
    } else {
        Color::Rgb(printpdf::Rgb { r, g, b, icc_profile: None })
    }
}

/// A coordinate to a thousandth of a point (0.35 µm).
fn short(v: f64) -> f32 {
    ((v * 1000.0).round() / 1000.0) as f32
}

/// A factor to a hundred thousandth.
fn fine(v: f64) -> f32 {
    ((v * 100_000.0).round() / 100_000.0) as f32
}
