//! Resizing in premultiplied linear light.
//!
//! The filter is a windowed sinc of half width 1 (the Hamming window: 0.54 + 0.46 cos πx, a textbook window),
//! stretched by the scale when a picture shrinks, so that every source pixel counts. It is never negative: no halo
//! grows along a cut edge, as it would with wider sinc filters.

use super::{Linear, Raster};
use std::f64::consts::PI;

/// The picture at another size.
pub fn resize(r: &Raster, w: usize, h: usize) -> Raster {
    if (r.w, r.h) == (w, h) {
        return r.clone();
    }
    resize_linear(&Linear::of(r), w, h).raster()
}

/// The same on linear pixels: first across, then down.
pub fn resize_linear(src: &Linear, w: usize, h: usize) -> Linear {
    let across = weights(src.w, w);
    let mut mid = Linear { w, h: src.h, px: Vec::with_capacity(w * src.h) };
    for row in src.px.chunks_exact(src.w.max(1)) {
        mid.px.extend(across.iter().map(|(from, ws)| sum(ws.iter().zip(&row[*from..]))));
    }
    let down = weights(src.h, h);
    let mut out = Linear { w, h, px: vec![[0.0; 4]; w * h] };
    for (row, (from, ws)) in out.px.chunks_exact_mut(w.max(1)).zip(&down) {
        for (i, weight) in ws.iter().enumerate() {
            let start = (from + i) * w;
            for (p, q) in row.iter_mut().zip(&mid.px[start..start + w]) {
                for c in 0..4 {
                    p[c] += q[c] * weight;
                }
            }
        }
    }
    out
}

fn sum<'a>(terms: impl Iterator<Item = (&'a f32, &'a [f32; 4])>) -> [f32; 4] {
    let mut s = [0.0; 4];
    for (weight, p) in terms {
        for c in 0..4 {
            s[c] += p[c] * weight;
        }
    }
    s
}

/// For each target pixel, the first source pixel that counts and the weights from there on; they add up to 1.
fn weights(from: usize, to: usize) -> Vec<(usize, Vec<f32>)> {
    let scale = from as f64 / to.max(1) as f64;
    let stretch = scale.max(1.0);
    (0..to)
        .map(|i| {
            let centre = (i as f64 + 0.5) * scale;
            let first = (centre - stretch + 0.5).floor().max(0.0) as usize;
            let last = ((centre + stretch + 0.5).floor() as usize).min(from);
            let raw: Vec<f64> = (first..last).map(|j| hamming((j as f64 + 0.5 - centre) / stretch)).collect();
            let all: f64 = raw.iter().sum();
            (first, raw.iter().map(|v| (v / all) as f32).collect())
        })
        .collect()
}

fn hamming(x: f64) -> f64 {
    let x = x.abs();
    if x == 0.0 {
        1.0
    } else if x >= 1.0 {
        0.0
    } else {
        libm::sin(PI * x) / (PI * x) * (0.54 + 0.46 * libm::cos(PI * x))
    }
}
