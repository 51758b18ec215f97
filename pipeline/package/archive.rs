//! Zip archives that are the same bytes on every machine and that every unpacker opens.
//!
//! What may differ from one zip program to the next is fixed here: entries are sorted by name, carry the earliest
//! time that the format knows (1980-01-01 00:00:00), the mode 0644 and no extra fields; there are no entries for
//! folders. Methods are the two that every unpacker knows, stored and deflate (APPNOTE 4.4.5: 0 and 8). Pictures
//! and PDF files are compressed already, so they are stored unless deflate saves at least a fiftieth.
//!
//! An entry is compressed once, before it is known which archive it goes to. That makes the size of any archive
//! known exactly before it is written, so the packer works with true figures.

use base::model::{Artifact, Fault};
use rayon::prelude::*;
use std::io::Cursor;
use unicode_normalization::UnicodeNormalization;
use zip::write::{PreparedZipFile, SimpleFileOptions};
use zip::{CompressionMethod, DateTime, System, ZipWriter};

/// Bytes of an archive without entries: the end record (APPNOTE 4.3.16).
pub const EMPTY: u64 = 22;

/// Bytes that every entry takes beside its data and twice its name: local header 30, central header 46 (APPNOTE
/// 4.3.7 and 4.3.12).
const HEADERS: u64 = 30 + 46;

/// Sizes and offsets from here on need ZIP64 (APPNOTE 4.4.8).
const ZIP64_FROM: u64 = 0xFFFF_FFFF;

/// Compression level of deflate.
const LEVEL: u8 = 6;

/// A file ready to be put into an archive.
pub struct Packed {
    name: String,
    file: PreparedZipFile,
}

impl Packed {
    /// Its name in the archive.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How many bytes it adds to an archive, headers included; exact below 4 GiB.
    pub fn cost(&self) -> u64 {
        HEADERS + 2 * self.name.len() as u64 + self.file.compressed_size()
    }
}

/// Says whether a file gains by deflate.
pub type Worth<'a> = &'a (dyn Fn(&Artifact) -> bool + Sync);

/// Compresses one file under a name, and refuses a name that some system could not unpack.
pub fn prepare(name: &str, artifact: &Artifact, worth: Worth) -> Result<Packed, Fault> {
    let name: String = name.nfc().collect();
    if let Some(why) = unpackable(&name) {
        return Err(Fault::new(format!("the name “{name}” cannot go into a zip: {why}"))
            .in_file(&artifact.path)
            .help("use letters, digits, dots, hyphens and underscores, with / between folders"));
    }
    let method = if worth(artifact) { CompressionMethod::Deflated } else { CompressionMethod::Stored };
    let options = SimpleFileOptions::default()
        .compression_method(method)
        .compression_level((method == CompressionMethod::Deflated).then_some(i64::from(LEVEL)))
        .last_modified_time(DateTime::DEFAULT)
        .system(System::Unix)
        .unix_permissions(0o644);
    let file = PreparedZipFile::from_data(&name, options, &artifact.bytes)
        .map_err(|e| Fault::new(format!("it cannot be compressed: {e}")).in_file(&artifact.path))?;
    Ok(Packed { name, file })
}

/// Compresses many files in parallel; the result is in their order. All faults are reported.
pub fn prepare_all(files: &[(String, &Artifact)], worth: Worth) -> Result<Vec<Packed>, Vec<Fault>> {
    let results: Vec<Result<Packed, Fault>> = files.par_iter().map(|(name, file)| prepare(name, file, worth)).collect();
    let (mut packed, mut faults) = (Vec::with_capacity(results.len()), Vec::new());
    for result in results {
        match result {
            Ok(p) => packed.push(p),
            Err(f) => faults.push(f),
        }
    }
    if faults.is_empty() { Ok(packed) } else { Err(faults) }
}

/// Size in bytes of the archive that `write` makes of entries with these costs; exact below 4 GiB.
pub fn size(costs: impl IntoIterator<Item = u64>) -> u64 {
    EMPTY + costs.into_iter().sum::<u64>()
}

