//! Patterns, tone on tone: bands and lines from edge to edge. What stands alone is in `scattered.rs`.

use super::room::{Room, Tones, steps};
use super::{florals, scattered};
use base::colour;
use base::model::drawing::{Path, Seg, Shape, Stroke};
use base::model::look::Pattern;
use base::model::{Drawing, Point, Rect};

/// Covers a field with a pattern that ends at its edges, the same way on opposite sides. `unit` is the book's measure.
pub fn draw(d: &mut Drawing, pattern: Pattern, room: Room, unit: f64, tones: &Tones) {
    let r = room.field;
    match pattern {
        Pattern::Dots => dots(d, room, unit * 1.05, tones),
        Pattern::Stripes => stripes(d, r, unit * 1.3, tones),
        Pattern::Scales => scales(d, r, unit * 0.95, tones),
        Pattern::Leaves => leaves(d, room, unit * 2.1, tones),
        Pattern::Gingham => gingham(d, r, unit * 1.15, tones),
        Pattern::Waves => waves(d, r, unit * 1.05, tones),
        Pattern::Chevrons => chevrons(d, r, unit * 1.05, tones),
        Pattern::Lattice => lattice(d, room, unit * 1.9, tones),
        Pattern::Twill => twill(d, r, unit * 0.8, tones),
        Pattern::Arches => arches(d, r, unit * 1.2, tones),
        Pattern::Hills => hills(d, r, tones),
        Pattern::Blossoms => scattered::blossoms(d, room, unit * 2.3, tones),
        Pattern::Stars => scattered::stars(d, room, unit * 1.9, tones),
        Pattern::Rain => scattered::rain(d, room, unit * 1.1, tones),
        Pattern::Terrazzo => scattered::terrazzo(d, room, unit * 1.5, tones),
        Pattern::Meadow => florals::meadow(d, room, unit * 2.6, tones),
        Pattern::Sprays => florals::sprays(d, room, unit * 3.8, tones),
        Pattern::Garland => florals::garland(d, room, unit * 2.9, tones),
    }
}

/// Dots in staggered rows.
fn dots(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    let diameter = step * 0.3;
    let all = scattered::staggered(room, step, 0.866, diameter / 2.0).into_iter().map(|(at, ..)| at);
    let at = all.filter(|at| room.holds(*at, diameter / 2.0)).collect();
    d.push(Shape::Dots { at, diameter, colour: tones.motif });
}

fn count(span: f64, step: f64) -> usize {
    (span / step).ceil() as usize
}

/// Stripes that fall from the right to the left at 45 degrees.
fn stripes(d: &mut Drawing, r: Rect, step: f64, tones: &Tones) {
    let across = step * std::f64::consts::SQRT_2;
    for i in 0..=count(r.w + r.h, across) {
        let (from, to) = (i as f64 * across, ((i as f64 + 0.5) * across).min(r.w + r.h));
        if from >= to {
            continue;
        }
        let ([upper, lower], [next_upper, next_lower]) = (edge(r, from), edge(r, to));
        // Round the stripe, by way of the rectangle's corners that lie between its two edges.
        let mut all = vec![upper];
        if from < r.w && r.w < to {
            all.push(Point::new(r.right(), r.y));
        }
        all.extend([next_upper, next_lower]);
        if from < r.h && r.h < to {
            all.push(Point::new(r.x, r.bottom()));
        }
        all.push(lower);
        d.fill(Path::polyline(&all, true), tones.motif);
    }
}

/// Both ends, the upper one first, of the slanting line that meets the upper edge or its prolongation at this distance
/// from the left corner.
fn edge(r: Rect, at: f64) -> [Point; 2] {
    let upper = if at <= r.w { Point::new(r.x + at, r.y) } else { Point::new(r.right(), r.y + at - r.w) };
    let lower = if at <= r.h { Point::new(r.x, r.y + at) } else { Point::new(r.x + at - r.h, r.bottom()) };
    [upper, lower]
}

