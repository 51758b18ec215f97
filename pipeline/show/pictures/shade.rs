//! Soft shadows of rounded rectangles, worked out instead of blurred: the Gaussian of a rectangle is a product of two
//! error functions, and a rounded corner is a stack of thin rectangles. So a wide shadow has no edge where a blur of
//! boxes would end, and costs next to nothing, since it is made small and drawn large.
//!
//! A layout names it like any other picture: `shadow/WIDTH/HEIGHT/RADIUS/BLUR/COLOUR/STRENGTH`, in thousandths for what
//! has parts.

use base::model::{Rgb, Size};
use raster::Raster;

/// How far a shadow reaches beyond its thing, in standard deviations of its blur: there it is weaker than a step of grey.
pub const REACH: f64 = 3.2;

/// Pixels of the small picture in a standard deviation.
const FINE: f64 = 6.0;
/// Pixels of the small picture along its longer side at most.
const MOST: f64 = 700.0;

/// The shadow of a rounded rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shade {
    /// Width of the thing.
    pub w: f64,
    /// Its height.
    pub h: f64,
    /// Radius of its corners.
    pub radius: f64,
    /// Standard deviation of the blur.
    pub blur: f64,
    /// Its colour.
    pub colour: Rgb,
    /// How dark it is in the middle of a large thing, 0 to 1.
    pub strength: f64,
}

impl Shade {
    /// Its address in a layout.
    pub fn address(&self) -> String {
        let k = |v: f64| (v * 1000.0).round().max(0.0) as u64;
        let colour = self.colour.to_string();
        let colour = colour.trim_start_matches('#');
        format!("shadow/{}/{}/{}/{}/{colour}/{}", k(self.w), k(self.h), k(self.radius), k(self.blur), k(self.strength))
    }

    /// The shadow behind an address.
    pub fn at(address: &str) -> Option<Shade> {
        let parts: Vec<&str> = address.strip_prefix("shadow/")?.split('/').collect();
        let [w, h, radius, blur, colour, strength] = parts.as_slice() else { return None };
        let k = |text: &str| text.parse::<u32>().ok().map(|v| f64::from(v) / 1000.0);
        let shade = Shade {
            w: k(w)?,
            h: k(h)?,
            radius: k(radius)?,
            blur: k(blur)?.max(0.05),
            colour: Rgb::parse(&format!("#{colour}"))?,
            strength: k(strength)?.min(1.0),
        };
        (shade.w > 0.0 && shade.h > 0.0).then_some(shade)
    }

    /// Its size with all that it reaches.
    pub fn size(&self) -> Size {
        let more = 2.0 * REACH * self.blur;
        Size::new(self.w + more, self.h + more)
    }

    /// Its pixels, fewer than it is shown with: whoever draws it makes them smooth.
    pub fn pixels(&self, shown: f64) -> Raster {
        let size = self.size();
        let most = (MOST / size.w.max(size.h)).min(shown.max(1.0) / size.w);
        let scale = (FINE / self.blur).min(most);
        let (w, h) = ((size.w * scale).ceil().max(2.0) as usize, (size.h * scale).ceil().max(2.0) as usize);
        // Middles of pixels, from the middle of the thing.
        let at = |i: usize, n: usize, whole: f64| ((i as f64 + 0.5) / n as f64 - 0.5) * whole;
        let across: Vec<f64> = (0..w).map(|i| at(i, w, size.w)).collect();
        let slabs = self.slabs();
        let mut px = Vec::with_capacity(w * h);
        // Every row is a sum of the same profiles across, weighted by how near each slab is.
        let profiles: Vec<Vec<f64>> =
            slabs.iter().map(|s| across.iter().map(|x| between(x - s.half, x + s.half, self.blur)).collect()).collect();
        for j in 0..h {
            let y = at(j, h, size.h);
            let weights: Vec<f64> = slabs.iter().map(|s| between(y - s.to, y - s.from, self.blur)).collect();
            for i in 0..w {
                let dark: f64 = profiles.iter().zip(&weights).map(|(p, w)| p[i] * w).sum();
                let alpha = (dark * self.strength * 255.0).round().clamp(0.0, 255.0) as u8;
                px.push([self.colour.r, self.colour.g, self.colour.b, alpha]);
            }
        }
        Raster { w, h, px }
    }

