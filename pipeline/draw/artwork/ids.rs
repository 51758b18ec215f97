//! What a designer called an object, wherever the designer's drawing program keeps it: in the id, written over where an XML name
//! may not have it, or in an attribute of the program's own.

use resvg::usvg::roxmltree::{Document, Node, ParsingOptions};
use std::collections::BTreeMap;

/// The names that a program keeps beside the id: its label or its own form of the id.
pub fn beside<'n, 'd>(node: &'n Node<'n, 'd>) -> impl Iterator<Item = &'n str> {
    let names = |namespace: bool, name: &str| match namespace {
        true => matches!(name, "label" | "id"),
        false => name == "data-name",
    };
    node.attributes().filter(move |a| names(a.namespace().is_some(), a.name())).map(|a| a.value())
}

/// What the name of an object says of a tap: where it leads, and whether it says so in the form that is meant for it.
///
/// Programs and hands write `Link:Index`, `link-index` or `link_section_2` where `link:index` was meant.
pub fn aimed(name: &str) -> Option<(String, bool)> {
    let name = decoded(name);
    let head = name.get(..4).filter(|head| head.eq_ignore_ascii_case("link"))?;
    let rest = &name[head.len()..];
    let mark = rest.chars().next().filter(|c| ":-_.=/ ".contains(*c))?;
    let to = rest.trim_start_matches([':', '-', '_', '.', '=', '/', ' ']).trim_end();
    (!to.is_empty()).then(|| (to.to_owned(), mark == ':'))
}

/// An id as the designer wrote it: some programs write what an XML name may not have as `_x3A_`, and end the second of a name
/// with `_1_`.
pub fn plain(id: &str) -> String {
    let plain = decoded(id);
    if plain == id {
        return plain;
    }
    let counted = plain.strip_suffix('_').and_then(|p| p.rsplit_once('_'));
    let counted = counted.filter(|(_, n)| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()));
    counted.map_or(plain.clone(), |(name, _)| name.to_owned())
}

fn decoded(id: &str) -> String {
    let mut out = String::with_capacity(id.len());
    let mut rest = id;
    while let Some(at) = rest.find("_x") {
        let (head, tail) = rest.split_at(at);
        out.push_str(head);
        let code = tail[2..].split('_').next().unwrap_or_default();
        let decoded = (2..=6)
            .contains(&code.len())
            .then(|| u32::from_str_radix(code, 16).ok().and_then(char::from_u32))
            .flatten()
            .filter(|_| tail[2 + code.len()..].starts_with('_'));
        if let Some(c) = decoded {
            out.push(c);
            rest = &tail[3 + code.len()..];
        } else {
            out.push_str("_x");
            rest = &tail[2..];
        }
    }
    out + rest
}

/// The names that differ from the ids they belong to, by id.
pub fn renamed(text: &str) -> BTreeMap<String, String> {
    let options = ParsingOptions { allow_dtd: true, ..Default::default() };
    // A drawing that cannot be read has been told elsewhere.
    let Ok(doc) = Document::parse_with_options(text, options) else { return BTreeMap::new() };
    let mut out = BTreeMap::new();
    for node in doc.descendants() {
        let Some(id) = node.attribute("id") else { continue };
        let name = beside(&node).next().map_or_else(|| plain(id), str::to_owned);
        if name != id && !name.trim().is_empty() {
            out.insert(id.to_owned(), name);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_objects() {
        for (id, name) in [
            ("link_x3A_index", "link:index"),
            ("tea_x20_pot_1_", "tea pot"),
            ("tea_1_", "tea_1_"),
            ("tea_xtra", "tea_xtra"),
            ("_x31_2", "12"),
        ] {
            assert_eq!(plain(id), name);
        }
        let text = "<svg xmlns:d=\"urn:d\"><g id=\"g7\" d:label=\"Kettle\"/><path id=\"a-b\" d:id=\"a b\"/><rect id=\"cup\"/></svg>";
        let pairs: Vec<_> = renamed(text).into_iter().collect();
        assert_eq!(pairs, [("a-b".to_owned(), "a b".to_owned()), ("g7".to_owned(), "Kettle".to_owned())]);
    }
}
