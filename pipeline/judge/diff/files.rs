//! Which file of the old version is which file of the new one.

use super::renamed;
use super::tree::{Tree, TreeFile};
use base::model::difference::FileChange;
use inspect::Reader;
use std::collections::{BTreeMap, BTreeSet};

/// Files of two versions, side by side.
#[derive(Debug, Default, PartialEq)]
pub struct Files {
    /// The same path, other bytes.
    pub changed: Vec<String>,
    /// The same bytes at another path: old, new.
    pub renamed: Vec<(String, String)>,
    /// Taken to be the same file, at another path and with other bytes: old, new.
    pub reworked: Vec<(String, String)>,
    /// Files that are gone.
    pub removed: Vec<String>,
    /// Files that are new.
    pub added: Vec<String>,
}

/// Pairs the files of two trees: by path, then by content, then by what their names and lines have in common; with a
/// `close` look also by the pages and the pictures that they show.
pub fn pair(old: &Tree, new: &Tree, close: bool, reader: &dyn Reader) -> Files {
    let mut files = Files {
        changed: old
            .iter()
            .filter(|(path, leaf)| new.get(*path).is_some_and(|other| other.sha256 != leaf.sha256))
            .map(|(path, _)| path.clone())
            .collect(),
        ..Files::default()
    };
    let mut gone: BTreeSet<String> = old.keys().filter(|p| !new.contains_key(*p)).cloned().collect();
    let mut come: BTreeSet<String> = new.keys().filter(|p| !old.contains_key(*p)).cloned().collect();
    let by_content = |tree: &Tree, path: &str| tree[path].sha256.clone();
    files.renamed = take_pairs(&mut gone, &mut come, |p| Some(by_content(old, p)), |p| Some(by_content(new, p)));
    // The version number in a name is what most often changes in it.
    let stem = |path: &str| {
        let name = path.rsplit('/').next().unwrap_or(path);
        let (stem, ending) = name.rsplit_once('.').unwrap_or((name, ""));
        let letters: String = stem.chars().filter(|c| c.is_alphabetic()).flat_map(char::to_lowercase).collect();
        (letters.chars().count() > 2).then(|| format!("{letters}.{}", ending.to_lowercase()))
    };
    files.reworked = take_pairs(&mut gone, &mut come, stem, stem);
    files.reworked.extend(alike(&mut gone, &mut come, old, new));
    if close {
        files.reworked.extend(renamed::pair(&mut gone, &mut come, (old, new), reader));
    }
    files.removed = gone.into_iter().collect();
    files.added = come.into_iter().collect();
    files
}

impl Files {
    /// Sizes and digests of the files that are not what they were, as they lie there: archives as one file each.
    pub fn sizes(&self, old: &Tree, new: &Tree) -> Vec<FileChange> {
        let pairs = self.renamed.iter().chain(&self.reworked);
        let was: BTreeMap<&String, &String> = pairs.map(|(from, to)| (to, from)).collect();
        let left: BTreeSet<&String> = was.values().copied().collect();
        let mut out = Vec::new();
        for (path, leaf) in new {
            let from = was.get(path).copied().filter(|from| old.contains_key(*from));
            let before = old.get(path).or_else(|| old.get(from?));
            if from.is_some() || before.is_none_or(|before| before.sha256 != leaf.sha256) {
                out.push(FileChange::of(path, from.map(String::as_str), before.map(TreeFile::mark), Some(leaf.mark())));
            }
        }
        for (path, leaf) in old.iter().filter(|(path, _)| !new.contains_key(*path) && !left.contains(path)) {
            out.push(FileChange::of(path, None, Some(leaf.mark()), None));
        }
        out.sort_by(|a, b| a.path.cmp(&b.path));
        out
    }
}

/// Takes those out of two sets that have the same key, first with first.
fn take_pairs(
    gone: &mut BTreeSet<String>,
    come: &mut BTreeSet<String>,
    old_key: impl Fn(&str) -> Option<String>,
    new_key: impl Fn(&str) -> Option<String>,
) -> Vec<(String, String)> {
    let mut waiting: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for path in gone.iter().rev() {
        if let Some(key) = old_key(path) {
            waiting.entry(key).or_default().push(path.clone());
        }
    }
    let mut pairs = Vec::new();
    for path in come.clone() {
        if let Some(old) = new_key(&path).and_then(|key| waiting.get_mut(&key)).and_then(Vec::pop) {
            gone.remove(&old);
            come.remove(&path);
            pairs.push((old, path));
        }
    }
    pairs
}

/// Texts that share at least half of their lines. A table of lines finds them without comparing all with all.
fn alike(gone: &mut BTreeSet<String>, come: &mut BTreeSet<String>, old: &Tree, new: &Tree) -> Vec<(String, String)> {
    let mut holders: BTreeMap<u64, Vec<String>> = BTreeMap::new();
    let mut counts = BTreeMap::new();
    for path in gone.iter() {
        let lines = lines(&old[path]);
        counts.insert(path.clone(), lines.len());
        for line in lines {
            holders.entry(line).or_default().push(path.clone());
        }
    }
    let mut pairs = Vec::new();
    for path in come.clone() {
        let lines = lines(&new[&path]);
        let mut shared: BTreeMap<&String, usize> = BTreeMap::new();
        // A line that many files have tells none of them from the others.
        for holder in lines.iter().filter_map(|l| holders.get(l)).filter(|h| h.len() <= 8).flatten() {
            *shared.entry(holder).or_default() += 1;
        }
        let best = shared.into_iter().filter(|(p, _)| gone.contains(*p)).max_by_key(|(_, n)| *n);
        if let Some((from, n)) = best
            && n * 2 >= lines.len().max(counts[from])
        {
            let from = from.clone();
            gone.remove(&from);
            come.remove(&path);
            pairs.push((from, path));
        }
    }
    pairs
}

fn lines(leaf: &TreeFile) -> BTreeSet<u64> {
    let text = leaf.bytes.as_ref().and_then(|b| std::str::from_utf8(b).ok()).filter(|t| !t.contains('\0'));
    text.map(|t| t.lines().filter(|l| !l.trim().is_empty()).map(super::hash).collect()).unwrap_or_default()
}