/// Half circles that hang in rows, each row shifted by half.
fn scales(d: &mut Drawing, r: Rect, radius: f64, tones: &Tones) {
    let (columns, rows) = (steps(r.w, 2.0 * radius), steps(r.h, radius));
    let (half, high) = (r.w / columns as f64 / 2.0, r.h / rows as f64);
    let width = radius * 0.13;
    let (k, drop) = (half * 0.5523, high - width / 2.0);
    for row in 0..rows {
        let y = r.y + row as f64 * high;
        let odd = row % 2 == 1;
        let mut segs = Vec::new();
        // A quarter of a circle at a time: an odd row begins and ends with one.
        for quarter in 0..columns * 2 {
            let falls = (quarter % 2 == 0) != odd;
            let x = r.x + quarter as f64 * half;
            let (top, low) = (y, y + drop);
            let (from, to, c1, c2) = match falls {
                true => (
                    Point::new(x, top),
                    Point::new(x + half, low),
                    Point::new(x, top + k * drop / half),
                    Point::new(x + half - k, low),
                ),
                false => (
                    Point::new(x, low),
                    Point::new(x + half, top),
                    Point::new(x + k, low),
                    Point::new(x + half, top + k * drop / half),
                ),
            };
            segs.extend([Seg::Move(from), Seg::Cubic(c1, c2, to)]);
        }
        d.stroke(Path(segs), Stroke::new(width, tones.motif));
    }
}

/// Leaves in staggered rows that lean to and fro.
fn leaves(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    let length = step * 0.36;
    // With its stalk, a leaf reaches four fifths of its length from its middle.
    let reach = length * 0.8;
    for (at, row, column) in scattered::staggered(room, step, 0.8, reach) {
        let lean = if (row + column) % 2 == 0 { 38.0_f64 } else { -38.0 };
        if room.holds(at, reach) {
            sprig(d, at, length, lean.to_radians(), tones);
        }
    }
}

/// A leaf on a short stalk, with its rib left open.
fn sprig(d: &mut Drawing, at: Point, length: f64, lean: f64, tones: &Tones) {
    let (sin, cos) = libm::sincos(lean);
    // In the leaf's own measure: u to the side, v from the stalk to the tip.
    let p = |u: f64, v: f64| {
        let (u, v) = (u * length, (0.5 - v) * length);
        Point::new(at.x + u * cos - v * sin, at.y + u * sin + v * cos)
    };
    let path = Path(vec![
        Seg::Move(p(0.0, 0.0)),
        Seg::Cubic(p(0.42, 0.18), p(0.4, 0.66), p(0.0, 1.0)),
        Seg::Cubic(p(-0.4, 0.66), p(-0.42, 0.18), p(0.0, 0.0)),
        Seg::Close,
    ]);
    d.fill(path, tones.motif);
    let width = length * 0.055;
    d.stroke(Path::line(p(0.0, 0.0), p(0.0, 0.72)), Stroke::new(width, tones.ground).round());
    d.stroke(Path::line(p(0.0, 0.0), p(0.0, -0.3)), Stroke::new(width * 1.3, tones.motif).round());
}

/// Bands down and across, deeper where they cross.
fn gingham(d: &mut Drawing, r: Rect, band: f64, tones: &Tones) {
    // Half a gap at either end, so that opposite sides are alike.
    let spans = |from: f64, length: f64| -> Vec<(f64, f64)> {
        let n = steps(length, 2.0 * band);
        let band = length / n as f64 / 2.0;
        (0..n).map(|i| (from + (2 * i) as f64 * band + band / 2.0, band)).collect()
    };
    let (down, across) = (spans(r.x, r.w), spans(r.y, r.h));
    for (x, w) in &down {
        d.fill(Path::rect(Rect::new(*x, r.y, *w, r.h)), tones.soft);
    }
    for (y, h) in &across {
        d.fill(Path::rect(Rect::new(r.x, *y, r.w, *h)), tones.soft);
    }
    for (x, w) in &down {
        for (y, h) in &across {
            d.fill(Path::rect(Rect::new(*x, *y, *w, *h)), tones.deep);
        }
    }
}

