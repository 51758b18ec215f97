//! Numbers as people write them in a description: in figures, with marks between thousands, or as words.

use super::spelled;
use super::vocabulary::Lexicon;

/// A whole number; `None` for what is none.
pub fn whole(word: &str, lexicon: Lexicon) -> Option<u64> {
    if word.starts_with(|c: char| c.is_ascii_digit()) {
        return figures(word);
    }
    lexicon.tables().find_map(|words| spelled::number(words, word))
}

/// Figures, with commas, points or thin spaces between groups of three.
fn figures(word: &str) -> Option<u64> {
    let mut groups = word.split([',', '.', ' ', '\u{a0}', '\u{202f}', '\u{2009}', '\'', '\u{2019}']);
    let first = groups.next()?;
    let rest: Vec<&str> = groups.collect();
    let digits = |g: &str| !g.is_empty() && g.bytes().all(|b| b.is_ascii_digit());
    if !digits(first) || rest.iter().any(|g| !digits(g) || g.len() != 3) {
        return None;
    }
    format!("{first}{}", rest.concat()).parse().ok()
}

/// A number with decimals: its value, its decimal places and its length in bytes. A mark before exactly three digits
/// stands between thousands, unless it is the one that the language has before decimals.
pub fn decimal(text: &str, comma: bool) -> Option<(f64, usize, usize)> {
    let digits = &text[..reach(text)];
    let digits = digits.trim_end_matches([',', '.']);
    let mark = if comma { ',' } else { '.' };
    // A mark that is not followed by three digits is a decimal one, in whatever language.
    let odd = |mark: char, other: char| {
        digits.rsplit_once(mark).is_some_and(|(_, places)| places.len() != 3) && !digits.contains(other)
    };
    let mark = if odd(',', '.') {
        ','
    } else if odd('.', ',') {
        '.'
    } else {
        mark
    };
    let plain: String = digits.chars().filter(|c| c.is_ascii_digit() || *c == mark).collect();
    let places = plain.split_once(mark).map_or(0, |(_, places)| places.len());
    Some((plain.replace(mark, ".").parse().ok()?, places, digits.len()))
}

/// How far a number reaches: digits and marks, and no-break spaces before three digits.
fn reach(text: &str) -> usize {
    let mut end = 0;
    loop {
        let rest = &text[end..];
        end += rest.find(|c: char| !(c.is_ascii_digit() || matches!(c, ',' | '.'))).unwrap_or(rest.len());
        let behind = &text[end..];
        let Some(space) = behind.chars().next().filter(|c| matches!(c, '\u{a0}' | '\u{202f}' | '\u{2009}')) else {
            break;
        };
        let group = &behind[space.len_utf8()..];
        let three = group.bytes().take_while(u8::is_ascii_digit).count() == 3;
        if end == 0 || !three {
            break;
        }
        end += space.len_utf8();
    }
    end
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_numbers_in_two_languages() {
        for (word, number) in [
            ("1,304", 1304),
            ("1.304", 1304),
            ("1\u{202f}304", 1304),
            ("27", 27),
            ("Twelve", 12),
            ("twenty-seven", 27),
            ("siebenundzwanzig", 27),
            ("einundzwanzig", 21),
            ("zw\u{f6}lf", 12),
            ("ninety", 90),
            ("dozen", 12),
        ] {
            assert_eq!(whole(word, Lexicon::named("de")), Some(number), "{word}");
        }
        for word in ["1.0.0", "9.45", "und", "hund", "300dpi", "twenty-beds", ""] {
            assert_eq!(whole(word, Lexicon::named("de")), None, "{word}");
        }
    }

    #[test]
    fn decimals_in_two_languages() {
        assert_eq!(decimal("9.45 in", false), Some((9.45, 2, 4)));
        assert_eq!(decimal("9,45 Zoll", true), Some((9.45, 2, 4)));
        assert_eq!(decimal("9,45 in", false), Some((9.45, 2, 4)));
        assert_eq!(decimal("9.45 in", true), Some((9.45, 2, 4)));
        assert_eq!(decimal("2,494 px", false), Some((2494.0, 0, 5)));
        assert_eq!(decimal("2.494 px", true), Some((2494.0, 0, 5)));
        assert_eq!(decimal("2\u{a0}494 px", true), Some((2494.0, 0, 6)));
        assert_eq!(decimal("320.6 kB", false), Some((320.6, 1, 5)));
    }
}
