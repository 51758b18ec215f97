//! PNG files, read with the png crate, and their pixels looked over for what makes or spoils a sticker.

mod edges;

use super::bytes::{hex, u32_be};
use base::model::facts::{Facts, PngFacts};
use png::{BitDepth, ColorType, Decoder, Limits, Transformations, Unit};
use sha2::{Digest, Sha256};
use std::borrow::Cow;
use std::io::Cursor;

/// The first eight bytes of every PNG (PNG specification, 5.2).
pub const SIGNATURE: [u8; 8] = [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a];

/// The most bytes that a picture may take unpacked; larger ones are described, but not looked into.
const MAX_PIXEL_BYTES: u64 = 512 << 20;

/// Reads a PNG.
pub fn read(bytes: &[u8]) -> Facts {
    let mut decoder = Decoder::new_with_limits(Cursor::new(bytes), Limits { bytes: MAX_PIXEL_BYTES as usize });
    decoder.set_transformations(Transformations::EXPAND);
    decoder.set_ignore_text_chunk(true);
    let mut reader = match decoder.read_info() {
        Ok(reader) => reader,
        Err(why) => return Facts::Unreadable(format!("it begins like a PNG, but cannot be read: {why}")),
    };
    let info = reader.info();
    let mut facts = PngFacts {
        width: info.width,
        height: info.height,
        bit_depth: info.bit_depth as u8,
        colour_type: info.color_type as u8,
        interlaced: info.interlaced,
        pixels_per_metre: info.pixel_dims.filter(|d| d.unit == Unit::Meter).map(|d| (d.xppu, d.yppu)),
        srgb: info.srgb.is_some(),
        profile: info.icc_profile.is_some(),
        animated: info.animation_control.is_some(),
        ..PngFacts::default()
    };
    chunks(bytes, &mut facts);
    let needed = u64::from(facts.width) * u64::from(facts.height) * 8;
    if needed > MAX_PIXEL_BYTES * 2 {
        return Facts::Png(facts);
    }
    let Some(size) = reader.output_buffer_size() else { return Facts::Png(facts) };
    let mut buffer = vec![0; size];
    match reader.next_frame(&mut buffer) {
        Ok(_) => {
            let (colour, depth) = reader.output_color_type();
            look(&mut facts, &buffer, colour, depth);
        }
        Err(why) => facts.damage.push(format!("its pixels cannot be unpacked: {why}")),
    }
    Facts::Png(facts)
}

/// Walks the chunks and checks their lengths and sums; a reader may forgive what the next one does not. What follows the
/// last chunk belongs to no picture, and every reader passes over it (PNG specification, 13.2).
fn chunks(bytes: &[u8], facts: &mut PngFacts) {
    let faults = &mut facts.damage;
    let mut at = SIGNATURE.len();
    loop {
        let (Some(length), Some(kind)) = (u32_be(bytes, at), bytes.get(at + 4..at + 8)) else {
            faults.push("it ends before its IEND chunk: the file is cut short".to_owned());
            return;
        };
        let length = length as usize;
        let shown = String::from_utf8_lossy(kind).into_owned();
        let Some(body) = bytes.get(at + 4..at.saturating_add(8).saturating_add(length)) else {
            faults.push(format!("its {shown} chunk at byte {at} runs past the end: the file is cut short"));
            return;
        };
        let Some(stated) = u32_be(bytes, at + 8 + length) else {
            faults.push(format!("its {shown} chunk at byte {at} has no checksum: the file is cut short"));
            return;
        };
        if stated != crc32(body) {
            faults.push(format!("the checksum of its {shown} chunk at byte {at} is wrong"));
        }
        at += 12 + length;
        if kind == b"IEND" {
            facts.stray_bytes = (bytes.len() - at) as u64;
            return;
        }
    }
}

/// CRC-32 as PNG and ZIP use it (PNG specification, annex D).
fn crc32(bytes: &[u8]) -> u32 {
    const TABLE: [u32; 256] = {
        let mut table = [0; 256];
        let mut n = 0;
        while n < 256 {
            let mut c = n as u32;
            let mut k = 0;
            while k < 8 {
                c = if c & 1 == 1 { 0xedb8_8320 ^ (c >> 1) } else { c >> 1 };
                k += 1;
            }
            table[n] = c;
            n += 1;
        }
        table
    };
    !bytes.iter().fold(!0, |c, b| TABLE[((c ^ u32::from(*b)) & 0xff) as usize] ^ (c >> 8))
}

