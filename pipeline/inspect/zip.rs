//! ZIP archives: the headers read byte by byte, the contents unpacked from where they lie, neither more than a cap allows.
//!
//! The raw headers are looked at because a library hides what an unpacking program on somebody's tablet will trip over:
//! which flag says what the name's bytes mean, whether the two headers of an entry agree, what lies between them.

mod headers;

use base::model::facts::{EntryFacts, Facts, ZipFacts};
use headers::Central;
use sha2::{Digest, Sha256};
use std::collections::HashMap;
use std::io::{Read, Seek, SeekFrom};

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
    let mut left = MAX_UNPACKED;
    let mut buffer = vec![0; 64 << 10];
    for entry in &mut facts.entries {
        match digest(&mut source, entry, &mut left, &mut buffer) {
            Ok(sha256) => {
                entry.sha256 = sha256;
                entry.sound = true;
            }
            Err(why) => entry.skipped = why,
        }
    }
    Facts::Zip(facts)
}

/// The digest of an entry's contents; size and checksum are verified on the way.
fn digest(
    source: &mut (impl Read + Seek),
    entry: &EntryFacts,
    left: &mut u64,
    buffer: &mut [u8],
) -> Result<String, String> {
    let cap = entry.stored.saturating_mul(MAX_RATIO).saturating_add(1 << 16).min(*left);
    let mut contents = contents(source, entry)?;
    let (mut hasher, mut crc) = (Sha256::new(), flate2::Crc::new());
    let mut unpacked: u64 = 0;
    loop {
        let n = contents.read(buffer).map_err(|_| format!("its data are damaged after {unpacked} bytes"))?;
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
        crc.update(&buffer[..n]);
    }
    *left -= unpacked;
    if unpacked != entry.size {
        return Err(format!("it states {} bytes and unpacks to {unpacked}", entry.size));
    }
    if crc.sum() != entry.crc {
        return Err("its checksum is wrong".to_owned());
    }
    Ok(super::bytes::hex(&hasher.finalize()))
}

/// The contents of an entry, found by the place that the directory gives and by nothing else: two entries may share a
/// name, and a name may be read in several ways (APPNOTE 4.3.7 and 4.4.5).
fn contents<'s>(source: &'s mut (impl Read + Seek), entry: &EntryFacts) -> Result<Box<dyn Read + 's>, String> {
    if entry.flags & headers::ENCRYPTED != 0 {
        return Err("it is encrypted".to_owned());
    }
    let start = headers::data_start(source, entry.at).ok_or("its local header is not where the directory says")?;
    source.seek(SeekFrom::Start(start)).map_err(|why| why.to_string())?;
    let stored = source.take(entry.stored);
    match entry.method {
        0 => Ok(Box::new(stored)),
        8 => Ok(Box::new(flate2::read::DeflateDecoder::new(stored))),
        other => Err(format!("it is packed by method {other}")),
    }
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
    mut source: impl Read + Seek,
    facts: &ZipFacts,
    wanted: &mut dyn FnMut(&EntryFacts) -> bool,
    to: &mut dyn FnMut(&str, Vec<u8>),
) {
    // Of entries that share a name the last one is what an unpacking program leaves.
    let last: HashMap<&str, u64> = facts.entries.iter().map(|e| (e.name.as_str(), e.at)).collect();
    let is_last = |entry: &EntryFacts| last.get(entry.name.as_str()) == Some(&entry.at);
    for entry in facts.entries.iter().filter(|e| e.sound && !e.folder && is_last(e) && wanted(e)) {
        let mut bytes = Vec::new();
        let Ok(contents) = contents(&mut source, entry) else { continue };
        if contents.take(entry.size).read_to_end(&mut bytes).is_ok() {
            to(&entry.name, bytes);
        }
    }
}
