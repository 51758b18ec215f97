//! The proof of a build: what was made, what the checks say of it, and pictures that are drawn once.

use crate::model::facts::Inspected;
use crate::model::product::Limits;
use crate::model::{Artifact, Fault, Finding, Kind, Product};
use crate::proof::{self, Sheet};
use crate::store::Cache;
use crate::validate;
use std::collections::BTreeMap;

/// Whose proof it is, and how it is shown.
pub struct About<'a> {
    /// The product's name.
    pub name: &'a str,
    /// Its version.
    pub version: &'a str,
    /// Its date of release.
    pub released: String,
    /// Who sells it.
    pub shop: &'a str,
    /// Language of the texts.
    pub language: &'a str,
    /// The shop's limits.
    pub limits: Option<Limits>,
    /// Whether findings keep the bundle from being written.
    pub stopped: bool,
    /// Whether the page is to follow new builds.
    pub live: bool,
}

impl<'a> About<'a> {
    /// What a manifest says.
    pub fn product(product: &'a Product) -> About<'a> {
        About {
            name: &product.name,
            version: &product.version,
            released: product.released.to_string(),
            shop: &product.shop.name,
            language: &product.language,
            limits: Some(product.limits),
            stopped: false,
            live: false,
        }
    }
}

/// The proof of these files.
///
/// # Errors
/// When the page's template cannot be filled.
pub fn proof(
    about: &About,
    inspected: &[Inspected],
    files: &[Artifact],
    findings: &[Finding],
    cache: &Cache,
) -> Result<Artifact, Fault> {
    let bytes: BTreeMap<&str, &[u8]> = files.iter().map(|f| (f.path.as_str(), f.bytes.as_slice())).collect();
    let explained: Vec<(&Finding, &str)> =
        findings.iter().map(|f| (f, validate::find(f.check).map_or("", |check| check.why))).collect();
    let sheet = Sheet {
        name: about.name,
        version: about.version,
        released: &about.released,
        shop: about.shop,
        language: about.language,
        limits: about.limits,
        files: inspected.iter().filter_map(|i| Some((i, *bytes.get(i.path.as_str())?))).collect(),
        findings: &explained,
        stopped: about.stopped,
        live: about.live,
    };
    let keep = |key: &str, make: &dyn Fn() -> Option<String>| {
        let key = format!("{}\nproof {key}", env!("SHEAFWRIGHT_SOURCES"));
        if let Some(kept) = cache.get(&key).and_then(|bytes| String::from_utf8(bytes).ok()) {
            return Some(kept);
        }
        let made = make()?;
        cache.put(&key, made.as_bytes());
        Some(made)
    };
    let page = proof::write(&sheet, &keep)?;
    Ok(Artifact { path: proof::FILE.to_owned(), kind: Kind::Listing, bytes: page.into_bytes() })
}
