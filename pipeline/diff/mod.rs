//! Two versions of a bundle, side by side: what changed, and what that means for people who have the old one.
//!
//! Both are taken as trees of files. A file whose kind is known is opened and compared by what a buyer sees of it; of
//! all others no more is said than that their bytes differ. Nothing here needs the record of a bundle.

mod align;
mod document;
mod files;
mod links;
pub mod note;
mod pdf;
mod pixels;
mod png;
mod text;
mod tree;

pub use tree::{Leaf, Tree, entries, leaf};

use crate::inspect;
use crate::model::difference::{Change, Comparison, Count, Difference, Verdict};
use crate::model::facts::Facts;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// Files that follow from all others: the sums, the record, the page for looking everything over.
const DERIVED: [&str; 3] = ["SHA256SUMS", "bundle.json", "proof.html"];

/// Compares two trees. `outer` is set when each stands for one archive whose bytes differ.
pub fn compare(mut old: Tree, mut new: Tree, outer: Option<&str>) -> Comparison {
    let repacked = tree::unfold(&mut old, &mut new);
    let files = files::pair(&old, &new);
    let mut differences = Vec::new();
    for path in &files.removed {
        let weight = weight_of(path, Verdict::Major);
        differences.push(Difference::of(path, Change::FileRemoved, weight, "the file is gone"));
    }
    for path in &files.added {
        let weight = weight_of(path, Verdict::Minor);
        differences.push(Difference::of(path, Change::FileAdded, weight, "the file is new"));
    }
    for (from, to) in files.renamed.iter().chain(&files.reworked) {
        let message = format!("it was {from}");
        differences.push(Difference::of(to, Change::FileRenamed, Verdict::Patch, message));
    }
    for path in repacked {
        let message = "the archive holds the same files; it is packed otherwise";
        differences.push(Difference::of(&path, Change::StoredDifferently, Verdict::Patch, message));
    }
    let mut pairs: Vec<(String, String)> = files.changed.iter().map(|p| (p.clone(), p.clone())).collect();
    pairs.extend(files.reworked.iter().cloned());
    // The same two files may lie loose and in an archive; they are compared once and told once.
    let mut first: BTreeMap<(&str, &str), &str> = BTreeMap::new();
    let mut again: Vec<(&str, &str)> = Vec::new();
    pairs.sort_by_key(|(_, to)| (to.to_ascii_lowercase().contains(".zip/"), to.clone()));
    let work: Vec<&(String, String)> = pairs
        .iter()
        .filter(|(from, to)| {
            let key = (old[from].sha256.as_str(), new[to].sha256.as_str());
            match first.get(&key) {
                Some(told) => {
                    again.push((to, told));
                    false
                }
                None => first.insert(key, to).is_none(),
            }
        })
        .filter(|(_, to)| !DERIVED.contains(&name(to)))
        .collect();
    let found: Vec<(Vec<Difference>, Vec<Count>)> =
        work.par_iter().map(|(from, to)| one(to, &old[from], &new[to])).collect();
    let mut facts = Vec::new();
    for (list, counts) in found {
        differences.extend(list);
        facts.extend(counts);
    }
    for (path, told) in again.iter().filter(|(path, _)| !DERIVED.contains(&name(path))) {
        let message = format!("it changed as {told} did");
        differences.push(Difference::of(path, Change::FileChanged, Verdict::Patch, message));
    }
    let versions = record(&old, &new, &mut differences);
    derived(&files.changed, &mut differences);
    if let (true, Some(path)) = (differences.is_empty(), outer) {
        let message = "the archive holds the same files; it is packed otherwise";
        differences.push(Difference::of(path, Change::StoredDifferently, Verdict::Patch, message));
    }
    counts(&old, &new, &mut facts);
    let same_terms: BTreeSet<String> = pairs
        .iter()
        .filter(|(from, to)| is_licence(to) && only_version(&old[from], &new[to], &versions))
        .map(|(_, to)| to.clone())
        .collect();
    finish(differences, facts, &same_terms)
}

