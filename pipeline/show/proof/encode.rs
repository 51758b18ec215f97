//! Pixels as small files and as text that can stand inside a page.

use base64::prelude::{BASE64_STANDARD as STANDARD, Engine};
use libdeflater::{CompressionLvl, Compressor, Crc};
use raster::palette;
use raster::palette::Indexed;

/// Colours of a palette at most: antialiasing needs no more, and fewer bits deflate better.
const COLOURS: usize = 128;
/// The same of a page that is shown small, as one of thousands.
const COLOURS_OF_SMALL: usize = 64;
/// A page of no more pixels is shown small.
const SMALL: usize = 250_000;
/// How hard pictures are deflated: the step from here to the hardest costs three times the time for a few per cent.
const LEVEL: i32 = 6;
/// How much a picture may lose on average to its palette, in steps of a channel; beyond, it is a photograph.
const LOSS: f64 = 1.2;
/// Colours of what lies over another page, four bits each.
const FEW: usize = 16;
/// How much that may lose, over all of the page.
const LOSS_OVER: f64 = 0.25;
/// Quality of photographs.
const QUALITY: u8 = 82;

/// A page on white as a data address: a PNG with a palette, or a JPEG where a palette would band.
pub fn page(width: usize, height: usize, rgba: &[u8]) -> String {
    let mut indexed = palette::reduce(rgba, if width * height > SMALL { COLOURS } else { COLOURS_OF_SMALL });
    if indexed.loss > LOSS && width * height <= SMALL {
        indexed = palette::reduce(rgba, COLOURS);
    }
    if indexed.loss > LOSS
        && let Some(jpeg) = jpeg(width, height, rgba)
    {
        return address("image/jpeg", &jpeg);
    }
    address("image/png", &png(width, height, &Pixels::Indexed(&indexed)))
}

/// A picture with transparency as a data address.
pub fn sticker(width: usize, height: usize, rgba: &[u8]) -> String {
    let indexed = palette::reduce(rgba, COLOURS);
    let pixels = if indexed.loss > LOSS { Pixels::Whole(rgba) } else { Pixels::Indexed(&indexed) };
    address("image/png", &png(width, height, &pixels))
}

/// What of a page differs from the one under it, clear elsewhere, as a data address: mostly letters, for which a few
/// shades of the inks do.
pub fn over(width: usize, height: usize, rgba: &[u8]) -> String {
    let indexed = palette::reduce(rgba, FEW);
    if indexed.loss > LOSS_OVER {
        return sticker(width, height, rgba);
    }
    address("image/png", &png(width, height, &Pixels::Indexed(&indexed)))
}

/// The pixels of a picture of few colours that a data address holds; `None` where it holds another kind.
pub fn pixels(address: &str) -> Option<Vec<u8>> {
    let png = STANDARD.decode(address.strip_prefix("data:image/png;base64,")?).ok()?;
    Some(image::load_from_memory(&png).ok()?.into_rgba8().into_raw())
}

/// Bytes as a data address (RFC 2397).
pub fn address(kind: &str, bytes: &[u8]) -> String {
    format!("data:{kind};base64,{}", STANDARD.encode(bytes))
}

fn jpeg(width: usize, height: usize, rgba: &[u8]) -> Option<Vec<u8>> {
    let rgb: Vec<u8> = rgba.chunks_exact(4).flat_map(|p| [p[0], p[1], p[2]]).collect();
    let mut out = Vec::new();
    let mut encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut out, QUALITY);
    let (w, h) = (u32::try_from(width).ok()?, u32::try_from(height).ok()?);
    encoder.encode(&rgb, w, h, image::ExtendedColorType::Rgb8).ok()?;
    Some(out)
}

