//! Outlines that motifs share: chains of points, chains with rounded corners, turned paths.

use base::model::Point;
use base::model::drawing::{Path, Seg};

/// A closed or open chain of points given in mm from a corner.
pub fn chain(points: &[(f64, f64)], closed: bool) -> Path {
    let points: Vec<Point> = points.iter().map(|(x, y)| Point::new(*x, *y)).collect();
    Path::polyline(&points, closed)
}

/// Every point of a path turned by an angle in degrees (clockwise, as y runs down) about a centre.
pub fn turned(path: Path, about: Point, degrees: f64) -> Path {
    let (s, c) = libm::sincos(degrees.to_radians());
    let f = |p: Point| {
        let (x, y) = (p.x - about.x, p.y - about.y);
        Point::new(about.x + x * c - y * s, about.y + x * s + y * c)
    };
    Path(
        path.0
            .into_iter()
            .map(|seg| match seg {
                Seg::Move(p) => Seg::Move(f(p)),
                Seg::Line(p) => Seg::Line(f(p)),
                Seg::Cubic(a, b, p) => Seg::Cubic(f(a), f(b), f(p)),
                Seg::Close => Seg::Close,
            })
            .collect(),
    )
}

/// A closed outline through points, each corner rounded by its own radius in points (0 keeps it sharp).
pub fn soft_chain(corners: &[(f64, f64, f64)]) -> Path {
    let n = corners.len();
    let at = |i: usize| Point::new(corners[i % n].0, corners[i % n].1);
    let mut segs = Vec::with_capacity(n * 2 + 1);
    for (i, (_, _, radius)) in corners.iter().enumerate() {
        let (before, here, after, radius) = (at(i + n - 1), at(i), at(i + 1), *radius);
        let toward = |p: Point, by: f64| {
            let (dx, dy) = (p.x - here.x, p.y - here.y);
            let long = libm::hypot(dx, dy).max(1e-9);
            let t = by.min(long / 2.0) / long;
            Point::new(here.x + dx * t, here.y + dy * t)
        };
        let (from, to) = (toward(before, radius), toward(after, radius));
        segs.push(if i == 0 { Seg::Move(from) } else { Seg::Line(from) });
        if radius > 0.0 {
            segs.push(Seg::Cubic(toward(before, radius * 0.45), toward(after, radius * 0.45), to));
        }
    }
    segs.push(Seg::Close);
    Path(segs)
}
