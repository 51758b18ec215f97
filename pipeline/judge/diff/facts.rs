//! Counts before and after: of pages, links, sections, templates, stickers and covers; and what a record states.

use super::names::name;
use super::tree::Tree;
use base::model::Kind;
use base::model::change::Change;
use base::model::difference::{Count, Difference};
use base::model::facts::{Leads, PdfFacts};
use base::model::variant::Variant;
use base::model::versions::Rule;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// What the record of a bundle states, where there is one.
#[derive(Default)]
pub struct Record {
    /// Name of the product.
    pub name: Option<String>,
    /// Version number.
    pub version: Option<String>,
    /// Date of release.
    pub released: Option<String>,
    /// The rule for version numbers, where one is stated.
    pub rule: Option<Rule>,
    /// The program that made it.
    pub tool: Option<String>,
    /// The choices that its licence terms were written from.
    pub licence: Option<Value>,
    /// The variants that the product comes in.
    pub variants: Vec<Variant>,
    /// What the files are, by path.
    pub kinds: BTreeMap<String, Kind>,
}

impl Record {
    /// Reads the record of a tree; empty if it has none.
    pub fn read(tree: &Tree) -> Record {
        let leaf = tree.get("bundle.json").and_then(|leaf| leaf.bytes.as_ref());
        let Some(value) = leaf.and_then(|b| serde_json::from_slice::<Value>(b).ok()) else { return Record::default() };
        let word = |key: &str| value[key].as_str().map(str::to_owned);
        let files = value["files"].as_array().map(Vec::as_slice).unwrap_or_default();
        let kind = |file: &Value| {
            Some((file["path"].as_str()?.to_owned(), serde_json::from_value(file["kind"].clone()).ok()?))
        };
        Record {
            name: word("name"),
            version: word("version"),
            released: word("released"),
            rule: Rule::from_json(&value["versions"]),
            tool: word("tool"),
            licence: value.get("licence").cloned(),
            variants: serde_json::from_value(value["variants"].clone()).unwrap_or_default(),
            kinds: files.iter().filter_map(kind).collect(),
        }
    }
}

/// What two records state otherwise.
pub fn of_records(old: &Record, new: &Record, out: &mut Vec<Difference>) {
    for (what, a, b) in [
        ("the name", &old.name, &new.name),
        ("the version", &old.version, &new.version),
        ("the date of release", &old.released, &new.released),
    ] {
        if let (Some(was), Some(is)) = (a, b)
            && was != is
        {
            let message = format!("{what} was {was} and is {is}");
            out.push(Difference::of("bundle.json", Change::MetadataChanged, message));
        }
    }
    if old.version.is_some() && new.version.is_some() && old.rule != new.rule {
        let message = "the product states another rule for its version numbers";
        out.push(Difference::of("bundle.json", Change::MetadataChanged, message));
    }
}

/// Counts a pair of documents: pages, links, and by the entries of the outline, which name sections and templates; entries that
/// lead to pages that are `passed` are left out.
pub fn of_documents(path: &str, (old, new): (&PdfFacts, &PdfFacts), passed: [&[bool]; 2], out: &mut Vec<Count>) {
    let mut tell = |what: String, old: Option<u64>, new: Option<u64>| {
        if old != new {
            out.push(Count { what, old, new });
        }
    };
    let links = |f: &PdfFacts| f.pages.iter().map(|p| p.links.len() as u64).sum::<u64>();
    for (what, a, b) in [
        ("pages", old.pages.len() as u64, new.pages.len() as u64),
        ("links", links(old), links(new)),
        ("outline entries", old.outline.len() as u64, new.outline.len() as u64),
    ] {
        tell(format!("{what} in {path}"), Some(a), Some(b));
    }
    let (a, b) = (Entries::of(old, passed[0]), Entries::of(new, passed[1]));
    for title in a.inside.keys().filter(|t| b.inside.contains_key(*t)) {
        tell(format!("entries of \u{201c}{title}\u{201d} in {path}"), Some(a.inside[title]), Some(b.inside[title]));
    }
    for title in a.pages.keys().chain(b.pages.keys()).collect::<BTreeSet<_>>() {
        let (x, y) = (a.pages.get(title).copied(), b.pages.get(title).copied());
        tell(format!("pages of \u{201c}{title}\u{201d} in {path}"), x, y);
    }
}

