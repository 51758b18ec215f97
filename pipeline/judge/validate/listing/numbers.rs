//! Numbers as people write them in a description: in figures, with marks between thousands, or as words, in English and
//! in German.

/// A whole number; `None` for what is none.
pub fn whole(word: &str) -> Option<u64> {
    if word.starts_with(|c: char| c.is_ascii_digit()) { figures(word) } else { words(&word.to_lowercase()) }
}

/// Figures, with commas, points or thin spaces between groups of three.
fn figures(word: &str) -> Option<u64> {
    let mut groups = word.split([',', '.', '\u{a0}', '\u{202f}', '\u{2009}', '\'', '\u{2019}']);
    let first = groups.next()?;
    let rest: Vec<&str> = groups.collect();
    let digits = |g: &str| !g.is_empty() && g.bytes().all(|b| b.is_ascii_digit());
    if !digits(first) || rest.iter().any(|g| !digits(g) || g.len() != 3) {
        return None;
    }
    format!("{first}{}", rest.concat()).parse().ok()
}

/// A number with decimals: its value, its decimal places and its length in bytes. A mark before exactly three digits
/// stands between thousands, unless it is a point and the numbers are written the English way.
pub fn decimal(text: &str, german: bool) -> Option<(f64, usize, usize)> {
    let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, ',' | '.'))).unwrap_or(text.len());
    let digits = text[..end].trim_end_matches([',', '.']);
    let mark = if german { ',' } else { '.' };
    // A comma that is not followed by three digits is a decimal one, in whatever language.
    let odd = digits.rsplit_once(',').is_some_and(|(_, places)| places.len() != 3) && !digits.contains('.');
    let mark = if odd { ',' } else { mark };
    let plain: String = digits.chars().filter(|c| c.is_ascii_digit() || *c == mark).collect();
    let places = plain.split_once(mark).map_or(0, |(_, places)| places.len());
    Some((plain.replace(mark, ".").parse().ok()?, places, digits.len()))
}

const SMALL: [[&str; 2]; 21] = [
    ["zero", "null"],
    ["one", "eins"],
    ["two", "zwei"],
    ["three", "drei"],
    ["four", "vier"],
    ["five", "f\u{fc}nf"],
    ["six", "sechs"],
    ["seven", "sieben"],
    ["eight", "acht"],
    ["nine", "neun"],
    ["ten", "zehn"],
    ["eleven", "elf"],
    ["twelve", "zw\u{f6}lf"],
    ["thirteen", "dreizehn"],
    ["fourteen", "vierzehn"],
    ["fifteen", "f\u{fc}nfzehn"],
    ["sixteen", "sechzehn"],
    ["seventeen", "siebzehn"],
    ["eighteen", "achtzehn"],
    ["nineteen", "neunzehn"],
    ["twenty", "zwanzig"],
];

const TENS: [[&str; 2]; 8] = [
    ["twenty", "zwanzig"],
    ["thirty", "drei\u{df}ig"],
    ["forty", "vierzig"],
    ["fifty", "f\u{fc}nfzig"],
    ["sixty", "sechzig"],
    ["seventy", "siebzig"],
    ["eighty", "achtzig"],
    ["ninety", "neunzig"],
];

/// Number words up to ninety-nine, and a dozen or a hundred.
fn words(word: &str) -> Option<u64> {
    let small = |word: &str| SMALL.iter().position(|names| names.contains(&word)).map(|n| n as u64);
    let tens = |word: &str| TENS.iter().position(|names| names.contains(&word)).map(|n| (n as u64 + 2) * 10);
    if let Some(n) = small(word).or_else(|| tens(word)) {
        return Some(n);
    }
    match word {
        "dozen" | "dutzend" => return Some(12),
        "hundred" | "hundert" => return Some(100),
        _ => {}
    }
    if let Some((ten, one)) = word.split_once('-') {
        return Some(tens(ten)? + small(one).filter(|n| (1..10).contains(n))?);
    }
    let (one, ten) = word.split_once("und")?;
    let one = if one == "ein" { 1 } else { small(one).filter(|n| (1..10).contains(n))? };
    Some(tens(ten)? + one)
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
            assert_eq!(whole(word), Some(number), "{word}");
        }
        for word in ["1.0.0", "9.45", "und", "hund", "300dpi", "twenty-beds", ""] {
            assert_eq!(whole(word), None, "{word}");
        }
    }

    #[test]
    fn decimals_in_two_languages() {
        assert_eq!(decimal("9.45 in", false), Some((9.45, 2, 4)));
        assert_eq!(decimal("9,45 Zoll", true), Some((9.45, 2, 4)));
        assert_eq!(decimal("9,45 in", false), Some((9.45, 2, 4)));
        assert_eq!(decimal("2,494 px", false), Some((2494.0, 0, 5)));
        assert_eq!(decimal("2.494 px", true), Some((2494.0, 0, 5)));
        assert_eq!(decimal("320.6 kB", false), Some((320.6, 1, 5)));
    }
}
