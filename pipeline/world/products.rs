//! Folders of products: those that a folder holds, those near by, and how much lies in each.

use super::MOST_SEEN;
use base::files::slashed;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use walkdir::{DirEntry, WalkDir};

/// The manifest that makes a folder a product.
pub(super) const MANIFEST: &str = "product.toml";
/// How deep products lie below a folder that is named for all of them.
pub const DEPTH: usize = 4;

/// The products that paths of the command line name, each once, though several paths may name it.
pub fn products_named(paths: &[PathBuf]) -> Vec<PathBuf> {
    let mut seen = BTreeSet::new();
    // A manifest stands for its folder. One that is not there is kept, so that its build says so.
    let folder = |full: PathBuf| if full.is_file() { full.parent().map(Path::to_owned).unwrap_or(full) } else { full };
    let all = paths.iter().flat_map(|path| products_in(path));
    all.filter(|path| fs::canonicalize(path).map_or(true, |full| seen.insert(folder(full)))).collect()
}

/// The products that a path names: itself where it is one, or else those in the folders below it, by
/// name. Folders of a product are not looked through for others, nor is what is hidden. A path without any is given back,
/// so that whoever opens it says what is missing.
fn products_in(path: &Path) -> Vec<PathBuf> {
    if !path.is_dir() || path.join(MANIFEST).is_file() {
        return vec![path.to_owned()];
    }
    let mut found = Vec::new();
    let mut walk = WalkDir::new(path).max_depth(DEPTH).sort_by_file_name().into_iter();
    while let Some(entry) = walk.next() {
        let Ok(entry) = entry else { continue };
        if !entry.file_type().is_dir() {
            continue;
        }
        if entry.depth() > 0 && passed_over(&entry) {
            walk.skip_current_dir();
        } else if entry.path().join(MANIFEST).is_file() {
            found.push(entry.into_path());
            walk.skip_current_dir();
        }
    }
    if found.is_empty() { vec![path.to_owned()] } else { found }
}

/// Folders of products here and below `products`, by path, for a shell that completes.
pub fn products_near() -> Vec<String> {
    let mut found: Vec<String> = WalkDir::new(".")
        .max_depth(3)
        .into_iter()
        .filter_entry(|e| e.depth() == 0 || !passed_over(e))
        .filter_map(Result::ok)
        .take(MOST_SEEN)
        .filter(|e| e.file_name() == MANIFEST)
        .filter_map(|e| Some(slashed(e.path().parent()?.strip_prefix(".").ok()?)))
        .filter(|folder| !folder.is_empty())
        .collect();
    found.sort();
    found
}

/// Names of the products that lie in a folder itself, sorted.
pub(super) fn products_beside(folder: &Path) -> Vec<String> {
    let found = WalkDir::new(folder).min_depth(1).max_depth(1).sort_by_file_name().into_iter().filter_map(Result::ok);
    let products = found.take(MOST_SEEN).filter(|e| e.path().join(MANIFEST).is_file());
    products.map(|e| e.file_name().to_string_lossy().into_owned()).collect()
}

/// Bytes of all files of a product that are not hidden.
pub fn bytes_below(product: &Path) -> u64 {
    WalkDir::new(product)
        .into_iter()
        .filter_entry(|e| e.depth() == 0 || !passed_over(e))
        .filter_map(Result::ok)
        .filter(|e| e.file_type().is_file())
        .filter_map(|e| Some(e.metadata().ok()?.len()))
        .sum()
}

/// Hidden things, and where compilers put theirs.
fn passed_over(entry: &DirEntry) -> bool {
    entry.file_name().to_string_lossy().starts_with('.') || entry.file_name() == "target"
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn products_are_found_below_a_folder_and_not_within_each_other() {
        let shop = tempfile::tempdir().unwrap();
        for folder in ["winter/b", "winter/a", "c", "c/inner", ".hidden", "empty"] {
            fs::create_dir_all(shop.path().join(folder)).unwrap();
            if folder != "empty" {
                fs::write(shop.path().join(folder).join(MANIFEST), "name = \"x\"").unwrap();
            }
        }
        let found = |path: &str| -> Vec<String> {
            let all = products_in(&shop.path().join(path));
            all.iter().map(|p| slashed(p.strip_prefix(shop.path()).unwrap())).collect()
        };
        assert_eq!(found(""), ["c", "winter/a", "winter/b"]);
        assert_eq!(found("c"), ["c"]);
        assert_eq!(found("c/product.toml"), ["c/product.toml"]);
        assert_eq!(found("empty"), ["empty"]);
        assert_eq!(found("gone"), ["gone"]);
        let named = ["", "c/product.toml", "gone", "winter", "gone"].map(|path| shop.path().join(path));
        assert_eq!(products_named(&named).len(), 3 + 2);
        assert_eq!(bytes_below(shop.path()), 4 * 10);
    }
}
