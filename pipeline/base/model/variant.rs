//! Variants: one product in several sizes, hands, languages or colourways.
//!
//! What is the same in every variant lies once in the bundle; what differs lies in a folder named after its variant, and
//! a file at the top of that folder carries the name too, so that two of them can lie beside each other on a tablet.

use serde::{Deserialize, Serialize};

/// Folder of the loose files of a bundle.
const CONTENTS: &str = "contents/";

/// One cell of a product's matrix.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, borsh::BorshSerialize)]
pub struct Variant {
    /// Its name in folders and files: `moss-left`.
    pub name: String,
    /// Its name for people: `Moss, left hand`.
    pub title: String,
    /// What it takes of each row of choices, in the order of the rows.
    #[serde(default)]
    pub choices: Vec<Choice>,
}

/// What a variant takes of a row of choices.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, borsh::BorshSerialize)]
pub struct Choice {
    /// The row: `hand`.
    pub row: String,
    /// The choice: `left`.
    pub name: String,
    /// The choice for people: `Left hand`.
    pub title: String,
}

/// All variants of a product, and the one that is meant.
#[derive(Clone, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub struct Variants {
    /// All of them; the first is the one that listing, pictures and proof begin with. Empty for a product without.
    pub all: Vec<Variant>,
    /// Which of them is meant.
    pub mine: usize,
}

impl Variants {
    /// The one that is meant; `None` for a product without variants.
    pub fn mine(&self) -> Option<&Variant> {
        self.all.get(self.mine)
    }

    /// Whether a file of the bundle is part of what is meant: it belongs to no other variant.
    pub fn has(&self, path: &str) -> bool {
        of(&self.all, path).is_none_or(|v| v == self.mine)
    }

    /// Where a loose file lies that is not the same in all variants: `contents/a.pdf` becomes `contents/moss/a-moss.pdf`.
    pub fn place(&self, path: &str) -> String {
        let (Some(mine), Some(inner)) = (self.mine(), path.strip_prefix(CONTENTS)) else { return path.to_owned() };
        let name = &mine.name;
        match inner.rsplit_once('.').filter(|_| !inner.contains('/')) {
            Some((stem, ending)) => format!("{CONTENTS}{name}/{stem}-{name}.{ending}"),
            None => format!("{CONTENTS}{name}/{inner}"),
        }
    }
}

/// The variant that a loose file of a bundle belongs to; `None` for what all share.
pub fn of(all: &[Variant], path: &str) -> Option<usize> {
    let (folder, _) = path.strip_prefix(CONTENTS)?.split_once('/')?;
    all.iter().position(|v| v.name == folder)
}

/// What a loose file is called in all variants: its place without the name of its own. Undoes `Variants::place`.
pub fn common(all: &[Variant], path: &str) -> String {
    let Some(mine) = of(all, path).map(|v| all[v].name.as_str()) else { return path.to_owned() };
    let inner = path.strip_prefix(CONTENTS).and_then(|p| p.strip_prefix(mine)?.strip_prefix('/')).unwrap_or(path);
    match inner.rsplit_once('.').filter(|_| !inner.contains('/')) {
        Some((stem, ending)) => {
            let stem = stem.strip_suffix(mine).and_then(|s| s.strip_suffix('-')).unwrap_or(stem);
            format!("{CONTENTS}{stem}.{ending}")
        }
        None => format!("{CONTENTS}{inner}"),
    }
}

/// A file by its place in its bundle, wherever that lies.
pub fn inside(path: &str) -> &str {
    path.find(CONTENTS).map_or(path, |at| &path[at..])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn two(mine: usize) -> Variants {
        let named = |name: &str| Variant { name: name.to_owned(), ..Variant::default() };
        Variants { all: vec![named("moss"), named("clay-left")], mine }
    }

    #[test]
    fn files_lie_in_the_folder_of_their_variant() {
        let clay = two(1);
        assert_eq!(clay.place("contents/plot.pdf"), "contents/clay-left/plot-clay-left.pdf");
        assert_eq!(clay.place("contents/stickers/01-can.png"), "contents/clay-left/stickers/01-can.png");
        assert_eq!(Variants::default().place("contents/plot.pdf"), "contents/plot.pdf");
        for path in ["contents/plot.pdf", "contents/stickers/01-can.png"] {
            assert_eq!(of(&clay.all, &clay.place(path)), Some(1));
            assert_eq!(common(&clay.all, &clay.place(path)), path);
            assert_eq!(inside(&format!("dist/a/1.0.0/{path}")), path);
            assert!(clay.has(&clay.place(path)) && !two(0).has(&clay.place(path)) && two(0).has(path));
        }
        assert_eq!(of(&clay.all, "upload/moss/plot.pdf"), None);
    }
}
