//! The blank label: a sheet, an oval, an arch, a strip of tape or a card in a frame of metal, with lines to write on.

use super::book::Book;
use super::foil;
use base::colour;
use base::model::drawing::{Path, Seg, Stroke};
use base::model::finish::LabelShape;
use base::model::product::{Cover, Style};
use base::model::{Drawing, Point, Rect, Rgb};

/// What a label takes of its board, out of what a sheet of paper takes.
pub fn room(shape: LabelShape, sheet: Rect, board: Rect) -> Rect {
    let (w, h) = match shape {
        LabelShape::Rectangle => return sheet,
        LabelShape::Oval => (1.06, 1.2),
        LabelShape::Arch => (0.76, 1.4),
        LabelShape::Tape => (1.1, 0.52),
        LabelShape::Plaque => (1.06, 0.86),
    };
    let (w, h) = ((sheet.w * w).min(board.w * 0.7), (sheet.h * h).min(board.h * 0.44));
    let at = sheet.centre();
    Rect::new(at.x - w / 2.0, at.y - h / 2.0, w, h)
}

/// What all shapes are drawn with.
struct Sheet {
    /// What it is made of.
    paper: Rgb,
    /// The fine line within it.
    edge: Rgb,
    /// The lines to write on.
    rule: Rgb,
    /// The shadow on the board.
    deep: Rgb,
    /// How thick lines are.
    hair: f64,
    /// How far the shadow falls.
    lift: f64,
}

/// Draws a label into its room.
pub fn draw(d: &mut Drawing, cover: &Cover, style: &Style, r: Rect, book: &Book) {
    let dark = colour::darker(style.ink, style.paper);
    let paper = paper(cover, style);
    let sheet = Sheet {
        paper,
        edge: colour::mix(paper, dark, 0.3),
        rule: if paper == style.paper { style.rule } else { colour::at_contrast(paper, dark, 1.9) },
        // A shadow is darker than what it falls on, whatever the ink.
        deep: colour::mix(cover.colour, Rgb::BLACK, 0.3),
        hair: (book.unit * 0.035).clamp(0.4, 0.8),
        lift: book.unit * 0.09,
    };
    match cover.finish.label {
        LabelShape::Rectangle => sheet.rectangle(d, r, book),
        LabelShape::Oval => sheet.oval(d, r),
        LabelShape::Arch => sheet.arch(d, r, book),
        LabelShape::Tape => sheet.tape(d, r),
        LabelShape::Plaque => sheet.plaque(d, r, foil::metal(cover.finish, style)),
    }
}

impl Sheet {
    /// Paper that lies on the board, with a hair of shadow at the right and below.
    fn lay(&self, d: &mut Drawing, outline: Path) {
        d.fill(outline.moved(|p| Point::new(p.x + self.lift * 0.7, p.y + self.lift * 1.3)), self.deep);
        d.fill(outline, self.paper);
    }

    /// Lines to write on, at these shares of the height and with this share of the width free at both sides.
    fn rules(&self, d: &mut Drawing, r: Rect, pad: f64, at: &[f64]) {
        let pad = r.w * pad;
        for at in at {
            let y = r.y + r.h * at;
            d.line(r.x + pad, y, r.right() - pad, y, Stroke::new(self.hair, self.rule));
        }
    }

    fn rectangle(&self, d: &mut Drawing, r: Rect, book: &Book) {
        let radius = (r.h * 0.07).min(book.corner);
        d.fill(Path::rounded(Rect { x: r.x + self.lift * 0.7, y: r.y + self.lift * 1.3, ..r }, radius), self.deep);
        d.fill(Path::rounded(r, radius), self.paper);
        let inner = r.inset(r.h * 0.055);
        d.stroke(Path::rounded(inner, (radius - r.h * 0.03).max(0.0)), Stroke::new(self.hair, self.edge));
        self.rules(d, r, 0.13, &[0.53, 0.76]);
    }

