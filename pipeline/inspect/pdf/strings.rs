//! Text strings (ISO 32000-1, 7.9.2.2): PDFDocEncoding, UTF-16 or UTF-8, told apart by their first bytes.

/// The text of a PDF text string.
pub fn decode(bytes: &[u8]) -> String {
    match bytes {
        [0xfe, 0xff, rest @ ..] => utf16(rest, u16::from_be_bytes),
        [0xff, 0xfe, rest @ ..] => utf16(rest, u16::from_le_bytes),
        [0xef, 0xbb, 0xbf, rest @ ..] => String::from_utf8_lossy(rest).into_owned(),
        _ => bytes.iter().map(|b| pdf_doc(*b)).collect(),
    }
}

fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> String {
    let units = bytes.chunks_exact(2).map(|c| unit([c[0], c[1]]));
    char::decode_utf16(units).map(|c| c.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
}

/// One byte of PDFDocEncoding (ISO 32000-1, table D.2).
fn pdf_doc(byte: u8) -> char {
    const LOW: [char; 8] = ['\u{2d8}', '\u{2c7}', '\u{2c6}', '\u{2d9}', '\u{2dd}', '\u{2db}', '\u{2da}', '\u{2dc}'];
    const HIGH: [char; 33] = [
        '\u{2022}', '\u{2020}', '\u{2021}', '\u{2026}', '\u{2014}', '\u{2013}', '\u{192}', '\u{2044}', '\u{2039}',
        '\u{203a}', '\u{2212}', '\u{2030}', '\u{201e}', '\u{201c}', '\u{201d}', '\u{2018}', '\u{2019}', '\u{201a}',
        '\u{2122}', '\u{fb01}', '\u{fb02}', '\u{141}', '\u{152}', '\u{160}', '\u{178}', '\u{17d}', '\u{131}',
        '\u{142}', '\u{153}', '\u{161}', '\u{17e}', '\u{fffd}', '\u{20ac}',
    ];
    match byte {
        0x18..=0x1f => LOW[usize::from(byte - 0x18)],
        0x80..=0xa0 => HIGH[usize::from(byte - 0x80)],
        _ => char::from(byte),
    }
}

#[cfg(test)]
mod tests {
    use super::decode;

    #[test]
    fn the_three_encodings() {
        assert_eq!(decode(b"plain"), "plain");
        assert_eq!(decode(b"\xfe\xff\x00G\x00r\x00\xfc\x00n"), "Gr\u{fc}n");
        assert_eq!(decode(b"\xef\xbb\xbfGr\xc3\xbcn"), "Gr\u{fc}n");
        assert_eq!(decode(b"a \x84 b \xa0"), "a \u{2014} b \u{20ac}");
        assert_eq!(decode(b"\xfe\xff\xd8\x00"), "\u{fffd}");
    }
}