/// Waves one below the other, whole ones from side to side.
fn waves(d: &mut Drawing, r: Rect, rise: f64, tones: &Tones) {
    // A half wave as one curve: control points at 0.3642 of its width come nearest to a sine.
    let (halves, rows) = (steps(r.w, rise * 3.2) * 2, steps(r.h, rise));
    let (half, down) = (r.w / halves as f64, r.h / rows as f64);
    let (k, swing) = (half * 0.3642, rise * 0.34);
    for row in 0..rows {
        let y = r.y + (row as f64 + 0.5) * down;
        let mut sign = 1.0;
        let mut segs = vec![Seg::Move(Point::new(r.x, y + swing))];
        for i in 0..halves {
            let (x, end) = (r.x + i as f64 * half, r.x + (i + 1) as f64 * half);
            let (from, to) = (y + sign * swing, y - sign * swing);
            segs.push(Seg::Cubic(Point::new(x + k, from), Point::new(end - k, to), Point::new(end, to)));
            sign = -sign;
        }
        d.stroke(Path(segs), Stroke::new(rise * 0.13, tones.motif));
    }
}

/// Zigzags one below the other, whole ones from side to side.
fn chevrons(d: &mut Drawing, r: Rect, rise: f64, tones: &Tones) {
    let (halves, rows) = (steps(r.w, rise * 2.0) * 2, steps(r.h, rise));
    let (half, down) = (r.w / halves as f64, r.h / rows as f64);
    let (swing, width) = (rise.min(down) * 0.3, rise.min(down) * 0.16);
    for row in 0..rows {
        let y = r.y + (row as f64 + 0.5) * down;
        let point =
            |i: usize| Point::new(r.x + i as f64 * half, if i.is_multiple_of(2) { y + swing } else { y - swing });
        // A stroke would end in slanting corners beyond the edge: the band is drawn by its outline.
        let (upper, lower): (Vec<Point>, Vec<Point>) = (0..=halves)
            .map(|i| {
                (Point { y: point(i).y - width / 2.0, ..point(i) }, Point { y: point(i).y + width / 2.0, ..point(i) })
            })
            .unzip();
        let all: Vec<Point> = upper.into_iter().chain(lower.into_iter().rev()).collect();
        d.fill(Path::polyline(&all, true), tones.motif);
    }
}

/// Diamonds that touch, as quilted, with a dot in each.
fn lattice(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    let r = room.field;
    let (columns, rows) = (steps(r.w, step), steps(r.h, step * 1.2));
    let (across, down) = (r.w / columns as f64, r.h / rows as f64);
    let (mut segs, mut dots) = (Vec::new(), Vec::new());
    let (width, diameter) = (step * 0.05, step * 0.16);
    for (row, column) in (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column))) {
        let at = Point::new(r.x + (column as f64 + 0.5) * across, r.y + (row as f64 + 0.5) * down);
        // The line ends within the field, half its own width from the edge.
        let (w, h) = (across / 2.0 - width, down / 2.0 - width);
        segs.extend([
            Seg::Move(Point::new(at.x, at.y - h)),
            Seg::Line(Point::new(at.x + w, at.y)),
            Seg::Line(Point::new(at.x, at.y + h)),
            Seg::Line(Point::new(at.x - w, at.y)),
            Seg::Close,
        ]);
        if room.holds(at, diameter / 2.0) {
            dots.push(at);
        }
    }
    d.stroke(Path(segs), Stroke::new(width, tones.motif));
    d.push(Shape::Dots { at: dots, diameter, colour: tones.motif });
}