/// What a PNG holds.
enum Pixels<'a> {
    /// A palette and an index a pixel.
    Indexed(&'a Indexed),
    /// Red, green, blue, alpha.
    Whole(&'a [u8]),
}

/// A PNG (ISO/IEC 15948): signature, header, palette, data, end.
fn png(width: usize, height: usize, pixels: &Pixels) -> Vec<u8> {
    let mut out = b"\x89PNG\r\n\x1a\n".to_vec();
    let mut header = Vec::with_capacity(13);
    header.extend((width as u32).to_be_bytes());
    header.extend((height as u32).to_be_bytes());
    let small = matches!(pixels, Pixels::Indexed(i) if i.palette.len() <= 16);
    let colour_type = if matches!(pixels, Pixels::Indexed(_)) { 3 } else { 6 };
    header.extend([if small { 4 } else { 8 }, colour_type, 0, 0, 0]);
    chunk(&mut out, b"IHDR", &header);
    let rows = match pixels {
        Pixels::Indexed(indexed) => {
            chunk(&mut out, b"PLTE", &indexed.palette.iter().flat_map(|c| [c[0], c[1], c[2]]).collect::<Vec<u8>>());
            if indexed.palette.iter().any(|c| c[3] < 255) {
                chunk(&mut out, b"tRNS", &indexed.palette.iter().map(|c| c[3]).collect::<Vec<u8>>());
            }
            indexed_rows(width, &indexed.pixels, small)
        }
        Pixels::Whole(rgba) => whole_rows(width, rgba),
    };
    let mut compressor = Compressor::new(CompressionLvl::new(LEVEL).unwrap_or_default());
    let mut data = vec![0; compressor.zlib_compress_bound(rows.len())];
    // The bound is what the library itself asks for, so there is room.
    let length = compressor.zlib_compress(&rows, &mut data).unwrap_or_default();
    chunk(&mut out, b"IDAT", &data[..length]);
    chunk(&mut out, b"IEND", &[]);
    out
}

/// Rows of indices, unfiltered: differences of indices mean nothing.
fn indexed_rows(width: usize, pixels: &[u8], small: bool) -> Vec<u8> {
    let mut rows = Vec::with_capacity(pixels.len() + pixels.len() / width.max(1) + 1);
    for row in pixels.chunks_exact(width.max(1)) {
        rows.push(0);
        if small {
            let (twos, last) = row.as_chunks::<2>();
            rows.extend(twos.iter().map(|two| two[0] << 4 | two[1]));
            rows.extend(last.iter().map(|one| one << 4));
        } else {
            rows.extend(row);
        }
    }
    rows
}

/// Rows of whole pixels, each as its difference from the row above.
fn whole_rows(width: usize, rgba: &[u8]) -> Vec<u8> {
    let length = (width * 4).max(1);
    let mut above = vec![0; length];
    let mut rows = Vec::with_capacity(rgba.len() + rgba.len() / length + 1);
    for row in rgba.chunks_exact(length) {
        rows.push(2);
        rows.extend(row.iter().zip(&above).map(|(a, b)| a.wrapping_sub(*b)));
        above.copy_from_slice(row);
    }
    rows
}

fn chunk(out: &mut Vec<u8>, name: &[u8; 4], data: &[u8]) {
    out.extend((data.len() as u32).to_be_bytes());
    let mut crc = Crc::new();
    crc.update(name);
    crc.update(data);
    out.extend(name);
    out.extend(data);
    out.extend(crc.sum().to_be_bytes());
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn read(bytes: &[u8]) -> Vec<u8> {
        image::load_from_memory(bytes).unwrap().into_rgba8().into_raw()
    }

    #[test]
    fn few_colours_come_back_exactly() {
        for colours in [2u32, 16, 17, 120] {
            let rgba: Vec<u8> = (0..35 * 20)
                .flat_map(|i| {
                    let c = i % colours;
                    if c == 1 { [0; 4] } else { [(c * 8 % 256) as u8, (c / 16 * 32) as u8, 200, 255] }
                })
                .collect();
            let indexed = palette::reduce(&rgba, COLOURS);
            assert_eq!(indexed.loss, 0.0, "{colours}");
            assert_eq!(read(&png(35, 20, &Pixels::Indexed(&indexed))), rgba, "{colours}");
            assert_eq!(read(&png(35, 20, &Pixels::Whole(&rgba))), rgba, "{colours}");
        }
    }

    #[test]
    fn a_photograph_becomes_a_jpeg() {
        let mut seed = 1u32;
        let rgba: Vec<u8> = (0..64 * 64)
            .flat_map(|_| {
                seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let b = seed.to_be_bytes();
                [b[0], b[1], b[2], 255]
            })
            .collect();
        assert!(page(64, 64, &rgba).starts_with("data:image/jpeg;base64,"));
        assert!(sticker(64, 64, &rgba).starts_with("data:image/png;base64,"));
    }
}
