//! The PNG of a sticker: 8-bit RGBA, said to be sRGB, with its resolution, losslessly optimised.
//!
//! Sources: PNG Specification, third edition: colour type 6, `sRGB` (rendering intent 0, perceptual), `pHYs` (pixels
//! a metre).

use base::model::Fault;
use oxipng::{BitDepth, ColorType, Deflater, FilterStrategy, Options, RawImage};
use raster::{Raster, rows};

/// How long to look for a smaller file; the pixels are the same at every level.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Effort {
    /// For a first look.
    Quick,
    /// For every day.
    #[default]
    Balanced,
    /// For the launch: several times as slow, a few per cent smaller.
    Best,
}

/// Writes a sticker.
pub fn write(r: Raster, dpi: f64, effort: Effort) -> Result<Vec<u8>, Fault> {
    let fail = |e: oxipng::PngError| Fault::new(format!("the PNG could not be written: {e}"));
    let options = options(effort, rows::changing(&r.px, r.w, |pixel| pixel[3] > 0));
    let (w, h) = (r.w as u32, r.h as u32);
    let mut raw = RawImage::new(w, h, ColorType::RGBA, BitDepth::Eight, r.into_bytes()).map_err(fail)?;
    raw.add_png_chunk(*b"sRGB", vec![0]);
    let metre = per_metre(dpi).to_be_bytes();
    raw.add_png_chunk(*b"pHYs", [&metre[..], &metre[..], &[1]].concat());
    raw.create_optimized_png(&options).map_err(fail)
}

/// Pixels in a metre, as `pHYs` counts.
pub fn per_metre(dpi: f64) -> u32 {
    (dpi / 0.0254).round() as u32
}

fn options(effort: Effort, painted: bool) -> Options {
    let (filters, compression): (&[FilterStrategy], u8) = match effort {
        Effort::Quick if painted => (&[FilterStrategy::PAETH], 1),
        Effort::Balanced if painted => (&[FilterStrategy::MinSum], 6),
        Effort::Quick => (&[FilterStrategy::NONE], 1),
        Effort::Balanced => (&[FilterStrategy::NONE], 6),
        Effort::Best => {
            (&[FilterStrategy::NONE, FilterStrategy::SUB, FilterStrategy::Entropy, FilterStrategy::Bigrams], 11)
        }
    };
    Options {
        filters: filters.iter().cloned().collect(),
        deflater: Deflater::Libdeflater { compression },
        // A sticker stays what reader apps expect, whatever would be smaller.
        bit_depth_reduction: false,
        color_type_reduction: false,
        palette_reduction: false,
        grayscale_reduction: false,
        optimize_alpha: false,
        force: true,
        ..Options::default()
    }
}
