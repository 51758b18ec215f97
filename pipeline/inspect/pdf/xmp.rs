//! The title in the XMP metadata. XMP is XML (ISO 16684-1); only this one property is wanted, so the text is searched
//! and not parsed.

use hayro_syntax::object::{Dict, Stream};

/// Metadata streams beyond this are not looked at.
const MAX_BYTES: usize = 4 << 20;

/// The first `dc:title` of the catalog's metadata.
pub fn title(root: &Dict) -> Option<String> {
    let stream = root.get::<Stream>("Metadata")?;
    let bytes = stream.decoded_data().ok()?;
    if bytes.len() > MAX_BYTES {
        return None;
    }
    find_title(&String::from_utf8_lossy(&bytes))
}

fn find_title(xmp: &str) -> Option<String> {
    let inside = between(xmp, "<dc:title", "</dc:title>")?;
    let item = between(inside, "<rdf:li", "</rdf:li>")?;
    let text = unescape(item.split_once('>')?.1.trim());
    (!text.is_empty()).then_some(text)
}

fn between<'t>(text: &'t str, open: &str, close: &str) -> Option<&'t str> {
    let rest = &text[text.find(open)? + open.len()..];
    Some(&rest[..rest.find(close)?])
}

/// Undoes the five entities of XML and numeric character references.
fn unescape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('&') {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        let end = rest.find(';').filter(|e| *e < 12);
        let known = end.and_then(|e| entity(&rest[1..e]));
        match (known, end) {
            (Some(c), Some(e)) => {
                out.push(c);
                rest = &rest[e + 1..];
            }
            _ => {
                out.push('&');
                rest = &rest[1..];
            }
        }
    }
    out.push_str(rest);
    out
}

fn entity(name: &str) -> Option<char> {
    match name {
        "amp" => Some('&'),
        "lt" => Some('<'),
        "gt" => Some('>'),
        "quot" => Some('"'),
        "apos" => Some('\''),
        _ => {
            let number = name.strip_prefix('#')?;
            let code = match number.strip_prefix(['x', 'X']) {
                Some(hex) => u32::from_str_radix(hex, 16).ok()?,
                None => number.parse().ok()?,
            };
            char::from_u32(code)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_is_found_and_unescaped() {
        let xmp = "<rdf:Description><dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">Seeds &amp; Sowing &#x2014; 1</rdf:li>\
                   </rdf:Alt></dc:title></rdf:Description>";
        assert_eq!(find_title(xmp).as_deref(), Some("Seeds & Sowing \u{2014} 1"));
        assert_eq!(find_title("<dc:title></dc:title>"), None);
        assert_eq!(unescape("a & b &unknown; &#99999999;"), "a & b &unknown; &#99999999;");
    }
}
