//! The closed book: where it lies on the page, its spine, its frame or band, and the desk with the shadow round it.

use super::case::{Case, Side};
use base::colour;
use base::model::drawing::{Path, Seg, Stroke};
use base::model::product::Style;
use base::model::units::between;
use base::model::{Drawing, Point, Rect, Rgb, Size};

/// The book on its page.
pub struct Book {
    /// The page that it lies on.
    pub page: Size,
    /// Its outline.
    pub rect: Rect,
    /// Radius of its outer corners; those by the spine are sharper.
    pub corner: f64,
    /// The edge that the spine lies at.
    pub spine_at: Side,
    /// How wide the spine strip is, from that edge inwards.
    pub spine: f64,
    /// How wide the strip of a quarter binding beside it is; 0 where there is none.
    pub quarter: f64,
    /// A measure that grows with the book: about a twenty-fifth of its shorter side.
    pub unit: f64,
}

/// A corner of the book away from its spine.
#[derive(Clone, Copy)]
pub struct Corner {
    /// Where the two edges meet.
    pub at: Point,
    /// Which way the board lies from there, to the right (1) or to the left (-1).
    across: f64,
    /// Which way it lies up and down: below (1) or above (-1).
    down: f64,
}

impl Corner {
    /// A point so far from the one edge and from the other.
    pub fn inward(self, x: f64, y: f64) -> Point {
        Point::new(self.at.x + self.across * x, self.at.y + self.down * y)
    }

    /// A rectangle of this size in the corner.
    pub fn room(self, w: f64, h: f64) -> Rect {
        let x = if self.is_right() { self.at.x - w } else { self.at.x };
        Rect::new(x, if self.is_foot() { self.at.y - h } else { self.at.y }, w, h)
    }

    /// Whether it is at the right.
    pub fn is_right(self) -> bool {
        self.across < 0.0
    }

    /// Whether it is at the foot.
    pub fn is_foot(self) -> bool {
        self.down < 0.0
    }
}

impl Book {
    /// The book of a case.
    pub fn new(case: Case) -> Book {
        let (size, corner) = (case.size, case.corner);
        let short = size.w.min(size.h);
        let margin = (short * 0.03).max(4.0);
        let rect = Rect::page(size).inset(margin);
        let unit = rect.w.min(rect.h) / 25.0;
        let corner = between(corner, 0.0, unit * 2.5);
        Book { page: size, rect, corner, spine_at: case.spine, spine: unit * 1.5, quarter: 0.0, unit }
    }

    /// The same in a quarter binding, whose strip lies on the board beside the spine.
    pub fn quartered(self) -> Book {
        Book { quarter: self.unit * 2.1, ..self }
    }

    /// The radii of its corners, clockwise from the upper left one.
    pub fn radii(&self) -> [f64; 4] {
        self.spine_at.radii(self.corner)
    }

    /// Those of an outline that reaches so much farther to the right and to the foot, with the same upper left corner.
    fn radii_beyond(&self, more: f64) -> [f64; 4] {
        let [first, right, foot, last] = self.radii();
        [first, right + more, foot + more, last + more]
    }

    /// Where the book begins at its spine, on the way from there to the edge that opens: to the right, or down.
    fn begin(&self) -> f64 {
        match self.spine_at {
            Side::Left => self.rect.x,
            Side::Top => self.rect.y,
        }
    }

    /// Where it ends on that way.
    pub fn end(&self) -> f64 {
        match self.spine_at {
            Side::Left => self.rect.right(),
            Side::Top => self.rect.bottom(),
        }
    }

    /// Where on that way the board is seen first, beside spine and strip.
    pub fn bared(&self) -> f64 {
        self.begin() + (self.spine + self.quarter)
    }

    /// A band along the spine, from edge to edge of the book, that begins here on that way and is so wide.
    pub fn along(&self, at: f64, wide: f64) -> Rect {
        let r = self.rect;
        match self.spine_at {
            Side::Left => Rect::new(at, r.y, wide, r.h),
            Side::Top => Rect::new(r.x, at, r.w, wide),
        }
    }

    /// The two ends of a line along the spine that lies here on that way and ends so far within the book's edges.
    pub fn line(&self, at: f64, within: f64) -> (Point, Point) {
        let r = self.rect;
        match self.spine_at {
            Side::Left => (Point::new(at, r.y + within), Point::new(at, r.bottom() - within)),
            Side::Top => (Point::new(r.x + within, at), Point::new(r.right() - within, at)),
        }
    }

