//! What a PDF carries along for nothing: streams stored twice, objects that nobody refers to; and what the document
//! does by itself when it is opened.

use super::skeleton::Skeleton;
use super::{items, name};
use base::model::facts::PdfFacts;
use hayro_syntax::object::{Array, Dict, Name, Object, ObjectIdentifier, Stream};
use hayro_syntax::page::Page;
use hayro_syntax::xref::XRef;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet, HashSet};

/// Files with more objects than this are not searched.
const MAX_OBJECTS: usize = 2_000_000;

/// Looks for waste. A file whose tables are broken is left alone: there it cannot be told what is in use.
pub fn waste(facts: &mut PdfFacts, skeleton: &Skeleton, xref: &XRef) {
    if facts.repaired || skeleton.objects.is_empty() || skeleton.objects.len() > MAX_OBJECTS {
        return;
    }
    let mut reached: BTreeSet<u32> = skeleton.containers.clone();
    let mut open: Vec<u32> = skeleton.roots.clone();
    let mut copies: BTreeMap<(u64, [u8; 32]), (usize, u64)> = BTreeMap::new();
    while let Some(number) = open.pop() {
        if !reached.insert(number) {
            continue;
        }
        let generation = skeleton.objects.get(&number).copied().unwrap_or(0);
        let Some(object) = xref.get::<Object>(ObjectIdentifier::new(number, generation)) else { continue };
        references(raw(&object), &mut open);
        if let Object::Stream(stream) = &object
            && is_resource(stream)
        {
            let bytes = stream.raw_data();
            let mut hasher = Sha256::new();
            hasher.update(stream.dict().data());
            hasher.update(&bytes);
            let seen = copies.entry((bytes.len() as u64, hasher.finalize().into())).or_default();
            seen.0 += 1;
            seen.1 = bytes.len() as u64;
        }
    }
    for (count, size) in copies.into_values().filter(|(count, _)| *count > 1) {
        facts.duplicate_streams.0 += count - 1;
        facts.duplicate_streams.1 += (count as u64 - 1) * size;
    }
    for (number, generation) in skeleton.objects.iter().filter(|(number, _)| !reached.contains(number)) {
        if let Some(object) = xref.get::<Object>(ObjectIdentifier::new(*number, *generation)) {
            facts.unused_objects.0 += 1;
            let packed = if let Object::Stream(stream) = &object { stream.raw_data().len() } else { 0 };
            facts.unused_objects.1 += (raw(&object).len() + packed) as u64;
        }
    }
}

/// Streams that pages share: pictures, forms, fonts, colour profiles. Contents of pages are left out: some reader apps
/// need each page to have its own.
fn is_resource(stream: &Stream) -> bool {
    let dict = stream.dict();
    ["Subtype", "Length1", "N"].iter().any(|key| dict.contains_key(key)) && !dict.contains_key("First")
}

/// The bytes of an object as stored, without a stream's data.
fn raw<'a>(object: &Object<'a>) -> &'a [u8] {
    match object {
        Object::Dict(dict) => dict.data(),
        Object::Array(array) => array.data(),
        Object::Stream(stream) => stream.dict().data(),
        _ => &[],
    }
}

/// Every `n g R` in the bytes of an object. Text that happens to look like a reference counts too, which at worst lets an
/// unused object pass.
fn references(bytes: &[u8], into: &mut Vec<u32>) {
    for (at, _) in bytes.iter().enumerate().filter(|(_, b)| **b == b'R') {
        let mut words = bytes[..at].rsplit(|b| b.is_ascii_whitespace()).filter(|w| !w.is_empty());
        let (Some(generation), Some(number)) = (words.next(), words.next()) else { continue };
        if !generation.iter().all(u8::is_ascii_digit) {
            continue;
        }
        let digits = number.iter().rev().take_while(|b| b.is_ascii_digit()).count();
        let digits = std::str::from_utf8(&number[number.len() - digits..]);
        let number: Option<u32> = digits.ok().and_then(|n| n.parse().ok());
        into.extend(number);
    }
}

/// What the document does by itself, and what it carries along: where, and what.
pub fn actions<'a>(root: &Dict<'a>, pages: &[Page<'a>], xref: &'a XRef) -> Vec<(String, String)> {
    let mut found = Vec::new();
    if let Some(action) = root.get::<Dict>("OpenAction") {
        note(&action, "when the file is opened", &mut found);
    }
    if let Some(events) = root.get::<Dict>("AA") {
        for key in events.keys() {
            if let Some(action) = events.get::<Dict>(&key[..]) {
                note(&action, "on an event of the document", &mut found);
            }
        }
    }
    if let Some(names) = root.get::<Dict>("Names") {
        if names.get::<Dict>("JavaScript").is_some_and(|tree| filled(&tree, xref)) {
            found.push(("among the document's names".to_owned(), "JavaScript".to_owned()));
        }
        if names.get::<Dict>("EmbeddedFiles").is_some_and(|tree| filled(&tree, xref)) {
            found.push(("among the document's names".to_owned(), "attached files".to_owned()));
        }
    }
    if root.get::<Dict>("AcroForm").is_some_and(|form| form.contains_key("XFA")) {
        found.push(("in the document's form".to_owned(), "XFA".to_owned()));
    }
    for (i, page) in pages.iter().enumerate() {
        let Some(events) = page.raw().get::<Dict>("AA") else { continue };
        for key in events.keys() {
            if let Some(action) = events.get::<Dict>(&key[..]) {
                note(&action, &format!("on an event of page {}", i + 1), &mut found);
            }
        }
    }
    found.sort();
    found.dedup();
    found
}

/// Notes an action and those that follow it, unless they only go somewhere.
fn note(action: &Dict, place: &str, found: &mut Vec<(String, String)>) {
    let mut next = Some(action.clone());
    let mut seen = HashSet::new();
    while let Some(action) = next {
        if action.obj_id().is_some_and(|id| !seen.insert(id)) || found.len() > 1000 {
            return;
        }
        let kind = name(&action, "S").unwrap_or_default();
        if !matches!(kind.as_str(), "GoTo" | "URI" | "Named" | "") {
            found.push((place.to_owned(), kind));
        }
        next = action.get::<Dict>("Next");
    }
}

/// Whether a name tree has any entry.
fn filled<'a>(tree: &Dict<'a>, xref: &'a XRef) -> bool {
    let any = |key: &str| tree.get::<Array>(key).is_some_and(|a| items(&a, xref).next().is_some());
    any("Names") || any("Kids") || tree.get::<Name>("Type").is_some()
}

#[cfg(test)]
mod tests {
    use super::references;

    #[test]
    fn references_are_found_in_raw_bytes() {
        let mut found = Vec::new();
        references(b"<</A 12 0 R/B[3 0 R 4 0 R]/C/R/D(x R)/E 5 1 R>>", &mut found);
        assert_eq!(found, [12, 3, 4, 5]);
    }
}
