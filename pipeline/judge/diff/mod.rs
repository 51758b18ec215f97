//! Two versions of a bundle, side by side: what changed, and what that means for people who have the old one.
//!
//! Both are taken as trees of files. A file whose kind is known is opened and compared by what a buyer sees of it; of
//! all others no more is said than that their bytes differ. Nothing here needs the record of a bundle.

mod align;
pub mod checks;
mod dated;
mod document;
mod facts;
mod file;
mod files;
mod judge;
mod links;
mod names;
pub mod note;
pub mod pack;
pub mod page;
mod pdf;
mod pixels;
mod png;
mod reading;
mod renamed;
mod shots;
mod terms;
mod text;
mod things;
mod tree;

pub use judge::{NOTHING, line};
pub use tree::{Tree, TreeFile, entries, leaf};

use base::model::change::Change;
use base::model::difference::{Comparison, Difference};
use base::model::facts::{Facts, Inspected};
use facts::Record;
use file::{Between, stored};
use inspect::Reader;
use names::{DERIVED, is_licence, name};
use rayon::prelude::*;
use reading::Readings;
use std::collections::{BTreeMap, BTreeSet};

/// So many pictures that came are shown, and so many that went, where pictures are wanted.
const SHOWN_FILES: usize = 60;

/// How closely two versions are looked at.
#[derive(Clone, Copy, Debug, Default)]
pub struct DiffOptions {
    /// With pictures of what changed.
    pub pictures: bool,
    /// With the files of both sides read for the checks.
    pub checks: bool,
    /// Only as far as it costs next to nothing: pages are not looked at.
    pub quick: bool,
    /// So many redrawn pages of a file are drawn to say how much of them looks different; of the others no more is
    /// said than that they are drawn otherwise.
    pub drawn: usize,
}

/// A comparison, and the files of both versions for the checks; these are empty where they were not asked for.
pub struct Compared {
    /// What changed.
    pub found: Comparison,
    /// Files of the old version.
    pub old: Vec<Inspected>,
    /// Files of the new version.
    pub new: Vec<Inspected>,
    /// Which page of the old version is which of the new one, by index from 0, for each PDF that differs.
    pub pairs: BTreeMap<String, Vec<(usize, usize)>>,
    /// How many redrawn pages were not drawn, since no more were asked for; with 0 a closer look would say nothing else.
    pub undrawn: usize,
}

