//! `check`: products are built for the purpose, everything else is read back as it lies there.

use super::session::{self, Session};
use super::{loose, make, unseen, versions};
use crate::world::World;
use base::model::facts::{Facts, Inspected};
use base::model::{Finding, Product, Stop};
use judge::validate;
use serde_json::Value;
use std::path::{Path, PathBuf};

/// What `check` found, and what it read.
pub struct Checked {
    /// The findings.
    pub findings: Vec<Finding>,
    /// Files that were read, and those of products, which were built for the purpose.
    pub files: Vec<Inspected>,
    /// Checks that a manifest switches off, and why.
    pub off: Vec<(String, String)>,
}

/// Builds a product without writing anything, for its findings alone.
///
/// # Errors
/// As `build`.
fn findings(path: &Path) -> Result<Checked, Stop> {
    let products = manifest::read(&World::open(path)?, rulings::ALL)?;
    let off = switched_off(&products[0]);
    let bundle = make(&Session::plain(), products, &mut unseen)?;
    Ok(Checked { findings: bundle.findings, files: bundle.inspected, off })
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
pub fn check(paths: &[PathBuf]) -> Result<Checked, Stop> {
    let looked = paths.iter().map(|path| {
        if path.join(manifest::FILE).is_file() || path.file_name().is_some_and(|n| n == manifest::FILE) {
            return findings(path).map(|found| (found, Vec::new()));
        }
        let nothing = Checked { findings: Vec::new(), files: Vec::new(), off: Vec::new() };
        loose::read(path).map(|files| (nothing, files))
    });
    let (built, read): (Vec<Checked>, Vec<Vec<Inspected>>) = session::all(looked)?.into_iter().unzip();
    let loose = validate::with_kinds(read.into_iter().flatten().collect());
    let mut judged = validate::judge(&loose, &[]);
    numbers(&loose, &mut judged)?;
    let mut checked = Checked { findings: Vec::new(), files: loose, off: Vec::new() };
    for product in built {
        checked.findings.extend(product.findings);
        checked.off.extend(product.off);
        checked.files.extend(product.files);
    }
    checked.findings.extend(judged);
    Ok(checked)
}

/// Adds what there is to say of the version of every bundle that lies beside earlier ones, as its build said it.
fn numbers(files: &[Inspected], findings: &mut Vec<Finding>) -> Result<(), Stop> {
    for record in files.iter().filter(|f| f.name() == versions::RECORD) {
        // What lies in an archive lies beside nothing.
        let Some(folder) = Path::new(&record.path).parent().filter(|_| Path::new(&record.path).is_file()) else {
            continue;
        };
        let Facts::Text(text) = &record.facts else { continue };
        let Ok(record) = serde_json::from_str::<Value>(&text.text) else { continue };
        let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        if let Some(earlier) = versions::earlier_of(folder, &record)? {
            let files = loose::artifacts(folder)?;
            if let Some(since) = versions::since(&Session::plain(), Some(&earlier), &files)? {
                validate::version(findings, &validate::kept::lowered(&record), &since);
            }
        }
    }
    Ok(())
}
