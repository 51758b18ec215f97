//! A build in which nothing changed that is made: what the last build of the same inputs said, while its bundle still lies
//! there byte for byte. Blank lines and comments of a manifest change the record alone, which names what was read by its
//! digest.

use super::built::{Built, MadeFile};
use super::session::{Session, Task, Value};
use super::values::{packed, unpacked};
use super::{bundle, seals};
use crate::package::record;
use crate::releases::compare::{RECORD, SUMS};
use crate::store;
use crate::store::Earlier;
use crate::world::World;
use base::checksum;
use base::files::Files;
use base::model::{Artifact, Blob, Finding, Kind, Product, Sha};
use borsh::{BorshDeserialize, BorshSerialize};
use show::proof;
use std::collections::BTreeMap;
use std::path::Path;

/// What is remembered of a build.
#[derive(BorshSerialize, BorshDeserialize)]
struct Said {
    /// Digests of all files that do not tell of the inputs.
    digests: BTreeMap<String, String>,
    /// The record of no inputs.
    record: String,
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
    let inputs = world.inputs().into_iter().map(|(path, bytes)| (stated(&path, &bytes), path));
    let inputs: Vec<(Sha, String)> = inputs.collect();
    Task::new("whole build", &(inputs, earlier.map(|e| (&e.version, e.issued, &e.digest))))
}

/// The digest of what a file states: of a manifest or a shop's file that of its keys and values in their order.
fn stated(path: &str, bytes: &Blob) -> Sha {
    let table = || toml::from_str::<toml::Table>(std::str::from_utf8(bytes).ok()?).ok();
    let values = if manifest::is_manifest(path) { table() } else { None };
    let values = values.and_then(|table| toml::to_string(&table).ok());
    values.map_or_else(|| bytes.sha256(), |values| Sha::of(values.as_bytes()))
}

/// The earlier build of these inputs, if its bundle is still whole; and the files of it that tell of the inputs, where those
/// that lie there tell of others.
pub fn recall(
    session: &Session,
    world: &World,
    out: &Path,
    product: &Product,
    earlier: Option<&Earlier>,
) -> Option<(Built, Vec<Artifact>)> {
    let said = session.known::<Said>(task(world, earlier))?;
    let telling = telling(&said, world)?;
    let mut digests = said.digests.clone();
    digests.extend(checksum::digests(&telling));
    let unlike = store::unlike(out, &product.slug, &product.version, &digests)?;
    let in_other_words = || unlike.iter().all(|path| tells(path)) && said.holds_for_others(product, earlier);
    if !(unlike.is_empty() || in_other_words()) {
        return None;
    }
    let folder = store::place(out, &product.slug, &product.version);
    let built = Built {
        proof: Some(folder.join(proof::FILE)),
        folder: Some(folder),
        findings: said.findings.clone(),
        files: said.files.clone(),
        product: product.clone(),
        notes: said.notes.clone(),
        since: None,
        earlier: None,
    };
    Some((built, telling.into_iter().filter(|file| unlike.contains(&file.path)).collect()))
}

impl Said {
    /// Whether all of it holds where the inputs state the same in other words: what it says names no line of them, and no
    /// other file was made of the record.
    fn holds_for_others(&self, product: &Product, earlier: Option<&Earlier>) -> bool {
        let makes_pack = product.versions.update_pack && earlier.is_some();
        let names_a_line = |text: &str| text.contains(".toml:");
        let in_a_line = |f: &Finding| f.place.span.is_some() || names_a_line(&f.message) || names_a_line(&f.help);
        let notes = || self.notes.iter().any(|note| names_a_line(note));
        !product.is_set() && !makes_pack && !self.findings.iter().any(in_a_line) && !notes()
    }
}

/// Whether a file tells what the inputs were.
fn tells(path: &str) -> bool {
    path == RECORD || path == SUMS
}

/// The record of these inputs, and the digests of all files with it.
fn telling(said: &Said, world: &World) -> Option<Vec<Artifact>> {
    let inputs: Vec<(String, String)> = seals::inputs_of(world).into_iter().collect();
    let record = record::with_inputs(&said.record, &inputs)?;
    let record = bundle::text(RECORD, Kind::Listing, record);
    let mut digests = said.digests.clone();
    digests.insert(record.path.clone(), record.bytes.sha256().to_string());
    Some(vec![record, bundle::text(SUMS, Kind::Listing, checksum::sums(&digests))])
}

/// Remembers what a build said, for the next one.
pub fn remember(session: &Session, world: &World, earlier: Option<&Earlier>, written: &[Artifact], built: &Built) {
    let (telling, others): (Vec<&Artifact>, Vec<&Artifact>) = written.iter().partition(|file| tells(&file.path));
    let record = telling.iter().find(|file| file.path == RECORD);
    let record = record.and_then(|record| record::with_inputs(std::str::from_utf8(&record.bytes).ok()?, &[]));
    let Some(record) = record else { return };
    let said = Said {
        digests: others.iter().map(|f| (f.path.clone(), f.bytes.sha256().to_string())).collect(),
        record,
        files: built.files.clone(),
        findings: built.findings.clone(),
        notes: built.notes.clone(),
    };
    session.remember(task(world, earlier), said);
}