/// Whether two texts differ in nothing but the lines that state the version of the bundle.
fn only_version(old: &Leaf, new: &Leaf, versions: &Option<(String, String)>) -> bool {
    let (Some((was, is)), Some(a), Some(b)) = (versions, &old.bytes, &new.bytes) else { return false };
    let (Ok(a), Ok(b)) = (std::str::from_utf8(a), std::str::from_utf8(b)) else { return false };
    let rest = |text: &str, version: &str| -> Vec<String> {
        text.lines().filter(|l| !l.contains(version)).map(str::to_owned).collect()
    };
    !was.is_empty() && !is.is_empty() && rest(a, was) == rest(b, is)
}

/// Orders the differences and judges them.
fn finish(mut differences: Vec<Difference>, facts: Vec<Count>, same_terms: &BTreeSet<String>) -> Comparison {
    for difference in differences.iter_mut().filter(|d| is_licence(&d.path) && !same_terms.contains(&d.path)) {
        if matches!(difference.kind, Change::TextChanged | Change::PageRedrawn | Change::FileChanged) {
            // Other terms bind buyers from now on: never a mere mending.
            difference.weight = difference.weight.max(Verdict::Minor);
            difference.message = format!("the licence terms changed: {}", difference.message);
        }
    }
    differences.sort_by(|a, b| {
        let key =
            |d: &Difference| (!is_licence(&d.path), d.path.clone(), d.page_new.or(d.page_old).unwrap_or(0), d.kind);
        key(a).cmp(&key(b))
    });
    let verdict = differences.iter().map(|d| d.weight).max().unwrap_or(Verdict::Same);
    let download_again = differences.iter().any(|d| d.kind != Change::StoredDifferently && is_for_buyers(&d.path));
    Comparison { same: differences.is_empty(), verdict, download_again, differences, facts }
}

/// Compares two files of which the bytes differ; counts what they hold.
fn one(path: &str, old: &Leaf, new: &Leaf) -> (Vec<Difference>, Vec<Count>) {
    let mut out = Vec::new();
    let mut counts = Vec::new();
    let (Some(a), Some(b)) = (&old.bytes, &new.bytes) else {
        return (vec![opaque(path, old, new)], counts);
    };
    let (x, y) = rayon::join(|| inspect::read(path, a), || inspect::read(path, b));
    match (&x, &y) {
        (Facts::Pdf(p), Facts::Pdf(q)) => {
            let sides = (pdf::Side { facts: p, bytes: a }, pdf::Side { facts: q, bytes: b });
            if !pdf::compare(path, &sides.0, &sides.1, &mut out) {
                return (vec![opaque(path, old, new)], counts);
            }
            let links = |f: &crate::model::facts::PdfFacts| f.pages.iter().map(|p| p.links.len() as u64).sum::<u64>();
            for (what, old, new) in [
                ("pages", p.pages.len() as u64, q.pages.len() as u64),
                ("links", links(p), links(q)),
                ("outline entries", p.outline.len() as u64, q.outline.len() as u64),
            ] {
                if old != new {
                    counts.push(Count { what: format!("{what} in {path}"), old: Some(old), new: Some(new) });
                }
            }
            if out.is_empty() {
                out.push(stored(path, &format!("looks the same, bytes differ: {}", shares(p, old, q, new))));
            }
        }
        (Facts::Png(p), Facts::Png(q)) => {
            png::compare(path, (p, a), (q, b), &mut out);
            if out.is_empty() {
                out.push(stored(path, &format!("looks the same, bytes differ: {} bytes, now {}", old.size, new.size)));
            }
        }
        (Facts::Text(p), Facts::Text(q)) => {
            let (p, q): (Vec<&str>, Vec<&str>) = (p.text.lines().collect(), q.text.lines().collect());
            match text::lines(&p, &q) {
                Some(message) => out.push(Difference::of(path, Change::TextChanged, Verdict::Patch, message)),
                // A long text is read only so far.
                None if old.size.max(new.size) > (1 << 20) => out.push(opaque(path, old, new)),
                None => out.push(stored(path, "the words are the same; line ends or marks differ")),
            }
        }
        _ => out.push(opaque(path, old, new)),
    }
    (out, counts)
}

