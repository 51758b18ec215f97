//! Changes appended to the bytes of a file as an incremental update (ISO 32000-1, 7.5.6): the file's own bytes stay.

use super::{File, Links, Numbers, PER_STREAM, dictionary, object_stream, value};
use base::deflate::zlib;
use lopdf::xref::XrefType;
use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat};
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};

/// Where a changed object lies: at an offset, or in an object stream under an index.
enum Lies {
    At(usize),
    In(u32, u16),
}

/// Appends the touched objects of a document to the bytes that it was read from. A file with a cross-reference stream
/// gets another one, and one with a table another table (7.5.8.1 asks for one kind throughout).
pub fn append(source: &[u8], mut doc: Document, touched: &BTreeSet<ObjectId>) -> Vec<u8> {
    let mut out = File { bytes: source.to_vec() };
    if !source.ends_with(b"\n") {
        out.text("\n");
    }
    let numbers = Numbers { of: doc.objects.keys().map(|id| (*id, id.0)).collect(), next: 0, kept: true };
    let packed = matches!(doc.reference_table.cross_reference_type, XrefType::CrossReferenceStream);
    // Number and generation → place; the generation matters for a table only.
    let mut places: BTreeMap<u32, (u16, Lies)> = BTreeMap::new();
    let mut small = Vec::new();
    for id in touched {
        let at = out.bytes.len();
        match doc.objects.get_mut(id) {
            Some(Object::Stream(s)) => {
                s.dict.set("Length", s.content.len() as i64);
                out.text(&format!("{} {} obj\n", id.0, id.1));
                dictionary(&mut out.bytes, &s.dict, &numbers);
                out.text("\nstream\n");
                out.bytes.extend_from_slice(&s.content);
                out.text("\nendstream\nendobj\n");
            }
            // Only objects of generation 0 may lie in an object stream (7.5.7).
            Some(_) if packed && id.1 == 0 => {
                small.push(*id);
                continue;
            }
            Some(object) => {
                out.text(&format!("{} {} obj\n", id.0, id.1));
                value(&mut out.bytes, object, &numbers);
                out.text("\nendobj\n");
            }
            None => continue,
        }
        places.insert(id.0, (id.1, Lies::At(at)));
    }
    let mut next = doc.max_id + 1;
    for ids in small.chunks(PER_STREAM) {
        let (dict, data) = object_stream(ids, &doc, &numbers, &Links::none());
        for (i, id) in ids.iter().enumerate() {
            places.insert(id.0, (0, Lies::In(next, i as u16)));
        }
        places.insert(next, (0, Lies::At(out.bytes.len())));
        out.stream(next, &dict, &data, &numbers);
        next += 1;
    }
    let mut trailer = trailer(&out.bytes, &doc);
    if packed {
        let start = out.bytes.len();
        places.insert(next, (0, Lies::At(start)));
        trailer.set("Size", i64::from(next) + 1);
        let data = zlib(&rows(&places));
        trailer.set("Type", "XRef");
        trailer.set("W", vec![1.into(), 4.into(), 2.into()]);
        trailer.set(
            "Index",
            runs(&places).iter().flat_map(|r| [r.0.into(), (r.1.len() as i64).into()]).collect::<Vec<Object>>(),
        );
        trailer.set("Filter", "FlateDecode");
        trailer.set("Length", data.len() as i64);
        out.stream(next, &trailer, &data, &numbers);
        return out.end(start);
    }
    let start = out.bytes.len();
    trailer.set("Size", i64::from(next));
    out.text("xref\n");
    for (first, run) in runs(&places) {
        out.text(&format!("{first} {}\n", run.len()));
        for (generation, lies) in run {
            let Lies::At(offset) = lies else { continue };
            out.text(&format!("{offset:010} {generation:05} n \n"));
        }
    }
    out.text("trailer\n");
    dictionary(&mut out.bytes, &trailer, &numbers);
    out.end(start)
}

/// Runs of object numbers that follow each other.
fn runs(places: &BTreeMap<u32, (u16, Lies)>) -> Vec<(u32, Vec<&(u16, Lies)>)> {
    let mut out: Vec<(u32, Vec<&(u16, Lies)>)> = Vec::new();
    for (number, place) in places {
        match out.last_mut() {
            Some((first, run)) if *first + run.len() as u32 == *number => run.push(place),
            _ => out.push((*number, vec![place])),
        }
    }
    out
}

fn rows(places: &BTreeMap<u32, (u16, Lies)>) -> Vec<u8> {
    let mut rows = Vec::with_capacity(places.len() * 7);
    for (generation, lies) in places.values() {
        let (kind, a, b) = match lies {
            Lies::At(offset) => (1u8, *offset as u32, *generation),
            Lies::In(stream, index) => (2, *stream, *index),
        };
        rows.push(kind);
        rows.extend(a.to_be_bytes());
        rows.extend(b.to_be_bytes());
    }
    rows
}

/// The file's trailer, led on to the section before; the first half of its `ID` stays, the second is that of the new
/// content (14.4).
fn trailer(written: &[u8], doc: &Document) -> Dictionary {
    let mut trailer = doc.trailer.clone();
    for key in ["Type", "W", "Index", "Filter", "DecodeParms", "Length", "XRefStm", "Size"] {
        trailer.remove(key.as_bytes());
    }
    let digest = Object::String(Sha256::digest(written)[..16].to_vec(), StringFormat::Hexadecimal);
    let first = trailer.get(b"ID").and_then(Object::as_array).ok().and_then(|id| id.first().cloned());
    let first = first.filter(|o| matches!(o, Object::String(..))).unwrap_or_else(|| digest.clone());
    trailer.set("ID", vec![first, digest]);
    trailer.set("Prev", doc.xref_start as i64);
    trailer
}