    /// Draws such a line from edge to edge.
    pub fn rule(&self, d: &mut Drawing, at: f64, stroke: Stroke) {
        let (from, to) = self.line(at, 0.0);
        d.stroke(Path::line(from, to), stroke);
    }

    /// The two corners away from the spine.
    pub fn outer_corners(&self) -> [Corner; 2] {
        let r = self.rect;
        let corner = |right: bool, foot: bool| Corner {
            at: Point::new(if right { r.right() } else { r.x }, if foot { r.bottom() } else { r.y }),
            across: if right { -1.0 } else { 1.0 },
            down: if foot { -1.0 } else { 1.0 },
        };
        match self.spine_at {
            Side::Left => [corner(true, false), corner(true, true)],
            Side::Top => [corner(false, true), corner(true, true)],
        }
    }

    /// The board as far as it is seen: the book without its spine strip and what lies over the board's edge.
    pub fn board(&self) -> Rect {
        let covered = self.spine + self.quarter;
        match self.spine_at {
            Side::Left => self.rect.inset_each(covered, 0.0, 0.0, 0.0),
            Side::Top => self.rect.inset_each(0.0, covered, 0.0, 0.0),
        }
    }

    /// The outer edge of the board, which turns away from the light: it ends there as it begins at the spine, with a line.
    pub fn fore_edge(&self, d: &mut Drawing, tone: Rgb) {
        let hair = (self.unit * 0.06).clamp(0.5, 1.2);
        self.rule(d, self.end() - hair / 2.0, Stroke::new(hair, tone));
    }

    /// The strip of a quarter binding with the spine in it.
    pub fn strip(&self) -> Rect {
        self.along(self.begin(), self.spine + self.quarter)
    }

    /// The edge of that strip on the board, which lies a little deeper.
    pub fn strip_edge(&self, d: &mut Drawing, board: Rgb, strip: Rgb) {
        let at = self.bared();
        let hair = (self.unit * 0.05).clamp(0.5, 1.2);
        let shade = self.unit * 0.11;
        d.fill(Path::rect(self.along(at, shade)), colour::mix(board, Rgb::BLACK, 0.3));
        self.rule(d, at - hair / 2.0, Stroke::new(hair, colour::mix(strip, Rgb::BLACK, 0.3)));
    }

    /// The spine strip, a little nearer to `dark` than the board or cloth that goes round it, with a crease beside it.
    pub fn spine(&self, d: &mut Drawing, style: &Style, colour_: Rgb, dark: Rgb) {
        d.fill(Path::rect(self.along(self.begin(), self.spine)), colour::mix(colour_, dark, 0.2));
        let hair = (self.unit * 0.05).clamp(0.5, 1.2);
        let at = self.begin() + self.spine;
        self.rule(d, at, Stroke::new(hair, colour::mix(colour_, dark, 0.38)));
        let light = colour::mix(colour_, style.paper, 0.22);
        self.rule(d, at + hair, Stroke::new(hair, light));
    }

    /// The two lines of a frame as areas, to be stamped.
    pub fn frame_areas(&self, notch: Option<f64>) -> Path {
        let board = self.board();
        let thick = (self.unit * 0.13).clamp(0.9, 2.6);
        let outer = board.inset(self.unit * 1.15);
        let radius = self.corner * 0.5;
        let line = |off: f64| match notch {
            None => Path::rounded(outer.inset(off), (radius - off).max(0.0)),
            Some(q) => notched(outer.inset(off), q),
        };
        let mut out = line(-thick / 2.0);
        out.0.extend(line(thick / 2.0).reversed().0);
        let (inner, half) = (board.inset(self.unit * 1.62), (thick * 0.25).max(0.3));
        let q = notch.unwrap_or(self.unit * 1.1);
        out.0.extend(notched(inner.inset(-half), q).0);
        out.0.extend(notched(inner.inset(half), q).reversed().0);
        out
    }

    /// Two lines round the board, the inner one with corners cut out in quarter circles; both of them, and as deep as `notch`,
    /// where something is fitted to the corners.
    pub fn frame(&self, d: &mut Drawing, line: Rgb, notch: Option<f64>) {
        let board = self.board();
        let outer = board.inset(self.unit * 1.15);
        let inner = board.inset(self.unit * 1.55);
        let thick = (self.unit * 0.1).clamp(0.8, 2.0);
        let outer = notch.map_or_else(|| Path::rounded(outer, self.corner * 0.5), |q| notched(outer, q));
        d.stroke(outer, Stroke::new(thick, line));
        d.stroke(notched(inner, notch.unwrap_or(self.unit * 1.1)), Stroke::new((thick * 0.45).max(0.5), line));
    }

