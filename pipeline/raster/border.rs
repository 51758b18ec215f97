//! The die-cut border: an even band of one colour round the art, as if it had been printed on it and cut.
//!
//! The band lies under the whole art, so that art which is half clear looks as it would on that stock. Its outer
//! edge is antialiased: art's own edge pixels say by their alpha where in the pixel the edge runs, so the distance
//! from it is known to a fraction of a pixel.

use super::distance::Nearest;
use super::linear::{from_pixel, over, to_pixel};
use super::{Raster, opaque};
use base::model::Rgb;

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
        // Most pixels are plain: full art, bare band, nothing at all.
        if p[3] == 255 || (c <= 0.0 && under <= 0.0) {
            continue;
        }
        if p[3] == 0 && c >= 1.0 {
            *p = opaque(border.colour);
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
    let mut edges = Edges { art, kept: vec![(usize::MAX, Edge::default()); KEPT] };
    // Nearer than this the band is full whatever the alphas say, farther it is over.
    let (inner, outer) = ((width - 1.5).max(0.0).powi(2), (width + 1.5).powi(2));
    let mut cover = Vec::with_capacity(w * h);
    for y in 0..h {
        for x in 0..w {
            let i = y * w + x;
            let a = art.px[i][3];
            let [nx, ny] = near.of[i];
            let squared = f64::from(nx.abs_diff(x as u16)).powi(2) + f64::from(ny.abs_diff(y as u16)).powi(2);
            if a == 255 || (a == 0 && squared <= inner) {
                cover.push(1.0);
                continue;
            }
            if squared >= outer {
                cover.push(0.0);
                continue;
            }
            let [nx, ny] = [nx as usize, ny as usize];
            // The nearest pixel with any art is the edge or stands before it: look at its neighbours, too.
            let mut best = (f64::INFINITY, 0.0);
            for cy in ny.saturating_sub(1)..(ny + 2).min(h) {
                for cx in nx.saturating_sub(1)..(nx + 2).min(w) {
                    let Some(edge) = edges.at(cx, cy) else { continue };
                    let (direct, square) = reach((x as f64 - cx as f64, y as f64 - cy as f64), edge);
                    if direct < best.0 {
                        best = (direct, square);
                    }
                }
            }
            let [dx, dy] = [nx.abs_diff(x), ny.abs_diff(y)].map(|v| v as f64);
            cover.push(covered(width - best.1, dx, dy) as f32);
        }
    }
    cover
}

/// How many edges are kept at hand; a power of two.
const KEPT: usize = 8192;

/// The edges of a picture. Neighbouring pixels of a band ask for the same ones over and over.
struct Edges<'a> {
    art: &'a Raster,
    kept: Vec<(usize, Edge)>,
}

impl Edges<'_> {
    /// The edge in a pixel; `None` where it is clear.
    fn at(&mut self, x: usize, y: usize) -> Option<Edge> {
        let i = y * self.art.w + x;
        let a = self.art.px[i][3];
        if a == 0 {
            return None;
        }
        let kept = &mut self.kept[i % KEPT];
        if kept.0 != i {
            *kept = (i, Edge::of(self.art, x, y, f64::from(a) / 255.0));
        }
        Some(kept.1)
    }
}

/// How the edge runs through a pixel.
#[derive(Clone, Copy, Debug, Default)]
struct Edge {
    /// How far from the middle, outwards counted positive.
    beyond: f64,
    /// The way out, of length 1; zero where it is not known.
    out: (f64, f64),
}

impl Edge {
    /// The edge in a pixel that is covered by `a`: a straight line across the way in which the cover grows, placed so
    /// that it cuts off that much of the unit square.
    fn of(art: &Raster, x: usize, y: usize, a: f64) -> Edge {
        let at = |dx: i64, dy: i64| {
            let (x, y) = (x as i64 + dx, y as i64 + dy);
            let inside = x >= 0 && y >= 0 && (x as usize) < art.w && (y as usize) < art.h;
            if inside { f64::from(art.px[y as usize * art.w + x as usize][3]) / 255.0 } else { 0.0 }
        };
        // Sobel's operator.
        let gx = at(1, -1) + 2.0 * at(1, 0) + at(1, 1) - at(-1, -1) - 2.0 * at(-1, 0) - at(-1, 1);
        let gy = at(-1, 1) + 2.0 * at(0, 1) + at(1, 1) - at(-1, -1) - 2.0 * at(0, -1) - at(1, -1);
        let long = (gx * gx + gy * gy).sqrt();
        if long < 1e-6 {
            return Edge { beyond: a - 0.5, out: (0.0, 0.0) };
        }
        let out = (-gx / long, -gy / long);
        // A full pixel reaches half a pixel out at least; more would be a guess.
        let beyond = if a >= 1.0 { 0.5 } else { -cut(a, out.0, out.1) };
        Edge { beyond, out }
    }
}

/// How far from the middle of a unit square a line with the normal `(x, y)` runs that leaves the share `a` on its
/// inner side; inwards counted positive.
fn cut(a: f64, x: f64, y: f64) -> f64 {
    let (big, small) = (x.abs().max(y.abs()), x.abs().min(y.abs()));
    // While the share is below this the line cuts off a triangle.
    let corner = small / (2.0 * big);
    if a < corner {
        (big + small) / 2.0 - (2.0 * big * small * a).sqrt()
    } else if a < 1.0 - corner {
        (0.5 - a) * big
    } else {
        -(big + small) / 2.0 + (2.0 * big * small * (1.0 - a)).sqrt()
    }
}

