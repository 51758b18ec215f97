//! `check`: loose files, bundles and products, read for their findings alone.

use super::make::make;
use super::memory::Memory;
use super::one;
use super::photos::Stopped;
use crate::world;
use crate::world::{Outside, World};
use base::model::facts::Inspected;
use base::model::{Fault, Finding, Product};
use judge::validate;
use rayon::prelude::*;
use std::path::{Path, PathBuf};

/// Builds a product without writing anything, for its findings alone.
///
/// # Errors
/// As `build`.
pub fn findings(path: &Path) -> Result<Checked, Vec<Fault>> {
    let world = World::open(path).map_err(one)?;
    let (memory, say) = (Memory::none(), super::silent());
    let products = manifest::read(&world, rulings::TABLE)?;
    let off = switched_off(&products[0]);
    let mut made = make(products, None, &memory, &say)?;
    let photos = match made.photos(None, &memory, &say, &|| false) {
        Ok(photos) => photos,
        Err(Stopped::Faults(faults)) => return Err(faults),
        // Nobody overtakes a check.
        Err(Stopped::Overtaken) => Vec::new(),
    };
    made.hang(photos, None, &memory);
    Ok(Checked { findings: made.findings, files: made.inspected, off })
}

/// What `check` found, and what it read.
pub struct Checked {
    /// The findings.
    pub findings: Vec<Finding>,
    /// Files that were read, and those of products, which were built for the purpose.
    pub files: Vec<Inspected>,
    /// Checks that a manifest switches off, and why.
    pub off: Vec<(String, String)>,
}

/// The checks that a manifest switches off, each with its reason.
pub fn switched_off(product: &Product) -> Vec<(String, String)> {
    let off = product.lowered.iter().filter(|(_, lowered)| lowered.to.is_none());
    off.map(|(check, lowered)| (check.clone(), lowered.reason.clone())).collect()
}

/// Reads loose files, folders and archives back for the checks: no plan, no promise. Products are built, without
/// writing anything, and held against their plan.
///
/// # Errors
/// A path that cannot be read, or a product that cannot be built.
pub fn check(paths: &[PathBuf]) -> Result<Checked, Vec<Fault>> {
    let (mut checked, mut faults) = (Checked { findings: Vec::new(), files: Vec::new(), off: Vec::new() }, Vec::new());
    let mut built = Vec::new();
    for path in paths {
        if path.join(manifest::FILE).is_file() || path.file_name().is_some_and(|n| n == manifest::FILE) {
            match findings(path) {
                Ok(found) => {
                    checked.findings.extend(found.findings);
                    checked.off.extend(found.off);
                    built.extend(found.files);
                }
                Err(f) => faults.extend(f),
            }
        } else {
            match loose(path) {
                Ok(files) => checked.files.extend(files),
                Err(f) => faults.extend(f),
            }
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    checked.files = validate::with_kinds(checked.files);
    checked.findings.extend(validate::judge(&checked.files, &[], &draw::fonts::widths));
    checked.files.extend(built);
    Ok(checked)
}

/// A file, or the files below a folder. An archive that is named itself is looked into.
fn loose(path: &Path) -> Result<Vec<Inspected>, Vec<Fault>> {
    let named = path.is_file();
    let files = world::files_below(path).map_err(one)?;
    let read: Vec<Result<Vec<Inspected>, Fault>> = files
        .par_iter()
        .map(|file| {
            let name = file.display().to_string();
            match world::open_outside(file)? {
                Outside::Whole(bytes) if named => Ok(inspect::inspect_with_entries(&name, None, &bytes)),
                Outside::Whole(bytes) => Ok(vec![inspect::inspect(&name, None, &bytes)]),
                Outside::Archive(source) => inspect::inspect_source(&name, None, source, named)
                    .map_err(|e| Fault::new(format!("cannot be read: {e}")).in_file(&name)),
            }
        })
        .collect();
    let (mut all, mut faults) = (Vec::new(), Vec::new());
    for result in read {
        match result {
            Ok(list) => all.extend(list),
            Err(fault) => faults.push(fault),
        }
    }
    if faults.is_empty() { Ok(all) } else { Err(faults) }
}
