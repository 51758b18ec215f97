//! Where a line of text may end: the Unicode Line Breaking Algorithm (UAX 14), of which layout takes what a reader of the
//! script expects.
//!
//! Lines end at spaces, but not at a no-break space or before a mark that belongs to what stands before it; between the
//! characters of scripts that are written without spaces; and at a soft hyphen. That UAX 14 also allows a break inside a
//! word, as after the hyphen of “to-do”, is used only where the word alone is wider than the line.

use icu_segmenter::LineSegmenter;
use icu_segmenter::options::LineBreakOptions;
use unicode_script::{Script, UnicodeScript};

/// The soft hyphen, seen only where a line ends at it.
pub const SOFT_HYPHEN: char = '\u{ad}';

/// What stands between two places where a line may end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece<'t> {
    /// Its text without the spaces after it.
    pub text: &'t str,
    /// Where it begins in the text, in bytes.
    pub from: usize,
    /// Whether spaces stand before it, which a line that ends there loses.
    pub spaced: bool,
    /// Whether it begins inside a word, so that a line ends before it only where that word is too wide.
    pub inside: bool,
}

/// Every place where a line may end by UAX 14, in bytes from the beginning, that at the end of the text included. Scripts
/// that need a dictionary (Thai, Lao, Khmer, Myanmar) break at spaces alone.
pub fn ends(text: &str) -> Vec<usize> {
    let segmenter = LineSegmenter::new_neo_for_non_complex_scripts(LineBreakOptions::default());
    segmenter.segment_str(text).filter(|at| *at > 0).collect()
}

/// The text in pieces. Spaces that no line may end at stay in their piece.
pub fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut out: Vec<Piece> = Vec::new();
    let (mut from, mut spaced) = (0, false);
    for end in ends(text) {
        let whole = &text[from..end];
        let trimmed = whole.trim_matches(is_space);
        let lead = whole.len() - whole.trim_start_matches(is_space).len();
        if !trimmed.is_empty() {
            let inside = !spaced && lead == 0 && from > 0 && !between(&text[..from], &text[from..]);
            out.push(Piece {
                text: trimmed,
                from: from + lead,
                spaced: (spaced || lead > 0) && !out.is_empty(),
                inside,
            });
            spaced = false;
        }
        spaced |= whole.ends_with(is_space);
        from = end;
    }
    out
}

/// Whether a character is a space that may be lost at the end of a line. An ideographic space is as wide as a character
/// and stays one.
pub fn is_space(c: char) -> bool {
    c.is_whitespace() && !matches!(c, '\u{a0}' | '\u{2007}' | '\u{202f}' | '\u{3000}')
}

/// Whether a line may end between these without anything having to force it, where UAX 14 allows a break.
fn between(before: &str, after: &str) -> bool {
    let (Some(last), Some(next)) = (before.chars().next_back(), after.chars().next()) else { return true };
    is_space(last) || matches!(last, SOFT_HYPHEN | '\u{200b}') || is_wide(last) || is_wide(next)
}

/// Whether a character belongs to the scripts of East Asia that are written without spaces; it is twice as wide as a Latin
/// one where all are set in columns.
pub fn is_wide(c: char) -> bool {
    use Script::{Bopomofo, Han, Hiragana, Katakana, Yi};
    matches!(c, '\u{3000}'..='\u{303f}' | '\u{30fb}'..='\u{30fc}' | '\u{ff01}'..='\u{ff60}')
        || [Bopomofo, Han, Hiragana, Katakana, Yi].contains(&c.script())
}

/// A line as it is seen: runs of spaces are one, and of its soft hyphens only one at its end shows.
pub fn shown(line: &str) -> String {
    let mut out = String::with_capacity(line.len());
    let line = line.trim_matches(is_space);
    let mut chars = line.chars().peekable();
    while let Some(c) = chars.next() {
        if c == SOFT_HYPHEN {
            if chars.peek().is_none() {
                out.push('-');
            }
        } else if is_space(c) {
            if !out.ends_with(' ') {
                out.push(' ');
            }
        } else {
            out.push(c);
        }
    }
    out
}

#[cfg(test)]
mod tests;
