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

/// Where the central directory lies, as one end record has it.
struct Place {
    at: u64,
    size: u64,
    count: u64,
    zip64: bool,
    /// Bytes that stand before the archive and that its offsets do not count.
    shift: u64,
    /// Bytes after the end record and its comment.
    after: u64,
}

impl Central {
    /// Reads the end record, the directory and every local header.
    pub fn read(source: &mut (impl Read + Seek)) -> Result<Central, String> {
        let place = place(source)?;
        if place.count > MAX_ENTRIES || place.size > MAX_DIRECTORY {
            let Place { count, size, .. } = place;
            return Err(format!(
                "it lists {count} entries in {size} bytes; {MAX_ENTRIES} entries in {MAX_DIRECTORY} bytes are the most that is looked at"
            ));
        }
        let mut central =
            Central { entries: Vec::new(), zip64: place.zip64, stray: place.after, damage: Vec::new(), shared: 0 };
        let directory = slice(source, place.at + place.shift, place.size)?;
        central.directory(source, &directory, &place)?;
        Ok(central)
    }

    fn directory(&mut self, source: &mut (impl Read + Seek), bytes: &[u8], place: &Place) -> Result<(), String> {
        let count = place.count;
        let (mut at, mut first) = (0, u64::MAX);
        let mut spans = Vec::new();
        for n in 0..count {
            let Some((mut entry, name, next)) = self.entry(bytes, at) else {
                self.damage.push(format!("its directory is broken after {n} of {count} entries"));
                break;
            };
            entry.at = entry.at.saturating_add(place.shift);
            first = first.min(entry.at);
            spans.push((entry.at, entry.stored));
            entry.contradicts = local(source, &entry, name);
            self.entries.push(entry);
            at = next;
        }
        if at < bytes.len() && self.damage.is_empty() {
            self.damage.push(format!("{} bytes of its directory belong to no entry", bytes.len() - at));
        }
        if first != u64::MAX {
            self.stray += first;
        }
        spans.sort_unstable();
        // Entries that share bytes are the mark of a bomb without nesting.
        self.shared = spans.windows(2).filter(|w| w[0].0.saturating_add(30).saturating_add(w[0].1) > w[1].0).count();
        Ok(())
    }

    /// Reads one header of the directory; gives the entry, the bytes of its name, and where the next header begins.
    fn entry<'b>(&mut self, bytes: &'b [u8], at: usize) -> Option<(EntryFacts, &'b [u8], usize)> {
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
        let shown = shown(name, flags);
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
            at: offset,
            crc: u32_le(bytes, at + 16)?,
            ..EntryFacts::default()
        };
        Some((entry, name, at + 46 + name_length + extra_length + comment_length))
    }
}

/// Finds the end record. Its mark may stand in a comment or in a name as well, so the last one counts that has a
/// directory before it (APPNOTE 4.3.16; a record with nothing after its comment is the rule).
fn place(source: &mut (impl Read + Seek)) -> Result<Place, String> {
    let length = source.seek(SeekFrom::End(0)).map_err(|e| e.to_string())?;
    let tail_at = length.saturating_sub(22 + 65_535 + 20 + 56);
    let tail = slice(source, tail_at, length - tail_at)?;
    let mut why = None;
    let mut before = tail.len();
    while let Some(end) = find_last(&tail[..before], b"PK\x05\x06") {
        match one_place(source, &tail, tail_at, end) {
            Ok(place) => return Ok(place),
            // What the last mark lacks is told: the others are but more of a guess.
            Err(e) => why = why.or(Some(e)),
        }
        before = end + 3;
    }
    Err(why.unwrap_or_else(|| "its end record is missing; the file may be cut short".to_owned()))
}

