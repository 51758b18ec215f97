//! Sealing: a version becomes one that buyers have.

use super::verify::{self, Asked, Verified};
use crate::releases::compare::{RECORD, SUMS};
use crate::releases::reasons::{Made, reasons};
use crate::releases::sign::{self, Key};
use crate::releases::{FILE, Release, Releases, inputs};
use crate::store::{self, Kept};
use crate::world::{self, World};
use base::checksum::sha256_hex;
use base::files::Files;
use base::model::{Fault, Finding, Product, Severity, Stop};
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The releases of the product in a folder; none if it has no file of them.
///
/// # Errors
/// When the file is there and is no list of releases.
pub fn of_product(folder: &Path) -> Result<Releases, Stop> {
    let path = folder.join(FILE);
    if !path.is_file() {
        return Ok(Releases::default());
    }
    Ok(Releases::read(&world::read_outside(&path)?, &path.display().to_string())?)
}

/// The releases of the product that a bundle was built from; none if nobody knows where that lies.
pub fn of_bundle(bundle: &Path) -> Result<Releases, Stop> {
    store::product_of(bundle).map_or_else(|| Ok(Releases::default()), |product| of_product(&product))
}

/// What of this version has to stay: what is sealed, or what the manifest calls issued.
pub fn kept<'r>(product: &Product, releases: &'r Releases) -> Kept<'r> {
    match releases.of(&product.version) {
        Some(release) => Kept::Sealed(&release.record),
        None if product.frozen => Kept::AsItLies,
        None => Kept::No,
    }
}

/// Seals a bundle that was just built, where its manifest says that it is issued and it is not sealed yet.
pub fn as_the_manifest_says(bundle: &Path, product: &Product, releases: &Releases) -> Result<(), Stop> {
    if !product.frozen || releases.of(&product.version).is_some() {
        return Ok(());
    }
    let read = |name: &str| world::read_outside(&bundle.join(name));
    let release = Release::of(&read(RECORD)?, &read(SUMS)?, None).ok_or_else(|| no_record(bundle))?;
    store::replace_file(&product.root.join(FILE), &releases.with(&release))?;
    Ok(())
}

/// Adds to the fault of a sealed version why this build is another one.
pub fn explained(stop: Stop, releases: &Releases, product: &Product, world: &World) -> Stop {
    let (Stop::Faults(faults), Some(release)) = (&stop, releases.of(&product.version)) else { return stop };
    let why = reasons(&Made::by(release), &Made::now(inputs_of(world)));
    let explain = |fault: &Fault| {
        if why.is_empty() || !fault.message.contains("was released") {
            return fault.clone();
        }
        let message = format!("{}\n    since it was sealed: {}", fault.message, why.join("; "));
        Fault { message, ..fault.clone() }
    };
    Stop::Faults(faults.iter().map(explain).collect())
}

/// Digests of the files of a product that were read.
pub fn inputs_of(world: &World) -> BTreeMap<String, String> {
    world.inputs().into_iter().map(|(path, bytes)| (path, bytes.sha256().to_string())).collect()
}

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

fn no_record(bundle: &Path) -> Fault {
    Fault::new("there is no record of a bundle of ours in it")
        .in_file(bundle.display().to_string())
        .help("name the folder of a bundle, such as dist/my-notebook/1.0.0")
}

/// A version that is sealed already is sealed with these bytes.
fn same(before: &Release, now: &Release, file: &Path, dated: bool) -> Result<(), Fault> {
    let fault = |message: String, help: &str| Err(Fault::new(message).in_file(file.display().to_string()).help(help));
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
                .in_file(bundle.display().to_string())
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
            return Err(Fault::new(format!("this product is `{}`, and the bundle is one of `{slug}`", products[0].slug))
                .in_file(named.display().to_string())
                .help("name the folder of the product that the bundle was built from")
                .into());
        }
    }
    Ok(world.root().to_owned())
}

/// Where the signature of a bundle lies: beside it, since no byte of a bundle may change.
pub fn signature_of(bundle: &Path) -> PathBuf {
    let mut name = bundle.file_name().unwrap_or_default().to_owned();
    name.push(".minisig");
    bundle.with_file_name(name)
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