    /// The thing as a stack of rectangles: thin ones through the corners, one for all between.
    fn slabs(&self) -> Vec<Slab> {
        let radius = self.radius.min(self.w / 2.0).min(self.h / 2.0);
        let (half, down) = (self.w / 2.0, self.h / 2.0);
        let mut out = vec![Slab { half, from: radius - down, to: down - radius }];
        let steps = (radius / self.blur * 3.0).ceil().clamp(1.0, 24.0) as usize;
        for i in 0..steps {
            let (near, far) = (i as f64 / steps as f64, (i + 1) as f64 / steps as f64);
            let middle = (near + far) / 2.0;
            let narrower = radius * (1.0 - (1.0 - middle * middle).max(0.0).sqrt());
            let (a, b) = (down - radius + near * radius, down - radius + far * radius);
            out.push(Slab { half: half - narrower, from: a, to: b });
            out.push(Slab { half: half - narrower, from: -b, to: -a });
        }
        out.retain(|s| s.to > s.from);
        out
    }
}

/// A rectangle round the middle line: half its width, its upper and lower edge.
struct Slab {
    half: f64,
    from: f64,
    to: f64,
}

/// The part of a Gaussian round zero with standard deviation `s` that lies between `a` and `b`.
fn between(a: f64, b: f64, s: f64) -> f64 {
    let k = s * std::f64::consts::SQRT_2;
    (erf(b / k) - erf(a / k)) / 2.0
}

/// The error function, good to 1.5e-7 (Abramowitz and Stegun, Handbook of Mathematical Functions, 7.1.26).
fn erf(x: f64) -> f64 {
    const A: [f64; 5] = [0.254_829_592, -0.284_496_736, 1.421_413_741, -1.453_152_027, 1.061_405_429];
    let t = 1.0 / (1.0 + 0.327_591_1 * x.abs());
    let sum = A.iter().rev().fold(0.0, |sum, a| (sum + a) * t);
    let y = 1.0 - sum * libm::exp(-x * x);
    if x < 0.0 { -y } else { y }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn shade() -> Shade {
        let colour = Rgb::new(20, 30, 40);
        Shade { w: 300.0, h: 200.0, radius: 20.0, blur: 25.0, colour, strength: 0.8 }
    }

    #[test]
    fn an_address_says_all_of_it() {
        assert_eq!(Shade::at(&shade().address()), Some(shade()));
        for wrong in ["shadow/1/2/3", "shadow/0/1/1/1/000000/1", "shadow/a/1/1/1/000000/1", "page/1"] {
            assert_eq!(Shade::at(wrong), None, "{wrong}");
        }
    }

    /// Values of the error function from the handbook's table 7.1.
    #[test]
    fn the_error_function_is_the_handbooks() {
        for (x, y) in [(0.0, 0.0), (0.5, 0.520_499_877_8), (1.0, 0.842_700_792_9), (2.0, 0.995_322_265_0)] {
            assert!((erf(x) - y).abs() < 2e-7 && (erf(-x) + y).abs() < 2e-7, "{x}");
        }
    }

    /// Against a sum over the thing itself, point by point.
    #[test]
    fn it_is_the_gaussian_of_a_rounded_rectangle() {
        let s = shade();
        let made = s.pixels(1000.0);
        let size = s.size();
        let inside = |x: f64, y: f64| {
            let (dx, dy) = ((x.abs() - (150.0 - 20.0)).max(0.0), (y.abs() - (100.0 - 20.0)).max(0.0));
            libm::hypot(dx, dy) <= 20.0
        };
        for (i, j) in [(made.w / 2, made.h / 2), (made.w / 5, made.h / 2), (made.w / 4, made.h / 5), (0, 0)] {
            let (x, y) = (
                (i as f64 + 0.5) / made.w as f64 * size.w - size.w / 2.0,
                (j as f64 + 0.5) / made.h as f64 * size.h - size.h / 2.0,
            );
            let mut sum = 0.0;
            for u in -150..150 {
                for v in -100..100 {
                    let (u, v) = (f64::from(u) + 0.5, f64::from(v) + 0.5);
                    if inside(u, v) {
                        sum += libm::exp(-((x - u).powi(2) + (y - v).powi(2)) / (2.0 * 625.0))
                            / (std::f64::consts::TAU * 625.0);
                    }
                }
            }
            let alpha = f64::from(made.px[j * made.w + i][3]);
            assert!((alpha - sum * 0.8 * 255.0).abs() < 1.0, "{i} {j}: {alpha} {}", sum * 0.8 * 255.0);
        }
    }
}
