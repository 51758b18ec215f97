//! The folder of a product with all its versions: which of them buyers have, and which one a new version follows.

use super::{RECORD, cannot};
use base::checksum::sha256_hex;
use base::model::Fault;
use base::model::versions::order;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// A bundle of an earlier version.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Earlier {
    /// Its folder.
    pub folder: PathBuf,
    /// Its version.
    pub version: String,
    /// Whether a manifest said that buyers have it.
    pub issued: bool,
    /// SHA-256 of its record, which names every file by its own.
    pub digest: String,
}

/// The mark beside a version that buyers have. It lies outside of the bundle, since no byte of that may change.
fn mark(product_folder: &Path, version: &str) -> PathBuf {
    product_folder.join(format!(".{version}.issued"))
}

/// Notes whether buyers have a version.
pub fn note_issued(product_folder: &Path, version: &str, issued: bool) -> Result<(), Fault> {
    let path = mark(product_folder, version);
    let done = match (issued, path.exists()) {
        (true, false) => fs::write(&path, ""),
        (false, true) => fs::remove_file(&path),
        _ => Ok(()),
    };
    done.map_err(|e: io::Error| cannot("note that the version is issued, in", &path, &e))
}

/// The bundle that a version of a product follows.
pub fn earlier(dist: &Path, slug: &str, version: &str) -> Option<Earlier> {
    earlier_on(&dist.join(slug), version)
}

/// The same in the folder that holds all versions: of those with a lower number the highest that buyers have, or else
/// the highest.
pub fn earlier_on(product_folder: &Path, version: &str) -> Option<Earlier> {
    let this = order(version)?;
    let folders = fs::read_dir(product_folder).ok()?.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
    let known = folders.filter_map(|name| Some((order(&name).filter(|number| *number < this)?, name)));
    let whole = known.filter(|(_, name)| product_folder.join(name).join(RECORD).is_file());
    let (issued, _, version) =
        whole.map(|(number, name)| (mark(product_folder, &name).exists(), number, name)).max()?;
    let folder = product_folder.join(&version);
    let digest = sha256_hex(&fs::read(folder.join(RECORD)).ok()?);
    Some(Earlier { folder, version, issued, digest })
}

/// The record of the version that buyers have and that a version of a product is or follows: what is named there keeps its
/// name.
pub fn issued_record(dist: &Path, slug: &str, version: &str) -> Option<Vec<u8>> {
    let product_folder = dist.join(slug);
    let own = mark(&product_folder, version).exists().then(|| product_folder.join(version));
    let folder = own.or_else(|| earlier_on(&product_folder, version).filter(|e| e.issued).map(|e| e.folder))?;
    fs::read(folder.join(RECORD)).ok()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn the_highest_that_buyers_have_comes_first() {
        let dist = tempfile::tempdir().unwrap();
        let product_folder = dist.path().join("beans");
        for name in ["1.2.0", "1.9.0", "1.10.0", "2.0.0", "notes", ".1.11.0.new", "1.10.5"] {
            fs::create_dir_all(product_folder.join(name)).unwrap();
            if name != "1.10.5" {
                fs::write(product_folder.join(name).join(RECORD), "{}").unwrap();
            }
        }
        let found = |version| earlier(dist.path(), "beans", version).map(|e| (e.version, e.issued));
        assert_eq!(found("2.0.0"), Some(("1.10.0".into(), false)));
        assert_eq!(found("1.2.0"), None);
        note_issued(&product_folder, "1.2.0", true).unwrap();
        note_issued(&product_folder, "1.9.0", true).unwrap();
        assert_eq!(found("2.0.0"), Some(("1.9.0".into(), true)));
        note_issued(&product_folder, "1.9.0", false).unwrap();
        assert_eq!(found("3.0.0"), Some(("1.2.0".into(), true)));
        assert_eq!(earlier(dist.path(), "peas", "1.0.0"), None);
    }
}
