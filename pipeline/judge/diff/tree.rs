//! The files of a version as one tree: folders, and archives opened up as if they were folders.

use base::model::Blob;
use base::model::facts::Facts;
use inspect::zip;
use std::collections::{BTreeMap, BTreeSet};
use std::io::Cursor;

/// Archives within archives are opened so deep.
const MAX_DEPTH: usize = 3;

/// A file of a version.
#[derive(Clone)]
pub struct TreeFile {
    /// Size in bytes.
    pub size: u64,
    /// SHA-256 in hex.
    pub sha256: String,
    /// Its bytes; `None` for an entry of an archive that was not unpacked.
    pub bytes: Option<Blob>,
}

impl TreeFile {
    /// Its size and its digest.
    pub fn mark(&self) -> (u64, &str) {
        (self.size, &self.sha256)
    }
}

/// The files of a version by path, with `/` between folders.
pub type Tree = BTreeMap<String, TreeFile>;

/// A leaf of these bytes.
pub fn leaf(bytes: Blob) -> TreeFile {
    TreeFile { size: bytes.len() as u64, sha256: bytes.sha256().to_string(), bytes: Some(bytes) }
}

/// What an archive holds, by path inside; `None` if the leaf is no archive.
pub fn entries(leaf: &TreeFile) -> Option<Tree> {
    let bytes = leaf.bytes.as_ref()?;
    if !bytes.starts_with(b"PK\x03\x04") && !bytes.starts_with(b"PK\x05\x06") {
        return None;
    }
    // Not by looking for what it is: an archive whose first entry is stored begins much like that entry.
    let Facts::Zip(facts) = inspect::read_guarded(|| zip::read(Cursor::new(&**bytes))) else { return None };
    let mut tree = Tree::new();
    for entry in facts.entries.iter().filter(|e| !e.folder) {
        let digest = if entry.sha256.is_empty() { format!("unread {}", entry.name) } else { entry.sha256.clone() };
        tree.insert(entry.name.clone(), TreeFile { size: entry.size, sha256: digest, bytes: None });
    }
    for (name, inside) in zip::take(Cursor::new(&**bytes), &facts) {
        if let Some(leaf) = tree.get_mut(&name) {
            leaf.bytes = Some(inside.into());
        }
    }
    Some(tree)
}

/// Archives that were opened.
#[derive(Default)]
pub struct Opened {
    /// Those that hold the same files on both sides.
    pub repacked: Vec<String>,
    /// Those that are only in the old version.
    pub gone: Vec<String>,
    /// Those that are only in the new version.
    pub come: Vec<String>,
}

/// Opens the archives of two trees wherever the same path holds different archives; with archives on both sides, also
/// those that only one of them has, so that a file is found again that was packed into another archive. The archives
/// themselves go away and their files stand below their paths.
pub fn unfold(old: &mut Tree, new: &mut Tree) -> Opened {
    let mut found = Opened::default();
    for _ in 0..MAX_DEPTH {
        let changed: Vec<String> = old
            .iter()
            .filter(|(path, leaf)| new.get(*path).is_some_and(|other| other.sha256 != leaf.sha256))
            .map(|(path, _)| path.clone())
            .collect();
        let mut opened = false;
        for path in changed {
            let (Some(a), Some(b)) = (entries(&old[&path]), entries(&new[&path])) else { continue };
            opened = true;
            let digests = |t: &Tree| t.iter().map(|(p, l)| (p.clone(), l.sha256.clone())).collect::<Vec<_>>();
            if digests(&a) == digests(&b) {
                found.repacked.push(path.clone());
            }
            spread(old, &path, a);
            spread(new, &path, b);
        }
        if !opened {
            break;
        }
    }
    let archives = |tree: &Tree| tree.keys().any(|path| path.to_ascii_lowercase().contains(".zip"));
    if archives(old) && archives(new) {
        found.gone = alone(old, new);
        found.come = alone(new, old);
    }
    found
}

/// Opens the archives of a tree that the other has neither at their path nor under another name.
fn alone(tree: &mut Tree, other: &Tree) -> Vec<String> {
    let digests: BTreeSet<&str> = other.values().map(|leaf| leaf.sha256.as_str()).collect();
    let strange = |path: &String, leaf: &TreeFile| !other.contains_key(path) && !digests.contains(leaf.sha256.as_str());
    let paths: Vec<String> = tree.iter().filter(|(p, l)| strange(p, l)).map(|(p, _)| p.clone()).collect();
    let mut opened = Vec::new();
    for path in paths.into_iter().filter(|path| path.to_ascii_lowercase().ends_with(".zip")) {
        if let Some(inside) = entries(&tree[&path]) {
            spread(tree, &path, inside);
            opened.push(path);
        }
    }
    opened
}

/// Puts what an archive holds below its path.
fn spread(tree: &mut Tree, path: &str, inside: Tree) {
    tree.remove(path);
    tree.extend(inside.into_iter().map(|(name, leaf)| (format!("{path}/{name}"), leaf)));
}
