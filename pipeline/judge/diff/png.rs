//! PNG files: size, resolution, transparency, and which pixels changed.

use super::{DiffOptions, pixels, shots};
use base::model::change::Change;
use base::model::difference::Difference;
use base::model::facts::PngFacts;
use image::ImageFormat;

/// The most pixels that are compared one by one.
const MAX_PIXELS: u64 = 64_000_000;

/// Compares two PNGs.
pub fn compare(
    path: &str,
    old: (&PngFacts, &[u8]),
    new: (&PngFacts, &[u8]),
    options: DiffOptions,
    out: &mut Vec<Difference>,
) {
    let (a, b) = (old.0, new.0);
    let tell = |message: String| Difference::of(path, Change::ImageChanged, message);
    let dpi = |png: &PngFacts| png.dpi().map_or("no resolution".to_owned(), |d| format!("{d:.0} dpi"));
    if dpi(a) != dpi(b) {
        let message = format!("it stated {} and states {}", dpi(a), dpi(b));
        out.push(Difference::of(path, Change::MetadataChanged, message));
    }
    let resized = (a.width, a.height) != (b.width, b.height);
    if !resized && a.has_transparency != b.has_transparency {
        let word = if b.has_transparency { "has transparent parts now" } else { "has no transparent parts any more" };
        out.push(tell(format!("it {word}")));
    }
    if a.pixels == b.pixels && !a.pixels.is_empty() {
        return;
    }
    let size = format!("{} \u{d7} {} pixels became {} \u{d7} {}", a.width, a.height, b.width, b.height);
    let large = |png: &PngFacts| u64::from(png.width) * u64::from(png.height) > MAX_PIXELS;
    if options.quick || large(a) || large(b) {
        let why = if options.quick { "its pixels differ" } else { "its pixels differ; it is too large to say where" };
        out.push(tell(if resized { size } else { why.to_owned() }));
        return;
    }
    let decode =
        |bytes: &[u8]| image::load_from_memory_with_format(bytes, ImageFormat::Png).ok().map(|i| i.into_rgba8());
    let (Some(p), Some(q)) = (decode(old.1), decode(new.1)) else {
        out.push(tell("its pixels cannot be unpacked on both sides".to_owned()));
        return;
    };
    let shot = |mut difference: Difference| {
        difference.shot = options.pictures.then(|| shots::of_pictures(&p, &q)).flatten();
        difference
    };
    if resized {
        out.push(shot(tell(size)));
    } else if let Some(found) = pixels::compare(p.as_raw(), q.as_raw(), p.width() as usize, 0) {
        let [left, top, right, bottom] = found.bounds;
        let colours = pixels::colours(p.as_raw(), q.as_raw());
        let mut difference = tell(format!(
            "{} of {} pixels changed ({}), within {} \u{d7} {} at {left}, {top}; CIEDE2000 {:.1} at most, {:.1} on average",
            found.count,
            found.of,
            found.share(),
            right - left,
            bottom - top,
            colours.greatest,
            colours.mean
        ));
        difference.boxes = found.boxes.iter().map(|b| rounded(*b, 1.0)).collect();
        out.push(shot(difference));
    }
}

/// A box of pixels in other units, `scale` pixels to each: x, y, width, height, rounded outwards.
pub fn rounded([left, top, right, bottom]: [usize; 4], scale: f64) -> [u32; 4] {
    let (down, up) = (|n: usize| (n as f64 / scale).floor() as u32, |n: usize| (n as f64 / scale).ceil() as u32);
    [down(left), down(top), up(right) - down(left), up(bottom) - down(top)]
}
