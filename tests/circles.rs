//! No circle of files: what two files of a folder need of each other lies in a third. A module and what lies below it
//! may know each other: the module is the folder's front.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// Folders in which circles are known and not yet undone.
const KNOWN: [&str; 1] = ["pipeline/driver"];

/// Source files below a folder, with `/` between folders, without those of tests.
fn files(root: &Path) -> Vec<String> {
    let (mut folders, mut files) = (vec![root.join("pipeline")], Vec::<PathBuf>::new());
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("the folder is there") {
            let path = entry.expect("the entry can be read").path();
            match path.is_dir() {
                true => folders.push(path),
                false => files.push(path),
            }
        }
    }
    let inner = |p: &PathBuf| p.strip_prefix(root).expect("it lies below").to_string_lossy().replace('\\', "/");
    let mut names: Vec<String> = files.iter().map(inner).filter(|n| n.ends_with(".rs")).collect();
    names.retain(|n| !n.ends_with("tests.rs") && !n.contains("/tests/"));
    names.sort();
    names
}

/// The text without comments and without a module of tests at its end.
fn code(text: &str) -> String {
    let end = text.find("#[cfg(test)]\nmod tests {").unwrap_or(text.len());
    text[..end].lines().filter(|l| !l.trim_start().starts_with("//")).map(|l| format!("{l}\n")).collect()
}

/// The folder in which the modules below a file's own lie: `a/b` for `a/b.rs`, `a` for `a/mod.rs` and `a/lib.rs`.
fn below(file: &str) -> String {
    let (folder, name) = file.rsplit_once('/').unwrap_or(("", file));
    match name {
        "mod.rs" | "lib.rs" | "main.rs" => folder.to_owned(),
        _ => file.trim_end_matches(".rs").to_owned(),
    }
}

/// The file that a path of modules leads to from a folder: as far as there are files for it, the rest names an item.
fn led_to(files: &BTreeSet<String>, mut folder: String, path: &str) -> Option<String> {
    let mut found = None;
    for part in path.split("::").map(str::trim) {
        let file = [format!("{folder}/{part}.rs"), format!("{folder}/{part}/mod.rs")];
        let Some(file) = file.into_iter().find(|f| files.contains(f)) else { break };
        folder = format!("{folder}/{part}");
        found = Some(file);
    }
    found
}

/// The paths of a use tree: `a::{b, c::d}` are `a::b` and `a::c::d`.
fn expand(tree: &str) -> Vec<String> {
    let end = tree.find(|c: char| !(c.is_alphanumeric() || "_:{".contains(c))).unwrap_or(tree.len());
    let Some(brace) = tree[..end].find('{') else { return vec![tree[..end].to_owned()] };
    let (head, mut depth, mut from, mut out) = (&tree[..brace], 0, brace + 1, Vec::new());
    for (i, c) in tree.char_indices().skip(brace) {
        depth += i32::from(c == '{');
        let ends = c == '}' && depth == 1;
        if (c == ',' && depth == 1) || ends {
            out.extend(expand(tree[from..i].trim()).into_iter().map(|p| format!("{head}{p}")));
            from = i + 1;
        }
        if ends {
            break;
        }
        depth -= i32::from(c == '}');
    }
    out
}

/// The files that a file takes something from, the modules above it and below it left out.
fn takes(files: &BTreeSet<String>, file: &str, code: &str) -> BTreeSet<String> {
    let own = below(file);
    let root = {
        let mut folder = own.as_str();
        while !["lib.rs", "main.rs"].iter().any(|n| files.contains(&format!("{folder}/{n}"))) {
            folder = folder.rsplit_once('/').expect("a crate has a root").0;
        }
        folder.to_owned()
    };
    let mut out = BTreeSet::new();
    for word in ["crate::", "super::"] {
        for (at, _) in code.match_indices(word) {
            // The second of `super::super::` is read with the first.
            if code[..at].ends_with("super::") {
                continue;
            }
            let (mut folder, mut rest) =
                if word == "crate::" { (root.clone(), &code[at + 7..]) } else { (own.clone(), &code[at..]) };
            while let Some(further) = rest.strip_prefix("super::") {
                folder = folder.rsplit_once('/').map_or(String::new(), |f| f.0.to_owned());
                rest = further;
            }
            out.extend(expand(rest).iter().filter_map(|path| led_to(files, folder.clone(), path)));
        }
    }
    let front = |of: &str, other: &str| below(other) == of || below(other).starts_with(&format!("{of}/"));
    out.retain(|other| other != file && !front(&own, other) && !front(&below(other), file));
    out
}

/// Files that can be reached from themselves, each with the way round.
fn circles(edges: &BTreeMap<String, BTreeSet<String>>) -> Vec<String> {
    let mut out = Vec::new();
    for start in edges.keys() {
        let (mut open, mut came) = (vec![start], BTreeMap::<&String, &String>::new());
        while let Some(file) = open.pop() {
            for next in edges.get(file).into_iter().flatten() {
                if came.contains_key(next) {
                    continue;
                }
                came.insert(next, file);
                open.push(next);
            }
        }
        if let Some(mut last) = came.get(start).copied() {
            let mut way = vec![start.as_str()];
            while last != start {
                way.push(last);
                last = came[last];
            }
            way.push(start);
            way.reverse();
            out.push(way.join(" → "));
        }
    }
    out
}

#[test]
fn no_files_make_a_circle() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let all: BTreeSet<String> = files(root).into_iter().collect();
    let edges: BTreeMap<String, BTreeSet<String>> = all
        .iter()
        .map(|file| (file.clone(), takes(&all, file, &code(&fs::read_to_string(root.join(file)).expect("it is text")))))
        .collect();
    assert!(edges.values().map(BTreeSet::len).sum::<usize>() > 500, "the ways between the files were not found");
    let found: Vec<String> = circles(&edges).into_iter().filter(|c| !KNOWN.iter().any(|k| c.starts_with(k))).collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn ways_are_found_and_circles_seen() {
    let all: BTreeSet<String> =
        ["a/lib.rs", "a/x.rs", "a/x/low.rs", "a/y/mod.rs", "a/y/deep.rs"].map(str::to_owned).into();
    let of = |file: &str, code: &str| takes(&all, file, code).into_iter().collect::<Vec<_>>().join(" ");
    assert_eq!(of("a/x.rs", "use super::y::{deep::T, Item};"), "a/y/deep.rs a/y/mod.rs");
    assert_eq!(of("a/x/low.rs", "use crate::{y::deep, x::X}; super::super::y::go()"), "a/y/deep.rs a/y/mod.rs");
    assert_eq!(of("a/y/mod.rs", "use deep::T; use crate::x::low::{A, B};"), "a/x/low.rs");
    let ways = |list: &[(&str, &str)]| {
        let mut edges = BTreeMap::<String, BTreeSet<String>>::new();
        for (from, to) in list {
            edges.entry((*from).to_owned()).or_default().insert((*to).to_owned());
        }
        circles(&edges).len()
    };
    assert_eq!(ways(&[("a", "b"), ("b", "c"), ("a", "c")]), 0);
    assert_eq!(ways(&[("a", "b"), ("b", "c"), ("c", "a"), ("d", "a")]), 3);
}
