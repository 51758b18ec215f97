//! Pixels: what stickers are made of once they are no longer shapes.
//!
//! `Raster` is what files hold: 8-bit sRGB with straight alpha. `Linear` is what sums need: premultiplied linear
//! light in `f32`. Averages of sRGB numbers come out too dark, and averages of straight colours let the colour of
//! clear pixels bleed in, so everything that blends goes through `Linear`.

pub mod border;
pub mod decode;
pub mod distance;
pub mod fringe;
pub mod jpeg;
pub mod linear;
pub mod palette;
pub mod parts;
pub mod resize;
pub mod rows;

pub use linear::Linear;

use base::model::Rgb;
use base::model::drawing::Picture;
use std::borrow::Cow;

/// Alpha up to this (less than one per cent) cannot be seen; pictures leave such a haze behind soft brushes, and it
/// would make the art look larger than it is. It counts as clear.
pub const HAZE: u8 = 2;

/// A picture in memory: 8-bit sRGB, straight alpha.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Raster {
    /// Width in pixels.
    pub w: usize,
    /// Height in pixels.
    pub h: usize,
    /// Red, green, blue, alpha, row by row.
    pub px: Vec<[u8; 4]>,
}

/// A rectangle of pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Area {
    /// First column.
    pub x: usize,
    /// First row.
    pub y: usize,
    /// Columns.
    pub w: usize,
    /// Rows.
    pub h: usize,
}

impl Raster {
    /// A clear picture.
    pub fn clear(w: usize, h: usize) -> Raster {
        Raster { w, h, px: vec![[0; 4]; w * h] }
    }

    /// The pixels of a picture file.
    pub fn of(picture: &Picture) -> Raster {
        let copied = |bytes: &[u8]| bytes.as_chunks::<4>().0.to_vec();
        let px = match picture.rgba.bytes() {
            Cow::Borrowed(bytes) => copied(bytes),
            // Those of a sheet are too many to lie in memory twice.
            Cow::Owned(bytes) => bytemuck::try_cast_vec(bytes).unwrap_or_else(|(_, bytes)| copied(&bytes)),
        };
        Raster { w: picture.width as usize, h: picture.height as usize, px }
    }

    /// From premultiplied 8-bit pixels, as the SVG renderer makes them.
    pub fn from_premultiplied(w: usize, h: usize, data: &[u8]) -> Raster {
        // Rounded to the nearest; a channel never exceeds its alpha, so the quotient is at most 255.
        let plain = |v: u8, a: u32| ((u32::from(v) * 255 + a / 2) / a).min(255) as u8;
        let mut px = Vec::with_capacity(w * h);
        px.extend(data.as_chunks::<4>().0.iter().map(|c| match c[3] {
            0 => [0; 4],
            255 => *c,
            a => [plain(c[0], a.into()), plain(c[1], a.into()), plain(c[2], a.into()), a],
        }));
        Raster { w, h, px }
    }

    /// One pixel.
    pub fn at(&self, x: usize, y: usize) -> [u8; 4] {
        self.px[y * self.w + x]
    }

    /// Its bytes, as PNG colour type 6 takes them.
    pub fn bytes(&self) -> Vec<u8> {
        self.px.as_flattened().to_vec()
    }

    /// The same of a picture that nobody needs any more: a sheet is too large to lie in memory twice.
    pub fn into_bytes(self) -> Vec<u8> {
        bytemuck::try_cast_vec(self.px).unwrap_or_else(|(_, px)| px.as_flattened().to_vec())
    }

    /// The area that it covers.
    pub fn whole(&self) -> Area {
        Area { x: 0, y: 0, w: self.w, h: self.h }
    }

    /// Makes everything that cannot be seen truly clear: haze goes, and clear pixels carry no colour. Gives how many
    /// pixels of haze there were.
    pub fn clean(&mut self) -> usize {
        let mut haze = 0;
        for p in &mut self.px {
            if p[3] <= HAZE {
                haze += usize::from(p[3] > 0);
                *p = [0; 4];
            }
        }
        haze
    }

    /// The smallest rectangle that holds every pixel that is not clear; `None` when all are.
    pub fn ink(&self) -> Option<Area> {
        let inked = |row: &[[u8; 4]]| row.iter().any(|p| p[3] > 0);
        let rows = || self.px.chunks_exact(self.w.max(1));
        let top = rows().position(inked)?;
        let bottom = rows().rposition(inked)?;
        let (mut left, mut right) = (self.w, 0);
        for row in rows().skip(top).take(bottom - top + 1) {
            if let Some(first) = row.iter().position(|p| p[3] > 0) {
                left = left.min(first);
                right = right.max(row.iter().rposition(|p| p[3] > 0).unwrap_or(first));
            }
        }
        Some(Area { x: left, y: top, w: right - left + 1, h: bottom - top + 1 })
    }

    /// A part of it, cut out.
    pub fn crop(&self, area: Area) -> Raster {
        let mut px = Vec::with_capacity(area.w * area.h);
        for row in self.px.chunks_exact(self.w.max(1)).skip(area.y).take(area.h) {
            px.extend_from_slice(&row[area.x..area.x + area.w]);
        }
        Raster { w: area.w, h: area.h, px }
    }

    /// The same with clear pixels added on every side.
    pub fn padded(&self, by: usize) -> Raster {
        let mut out = Raster::clear(self.w + 2 * by, self.h + 2 * by);
        for (y, row) in self.px.chunks_exact(self.w.max(1)).enumerate() {
            let from = (y + by) * out.w + by;
            out.px[from..from + self.w].copy_from_slice(row);
        }
        out
    }

    /// The alpha of every pixel.
    pub fn alpha(&self) -> Vec<u8> {
        self.px.iter().map(|p| p[3]).collect()
    }

    /// The picture as a hand-over type.
    pub fn picture(&self, name: impl Into<String>) -> Picture {
        Picture { name: name.into(), width: self.w as u32, height: self.h as u32, rgba: self.bytes().into() }
    }
}

/// A pixel of full alpha.
pub fn opaque(c: Rgb) -> [u8; 4] {
    [c.r, c.g, c.b, 255]
}
