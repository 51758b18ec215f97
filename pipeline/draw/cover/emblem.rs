//! Emblems that are stamped into boards: each one path, so that foil and blind stamping take it alike.

use base::model::drawing::{Path, Seg};
use base::model::finish::Stamp;
use base::model::{Point, Rect};
use std::f64::consts::TAU;

/// An emblem round this middle, nothing of it farther away than `reach`; none where none is asked for.
pub fn path(stamp: Stamp, at: Point, reach: f64) -> Option<Path> {
    let mut out = Path(Vec::new());
    let mut add = |path: Path| out.0.extend(path.0);
    match stamp {
        Stamp::None => return None,
        Stamp::Sprig => sprig(&mut add, at, reach),
        Stamp::Sun => sun(&mut add, at, reach),
        Stamp::Moon => moon(&mut add, at, reach),
        Stamp::Compass => compass(&mut add, at, reach),
        Stamp::Rule => rule(&mut add, at, reach),
    }
    Some(out)
}

/// A point so many turns from the top, clockwise, and so far from here.
fn from(at: Point, turns: f64, far: f64) -> Point {
    let (sin, cos) = libm::sincos(turns * TAU);
    Point::new(at.x + far * sin, at.y - far * cos)
}

/// A ring as wide as this.
fn ring(at: Point, radius: f64, width: f64) -> Path {
    let mut out = Path::circle(at, radius + width / 2.0);
    out.0.extend(Path::circle(at, radius - width / 2.0).reversed().0);
    out
}

/// A star whose points lie so far away, the hollows between them so near.
fn star(at: Point, points: usize, far: f64, near: f64) -> Path {
    let corners: Vec<Point> = (0..points * 2)
        .map(|n| from(at, n as f64 / (points * 2) as f64, if n % 2 == 0 { far } else { near }))
        .collect();
    Path::polyline(&corners, true)
}

/// A leaf from here that points there, in turns from the top.
fn leaf(at: Point, turns: f64, length: f64) -> Path {
    let p = |aside: f64, along: f64| from(from(at, turns, along * length), turns + 0.25, aside * length);
    Path(vec![
        Seg::Move(at),
        Seg::Cubic(p(0.25, 0.16), p(0.23, 0.64), p(0.0, 1.0)),
        Seg::Cubic(p(-0.23, 0.64), p(-0.25, 0.16), at),
        Seg::Close,
    ])
}

/// Two twigs that meet at the foot and bend round an open middle.
fn sprig(add: &mut impl FnMut(Path), at: Point, reach: f64) {
    let far = reach * 0.74;
    for side in [1.0, -1.0] {
        // Along a circle from the foot upwards; a stem is thick where it begins and thin where it ends.
        let on = |t: f64, off: f64| from(at, side * (0.5 - 0.36 * t) + 0.0, far + off);
        let thick = reach * 0.028;
        let steps = 10;
        let along = |n: usize, side: f64| {
            let t = n as f64 / f64::from(steps);
            on(t, side * thick * (1.0 - 0.75 * t))
        };
        let mut edge: Vec<Point> = (0..=steps as usize).map(|n| along(n, 1.0)).collect();
        edge.extend((0..=steps as usize).rev().map(|n| along(n, -1.0)));
        let turned: Vec<Point> = if side > 0.0 { edge.into_iter().rev().collect() } else { edge };
        add(Path::polyline(&turned, true));
        for pair in 0..5 {
            let t = 0.12 + 0.19 * f64::from(pair);
            let length = reach * (0.36 - 0.03 * f64::from(pair));
            // Forward along the twig, and to either side of it.
            let ahead = side * (0.5 - 0.36 * t) - side * 0.25;
            add(leaf(on(t, 0.0), ahead - side * 0.1, length));
            add(leaf(on(t + 0.05, 0.0), ahead + side * 0.1, length * 0.92));
        }
        let tip = side * (0.5 - 0.36) - side * 0.25;
        add(leaf(on(1.0, 0.0), tip, reach * 0.24));
    }
}

/// A disc in a ring of rays, long and short by turns.
fn sun(add: &mut impl FnMut(Path), at: Point, reach: f64) {
    add(Path::circle(at, reach * 0.34));
    add(ring(at, reach * 0.44, reach * 0.03));
    for n in 0..24 {
        let turns = f64::from(n) / 24.0;
        let (end, half) = if n % 2 == 0 { (1.0, 0.016) } else { (0.78, 0.011) };
        let corners =
            [from(at, turns - half, reach * 0.54), from(at, turns, reach * end), from(at, turns + half, reach * 0.54)];
        add(Path::polyline(&corners, true));
    }
}