fn stored(path: &str, message: &str) -> Difference {
    Difference::of(path, Change::StoredDifferently, Verdict::Patch, message)
}

fn opaque(path: &str, old: &Leaf, new: &Leaf) -> Difference {
    let message = format!("its bytes differ; no more is known of it ({} bytes, now {})", old.size, new.size);
    Difference::of(path, Change::FileChanged, Verdict::Patch, message)
}

/// How the bytes of two PDFs divide.
fn shares(p: &crate::model::facts::PdfFacts, old: &Leaf, q: &crate::model::facts::PdfFacts, new: &Leaf) -> String {
    let mut told = vec![format!("{} bytes, now {}", old.size, new.size)];
    if p.version != q.version {
        told.push(format!("version {}, now {}", p.version, q.version));
    }
    for (what, a, b) in [
        ("fonts", p.bytes.fonts, q.bytes.fonts),
        ("pictures", p.bytes.images, q.bytes.images),
        ("drawing", p.bytes.pages, q.bytes.pages),
        ("the rest", p.bytes.rest, q.bytes.rest),
    ] {
        if a != b {
            told.push(format!("{what} {a}, now {b}"));
        }
    }
    told.join("; ")
}

/// What the record of a bundle says of the product, where both versions have one; gives the two version numbers.
fn record(old: &Tree, new: &Tree, out: &mut Vec<Difference>) -> Option<(String, String)> {
    let read = |tree: &Tree| -> Option<serde_json::Value> {
        serde_json::from_slice(tree.get("bundle.json")?.bytes.as_ref()?).ok()
    };
    let (a, b) = (read(old)?, read(new)?);
    let word = |v: &serde_json::Value, key: &str| v[key].as_str().unwrap_or("none").to_owned();
    for (key, what) in [("name", "the name"), ("version", "the version"), ("released", "the date of release")] {
        let (was, is) = (word(&a, key), word(&b, key));
        if was != is {
            let message = format!("{what} was {was} and is {is}");
            out.push(Difference::of("bundle.json", Change::MetadataChanged, Verdict::Patch, message));
        }
    }
    Some((word(&a, "version"), word(&b, "version")))
}

/// Files that follow from others are only mentioned where nothing else explains why they differ.
fn derived(changed: &[String], out: &mut Vec<Difference>) {
    if out.is_empty() {
        for path in changed.iter().filter(|p| DERIVED.contains(&name(p))) {
            out.push(stored(path, "it differs, though no file that it speaks of does"));
        }
    }
}

/// Files by kind, before and after.
fn counts(old: &Tree, new: &Tree, facts: &mut Vec<Count>) {
    if old.len() + new.len() <= 2 {
        return;
    }
    let of = |tree: &Tree, ending: &str| {
        let loose = |p: &&String| !p.starts_with("upload/") && !p.starts_with("listing/");
        let named = tree.keys().filter(|p| p.to_ascii_lowercase().ends_with(ending)).filter(loose);
        named.collect::<BTreeSet<_>>().len() as u64
    };
    for (what, ending) in [("PDF files", ".pdf"), ("PNG pictures", ".png"), ("files", "")] {
        let (a, b) = (of(old, ending), of(new, ending));
        if a != b {
            facts.push(Count { what: what.to_owned(), old: Some(a), new: Some(b) });
        }
    }
}

fn name(path: &str) -> &str {
    path.rsplit('/').next().unwrap_or(path)
}

/// Whether a file holds licence terms, by its name (common practice, no source).
fn is_licence(path: &str) -> bool {
    let name = name(path).to_lowercase();
    ["licence", "license", "terms"].iter().any(|word| name.contains(word))
}

/// Whether buyers get this file.
fn is_for_buyers(path: &str) -> bool {
    !path.starts_with("listing/") && !DERIVED.contains(&name(path))
}

/// The weight of a file that comes or goes.
fn weight_of(path: &str, weight: Verdict) -> Verdict {
    if is_for_buyers(path) { weight } else { Verdict::Patch }
}

/// A stable hash of a text, for telling whether two are equal.
pub(crate) fn hash(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |h, b| (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3))
}
