//! The ledger of assets: whose every file is that went into a product, and what its licence allows.
//!
//! Which terms a licence has is told from its SPDX id. That is a reading of a name, not of the licence: the licence
//! text governs, and local law above it.

use super::fault::SourceSpan;

/// Whose the files of a product are.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize)]
pub struct Assets {
    /// Whether the manifest says anything of it.
    pub declared: bool,
    /// The designer's own files, as patterns of paths.
    pub own: Vec<String>,
    /// Files of other people.
    pub entries: Vec<Asset>,
    /// Every file of the product's folder that was read, the manifest itself not among them.
    pub read: Vec<String>,
}

/// Files of somebody else, under one licence.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Asset {
    /// The file, or a pattern of paths.
    pub file: String,
    /// What it is called; empty for its file name.
    pub title: String,
    /// Who made it.
    pub by: String,
    /// Where it comes from.
    pub source: String,
    /// By what right it is used.
    pub right: Right,
    /// The line for the credits, where the designer wrote one.
    pub credit: Option<String>,
    /// Where the manifest names it.
    pub span: Option<SourceSpan>,
}

/// By what right a file is used.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub enum Right {
    /// A licence, by its SPDX id.
    Licence(String),
    /// A licence that was bought or given: its receipt, and what it allows.
    Receipt {
        /// Number, date or file of the receipt.
        receipt: String,
        /// What was allowed.
        allows: Vec<Use>,
        /// Id of the licence that the file is under for everybody else, if any.
        beside: Option<String>,
    },
}

/// What a licence can allow.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, borsh::BorshSerialize)]
pub enum Use {
    /// To be part of a product that is sold.
    Sell,
    /// To be cut, recoloured, resized or put into other art.
    Change,
    /// To be handed to buyers as a file of its own.
    Extract,
    /// To be embedded, for a font whose own flags forbid it.
    Embed,
}

impl Use {
    /// Every use.
    pub const ALL: [Use; 4] = [Use::Sell, Use::Change, Use::Extract, Use::Embed];

    /// Its name in the manifest.
    pub fn name(self) -> &'static str {
        match self {
            Use::Sell => "sell",
            Use::Change => "change",
            Use::Extract => "extract",
            Use::Embed => "embed",
        }
    }
}

impl Assets {
    /// Whether a file is the designer's own by a pattern.
    pub fn is_own(&self, path: &str) -> bool {
        self.own.iter().any(|glob| matches(glob, path))
    }

    /// The entry that a file stands under.
    pub fn entry_of(&self, path: &str) -> Option<&Asset> {
        self.entries.iter().find(|e| matches(&e.file, path))
    }
}

impl Asset {
    /// Whether its licence says that it may be used so. Licences are told by their ids.
    pub fn allows(&self, wanted: Use) -> bool {
        match &self.right {
            Right::Receipt { allows, .. } => allows.contains(&wanted),
            Right::Licence(id) => {
                let terms = Terms::of(id);
                match wanted {
                    Use::Sell => !terms.non_commercial,
                    Use::Change => !terms.no_derivatives,
                    Use::Extract => true,
                    // A licence for everybody does not lift what the font says of itself.
                    Use::Embed => false,
                }
            }
        }
    }

    /// Whether works made of it must go under the same licence.
    pub fn shares_alike(&self) -> bool {
        match &self.right {
            Right::Receipt { .. } => false,
            Right::Licence(id) => Terms::of(id).share_alike,
        }
    }

    /// The licence in a word.
    pub fn right_in_words(&self) -> String {
        match &self.right {
            Right::Licence(id) => id.clone(),
            Right::Receipt { receipt, .. } => format!("the receipt “{receipt}”"),
        }
    }

    /// What it is called.
    pub fn name(&self) -> &str {
        if self.title.is_empty() { self.file.rsplit('/').next().unwrap_or(&self.file) } else { &self.title }
    }
}

/// What a licence's id says of its terms.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Terms {
    /// Not for commercial use.
    pub non_commercial: bool,
    /// Only unchanged.
    pub no_derivatives: bool,
    /// What is made of it goes under the same licence.
    pub share_alike: bool,
    /// The maker must be named.
    pub attribution: bool,
}