/// Columns of short slanting bars that lean to and fro, as a woven jacket.
fn twill(d: &mut Drawing, r: Rect, step: f64, tones: &Tones) {
    let columns = steps(r.w, step * 1.3);
    let rows = steps(r.h, step * 0.62);
    let (across, down) = (r.w / columns as f64, r.h / rows as f64);
    for column in 0..columns {
        let (left, right) = (r.x + (column as f64 + 0.08) * across, r.x + (column as f64 + 0.92) * across);
        for row in 0..rows - 1 {
            let (top, low) = (r.y + row as f64 * down, r.y + (row as f64 + 1.0) * down);
            let thick = down * 0.5;
            let (a, b) = if column.is_multiple_of(2) { (low, top) } else { (top, low) };
            let bar =
                [Point::new(left, a), Point::new(right, b), Point::new(right, b + thick), Point::new(left, a + thick)];
            d.fill(Path::polyline(&bar, true), tones.soft);
        }
    }
}

/// Three arcs within each other, side by side in rows.
fn arches(d: &mut Drawing, r: Rect, radius: f64, tones: &Tones) {
    let (columns, rows) = (steps(r.w, 2.1 * radius), steps(r.h, 1.2 * radius));
    let (across, down) = (r.w / columns as f64, r.h / rows as f64);
    let width = radius * 0.12;
    let most = (across / 2.0).min(down) - width;
    for (row, column) in (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column))) {
        let foot = r.y + (row as f64 + 1.0) * down - width;
        let middle = r.x + (column as f64 + 0.5) * across;
        let mut segs = Vec::new();
        for reach in [1.0, 0.68, 0.36].map(|part| part * most) {
            let k = reach * 0.5523;
            let top = Point::new(middle, foot - reach);
            segs.extend([
                Seg::Move(Point::new(middle - reach, foot)),
                Seg::Cubic(Point::new(middle - reach, foot - k), Point::new(middle - k, top.y), top),
                Seg::Cubic(
                    Point::new(middle + k, top.y),
                    Point::new(middle + reach, foot - k),
                    Point::new(middle + reach, foot),
                ),
            ]);
        }
        d.stroke(Path(segs), Stroke::new(width, tones.motif));
    }
}

/// Four ranges of hills in the lower half, the nearer the deeper.
fn hills(d: &mut Drawing, r: Rect, tones: &Tones) {
    let ranges = [(0.5, 0.07, 0.2, 0.3), (0.62, 0.06, 0.75, 0.55), (0.75, 0.05, 0.35, 0.8), (0.87, 0.035, 0.9, 1.0)];
    for (level, swing, shift, depth) in ranges {
        let y = |part: f64| {
            // Two swells, which no machine reckons otherwise: a parabola each, up and down.
            let swell = |t: f64| {
                let t = t.rem_euclid(1.0);
                if t < 0.5 { 16.0 * t * (0.5 - t) } else { -16.0 * (t - 0.5) * (1.0 - t) }
            };
            r.y + r.h * (level - swing * (0.7 * swell(part * 1.3 + shift) + 0.3 * swell(part * 3.1 + 2.0 * shift)))
        };
        let pieces = 24;
        let at = |i: f64| Point::new(r.x + r.w * i / f64::from(pieces), y(i / f64::from(pieces)));
        let mut segs = vec![Seg::Move(Point::new(r.x, r.bottom())), Seg::Line(at(0.0))];
        for i in 0..pieces {
            // Through the points, with the slopes that they have: a soft line.
            let (from, to) = (at(f64::from(i)), at(f64::from(i) + 1.0));
            let slope = |i: f64| (at((i + 0.5).min(f64::from(pieces))).y - at((i - 0.5).max(0.0)).y) / 3.0;
            let third = (to.x - from.x) / 3.0;
            segs.push(Seg::Cubic(
                Point::new(from.x + third, from.y + slope(f64::from(i))),
                Point::new(to.x - third, to.y - slope(f64::from(i) + 1.0)),
                to,
            ));
        }
        segs.extend([Seg::Line(Point::new(r.right(), r.bottom())), Seg::Close]);
        d.fill(Path(segs), colour::mix(tones.ground, tones.deep, depth));
    }
}
