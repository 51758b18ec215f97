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
}

/// So many whole steps that the step comes nearest to what was wished.
pub fn steps(span: f64, step: f64) -> usize {
    ((span / step).round() as usize).max(1)
}
