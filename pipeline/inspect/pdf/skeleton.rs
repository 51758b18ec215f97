//! The skeleton of a PDF: header, end, cross-reference data, encryption.
//!
//! A good reader mends a broken skeleton in silence, which is right for reading and wrong for checking: the next reader
//! may not be so kind. So the skeleton is looked at here, byte by byte.

use crate::bytes::{find, find_last};
use hayro_syntax::object::{Array, Dict, FromBytes, Name, Number, Object, Stream};
use std::collections::{BTreeMap, BTreeSet};

/// The most sections of cross-reference data that are followed.
const MAX_SECTIONS: usize = 256;
/// The most faults that are listed.
const MAX_FAULTS: usize = 8;

/// What the skeleton looks like.
#[derive(Default)]
pub struct Skeleton {
    /// Version of the header, as `1.7`.
    pub version: String,
    /// Whether the trailer names an encryption dictionary.
    pub encrypted: bool,
    /// What a reader has to mend.
    pub damage: Vec<String>,
    /// Number and generation of every object that is in use.
    pub objects: BTreeMap<u32, i32>,
    /// Object streams and cross-reference streams, by number.
    pub containers: BTreeSet<u32>,
    /// What the trailers refer to.
    pub roots: Vec<u32>,
}

/// Looks at the skeleton.
pub fn look(bytes: &[u8]) -> Skeleton {
    let mut found = Skeleton::default();
    header(bytes, &mut found);
    if find_last(&bytes[bytes.len().saturating_sub(1024)..], b"%%EOF").is_none() {
        found.damage.push("the end mark %%EOF is missing; the file may be cut short".to_owned());
    }
    match start(bytes) {
        Some(at) => sections(bytes, at, &mut found),
        None => {
            found.damage.push("the end of the file does not say where its cross-reference table is".to_owned());
            // Without a table there is no trailer to ask.
            found.encrypted = find(bytes, b"/Encrypt ").is_some();
        }
    }
    found.damage.truncate(MAX_FAULTS);
    found
}

fn header(bytes: &[u8], found: &mut Skeleton) {
    let Some(at) = find(&bytes[..bytes.len().min(1024)], b"%PDF-") else { return };
    let version: String =
        bytes[at + 5..].iter().take(3).map(|b| char::from(*b)).filter(|c| c.is_ascii_digit() || *c == '.').collect();
    if at > 0 {
        found.damage.push(format!("{at} bytes stand before the header"));
    }
    found.version = version;
}

/// Where the last `startxref` points.
fn start(bytes: &[u8]) -> Option<usize> {
    let tail = &bytes[bytes.len().saturating_sub(4096)..];
    let at = find_last(tail, b"startxref")?;
    let mut cursor = Cursor { bytes: tail, at: at + 9 };
    cursor.number().map(|n| n as usize)
}

/// Follows the chain of cross-reference sections from the newest to the oldest.
fn sections(bytes: &[u8], first: usize, found: &mut Skeleton) {
    let mut queue = vec![first];
    let mut visited = BTreeSet::new();
    let mut known = BTreeSet::new();
    while let Some(at) = queue.pop() {
        if visited.len() >= MAX_SECTIONS || !visited.insert(at) {
            continue;
        }
        let Some(trailer) = section(bytes, at, &mut known, found) else {
            found.damage.push(format!("no cross-reference table begins at byte {at}, where one was promised"));
            return;
        };
        // The newest trailer counts; older ones repeat the entry.
        found.encrypted |= trailer.contains_key("Encrypt");
        found.roots.extend(["Root", "Info", "Encrypt"].iter().filter_map(|k| Some(trailer.get_ref(k)?.obj_number)));
        for key in ["Prev", "XRefStm"] {
            if let Some(before) = trailer.get::<Number>(key)
                && let Ok(before) = usize::try_from(before.as_i64())
            {
                queue.push(before);
            }
        }
    }
}

/// Reads one section, classic or stream, checks its entries, and gives its trailer.
fn section<'a>(bytes: &'a [u8], at: usize, known: &mut BTreeSet<u64>, found: &mut Skeleton) -> Option<Dict<'a>> {
    let mut cursor = Cursor { bytes, at };
    cursor.skip_space();
    if cursor.word(b"xref") {
        return classic(bytes, &mut cursor, known, found);
    }
    let number = cursor.number()?;
    cursor.number()?;
    cursor.skip_space();
    if !cursor.word(b"obj") {
        return None;
    }
    found.containers.extend(u32::try_from(number));
    cursor.skip_space();
    let rest = bytes.get(cursor.at..)?;
    let dict = Dict::from_bytes(rest)?;
    if dict.get::<Name>("Type").as_deref() != Some(b"XRef") {
        return None;
    }
    if let Some(Object::Stream(stream)) = Object::from_bytes(rest) {
        packed(bytes, &stream, known, found);
    }
    Some(dict)
}

