//! What the XMP metadata say. XMP is XML (ISO 16684-1); only a few properties are wanted, so the text is searched and not
//! parsed.

use super::time;
use base::model::facts::Making;
use hayro_syntax::object::{Dict, Stream};

/// Metadata streams beyond this are not looked at.
const MAX_BYTES: usize = 4 << 20;

/// The properties that are wanted.
#[derive(Debug, Default, PartialEq)]
pub struct Xmp {
    /// `dc:title`, the first of its languages.
    pub title: Option<String>,
    /// `dc:language`.
    pub language: Option<String>,
    /// Author, programs and times.
    pub making: Making,
}

/// Reads the catalog's metadata; `None` where there are none.
pub fn read(root: &Dict) -> Option<Xmp> {
    let stream = root.get::<Stream>("Metadata")?;
    let bytes = stream.decoded_data().ok().filter(|bytes| bytes.len() <= MAX_BYTES)?;
    Some(find(&String::from_utf8_lossy(&bytes)))
}

fn find(xmp: &str) -> Xmp {
    let time = |name: &str| property(xmp, name).and_then(|text| time::of_xmp(&text));
    Xmp {
        title: property(xmp, "dc:title"),
        language: property(xmp, "dc:language"),
        making: Making {
            author: property(xmp, "dc:creator"),
            creator: property(xmp, "xmp:CreatorTool"),
            producer: property(xmp, "pdf:Producer"),
            created: time("xmp:CreateDate"),
            changed: time("xmp:ModifyDate"),
        },
    }
}

/// A property: an element, the first item of a list in it, or an attribute.
fn property(xmp: &str, name: &str) -> Option<String> {
    let element = between(xmp, &format!("<{name}"), &format!("</{name}>"));
    let text = match element {
        Some(inside) => {
            let item = between(inside, "<rdf:li", "</rdf:li>").unwrap_or(inside);
            item.split_once('>')?.1
        }
        None => {
            let rest = &xmp[xmp.find(&format!(" {name}="))? + name.len() + 2..];
            let quote = rest.chars().next().filter(|c| matches!(c, '"' | '\''))?;
            rest[1..].split(quote).next()?
        }
    };
    let text = unescape(text.trim());
    (!text.is_empty() && !text.starts_with('<')).then_some(text)
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
    fn properties_are_found_and_unescaped() {
        let xmp = "<rdf:Description pdf:Producer=\"Press &amp; Co\"><dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">Seeds \
                   &amp; Sowing &#x2014; 1</rdf:li></rdf:Alt></dc:title><xmp:CreateDate>2027-01-15T10:20:30+01:00\
                   </xmp:CreateDate></rdf:Description>";
        let found = find(xmp);
        assert_eq!(found.title.as_deref(), Some("Seeds & Sowing \u{2014} 1"));
        assert_eq!(found.making.producer.as_deref(), Some("Press & Co"));
        assert_eq!(found.making.created, Some(1_800_004_830));
        assert_eq!(find("<dc:title></dc:title>"), Xmp::default());
        assert_eq!(unescape("a & b &unknown; &#99999999;"), "a & b &unknown; &#99999999;");
    }
}
