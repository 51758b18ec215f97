//! The files of a version as one tree: folders, and archives opened up as if they were folders.

use crate::checksum::sha256_hex;
use crate::inspect::{self, zip};
use crate::model::facts::Facts;
use std::collections::BTreeMap;
use std::io::Cursor;
use std::sync::Arc;

/// Archives within archives are opened so deep.
const MAX_DEPTH: usize = 3;

/// A file of a version.
#[derive(Clone)]
pub struct Leaf {
    /// Size in bytes.
    pub size: u64,
    /// SHA-256 in hex.
    pub sha256: String,
    /// Its bytes; `None` for an entry of an archive that was not unpacked.
    pub bytes: Option<Arc<Vec<u8>>>,
}

/// The files of a version by path, with `/` between folders.
pub type Tree = BTreeMap<String, Leaf>;

/// A leaf of these bytes.
pub fn leaf(bytes: Vec<u8>) -> Leaf {
    Leaf { size: bytes.len() as u64, sha256: sha256_hex(&bytes), bytes: Some(Arc::new(bytes)) }
}

/// What an archive holds, by path inside; `None` if the leaf is no archive.
pub fn entries(leaf: &Leaf) -> Option<Tree> {
    let bytes = leaf.bytes.as_ref()?;
    if !bytes.starts_with(b"PK\x03\x04") && !bytes.starts_with(b"PK\x05\x06") {
        return None;
    }
    // Not by looking for what it is: an archive whose first entry is stored begins much like that entry.
    let Facts::Zip(facts) = inspect::guard(|| zip::read(Cursor::new(bytes.as_slice()))) else { return None };
    let mut tree = Tree::new();
    for entry in facts.entries.iter().filter(|e| !e.folder) {
        let digest = if entry.sha256.is_empty() { format!("unread {}", entry.name) } else { entry.sha256.clone() };
        tree.insert(entry.name.clone(), Leaf { size: entry.size, sha256: digest, bytes: None });
    }
    for (name, inside) in zip::take(Cursor::new(bytes.as_slice()), &facts) {
        if let Some(leaf) = tree.get_mut(&name) {
            leaf.bytes = Some(Arc::new(inside));
        }
    }
    Some(tree)
}

/// Opens the archives of two trees wherever the same path holds different archives. The archives themselves go away
/// and their files stand below their paths; gives the paths of those that hold the same files on both sides.
pub fn unfold(old: &mut Tree, new: &mut Tree) -> Vec<String> {
    let mut repacked = Vec::new();
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
                repacked.push(path.clone());
            }
            for (tree, inside) in [(&mut *old, a), (&mut *new, b)] {
                tree.remove(&path);
                tree.extend(inside.into_iter().map(|(name, leaf)| (format!("{path}/{name}"), leaf)));
            }
        }
        if !opened {
            break;
        }
    }
    repacked
}
