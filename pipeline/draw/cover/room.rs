//! What a pattern is drawn with: its tones, where it lies, and how many of it there are.

use base::colour;
use base::model::{Point, Rect, Rgb};

/// The tones of a pattern: near to the ground, so that it stays quiet whatever two colours were given.
pub struct Tones {
    /// The ground.
    pub ground: Rgb,
    /// The motif.
    pub motif: Rgb,
    /// Bands of cloth, which cover more than other motifs.
    pub soft: Rgb,
    /// The deepest.
    pub deep: Rgb,
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
        [l, c * libm::cos(h), c * libm::sin(h)]
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
    pub fn holds(&self, at: Point, reach: f64) -> bool {
        let whole = Rect::new(at.x - reach, at.y - reach, reach * 2.0, reach * 2.0);
        self.field.contains(whole, 1e-6) && !self.clear.is_some_and(|clear| clear.overlaps(whole))
    }

    /// So many rows that their step comes near to what was wished, and that as much stays empty above what is kept clear as below it;
    /// a motif reaches so far round its middle.
    pub fn rows(&self, step: f64, reach: f64) -> usize {
        let usual = steps(self.field.h, step);
        let near = [usual + 1, usual.saturating_sub(1), usual + 2, usual.saturating_sub(2)];
        let near = near.into_iter().filter(|rows| rows.abs_diff(usual) * MOST <= usual);
        let better = |rows, best| self.uneven(rows, reach) + SEEN * step < self.uneven(best, reach);
        near.fold(usual, |best, rows| if better(rows, best) { rows } else { best })
    }

    /// By how much what stays empty above what is kept clear differs from what does below it, with so many rows.
    fn uneven(&self, rows: usize, reach: f64) -> f64 {
        let Some(clear) = self.clear else { return 0.0 };
        let down = self.field.h / rows as f64;
        let middles = || (0..rows).map(|row| self.field.y + (row as f64 + 0.5) * down);
        let least =
            |gap: &dyn Fn(f64) -> f64| middles().map(gap).filter(|gap| *gap >= 0.0).fold(f64::INFINITY, f64::min);
        let (above, below) = (least(&|y| clear.y - y - reach), least(&|y| y - reach - clear.bottom()));
        // Where none stand on one side there is nothing to compare.
        if above.is_finite() && below.is_finite() { (above - below).abs() } else { 0.0 }
    }
}

/// One row more or less for each so many of them is not seen.
const MOST: usize = 8;
/// A difference of this share of a step is not seen either.
const SEEN: f64 = 0.08;

/// So many whole steps that the step comes nearest to what was wished.
pub fn steps(span: f64, step: f64) -> usize {
    ((span / step).round() as usize).max(1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_label_between_rows_has_as_much_air_above_as_below() {
        // A board of A4 with rows of 33 pt and a label of 156: the usual rows leave 38 pt above it and 16 below.
        let field = Rect::new(0.0, 0.0, 466.0, 568.0);
        let (mut before, mut after) = (0.0, 0.0);
        for y in 0..60 {
            let clear = Some(Rect::new(90.0, 130.0 + f64::from(y), 290.0, 168.0));
            let room = Room { field, clear };
            before += room.uneven(steps(field.h, 33.4), 12.5);
            after += room.uneven(room.rows(33.4, 12.5), 12.5);
        }
        assert!(after < before * 0.5, "{after} of {before}");
    }

    proptest! {
        #[test]
        fn rows_are_never_less_even_than_usual_and_about_as_many(
            high in 40.0..900.0f64,
            (top, part) in (0.05..0.6f64, 0.05..0.4f64),
            step in 4.0..60.0f64,
        ) {
            let field = Rect::new(3.0, 7.0, 300.0, high);
            let clear = Rect::new(50.0, 7.0 + high * top, 200.0, high * part);
            let usual = steps(high, step);
            let room = Room { field, clear: Some(clear) };
            let (rows, reach) = (room.rows(step, step * 0.3), step * 0.3);
            prop_assert!(room.uneven(rows, reach) <= room.uneven(usual, reach));
            prop_assert!(rows.abs_diff(usual) * MOST <= usual);
            prop_assert_eq!(Room { clear: None, ..room }.rows(step, reach), usual);
        }
    }
}
