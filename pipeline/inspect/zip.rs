//! ZIP archives: the headers read byte by byte, the contents unpacked with the zip crate, neither more than a cap allows.
//!
//! The raw headers are looked at because a library hides what an unpacking program on somebody's tablet will trip over:
//! which flag says what the name's bytes mean, whether the two headers of an entry agree, what lies between them.

mod headers;

use base::model::facts::{EntryFacts, Facts, ZipFacts};
use headers::Central;
use sha2::{Digest, Sha256};
use std::io::{Read, Seek};

/// The most bytes that are unpacked from one archive.
const MAX_UNPACKED: u64 = 8 << 30;
/// The most bytes that are unpacked from one entry for each byte that it takes stored; deflate reaches 1,032.
const MAX_RATIO: u64 = 1200;

/// Reads an archive from anything that can be read and sought; the contents are never held in memory whole.
pub fn read(mut source: impl Read + Seek) -> Facts {
    let central = match Central::read(&mut source) {
        Ok(central) => central,
        Err(why) => return Facts::Unreadable(format!("it begins like a ZIP archive, but cannot be read: {why}")),
    };
    let mut facts = ZipFacts {
        entries: central.entries,
        zip64: central.zip64,
        stray_bytes: central.stray,
        shared: central.shared,
        damage: central.damage,
    };
    if facts.entries.is_empty() {
        return Facts::Zip(facts);
    }
    match zip::ZipArchive::new(&mut source) {
        Ok(mut archive) => unpack(&mut archive, &mut facts),
        Err(why) => {
            facts.damage.push(format!("a strict reader refuses it: {why}"));
            for entry in &mut facts.entries {
                entry.skipped = "the archive could not be opened".to_owned();
            }
        }
    }
    Facts::Zip(facts)
}

/// Unpacks every entry into nothing but its digest.
fn unpack<R: Read + Seek>(archive: &mut zip::ZipArchive<R>, facts: &mut ZipFacts) {
    let mut left = MAX_UNPACKED;
    // The library drops all but the last of entries that share a name, so they are asked for by name.
    let mut names: Vec<(String, usize)> =
        (0..archive.len()).filter_map(|i| Some((archive.name_for_index(i)?.ok()?.into_owned(), i))).collect();
    names.sort();
    let mut buffer = vec![0; 64 << 10];
    for i in 0..facts.entries.len() {
        let twin = facts.entries[i + 1..].iter().any(|later| later.name == facts.entries[i].name);
        let entry = &mut facts.entries[i];
        if twin {
            entry.skipped = "a later entry has the same name".to_owned();
            continue;
        }
        let Ok(found) = names.binary_search_by(|(name, _)| name.as_str().cmp(&entry.name)) else {
            entry.skipped = "its name is read in two ways".to_owned();
            continue;
        };
        match digest(archive, names[found].1, entry, &mut left, &mut buffer) {
            Ok(sha256) => {
                entry.sha256 = sha256;
                entry.sound = true;
            }
            Err(why) => entry.skipped = why,
        }
    }
}

/// The digest of an entry's contents; its checksum is verified on the way.
fn digest<R: Read + Seek>(
    archive: &mut zip::ZipArchive<R>,
    index: usize,
    entry: &EntryFacts,
    left: &mut u64,
    buffer: &mut [u8],
) -> Result<String, String> {
    let cap = entry.stored.saturating_mul(MAX_RATIO).saturating_add(1 << 16).min(*left);
    let mut file = archive.by_index(index).map_err(|why| why.to_string())?;
    let mut hasher = Sha256::new();
    let mut unpacked: u64 = 0;
    loop {
        let n = file.read(buffer).map_err(|why| why.to_string())?;
        if n == 0 {
            break;
        }
        unpacked += n as u64;
        if unpacked > cap || unpacked > entry.size {
            return Err(format!(
                "it unpacks to more than the {} bytes that it states or that are safe",
                entry.size.min(cap)
            ));
        }
        hasher.update(&buffer[..n]);
    }
    *left -= unpacked;
    if unpacked != entry.size {
        return Err(format!("it states {} bytes and unpacks to {unpacked}", entry.size));
    }
    Ok(super::bytes::hex(&hasher.finalize()))
}

/// The most bytes of entries that are held in memory together, and of one alone.
const MAX_HELD: u64 = 256 << 20;
const MAX_ONE: u64 = 64 << 20;

/// Whether a reader here understands files of this name.
fn known(name: &str) -> bool {
    let name = name.to_ascii_lowercase();
    [".pdf", ".png", ".txt", ".md", ".json"].iter().any(|ending| name.ends_with(ending)) || name.ends_with("sha256sums")
}

/// The contents of those entries that other readers understand, in the order of the archive. Only sound ones are taken.
pub fn take(source: impl Read + Seek, facts: &ZipFacts) -> Vec<(String, Vec<u8>)> {
    let (mut left, mut taken) = (MAX_HELD, Vec::new());
    let mut fits = |entry: &EntryFacts| {
        let fits = known(&entry.name) && entry.size <= left;
        left -= if fits { entry.size } else { 0 };
        fits
    };
    each(source, facts, &mut fits, &mut |name, bytes| taken.push((name.to_owned(), bytes)));
    taken
}

/// Shows the contents of one entry after the other, archives and pictures among them; only one is in memory at a time,
/// and none that is very large.
pub fn show(source: impl Read + Seek, facts: &ZipFacts, to: &mut dyn FnMut(&str, Vec<u8>)) {
    let readable = |name: &str| {
        let name = name.to_ascii_lowercase();
        known(&name) || [".zip", ".jpg", ".jpeg", ".gif"].iter().any(|ending| name.ends_with(ending))
    };
    each(source, facts, &mut |entry| readable(&entry.name) && entry.size <= MAX_ONE, to);
}

fn each(
    source: impl Read + Seek,
    facts: &ZipFacts,
    wanted: &mut dyn FnMut(&EntryFacts) -> bool,
    to: &mut dyn FnMut(&str, Vec<u8>),
) {
    let Ok(mut archive) = zip::ZipArchive::new(source) else { return };
    for entry in facts.entries.iter().filter(|e| e.sound && !e.folder && wanted(e)) {
        let mut bytes = Vec::new();
        let Ok(file) = archive.by_name(&entry.name) else { continue };
        if file.take(entry.size).read_to_end(&mut bytes).is_ok() {
            to(&entry.name, bytes);
        }
    }
}
