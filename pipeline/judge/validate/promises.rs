//! The plan held against the bytes: every promise that it makes is found in the files, or said to be broken.

mod document;
mod finished;
mod stickers;
mod uploads;

use super::Promised;
use super::catalogue::{Findings, found};
use base::model::facts::{Facts, Inspected};
use base::model::plan::Make;
use base::model::{Plan, Product, Where};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

/// Checks every promise.
pub fn check(files: &[Inspected], product: &Product, plan: &Plan, findings: &mut Findings) {
    let by_path: BTreeMap<&str, &Inspected> = files.iter().map(|f| (f.path.as_str(), f)).collect();
    for item in &plan.items {
        let Some(file) = by_path.get(item.path.as_str()) else {
            found!(findings, "planned-file-missing", Where::file(&item.path), "the planned file was not made");
            continue;
        };
        match (&item.make, &file.facts) {
            (Make::Pdf(promised), Facts::Pdf(facts)) => {
                document::check(file, facts, promised, product, findings);
            }
            (Make::Finished(promised), Facts::Pdf(facts)) => finished::check(file, facts, promised, product, findings),
            (Make::Sticker(promised), Facts::Png(facts)) => stickers::check(file, facts, promised, findings),
            (Make::Picture(promised), Facts::Png(facts)) => stickers::sheet(file, facts, promised, findings),
            (Make::Text(promised), Facts::Text(_)) => text(file, promised, findings),
            // What could not be read was said already.
            (_, Facts::Unreadable(_)) => {}
            (Make::Text(promised), _) => text(file, promised, findings),
            (_, other) => {
                let what = what(other);
                found!(
                    findings,
                    "file-unreadable",
                    Where::file(&file.path),
                    "the file is {what}, not what was planned"
                );
            }
        }
    }
}

/// Checks what the designer uploads.
pub fn packed(files: &[Inspected], against: &[Promised], findings: &mut Findings) {
    uploads::check(files, against, findings);
}

fn what(facts: &Facts) -> &'static str {
    match facts {
        Facts::Pdf(_) => "a PDF",
        Facts::Png(_) => "a PNG",
        Facts::Zip(_) => "an archive",
        Facts::Text(_) => "a text",
        Facts::Picture(_) => "a picture",
        Facts::Unreadable(_) => "unreadable",
    }
}

fn text(file: &Inspected, promised: &str, findings: &mut Findings) {
    let digest = Sha256::digest(promised.as_bytes());
    let hex: String = digest.iter().map(|b| format!("{b:02x}")).collect();
    if hex != file.sha256 {
        let (is, was) = (file.size, promised.len());
        found!(findings, "text-off-plan", Where::file(&file.path), "the text is {is} bytes and not the planned {was}");
    }
}
