//! The proof of a build: what was made, what the checks say of it, and small pictures of it all.

use super::loose;
use super::session::Session;
use super::versions;
use base::files::slashed;
use base::model::facts::Inspected;
use base::model::product::Limits;
use base::model::{Artifact, Blob, Fault, Finding, Product, Stop, Variant};
use judge::validate;
use rayon::prelude::*;
use serde_json::Value;
use show::proof;
use show::proof::{Before, ProofInput, Written};
use std::collections::BTreeMap;
use std::path::Path;

/// Files of a bundle that are about the others.
const PAPERS: [&str; 3] = ["SHA256SUMS", "bundle.json", proof::FILE];

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
    /// Its variants, the leading one first.
    pub variants: &'a [Variant],
    /// Whether findings keep the bundle from being written.
    pub stopped: bool,
    /// The number of the build, for a page that follows new ones.
    pub live: Option<u64>,
    /// The version that buyers have, and what changed since.
    pub since: Option<Before<'a>>,
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
            variants: &product.variants.all,
            stopped: false,
            live: None,
            since: None,
        }
    }
}

/// The proof of these files.
///
/// # Errors
/// When the page's template cannot be filled, or when nobody wants it any more.
pub fn prove(
    session: &Session,
    about: &About,
    inspected: &[Inspected],
    files: &[Artifact],
    findings: &[Finding],
) -> Result<Written, Stop> {
    let bytes: BTreeMap<&str, &Blob> = files.iter().map(|f| (f.path.as_str(), &f.bytes)).collect();
    let explained: Vec<(&Finding, &str)> =
        findings.iter().map(|f| (f, validate::find(&f.check).map_or("", |check| check.why))).collect();
    let sheet = ProofInput {
        name: about.name,
        version: about.version,
        released: &about.released,
        shop: about.shop,
        language: about.language,
        right_to_left: calendar::right_to_left(about.language),
        limits: about.limits,
        files: inspected.iter().filter_map(|i| Some((i, *bytes.get(i.path.as_str())?))).collect(),
        variants: about.variants,
        findings: &explained,
        stopped: about.stopped,
        live: about.live,
        since: about.since,
    };
    proof::write(&sheet, session)
}

/// The proof of a bundle that lies on the disk, whoever made it, with what the checks say of it now.
///
/// # Errors
/// When the folder cannot be read.
pub fn proof_of(folder: &Path) -> Result<Vec<u8>, Stop> {
    if !folder.is_dir() {
        return Err(Fault::new("is no folder")
            .in_file(slashed(folder))
            .help("name the folder of a bundle, such as dist/my-notebook/1.0.0")
            .into());
    }
    let files = loose::artifacts(folder)?;
    let inspected = files.par_iter().map(|f| inspect::inspect(&f.path, None, &f.bytes)).collect();
    let inspected = validate::with_kinds(inspected);
    let mut findings = validate::judge(&inspected, &[]);
    let record: Value = files
        .iter()
        .find(|f| f.path == "bundle.json")
        .and_then(|f| serde_json::from_slice(&f.bytes).ok())
        .unwrap_or_default();
    let text = |key: &str| record.get(key).and_then(Value::as_str).unwrap_or_default().to_owned();
    let name = Some(text("name")).filter(|n| !n.is_empty()).unwrap_or_else(|| slashed(folder));
    let version = text("version");
    let earlier = versions::earlier_of(folder, &record)?;
    let sides = earlier.as_ref().and_then(|earlier| versions::Sides::of(earlier, &files));
    let since = sides.as_ref().map(|sides| sides.since(&Session::plain())).transpose()?.map(|(since, _)| since);
    let pages = sides.as_ref().map(versions::Sides::documents).unwrap_or_default();
    if let Some(since) = &since {
        validate::version(&mut findings, &validate::kept::lowered(&record), since);
    }
    let variants: Vec<Variant> = serde_json::from_value(record["variants"].clone()).unwrap_or_default();
    let about = About {
        name: &name,
        version: &version,
        released: text("released"),
        shop: &text("shop"),
        language: &text("language"),
        // What the shop takes is stated by the record; a folder without one is shown without limits.
        limits: serde_json::from_value(record["limits"].clone()).ok(),
        variants: &variants,
        stopped: false,
        live: None,
        since: since.as_ref().map(|since| Before { since, files: &pages }),
    };
    let shown: Vec<Inspected> = inspected.into_iter().filter(|f| !PAPERS.contains(&f.path.as_str())).collect();
    prove(&Session::plain(), &about, &shown, &files, &findings).map(|made| made.page.into_bytes())
}

/// A proof of nothing yet, for a window that waits for the first.
///
/// # Errors
/// When the page's template cannot be filled.
pub fn empty_proof(product: &Path) -> Result<Written, Stop> {
    let name = slashed(product);
    let about = About {
        name: &name,
        version: "",
        released: String::new(),
        shop: "",
        language: "",
        limits: None,
        variants: &[],
        stopped: false,
        live: Some(0),
        since: None,
    };
    prove(&Session::plain(), &about, &[], &[], &[])
}
