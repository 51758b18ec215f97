//! Writing the objects small and always the same: streams deflated and stored once, everything else packed into
//! object streams, a cross-reference stream, an `ID` from the content.
//!
//! Clause numbers are those of ISO 32000-1.

mod append;

pub use append::append;

use super::links::{AWAITED, Links};
use base::deflate::zlib;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat};
use rayon::prelude::*;
use sha2::{Digest, Sha256};
use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap};
use std::io::{Read, Write};

/// Objects in one object stream: large enough to deflate well, small enough to unpack quickly.
const PER_STREAM: usize = 200;

/// Marks a stream, until it is written, as one that already has the form in which it will lie in the file.
pub const FINISHED: &str = "SheafwrightFinished";

/// Data deflated, where that makes it smaller.
pub fn smaller(data: &[u8]) -> Option<Vec<u8>> {
    Some(zlib(data)).filter(|packed| packed.len() < data.len())
}

/// PDF 1.5 and later: object streams (7.5.7) and a cross-reference stream (7.5.8).
pub fn compact(mut doc: Document, links: &Links) -> Vec<u8> {
    pack_streams(&mut doc);
    let aliases = identical_streams(&doc);
    let is_stream = |o: &Object| matches!(o, Object::Stream(_));
    let kept = |(id, _): &(&ObjectId, &Object)| !aliases.contains_key(*id);
    let streams: Vec<ObjectId> =
        doc.objects.iter().filter(kept).filter(|(_, o)| is_stream(o)).map(|(id, _)| *id).collect();
    let plain: Vec<ObjectId> = doc.objects.iter().filter(|(_, o)| !is_stream(o)).map(|(id, _)| *id).collect();
    let numbers = numbers(streams.iter().chain(&plain), &aliases);
    let mut out = File::begin(&doc.version);
    let mut places = vec![Place::Free; numbers.next as usize];
    for id in &streams {
        if let Some(Object::Stream(s)) = doc.objects.get(id) {
            places[numbers.of(*id) as usize] = Place::At(out.bytes.len());
            out.stream(numbers.of(*id), &s.dict, &s.content, &numbers);
        }
    }
    let packed: Vec<(Dictionary, Vec<u8>)> =
        plain.par_chunks(PER_STREAM).map(|ids| object_stream(ids, &doc, &numbers, links)).collect();
    for (ids, (dict, data)) in plain.chunks(PER_STREAM).zip(packed) {
        let number = places.len() as u32;
        for (i, id) in ids.iter().enumerate() {
            places[numbers.of(*id) as usize] = Place::In(number, i as u16);
        }
        places.push(Place::At(out.bytes.len()));
        out.stream(number, &dict, &data, &numbers);
    }
    out.cross_reference_stream(places, &doc, &numbers)
}

/// PDF 1.4: every object by itself and a cross-reference table (7.5.4). Streams are not shared between objects,
/// for reader apps that edit a page's content in place.
pub fn classic(mut doc: Document, links: &Links) -> Vec<u8> {
    pack_streams(&mut doc);
    let numbers = numbers(doc.objects.keys(), &BTreeMap::new());
    let mut out = File::begin(&doc.version);
    let mut at = vec![0usize; numbers.next as usize];
    for (id, object) in &doc.objects {
        let number = numbers.of(*id);
        at[number as usize] = out.bytes.len();
        match object {
            Object::Stream(s) => out.stream(number, &s.dict, &s.content, &numbers),
            other => {
                out.text(&format!("{number} 0 obj\n"));
                page_or_value(&mut out.bytes, (*id, other), &numbers, links);
                out.text("\nendobj\n");
            }
        }
    }
    let start = out.bytes.len();
    out.text(&format!("xref\n0 {}\n0000000000 65535 f \n", numbers.next));
    for offset in at.iter().skip(1) {
        out.text(&format!("{offset:010} 00000 n \n"));
    }
    let mut trailer = out.trailer(&doc);
    trailer.set("Size", i64::from(numbers.next));
    out.text("trailer\n");
    dictionary(&mut out.bytes, &trailer, &numbers);
    out.end(start)
}

