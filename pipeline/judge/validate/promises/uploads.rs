//! What the designer uploads: nothing in it but the planned files, and all of them.

use super::super::Promised;
use super::super::catalogue::{Findings, found};
use base::model::Where;
use base::model::artifact::Kind;
use base::model::facts::{Facts, Inspected};
use std::collections::BTreeSet;

/// Checks the upload slots. Where the files given hold no upload at all, nothing is said: they come later.
pub fn check(files: &[Inspected], against: &[Promised], findings: &mut Findings) {
    let uploads: Vec<&Inspected> = files.iter().filter(|f| f.kind == Some(Kind::Upload)).collect();
    if uploads.is_empty() {
        return;
    }
    packed(files, &uploads, against, findings);
}

/// The entries of the uploads against the planned files, by digest.
fn packed(files: &[Inspected], uploads: &[&Inspected], against: &[Promised], findings: &mut Findings) {
    let contents = |f: &&Inspected| !matches!(f.kind, Some(Kind::Upload | Kind::Listing | Kind::Picture) | None);
    let known: BTreeSet<&str> = files.iter().filter(contents).map(|f| f.sha256.as_str()).collect();
    let mut sent: BTreeSet<&str> = BTreeSet::new();
    for upload in uploads {
        sent.insert(&upload.sha256);
        let Facts::Zip(zip) = &upload.facts else {
            if !known.contains(upload.sha256.as_str()) {
                found!(
                    findings,
                    "entry-not-planned",
                    Where::file(&upload.path),
                    "the file is none of the planned ones"
                );
            }
            continue;
        };
        for entry in zip.entries.iter().filter(|e| e.sound && !e.folder) {
            sent.insert(&entry.sha256);
            if !known.contains(entry.sha256.as_str()) {
                let at = Where::entry(&upload.path, &entry.name);
                found!(findings, "entry-not-planned", at, "the entry's bytes are none of the planned files");
            }
        }
    }
    if against.iter().any(|(product, _)| product.delivery.is_some()) {
        return;
    }
    let items = against.iter().flat_map(|(_, plan)| &plan.items);
    for item in items.filter(|i| !matches!(i.kind, Kind::Listing | Kind::Upload | Kind::DeliveryCard)) {
        let file = files.iter().find(|f| f.path == item.path);
        if file.is_some_and(|f| !sent.contains(f.sha256.as_str())) {
            found!(findings, "planned-file-not-packed", Where::file(&item.path), "the file is in no upload");
        }
    }
}
