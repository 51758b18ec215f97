//! Finished files read back, each once: what was read from the same bytes before is not read again.

use super::memory::Memory;
use crate::store::Cache;
use base::checksum::sha256_hex;
use base::model::facts::{Facts, Inspected, PngFacts};
use base::model::{Artifact, Kind};
use rayon::prelude::*;

/// Reads files back, in their order.
pub fn all(files: &[Artifact], cache: Option<&Cache>, memory: &Memory) -> Vec<Inspected> {
    files.par_iter().map(|file| one(file, cache, memory)).collect()
}

/// Reads a file back.
pub fn one(file: &Artifact, cache: Option<&Cache>, memory: &Memory) -> Inspected {
    let sha256 = sha256_hex(&file.bytes);
    let kind = Some(file.kind);
    if let Some(known) = memory.reading(&file.path, &sha256) {
        return Inspected { kind, ..known };
    }
    let read = if let (Kind::Sticker | Kind::Sheet | Kind::Picture, Some(cache)) = (file.kind, cache) {
        picture(file, kind, sha256, cache)
    } else {
        inspect::inspect(&file.path, kind, &file.bytes)
    };
    memory.keep_reading(&read);
    read
}

/// Pictures are looked at pixel by pixel, which takes longer than to keep what was found.
fn picture(file: &Artifact, kind: Option<Kind>, sha256: String, cache: &Cache) -> Inspected {
    let key = format!("{}\nread {sha256}", env!("SHEAFWRIGHT_SOURCES"));
    if let Some(facts) = cache.get(&key).and_then(|bytes| serde_json::from_slice::<PngFacts>(&bytes).ok()) {
        let facts = Facts::Png(facts);
        return Inspected { path: file.path.clone(), kind, size: file.bytes.len() as u64, sha256, facts };
    }
    let read = inspect::inspect(&file.path, kind, &file.bytes);
    if let Facts::Png(png) = &read.facts
        && let Ok(text) = serde_json::to_vec(png)
    {
        cache.put(&key, &text);
    }
    read
}
