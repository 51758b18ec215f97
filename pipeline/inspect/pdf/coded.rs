//! Data in codes that are not unpacked here: whether a JPEG or a JPEG 2000 picture reaches its end, and text armour taken
//! off what was packed inside it.

use crate::bytes::{u16_be, u32_be, u64_be};

/// Width and height that a JPEG states, if its data reach their end mark (ITU-T T.81, B.1.1 and B.2.2). What the coded
/// rows hold is not looked at.
pub fn jpeg(data: &[u8]) -> Option<(u16, u16)> {
    let mut size = None;
    let mut at = data.windows(2).position(|w| w == [0xff, 0xd8])? + 2;
    loop {
        at += data.get(at..)?.iter().position(|b| *b == 0xff)?;
        at += data.get(at..)?.iter().position(|b| *b != 0xff)?;
        match data[at] {
            0xd9 => return size,
            // A byte of coded rows that happens to be 255, a place to begin anew, a mark without content.
            0x00 | 0x01 | 0xd0..=0xd8 => at += 1,
            mark => {
                if matches!(mark, 0xc0..=0xcf) && !matches!(mark, 0xc4 | 0xc8 | 0xcc) {
                    size = Some((u16_be(data, at + 6)?, u16_be(data, at + 4)?));
                }
                at += 1 + usize::from(u16_be(data, at + 1)?);
            }
        }
    }
}

/// Whether a JPEG 2000 picture, bare or in its boxes, reaches its end mark (ITU-T T.800, A.4.4 and I.4).
pub fn jpeg_2000_ends(data: &[u8]) -> bool {
    if !data.starts_with(b"\0\0\0\x0cjP  ") {
        return ends(data);
    }
    let mut at = 0;
    while let (Some(short), Some(kind)) = (u32_be(data, at), data.get(at + 4..at + 8)) {
        let rest = data.len() - at;
        let (head, length) = match short {
            0 => (8, Some(rest)),
            1 => (16, u64_be(data, at + 8).and_then(|n| usize::try_from(n).ok())),
            n => (8, usize::try_from(n).ok()),
        };
        let Some(length) = length.filter(|n| (head..=rest).contains(n)) else { return false };
        if kind == b"jp2c" {
            return ends(&data[at + head..at + length]);
        }
        at += length;
    }
    false
}

/// Whether a codestream ends as it must; what some programs add for even lengths is passed over.
fn ends(codestream: &[u8]) -> bool {
    let filling = codestream.iter().rev().take(4).take_while(|b| matches!(b, 0 | b'\n' | b'\r')).count();
    codestream[..codestream.len() - filling].ends_with(&[0xff, 0xd9])
}

/// ASCII base-85 to bytes (ISO 32000-1, 7.4.3), as far as it goes.
pub fn base_85(text: &[u8]) -> Vec<u8> {
    let mut out = Vec::with_capacity(text.len() / 5 * 4);
    let (mut word, mut digits) = (0u32, 0);
    for byte in text {
        match byte {
            b'z' if digits == 0 => out.extend([0; 4]),
            b'!'..=b'u' => {
                word = word.wrapping_mul(85).wrapping_add(u32::from(byte - b'!'));
                digits += 1;
                if digits == 5 {
                    out.extend(word.to_be_bytes());
                    (word, digits) = (0, 0);
                }
            }
            b'~' => break,
            _ => {}
        }
    }
    if digits > 1 {
        // What is missing counts as the highest digit.
        let full = (digits..5).fold(word, |w, _| w.wrapping_mul(85).wrapping_add(84));
        out.extend(&full.to_be_bytes()[..digits - 1]);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_jpeg_is_followed_to_its_end() {
        // Start, an application's segment that holds an end mark, a frame of 60 by 40, a scan with a stuffed byte, the end.
        let whole: &[u8] = &[
            0xff, 0xd8, 0xff, 0xe1, 0, 4, 0xff, 0xd9, 0xff, 0xc0, 0, 11, 8, 0, 40, 0, 60, 1, 1, 0x11, 0, 0xff, 0xda, 0,
            8, 1, 1, 0, 0, 63, 0, 7, 0xff, 0, 9, 0xff, 0xd0, 5, 0xff, 0xd9,
        ];
        assert_eq!(jpeg(whole), Some((60, 40)));
        for length in 0..whole.len() {
            assert_eq!(jpeg(&whole[..length]), None, "{length}");
        }
    }

    #[test]
    fn jpeg_2000_in_boxes_and_bare() {
        let boxed = |length: u8| {
            let mut data = b"\0\0\0\x0cjP  \r\n\x87\n\0\0\0".to_vec();
            data.push(length);
            data.extend(b"jp2c\xff\x4f\xff\xd9");
            data
        };
        assert!(jpeg_2000_ends(&boxed(12)) && jpeg_2000_ends(&boxed(0)));
        assert!(!jpeg_2000_ends(&boxed(13)) && !jpeg_2000_ends(&boxed(12)[..23]) && !jpeg_2000_ends(&boxed(0)[..23]));
        assert!(jpeg_2000_ends(b"\xff\x4f\xff\xd9\0") && !jpeg_2000_ends(b"\xff\x4f\xff") && !jpeg_2000_ends(b""));
    }

    #[test]
    fn base_85_as_pythons_standard_library_writes_it() {
        // base64.a85encode of the words, with adobe=True for the end mark.
        assert_eq!(base_85(b"6=j\\K+DG^9FD,5.F*2@~>"), b"Beds in the sun");
        assert_eq!(base_85(b"z!!~>"), [0; 5]);
    }
}
