//! Which of its words a text means: what is counted, and what bounds a number.

use super::vocabulary::{Lexicon, Vocabulary, bare};
use super::words::{Bound, Noun};

impl Noun {
    /// The noun that this is, of one or more words.
    pub fn of(text: &str, lexicon: Lexicon) -> Option<Noun> {
        let text = bare(text);
        let named = |words: &Vocabulary| {
            words.nouns.iter().find(|(_, all)| all.contains(&text.as_str())).map(|(noun, _)| *noun)
        };
        lexicon.tables().find_map(named)
    }

    /// The noun of `50-page`, `27-sticker`, `50-seitig`.
    pub fn hyphenated(word: &str, lexicon: Lexicon) -> Option<Noun> {
        let lower = bare(word);
        let named = |words: &Vocabulary| {
            words.hyphened.iter().find(|(_, all)| all.contains(&lower.as_str())).map(|(noun, _)| *noun)
        };
        lexicon.tables().find_map(named).or_else(|| Noun::of(word, lexicon))
    }

    /// The noun of which a word says two by its form.
    pub fn pair(word: &str, lexicon: Lexicon) -> Option<Noun> {
        let word = bare(word);
        lexicon.own.pairs.iter().find(|(_, all)| all.contains(&word.as_str())).map(|(noun, _)| *noun)
    }
}

impl Bound {
    /// The bound that the words before a number give.
    pub fn before(text: &str, lexicon: Lexicon) -> Bound {
        let text = bare(text);
        let text = text.trim_end_matches(|c: char| !c.is_alphanumeric() && c != '~');
        // Without spaces between words, a word may stand behind any other.
        let apart = !lexicon.own.is_unspaced();
        let ends = |words: &&str| {
            let before = text.strip_suffix(*words);
            before.is_some_and(|rest| !apart || !rest.ends_with(|c: char| c.is_alphanumeric()))
        };
        // The longest words decide: “no more than” ends like “more than”.
        let found = lexicon
            .tables()
            .flat_map(|words| words.bounds)
            .flat_map(|(bound, all)| all.iter().map(move |w| (*bound, w)));
        found.filter(|(_, w)| ends(w)).max_by_key(|(_, w)| w.len()).map_or(Bound::Exactly, |(bound, _)| bound)
    }
}
