//! Plain texts.

use base::model::facts::{Facts, TextFacts};

/// How much of a text is kept for the checks that read it.
const KEEP: usize = 1 << 20;

/// Reads a text; anything that is not UTF-8 is no text.
pub fn read(bytes: &[u8]) -> Facts {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return Facts::Unreadable("it is neither a PDF, a PNG, a ZIP archive nor UTF-8 text".to_owned());
    };
    if text.contains('\0') {
        return Facts::Unreadable("it holds zero bytes, so it is no text".to_owned());
    }
    let bom = text.starts_with('\u{feff}');
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let keep = (0..=KEEP.min(text.len())).rev().find(|n| text.is_char_boundary(*n)).unwrap_or(0);
    Facts::Text(TextFacts {
        lines: text.lines().count(),
        characters: text.chars().count(),
        longest: text.lines().map(|l| l.chars().count()).max().unwrap_or(0),
        bom,
        carriage_returns: text.contains('\r'),
        text: text[..keep].to_owned(),
    })
}
