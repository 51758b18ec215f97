//! The folder of a shop: the nearest one up the folders that has a `shop.toml`.

use super::products::DEPTH;
use base::files::SHOP;
use std::path::{Path, PathBuf};

/// Where a repository begins: its top is the last folder that is looked into.
const TOP: &str = ".git";

/// A shop that a product belongs to.
pub struct Shop {
    /// Its folder.
    pub folder: PathBuf,
    /// The way there from the product's folder: nothing where it is the same, or `../` and so on.
    pub way: String,
}

impl Shop {
    /// The shop of the product in this folder.
    pub fn of(product: &Path) -> Option<Shop> {
        let (steps, file) =
            looked_for(product).into_iter().enumerate().find(|(_, file)| file.symlink_metadata().is_ok())?;
        Some(Shop { folder: file.parent()?.to_owned(), way: "../".repeat(steps) })
    }

    /// The way to its file.
    pub fn file(&self) -> String {
        format!("{}{SHOP}", self.way)
    }
}

/// Where the file of a product's shop may lie, the nearest place first: in the product's own folder, and in those above it,
/// as many as products lie deep in a folder that is built as a whole, but not above the top of a repository.
pub fn looked_for(product: &Path) -> Vec<PathBuf> {
    let mut out = Vec::new();
    for folder in product.ancestors().take(DEPTH + 1) {
        out.push(folder.join(SHOP));
        if folder.join(TOP).symlink_metadata().is_ok() {
            break;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use std::fs;

    #[test]
    fn the_nearest_file_counts_as_far_as_the_top() {
        let folder = tempfile::tempdir().unwrap();
        let product = folder.path().join("a/b/c/d/product");
        fs::create_dir_all(&product).unwrap();
        let way = || Shop::of(&product).map(|shop| shop.way);
        assert_eq!(way(), None);
        let put = |at: &str| fs::write(folder.path().join(at).join(SHOP), "").unwrap();
        // Five folders up is too far.
        put("");
        assert_eq!(way(), None);
        put("a");
        assert_eq!(way().as_deref(), Some("../../../../"));
        put("a/b/c");
        assert_eq!(way().as_deref(), Some("../../"));
        // What lies above a repository is somebody else's.
        fs::create_dir(folder.path().join("a/b/c/d/.git")).unwrap();
        assert_eq!(way(), None);
        put("a/b/c/d");
        assert_eq!(way().as_deref(), Some("../"));
        put("a/b/c/d/product");
        assert_eq!(way().as_deref(), Some(""));
    }
}
