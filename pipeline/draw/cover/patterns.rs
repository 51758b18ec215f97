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
    pub motif: Rgb,
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

/// Where a pattern lies.
#[derive(Clone, Copy)]
pub struct Room {
    /// What it covers; nothing of it lies outside.
    pub field: Rect,
    /// What single motifs keep clear of: the label and a little round it.
    pub clear: Option<Rect>,
}

impl Room {
    /// Whether a motif may stand here that reaches so far round its middle.
    fn holds(&self, at: Point, reach: f64) -> bool {
        let whole = Rect::new(at.x - reach, at.y - reach, reach * 2.0, reach * 2.0);
        self.field.contains(whole, 1e-6) && !self.clear.is_some_and(|clear| clear.overlaps(whole))
    }
}

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
    }
}

/// So many whole steps that the step comes nearest to what was wished.
fn steps(span: f64, step: f64) -> usize {
    ((span / step).round() as usize).max(1)
}

/// Dots in staggered rows.
fn dots(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    let r = room.field;
    let (columns, rows) = (steps(r.w, step), steps(r.h, step * 0.866));
    let (across, down) = (r.w / columns as f64, r.h / rows as f64);
    let diameter = step * 0.3;
    let mut at = Vec::new();
    for row in 0..rows {
        let odd = row % 2;
        // Odd rows have one dot less, so that both sides are alike.
        for column in 0..columns - odd.min(columns - 1) {
            let x = r.x + (column as f64 + 0.5 + 0.5 * odd as f64) * across;
            at.push(Point::new(x, r.y + (row as f64 + 0.5) * down));
        }
    }
    at.retain(|p| room.holds(*p, diameter / 2.0));
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
    let r = room.field;
    let (columns, rows) = (steps(r.w, step), steps(r.h, step * 0.8));
    let (across, down) = (r.w / columns as f64, r.h / rows as f64);
    let length = step * 0.36;
    for row in 0..rows {
        let odd = row % 2;
        for column in 0..columns - odd.min(columns - 1) {
            let x = r.x + (column as f64 + 0.5 + 0.5 * odd as f64) * across;
            let at = Point::new(x, r.y + (row as f64 + 0.5) * down);
            let lean = if (row + column) % 2 == 0 { 38.0_f64 } else { -38.0 };
            // With its stalk, a leaf reaches four fifths of its length from its middle.
            if room.holds(at, length * 0.8) {
                sprig(d, at, length, lean.to_radians(), tones);
            }
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
