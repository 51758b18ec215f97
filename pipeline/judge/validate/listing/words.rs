//! What is counted, and what bounds a number.

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
}

/// What a document is for those who write of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    Notebook,
    Covers,
    Guide,
    Sheet,
    Other,
}

/// How a language puts tens and ones together.
#[derive(Clone, Copy, Debug)]
pub enum Compound {
    /// `twenty-seven`.
    Hyphen,
    /// Ones, a word, tens, all in one; first how one is called in it: `siebenundzwanzig`, `zevenentwintig`.
    OnesFirst(&'static str, &'static str),
    /// Tens and ones in one; first how one is called in it: `tjugosju`.
    Joined(&'static str),
    /// Tens and ones with something between: `vinte e sete`.
    Spaced(&'static str),
    /// `vingt et un`, `soixante-dix-sept`, `quatre-vingt-un`.
    French,
    /// `veintisiete`, `treinta y siete`.
    Spanish,
    /// `ventisette`, `ventuno`, `ventotto`.
    Italian,
    /// Ones before tens, with the letter for and at the tens.
    Arabic,
}
