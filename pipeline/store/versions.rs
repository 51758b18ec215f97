//! The folder of a product with all its versions: which one a new version follows, and whose they are.

use super::{RECORD, replace_bytes};
use base::checksum::sha256_hex;
use base::files::slashed;
use base::model::Fault;
use base::model::versions::order;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// A bundle of an earlier version.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Earlier {
    /// Its folder.
    pub folder: PathBuf,
    /// Its version.
    pub version: String,
    /// Whether buyers have it: it is sealed.
    pub issued: bool,
    /// SHA-256 of its record, which names every file by its own.
    pub digest: String,
}

/// The bundle that a version of a product follows.
pub fn earlier(dist: &Path, slug: &str, version: &str, sealed: &BTreeSet<String>) -> Option<Earlier> {
    earlier_on(&dist.join(slug), version, sealed)
}

/// The same in the folder that holds all versions: of those with a lower number the highest that is sealed, or else the
/// highest.
fn earlier_on(product_folder: &Path, version: &str, sealed: &BTreeSet<String>) -> Option<Earlier> {
    let this = order(version)?;
    let folders = fs::read_dir(product_folder).ok()?.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
    let known = folders.filter_map(|name| Some((order(&name).filter(|number| *number < this)?, name)));
    let whole = known.filter(|(_, name)| product_folder.join(name).join(RECORD).is_file());
    let (issued, _, version) = whole.map(|(number, name)| (sealed.contains(&name), number, name)).max()?;
    let folder = product_folder.join(&version);
    let digest = sha256_hex(&fs::read(folder.join(RECORD)).ok()?);
    Some(Earlier { folder, version, issued, digest })
}

/// The bundle of the highest version of a product.
pub fn newest(dist: &Path, slug: &str) -> Option<PathBuf> {
    let product_folder = dist.join(slug);
    let folders = fs::read_dir(&product_folder).ok()?.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
    let known = folders.filter_map(|name| Some((order(&name)?, product_folder.join(name))));
    known.filter(|(_, folder)| folder.join(RECORD).is_file()).max().map(|(_, folder)| folder)
}

/// The bundle that another bundle follows, of those that lie beside it.
pub fn earlier_beside(bundle: &Path, version: &str, sealed: &BTreeSet<String>) -> Option<Earlier> {
    earlier_on(fs::canonicalize(bundle).ok()?.parent()?, version, sealed)
}

/// The record of the version that buyers have and that a version of a product is or follows: what is named there keeps its
/// name.
pub fn issued_record(dist: &Path, slug: &str, version: &str, sealed: &BTreeSet<String>) -> Option<Vec<u8>> {
    let product_folder = dist.join(slug);
    let own = sealed.contains(version).then(|| fs::read(product_folder.join(version).join(RECORD)).ok()).flatten();
    own.or_else(|| {
        let earlier = earlier_on(&product_folder, version, sealed).filter(|e| e.issued)?;
        fs::read(earlier.folder.join(RECORD)).ok()
    })
}

/// Where it is written down whose bundles these are.
fn note(dist: &Path, slug: &str) -> PathBuf {
    dist.join(".products").join(slug)
}

/// Writes down beside the bundles in which folder their product lies, so that it is found from a bundle.
pub fn note_product(dist: &Path, slug: &str, product: &Path) -> Result<(), Fault> {
    let (note, path) = (note(dist, slug), slashed(product));
    if fs::read(&note).is_ok_and(|known| known == path.as_bytes()) {
        return Ok(());
    }
    replace_bytes(&note, path.as_bytes())
}

/// The folder of the product that a bundle was built from, if its build wrote it down and it is still there.
pub fn product_of(bundle: &Path) -> Option<PathBuf> {
    let bundle = fs::canonicalize(bundle).ok()?;
    let product_folder = bundle.parent()?;
    let slug = product_folder.file_name()?.to_str()?;
    let product = PathBuf::from(fs::read_to_string(note(product_folder.parent()?, slug)).ok()?);
    product.is_dir().then_some(product)
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
        let found = |version, sealed: &[&str]| {
            let sealed = sealed.iter().map(|v| (*v).to_owned()).collect();
            earlier(dist.path(), "beans", version, &sealed).map(|e| (e.version, e.issued))
        };
        assert_eq!(found("2.0.0", &[]), Some(("1.10.0".into(), false)));
        assert_eq!(found("1.2.0", &[]), None);
        assert_eq!(found("2.0.0", &["1.2.0", "1.9.0"]), Some(("1.9.0".into(), true)));
        assert_eq!(found("3.0.0", &["1.2.0"]), Some(("1.2.0".into(), true)));
        // Sealed and not there.
        assert_eq!(found("3.0.0", &["1.8.0"]), Some(("2.0.0".into(), false)));
        assert_eq!(earlier(dist.path(), "peas", "1.0.0", &BTreeSet::new()), None);
    }

    #[test]
    fn a_bundle_tells_where_its_product_lies() {
        let dist = tempfile::tempdir().unwrap();
        let product = tempfile::tempdir().unwrap();
        let bundle = dist.path().join("beans/1.0.0");
        fs::create_dir_all(&bundle).unwrap();
        assert_eq!(product_of(&bundle), None);
        for _ in 0..2 {
            note_product(dist.path(), "beans", product.path()).unwrap();
            assert_eq!(product_of(&bundle).as_deref(), Some(product.path()));
        }
        note_product(dist.path(), "beans", &product.path().join("moved away")).unwrap();
        assert_eq!(product_of(&bundle), None);
    }
}