/// A crescent, three stars in its arms.
fn moon(add: &mut impl FnMut(Path), at: Point, reach: f64) {
    // Two circles that cross: the outer edge runs along the one from horn to horn, and back along the other.
    let (large, small, apart) = (0.9_f64, 0.74_f64, 0.27_f64);
    let along = (apart * apart + large * large - small * small) / (2.0 * apart);
    let open = 0.16;
    let horn = libm::acos(along / large) / TAU;
    let hollow = libm::acos((along - apart) / small) / TAU;
    let middle = Point::new(at.x - reach * 0.06, at.y);
    let other = from(middle, open, reach * apart);
    let mut segs = vec![Seg::Move(from(middle, open + horn, reach * large))];
    segs.extend(bow(middle, reach * large, open + horn, open + 1.0 - horn));
    segs.extend(bow(other, reach * small, open + 1.0 - hollow, open + hollow));
    segs.push(Seg::Close);
    add(Path(segs));
    for (x, y, far) in [(0.2, -0.22, 0.28), (-0.06, 0.16, 0.15), (0.42, 0.16, 0.12)] {
        add(star(Point::new(at.x + reach * x, at.y + reach * y), 4, reach * far, reach * far * 0.3));
    }
}

/// Along a circle from one place to another, both in turns from the top.
fn bow(at: Point, radius: f64, begin: f64, end: f64) -> impl Iterator<Item = Seg> {
    const PIECES: u32 = 6;
    let step = (end - begin) / f64::from(PIECES);
    // How far control points lie along the tangent (4/3 tan of a quarter of the angle).
    let k = 4.0 / 3.0 * libm::tan(step * TAU / 4.0) * radius;
    (0..PIECES).map(move |n| {
        let (a, b) = (begin + step * f64::from(n), begin + step * f64::from(n + 1));
        let (p, q) = (from(at, a, radius), from(at, b, radius));
        Seg::Cubic(from(p, a + 0.25, k), from(q, b - 0.25, k), q)
    })
}

/// A star of eight points in a ring, each point with a light and a dark side: the dark one is left to the board.
fn compass(add: &mut impl FnMut(Path), at: Point, reach: f64) {
    add(ring(at, reach * 0.62, reach * 0.028));
    add(ring(at, reach * 0.54, reach * 0.016));
    for (n, far) in [1.0, 0.66].into_iter().cycle().take(8).enumerate() {
        let turns = n as f64 / 8.0;
        let (tip, near) = (from(at, turns, reach * far), reach * if n % 2 == 0 { 0.2 } else { 0.17 });
        add(Path::polyline(&[at, from(at, turns - 0.0625, near), tip], true));
        // The other half as an edge alone.
        let width = reach * 0.024;
        let hollow = from(at, turns + 0.0625, near);
        let aside = |p: Point| from(p, turns - 0.25, width);
        add(Path::polyline(&[tip, hollow, aside(hollow)], true));
    }
}

/// A lozenge between two lines that thin out.
fn rule(add: &mut impl FnMut(Path), at: Point, reach: f64) {
    let p = |x: f64, y: f64| Point::new(at.x + x * reach, at.y + y * reach);
    let lozenge = |x: f64, r: f64| Path::polyline(&[p(x, -r), p(x + r * 0.7, 0.0), p(x, r), p(x - r * 0.7, 0.0)], true);
    add(lozenge(0.0, 0.17));
    for side in [1.0, -1.0] {
        add(lozenge(side * 0.24, 0.08));
        let line = [p(side * 0.38, -0.022), p(side, -0.004), p(side, 0.004), p(side * 0.38, 0.022)];
        let line: Vec<Point> = if side > 0.0 { line.to_vec() } else { line.into_iter().rev().collect() };
        add(Path::polyline(&line, true));
    }
}

/// Where an emblem stands: between what ends above and what begins below, or in the middle of a board without a label. A
/// `round` of its own needs room beside it.
pub fn place(board: Rect, above: Option<f64>, below: f64, unit: f64, round: f64) -> (Point, f64) {
    match above {
        Some(above) => {
            let gap = (below - above).max(0.0);
            let reach = (gap * if round > 1.0 { 0.34 / round } else { 0.33 }).min(unit * 2.5);
            (Point::new(board.centre().x, above + gap * 0.5), reach)
        }
        None => (Point::new(board.centre().x, board.y + board.h * 0.4), (unit * 4.6).min(board.h * 0.2)),
    }
}
