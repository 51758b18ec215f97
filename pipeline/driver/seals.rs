//! The seals of a product: where they stand, and what they ask of a build.

use crate::releases::compare::{RECORD, SUMS};
use crate::releases::reasons::{Made, reasons};
use crate::releases::{FILE, Release, Releases};
use crate::store::{self, Kept};
use crate::world::{self, World};
use base::files::{Files, slashed};
use base::model::{Fault, Product, Stop};
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
    Ok(Releases::read(&world::read_outside(&path)?, &slashed(&path))?)
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

/// Where the signature of a bundle lies: beside it, since no byte of a bundle may change.
pub fn signature_of(bundle: &Path) -> PathBuf {
    let mut name = bundle.file_name().unwrap_or_default().to_owned();
    name.push(".minisig");
    bundle.with_file_name(name)
}

/// What is said of a folder that is no bundle.
pub fn no_record(bundle: &Path) -> Fault {
    Fault::new("there is no record of a bundle of ours in it")
        .in_file(slashed(bundle))
        .help("name the folder of a bundle, such as dist/my-notebook/1.0.0")
}