/// Deflates what is plain, and anew what the document model has deflated in haste; leaves the metadata packet readable
/// and what has another filter as it is.
pub fn pack_streams(doc: &mut Document) {
    doc.objects.par_iter_mut().for_each(|(_, object)| {
        let Object::Stream(s) = object else { return };
        if s.dict.remove(FINISHED.as_bytes()).is_some() {
            s.dict.set("Length", s.content.len() as i64);
            return;
        }
        let metadata = s.dict.get(b"Type").and_then(Object::as_name).is_ok_and(|n| n == b"Metadata");
        let packed = if metadata { None } else { plain(s).map(|data| zlib(&data)) };
        if let Some(packed) = packed.filter(|p| p.len() < s.content.len()) {
            s.content = packed;
            s.dict.set("Filter", "FlateDecode");
        }
        s.dict.set("Length", s.content.len() as i64);
    });
}

/// The data of a stream without a filter, or with deflate alone.
fn plain(s: &Stream) -> Option<Cow<'_, [u8]>> {
    let Ok(filter) = s.dict.get(b"Filter") else { return Some(Cow::Borrowed(&s.content)) };
    let deflated = filter.as_name().is_ok_and(|n| n == b"FlateDecode") && !s.dict.has(b"DecodeParms");
    let mut data = Vec::new();
    let read = deflated && flate2::read::ZlibDecoder::new(s.content.as_slice()).read_to_end(&mut data).is_ok();
    read.then_some(Cow::Owned(data))
}

/// Streams that are the same as an earlier one, dictionary and data: later object → earlier object.
fn identical_streams(doc: &Document) -> BTreeMap<ObjectId, ObjectId> {
    let mut own = Numbers { of: doc.objects.keys().map(|id| (*id, id.0)).collect(), next: 0, kept: false };
    let mut aliases: BTreeMap<ObjectId, ObjectId> = BTreeMap::new();
    // Streams that name others, such as pictures with their masks, are the same once those are.
    loop {
        let before = aliases.len();
        let mut first: HashMap<(Vec<u8>, &[u8]), ObjectId> = HashMap::new();
        for (id, object) in &doc.objects {
            if let Object::Stream(s) = object
                && !aliases.contains_key(id)
            {
                let mut key = Vec::new();
                dictionary(&mut key, &s.dict, &own);
                let earlier = *first.entry((key, &s.content)).or_insert(*id);
                if earlier != *id {
                    aliases.insert(*id, earlier);
                }
            }
        }
        if aliases.len() == before {
            return aliases;
        }
        // What an earlier round pointed at may have turned out to be a copy itself.
        let chains: Vec<(ObjectId, ObjectId)> =
            aliases.iter().filter_map(|(later, earlier)| Some((*later, *aliases.get(earlier)?))).collect();
        aliases.extend(chains);
        for (later, earlier) in &aliases {
            own.of.insert(*later, earlier.0);
        }
    }
}

/// New object numbers, from 1 without gaps.
struct Numbers {
    of: HashMap<ObjectId, u32>,
    next: u32,
    /// Whether objects keep the numbers and generations that they have.
    kept: bool,
}

impl Numbers {
    fn of(&self, id: ObjectId) -> u32 {
        self.of.get(&id).copied().unwrap_or(0)
    }
}

fn numbers<'a>(ids: impl Iterator<Item = &'a ObjectId>, aliases: &BTreeMap<ObjectId, ObjectId>) -> Numbers {
    let mut numbers = Numbers { of: HashMap::new(), next: 1, kept: false };
    for id in ids {
        numbers.of.insert(*id, numbers.next);
        numbers.next += 1;
    }
    for (later, earlier) in aliases {
        let number = numbers.of(*earlier);
        numbers.of.insert(*later, number);
    }
    numbers
}

