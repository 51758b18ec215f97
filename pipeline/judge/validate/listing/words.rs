//! The words of a claim: what is counted, and what bounds a number, in English and in German.

/// What can be counted in the files.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Noun {
    Pages,
    Links,
    Covers,
    Stickers,
    Sheets,
    Sections,
    Templates,
    Files,
    Dpi,
}

impl Noun {
    /// Its English plural.
    pub fn name(self) -> &'static str {
        match self {
            Noun::Pages => "pages",
            Noun::Links => "links",
            Noun::Covers => "covers",
            Noun::Stickers => "stickers",
            Noun::Sheets => "sticker sheets",
            Noun::Sections => "sections",
            Noun::Templates => "templates",
            Noun::Files => "files",
            Noun::Dpi => "dpi",
        }
    }

    /// The noun that this word is. In German, some plurals are like English singulars.
    pub fn of(word: &str, german: bool) -> Option<Noun> {
        let word = word.to_lowercase();
        let noun = match word.as_str() {
            "pages" | "seiten" => Noun::Pages,
            "links" | "hyperlinks" | "verkn\u{fc}pfungen" | "verlinkungen" => Noun::Links,
            "covers" | "deckbl\u{e4}tter" | "umschl\u{e4}ge" | "einb\u{e4}nde" => Noun::Covers,
            "stickers" | "aufkleber" => Noun::Stickers,
            "sheets" | "stickerb\u{f6}gen" | "stickerbl\u{e4}tter" | "b\u{f6}gen" => Noun::Sheets,
            "sections" | "abschnitte" | "abschnitten" => Noun::Sections,
            "templates" | "vorlagen" | "seitenvorlagen" => Noun::Templates,
            "files" | "dateien" => Noun::Files,
            "dpi" | "ppi" => Noun::Dpi,
            "cover" if german => Noun::Covers,
            "sticker" | "stickern" | "aufklebern" if german => Noun::Stickers,
            "deckbl\u{e4}ttern" | "umschl\u{e4}gen" | "einb\u{e4}nden" if german => Noun::Covers,
            _ => return None,
        };
        Some(noun)
    }

    /// The noun of `50-page`, `27-sticker`, `50-seitig`.
    pub fn hyphenated(word: &str, german: bool) -> Option<Noun> {
        match word.to_lowercase().as_str() {
            "page" => Some(Noun::Pages),
            "sticker" => Some(Noun::Stickers),
            "cover" => Some(Noun::Covers),
            "section" => Some(Noun::Sections),
            w if german && w.starts_with("seitig") => Some(Noun::Pages),
            _ => Noun::of(word, german),
        }
    }
}

/// How the words before a number bound it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    Exactly,
    MoreThan,
    AtLeast,
    LessThan,
    AtMost,
    About,
}

impl Bound {
    /// Whether a true number fits.
    pub fn holds(self, claimed: f64, is: f64, rounding: f64) -> bool {
        match self {
            Bound::Exactly => (claimed - is).abs() <= rounding,
            Bound::MoreThan => is > claimed,
            Bound::AtLeast => is >= claimed - rounding,
            Bound::LessThan => is < claimed,
            Bound::AtMost => is <= claimed + rounding,
            Bound::About => (claimed - is).abs() <= (0.1 * is).max(rounding),
        }
    }

    /// The bound that the words before a number give.
    pub fn before(text: &str) -> Bound {
        let text = text.to_lowercase();
        let text = text.trim_end_matches(|c: char| !c.is_alphanumeric() && c != '~');
        const WORDS: [(Bound, &[&str]); 5] = [
            (Bound::MoreThan, &["more than", "over", "mehr als", "\u{fc}ber"]),
            (Bound::AtLeast, &["at least", "mindestens"]),
            (Bound::LessThan, &["less than", "fewer than", "under", "below", "weniger als", "unter"]),
            (Bound::AtMost, &["up to", "at most", "no more than", "bis zu", "h\u{f6}chstens"]),
            (
                Bound::About,
                &["about", "around", "nearly", "almost", "roughly", "some", "ca", "etwa", "rund", "fast", "knapp", "~"],
            ),
        ];
        let ends =
            |words: &&str| text.strip_suffix(*words).is_some_and(|rest| !rest.ends_with(|c: char| c.is_alphanumeric()));
        // The longest words decide: “no more than” ends like “more than”.
        let found = WORDS.iter().flat_map(|(bound, all)| all.iter().map(move |w| (*bound, w)));
        found.filter(|(_, w)| ends(w)).max_by_key(|(_, w)| w.len()).map_or(Bound::Exactly, |(bound, _)| bound)
    }
}
