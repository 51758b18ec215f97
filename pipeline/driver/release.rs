//! Sealing: a version becomes one that buyers have.

use super::seals::{no_record, of_product, signature_of};
use super::verify::{self, Asked, Verified};
use crate::releases::compare::{RECORD, SUMS};
use crate::releases::reasons::{Made, reasons};
use crate::releases::sign::{self, Key};
use crate::releases::{FILE, Release, inputs};
use crate::store;
use crate::world::{self, World};
use base::checksum::sha256_hex;
use base::files::{Files, slashed};
use base::model::{Fault, Finding, Severity, Stop};
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// A seal.
pub struct Sealed {
    /// Its entry.
    pub release: Release,
    /// Whether it stood there before.
    pub already: bool,
    /// The file in which it stands.
    pub file: PathBuf,
    /// The signature, if one was made.
    pub signature: Option<PathBuf>,
    /// What is worth saying.
    pub notes: Vec<String>,
}

/// What came of sealing: no seal where the bundle is not whole or an error stands.
pub struct Sealing {
    /// Its bytes against its papers.
    pub verified: Verified,
    /// What the checks say.
    pub findings: Vec<Finding>,
    /// The seal.
    pub sealed: Option<Sealed>,
}

/// Seals a bundle: reads all of it again, has it checked, and writes its entry into the product's `releases.toml`.
///
/// # Errors
/// What cannot be read; a version that is sealed with other bytes.
pub fn seal(
    bundle: &Path,
    product: Option<&Path>,
    released: Option<toml::value::Datetime>,
    key: Option<&Key>,
) -> Result<Sealing, Stop> {
    if !bundle.join(RECORD).is_file() {
        return Err(no_record(bundle).into());
    }
    let read = |name: &str| world::read_outside(&bundle.join(name));
    let record = read(RECORD)?;
    let value: Value = serde_json::from_slice(&record).map_err(|_| no_record(bundle))?;
    let verified = verify::against_papers(bundle, &Asked::default())?;
    let findings = super::check(&[bundle.to_owned()])?.findings;
    if !verified.differences.is_empty() || findings.iter().any(|f| f.severity == Severity::Error) {
        return Ok(Sealing { verified, findings, sealed: None });
    }
    let sums = read(SUMS)?;
    let release = Release::of(&record, &sums, released).ok_or_else(|| no_record(bundle))?;
    // A key that cannot sign is told before anything is sealed.
    let signature = key.map(|key| sign::sign(key, &sums, &comment(&value))).transpose()?;
    let folder = product_folder(bundle, product, &value)?;
    let (file, mut releases) = (folder.join(FILE), of_product(&folder)?);
    let mut notes = Vec::new();
    let already = releases.of(&release.version).cloned();
    if let Some(before) = &already {
        same(before, &release, &file, released.is_some())?;
    } else {
        let text = releases.with(&release);
        store::replace_file(&file, &text)?;
        // Read again, so that what stands there is what will be found there.
        releases = of_product(&folder)?;
    }
    let now: BTreeMap<String, String> = inputs(&value)
        .into_keys()
        .filter_map(|path| Some((path.clone(), sha256_hex(&world::read_outside(&folder.join(path)).ok()?))))
        .collect();
    let then = Made { inputs: inputs(&value), ..Made::now(BTreeMap::new()) };
    let moved = reasons(&then, &Made::now(now));
    if !moved.is_empty() {
        notes.push(format!(
            "the product is no longer as it was when this bundle was built ({}): keep a copy of it as it was, so that the \
             release can be built again",
            moved.join("; ")
        ));
    }
    let signature = signature.map(|text| put_signature(bundle, &text)).transpose()?;
    let release = releases.of(&release.version).cloned().unwrap_or(release);
    let sealed = Sealed { release, already: already.is_some(), file, signature, notes };
    Ok(Sealing { verified, findings, sealed: Some(sealed) })
}

/// A version that is sealed already is sealed with these bytes.
fn same(before: &Release, now: &Release, file: &Path, dated: bool) -> Result<(), Fault> {
    let fault = |message: String, help: &str| Err(Fault::new(message).in_file(slashed(file)).help(help));
    if (&before.record, &before.sums) != (&now.record, &now.sums) {
        let mut why = reasons(&Made::by(before), &Made::by(now));
        if before.record == now.record {
            why.push("only what follows from the other files (the proof) is another one".to_owned());
        }
        let why = if why.is_empty() { String::new() } else { format!(": {}", why.join("; ")) };
        return fault(
            format!("version {} is sealed, and this bundle is not the one that was{why}", before.version),
            "give the product a new version number; the released one stays as buyers have it",
        );
    }
    if dated && before.released != now.released {
        return fault(
            format!("version {} is sealed with the date {}, not {}", before.version, before.released, now.released),
            "leave --date out, or correct the date in the file by hand if it was a slip",
        );
    }
    Ok(())
}

/// The folder of the product that a bundle belongs to.
fn product_folder(bundle: &Path, named: Option<&Path>, record: &Value) -> Result<PathBuf, Stop> {
    let Some(named) = named else {
        let known = store::product_of(bundle);
        return known.ok_or_else(|| {
            Fault::new("nobody wrote down from which product this bundle was built, or that has moved")
                .in_file(slashed(bundle))
                .help("name the folder of the product with --product DIR")
                .into()
        });
    };
    let world = World::open(named)?;
    let slug = record["product"].as_str().unwrap_or_default();
    let manifest = world.read(manifest::FILE)?.sha256().to_string();
    if inputs(record).get(manifest::FILE) != Some(&manifest) {
        let products = manifest::read(&world, rulings::ALL)?;
        if products[0].slug != slug {
            return Err(Fault::new(format!(
                "this product is `{}`, and the bundle is one of `{slug}`",
                products[0].slug
            ))
            .in_file(slashed(named))
            .help("name the folder of the product that the bundle was built from")
            .into());
        }
    }
    Ok(world.root().to_owned())
}

/// What a signature says along with the bytes.
fn comment(record: &Value) -> String {
    let word = |key: &str| record[key].as_str().unwrap_or_default();
    format!("{} {}, released {}: {SUMS}", word("product"), word("version"), word("released"))
}

fn put_signature(bundle: &Path, text: &str) -> Result<PathBuf, Fault> {
    // A folder that is named by a dot has its own name all the same.
    let path = signature_of(&world::full(bundle)?);
    store::replace_file(&path, text)?;
    Ok(path)
}
