//! A build in which nothing changed: what the last build of the same inputs said, while its bundle still lies there
//! byte for byte.

use super::{Built, MadeFile, inputs_key};
use crate::store;
use crate::store::{Cache, Earlier};
use crate::world::World;
use base::checksum;
use base::model::finding::{Family, Where};
use base::model::{Artifact, Finding, Product, Severity};
use judge::validate;
use serde::{Deserialize, Serialize};
use show::proof;
use std::collections::BTreeMap;
use std::path::Path;

/// What is kept of a build.
#[derive(Serialize, Deserialize)]
struct Kept {
    digests: BTreeMap<String, String>,
    files: Vec<MadeFile>,
    findings: Vec<KeptFinding>,
    notes: Vec<String>,
}

/// A finding with the name of its check as a text of its own.
#[derive(Serialize, Deserialize)]
struct KeptFinding {
    check: String,
    severity: Severity,
    family: Family,
    place: Where,
    message: String,
    help: String,
    lowered: Option<String>,
}

/// The earlier build of exactly these inputs, if its bundle is still whole.
pub fn recall(cache: &Cache, world: &World, out: &Path, product: &Product, earlier: Option<&Earlier>) -> Option<Built> {
    let kept: Kept = serde_json::from_slice(&cache.get(&key(world, earlier))?).ok()?;
    let folder = store::holding(out, &product.slug, &product.version, &kept.digests)?;
    let findings = kept.findings.into_iter().map(revived).collect::<Option<Vec<_>>>()?;
    let product = product.clone();
    let proof = Some(folder.join(proof::FILE));
    Some(Built {
        folder: Some(folder),
        proof,
        findings,
        files: kept.files,
        product,
        notes: kept.notes,
        since: None,
        earlier: None,
    })
}

/// Keeps what a build said, for the next one.
pub fn remember(cache: &Cache, world: &World, earlier: Option<&Earlier>, written: &[Artifact], built: &Built) {
    let kept = Kept {
        digests: checksum::digests(written),
        files: built.files.clone(),
        findings: built.findings.iter().cloned().map(kept).collect(),
        notes: built.notes.clone(),
    };
    if let Ok(text) = serde_json::to_vec(&kept) {
        cache.put(&key(world, earlier), &text);
    }
}

/// What a build depends on: the program, what it read, and the version that it was compared with.
fn key(world: &World, earlier: Option<&Earlier>) -> String {
    let before = earlier.map_or_else(String::new, |e| format!("{} {} {}", e.version, e.issued, e.digest));
    format!("{}\n{}\nafter {before}\nbuilt whole", env!("SHEAFWRIGHT_SOURCES"), inputs_key(world))
}

fn kept(f: Finding) -> KeptFinding {
    let Finding { check, severity, family, place, message, help, lowered } = f;
    KeptFinding { check: check.to_owned(), severity, family, place, message, help, lowered }
}

/// `None` for a check that there is no longer.
fn revived(f: KeptFinding) -> Option<Finding> {
    let KeptFinding { check, severity, family, place, message, help, lowered } = f;
    Some(Finding { check: validate::find(&check)?.name, severity, family, place, message, help, lowered })
}