/// The place of the directory by the end record that begins at `end` of the tail.
fn one_place(source: &mut (impl Read + Seek), tail: &[u8], tail_at: u64, end: usize) -> Result<Place, String> {
    let cut = || "its end record is cut short".to_owned();
    let long = |at| u32_le(tail, end + at).map(u64::from).ok_or_else(cut);
    let short = |at| u16_le(tail, end + at).ok_or_else(cut);
    let comment = u64::from(short(20)?);
    let rest = (tail.len() - end) as u64;
    let mut place = Place {
        at: long(16)?,
        size: long(12)?,
        count: u64::from(short(10)?),
        zip64: false,
        shift: 0,
        after: rest.checked_sub(22 + comment).ok_or_else(cut)?,
    };
    if matches!((short(4)?, short(6)?), (disk, first) if disk != first) {
        return Err("it is one part of an archive in several parts".to_owned());
    }
    let mut directory_end = tail_at + end as u64;
    // A locator stands right before the end record; the same bytes at the end of a name lead to no record.
    let locator = end.checked_sub(20).filter(|at| tail[*at..].starts_with(b"PK\x06\x07"));
    let record = locator.and_then(|at| u64_le(tail, at + 8)).and_then(|at| Some((at, slice(source, at, 56).ok()?)));
    match record.filter(|(at, record)| record.starts_with(b"PK\x06\x06") && *at < directory_end) {
        Some((record_at, record)) => {
            let word = |at| u64_le(&record, at).unwrap_or(0);
            (place.count, place.size, place.at) = (word(32), word(40), word(48));
            place.zip64 = true;
            directory_end = record_at;
        }
        None if place.at == 0xffff_ffff || place.size == 0xffff_ffff || place.count == 0xffff => {
            return Err("its ZIP64 end record is not where it should be".to_owned());
        }
        None => {}
    }
    let Some(last) = directory_end.checked_sub(place.size).filter(|last| place.at <= *last) else {
        return Err("its directory runs past its end record".to_owned());
    };
    let begins = |source: &mut _, at| slice(source, at, 4).is_ok_and(|b| b == b"PK\x01\x02");
    if place.size > 0 && !begins(source, place.at) && begins(source, last) {
        place.shift = last - place.at;
    }
    if place.count > 0 && !begins(source, place.at + place.shift) {
        return Err("its directory is not where its end record says".to_owned());
    }
    Ok(place)
}

/// What the local header says otherwise than the central one, in words. Names are compared as they are stored.
fn local(source: &mut (impl Read + Seek), entry: &EntryFacts, central: &[u8]) -> String {
    let Ok(header) = slice(source, entry.at, 30) else { return "its local header is missing".to_owned() };
    if !header.starts_with(b"PK\x03\x04") {
        return "its local header is not where the directory says".to_owned();
    }
    let length = u64::from(u16_le(&header, 26).unwrap_or(0));
    let name = slice(source, entry.at + 30, length).unwrap_or_default();
    let flags = u16_le(&header, 6).unwrap_or(0);
    let mut differs = Vec::new();
    if name != central {
        differs.push(format!("it is called \u{201c}{}\u{201d} there", shown(&name, flags)));
    }
    if (flags ^ entry.flags) & (UTF8 | ENCRYPTED) != 0 {
        differs.push("its flags differ".to_owned());
    }
    if u16_le(&header, 8) != Some(entry.method) {
        differs.push("its method differs".to_owned());
    }
    differs.join(", ")
}

/// Where the data of the entry begin whose local header lies at this offset.
pub fn data_start(source: &mut (impl Read + Seek), at: u64) -> Option<u64> {
    let header = slice(source, at, 30).ok().filter(|h| h.starts_with(b"PK\x03\x04"))?;
    Some(at + 30 + u64::from(u16_le(&header, 26)?) + u64::from(u16_le(&header, 28)?))
}

/// A name as it is shown: bytes that are UTF-8 are most likely meant so, whether bit 11 says it or not; all others are in
/// the old code page.
fn shown(name: &[u8], flags: u16) -> String {
    match std::str::from_utf8(name) {
        Ok(name) => name.to_owned(),
        Err(_) if flags & UTF8 != 0 => String::from_utf8_lossy(name).into_owned(),
        Err(_) => name.iter().map(|b| cp437(*b)).collect(),
    }
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
