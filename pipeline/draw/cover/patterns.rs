//! Repeated motifs, tone on tone.

use base::colour;
use base::model::drawing::{Path, Seg, Shape, Stroke};
use base::model::product::Pattern;
use base::model::{Drawing, Point, Rect, Rgb};

/// The tones of a pattern: near to the ground, so that it stays quiet whatever two colours were given.
pub struct Tones {
    /// The ground.
    ground: Rgb,
    /// The motif.
    motif: Rgb,
    /// Bands of cloth, which cover more than other motifs, and where they cross.
    soft: Rgb,
    deep: Rgb,
}

impl Tones {
    /// Tones on the way from one colour to the other; towards the ink where the two are the same.
    pub fn new(ground: Rgb, second: Rgb, ink: Rgb) -> Tones {
        let towards = if distance(ground, second) < 0.03 { ink } else { second };
        let by = |d: f64| colour::mix(ground, towards, (d / distance(ground, towards).max(0.01)).min(1.0));
        Tones { ground, motif: by(0.05), soft: by(0.034), deep: by(0.066) }
    }
}

/// Distance of two colours in OKLab: 0.02 is just noticed, 1 lies between black and white.
pub fn distance(a: Rgb, b: Rgb) -> f64 {
    let lab = |c: Rgb| {
        let [l, c, h] = colour::to_oklch(c);
        // Grey has no hue.
        let h = if h.is_finite() { h.to_radians() } else { 0.0 };
        [l, c * h.cos(), c * h.sin()]
    };
    let (p, q) = (lab(a), lab(b));
    p.iter().zip(q).map(|(x, y)| (x - y).powi(2)).sum::<f64>().sqrt()
}

/// Covers a rectangle with a pattern; motifs overhang it by at most their own size. `unit` is the book's measure.
pub fn draw(d: &mut Drawing, pattern: Pattern, r: Rect, unit: f64, tones: &Tones) {
    match pattern {
        Pattern::Dots => dots(d, r, unit * 1.05, tones),
        Pattern::Stripes => stripes(d, r, unit * 1.3, tones),
        Pattern::Scales => scales(d, r, unit * 0.95, tones),
        Pattern::Leaves => leaves(d, r, unit * 2.1, tones),
        Pattern::Gingham => gingham(d, r, unit * 1.15, tones),
        Pattern::Waves => waves(d, r, unit * 1.05, tones),
    }
}

/// Dots in staggered rows.
fn dots(d: &mut Drawing, r: Rect, step: f64, tones: &Tones) {
    let (mut at, rise) = (Vec::new(), step * 0.866);
    let (columns, rows) = (count(r.w, step), count(r.h, rise));
    // What overhangs does so alike on both sides.
    let (middle, top) = (r.centre(), r.centre().y - rows as f64 * rise / 2.0);
    let left = middle.x - columns as f64 * step / 2.0;
    for row in 0..=rows {
        let shift = if row % 2 == 1 { step / -2.0 } else { 0.0 };
        for column in 0..=columns + row % 2 {
            at.push(Point::new(left + shift + column as f64 * step, top + row as f64 * rise));
        }
    }
    at.retain(|p| (p.x - middle.x).abs() <= r.w / 2.0 + step / 2.0);
    d.push(Shape::Dots { at, diameter: step * 0.3, colour: tones.motif });
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
    let k = radius * 0.5523;
    for row in 0..=count(r.h, radius) {
        let y = r.y + (row as f64 - 1.0) * radius;
        let mut x = r.x - if row % 2 == 1 { radius } else { 0.0 };
        let mut segs = vec![Seg::Move(Point::new(x, y))];
        while x < r.right() {
            let (mid, low) = (x + radius, y + radius);
            segs.push(Seg::Cubic(Point::new(x, y + k), Point::new(mid - k, low), Point::new(mid, low)));
            x += 2.0 * radius;
            segs.push(Seg::Cubic(Point::new(mid + k, low), Point::new(x, y + k), Point::new(x, y)));
        }
        d.stroke(Path(segs), Stroke::new(radius * 0.13, tones.motif).round());
    }
}

/// Leaves in staggered rows that lean to and fro.
fn leaves(d: &mut Drawing, r: Rect, step: f64, tones: &Tones) {
    let rise = step * 0.8;
    for row in 0..=count(r.h, rise) {
        let shift = if row % 2 == 1 { step / 2.0 } else { 0.0 };
        for column in 0..=count(r.w, step) {
            let at = Point::new(r.x + shift + column as f64 * step, r.y + row as f64 * rise);
            if at.x > r.right() + step / 2.0 {
                continue;
            }
            let lean = if (row + column) % 2 == 0 { 38.0_f64 } else { -38.0 };
            sprig(d, at, step * 0.36, lean.to_radians(), tones);
        }
    }
}

/// A leaf on a short stalk, with its rib left open.
fn sprig(d: &mut Drawing, at: Point, length: f64, lean: f64, tones: &Tones) {
    let (sin, cos) = lean.sin_cos();
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
    let spans = |from: f64, length: f64| -> Vec<(f64, f64)> {
        (0..count(length, 2.0 * band))
            .map(|i| (from + (2 * i) as f64 * band + band / 2.0, band))
            .filter(|(at, _)| *at < from + length)
            .map(|(at, w)| (at, w.min(from + length - at)))
            .collect()
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

/// Waves one below the other.
fn waves(d: &mut Drawing, r: Rect, rise: f64, tones: &Tones) {
    // A half wave as one curve: control points at 0.3642 of its width come nearest to a sine.
    let (half, swing) = (rise * 1.6, rise * 0.34);
    let k = half * 0.3642;
    for row in 0..=count(r.h, rise) {
        let y = r.y + row as f64 * rise;
        let mut x = r.x;
        let mut sign = 1.0;
        let mut segs = vec![Seg::Move(Point::new(x, y + swing))];
        while x < r.right() {
            let (from, to) = (y + sign * swing, y - sign * swing);
            let end = x + half;
            segs.push(Seg::Cubic(Point::new(x + k, from), Point::new(end - k, to), Point::new(end, to)));
            (x, sign) = (end, -sign);
        }
        d.stroke(Path(segs), Stroke::new(rise * 0.13, tones.motif).round());
    }
}
