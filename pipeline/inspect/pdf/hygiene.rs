//! What a PDF carries along for nothing: streams stored twice, objects that nobody refers to; and what the document
//! does by itself when it is opened.

use super::skeleton::Skeleton;
use super::{items, name};
use hayro_syntax::object::{Array, Dict, Name, Object, ObjectIdentifier, Stream};
use hayro_syntax::page::Page;
use hayro_syntax::xref::XRef;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet, HashSet};

/// Files with more objects than this are not searched.
const MAX_OBJECTS: usize = 2_000_000;

/// Objects or streams that a file could do without: how many, and how many bytes of it they are.
#[derive(Default)]
pub struct Waste {
    /// Streams that are the same as another one.
    pub copies: (usize, u64),
    /// Objects that nothing refers to.
    pub unused: (usize, u64),
}

/// Looks for waste. A file whose tables are broken is left alone: there it cannot be told what is in use.
pub fn waste(skeleton: &Skeleton, xref: &XRef) -> Waste {
    let mut waste = Waste::default();
    if !skeleton.damage.is_empty() || skeleton.objects.is_empty() || skeleton.objects.len() > MAX_OBJECTS {
        return waste;
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
        waste.copies.0 += count - 1;
        waste.copies.1 += (count as u64 - 1) * size;
    }
    for (number, generation) in skeleton.objects.iter().filter(|(number, _)| !reached.contains(number)) {
        if let Some(object) = xref.get::<Object>(ObjectIdentifier::new(*number, *generation)) {
            waste.unused.0 += 1;
            let packed = if let Object::Stream(stream) = &object { stream.raw_data().len() } else { 0 };
            waste.unused.1 += (raw(&object).len() + packed) as u64;
        }
    }
    waste
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

/// Every `n g R` in the bytes of an object, read by tokens from the first byte to the last (ISO 32000-1, 7.2): what only
/// looks like a reference within a string, a name or a comment is none.
fn references(bytes: &[u8], into: &mut Vec<u32>) {
    // The last two tokens, as far as they are whole numbers.
    let mut last: [Option<u32>; 2] = [None, None];
    let mut at = 0;
    while let Some(byte) = bytes.get(at) {
        let begun = at;
        at += 1;
        match byte {
            0 | 9 | 10 | 12 | 13 | 32 => continue,
            b'%' => {
                at = past(bytes, at, |b| !matches!(b, b'\r' | b'\n'));
                continue;
            }
            b'0'..=b'9' => {
                at = past(bytes, at, |b| b.is_ascii_digit());
                let digits = std::str::from_utf8(&bytes[begun..at]).ok();
                last = [last[1], digits.and_then(|d| d.parse().ok())];
                // `3.5` and the like are no object numbers; an `R` may follow without a space.
                if bytes.get(at).is_some_and(|b| is_regular(*b) && *b != b'R') {
                    at = past(bytes, at, is_regular);
                    last = [None, None];
                }
                continue;
            }
            b'R' => match last {
                [Some(number), Some(_)] => into.push(number),
                _ => at = past(bytes, at, is_regular),
            },
            b'(' => at = past_text(bytes, at),
            b'<' if bytes.get(at) != Some(&b'<') => at = past(bytes, at, |b| b != b'>'),
            b'<' => at += 1,
            b'/' => at = past(bytes, at, is_regular),
            b => at = if is_regular(*b) { past(bytes, at, is_regular) } else { at },
        }
        last = [None, None];
    }
}

/// Where the run of bytes ends that begins at `at`.
fn past(bytes: &[u8], at: usize, belongs: impl Fn(u8) -> bool) -> usize {
    bytes[at..].iter().position(|b| !belongs(*b)).map_or(bytes.len(), |n| at + n)
}

/// Neither white space nor a delimiter (ISO 32000-1, 7.2.2).
fn is_regular(byte: u8) -> bool {
    !matches!(byte, 0 | 9 | 10 | 12 | 13 | 32 | b'(' | b')' | b'<' | b'>' | b'[' | b']' | b'{' | b'}' | b'/' | b'%')
}

/// Where a literal string ends whose inside begins at `at`: parentheses nest, and a backslash takes the next byte along
/// (ISO 32000-1, 7.3.4.2).
fn past_text(bytes: &[u8], mut at: usize) -> usize {
    let mut open = 1;
    while let Some(byte) = bytes.get(at) {
        at += 1;
        match byte {
            b'\\' => at += 1,
            b'(' => open += 1,
            b')' => {
                open -= 1;
                if open == 0 {
                    break;
                }
            }
            _ => {}
        }
    }
    at.min(bytes.len())
}

/// What the document does by itself, and what it carries along: where, and what.
pub fn actions<'a>(root: &Dict<'a>, pages: &[&Page<'a>], xref: &'a XRef) -> Vec<(String, String)> {
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

    fn found(bytes: &[u8]) -> Vec<u32> {
        let mut found = Vec::new();
        references(bytes, &mut found);
        found
    }

    #[test]
    fn references_are_found_in_raw_bytes() {
        assert_eq!(found(b"<</A 12 0 R/B[3 0 R 4 0 R]/C/R/D(x R)/E 5 1 R>>"), [12, 3, 4, 5]);
        assert_eq!(found(b"[1 0 R2 0 R 3\n0%note 9 0 R\nR]"), [1, 2, 3]);
    }

    #[test]
    fn what_only_looks_like_a_reference_is_none() {
        assert!(found(b"<</A(1 0 R \\( 2 0 R (3 0 R) 4 0 R)/B<5 0 R>/C/6 0 R/D 7.5 0 R/E -8 0 R>>").is_empty());
        assert!(found(b"99999999999 0 R").is_empty(), "no object has a number of eleven digits");
        assert!(found(b"(never closed 1 0 R").is_empty());
        assert!(found(b"\\ 1 R (\\").is_empty());
    }

    /// The time grows with the bytes and not with their square: 16 MB of the letter that ends a reference would take
    /// hours otherwise.
    #[test]
    fn a_long_string_is_read_once() {
        for inside in [vec![b'R'; 16 << 20], b"0 ".repeat(8 << 20), b" ".repeat(16 << 20), b"R(".repeat(8 << 20)] {
            assert!(found(&inside).is_empty());
            assert!(found(&[b"(", &inside[..], &[b')'; 8 << 20], b" 1 0 R"].concat()).len() <= 1);
        }
    }
}
