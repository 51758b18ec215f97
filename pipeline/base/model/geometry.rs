//! Points, sizes and rectangles in PDF points, origin top left, y down.

use serde::{Deserialize, Serialize};

/// A point, in points from the top left corner of the page.
#[derive(Clone, Copy, Debug, Default, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct Point {
    /// Distance from the left edge.
    pub x: f64,
    /// Distance from the top edge.
    pub y: f64,
}

impl Point {
    /// A point from its coordinates.
    pub const fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }
}

/// A width and a height, in points.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, borsh::BorshSerialize, borsh::BorshDeserialize,
)]
pub struct Size {
    /// Width.
    pub w: f64,
    /// Height.
    pub h: f64,
}

impl Size {
    /// A size from width and height.
    pub const fn new(w: f64, h: f64) -> Size {
        Size { w, h }
    }

    /// Whether it is wider than high.
    pub fn is_landscape(self) -> bool {
        self.w > self.h
    }
}

/// A rectangle by its top left corner, width and height, in points.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, borsh::BorshSerialize, borsh::BorshDeserialize,
)]
pub struct Rect {
    /// Left edge.
    pub x: f64,
    /// Top edge.
    pub y: f64,
    /// Width.
    pub w: f64,
    /// Height.
    pub h: f64,
}

impl Rect {
    /// A rectangle from its top left corner, width and height.
    pub const fn new(x: f64, y: f64, w: f64, h: f64) -> Rect {
        Rect { x, y, w, h }
    }

    /// The whole of a page of this size.
    pub const fn page(size: Size) -> Rect {
        Rect::new(0.0, 0.0, size.w, size.h)
    }

    /// Right edge.
    pub fn right(self) -> f64 {
        self.x + self.w
    }

    /// Bottom edge.
    pub fn bottom(self) -> f64 {
        self.y + self.h
    }

    /// The middle.
    pub fn centre(self) -> Point {
        Point::new(self.x + self.w / 2.0, self.y + self.h / 2.0)
    }

    /// The rectangle that holds it when it is turned about its middle by so many degrees.
    pub fn turned(self, degrees: f64) -> Rect {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        let (w, h) = (self.w * cos.abs() + self.h * sin.abs(), self.w * sin.abs() + self.h * cos.abs());
        let middle = self.centre();
        Rect::new(middle.x - w / 2.0, middle.y - h / 2.0, w, h)
    }

    /// Its size.
    pub fn size(self) -> Size {
        Size::new(self.w, self.h)
    }

    /// The rectangle made smaller by this much on every side (larger when negative); never below zero.
    pub fn inset(self, by: f64) -> Rect {
        self.inset_each(by, by, by, by)
    }

    /// The rectangle made smaller on the left, top, right and bottom; never below zero.
    pub fn inset_each(self, left: f64, top: f64, right: f64, bottom: f64) -> Rect {
        Rect::new(self.x + left, self.y + top, (self.w - left - right).max(0.0), (self.h - top - bottom).max(0.0))
    }

    /// Whether `other` lies wholly inside, give or take `slack`.
    pub fn contains(self, other: Rect, slack: f64) -> bool {
        other.x >= self.x - slack
            && other.y >= self.y - slack
            && other.right() <= self.right() + slack
            && other.bottom() <= self.bottom() + slack
    }

    /// Whether the two share some area (touching edges share none).
    pub fn overlaps(self, other: Rect) -> bool {
        self.x < other.right() && other.x < self.right() && self.y < other.bottom() && other.y < self.bottom()
    }

    /// What the two share; without any area where they do not meet.
    pub fn crossing(self, other: Rect) -> Rect {
        let (x, y) = (self.x.max(other.x), self.y.max(other.y));
        let (right, bottom) = (self.right().min(other.right()), self.bottom().min(other.bottom()));
        Rect::new(x, y, (right - x).max(0.0), (bottom - y).max(0.0))
    }

    /// Cuts the rectangle into `n` equal columns with `gap` between them, left to right.
    pub fn columns(self, n: usize, gap: f64) -> Vec<Rect> {
        let w = (self.w - gap * (n.max(1) - 1) as f64) / n.max(1) as f64;
        (0..n).map(|i| Rect::new(self.x + i as f64 * (w + gap), self.y, w, self.h)).collect()
    }

    /// Cuts the rectangle into `n` equal rows with `gap` between them, top to bottom.
    pub fn rows(self, n: usize, gap: f64) -> Vec<Rect> {
        let h = (self.h - gap * (n.max(1) - 1) as f64) / n.max(1) as f64;
        (0..n).map(|i| Rect::new(self.x, self.y + i as f64 * (h + gap), self.w, h)).collect()
    }
}
