//! The headers of a ZIP archive, byte by byte (APPNOTE 6.3.10, sections 4.3 and 4.4).

use crate::bytes::{find_last, u16_le, u32_le, u64_le};
use base::model::facts::EntryFacts;
use std::io::{Read, Seek, SeekFrom};

/// The most entries that are read.
const MAX_ENTRIES: u64 = 200_000;
/// The most bytes of central directory that are read.
const MAX_DIRECTORY: u64 = 256 << 20;
/// Bit 0: encrypted. Bit 11: the name is UTF-8.
pub const ENCRYPTED: u16 = 1;
/// Bit 11 of the flags.
pub const UTF8: u16 = 1 << 11;

/// What the central directory says.
pub struct Central {
    /// Its entries.
    pub entries: Vec<EntryFacts>,
    /// Whether ZIP64 structures are used.
    pub zip64: bool,
    /// Bytes before the first entry and after the end record.
    pub stray: u64,
    /// What is broken.
    pub damage: Vec<String>,
    /// How many entries lie within the bytes of others.
    pub shared: usize,
}

impl Central {
    /// Reads the end record, the directory and every local header.
    pub fn read(source: &mut (impl Read + Seek)) -> Result<Central, String> {
        let length = source.seek(SeekFrom::End(0)).map_err(|e| e.to_string())?;
        let tail_at = length.saturating_sub(22 + 65_535 + 20 + 56);
        let tail = slice(source, tail_at, length - tail_at)?;
        let end = find_last(&tail, b"PK\x05\x06").ok_or("its end record is missing; the file may be cut short")?;
        let field = |at| u32_le(&tail, end + at).map(u64::from).ok_or("its end record is cut short");
        let (mut size, mut at) = (field(12)?, field(16)?);
        let mut count = u64::from(u16_le(&tail, end + 10).unwrap_or(0));
        let comment = u64::from(u16_le(&tail, end + 20).unwrap_or(0));
        let mut directory_end = tail_at + end as u64;
        let mut central = Central { entries: Vec::new(), zip64: false, stray: 0, damage: Vec::new(), shared: 0 };
        if let Some(locator) = find_last(&tail[..end], b"PK\x06\x07").filter(|l| *l + 20 == end) {
            let record_at = u64_le(&tail, locator + 8).unwrap_or(0);
            let record = slice(source, record_at, 56)?;
            if !record.starts_with(b"PK\x06\x06") {
                return Err("its ZIP64 end record is not where it should be".to_owned());
            }
            count = u64_le(&record, 32).unwrap_or(0);
            size = u64_le(&record, 40).unwrap_or(0);
            at = u64_le(&record, 48).unwrap_or(0);
            directory_end = record_at;
            central.zip64 = true;
        }
        central.stray = length.saturating_sub(tail_at + end as u64 + 22 + comment);
        if count > MAX_ENTRIES || size > MAX_DIRECTORY {
            return Err(format!("it lists {count} entries in {size} bytes, more than is looked at"));
        }
        if at.saturating_add(size) > directory_end {
            return Err("its directory runs past its end record".to_owned());
        }
        let directory = slice(source, at, size)?;
        central.directory(source, &directory, count)?;
        Ok(central)
    }

    fn directory(&mut self, source: &mut (impl Read + Seek), bytes: &[u8], count: u64) -> Result<(), String> {
        let (mut at, mut first) = (0, u64::MAX);
        let mut spans = Vec::new();
        for n in 0..count {
            let Some((entry, next, offset)) = self.entry(bytes, at) else {
                self.damage.push(format!("its directory is broken after {n} of {count} entries"));
                break;
            };
            first = first.min(offset);
            spans.push((offset, entry.stored, self.entries.len()));
            self.entries.push(entry);
            at = next;
        }
        if at < bytes.len() && self.damage.is_empty() {
            self.damage.push(format!("{} bytes of its directory belong to no entry", bytes.len() - at));
        }
        if first != u64::MAX {
            self.stray += first;
        }
        for (offset, _, i) in &spans {
            self.entries[*i].contradicts = local(source, *offset, &self.entries[*i]);
        }
        spans.sort_unstable();
        // Entries that share bytes are the mark of a bomb without nesting.
        self.shared = spans.windows(2).filter(|w| w[0].0.saturating_add(30).saturating_add(w[0].1) > w[1].0).count();
        Ok(())
    }