/// What an outline counts.
#[derive(Default)]
struct Entries {
    /// Entries right below an entry, by its title.
    inside: BTreeMap<String, u64>,
    /// Pages from an entry without entries below it up to the page of the next, by title.
    pages: BTreeMap<String, u64>,
}

impl Entries {
    fn of(pdf: &PdfFacts, passed: &[bool]) -> Entries {
        let mut found = Entries::default();
        let mut starts: Vec<usize> = pdf.outline.iter().filter_map(|o| o.leads.page()).collect();
        starts.push(pdf.pages.len());
        starts.sort_unstable();
        let mut above: Vec<&str> = Vec::new();
        for (i, entry) in pdf.outline.iter().enumerate() {
            above.truncate(entry.depth);
            if entry.leads.page().and_then(|page| passed.get(page)) == Some(&true) {
                above.push("");
                continue;
            }
            if let Some(parent) = above.last().filter(|parent| !parent.is_empty()) {
                *found.inside.entry((*parent).to_owned()).or_default() += 1;
            }
            above.push(&entry.title);
            let leaf = pdf.outline.get(i + 1).is_none_or(|next| next.depth <= entry.depth);
            if let (true, Leads::Page { page, .. }) = (leaf, &entry.leads) {
                let end = starts.iter().find(|s| *s > page).unwrap_or(page);
                *found.pages.entry(entry.title.clone()).or_default() += (end - page) as u64;
            }
        }
        found
    }
}

/// Files by kind, before and after. What lies in archives lies loose as well, or is all there is.
pub fn of_trees((old, a): (&Tree, &Record), (new, b): (&Tree, &Record), out: &mut Vec<Count>) {
    if old.len() + new.len() <= 2 {
        return;
    }
    let mut tell = |what: &str, old: u64, new: u64| {
        if old != new {
            out.push(Count { what: what.to_owned(), old: Some(old), new: Some(new) });
        }
    };
    let both = !a.kinds.is_empty() && !b.kinds.is_empty();
    for (what, kind) in [("stickers", Kind::Sticker), ("uploads", Kind::Upload)] {
        let count = |record: &Record| record.kinds.values().filter(|k| **k == kind).count() as u64;
        if both {
            tell(what, count(a), count(b));
        }
    }
    let of = |tree: &Tree, ending: &str| {
        let loose = |p: &&String| !p.starts_with("upload/") && !p.starts_with("listing/");
        tree.keys().filter(|p| name(p).to_ascii_lowercase().ends_with(ending)).filter(loose).count() as u64
    };
    for (what, ending) in [("PDF files", ".pdf"), ("PNG pictures", ".png"), ("files", "")] {
        tell(what, of(old, ending), of(new, ending));
    }
}

/// The files to upload, where any of them changed in size: a shop shows them one by one.
pub fn of_slots(old: &Tree, new: &Tree, out: &mut Vec<Count>) {
    let slots = |tree: &Tree| -> BTreeMap<String, u64> {
        let below = tree.iter().filter(|(path, _)| path.starts_with("upload/"));
        below.map(|(path, leaf)| (path.clone(), leaf.size)).collect()
    };
    let (a, b) = (slots(old), slots(new));
    for path in a.keys().chain(b.keys()).collect::<BTreeSet<_>>() {
        let (x, y) = (a.get(path).copied(), b.get(path).copied());
        if x != y {
            out.push(Count { what: format!("bytes of {path}"), old: x, new: y });
        }
    }
}
