//! Plain texts.

use base::model::facts::{Facts, TextFacts};

/// How much of a text is kept for the checks that read it.
const KEEP: usize = 1 << 20;

/// Reads a text; anything that is neither UTF-8 nor UTF-16 is no text.
pub fn read(bytes: &[u8]) -> Facts {
    match std::str::from_utf8(bytes) {
        Ok(text) if !text.contains('\0') => of(text, None),
        _ => match utf_16(bytes) {
            Some(text) => of(&text, Some("UTF-16")),
            None => Facts::Unreadable("it is neither a PDF, a PNG, a ZIP archive nor UTF-8 text".to_owned()),
        },
    }
}

/// Reads a file that its name calls a text: there an old code page is a text as well.
pub fn read_named(bytes: &[u8]) -> Facts {
    let control = |b: &u8| matches!(b, 0..=8 | 14..=31 | 127);
    let marked = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
    match read(bytes) {
        Facts::Unreadable(_) if !marked && !bytes.iter().any(control) => {
            // Which one it is cannot be told; ISO 8859-1 has a character for every byte.
            let text: String = bytes.iter().map(|b| char::from(*b)).collect();
            of(&text, Some("an old code page"))
        }
        facts => facts,
    }
}

/// UTF-16 with its mark, or without one where every second byte is nought, as in Latin letters (Unicode 16, 3.10).
fn utf_16(bytes: &[u8]) -> Option<String> {
    let (pairs, []) = bytes.as_chunks::<2>() else { return None };
    let noughts = |at: usize| pairs.iter().filter(|pair| pair[at] == 0).count() * 2 > pairs.len();
    let (big, pairs) = match pairs.split_first()? {
        ([0xfe, 0xff], rest) => (true, rest),
        ([0xff, 0xfe], rest) => (false, rest),
        _ if noughts(0) => (true, pairs),
        _ if noughts(1) => (false, pairs),
        _ => return None,
    };
    let unit = |pair: &[u8; 2]| if big { u16::from_be_bytes(*pair) } else { u16::from_le_bytes(*pair) };
    let text: String = char::decode_utf16(pairs.iter().map(unit)).collect::<Result<_, _>>().ok()?;
    let control = |c: char| c.is_control() && !matches!(c, '\t' | '\n' | '\r' | '\u{c}');
    (!text.contains(control)).then_some(text)
}

fn of(text: &str, code: Option<&'static str>) -> Facts {
    let bom = text.starts_with('\u{feff}');
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let keep = (0..=KEEP.min(text.len())).rev().find(|n| text.is_char_boundary(*n)).unwrap_or(0);
    Facts::Text(TextFacts {
        lines: text.lines().count(),
        characters: text.chars().count(),
        longest: text.lines().map(|l| l.chars().count()).max().unwrap_or(0),
        code: code.map(Into::into),
        bom,
        carriage_returns: text.contains('\r'),
        text: text[..keep].to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn code(facts: &Facts) -> Option<&str> {
        let Facts::Text(text) = facts else { panic!("no text: {facts:?}") };
        assert_eq!(text.text, "Gr\u{fc}n \u{201c}a\u{201d}\r\n".replace(['\u{201c}', '\u{201d}'], "\""));
        text.code.as_deref()
    }

    #[test]
    fn texts_in_other_codes_are_texts() {
        let text = "Gr\u{fc}n \"a\"\r\n";
        let units: Vec<u16> = text.encode_utf16().collect();
        let big: Vec<u8> = units.iter().flat_map(|u| u.to_be_bytes()).collect();
        let little: Vec<u8> = units.iter().flat_map(|u| u.to_le_bytes()).collect();
        assert_eq!(code(&read(text.as_bytes())), None);
        for bytes in [&big, &little, &[&[0xfe, 0xff], &big[..]].concat(), &[&[0xff, 0xfe], &little[..]].concat()] {
            assert_eq!(code(&read(bytes)), Some("UTF-16"));
        }
        assert_eq!(code(&read_named(b"Gr\xfcn \"a\"\r\n")), Some("an old code page"));
    }

    #[test]
    fn bytes_that_are_no_characters_are_no_text() {
        for bytes in [&b"\xff\xfe\x00\xd8"[..], b"a\0b", b"\0\0\0\0", b"\xff\xfea", b"\x00\x9f\x92\x96"] {
            assert!(matches!(read_named(bytes), Facts::Unreadable(_)), "{bytes:?}");
        }
        assert!(matches!(read(b"Gr\xfcn"), Facts::Unreadable(_)));
    }
}
