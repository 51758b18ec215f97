//! Colours of printing ink on a page of a PDF: found, so that the page can be refused with a word instead of being shown
//! in whatever colours a reader app makes of them.

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};
use std::collections::BTreeSet;

/// What of a page is in CMYK, if anything is. `content` is what draws it.
pub fn found(doc: &Document, page: ObjectId, content: &[u8]) -> Option<&'static str> {
    if paints(content) {
        return Some("it is drawn");
    }
    let resources = super::page::inherited(doc, page, b"Resources");
    let group = doc.get_dictionary(page).ok().and_then(|d| d.get(b"Group").ok());
    let mut open: Vec<&Object> = resources.iter().chain(group).collect();
    let mut seen = BTreeSet::new();
    while let Some(object) = open.pop() {
        let object = match object {
            Object::Reference(id) if !seen.insert(*id) => continue,
            Object::Reference(id) => doc.get_object(*id).unwrap_or(&Object::Null),
            other => other,
        };
        match object {
            Object::Array(items) => open.extend(items),
            Object::Dictionary(dict) => {
                if spaces(doc, dict) {
                    return Some("its colours are");
                }
                open.extend(dict.iter().filter(|(key, _)| key.as_slice() != b"Parent").map(|(_, value)| value));
            }
            Object::Stream(stream) => {
                let kind = stream.dict.get(b"Subtype").and_then(Object::as_name).unwrap_or_default();
                if spaces(doc, &stream.dict) {
                    return Some(if kind == b"Image" { "a picture on it is" } else { "its colours are" });
                }
                let draws = kind == b"Form" || stream.dict.has(b"PatternType");
                if draws && paints(&stream.decompressed_content().unwrap_or_else(|_| stream.content.clone())) {
                    return Some("it is drawn");
                }
                open.extend(stream.dict.iter().filter(|(key, _)| key.as_slice() != b"Parent").map(|(_, value)| value));
            }
            _ => {}
        }
    }
    None
}

/// Whether a content stream sets a colour in CMYK (8.6.8).
fn paints(content: &[u8]) -> bool {
    // Cheap first: most pages never come near it.
    let near = |w: &[u8]| matches!(w, [a, b'k' | b'K', c] if a.is_ascii_whitespace() && c.is_ascii_whitespace());
    if !content.windows(3).any(near) && !content.windows(10).any(|w| w == b"DeviceCMYK") {
        return false;
    }
    let Ok(content) = Content::decode(content) else { return false };
    content.operations.iter().any(|op| match op.operator.as_str() {
        "k" | "K" => op.operands.len() == 4,
        "cs" | "CS" => op.operands.first().is_some_and(|o| o.as_name().is_ok_and(|n| n == b"DeviceCMYK")),
        _ => false,
    })
}

/// Whether a dictionary names a colour space of ink.
fn spaces(doc: &Document, dict: &Dictionary) -> bool {
    [&b"ColorSpace"[..], b"CS"].iter().filter_map(|key| dict.get(key).ok()).any(|value| {
        match doc.dereference(value).map_or(&Object::Null, |(_, o)| o) {
            Object::Dictionary(several) => several.iter().any(|(_, one)| is_ink(doc, one, 0)),
            one => is_ink(doc, one, 0),
        }
    })
}

/// Whether a colour space ends in CMYK (8.6.4.4 to 8.6.6).
fn is_ink(doc: &Document, space: &Object, depth: usize) -> bool {
    if depth > 8 {
        return false;
    }
    match doc.dereference(space).map_or(&Object::Null, |(_, o)| o) {
        Object::Name(name) => name == b"DeviceCMYK" || name == b"CMYK",
        Object::Array(parts) => {
            let inner = |at: usize| parts.get(at).is_some_and(|o| is_ink(doc, o, depth + 1));
            match parts.first().and_then(|o| o.as_name().ok()) {
                Some(b"ICCBased") => parts
                    .get(1)
                    .and_then(|o| doc.dereference(o).ok()?.1.as_stream().ok())
                    .is_some_and(|s| s.dict.get(b"N").and_then(Object::as_i64).is_ok_and(|n| n == 4)),
                Some(b"Indexed" | b"I" | b"Pattern") => inner(1),
                Some(b"Separation" | b"DeviceN") => inner(2),
                Some(b"DeviceCMYK") => true,
                _ => false,
            }
        }
        _ => false,
    }
}