    /// Reads one header of the directory; gives the entry, where the next begins, and its local header's offset.
    fn entry(&mut self, bytes: &[u8], at: usize) -> Option<(EntryFacts, usize, u64)> {
        if !bytes.get(at..)?.starts_with(b"PK\x01\x02") {
            return None;
        }
        let short = |offset| u16_le(bytes, at + offset);
        let long = |offset| u32_le(bytes, at + offset).map(u64::from);
        let (flags, method) = (short(8)?, short(10)?);
        let (name_length, extra_length) = (usize::from(short(28)?), usize::from(short(30)?));
        let comment_length = usize::from(short(32)?);
        let (mut stored, mut size, mut offset) = (long(20)?, long(24)?, long(42)?);
        let attributes = u32_le(bytes, at + 38)?;
        let made_on_unix = short(4)? >> 8 == 3;
        let name = bytes.get(at + 46..at + 46 + name_length)?;
        let extra = bytes.get(at + 46 + name_length..at + 46 + name_length + extra_length)?;
        let mut ids = Vec::new();
        let mut rest = extra;
        while let (Some(id), Some(length)) = (u16_le(rest, 0), u16_le(rest, 2)) {
            ids.push(id);
            let body = rest.get(4..4 + usize::from(length)).unwrap_or_default();
            if id == 1 {
                self.zip64 = true;
                let mut words = body.chunks_exact(8).map(|w| u64_le(w, 0).unwrap_or(0));
                for field in [&mut size, &mut stored, &mut offset] {
                    if *field == 0xffff_ffff {
                        *field = words.next()?;
                    }
                }
            }
            rest = rest.get(4 + usize::from(length)..).unwrap_or_default();
        }
        let utf8 = std::str::from_utf8(name).is_ok();
        let shown = if flags & UTF8 != 0 || name.is_ascii() {
            String::from_utf8_lossy(name).into_owned()
        } else {
            name.iter().map(|b| cp437(*b)).collect()
        };
        let entry = EntryFacts {
            folder: shown.ends_with('/'),
            name: shown,
            size,
            stored,
            method,
            flags,
            utf8,
            symlink: made_on_unix && attributes >> 16 & 0o170_000 == 0o120_000,
            extra: ids,
            time: dos_time(short(14)?, short(12)?),
            ..EntryFacts::default()
        };
        Some((entry, at + 46 + name_length + extra_length + comment_length, offset))
    }
}

/// What the local header says otherwise than the central one, in words.
fn local(source: &mut (impl Read + Seek), offset: u64, entry: &EntryFacts) -> String {
    let Ok(header) = slice(source, offset, 30) else { return "its local header is missing".to_owned() };
    if !header.starts_with(b"PK\x03\x04") {
        return "its local header is not where the directory says".to_owned();
    }
    let length = u64::from(u16_le(&header, 26).unwrap_or(0));
    let name = slice(source, offset + 30, length).unwrap_or_default();
    let flags = u16_le(&header, 6).unwrap_or(0);
    let mut differs = Vec::new();
    let same_name = if flags & UTF8 != 0 || name.is_ascii() {
        String::from_utf8_lossy(&name) == entry.name.as_str()
    } else {
        name.iter().map(|b| cp437(*b)).eq(entry.name.chars())
    };
    if !same_name {
        differs.push(format!("it is called \u{201c}{}\u{201d} there", String::from_utf8_lossy(&name)));
    }
    if (flags ^ entry.flags) & (UTF8 | ENCRYPTED) != 0 {
        differs.push("its flags differ".to_owned());
    }
    if u16_le(&header, 8) != Some(entry.method) {
        differs.push("its method differs".to_owned());
    }
    differs.join(", ")
}

fn dos_time(date: u16, time: u16) -> String {
    format!(
        "{:04}-{:02}-{:02} {:02}:{:02}:{:02}",
        1980 + (date >> 9),
        date >> 5 & 15,
        date & 31,
        time >> 11,
        time >> 5 & 63,
        (time & 31) * 2
    )
}

/// A byte of a name without bit 11: IBM code page 437 (APPNOTE, appendix D).
fn cp437(byte: u8) -> char {
    const HIGH: &str = "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜ¢£¥₧ƒáíóúñÑªº¿⌐¬½¼¡«»░▒▓│┤╡╢╖╕╣║╗╝╜╛┐└┴┬├─┼╞╟╚╔╩╦╠═╬╧╨╤╥╙╘╒╓╫╪┘┌█▄▌▐▀αßΓπΣσµτΦΘΩδ∞φε∩≡±≥≤⌠⌡÷≈°∙·√ⁿ²■\u{a0}";
    if byte < 0x80 { char::from(byte) } else { HIGH.chars().nth(usize::from(byte) - 0x80).unwrap_or('?') }
}

fn slice(source: &mut (impl Read + Seek), at: u64, length: u64) -> Result<Vec<u8>, String> {
    source.seek(SeekFrom::Start(at)).map_err(|e| e.to_string())?;
    let mut bytes = Vec::new();
    source.take(length).read_to_end(&mut bytes).map_err(|e| e.to_string())?;
    if bytes.len() as u64 == length { Ok(bytes) } else { Err("it is cut short".to_owned()) }
}
