//! Premultiplied linear light: the form in which pixels may be added, averaged and laid over each other.
//!
//! Sources: the sRGB transfer function of IEC 61966-2-1 (as CSS Color 4 states it); `over` by Porter and Duff, 1984
//! (as W3C Compositing and Blending states it).

use super::Raster;
use std::sync::OnceLock;

/// A picture in premultiplied linear light.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Linear {
    /// Width in pixels.
    pub w: usize,
    /// Height in pixels.
    pub h: usize,
    /// Red, green, blue (times alpha) and alpha, row by row.
    pub px: Vec<[f32; 4]>,
}

/// Light of an sRGB channel, both from 0 to 1.
pub fn light(v: f32) -> f32 {
    if v <= 0.04045 { v / 12.92 } else { libm::powf((v + 0.055) / 1.055, 2.4) }
}

/// The sRGB channel of a light, both from 0 to 1.
pub fn channel(l: f32) -> f32 {
    if l <= 0.003_130_8 { l * 12.92 } else { 1.055 * libm::powf(l, 1.0 / 2.4) - 0.055 }
}

/// Light of each of the 256 channel values.
pub fn lights() -> &'static [f32; 256] {
    static TABLE: OnceLock<[f32; 256]> = OnceLock::new();
    TABLE.get_or_init(|| std::array::from_fn(|i| light(i as f32 / 255.0)))
}

/// Where each channel value begins: the light half way between it and the one before. A search in this table gives
/// the nearest channel value without a power for each pixel.
fn steps() -> &'static [f32; 256] {
    static TABLE: OnceLock<[f32; 256]> = OnceLock::new();
    TABLE.get_or_init(|| std::array::from_fn(|i| if i == 0 { -1.0 } else { light((i as f32 - 0.5) / 255.0) }))
}

/// The nearest 8-bit sRGB channel of a light.
pub fn to_byte(l: f32) -> u8 {
    (steps().partition_point(|s| *s <= l).max(1) - 1) as u8
}

/// A straight 8-bit pixel in premultiplied linear light.
pub fn from_pixel(p: [u8; 4]) -> [f32; 4] {
    let (t, a) = (lights(), f32::from(p[3]) / 255.0);
    [t[usize::from(p[0])] * a, t[usize::from(p[1])] * a, t[usize::from(p[2])] * a, a]
}

/// A premultiplied linear pixel as a straight 8-bit one; clear pixels carry no colour.
pub fn to_pixel(p: [f32; 4]) -> [u8; 4] {
    let a = (p[3].clamp(0.0, 1.0) * 255.0 + 0.5) as u8;
    if a == 0 {
        return [0; 4];
    }
    let c = |v: f32| to_byte((v / p[3]).clamp(0.0, 1.0));
    [c(p[0]), c(p[1]), c(p[2]), a]
}

/// One premultiplied pixel laid over another (Porter and Duff's `over`).
pub fn over(top: [f32; 4], below: [f32; 4]) -> [f32; 4] {
    let rest = 1.0 - top[3];
    [0, 1, 2, 3].map(|i| top[i] + below[i] * rest)
}

impl Linear {
    /// A picture in linear light.
    pub fn of(r: &Raster) -> Linear {
        Linear { w: r.w, h: r.h, px: r.px.iter().map(|p| from_pixel(*p)).collect() }
    }

    /// Back to 8 bits.
    pub fn raster(&self) -> Raster {
        Raster { w: self.w, h: self.h, px: self.px.iter().map(|p| to_pixel(*p)).collect() }
    }
}
