//! The closed book: where it lies on the page, its spine, its frame or band, and the desk with the shadow round it.

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
    /// Width of the spine strip.
    pub spine: f64,
    /// Width of the strip of a quarter binding beside it; 0 where there is none.
    pub quarter: f64,
    /// A measure that grows with the book: about a twenty-fifth of its shorter side.
    pub unit: f64,
}

impl Book {
    /// The book on a page of this size.
    pub fn new(size: Size, corner: f64) -> Book {
        let short = size.w.min(size.h);
        let margin = (short * 0.03).max(4.0);
        let rect = Rect::page(size).inset(margin);
        let unit = rect.w.min(rect.h) / 25.0;
        Book { page: size, rect, corner: between(corner, 0.0, unit * 2.5), spine: unit * 1.5, quarter: 0.0, unit }
    }

    /// The same in a quarter binding, whose strip lies on the board beside the spine.
    pub fn quartered(self) -> Book {
        Book { quarter: self.unit * 2.1, ..self }
    }

    fn radii(&self) -> [f64; 4] {
        let inner = self.corner * 0.45;
        [inner, self.corner, self.corner, inner]
    }

    /// The board as far as it is seen: the book without its spine strip and what lies over the board's edge.
    pub fn board(&self) -> Rect {
        self.rect.inset_each(self.spine + self.quarter, 0.0, 0.0, 0.0)
    }

    /// The outer edge of the board, which turns away from the light: it ends there as it begins at the spine, with a line.
    pub fn fore_edge(&self, d: &mut Drawing, board: Rgb) {
        let hair = (self.unit * 0.06).clamp(0.5, 1.2);
        let x = self.rect.right() - hair / 2.0;
        d.line(x, self.rect.y, x, self.rect.bottom(), Stroke::new(hair, colour::mix(board, Rgb::BLACK, 0.14)));
    }

    /// The strip of a quarter binding with the spine in it.
    pub fn strip(&self) -> Rect {
        Rect { w: self.spine + self.quarter, ..self.rect }
    }

    /// The edge of that strip on the board, which lies a little deeper.
    pub fn strip_edge(&self, d: &mut Drawing, board: Rgb, strip: Rgb) {
        let (r, x) = (self.rect, self.strip().right());
        let hair = (self.unit * 0.05).clamp(0.5, 1.2);
        let shade = self.unit * 0.11;
        d.fill(Path::rect(Rect::new(x, r.y, shade, r.h)), colour::mix(board, Rgb::BLACK, 0.3));
        d.line(x - hair / 2.0, r.y, x - hair / 2.0, r.bottom(), Stroke::new(hair, colour::mix(strip, Rgb::BLACK, 0.3)));
    }

    /// The spine strip, a little nearer to `dark` than the board or cloth that goes round it, with a crease beside it.
    pub fn spine(&self, d: &mut Drawing, style: &Style, colour_: Rgb, dark: Rgb) {
        let r = self.rect;
        d.fill(Path::rect(Rect { w: self.spine, ..r }), colour::mix(colour_, dark, 0.2));
        let hair = (self.unit * 0.05).clamp(0.5, 1.2);
        let x = r.x + self.spine;
        d.line(x, r.y, x, r.bottom(), Stroke::new(hair, colour::mix(colour_, dark, 0.38)));
        let light = colour::mix(colour_, style.paper, 0.22);
        d.line(x + hair, r.y, x + hair, r.bottom(), Stroke::new(hair, light));
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

    /// An elastic band near the fore edge.
    pub fn band(&self, d: &mut Drawing, band: Rgb, style: &Style) {
        let r = self.rect;
        let w = self.unit * 0.72;
        let x = r.right() - self.unit * 2.3 - w;
        let shade = |t| colour::mix(band, style.ink, t);
        d.fill(Path::rect(Rect::new(x, r.y, w, r.h)), band);
        // Woven ribs along it: what makes it elastic and no stripe.
        for (at, t) in [(0.0, 0.34), (1.0 / 3.0, 0.12), (2.0 / 3.0, 0.12), (1.0, 0.34)] {
            let width = (w * 0.06).max(0.35);
            let x = x + width / 2.0 + at * (w - width);
            d.line(x, r.y, x, r.bottom(), Stroke::new(width, shade(t)));
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
            let [first, .., last] = self.radii();
            // No rounder than this: the ring would begin within the board's own corner.
            let radii = [first, self.corner + more, self.corner + more, last + more];
            let ring = self.around(Path::rounded_each(r, radii));
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
            let [first, .., last] = self.radii();
            let radii = [first, self.corner + off, self.corner + off, last + off];
            d.fill(self.around(Path::rounded_each(r, radii)), tone);
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