/// The other way round: how much of a unit square lies on the inner side of a line that runs `beyond` its middle, with
/// a normal along `(x, y)`.
fn covered(beyond: f64, x: f64, y: f64) -> f64 {
    let long = (x * x + y * y).sqrt();
    if long == 0.0 {
        return (beyond + 0.5).clamp(0.0, 1.0);
    }
    let (big, small) = (x.max(y) / long, x.min(y) / long);
    // The cover of the smaller side, then turned over where the middle lies inside.
    let far = (big + small) / 2.0 - beyond.abs();
    let part = if far <= 0.0 {
        0.0
    } else if far < small {
        far * far / (2.0 * big * small)
    } else {
        (far - small / 2.0) / big
    };
    if beyond > 0.0 { 1.0 - part } else { part }
}

/// How far it is along `way` (from the middle of a pixel with an edge) to that edge, straight on and square to it.
/// The square one is the true distance wherever the edge goes on far enough; off a corner there is only the first.
fn reach((x, y): (f64, f64), edge: Edge) -> (f64, f64) {
    let direct = (x * x + y * y).sqrt();
    let along = x * edge.out.0 + y * edge.out.1;
    let aside = (direct * direct - along * along).max(0.0).sqrt();
    let square = if along > 0.0 && aside <= 1.0 { along } else { direct };
    (direct - edge.beyond, square - edge.beyond)
}

/// Covers what cannot be reached from outside without crossing full cover.
fn close_holes(cover: &mut [f32], w: usize, h: usize) {
    // A frame of closed pixels round the picture saves asking for its edges.
    let wide = w + 2;
    let mut open = vec![false; wide * (h + 2)];
    for (y, row) in cover.chunks_exact(w).enumerate() {
        let inside = &mut open[(y + 1) * wide + 1..][..w];
        inside.iter_mut().zip(row).for_each(|(o, c)| *o = *c < 1.0);
    }
    // The art was padded: one corner is outside, and all that is outside can be reached from it.
    let mut todo = vec![wide + 1];
    open[wide + 1] = false;
    while let Some(i) = todo.pop() {
        for j in [i - 1, i + 1, i - wide, i + wide] {
            if open[j] {
                open[j] = false;
                todo.push(j);
            }
        }
    }
    // What is still open was not reached.
    for (y, row) in cover.chunks_exact_mut(w).enumerate() {
        for (c, hole) in row.iter_mut().zip(&open[(y + 1) * wide + 1..]) {
            if *hole {
                *c = 1.0;
            }
        }
    }
}

/// The shadow of a shape: moved down, blurred, weakened.
fn cast(cover: &[f32], w: usize, h: usize, s: Shadow) -> Vec<f32> {
    let drop = (s.drop.round().max(0.0) as usize).min(h);
    let mut shade = vec![0.0; drop * w];
    shade.extend_from_slice(&cover[..(h - drop) * w]);
    // Three running means come close to a Gaussian; the variance of one over n pixels is (n² − 1) / 12.
    let n = ((4.0 * s.blur * s.blur + 1.0).sqrt() as usize) | 1;
    let mut spare = vec![0.0; w * h];
    for _ in 0..3 {
        across(&shade, &mut spare, w, n);
        down(&spare, &mut shade, w, n);
    }
    let strength = s.strength as f32;
    // Running sums leave dust where nothing is.
    shade.iter_mut().for_each(|v| *v = if *v < 1e-3 { 0.0 } else { *v * strength });
    shade
}

/// The mean of the `n` (odd) values around each in its row; beyond the ends lies nothing.
fn across(from: &[f32], to: &mut [f32], w: usize, n: usize) {
    let (half, share) = (n / 2, 1.0 / n as f32);
    for (row, out) in from.chunks_exact(w).zip(to.chunks_exact_mut(w)) {
        let mut sum: f32 = row[..half.min(w)].iter().sum();
        for (x, v) in out.iter_mut().enumerate() {
            if x + half < w {
                sum += row[x + half];
            }
            if x > half {
                sum -= row[x - half - 1];
            }
            *v = sum * share;
        }
    }
}

/// The same in columns, a whole row of sums at a time.
fn down(from: &[f32], to: &mut [f32], w: usize, n: usize) {
    let (half, share) = (n / 2, 1.0 / n as f32);
    let h = from.len() / w;
    let mut sums = vec![0.0; w];
    for row in from.chunks_exact(w).take(half) {
        sums.iter_mut().zip(row).for_each(|(s, v)| *s += v);
    }
    for (y, out) in to.chunks_exact_mut(w).enumerate() {
        if y + half < h {
            sums.iter_mut().zip(&from[(y + half) * w..]).for_each(|(s, v)| *s += v);
        }
        if y > half {
            sums.iter_mut().zip(&from[(y - half - 1) * w..]).for_each(|(s, v)| *s -= v);
        }
        out.iter_mut().zip(&sums).for_each(|(o, s)| *o = s * share);
    }
}
