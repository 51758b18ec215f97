//! Colour: contrast, lightness, mixing, and families of section colours.
//!
//! Sources: relative luminance and contrast ratio by WCAG 2.2; OKLCH by CSS Color 4 (through the `color` crate).

use crate::model::Rgb;
use color::{AlphaColor, Oklch, OpaqueColor, Srgb};

/// Relative luminance by WCAG 2.2 (threshold 0.04045), from 0 for black to 1 for white.
pub fn luminance(c: Rgb) -> f64 {
    let [r, g, b] = c.fractions().map(|v| if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) });
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
    (0..=50).map(|i| mix(colour, towards, f64::from(i) / 50.0)).find(|c| contrast(*c, ground) >= ratio).unwrap_or(towards)
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

/// `n` section colours of equal lightness and chroma. Hues are spread evenly over the circle from `start`
/// degrees and dealt out in an order in which neighbours differ.
pub fn family(n: usize, lightness: f64, chroma: f64, start: f64) -> Vec<Rgb> {
    let stride = stride(n);
    (0..n)
        .map(|i| {
            let step = (i * stride) % n.max(1);
            // Every other colour a little darker: hue alone does not separate 24 tabs.
            let l = if n > 6 && i % 2 == 1 { lightness - 0.075 } else { lightness };
            oklch(l, chroma, (start + 360.0 * step as f64 / n as f64) % 360.0)
        })
        .collect()
}

/// A step through `n` hues that visits each once: the number nearest to 5/12 of `n` (so that neighbours lie
/// well apart, and so do the next but one) that shares no factor with `n`; 1 where there are few.
fn stride(n: usize) -> usize {
    if n < 5 {
        return 1;
    }
    let ideal = n as f64 * 5.0 / 12.0;
    (1..n)
        .filter(|k| gcd(*k, n) == 1)
        .min_by(|a, b| (*a as f64 - ideal).abs().total_cmp(&(*b as f64 - ideal).abs()))
        .unwrap_or(1)
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
