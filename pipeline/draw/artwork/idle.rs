//! Fonts that a page names and draws nothing with: some programs set a font at the head of every page, used or not,
//! and such a font need not be in the file. They are taken out, with the operators that set them.
//!
//! A font matters only where text is shown (ISO 32000-1, 9.4.3), so a font that is never the current one there changes
//! nothing that is seen. Where it cannot be told for certain, all fonts stay.

use super::page::{MOST_DEPTH, direct};
use super::tokens::{Token, Tokens};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};
use std::collections::BTreeSet;
use std::ops::Range;

/// The most bytes that the content of a form unpacks to.
const MOST_CONTENT: usize = 64 << 20;

/// Takes the idle fonts out of the resources of a page or form, and out of what draws it.
pub fn drop_fonts(doc: &Document, resources: &mut Dictionary, content: &mut Vec<u8>) -> bool {
    let Some(fonts) = resources.get(b"Font").ok().and_then(|f| direct(doc, f).as_dict().ok()).cloned() else {
        return false;
    };
    // Glyphs that are drawings may lean on the resources of the page (9.6.5).
    let leaning = |font: &Object| {
        direct(doc, font).as_dict().is_ok_and(|f| {
            f.get(b"Subtype").and_then(Object::as_name).is_ok_and(|s| s == b"Type3") && !f.has(b"Resources")
        })
    };
    if fonts.iter().any(|(_, font)| leaning(font)) {
        return false;
    }
    let mut scan = Scan { doc, own: resources, used: BTreeSet::new(), seen: BTreeSet::new() };
    if scan.read(content, resources, None, true, 0).is_none() {
        return false;
    }
    let used = scan.used;
    let idle = |name: &[u8]| fonts.has(name) && !used.contains(name);
    if !fonts.iter().any(|(name, _)| idle(name)) {
        return false;
    }
    for place in settings(content, idle).into_iter().rev() {
        content.drain(place);
    }
    let kept: Dictionary = fonts.iter().filter(|(name, _)| !idle(name)).map(|(n, f)| (n.clone(), f.clone())).collect();
    if kept.is_empty() {
        resources.remove(b"Font");
    } else {
        resources.set("Font", kept);
    }
    true
}

/// The same for every form of a file that has resources of its own.
pub fn drop_fonts_of_forms(doc: &mut Document) {
    let fonts = |s: &Stream| {
        s.dict.get(b"Resources").ok().and_then(|r| direct(doc, r).as_dict().ok()).filter(|r| r.has(b"Font")).cloned()
    };
    let mut changed: Vec<(ObjectId, Dictionary, Vec<u8>)> = Vec::new();
    for (id, object) in &doc.objects {
        let Object::Stream(stream) = object else { continue };
        let (true, Some(mut resources)) = (is_form(stream), fonts(stream)) else { continue };
        let Some(mut content) = unpacked(stream) else { continue };
        if drop_fonts(doc, &mut resources, &mut content) {
            changed.push((*id, resources, content));
        }
    }
    for (id, resources, content) in changed {
        if let Some(Object::Stream(stream)) = doc.objects.get_mut(&id) {
            stream.dict.set("Resources", resources);
            stream.dict.remove(b"DecodeParms");
            stream.dict.remove(b"Filter");
            stream.set_content(content);
        }
    }
}

fn is_form(stream: &Stream) -> bool {
    stream.dict.get(b"Subtype").and_then(Object::as_name).is_ok_and(|s| s == b"Form")
}

fn unpacked(stream: &Stream) -> Option<Vec<u8>> {
    if stream.dict.has(b"Filter") {
        return stream.decompressed_content_with_limit(MOST_CONTENT).ok();
    }
    Some(stream.content.clone())
}

/// Follows what is drawn and notes the fonts, by their names in `own`, that text is shown in.
struct Scan<'d> {
    doc: &'d Document,
    own: &'d Dictionary,
    used: BTreeSet<Vec<u8>>,
    seen: BTreeSet<(ObjectId, Option<Vec<u8>>)>,
}

impl Scan<'_> {
    /// Reads a content stream. `current` is the font of `own` that is set where it begins, `within` whether its names
    /// are those of `own`. `None` where it cannot be followed.
    fn read(
        &mut self,
        content: &[u8],
        resources: &Dictionary,
        current: Option<Vec<u8>>,
        within: bool,
        depth: usize,
    ) -> Option<()> {
        if depth > MOST_DEPTH {
            return None;
        }
        let (mut current, mut saved, mut name) = (current, Vec::new(), None);
        for (token, place) in Tokens::of(content) {
            let word = &content[place];
            match (token, word) {
                (Token::Name, _) => name = Some(plain(word)?),
                (Token::Word, b"q") => saved.push(current.clone()),
                (Token::Word, b"Q") => current = saved.pop().unwrap_or(current),
                (Token::Word, b"Tf") => {
                    current = name.take().filter(|_| within);
                    // Where forms share the names of the page, they are not rewritten: what they set stays.
                    if depth > 0 {
                        self.used.extend(current.clone());
                    }
                }
                (Token::Word, b"Tj" | b"TJ" | b"'" | b"\"") => self.used.extend(current.clone()),
                (Token::Word, b"gs") => {
                    let state = name.take().and_then(|n| self.named(resources, b"ExtGState", &n));
                    if state.and_then(|s| s.as_dict().ok()).is_some_and(|s| s.has(b"Font")) {
                        current = None;
                    }
                }
                (Token::Word, b"Do") => self.form(resources, &name.take()?, &current, within, depth)?,
                _ => {}
            }
        }
        Some(())
    }

    fn form(
        &mut self,
        resources: &Dictionary,
        name: &[u8],
        current: &Option<Vec<u8>>,
        within: bool,
        depth: usize,
    ) -> Option<()> {
        let list = resources.get(b"XObject").ok().and_then(|x| direct(self.doc, x).as_dict().ok());
        let Some(Ok(object)) = list.map(|l| l.get(name)) else { return Some(()) };
        let id = object.as_reference().ok()?;
        let Ok(stream) = direct(self.doc, object).as_stream() else { return Some(()) };
        if !is_form(stream) || !self.seen.insert((id, current.clone())) {
            return Some(());
        }
        let content = unpacked(stream)?;
        match stream.dict.get(b"Resources").ok().and_then(|r| direct(self.doc, r).as_dict().ok()) {
            Some(own) => self.read(&content, own, current.clone(), false, depth + 1),
            None if within => self.read(&content, self.own, current.clone(), true, depth + 1),
            None => self.read(&content, resources, current.clone(), false, depth + 1),
        }
    }

    fn named<'r>(&'r self, resources: &'r Dictionary, kind: &[u8], name: &[u8]) -> Option<&'r Object> {
        let list = direct(self.doc, resources.get(kind).ok()?).as_dict().ok()?;
        Some(direct(self.doc, list.get(name).ok()?))
    }
}

