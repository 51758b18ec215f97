//! The words in which dates are written: a table a language. Others come in as further tables.

/// Names and words of a language, in lower case but for those that reports use.
pub struct Words {
    /// The subtag of the language, as in `en-GB`.
    pub tag: &'static str,
    /// Months, January first: the full name as it is written, then other forms in lower case.
    pub months: [(&'static str, &'static [&'static str]); 12],
    /// Weekdays, Monday first, likewise.
    pub weekdays: [(&'static str, &'static [&'static str]); 7],
    /// Forms of weekdays that stand only over columns, likewise.
    pub heads: [&'static [&'static str]; 7],
    /// Words before the number of a week.
    pub week: &'static [&'static str],
    /// Letters that mean a week where its number follows at once.
    pub week_letter: &'static [&'static str],
    /// Words before the number of a quarter.
    pub quarter: &'static [&'static str],
    /// Words between the ends of a range.
    pub to: &'static [&'static str],
    /// Words that stand in dates and say nothing of their own.
    pub fillers: &'static [&'static str],
    /// What may follow a number at once without changing it.
    pub ordinals: &'static [&'static str],
}

/// English. Names and short forms as in CLDR 49 (`en`, `en-GB`, `en-AU`); the further short forms are common practice, no
/// source.
pub static ENGLISH: Words = Words {
    tag: "en",
    months: [
        ("January", &["jan"]),
        ("February", &["feb"]),
        ("March", &["mar"]),
        ("April", &["apr"]),
        ("May", &[]),
        ("June", &["jun"]),
        ("July", &["jul"]),
        ("August", &["aug"]),
        ("September", &["sep", "sept"]),
        ("October", &["oct"]),
        ("November", &["nov"]),
        ("December", &["dec"]),
    ],
    weekdays: [
        ("Monday", &["mon"]),
        ("Tuesday", &["tue", "tues"]),
        ("Wednesday", &["wed"]),
        ("Thursday", &["thu", "thur", "thurs"]),
        ("Friday", &["fri"]),
        ("Saturday", &["sat"]),
        ("Sunday", &["sun"]),
    ],
    heads: [&["mo", "m"], &["tu", "t"], &["we", "w"], &["th", "t"], &["fr", "f"], &["sa", "s"], &["su", "s"]],
    week: &["week", "wk"],
    week_letter: &["w"],
    quarter: &["quarter", "q"],
    to: &["to", "and", "until"],
    fillers: &["of", "the"],
    ordinals: &["st", "nd", "rd", "th"],
};

/// All tables.
static LANGUAGES: [&Words; 1] = [&ENGLISH];

impl Words {
    /// The table for a document's language; English where it says none, nothing where there is no table.
    pub fn of(language: Option<&str>) -> Option<&'static Words> {
        let Some(language) = language.filter(|l| !l.trim().is_empty()) else { return Some(&ENGLISH) };
        let tag = language.trim().split(['-', '_']).next().unwrap_or_default();
        LANGUAGES.iter().find(|words| words.tag.eq_ignore_ascii_case(tag)).copied()
    }

    /// The name of a month, counted from 1.
    pub fn month(&self, number: u8) -> &'static str {
        self.months.get(usize::from(number).wrapping_sub(1)).map_or("", |(name, _)| name)
    }

    /// The name of a weekday; 0 is Monday.
    pub fn weekday(&self, index: u8) -> &'static str {
        self.weekdays.get(usize::from(index)).map_or("", |(name, _)| name)
    }

    /// The month, from 1, that a word in lower case names.
    pub fn month_of(&self, word: &str) -> Option<u8> {
        position(&self.months, word).map(|i| i + 1)
    }

    /// The weekday that a word in lower case names.
    pub fn weekday_of(&self, word: &str) -> Option<u8> {
        position(&self.weekdays, word)
    }

    /// The weekdays that a text may mean where it stands over a column.
    pub fn heads_of(&self, text: &str) -> Vec<u8> {
        let word = text.trim().trim_end_matches('.').to_lowercase();
        if word.is_empty() || word.len() > 12 {
            return Vec::new();
        }
        match self.weekday_of(&word) {
            Some(day) => vec![day],
            None => (0..7).filter(|i| self.heads[usize::from(*i)].contains(&word.as_str())).collect(),
        }
    }
}

fn position(names: &[(&str, &[&str])], word: &str) -> Option<u8> {
    let is = |(name, short): &(&str, &[&str])| name.eq_ignore_ascii_case(word) || short.contains(&word);
    names.iter().position(is).and_then(|i| u8::try_from(i).ok())
}