/// Where an object lies.
#[derive(Clone, Copy)]
enum Place {
    Free,
    At(usize),
    In(u32, u16),
}

/// The dictionary and the data of an object stream.
fn object_stream(ids: &[ObjectId], doc: &Document, numbers: &Numbers, links: &Links) -> (Dictionary, Vec<u8>) {
    let (mut head, mut body) = (String::new(), Vec::new());
    for id in ids {
        head.push_str(&format!("{} {} ", numbers.of(*id), body.len()));
        if let Some(object) = doc.objects.get(id) {
            page_or_value(&mut body, (*id, object), numbers, links);
        }
        body.push(b'\n');
    }
    let first = head.len();
    let mut data = head.into_bytes();
    data.extend(body);
    let data = zlib(&data);
    let mut dict = Dictionary::new();
    dict.set("Type", "ObjStm");
    dict.set("N", ids.len() as i64);
    dict.set("First", first as i64);
    dict.set("Filter", "FlateDecode");
    dict.set("Length", data.len() as i64);
    (dict, data)
}

struct File {
    bytes: Vec<u8>,
}

impl File {
    fn begin(version: &str) -> File {
        // The comment of bytes above 127 tells transfer programs that the file is binary (7.5.2).
        let mut bytes = format!("%PDF-{version}\n%").into_bytes();
        bytes.extend([0xE2, 0xE3, 0xCF, 0xD3, b'\n']);
        File { bytes }
    }

    fn text(&mut self, text: &str) {
        self.bytes.extend_from_slice(text.as_bytes());
    }

    fn stream(&mut self, number: u32, dict: &Dictionary, data: &[u8], numbers: &Numbers) {
        self.text(&format!("{number} 0 obj\n"));
        dictionary(&mut self.bytes, dict, numbers);
        self.text("\nstream\n");
        self.bytes.extend_from_slice(data);
        self.text("\nendstream\nendobj\n");
    }

    /// Root, Info and an `ID` made of everything written so far (14.4): same content, same identifier.
    fn trailer(&self, doc: &Document) -> Dictionary {
        let digest = Sha256::digest(&self.bytes);
        let id = Object::String(digest[..16].to_vec(), StringFormat::Hexadecimal);
        let mut dict = Dictionary::new();
        for key in ["Root", "Info"] {
            if let Ok(object) = doc.trailer.get(key.as_bytes()) {
                dict.set(key, object.clone());
            }
        }
        dict.set("ID", vec![id.clone(), id]);
        dict
    }

    fn cross_reference_stream(mut self, mut places: Vec<Place>, doc: &Document, numbers: &Numbers) -> Vec<u8> {
        let (number, start) = (places.len() as u32, self.bytes.len());
        places.push(Place::At(start));
        // Rows of one type byte, four of offset or stream number, two of index, each as the difference to the row
        // above (predictor 12): long runs of equal bytes.
        let (mut rows, mut above) = (Vec::with_capacity(places.len() * 8), [0u8; 7]);
        for (i, place) in places.iter().enumerate() {
            let (kind, a, b) = match *place {
                Place::Free => (0, 0, if i == 0 { 65535 } else { 0 }),
                Place::At(offset) => (1, offset as u32, 0),
                Place::In(stream, index) => (2, stream, index),
            };
            let mut row = [0; 7];
            row[0] = kind;
            row[1..5].copy_from_slice(&a.to_be_bytes());
            row[5..7].copy_from_slice(&b.to_be_bytes());
            rows.push(2);
            rows.extend(row.iter().zip(above).map(|(new, old)| new.wrapping_sub(old)));
            above = row;
        }
        let data = zlib(&rows);
        let mut dict = self.trailer(doc);
        dict.set("Type", "XRef");
        dict.set("Size", places.len() as i64);
        dict.set("W", vec![1.into(), 4.into(), 2.into()]);
        dict.set("Filter", "FlateDecode");
        let mut parms = Dictionary::new();
        parms.set("Predictor", 12);
        parms.set("Columns", 7);
        dict.set("DecodeParms", parms);
        dict.set("Length", data.len() as i64);
        self.stream(number, &dict, &data, numbers);
        self.end(start)
    }