/// A name without its slash and with its escapes undone (7.3.5).
fn plain(name: &[u8]) -> Option<Vec<u8>> {
    let (mut out, mut rest) = (Vec::with_capacity(name.len()), name.get(1..)?);
    while let [first, tail @ ..] = rest {
        let code = (*first == b'#').then(|| tail.get(..2)).flatten();
        let code = code.and_then(|c| u8::from_str_radix(std::str::from_utf8(c).ok()?, 16).ok());
        out.push(code.unwrap_or(*first));
        rest = if code.is_some() { &tail[2..] } else { tail };
    }
    Some(out)
}

/// Where a content stream sets a font that is idle: from the font's name to the end of the operator.
fn settings(content: &[u8], idle: impl Fn(&[u8]) -> bool) -> Vec<Range<usize>> {
    let mut out = Vec::new();
    let mut name: Option<Range<usize>> = None;
    for (token, place) in Tokens::of(content) {
        match token {
            Token::Name => name = Some(place),
            Token::Word if &content[place.clone()] == b"Tf" => {
                let set = name.take().filter(|n| plain(&content[n.clone()]).is_some_and(|n| idle(&n)));
                out.extend(set.map(|n| n.start..place.end));
            }
            _ => {}
        }
    }
    out
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use lopdf::dictionary;

    /// What is left of the fonts A, B and C, and of the content. The form `X` draws `form`.
    fn left(content: &str, form: &str, own: bool) -> (Vec<String>, String) {
        let mut doc = Document::with_version("1.7");
        let font = |doc: &mut Document| doc.add_object(dictionary! { "Type" => "Font", "Subtype" => "Type1" });
        let fonts = dictionary! { "A" => font(&mut doc), "B" => font(&mut doc), "C#1" => font(&mut doc) };
        let mut head = dictionary! { "Subtype" => "Form" };
        if own {
            head.set("Resources", dictionary! { "Font" => dictionary! { "A" => font(&mut doc) } });
        }
        let form = doc.add_object(Stream::new(head, form.as_bytes().to_vec()));
        let mut resources = dictionary! { "Font" => fonts, "XObject" => dictionary! { "X" => form } };
        let mut content = content.as_bytes().to_vec();
        drop_fonts(&doc, &mut resources, &mut content);
        let fonts = resources.get(b"Font").and_then(Object::as_dict).cloned().unwrap_or_default();
        let mut names: Vec<String> = fonts.iter().map(|(n, _)| String::from_utf8_lossy(n).into_owned()).collect();
        names.sort();
        (names, String::from_utf8(content).unwrap())
    }

    #[test]
    fn what_is_set_and_never_drawn_with_goes() {
        let (fonts, content) = left("BT /A 12 Tf 14.4 TL ET BT /B 9 Tf (/A 1 Tf) Tj ET", "", true);
        assert_eq!(fonts, ["B"]);
        assert_eq!(content, "BT  14.4 TL ET BT /B 9 Tf (/A 1 Tf) Tj ET");
        assert_eq!(left("0 0 9 9 re f", "", true).0, [""; 0]);
    }

    #[test]
    fn a_font_that_text_is_shown_in_stays_however_it_became_current() {
        assert_eq!(left("/A 9 Tf q /B 9 Tf Q [(x)] TJ", "", true).0, ["A"]);
        assert_eq!(left("/A 9 Tf q /B 9 Tf (x) ' Q", "", true).0, ["B"]);
        assert_eq!(left("/C#231 9 Tf (x) Tj", "", true).0, ["C#1"]);
        // A form begins with the state that it is drawn in (8.10.1).
        assert_eq!(left("/A 9 Tf /X Do", "(x) Tj", true).0, ["A"]);
        assert_eq!(left("/B 9 Tf /X Do", "/A 9 Tf (x) Tj", true).0, [""; 0]);
        // Without resources of its own it has the names of the page (7.8.3).
        assert_eq!(left("/B 9 Tf /X Do", "/A 9 Tf (x) Tj", false).0, ["A"]);
    }
}
