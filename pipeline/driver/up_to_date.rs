//! A build in which nothing changed: what the last build of the same inputs said, while its bundle still lies there
//! byte for byte.

use super::built::{Built, MadeFile};
use super::session::{Session, Task, Value};
use super::values::{packed, unpacked};
use crate::store;
use crate::store::Earlier;
use crate::world::World;
use base::checksum;
use base::files::Files;
use base::model::{Artifact, Finding, Product, Sha};
use borsh::{BorshDeserialize, BorshSerialize};
use show::proof;
use std::collections::BTreeMap;
use std::path::Path;

/// What is remembered of a build.
#[derive(BorshSerialize, BorshDeserialize)]
struct Said {
    digests: BTreeMap<String, String>,
    files: Vec<MadeFile>,
    findings: Vec<Finding>,
    notes: Vec<String>,
}

impl Value for Said {
    fn to_disk(&self) -> Option<Vec<u8>> {
        packed(self)
    }

    fn from_disk(form: &[u8]) -> Option<Self> {
        unpacked(form)
    }
}

/// What a whole build depends on: what it read, and the version that it was compared with.
fn task(world: &World, earlier: Option<&Earlier>) -> Task<'static> {
    let inputs: Vec<(String, Sha)> = world.inputs().into_iter().map(|(path, bytes)| (path, bytes.sha256())).collect();
    Task::new("whole build", &(inputs, earlier.map(|e| (&e.version, e.issued, &e.digest))))
}

/// The earlier build of exactly these inputs, if its bundle is still whole.
pub fn recall(
    session: &Session,
    world: &World,
    out: &Path,
    product: &Product,
    earlier: Option<&Earlier>,
) -> Option<Built> {
    let said = session.known::<Said>(task(world, earlier))?;
    let folder = store::holding(out, &product.slug, &product.version, &said.digests)?;
    Some(Built {
        proof: Some(folder.join(proof::FILE)),
        folder: Some(folder),
        findings: said.findings.clone(),
        files: said.files.clone(),
        product: product.clone(),
        notes: said.notes.clone(),
        since: None,
        earlier: None,
    })
}

/// Remembers what a build said, for the next one.
pub fn remember(session: &Session, world: &World, earlier: Option<&Earlier>, written: &[Artifact], built: &Built) {
    let said = Said {
        digests: checksum::digests(written),
        files: built.files.clone(),
        findings: built.findings.clone(),
        notes: built.notes.clone(),
    };
    session.remember(task(world, earlier), said);
}
