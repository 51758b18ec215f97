//! Numbers in words, up to ninety-nine, in each language: how tens and ones are put together.

use super::vocabulary::{Vocabulary, bare};
use super::words::Compound;
use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

/// The number that a word, or several words with a space between each, spell in a language.
pub fn number(words: &Vocabulary, text: &str) -> Option<u64> {
    static KNOWN: Mutex<BTreeMap<&'static str, BTreeMap<String, u64>>> = Mutex::new(BTreeMap::new());
    let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    let spelled = known.entry(words.code).or_insert_with(|| all(words));
    spelled.get(&key(text)).copied()
}

/// A number as it is looked up: hyphens and no-break spaces are as good as spaces.
fn key(text: &str) -> String {
    let text: String =
        bare(text).chars().map(|c| if matches!(c, '-' | '\u{2011}' | '\u{a0}') { ' ' } else { c }).collect();
    text.split(' ').filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
}

fn all(words: &Vocabulary) -> BTreeMap<String, u64> {
    let mut out: BTreeMap<String, u64> = BTreeMap::new();
    let mut add = |text: &str, n: u64| {
        if !text.is_empty() {
            out.entry(key(text)).or_insert(n);
        }
    };
    let forms = |text: &'static str| text.split('/').filter(|form| !form.is_empty());
    for (n, text) in words.small.iter().enumerate() {
        forms(text).for_each(|form| add(form, n as u64));
    }
    for (ten, text) in words.tens.iter().enumerate() {
        let n = (ten as u64 + 2) * 10;
        for tens in forms(text) {
            add(tens, n);
            for one in 1..10_u64 {
                for form in ones(words, one) {
                    for spelled in together(words.compound, tens, n, form, one) {
                        add(&spelled, n + one);
                    }
                }
            }
        }
    }
    for (text, n) in words.round {
        add(text, *n);
    }
    out
}

/// What a figure is called behind or before tens.
fn ones(words: &Vocabulary, one: u64) -> Vec<&'static str> {
    let own: Vec<&'static str> = words.small[one as usize].split('/').filter(|form| !form.is_empty()).collect();
    match (words.compound, one) {
        (Compound::OnesFirst(first, _) | Compound::Joined(first), 1) => vec![first],
        (Compound::French, 1) => vec!["un", "une"],
        (Compound::Spanish, 1) => vec!["uno", "un", "una"],
        (Compound::Italian, 1) => vec!["uno", "un"],
        (Compound::Arabic, 1) => vec!["واحد", "إحدى", "واحدة"],
        (Compound::Spaced(_), 1) if own.is_empty() => match words.code {
            "he" => vec!["אחד", "אחת"],
            _ => vec!["um", "uma"],
        },
        _ => own,
    }
}

fn together(compound: Compound, tens: &str, n: u64, one: &str, value: u64) -> Vec<String> {
    let spaced = |between: &str| vec![format!("{tens}{between}{one}")];
    match compound {
        Compound::Hyphen => spaced("-"),
        Compound::OnesFirst(_, and) => {
            // Dutch parts two vowels: tweeëntwintig.
            let and = if and == "en" && one.ends_with('e') { "\u{eb}n" } else { and };
            vec![format!("{one}{and}{tens}")]
        }
        Compound::Joined(_) => spaced(""),
        Compound::Spaced(between) => spaced(between),
        Compound::French => match (n, value) {
            // Seventy and ninety count on from sixty and eighty: what follows them is eleven to nineteen.
            (70 | 90, _) => {
                const TEENS: [&str; 9] =
                    ["onze", "douze", "treize", "quatorze", "quinze", "seize", "dix-sept", "dix-huit", "dix-neuf"];
                let teen = TEENS.get(value as usize - 1).copied().unwrap_or_default();
                let between = if n == 70 && value == 1 { " et " } else { "-" };
                vec![format!("{}{between}{teen}", if n == 70 { "soixante" } else { "quatre-vingt" })]
            }
            (80, _) => vec![format!("quatre-vingt-{one}")],
            (_, 1) => spaced(" et "),
            _ => spaced("-"),
        },
        Compound::Spanish if n == 20 => match value {
            1 => vec!["veintiuno".to_owned(), "veintiún".to_owned(), "veintiuna".to_owned()],
            2 => vec!["veintidós".to_owned()],
            3 => vec!["veintitrés".to_owned()],
            6 => vec!["veintiséis".to_owned()],
            _ => vec![format!("veinti{one}")],
        },
        Compound::Spanish => spaced(" y "),
        Compound::Italian => {
            let stem = if matches!(value, 1 | 8) { &tens[..tens.len() - 1] } else { tens };
            vec![format!("{stem}{}", if value == 3 { "tré" } else { one })]
        }
        Compound::Arabic => vec![format!("{one} و{tens}"), format!("{one} و {tens}")],
    }
}

#[cfg(test)]
mod tests {
    use super::number;
    use crate::validate::listing::vocabulary::Lexicon;

    #[test]
    fn numbers_in_words_in_every_language() {
        for (code, text, value) in [
            ("en", "Twenty-seven", 27),
            ("de", "siebenundzwanzig", 27),
            ("de", "einundzwanzig", 21),
            ("fr", "soixante et onze", 71),
            ("fr", "quatre-vingt-dix-sept", 97),
            ("fr", "vingt et un", 21),
            ("es", "veintidós", 22),
            ("es", "treinta y siete", 37),
            ("it", "ventotto", 28),
            ("it", "trentatré", 33),
            ("nl", "tweeëntwintig", 22),
            ("nl", "zevenentwintig", 27),
            ("sv", "tjugosju", 27),
            ("pt", "vinte e sete", 27),
            ("pt", "dezasseis", 16),
            ("pl", "dwadzieścia siedem", 27),
            ("ja", "二十七", 27),
            ("ar", "سبعة وعشرون", 27),
            ("he", "עשרים ושבע", 27),
        ] {
            assert_eq!(number(Lexicon::named(code).own, text), Some(value), "{code} {text}");
        }
        for (code, text) in
            [("fr", "un"), ("es", "una"), ("it", "un"), ("pt", "uma"), ("nl", "een"), ("de", "und"), ("en", "")]
        {
            assert_eq!(number(Lexicon::named(code).own, text), None, "{code} {text}");
        }
    }
}
