//! PNG files, read with the png crate, and their pixels looked over for what makes or spoils a sticker.

mod edges;

use super::bytes::{hex, u32_be};
use crate::model::facts::{Facts, PngFacts};
use png::{BitDepth, ColorType, Decoder, Limits, Transformations, Unit};
use sha2::{Digest, Sha256};
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
        damage: chunks(bytes),
        ..PngFacts::default()
    };
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

/// Walks the chunks and checks their lengths and sums; a reader may forgive what the next one does not.
fn chunks(bytes: &[u8]) -> Vec<String> {
    let mut faults = Vec::new();
    let mut at = SIGNATURE.len();
    loop {
        let (Some(length), Some(kind)) = (u32_be(bytes, at), bytes.get(at + 4..at + 8)) else {
            faults.push("it ends before its IEND chunk: the file is cut short".to_owned());
            return faults;
        };
        let length = length as usize;
        let shown = String::from_utf8_lossy(kind).into_owned();
        let Some(body) = bytes.get(at + 4..at.saturating_add(8).saturating_add(length)) else {
            faults.push(format!("its {shown} chunk at byte {at} runs past the end: the file is cut short"));
            return faults;
        };
        let Some(stated) = u32_be(bytes, at + 8 + length) else {
            faults.push(format!("its {shown} chunk at byte {at} has no checksum: the file is cut short"));
            return faults;
        };
        if stated != crc32(body) {
            faults.push(format!("the checksum of its {shown} chunk at byte {at} is wrong"));
        }
        at += 12 + length;
        if kind == b"IEND" {
            if at < bytes.len() {
                faults.push(format!("{} bytes follow its end", bytes.len() - at));
            }
            return faults;
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
    let wide = depth == BitDepth::Sixteen;
    let image = Pixels {
        width: facts.width as usize,
        height: facts.height as usize,
        bytes: buffer,
        channels: colour.samples(),
        step: if wide { 2 } else { 1 },
        alpha: matches!(colour, ColorType::Rgba | ColorType::GrayscaleAlpha),
    };
    let mut ink: Option<[usize; 4]> = None;
    for y in 0..image.height {
        for x in 0..image.width {
            let [r, g, b, a] = image.at(x, y);
            facts.has_transparency |= a < 255;
            if a == 0 {
                facts.dirty_clear_pixels += u64::from(r != 0 || g != 0 || b != 0);
            } else {
                let [x0, y0, x1, y1] = ink.unwrap_or([x, y, x, y]);
                ink = Some([x0.min(x), y0.min(y), x1.max(x), y1.max(y)]);
            }
        }
    }
    facts.ink_box = ink.map(|[x0, y0, x1, y1]| [x0 as u32, y0 as u32, (x1 - x0 + 1) as u32, (y1 - y0 + 1) as u32]);
    if image.width > 0 && image.height > 0 {
        let (right, bottom) = (image.width - 1, image.height - 1);
        facts.corners_clear =
            [(0, 0), (right, 0), (0, bottom), (right, bottom)].iter().all(|(x, y)| image.at(*x, *y)[3] == 0);
    }
    facts.pixels = image.digest();
    if facts.has_transparency && facts.ink_box.is_some() {
        edges::look(facts, &image);
    }
}

/// The unpacked pixels, whatever their layout.
pub(super) struct Pixels<'a> {
    pub width: usize,
    pub height: usize,
    bytes: &'a [u8],
    channels: usize,
    step: usize,
    alpha: bool,
}

impl Pixels<'_> {
    /// A pixel as 8-bit red, green, blue and alpha.
    pub fn at(&self, x: usize, y: usize) -> [u8; 4] {
        let at = (y * self.width + x) * self.channels * self.step;
        let sample = |i: usize| self.bytes.get(at + i * self.step).copied().unwrap_or(0);
        match (self.channels, self.alpha) {
            (4, _) => [sample(0), sample(1), sample(2), sample(3)],
            (3, _) => [sample(0), sample(1), sample(2), 255],
            (2, true) => [sample(0), sample(0), sample(0), sample(1)],
            _ => [sample(0), sample(0), sample(0), 255],
        }
    }

    /// A digest that is equal for two pictures that show the same; what lies under full transparency does not count.
    fn digest(&self) -> String {
        let mut hasher = Sha256::new();
        hasher.update((self.width as u64).to_le_bytes());
        hasher.update((self.height as u64).to_le_bytes());
        let mut row = Vec::with_capacity(self.width * 4);
        for y in 0..self.height {
            row.clear();
            for x in 0..self.width {
                let pixel = self.at(x, y);
                row.extend_from_slice(if pixel[3] == 0 { &[0; 4] } else { &pixel });
            }
            hasher.update(&row);
        }
        hex(&hasher.finalize())
    }
}

#[cfg(test)]
mod tests {
    use super::crc32;

    /// The check value of CRC-32/ISO-HDLC, and the sum of an IEND chunk as the PNG specification prints it.
    #[test]
    fn the_sum_is_the_published_one() {
        assert_eq!(crc32(b"123456789"), 0xcbf4_3926);
        assert_eq!(crc32(b"IEND"), 0xae42_6082);
    }
}
