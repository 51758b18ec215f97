//! Pictures of what changed, before and after, small enough to stand in a page.

use super::pixels::{self, Changed, over};
use base::model::difference::{Shot, Still};
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{ExtendedColorType, ImageEncoder, ImageFormat, RgbaImage};
use inspect::pdf::drawing::Opened;

/// Pages are drawn so that their longer side has so many pixels.
const LONG: f64 = 1100.0;
/// Pictures with a longer side than this are made smaller.
const MOST: u32 = 1100;
/// Ink that went.
const GONE: [u8; 3] = [0xc2, 0x41, 0x0c];
/// Ink that came.
const COME: [u8; 3] = [0x1d, 0x4e, 0xd8];

/// Pictures of a page; `old` and `new` are a document and a page from 0. `None` if nothing can be drawn.
pub fn of_pages(old: Option<(&Opened, usize)>, new: Option<(&Opened, usize)>, slack: u8) -> Option<Box<Shot>> {
    let draw = |side: Option<(&Opened, usize)>| {
        let (pdf, page) = side?;
        let (width, height) = pdf.size(page)?;
        let drawn = pdf.pixels(page, (LONG / width.max(height).max(1.0)).min(2.0))?;
        RgbaImage::from_raw(drawn.width as u32, drawn.height as u32, drawn.rgba)
    };
    of(draw(old), draw(new), slack)
}

/// Pictures of two pictures.
pub fn of_pictures(old: &RgbaImage, new: &RgbaImage) -> Option<Box<Shot>> {
    of(Some(small(old)), Some(small(new)), 0)
}

/// The picture of a file that came or went.
pub fn of_file(bytes: &[u8], came: bool) -> Option<Box<Shot>> {
    let picture = small(&image::load_from_memory_with_format(bytes, ImageFormat::Png).ok()?.into_rgba8());
    if came { of(None, Some(picture), 0) } else { of(Some(picture), None, 0) }
}

fn small(picture: &RgbaImage) -> RgbaImage {
    let (w, h) = picture.dimensions();
    let longer = w.max(h);
    if longer <= MOST {
        return picture.clone();
    }
    let fit = |side: u32| (u64::from(side) * u64::from(MOST) / u64::from(longer)).max(1) as u32;
    image::imageops::thumbnail(picture, fit(w), fit(h))
}

fn of(old: Option<RgbaImage>, new: Option<RgbaImage>, slack: u8) -> Option<Box<Shot>> {
    let mut shot = Shot::default();
    if let (Some(a), Some(b)) = (&old, &new)
        && a.dimensions() == b.dimensions()
        && let Some(found) = pixels::compare(a.as_raw(), b.as_raw(), a.width() as usize, slack)
    {
        shot.overlay = still(&overlay(a, b, slack));
        shot.marks = marks(&found, a.dimensions());
    }
    shot.before = old.as_ref().and_then(still);
    shot.after = new.as_ref().and_then(still);
    (shot.before.is_some() || shot.after.is_some()).then(|| Box::new(shot))
}

/// Boxes in thousandths of the picture.
fn marks(found: &Changed, (width, height): (u32, u32)) -> Vec<[u32; 4]> {
    let part = |at: usize, of: u32| (at as u64 * 1000 / u64::from(of.max(1))) as u32;
    found
        .boxes
        .iter()
        .map(|[l, t, r, b]| [part(*l, width), part(*t, height), part(r - l, width).max(1), part(b - t, height).max(1)])
        .collect()
}

/// The new picture, paled; what went in one colour, what came in another.
fn overlay(old: &RgbaImage, new: &RgbaImage, slack: u8) -> RgbaImage {
    let light = |p: &[u8]| {
        let c = over([p[0], p[1], p[2], p[3]], 255);
        (u32::from(c.r) * 54 + u32::from(c.g) * 183 + u32::from(c.b) * 19) / 256
    };
    let mut out = Vec::with_capacity(old.as_raw().len());
    for (a, b) in old.as_raw().chunks_exact(4).zip(new.as_raw().chunks_exact(4)) {
        if pixels::differ(a, b, slack) {
            let colour = if light(a) < light(b) { GONE } else { COME };
            out.extend([colour[0], colour[1], colour[2], 255]);
        } else {
            // Few tones, so that the file stays small.
            let pale = (200 + light(b) * 55 / 255) as u8 & !3 | 3;
            out.extend([pale, pale, pale, 255]);
        }
    }
    RgbaImage::from_raw(old.width(), old.height(), out).unwrap_or_default()
}

/// A picture as a file; without transparency where there is none.
fn still(picture: &RgbaImage) -> Option<Still> {
    let (width, height) = picture.dimensions();
    let raw = picture.as_raw();
    let mut png = Vec::new();
    let encoder = PngEncoder::new_with_quality(&mut png, CompressionType::Default, FilterType::Adaptive);
    if raw.chunks_exact(4).all(|p| p[3] == 255) {
        let rgb: Vec<u8> = raw.chunks_exact(4).flat_map(|p| [p[0], p[1], p[2]]).collect();
        encoder.write_image(&rgb, width, height, ExtendedColorType::Rgb8).ok()?;
    } else {
        encoder.write_image(raw, width, height, ExtendedColorType::Rgba8).ok()?;
    }
    Some(Still { width: width as usize, height: height as usize, png })
}