fn classic<'a>(
    bytes: &'a [u8],
    cursor: &mut Cursor<'a>,
    known: &mut BTreeSet<u64>,
    found: &mut Skeleton,
) -> Option<Dict<'a>> {
    loop {
        cursor.skip_space();
        if cursor.word(b"trailer") {
            cursor.skip_space();
            return Dict::from_bytes(bytes.get(cursor.at..)?);
        }
        let first = cursor.number()?;
        let count = cursor.number()?;
        for object in first..first.checked_add(count)? {
            let offset = cursor.number()?;
            let generation = cursor.number()?;
            cursor.skip_space();
            let used = cursor.word(b"n");
            if !used && !cursor.word(b"f") {
                return None;
            }
            if known.insert(object) && used {
                entry(bytes, object, generation, offset, found);
            }
        }
    }
}

/// Checks the entries of a cross-reference stream (ISO 32000-1, 7.5.8).
fn packed(bytes: &[u8], stream: &Stream, known: &mut BTreeSet<u64>, found: &mut Skeleton) {
    let dict = stream.dict();
    let numbers = |key: &str| -> Vec<u64> {
        let array = dict.get::<Array>(key);
        array.map(|a| a.iter::<Number>().map(|n| n.as_i64().max(0) as u64).collect()).unwrap_or_default()
    };
    let widths = numbers("W");
    let &[w0, w1, w2] = widths.as_slice() else { return };
    let step = (w0.min(8) + w1.min(8) + w2.min(8)) as usize;
    let Ok(data) = stream.decoded_data() else {
        found.damage.push("its cross-reference stream does not unpack".to_owned());
        return;
    };
    if step == 0 {
        return;
    }
    let mut index = numbers("Index");
    if index.is_empty() {
        index = vec![0, dict.get::<Number>("Size").map_or(0, |n| n.as_i64().max(0) as u64)];
    }
    let mut rows = data.chunks_exact(step);
    for run in index.chunks_exact(2) {
        for object in run[0]..run[0].saturating_add(run[1]) {
            let Some(row) = rows.next() else { return };
            let (a, rest) = row.split_at(w0.min(8) as usize);
            let (b, c) = rest.split_at(w1.min(8) as usize);
            let kind = if a.is_empty() { 1 } else { big_endian(a) };
            if !known.insert(object) {
                continue;
            }
            match kind {
                1 => entry(bytes, object, big_endian(c), big_endian(b), found),
                2 => {
                    found.objects.extend(u32::try_from(object).map(|n| (n, 0)));
                    found.containers.extend(u32::try_from(big_endian(b)));
                }
                _ => {}
            }
        }
    }
}

/// Whether the object lies where the table says.
fn entry(bytes: &[u8], object: u64, generation: u64, offset: u64, found: &mut Skeleton) {
    if let (Ok(number), Ok(generation)) = (u32::try_from(object), i32::try_from(generation)) {
        found.objects.insert(number, generation);
    }
    if found.damage.len() >= MAX_FAULTS {
        return;
    }
    let mut cursor = Cursor { bytes, at: usize::try_from(offset).unwrap_or(usize::MAX) };
    let there = cursor.number() == Some(object) && cursor.number() == Some(generation) && {
        cursor.skip_space();
        cursor.word(b"obj")
    };
    if !there {
        found.damage.push(format!("object {object} is not at byte {offset}, where the cross-reference table says"));
    }
}

fn big_endian(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0, |n, b| n << 8 | u64::from(*b))
}

/// A place in the bytes.
struct Cursor<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl Cursor<'_> {
    fn peek(&self) -> Option<u8> {
        self.bytes.get(self.at).copied()
    }

    fn skip_space(&mut self) {
        while matches!(self.peek(), Some(0 | 9 | 10 | 12 | 13 | 32)) {
            self.at += 1;
        }
    }

    fn word(&mut self, word: &[u8]) -> bool {
        let there = self.bytes.get(self.at..).is_some_and(|rest| rest.starts_with(word));
        if there {
            self.at += word.len();
        }
        there
    }

    fn number(&mut self) -> Option<u64> {
        self.skip_space();
        let begin = self.at;
        let mut n: u64 = 0;
        while let Some(digit @ b'0'..=b'9') = self.peek() {
            n = n.checked_mul(10)?.checked_add(u64::from(digit - b'0'))?;
            self.at += 1;
        }
        (self.at > begin).then_some(n)
    }
}
