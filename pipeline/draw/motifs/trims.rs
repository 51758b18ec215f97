//! Trims: tapes, dividers, corners: what dresses a page without room to write.

use super::builder::{MotifBuilder, mm};
use super::shapes::chain;
use base::colour;
use base::model::drawing::{Path, Seg, Shape};
use base::model::{Point, Rect, Stroke};

/// A strip of tape with torn ends, in the tint.
pub fn torn_tape(k: &mut MotifBuilder, r: Rect) {
    let fill = colour::mix(k.paper, k.base, 0.55);
    let path = torn(r);
    k.shape(path, fill);
}

/// A strip whose two ends are torn into small teeth.
fn torn(r: Rect) -> Path {
    let (teeth, depth) = (4, mm(1.1));
    let mut points = vec![(r.x, r.y), (r.right(), r.y)];
    let step = r.h / f64::from(teeth * 2);
    for i in 1..teeth * 2 {
        let x = if i % 2 == 1 { r.right() - depth } else { r.right() };
        points.push((x, r.y + step * f64::from(i)));
    }
    points.extend([(r.right(), r.bottom()), (r.x, r.bottom())]);
    for i in 1..teeth * 2 {
        let x = if i % 2 == 1 { r.x + depth } else { r.x };
        points.push((x, r.bottom() - step * f64::from(i)));
    }
    chain(&points, true)
}

pub fn tape_stripes(k: &mut MotifBuilder) {
    let r = k.sized(70.0, 13.0);
    let (base, stroke, pale) = (k.base, k.outline(), colour::mix(k.paper, k.base, 0.55));
    k.d.fill(torn(r), pale);
    // Slanting stripes that keep clear of the torn ends.
    let (lean, wide, step) = (r.h * 0.5, mm(2.6), mm(5.2));
    let n = ((r.w - mm(5.0) - lean - wide) / step).floor();
    let first = r.centre().x - (n * step + lean + wide) / 2.0;
    for i in 0..=n as usize {
        let x = first + step * i as f64;
        let stripe = [(x + lean, r.y), (x + lean + wide, r.y), (x + wide, r.bottom()), (x, r.bottom())];
        k.d.fill(chain(&stripe, true), base);
    }
    k.d.stroke(torn(r), stroke);
}

pub fn tape_dots(k: &mut MotifBuilder) {
    let r = k.sized(70.0, 13.0);
    let (fill, stroke) = (colour::mix(k.paper, k.base, 0.55), k.outline());
    k.d.fill(torn(r), fill);
    let mut at = Vec::new();
    for row in 0..3 {
        let n = if row % 2 == 0 { 12 } else { 11 };
        for i in 0..n {
            at.push(Point::new(
                r.centre().x + mm(5.5) * (f64::from(i) - f64::from(n - 1) / 2.0),
                r.y + r.h * (0.2 + 0.3 * f64::from(row)),
            ));
        }
    }
    k.d.push(Shape::Dots { at, diameter: mm(1.9), colour: k.base });
    k.d.stroke(torn(r), stroke);
}

pub fn divider_leaf(k: &mut MotifBuilder) {
    let r = k.sized(96.0, 11.0);
    let (c, stroke, base) = (Point::new(r.centre().x, r.y + mm(7.0)), k.outline(), k.base);
    for side in [-1.0, 1.0] {
        let end = if side < 0.0 { r.x } else { r.right() };
        k.d.line(c.x + side * mm(12.0), c.y, end - side * mm(4.4), c.y, stroke);
        k.shape(Path::circle(Point::new(end - side * mm(1.5), c.y), mm(1.5)), base);
        // A leaf that grows out of the middle, to the side and a little up.
        let root = Point::new(c.x + side * mm(0.6), c.y + mm(1.0));
        let at = |x: f64, y: f64| Point::new(root.x + side * mm(x), root.y + mm(y));
        let leaf = Path(vec![
            Seg::Move(root),
            Seg::Cubic(at(1.6, -4.6), at(5.6, -5.4), at(9.0, -3.0)),
            Seg::Cubic(at(7.4, 0.6), at(3.4, 1.4), root),
            Seg::Close,
        ]);
        k.shape(leaf, base);
    }
    let (soft, foot) = (k.soft, c.y + mm(1.0));
    let at = |x: f64, y: f64| Point::new(c.x + mm(x), y);
    let bud = Path(vec![
        Seg::Move(at(0.0, foot)),
        Seg::Cubic(at(-3.4, foot - mm(2.4)), at(-1.6, r.y + mm(1.6)), at(0.0, r.y)),
        Seg::Cubic(at(1.6, r.y + mm(1.6)), at(3.4, foot - mm(2.4)), at(0.0, foot)),
        Seg::Close,
    ]);
    k.shape(bud, soft);
    k.d.line(c.x, foot, c.x, r.bottom(), stroke);
}

pub fn corner(k: &mut MotifBuilder) {
    let r = k.sized(34.0, 34.0);
    // A ribbon that runs down and to the right from a rounded corner, with a leaf spray inside.
    let (w, q) = (mm(6.0), mm(8.0));
    let band = Path(vec![
        Seg::Move(Point::new(r.x, r.bottom())),
        Seg::Line(Point::new(r.x, r.y + q)),
        Seg::Cubic(Point::new(r.x, r.y + q * 0.45), Point::new(r.x + q * 0.45, r.y), Point::new(r.x + q, r.y)),
        Seg::Line(Point::new(r.right(), r.y)),
        Seg::Line(Point::new(r.right() - w / 2.0, r.y + w / 2.0)),
        Seg::Line(Point::new(r.right(), r.y + w)),
        Seg::Line(Point::new(r.x + q, r.y + w)),
        Seg::Cubic(
            Point::new(r.x + w + 0.9, r.y + w),
            Point::new(r.x + w, r.y + w + 0.9),
            Point::new(r.x + w, r.y + q),
        ),
        Seg::Line(Point::new(r.x + w, r.bottom())),
        Seg::Line(Point::new(r.x + w / 2.0, r.bottom() - w / 2.0)),
        Seg::Close,
    ]);
    let base = k.base;
    k.shape(band, base);
    let seam = Stroke::new(0.9, colour::mix(base, k.on_base, 0.45)).round().dashed(3.2, 2.6);
    let (m, far) = (w / 2.0, mm(6.0));
    k.d.stroke(
        Path(vec![
            Seg::Move(Point::new(r.x + m, r.bottom() - far)),
            Seg::Line(Point::new(r.x + m, r.y + q)),
            Seg::Cubic(
                Point::new(r.x + m, r.y + m + 2.0),
                Point::new(r.x + m + 2.0, r.y + m),
                Point::new(r.x + q, r.y + m),
            ),
            Seg::Line(Point::new(r.right() - far, r.y + m)),
        ]),
        seam,
    );
}
