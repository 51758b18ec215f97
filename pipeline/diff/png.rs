//! PNG files: size, resolution, transparency, and which pixels changed.

use super::pixels;
use crate::model::difference::{Change, Difference, Verdict};
use crate::model::facts::PngFacts;
use image::ImageFormat;

/// The most pixels that are compared one by one.
const MAX_PIXELS: u64 = 64_000_000;

/// Compares two PNGs.
pub fn compare(path: &str, old: (&PngFacts, &[u8]), new: (&PngFacts, &[u8]), out: &mut Vec<Difference>) {
    let (a, b) = (old.0, new.0);
    let tell = |message: String| Difference::of(path, Change::ImageChanged, Verdict::Patch, message);
    let dpi = |png: &PngFacts| png.dpi().map_or("no resolution".to_owned(), |d| format!("{d:.0} dpi"));
    if dpi(a) != dpi(b) {
        let message = format!("it stated {} and states {}", dpi(a), dpi(b));
        out.push(Difference::of(path, Change::MetadataChanged, Verdict::Patch, message));
    }
    if (a.width, a.height) != (b.width, b.height) {
        out.push(tell(format!("{} \u{d7} {} pixels became {} \u{d7} {}", a.width, a.height, b.width, b.height)));
        return;
    }
    if a.has_transparency != b.has_transparency {
        let word = if b.has_transparency { "has transparent parts now" } else { "has no transparent parts any more" };
        out.push(tell(format!("it {word}")));
    }
    if a.pixels == b.pixels && !a.pixels.is_empty() {
        return;
    }
    if u64::from(a.width) * u64::from(a.height) > MAX_PIXELS {
        out.push(tell("its pixels differ; it is too large to say where".to_owned()));
        return;
    }
    let decode =
        |bytes: &[u8]| image::load_from_memory_with_format(bytes, ImageFormat::Png).ok().map(|i| i.into_rgba8());
    let (Some(p), Some(q)) = (decode(old.1), decode(new.1)) else {
        out.push(tell("its pixels cannot be unpacked on both sides".to_owned()));
        return;
    };
    if let Some(found) = pixels::compare(p.as_raw(), q.as_raw(), p.width() as usize, 4, 0) {
        let [left, top, right, bottom] = found.bounds;
        out.push(tell(format!(
            "{} of {} pixels changed ({}), within {} \u{d7} {} at {left}, {top}; by {:.0} of 255 on average, {} at most",
            found.count,
            found.of,
            found.share(),
            right - left,
            bottom - top,
            found.mean,
            found.greatest
        )));
    }
}