    fn oval(&self, d: &mut Drawing, r: Rect) {
        self.lay(d, Path::ellipse(r));
        d.stroke(Path::ellipse(r.inset(r.h * 0.05)), Stroke::new(self.hair * 1.6, self.edge));
        d.stroke(Path::ellipse(r.inset(r.h * 0.075)), Stroke::new(self.hair * 0.7, self.edge));
        self.rules(d, r, 0.17, &[0.49, 0.69]);
    }

    fn arch(&self, d: &mut Drawing, r: Rect, book: &Book) {
        let radius = (r.h * 0.04).min(book.corner);
        self.lay(d, arch(r, radius));
        let by = r.h * 0.042;
        d.stroke(arch(r.inset(by), (radius - by * 0.5).max(0.0)), Stroke::new(self.hair, self.edge));
        self.rules(d, r, 0.16, &[0.5, 0.67, 0.84]);
    }

    fn tape(&self, d: &mut Drawing, r: Rect) {
        self.lay(d, torn(r));
        // Two faint lines along it, as a roll leaves them.
        let faint = colour::mix(self.paper, self.edge, 0.45);
        for at in [0.13, 0.87] {
            let y = r.y + r.h * at;
            let pad = r.h * 0.16;
            d.line(r.x + pad, y, r.right() - pad, y, Stroke::new(self.hair, faint));
        }
        self.rules(d, r, 0.11, &[0.66]);
    }

    fn plaque(&self, d: &mut Drawing, r: Rect, metal: crate::metal::Tones) {
        let ear = r.h * 0.17;
        let frame = r.inset_each(ear, 0.0, ear, 0.0);
        let thick = r.h * 0.085;
        let card = frame.inset(thick);
        let outline = plate(frame, r.h * 0.06, ear, r.h * 0.19);
        d.fill(outline.moved(|p| Point::new(p.x + self.lift * 1.1, p.y + self.lift * 1.9)), self.deep);
        d.grade(outline.clone(), foil::sheen(metal, r, r.w * 0.62));
        d.stroke(outline, Stroke::new(self.hair * 0.8, metal.outline));
        // The edge of the window: light falls on it at the right and below, and the frame throws a shadow on its card.
        let round = r.h * 0.03;
        d.fill(Path::rounded(card.inset(-thick * 0.2), round * 1.5), metal.deep);
        let lit = Rect { x: card.x, y: card.y, w: card.w + thick * 0.2, h: card.h + thick * 0.2 };
        d.fill(Path::rounded(lit, round * 1.3), metal.shine);
        d.fill(Path::rounded(card, round), colour::mix(self.paper, Rgb::BLACK, 0.22));
        let (x, y) = (self.lift * 0.5, self.lift * 0.8);
        let rest = Rect { x: card.x + x, y: card.y + y, w: card.w - x, h: card.h - y };
        d.fill(Path::rounded(rest, round), self.paper);
        self.rules(d, card, 0.09, &[0.47, 0.77]);
        for x in [r.x + ear * 0.62, r.right() - ear * 0.62] {
            let at = Point::new(x, r.centre().y);
            let pin = ear * 0.3;
            d.fill(Path::circle(Point::new(at.x + pin * 0.16, at.y + pin * 0.24), pin), metal.outline);
            let head = Rect::new(at.x - pin, at.y - pin, pin * 2.0, pin * 2.0);
            d.grade(Path::circle(at, pin), foil::dome(metal, head));
        }
    }
}

/// A sheet with a round head: half an ellipse over straight sides.
fn arch(r: Rect, radius: f64) -> Path {
    let rise = (r.w / 2.0).min(r.h * 0.42);
    let (a, b) = (r.w / 2.0 * 0.5523, rise * 0.5523);
    let (x, y, c) = (r.right(), r.y + rise, r.centre().x);
    let k = radius * 0.4477;
    let p = Point::new;
    Path(vec![
        Seg::Move(p(r.x, y)),
        Seg::Cubic(p(r.x, y - b), p(c - a, r.y), p(c, r.y)),
        Seg::Cubic(p(c + a, r.y), p(x, y - b), p(x, y)),
        Seg::Line(p(x, r.bottom() - radius)),
        Seg::Cubic(p(x, r.bottom() - k), p(x - k, r.bottom()), p(x - radius, r.bottom())),
        Seg::Line(p(r.x + radius, r.bottom())),
        Seg::Cubic(p(r.x + k, r.bottom()), p(r.x, r.bottom() - k), p(r.x, r.bottom() - radius)),
        Seg::Close,
    ])
}