    /// An elastic band near the edge that opens.
    pub fn band(&self, d: &mut Drawing, band: Rgb, style: &Style) {
        let w = self.unit * 0.72;
        let at = self.end() - self.unit * 2.3 - w;
        let shade = |t| colour::mix(band, style.ink, t);
        d.fill(Path::rect(self.along(at, w)), band);
        // Woven ribs along it: what makes it elastic and no stripe.
        for (share, t) in [(0.0, 0.34), (1.0 / 3.0, 0.12), (2.0 / 3.0, 0.12), (1.0, 0.34)] {
            let width = (w * 0.06).max(0.35);
            self.rule(d, at + width / 2.0 + share * (w - width), Stroke::new(width, shade(t)));
        }
    }

    /// The desk round the book, over whatever overhangs it: a soft shadow on it, and the block of pages between the boards.
    /// Light comes from the upper left, so that both are seen at the right and below, and nothing at the left and above.
    pub fn surroundings(&self, d: &mut Drawing, size: Size, style: &Style) {
        d.fill(self.around(Path::rect(Rect::page(size))), style.desk);
        let depth = self.unit * 0.42;
        let dark = colour::darker(style.ink, style.paper);
        let block = self.block();
        let steps = 7;
        for i in 0..steps {
            let out = depth * (1.0 - f64::from(i) / f64::from(steps));
            let t = 0.025 + 0.026 * f64::from(i);
            let more = block + out;
            let r = Rect { w: self.rect.w + more, h: self.rect.h + more, ..self.rect };
            // No rounder than this: the ring would begin within the board's own corner.
            let ring = self.around(Path::rounded_each(r, self.radii_beyond(more)));
            d.fill(ring, colour::mix(style.desk, dark, t));
        }
        self.pages(d, style, dark);
    }

    /// How far the board below juts out at the right and at the foot.
    fn block(&self) -> f64 {
        self.unit * 0.3
    }

    /// The pages between the boards, a sliver at the right and at the foot, and the board below them.
    fn pages(&self, d: &mut Drawing, style: &Style, dark: Rgb) {
        let hair = (self.unit * 0.035).clamp(0.3, 0.7);
        let light = colour::lighter(style.ink, style.paper);
        let leaf = colour::mix(light, dark, 0.1);
        let steps = [
            (1.0, colour::mix(style.desk, dark, 0.45)),
            (0.86, leaf),
            (0.56, colour::mix(light, dark, 0.2)),
            (0.26, leaf),
        ];
        for (share, tone) in steps {
            let off = self.block() * share;
            // It has the board's upper left corner, so that the whole of the board lies within.
            let r = Rect { w: self.rect.w + off, h: self.rect.h + off, ..self.rect };
            d.fill(self.around(Path::rounded_each(r, self.radii_beyond(off))), tone);
        }
        let edge = colour::mix(style.desk, dark, 0.3);
        d.stroke(Path::rounded_each(self.rect, self.radii()), Stroke::new(hair, edge));
    }

    /// A path with the book cut out of it (non-zero winding: the hole runs the other way round).
    fn around(&self, mut outer: Path) -> Path {
        outer.0.extend(Path::rounded_each(self.rect, self.radii()).reversed().0);
        outer
    }
}

/// A rectangle whose corners are cut out in quarter circles.
fn notched(r: Rect, q: f64) -> Path {
    let (x0, y0, x1, y1) = (r.x, r.y, r.right(), r.bottom());
    // Control points of a quarter circle lie at 0.5523 of its radius.
    let k = q * 0.5523;
    let p = Point::new;
    Path(vec![
        Seg::Move(p(x0 + q, y0)),
        Seg::Line(p(x1 - q, y0)),
        Seg::Cubic(p(x1 - q, y0 + k), p(x1 - k, y0 + q), p(x1, y0 + q)),
        Seg::Line(p(x1, y1 - q)),
        Seg::Cubic(p(x1 - k, y1 - q), p(x1 - q, y1 - k), p(x1 - q, y1)),
        Seg::Line(p(x0 + q, y1)),
        Seg::Cubic(p(x0 + q, y1 - k), p(x0 + k, y1 - q), p(x0, y1 - q)),
        Seg::Line(p(x0, y0 + q)),
        Seg::Cubic(p(x0 + k, y0 + q), p(x0 + q, y0 + k), p(x0 + q, y0)),
        Seg::Close,
    ])
}
