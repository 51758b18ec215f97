//! Transformations and extents in PDF space.

/// A transformation `[a b c d e f]` (ISO 32000-1, 8.3.3).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Matrix(pub [f64; 6]);

impl Matrix {
    /// The one that changes nothing.
    pub const IDENTITY: Matrix = Matrix([1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);

    /// First this one, then `next`.
    pub fn then(self, next: Matrix) -> Matrix {
        let ([a, b, c, d, e, f], [p, q, r, s, t, u]) = (self.0, next.0);
        Matrix([a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u])
    }

    /// Where a point lands.
    pub fn apply(self, x: f64, y: f64) -> (f64, f64) {
        let [a, b, c, d, e, f] = self.0;
        (a * x + c * y + e, b * x + d * y + f)
    }

    /// The extent of a box after the transformation.
    pub fn apply_box(self, b: Box4) -> Box4 {
        let mut out = Box4::NOTHING;
        for (x, y) in [(b.x0, b.y0), (b.x1, b.y0), (b.x0, b.y1), (b.x1, b.y1)] {
            let (x, y) = self.apply(x, y);
            out.add(x, y);
        }
        out
    }

    /// The extent of the unit square, which is where pictures are drawn.
    pub fn unit_square(self) -> Box4 {
        self.apply_box(Box4 { x0: 0.0, y0: 0.0, x1: 1.0, y1: 1.0 })
    }

    /// Whether what ran level from left to right still does.
    pub fn is_level(self) -> bool {
        let [a, b, c, ..] = self.0;
        a > 0.0 && b.abs() < 1e-3 * a && c.abs() < 1e-3 * a
    }

    /// The lengths of the two unit vectors after the transformation.
    pub fn lengths(self) -> (f64, f64) {
        let [a, b, c, d, ..] = self.0;
        (libm::hypot(a, b), libm::hypot(c, d))
    }
}

/// A box by its corners, origin bottom left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Box4 {
    /// Left.
    pub x0: f64,
    /// Bottom.
    pub y0: f64,
    /// Right.
    pub x1: f64,
    /// Top.
    pub y1: f64,
}

impl Box4 {
    /// A box in which nothing lies yet.
    pub const NOTHING: Box4 =
        Box4 { x0: f64::INFINITY, y0: f64::INFINITY, x1: f64::NEG_INFINITY, y1: f64::NEG_INFINITY };

    /// Widens the box to a point.
    pub fn add(&mut self, x: f64, y: f64) {
        self.x0 = self.x0.min(x);
        self.y0 = self.y0.min(y);
        self.x1 = self.x1.max(x);
        self.y1 = self.y1.max(y);
    }

    /// The box made larger by this much on every side.
    pub fn grown(self, by: f64) -> Box4 {
        Box4 { x0: self.x0 - by, y0: self.y0 - by, x1: self.x1 + by, y1: self.y1 + by }
    }

    /// What the two share; a box without area where they share nothing.
    pub fn intersection(self, other: Box4) -> Box4 {
        Box4 {
            x0: self.x0.max(other.x0),
            y0: self.y0.max(other.y0),
            x1: self.x1.min(other.x1),
            y1: self.y1.min(other.y1),
        }
    }

    /// Its area; 0 for one that is turned inside out.
    pub fn area(self) -> f64 {
        (self.x1 - self.x0).max(0.0) * (self.y1 - self.y0).max(0.0)
    }

    /// The smallest box round both.
    pub fn union(self, other: Box4) -> Box4 {
        Box4 {
            x0: self.x0.min(other.x0),
            y0: self.y0.min(other.y0),
            x1: self.x1.max(other.x1),
            y1: self.y1.max(other.y1),
        }
    }

    /// Whether the two meet; a hair-thin mark counts.
    pub fn touches(self, other: Box4) -> bool {
        self.x0 <= other.x1 && other.x0 <= self.x1 && self.y0 <= other.y1 && other.y0 <= self.y1
    }
}

/// A path under construction.
#[derive(Clone, Debug)]
pub struct Path {
    /// The extent of all that has been drawn so far.
    pub extent: Box4,
    /// Whether a `W` waits for the end of the path.
    pub clips: bool,
    /// The extents of its parts that are closed or done with.
    pub parts: Vec<Box4>,
    /// The extent of the part that is being drawn.
    part: Box4,
    /// Twice the area within its points, and its first and last one.
    twice: f64,
    ends: Option<[(f64, f64); 2]>,
    /// The share of its extent that the only part fills; 0 for a path of several parts.
    fills: f64,
}

/// A shape that fills this share of its extent lies beneath all that stands within it, but for its corners.
const SOLID: f64 = 0.85;
/// The most parts of one path that are told apart.
const MAX_PARTS: usize = 400;

impl Path {
    /// A path of which nothing is drawn yet.
    pub const EMPTY: Path = Path {
        extent: Box4::NOTHING,
        clips: false,
        parts: Vec::new(),
        part: Box4::NOTHING,
        twice: 0.0,
        ends: None,
        fills: 0.0,
    };

    /// Draws on to a point.
    pub fn add(&mut self, x: f64, y: f64) {
        self.extent.add(x, y);
        self.part.add(x, y);
        if let Some([first, (px, py)]) = self.ends {
            self.twice += px * y - x * py;
            self.ends = Some([first, (x, y)]);
        } else {
            self.ends = Some([(x, y), (x, y)]);
        }
    }

    /// A rectangle, as a part of its own.
    pub fn rectangle(&mut self, there: Box4) {
        self.lift();
        for (x, y) in [(there.x0, there.y0), (there.x1, there.y0), (there.x1, there.y1), (there.x0, there.y1)] {
            self.add(x, y);
        }
    }

    /// Whether it is one part that fills its extent nearly, as a rectangle with round corners does.
    pub fn is_solid(&self) -> bool {
        self.parts.len() == 1 && self.fills >= SOLID
    }

    /// Ends a part, so that the next point begins another.
    pub fn lift(&mut self) {
        if self.part.x0.is_finite() && self.parts.len() < MAX_PARTS {
            self.parts.push(self.part);
            if let Some([(x, y), (px, py)]) = self.ends {
                self.fills = (self.twice + px * y - x * py).abs() / 2.0 / self.part.area().max(1e-9);
            }
        }
        (self.part, self.twice, self.ends) = (Box4::NOTHING, 0.0, None);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn transformations_run_in_order() {
        let twice = Matrix([2.0, 0.0, 0.0, 2.0, 0.0, 0.0]);
        let right = Matrix([1.0, 0.0, 0.0, 1.0, 10.0, 0.0]);
        assert_eq!(twice.then(right).apply(1.0, 1.0), (12.0, 2.0));
        assert_eq!(right.then(twice).apply(1.0, 1.0), (22.0, 2.0));
        let turned = Matrix([0.0, 3.0, -4.0, 0.0, 0.0, 0.0]);
        assert_eq!(turned.lengths(), (3.0, 4.0));
        assert_eq!(turned.unit_square(), Box4 { x0: -4.0, y0: 0.0, x1: 0.0, y1: 3.0 });
    }
}