    fn end(mut self, start: usize) -> Vec<u8> {
        self.text(&format!("\nstartxref\n{start}\n%%EOF\n"));
        self.bytes
    }
}

fn dictionary(out: &mut Vec<u8>, dict: &Dictionary, numbers: &Numbers) {
    out.extend(b"<<");
    for (key, object) in sorted(dict) {
        name(out, key);
        value(out, object, numbers);
    }
    out.extend(b">>");
}

/// A dictionary's entries in the order in which they are written.
fn sorted(dict: &Dictionary) -> Vec<(&Vec<u8>, &Object)> {
    let mut entries: Vec<_> = dict.iter().collect();
    entries.sort_by(|a, b| a.0.cmp(b.0));
    entries
}

/// An object that is no stream; a page whose links are still awaited gets them here.
fn page_or_value(out: &mut Vec<u8>, (id, object): (ObjectId, &Object), numbers: &Numbers, links: &Links) {
    let (Object::Dictionary(dict), Some(own)) = (object, links.on(id)) else { return value(out, object, numbers) };
    let mut own = Some(own);
    out.extend(b"<<");
    for (key, object) in sorted(dict) {
        name(out, key);
        match own.take_if(|_| key == b"Annots" && *object == AWAITED) {
            Some(own) => {
                out.push(b'[');
                own.for_each(|link| dictionary(out, &link, numbers));
                out.push(b']');
            }
            None => value(out, object, numbers),
        }
    }
    out.extend(b">>");
}

fn value(out: &mut Vec<u8>, object: &Object, numbers: &Numbers) {
    match object {
        Object::Null => word(out, "null"),
        Object::Boolean(b) => word(out, if *b { "true" } else { "false" }),
        Object::Integer(i) => word(out, &i.to_string()),
        // The fewest digits that mean the same number: matrices and functions of foreign files need them all.
        Object::Real(r) => word(out, &r.to_string()),
        Object::Name(n) => name(out, n),
        Object::String(s, format) => string(out, s, *format),
        Object::Array(items) => {
            out.push(b'[');
            for item in items {
                value(out, item, numbers);
            }
            out.push(b']');
        }
        Object::Dictionary(d) => dictionary(out, d, numbers),
        Object::Reference(id) => match numbers.of.get(id) {
            Some(n) => word(out, &format!("{n} {} R", if numbers.kept { id.1 } else { 0 })),
            None => word(out, "null"),
        },
        // A stream is an object by itself and never a value inside another (7.3.8.1).
        Object::Stream(_) => word(out, "null"),
    }
}

fn word(out: &mut Vec<u8>, text: &str) {
    if out.last().is_some_and(|c| !b"()<>[]{}/ \n".contains(c)) {
        out.push(b' ');
    }
    out.extend_from_slice(text.as_bytes());
}

fn name(out: &mut Vec<u8>, name: &[u8]) {
    out.push(b'/');
    for b in name {
        if b.is_ascii_graphic() && !b"()<>[]{}/%#".contains(b) {
            out.push(*b);
        } else {
            // Writing to a Vec cannot fail.
            let _ = write!(out, "#{b:02X}");
        }
    }
}

fn string(out: &mut Vec<u8>, text: &[u8], format: StringFormat) {
    if format == StringFormat::Literal && text.iter().all(|b| (32..127).contains(b)) {
        out.push(b'(');
        for b in text {
            if b"()\\".contains(b) {
                out.push(b'\\');
            }
            out.push(*b);
        }
        out.push(b')');
    } else {
        out.push(b'<');
        for b in text {
            let _ = write!(out, "{b:02X}");
        }
        out.push(b'>');
    }
}