impl Terms {
    /// Terms by id. The letters NC, ND and SA are those of the Creative Commons licences; the other ids with a
    /// reciprocal condition are listed from memory of what these licences say.
    pub fn of(id: &str) -> Terms {
        const RECIPROCAL: [&str; 8] = ["AGPL", "CERN-OHL-S", "CERN-OHL-W", "GFDL", "GPL", "LAL-1", "LGPL", "ODbL"];
        const NON_COMMERCIAL: [&str; 2] = ["Aladdin", "PolyForm-Noncommercial"];
        let words = || id.split('-');
        let has = |w: &str| words().any(|part| part == w);
        let begins = |list: &[&str]| list.iter().any(|l| id.starts_with(l));
        // A font under the GPL with the font exception does not reach the documents that it is embedded in.
        let excepted = id.to_ascii_lowercase().contains("font-exception");
        Terms {
            non_commercial: has("NC") || begins(&NON_COMMERCIAL),
            no_derivatives: has("ND"),
            share_alike: has("SA") || begins(&RECIPROCAL) && !excepted,
            attribution: !(id.starts_with("CC0") || id == "Unlicense" || id == "0BSD" || id.starts_with("CC-PDDC")),
        }
    }
}

/// Whether a path fits a pattern: `*` stands for anything in a name, `?` for one character of it, `**` for folders too.
pub fn matches(glob: &str, path: &str) -> bool {
    let (glob, path): (Vec<char>, Vec<char>) = (glob.chars().collect(), path.chars().collect());
    fits(&glob, &path)
}

fn fits(glob: &[char], path: &[char]) -> bool {
    match glob {
        [] => path.is_empty(),
        ['*', '*', '/', rest @ ..] => {
            let starts =
                std::iter::once(0).chain(path.iter().enumerate().filter(|(_, c)| **c == '/').map(|(i, _)| i + 1));
            starts.into_iter().any(|i| fits(rest, &path[i..]))
        }
        ['*', '*', rest @ ..] => (0..=path.len()).any(|i| fits(rest, &path[i..])),
        ['*', rest @ ..] => {
            let name = path.iter().position(|c| *c == '/').unwrap_or(path.len());
            (0..=name).any(|i| fits(rest, &path[i..]))
        }
        ['?', rest @ ..] => path.first().is_some_and(|c| *c != '/') && fits(rest, &path[1..]),
        [c, rest @ ..] => path.first() == Some(c) && fits(rest, &path[1..]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn patterns_of_paths() {
        for (glob, path) in [
            ("art/*", "art/kettle.svg"),
            ("art/**", "art/tins/tea.svg"),
            ("**/*.svg", "kettle.svg"),
            ("**/*.svg", "art/tins/tea.svg"),
            ("art/cup-?.png", "art/cup-1.png"),
            ("fonts/Hedge.ttf", "fonts/Hedge.ttf"),
            ("**", "a/b/c"),
        ] {
            assert!(matches(glob, path), "{glob} {path}");
        }
        for (glob, path) in [
            ("art/*", "art/tins/tea.svg"),
            ("art/*.svg", "art/kettle.png"),
            ("art", "art/kettle.svg"),
            ("cup-?.png", "cup-12.png"),
            ("*.svg", "art/kettle.svg"),
            ("**/*.svg", "artkettle.sv"),
        ] {
            assert!(!matches(glob, path), "{glob} {path}");
        }
    }

    #[test]
    fn terms_are_read_off_ids() {
        let of = |id: &str| {
            let t = Terms::of(id);
            (t.non_commercial, t.no_derivatives, t.share_alike)
        };
        assert_eq!(of("CC-BY-4.0"), (false, false, false));
        assert_eq!(of("CC-BY-NC-ND-3.0-DE"), (true, true, false));
        assert_eq!(of("CC-BY-NC-SA-4.0"), (true, false, true));
        assert_eq!(of("OFL-1.1"), (false, false, false));
        assert_eq!(of("GPL-3.0-or-later"), (false, false, true));
        assert_eq!(of("GPL-2.0-with-font-exception"), (false, false, false));
        assert_eq!(of("GPL-3.0-only WITH Font-exception-2.0"), (false, false, false));
        assert!(!Terms::of("CC0-1.0").attribution && Terms::of("CC-BY-4.0").attribution);
    }
}
