//! JPEG and GIF files, as far as a shop looks at them: their size, and whether they move.
//!
//! Sources: ITU-T T.81 (JPEG), Annex B: markers, frame header; GIF89a specification (1990): blocks. The structure is
//! walked by hand, so that nothing here is shared with the libraries that write these files.

use base::model::facts::{Facts, PictureFacts};

/// Whether the bytes begin like a JPEG or a GIF.
pub fn knows(bytes: &[u8]) -> bool {
    bytes.starts_with(&[0xff, 0xd8, 0xff]) || bytes.starts_with(b"GIF87a") || bytes.starts_with(b"GIF89a")
}

/// Reads either.
pub fn read(bytes: &[u8]) -> Facts {
    let (format, found) = if bytes.starts_with(b"GIF") { ("GIF", gif(bytes)) } else { ("JPEG", jpeg(bytes)) };
    match found {
        Some((width, height, frames)) if width > 0 && height > 0 && frames > 0 => {
            Facts::Picture(PictureFacts { format: format.to_owned(), width, height, frames, milliseconds: None })
        }
        _ => Facts::Unreadable(format!("it begins like a {format}, but is cut off or broken")),
    }
}

/// Width, height and one frame: the first frame header (SOF) says it, and an image must end (EOI).
fn jpeg(bytes: &[u8]) -> Option<(u32, u32, usize)> {
    let mut at = 2;
    let size = loop {
        while *bytes.get(at)? == 0xff && *bytes.get(at + 1)? == 0xff {
            at += 1;
        }
        if *bytes.get(at)? != 0xff {
            return None;
        }
        let marker = *bytes.get(at + 1)?;
        if matches!(marker, 0x01 | 0xd0..=0xd8) {
            at += 2;
            continue;
        }
        let length = usize::from(u16::from_be_bytes([*bytes.get(at + 2)?, *bytes.get(at + 3)?]));
        // SOF0 to SOF15 without DHT, JPG and DAC, which lie among them.
        if matches!(marker, 0xc0..=0xcf) && !matches!(marker, 0xc4 | 0xc8 | 0xcc) {
            let pair = |i: usize| Some(u32::from(u16::from_be_bytes([*bytes.get(i)?, *bytes.get(i + 1)?])));
            break (pair(at + 7)?, pair(at + 5)?);
        }
        if matches!(marker, 0xd9 | 0xda) || length < 2 {
            return None;
        }
        at += 2 + length;
    };
    // Cameras and phones put much after the end. Within the picture's own data the mark cannot stand (T.81, B.1.1.5).
    bytes[at..].windows(2).any(|w| w == [0xff, 0xd9]).then_some((size.0, size.1, 1))
}

/// Width, height and the number of image descriptors up to the trailer.
fn gif(bytes: &[u8]) -> Option<(u32, u32, usize)> {
    let pair = |i: usize| Some(u32::from(u16::from_le_bytes([*bytes.get(i)?, *bytes.get(i + 1)?])));
    let table = |flags: u8| if flags & 0x80 != 0 { 3 << ((flags & 7) + 1) } else { 0 };
    let blocks = |mut at: usize| loop {
        let length = usize::from(*bytes.get(at)?);
        at += 1 + length;
        if length == 0 {
            return Some(at);
        }
    };
    let (width, height) = (pair(6)?, pair(8)?);
    let (mut at, mut frames) = (13 + table(*bytes.get(10)?), 0);
    loop {
        match *bytes.get(at)? {
            0x21 => at = blocks(at + 2)?,
            0x2c => {
                frames += 1;
                // Position and size, flags, a palette, the code size, then the data.
                at = blocks(at + 10 + table(*bytes.get(at + 9)?) + 1)?;
            }
            0x3b => return Some((width, height, frames)),
            _ => return None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The smallest GIF: one clear pixel (GIF89a specification, put together by hand).
    const DOT: &[u8] = b"GIF89a\x01\0\x01\0\x80\0\0\0\0\0\xff\xff\xff\x2c\0\0\0\0\x01\0\x01\0\0\x02\x02\x44\x01\0\x3b";

    #[test]
    fn a_gif_is_walked_to_its_end() {
        let Facts::Picture(p) = read(DOT) else { panic!("not read") };
        assert_eq!((p.format.as_str(), p.width, p.height, p.frames), ("GIF", 1, 1, 1));
        for end in 6..DOT.len() {
            assert!(matches!(read(&DOT[..end]), Facts::Unreadable(_)), "cut at {end}");
        }
    }

    #[test]
    fn broken_pictures_are_refused() {
        assert!(matches!(read(b"\xff\xd8\xff\xe0\0\0"), Facts::Unreadable(_)));
        assert!(matches!(read(b"\xff\xd8\xff\xc0\0\x0b\x08\0\x10\0\x20\x01\x01\x11\0"), Facts::Unreadable(_)));
        let whole = b"\xff\xd8\xff\xc0\0\x0b\x08\0\x10\0\x20\x01\x01\x11\0\xff\xd9";
        let Facts::Picture(p) = read(whole) else { panic!("not read") };
        assert_eq!((p.width, p.height, p.frames), (32, 16, 1));
    }
}
