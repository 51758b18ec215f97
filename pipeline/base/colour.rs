//! Colour: contrast, lightness, mixing, and families of section colours.
//!
//! Sources: relative luminance and contrast ratio by WCAG 2.2; OKLCH by CSS Color 4 (through the `color` crate).

pub mod difference;

use crate::model::Rgb;
use color::{AlphaColor, Oklch, OpaqueColor, Srgb};
use difference::{Sight, difference};

/// Relative luminance by WCAG 2.2 (threshold 0.04045), from 0 for black to 1 for white.
pub fn luminance(c: Rgb) -> f64 {
    let [r, g, b] = c.fractions().map(|v| if v <= 0.04045 { v / 12.92 } else { libm::pow((v + 0.055) / 1.055, 2.4) });
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

/// Contrast ratio by WCAG 2.2, from 1 to 21; the order of the two does not matter.
pub fn contrast(a: Rgb, b: Rgb) -> f64 {
    let (x, y) = (luminance(a), luminance(b));
    (x.max(y) + 0.05) / (x.min(y) + 0.05)
}

/// Mixes two colours in OKLab: 0 gives `a`, 1 gives `b`.
pub fn mix(a: Rgb, b: Rgb, t: f64) -> Rgb {
    let lab = |c: Rgb| to_alpha(c).convert::<color::Oklab>().components;
    let (p, q) = (lab(a), lab(b));
    let t = t as f32;
    let m = [0, 1, 2, 3].map(|i| p[i] + (q[i] - p[i]) * t);
    from_alpha(AlphaColor::<color::Oklab>::new(m).convert())
}

/// A colour by OKLCH lightness (0 to 1), chroma and hue in degrees; chroma is lowered until it fits into sRGB.
pub fn oklch(lightness: f64, chroma: f64, hue: f64) -> Rgb {
    let mut c = chroma;
    loop {
        let rgb = OpaqueColor::<Oklch>::new([lightness as f32, c as f32, hue as f32]).convert::<Srgb>();
        let inside = rgb.components.iter().all(|v| (-0.002..=1.002).contains(v));
        if inside || c <= 0.0 {
            return from_alpha(rgb.with_alpha(1.0));
        }
        c = (c - 0.004).max(0.0);
    }
}

/// OKLCH lightness, chroma and hue (degrees) of a colour.
pub fn to_oklch(c: Rgb) -> [f64; 3] {
    let [l, ch, h, _] = to_alpha(c).convert::<Oklch>().components;
    [f64::from(l), f64::from(ch), f64::from(h)]
}

/// `colour` moved towards `towards` just as far as it must be to stand out from `ground` by `ratio`.
pub fn deepened(colour: Rgb, ground: Rgb, towards: Rgb, ratio: f64) -> Rgb {
    (0..=50)
        .map(|i| mix(colour, towards, f64::from(i) / 50.0))
        .find(|c| contrast(*c, ground) >= ratio)
        .unwrap_or(towards)
}

/// The darker one of two colours: what a shadow is made of, in light styles and in dark ones.
pub fn darker(a: Rgb, b: Rgb) -> Rgb {
    if luminance(a) <= luminance(b) { a } else { b }
}

/// The lighter one of two colours.
pub fn lighter(a: Rgb, b: Rgb) -> Rgb {
    if luminance(a) > luminance(b) { a } else { b }
}

/// The ink or the paper, whichever stands out more on `ground`.
pub fn label_on(ground: Rgb, ink: Rgb, paper: Rgb) -> Rgb {
    if contrast(ground, ink) >= contrast(ground, paper) { ink } else { paper }
}

/// `from` moved towards `towards` until its contrast with `ground` is `ratio` (or as near as the way allows).
pub fn at_contrast(ground: Rgb, towards: Rgb, ratio: f64) -> Rgb {
    let (mut lo, mut hi) = (0.0, 1.0);
    for _ in 0..24 {
        let mid = (lo + hi) / 2.0;
        if contrast(ground, mix(ground, towards, mid)) < ratio { lo = mid } else { hi = mid }
    }
    mix(ground, towards, hi)
}

/// `n` section colours of equal chroma, hues spread evenly over the circle from `start` degrees and dealt out in the
/// order in which neighbours differ most, also for eyes with a colour-vision deficiency.
pub fn family(n: usize, lightness: f64, chroma: f64, start: f64) -> Vec<Rgb> {
    // Two near hues of one lightness look the same to some eyes: many colours take turns in lightness.
    let step = if n > 4 { 0.085 } else { 0.03 };
    let deal = |stride: usize, phase: usize| -> Vec<Rgb> {
        let hue = |i: usize| (start + 360.0 * ((i * stride) % n) as f64 / n as f64) % 360.0;
        (0..n).map(|i| oklch(if i % 2 == phase { lightness } else { lightness - step }, chroma, hue(i))).collect()
    };
    let orders = (1..n.max(2)).filter(|k| gcd(*k, n) == 1 || n < 2).flat_map(|k| [deal(k, 0), deal(k, 1)]);
    orders.max_by(|a, b| nearest_neighbours(a).total_cmp(&nearest_neighbours(b))).unwrap_or_default()
}

/// The least difference between a colour and the next, for all ways of seeing.
fn nearest_neighbours(colours: &[Rgb]) -> f64 {
    let sights = [None].into_iter().chain(Sight::ALL.map(Some));
    sights
        .flat_map(|sight| colours.windows(2).map(move |pair| difference(pair[0], pair[1], sight)))
        .fold(f64::INFINITY, f64::min)
}

fn gcd(a: usize, b: usize) -> usize {
    if b == 0 { a } else { gcd(b, a % b) }
}

fn to_alpha(c: Rgb) -> AlphaColor<Srgb> {
    AlphaColor::from_rgb8(c.r, c.g, c.b)
}

fn from_alpha(c: AlphaColor<Srgb>) -> Rgb {
    let q = c.to_rgba8();
    Rgb::new(q.r, q.g, q.b)
}