/// Compares two trees, whose files `reader` reads. `outer` is set when each stands for one archive whose bytes differ.
pub fn compare(
    mut old: Tree,
    mut new: Tree,
    outer: Option<&str>,
    options: DiffOptions,
    reader: &dyn Reader,
) -> Compared {
    let whole = (old.clone(), new.clone());
    let opened = tree::unfold(&mut old, &mut new);
    let files = files::pair(&old, &new, !options.quick, reader);
    let mut differences = Vec::new();
    for (paths, tree, kind) in [(&files.removed, &old, Change::FileRemoved), (&files.added, &new, Change::FileAdded)] {
        differences.par_extend(paths.par_iter().enumerate().map(|(n, path)| {
            let came = kind == Change::FileAdded;
            let message = if came { "the file is new" } else { "the file is gone" };
            let mut difference = Difference::of(path, kind, message);
            if options.pictures && n < SHOWN_FILES && path.to_ascii_lowercase().ends_with(".png") {
                difference.shot = tree[path].bytes.as_ref().and_then(|bytes| shots::of_file(bytes, came));
            }
            difference
        }));
    }
    for (from, to) in files.renamed.iter().chain(&files.reworked) {
        let message = format!("it was {from}");
        differences.push(Difference::of(to, Change::FileRenamed, message));
    }
    for (paths, kind) in [(&opened.gone, Change::FileRemoved), (&opened.come, Change::FileAdded)] {
        for path in paths {
            let word = if kind == Change::FileAdded { "new; what it holds" } else { "gone; what it held" };
            let message = format!("the archive is {word} is told file by file");
            // By itself a wrapping less or more is nothing that anybody loses or gains.
            differences.push(Difference::of(path, kind, message).as_case(Change::FileRenamed.name()));
        }
    }
    for path in opened.repacked {
        let message = "the archive holds the same files; it is packed otherwise";
        differences.push(Difference::of(&path, Change::StoredDifferently, message));
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
    let mut to_read: Vec<(&str, &TreeFile)> = Vec::new();
    for (from, to) in &work {
        to_read.extend([(from.as_str(), &old[from]), (to.as_str(), &new[to])]);
    }
    let changed = whole.0.iter().map(|(p, l)| (p, &l.sha256)).ne(whole.1.iter().map(|(p, l)| (p, &l.sha256)));
    let for_checks = changed && options.checks;
    if for_checks {
        to_read.extend(reading::for_checks(&whole.0, &whole.1));
    }
    let read = Readings::of(to_read.into_iter(), reader);
    let side = |leaf| (leaf, read.get(leaf));
    let found: Vec<Between> = work
        .par_iter()
        .map(|(from, to)| file::compare(to, side(&old[from]), side(&new[to]), options, reader))
        .collect();
    let (mut counted, mut paired, mut undrawn) = (Vec::new(), BTreeMap::new(), 0);
    for ((_, to), between) in work.iter().zip(found) {
        differences.extend(between.differences);
        counted.extend(between.counts);
        undrawn += between.undrawn;
        if !between.pairs.is_empty() {
            paired.insert(to.clone(), between.pairs);
        }
    }
    // What lies there twice was compared once.
    for (to, told) in &again {
        if let Some(same) = paired.get(*told).cloned() {
            paired.insert((*to).to_owned(), same);
        }
    }
    for (path, told) in again.iter().filter(|(path, _)| !DERIVED.contains(&name(path))) {
        differences.push(Difference::copy(path, told));
    }
    let (was, is) = (Record::read(&whole.0), Record::read(&whole.1));
    facts::of_records(&was, &is, &mut differences);
    derived(&files.changed, &mut differences);
    if let (true, Some(path)) = (differences.is_empty(), outer) {
        let message = "the archive holds the same files; it is packed otherwise";
        differences.push(Difference::of(path, Change::StoredDifferently, message));
    }
    facts::of_trees((&old, &was), (&new, &is), &mut counted);
    facts::of_slots(&whole.0, &whole.1, &mut counted);
    let same_terms: BTreeSet<String> = pairs
        .iter()
        .filter(|(from, to)| is_licence(to) && terms::same(&old[from], &new[to], &was, &is))
        .map(|(_, to)| to.clone())
        .collect();
    let mut found = judge::finish(differences, counted, &same_terms, (&was, &is));
    found.files = files.sizes(&whole.0, &whole.1);
    let files = |tree: &Tree| if for_checks { read.inspected(tree) } else { Vec::new() };
    let (old, new) = (files(&whole.0), files(&whole.1));
    found.language = language(&new).or_else(|| language(&old));
    Compared { found, old, new, pairs: paired, undrawn }
}

/// Files that follow from others are only mentioned where nothing else explains why they differ.
fn derived(changed: &[String], out: &mut Vec<Difference>) {
    if out.is_empty() {
        for path in changed.iter().filter(|p| DERIVED.contains(&name(p))) {
            out.push(stored(path, "it differs, though no file that it speaks of does"));
        }
    }
}

/// The language that the first document with one states.
fn language(files: &[Inspected]) -> Option<String> {
    let stated = |f: &Inspected| if let Facts::Pdf(pdf) = &f.facts { pdf.language.clone() } else { None };
    files.iter().find_map(stated)
}

/// A stable hash of a text, for telling whether two are equal.
pub(crate) fn hash(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |h, b| (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3))
}
