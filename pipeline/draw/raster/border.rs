//! The die-cut border: an even band of one colour round the art, as if it had been printed on it and cut.
//!
//! The band lies under the whole art, so that art which is half clear looks as it would on that stock. Its outer
//! edge is antialiased: art's own edge pixels say by their alpha where in the pixel the edge runs, so the distance
//! from it is known to a fraction of a pixel.

use super::distance::Nearest;
use super::linear::{from_pixel, over, to_pixel};
use super::{Raster, opaque};
use crate::model::Rgb;

/// A border, in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Border {
    /// Width of the band.
    pub width: f64,
    /// Its colour.
    pub colour: Rgb,
    /// Whether holes in the art are closed with the colour.
    pub fill_holes: bool,
    /// A soft shadow below, if any.
    pub shadow: Option<Shadow>,
}

/// A soft shadow, in pixels. It falls straight down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shadow {
    /// How far it falls.
    pub drop: f64,
    /// Standard deviation of its blur.
    pub blur: f64,
    /// How dark it is where it is darkest, from 0 to 1.
    pub strength: f64,
}

/// The art with its border. The result is larger on every side by as much as border and shadow need.
pub fn bordered(art: &Raster, border: &Border) -> Raster {
    let reach = border.shadow.map_or(0.0, |s| s.drop.abs() + s.blur * 3.0);
    let mut out = art.padded((border.width + reach + 1.0).ceil().max(1.0) as usize);
    let mut cover = band(&out, border.width);
    if border.fill_holes {
        close_holes(&mut cover, out.w, out.h);
    }
    let shade = border.shadow.map(|s| cast(&cover, out.w, out.h, s));
    let stock = from_pixel(opaque(border.colour));
    for (i, p) in out.px.iter_mut().enumerate() {
        let c = cover[i];
        let under = shade.as_ref().map_or(0.0, |s| s[i]);
        // Inside the band, under full art, nothing below can be seen.
        if p[3] == 255 || (c <= 0.0 && under <= 0.0 && p[3] == 0) {
            continue;
        }
        let below = over(stock.map(|v| v * c), [0.0, 0.0, 0.0, under]);
        *p = to_pixel(over(from_pixel(*p), below));
    }
    out
}

/// How much of each pixel lies within `width` of the art, from 0 to 1.
fn band(art: &Raster, width: f64) -> Vec<f32> {
    let (w, h) = (art.w, art.h);
    let Some(near) = Nearest::to(w, h, |i| art.px[i][3] > 0) else { return vec![0.0; w * h] };
    let alpha = |x: usize, y: usize| f64::from(art.px[y * w + x][3]) / 255.0;
    let (inner, outer) = ((width - 1.5).max(0.0), width + 1.5);
    (0..w * h)
        .map(|i| {
            let rough = (near.squared(i) as f64).sqrt();
            if rough <= inner && art.px[i][3] == 0 && width >= 1.5 || art.px[i][3] == 255 {
                return 1.0;
            }
            if rough >= outer {
                return 0.0;
            }
            let (x, y) = (i % w, i / w);
            let [nx, ny] = near.of[i].map(|v| v as usize);
            // The nearest pixel with any art is the edge or stands before it: look at its neighbours, too.
            let mut edge = f64::INFINITY;
            for cy in ny.saturating_sub(1)..(ny + 2).min(h) {
                for cx in nx.saturating_sub(1)..(nx + 2).min(w) {
                    let a = alpha(cx, cy);
                    if a > 0.0 {
                        let middle = (cx as f64 - x as f64).hypot(cy as f64 - y as f64);
                        edge = edge.min(middle + offset(art, cx, cy, a));
                    }
                }
            }
            (width - edge + 0.5).clamp(0.0, 1.0) as f32
        })
        .collect()
}