/// Writes an archive. `label` names it in messages. Two names that a system which ignores case, or composes
/// accents, would take for one are refused.
pub fn write(label: &str, mut entries: Vec<Packed>) -> Result<Vec<u8>, Fault> {
    entries.sort_by(|a, b| a.name.cmp(&b.name));
    // Up and down again: “ß” and “SS” fall together too.
    let fold = |name: &str| name.to_uppercase().to_lowercase().nfc().collect::<String>();
    let mut folded: Vec<String> = entries.iter().map(|e| fold(&e.name)).collect();
    folded.sort();
    if let Some(twice) = folded.windows(2).find(|w| w[0] == w[1]) {
        return Err(Fault::new(format!("two files are called “{}” once case is ignored", twice[0]))
            .in_file(label)
            .help("give them different names: many tablets and computers would keep only one of them"));
    }
    let expected = size(entries.iter().map(Packed::cost));
    let mut zip = ZipWriter::new(Cursor::new(Vec::with_capacity(expected as usize)));
    let mut run = || -> zip::result::ZipResult<()> {
        for entry in entries.drain(..) {
            zip.add_prepared_file(entry.file)?;
        }
        Ok(())
    };
    run().map_err(|e| Fault::new(format!("it cannot be written: {e}")).in_file(label))?;
    let bytes = zip.finish().map_err(|e| Fault::new(format!("it cannot be written: {e}")).in_file(label))?.into_inner();
    // Above 4 GiB the format adds fields that the sum does not count; no shop takes such a file.
    if expected < ZIP64_FROM && bytes.len() as u64 != expected {
        return Err(Fault::new(format!("it was to have {expected} bytes and has {}", bytes.len())).in_file(label));
    }
    Ok(bytes)
}

/// Whether deflate makes the bytes smaller: at all, or for pictures and PDF files by 2 % at least, since each stored
/// entry is one less to unpack on a slow tablet.
pub fn worth(file: &Artifact) -> bool {
    let bytes = &file.bytes;
    if bytes.is_empty() {
        return false;
    }
    let lower = file.path.to_ascii_lowercase();
    let packed_already = [".png", ".pdf", ".jpg", ".jpeg", ".zip"].iter().any(|e| lower.ends_with(e));
    let level = libdeflater::CompressionLvl::new(i32::from(LEVEL)).unwrap_or_default();
    let mut trial = libdeflater::Compressor::new(level);
    let mut room = vec![0; trial.deflate_compress_bound(bytes.len())];
    let Ok(deflated) = trial.deflate_compress(bytes, &mut room) else { return false };
    if packed_already { deflated * 50 <= bytes.len() * 49 } else { deflated < bytes.len() }
}

/// Why a name cannot be unpacked on every system, if it cannot: APPNOTE 4.4.17 (relative, forward slashes, no
/// drive letter) and the rules for file names on Windows, which are the narrowest in use.
fn unpackable(name: &str) -> Option<String> {
    if name.is_empty() {
        return Some("it is empty".into());
    }
    if name.len() > 255 {
        return Some(format!("it has {} bytes, and 255 are the most that all systems take", name.len()));
    }
    if let Some(c) = name.chars().find(|c| c.is_control() || r#"<>:"\|?*"#.contains(*c)) {
        return Some(format!("{c:?} is not allowed in file names everywhere"));
    }
    for part in name.split('/') {
        if part.is_empty() {
            return Some("it begins or ends with /, or has two of them in a row".into());
        }
        if part == "." || part == ".." {
            return Some(format!("“{part}” would lead out of the folder"));
        }
        if part.ends_with(['.', ' ']) {
            return Some(format!("“{part}” ends with a dot or a space, which Windows drops"));
        }
        if part.starts_with([' ', '-']) {
            return Some(format!("“{part}” begins with a space or a hyphen"));
        }
        let stem = part.split('.').next().unwrap_or(part).trim_end().to_ascii_uppercase();
        if reserved(&stem) {
            return Some(format!("“{part}” is the name of a device on Windows"));
        }
    }
    None
}

/// Device names that Windows reserves, whatever the ending (Microsoft, “Naming Files, Paths, and Namespaces”).
fn reserved(stem: &str) -> bool {
    if matches!(stem, "CON" | "PRN" | "AUX" | "NUL") {
        return true;
    }
    let Some(number) = stem.strip_prefix("COM").or_else(|| stem.strip_prefix("LPT")) else { return false };
    matches!(number, "1" | "2" | "3" | "4" | "5" | "6" | "7" | "8" | "9" | "¹" | "²" | "³")
}

#[cfg(test)]
mod tests;