/// A strip with both ends cut in small teeth.
fn torn(r: Rect) -> Path {
    let teeth = 9;
    let tooth = r.h / f64::from(teeth);
    let mut points = vec![Point::new(r.x, r.y)];
    let side = |x: f64, into: f64| {
        move |n: i32| Point::new(if n % 2 == 1 { x + into } else { x }, r.y + f64::from(n) * tooth / 2.0)
    };
    points.extend((0..=teeth * 2).map(side(r.right(), -tooth * 0.55)));
    points.extend((1..=teeth * 2).rev().map(side(r.x, tooth * 0.55)));
    Path::polyline(&points, true)
}

/// A plate with an ear at each side, `ear` wide and twice `half` high.
fn plate(r: Rect, radius: f64, ear: f64, half: f64) -> Path {
    let p = Point::new;
    let (x0, y0, x1, y1, c) = (r.x, r.y, r.right(), r.bottom(), r.centre().y);
    let k = radius * 0.4477;
    // An ear swings out of the side and back.
    let right = [
        Seg::Line(p(x1, c - half)),
        Seg::Cubic(p(x1 + ear * 0.5, c - half * 0.9), p(x1 + ear, c - half * 0.75), p(x1 + ear, c)),
        Seg::Cubic(p(x1 + ear, c + half * 0.75), p(x1 + ear * 0.5, c + half * 0.9), p(x1, c + half)),
    ];
    let left = [
        Seg::Line(p(x0, c + half)),
        Seg::Cubic(p(x0 - ear * 0.5, c + half * 0.9), p(x0 - ear, c + half * 0.75), p(x0 - ear, c)),
        Seg::Cubic(p(x0 - ear, c - half * 0.75), p(x0 - ear * 0.5, c - half * 0.9), p(x0, c - half)),
    ];
    let mut segs = vec![Seg::Move(p(x0 + radius, y0)), Seg::Line(p(x1 - radius, y0))];
    segs.push(Seg::Cubic(p(x1 - k, y0), p(x1, y0 + k), p(x1, y0 + radius)));
    segs.extend(right);
    segs.push(Seg::Line(p(x1, y1 - radius)));
    segs.push(Seg::Cubic(p(x1, y1 - k), p(x1 - k, y1), p(x1 - radius, y1)));
    segs.push(Seg::Line(p(x0 + radius, y1)));
    segs.push(Seg::Cubic(p(x0 + k, y1), p(x0, y1 - k), p(x0, y1 - radius)));
    segs.extend(left);
    segs.push(Seg::Line(p(x0, y0 + radius)));
    segs.push(Seg::Cubic(p(x0, y0 + k), p(x0 + k, y0), p(x0 + radius, y0)));
    segs.push(Seg::Close);
    Path(segs)
}

/// What the label is made of: the paper, or where it would look like a hole in the board, the lighter one of paper and
/// ink, lightened until it stands out from a board that is dark.
pub fn paper(cover: &Cover, style: &Style) -> Rgb {
    let lighter = colour::lighter(style.paper, style.ink);
    let board = colour::luminance(cover.colour);
    if colour::luminance(style.paper) > board && colour::contrast(style.paper, cover.colour) >= ABOVE {
        return style.paper;
    }
    if colour::luminance(lighter) > board && colour::contrast(lighter, cover.colour) >= ABOVE {
        return lighter;
    }
    // On a board nearly as light as paper nothing lighter is left but white, and its edge shows where it lies.
    if colour::contrast(Rgb::WHITE, cover.colour) >= ABOVE { Rgb::WHITE } else { lighter }
}

/// How much a label stands out from a dark board at least, as a ratio of contrast (common practice, no source).
pub const ABOVE: f64 = 1.6;