/// How far beyond the middle of a pixel that is covered by `a` its edge runs, inwards counted positive: for an edge
/// along the grid half a pixel minus the cover, for a slanting one by the area that it cuts off a unit square.
fn offset(art: &Raster, x: usize, y: usize, a: f64) -> f64 {
    if a >= 1.0 {
        return -0.5;
    }
    let at = |dx: i64, dy: i64| {
        let (x, y) = (x as i64 + dx, y as i64 + dy);
        let inside = x >= 0 && y >= 0 && (x as usize) < art.w && (y as usize) < art.h;
        if inside { f64::from(art.px[y as usize * art.w + x as usize][3]) / 255.0 } else { 0.0 }
    };
    // Sobel's operator: the way in which the cover grows.
    let gx = at(1, -1) + 2.0 * at(1, 0) + at(1, 1) - at(-1, -1) - 2.0 * at(-1, 0) - at(-1, 1);
    let gy = at(-1, 1) + 2.0 * at(0, 1) + at(1, 1) - at(-1, -1) - 2.0 * at(0, -1) - at(1, -1);
    let long = gx.hypot(gy);
    if long < 1e-6 {
        return 0.5 - a;
    }
    let (big, small) = (gx.abs().max(gy.abs()) / long, gx.abs().min(gy.abs()) / long);
    // A line with this normal cuts a triangle off the unit square while the area is below `corner`.
    let corner = small / (2.0 * big);
    if a < corner {
        (big + small) / 2.0 - (2.0 * big * small * a).sqrt()
    } else if a < 1.0 - corner {
        (0.5 - a) * big
    } else {
        -(big + small) / 2.0 + (2.0 * big * small * (1.0 - a)).sqrt()
    }
}

/// Covers what cannot be reached from outside without crossing full cover.
fn close_holes(cover: &mut [f32], w: usize, h: usize) {
    let mut outside = vec![false; w * h];
    // The picture was padded: its frame is outside everywhere, so one corner reaches all of it.
    let mut todo = vec![0];
    outside[0] = true;
    while let Some(i) = todo.pop() {
        let (x, y) = (i % w, i / w);
        let around =
            [(x > 0).then(|| i - 1), (x + 1 < w).then(|| i + 1), (y > 0).then(|| i - w), (y + 1 < h).then(|| i + w)];
        for j in around.into_iter().flatten() {
            if !outside[j] && cover[j] < 1.0 {
                outside[j] = true;
                todo.push(j);
            }
        }
    }
    for (c, out) in cover.iter_mut().zip(outside) {
        if !out {
            *c = 1.0;
        }
    }
}

/// The shadow of a shape: moved down, blurred, weakened.
fn cast(cover: &[f32], w: usize, h: usize, s: Shadow) -> Vec<f32> {
    let drop = s.drop.round() as i64;
    let mut shade = vec![0.0; w * h];
    for y in 0..h as i64 {
        let from = y - drop;
        if (0..h as i64).contains(&from) {
            let (to, from) = (y as usize * w, from as usize * w);
            shade[to..to + w].copy_from_slice(&cover[from..from + w]);
        }
    }
    // Three running means come close to a Gaussian; the variance of one over n pixels is (n² − 1) / 12.
    let n = ((4.0 * s.blur * s.blur + 1.0).sqrt() as usize) | 1;
    for _ in 0..3 {
        for row in shade.chunks_exact_mut(w) {
            mean(row, n);
        }
        let mut column = vec![0.0; h];
        for x in 0..w {
            for (y, v) in column.iter_mut().enumerate() {
                *v = shade[y * w + x];
            }
            mean(&mut column, n);
            for (y, v) in column.iter().enumerate() {
                shade[y * w + x] = *v;
            }
        }
    }
    shade.iter_mut().for_each(|v| *v *= s.strength as f32);
    shade
}

/// Replaces each value by the mean of the `n` (odd) around it; beyond the ends lies nothing.
fn mean(line: &mut [f32], n: usize) {
    let half = n / 2;
    let before = line.to_vec();
    let value = |i: usize| f64::from(before.get(i).copied().unwrap_or(0.0));
    let mut sum: f64 = (0..half).map(value).sum();
    for (i, v) in line.iter_mut().enumerate() {
        sum += value(i + half);
        if i > half {
            sum -= value(i - half - 1);
        }
        *v = (sum / n as f64).max(0.0) as f32;
    }
}