/// Looks over the pixels.
fn look(facts: &mut PngFacts, buffer: &[u8], colour: ColorType, depth: BitDepth) {
    let image = Pixels::new(facts.width as usize, buffer, colour, depth);
    let mut ink: Option<[usize; 4]> = None;
    for (y, row) in image.rows().enumerate() {
        let (mut first, mut last) = (None, 0);
        for (x, [r, g, b, a]) in row.iter().enumerate() {
            facts.has_transparency |= *a < 255;
            if *a == 0 {
                facts.dirty_clear_pixels += u64::from(r | g | b != 0);
            } else {
                first = first.or(Some(x));
                last = x;
            }
        }
        if let Some(first) = first {
            let [x0, y0, x1, _] = ink.unwrap_or([first, y, last, y]);
            ink = Some([x0.min(first), y0, x1.max(last), y]);
        }
    }
    facts.ink_box = ink.map(|[x0, y0, x1, y1]| [x0 as u32, y0 as u32, (x1 - x0 + 1) as u32, (y1 - y0 + 1) as u32]);
    let edge_rows = [image.rows().next(), image.rows().next_back()];
    let corners = edge_rows.into_iter().flatten().flat_map(|row| [row.first(), row.last()]);
    facts.corners_clear = facts.width > 0 && facts.height > 0 && corners.flatten().all(|pixel| pixel[3] == 0);
    facts.pixels = image.digest(facts.dirty_clear_pixels == 0);
    if facts.has_transparency && facts.ink_box.is_some() {
        edges::look(facts, &image);
    }
}

/// The unpacked pixels as 8-bit red, green, blue and alpha, row by row.
pub(super) struct Pixels<'a> {
    pub width: usize,
    pub all: Cow<'a, [[u8; 4]]>,
}

impl<'a> Pixels<'a> {
    /// Whatever the layout of the buffer; of 16-bit samples the upper byte is kept.
    fn new(width: usize, buffer: &'a [u8], colour: ColorType, depth: BitDepth) -> Self {
        let step = if depth == BitDepth::Sixteen { 2 } else { 1 };
        let spread = |pixel: fn(&[u8], usize) -> [u8; 4]| -> Cow<'a, [[u8; 4]]> {
            buffer.chunks_exact(colour.samples() * step).map(|bytes| pixel(bytes, step)).collect()
        };
        let all = match colour {
            ColorType::Rgba if step == 1 => Cow::Borrowed(buffer.as_chunks().0),
            ColorType::Rgba => spread(|b, s| [b[0], b[s], b[2 * s], b[3 * s]]),
            ColorType::Rgb => spread(|b, s| [b[0], b[s], b[2 * s], 255]),
            ColorType::GrayscaleAlpha => spread(|b, s| [b[0], b[0], b[0], b[s]]),
            ColorType::Grayscale | ColorType::Indexed => spread(|b, _| [b[0], b[0], b[0], 255]),
        };
        Self { width, all }
    }

    /// From the top down.
    fn rows(&self) -> impl DoubleEndedIterator<Item = &[[u8; 4]]> {
        self.all.chunks_exact(self.width.max(1))
    }

    /// A digest that is equal for two pictures that show the same; what lies under full transparency does not count,
    /// and `clean` says that nothing lies there.
    fn digest(&self, clean: bool) -> String {
        let mut hasher = Sha256::new();
        hasher.update((self.width as u64).to_le_bytes());
        hasher.update((self.rows().count() as u64).to_le_bytes());
        if clean {
            hasher.update(self.all.as_flattened());
        } else {
            for row in self.rows() {
                let row: Vec<[u8; 4]> = row.iter().map(|pixel| if pixel[3] == 0 { [0; 4] } else { *pixel }).collect();
                hasher.update(row.as_flattened());
            }
        }
        hex(&hasher.finalize())
    }
}

#[cfg(test)]
mod tests {
    use super::crc32;

    /// The check value of CRC-32/ISO-HDLC, and the sum of an IEND chunk as the PNG specification fingerprints it.
    #[test]
    fn the_sum_is_the_published_one() {
        assert_eq!(crc32(b"123456789"), 0xcbf4_3926);
        assert_eq!(crc32(b"IEND"), 0xae42_6082);
    }
}
