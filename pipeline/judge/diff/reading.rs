//! What the files of both versions hold: each different file is read once, however often it lies there.

use super::tree::{Tree, TreeFile};
use base::model::facts::{Facts, Inspected, PngFacts, ZipFacts};
use inspect::Reader;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// Facts by digest.
pub struct Readings(BTreeMap<String, Facts>);

impl Readings {
    /// Reads these files.
    pub fn of<'a>(files: impl Iterator<Item = (&'a str, &'a TreeFile)>, reader: &dyn Reader) -> Readings {
        let once: BTreeMap<&str, (&str, &TreeFile)> =
            files.map(|(path, leaf)| (leaf.sha256.as_str(), (path, leaf))).collect();
        let read = once
            .into_par_iter()
            .filter_map(|(digest, (path, leaf))| Some((digest.to_owned(), reader.facts(path, leaf.bytes.as_ref()?))));
        Readings(read.collect())
    }

    /// What a file holds, if it was read.
    pub fn get(&self, leaf: &TreeFile) -> Option<&Facts> {
        self.0.get(&leaf.sha256)
    }

    /// The files of a tree with what they hold, for the checks.
    pub fn inspected(&self, tree: &Tree) -> Vec<Inspected> {
        let file = |(path, leaf): (&String, &TreeFile)| {
            let facts = self.get(leaf).cloned().unwrap_or_else(|| unread(path));
            Inspected { path: path.clone(), kind: None, size: leaf.size, sha256: leaf.sha256.clone(), facts }
        };
        tree.iter().map(file).collect()
    }
}

/// A picture or an archive that is the same in both versions says the same of itself twice, so that it need not be
/// read at all; only that it is one counts.
fn unread(path: &str) -> Facts {
    if path.to_ascii_lowercase().ends_with(".png") {
        Facts::Png(PngFacts::default())
    } else {
        Facts::Zip(ZipFacts::default())
    }
}

/// Files that must be read for the checks: all but pictures and archives that did not change.
pub fn for_checks<'a>(old: &'a Tree, new: &'a Tree) -> Vec<(&'a str, &'a TreeFile)> {
    let digests = |tree: &'a Tree| tree.values().map(|l| l.sha256.as_str()).collect::<BTreeSet<_>>();
    let (a, b) = (digests(old), digests(new));
    let heavy = |path: &str, leaf: &TreeFile| {
        let starts = |mark: &[u8]| leaf.bytes.as_ref().is_some_and(|bytes| bytes.starts_with(mark));
        let path = path.to_ascii_lowercase();
        (path.ends_with(".png") && starts(b"\x89PNG")) || (path.ends_with(".zip") && starts(b"PK"))
    };
    let both = |leaf: &TreeFile| a.contains(leaf.sha256.as_str()) && b.contains(leaf.sha256.as_str());
    old.iter()
        .chain(new)
        .filter(|(path, leaf)| !(both(leaf) && heavy(path, leaf)))
        .map(|(path, leaf)| (path.as_str(), leaf))
        .collect()
}
