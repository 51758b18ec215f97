//! The words in which descriptions count, measure and name, a table a language. All of them are from memory, but for the words
//! of numbers, which are held against a library.

mod arabic;
mod dutch;
mod english;
mod french;
mod german;
mod hebrew;
mod italian;
mod japanese;
mod polish;
mod portuguese;
mod spanish;
mod swedish;

use super::words::{Bound, Compound, Noun, Role};
use crate::validate::tongues::Evidence;

/// The words of a language, in small letters and without marks of vowels (Arabic, Hebrew).
#[derive(Debug)]
pub struct Vocabulary {
    /// The first part of its tag (BCP 47).
    pub code: &'static str,
    /// Nouns that are counted, of one or more words.
    pub nouns: &'static [(Noun, &'static [&'static str])],
    /// Nouns behind the hyphen of a number: `50-page`.
    pub hyphened: &'static [(Noun, &'static [&'static str])],
    /// Nouns that say two by their form.
    pub pairs: &'static [(Noun, &'static [&'static str])],
    /// Words that bound the number behind them.
    pub bounds: &'static [(Bound, &'static [&'static str])],
    /// Words beside a noun that tell nothing apart.
    pub generic: &'static [&'static str],
    /// Words that end the way from a number to its noun.
    pub other: &'static [&'static str],
    /// Words that say that a number is meant of each thing.
    pub each: &'static [&'static str],
    /// Words between the ends of a range.
    pub range: &'static [&'static str],
    /// Words that say that all variants are counted together.
    pub together: &'static [&'static str],
    /// Words for documents.
    pub documents: &'static [(Role, &'static [&'static str])],
    /// Words that stand before a document: `in the`.
    pub within: &'static [&'static str],
    /// Nought to nineteen; what is an article as well is left out.
    pub small: [&'static str; 20],
    /// Twenty to ninety.
    pub tens: [&'static str; 8],
    /// How tens and ones are put together.
    pub compound: Compound,
    /// Words for a dozen, and for a hundred.
    pub round: &'static [(&'static str, u64)],
    /// Whether a comma stands before decimals.
    pub comma: bool,
    /// Whether a space stands between thousands.
    pub spaced: bool,
    /// Whether what tells things apart stands behind their noun.
    pub behind: bool,
    /// A letter that is written together with the next word and means and.
    pub joined: Option<char>,
    /// Words between the sides of a size.
    pub by: &'static [&'static str],
    /// Inches, millimetres, centimetres, points and pixels, in this order.
    pub units: [&'static [&'static str]; 5],
    /// Kilobytes, megabytes and gigabytes.
    pub bytes: [&'static [&'static str]; 3],
    /// Words that speak of the longest side of a sticker.
    pub longest: &'static [&'static str],
    /// Words that speak of proportions.
    pub proportions: &'static [&'static str],
    /// What a named size of sheet is said of when it is said of the pages.
    pub of_pages: &'static [&'static str],
    /// Words that show that a size of a file is a limit or room on the tablet.
    pub limits: &'static [&'static str],
    /// Words right before a figure of what the reader of a guide has.
    pub has: &'static [&'static str],
    /// What stands between the last two names of a list, with its spaces.
    pub joints: &'static [&'static str],
    /// Words that say that a list is not the whole.
    pub not_all: &'static [&'static str],
    /// Words that say: that it is a download; which size pages have; what the licence allows.
    pub told: [&'static [&'static str]; 3],
}

static ALL: [&Vocabulary; 12] = [
    &english::WORDS,
    &german::WORDS,
    &french::WORDS,
    &spanish::WORDS,
    &italian::WORDS,
    &dutch::WORDS,
    &swedish::WORDS,
    &portuguese::WORDS,
    &polish::WORDS,
    &japanese::WORDS,
    &arabic::WORDS,
    &hebrew::WORDS,
];

impl Vocabulary {
    /// Whether words stand without spaces between them.
    pub fn is_unspaced(&self) -> bool {
        self.code == "ja"
    }
}

/// What a text is read with: the words of its language, and those of English, which listings everywhere use beside their own.
#[derive(Clone, Copy, Debug)]
pub struct Lexicon {
    /// The text's own.
    pub own: &'static Vocabulary,
}

impl PartialEq for Lexicon {
    fn eq(&self, other: &Lexicon) -> bool {
        self.own.code == other.own.code
    }
}

impl Lexicon {
    /// English alone.
    pub const ENGLISH: Lexicon = Lexicon { own: &english::WORDS };

    /// That of a text, by its small words or its script.
    pub fn of(text: &str) -> Lexicon {
        Evidence::of(text).language().map_or(Lexicon::ENGLISH, |tongue| Lexicon::named(tongue.code))
    }

    /// That of a language; English where there is none.
    pub fn named(code: &str) -> Lexicon {
        ALL.iter().find(|words| words.code == code).map_or(Lexicon::ENGLISH, |own| Lexicon { own })
    }

    /// Its tables, each once.
    pub fn tables(self) -> impl Iterator<Item = &'static Vocabulary> {
        let english = Lexicon::ENGLISH.own;
        std::iter::once(self.own).chain((self.own.code != english.code).then_some(english))
    }

    /// Whether any of these lists has a word.
    pub fn any(self, list: impl Fn(&'static Vocabulary) -> &'static [&'static str], word: &str) -> bool {
        self.tables().any(|words| list(words).contains(&word))
    }

    /// Whether numbers have a comma before their decimals.
    pub fn comma(self) -> bool {
        self.own.comma
    }

    /// Whether a text holds any word of these lists.
    pub fn speaks(self, list: impl Fn(&'static Vocabulary) -> &'static [&'static str], text: &str) -> bool {
        self.tables().flat_map(list).any(|word| text.contains(word))
    }
}

/// A word in small letters, without the marks of vowels that Arabic and Hebrew may have (Unicode 16, from memory).
pub fn bare(word: &str) -> String {
    let marks =
        |c: &char| matches!(c, '\u{64b}'..='\u{652}' | '\u{670}' | '\u{591}'..='\u{5bd}' | '\u{5bf}'..='\u{5c7}');
    word.to_lowercase().chars().filter(|c| !marks(c)).collect()
}

/// A text with the digits and the marks of numbers of other scripts in the place of its own, each a character for a character:
/// those of Arabic and Persian, and the wide ones of Japanese.
pub fn plain_digits(text: &str) -> String {
    let digit = |c: char, zero: char| char::from_digit(u32::from(c) - u32::from(zero), 10).unwrap_or(c);
    let plain = |c: char| match c {
        '\u{660}'..='\u{669}' => digit(c, '\u{660}'),
        '\u{6f0}'..='\u{6f9}' => digit(c, '\u{6f0}'),
        '\u{ff10}'..='\u{ff19}' => digit(c, '\u{ff10}'),
        '\u{66b}' => '.',
        '\u{66c}' | '\u{ff0c}' => ',',
        c => c,
    };
    text.chars().map(plain).collect()
}
