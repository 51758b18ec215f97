//! The plan of the house, held where the compiler cannot hold it.
//!
//! Which crate may use which, and which libraries, stands in each crate's Cargo.toml: what is not there does not
//! compile. What is left to this test: the rooms inside of a crate and the narrow doors between crates (`doors`), who
//! touches disk, net, clock and other programs (`outside`), that the reader of files shares no library with their writer
//! beyond those that are named here, and that no files import each other in a circle.

mod clamps;
mod doors;
mod outside;
mod source;
mod supply;

use source::{File, Krate, crates, files};
use std::collections::{BTreeMap, BTreeSet};

/// What is wrong with a file, in words.
fn wrong(file: &File, crates: &[Krate]) -> Vec<String> {
    let mut out = doors::wrong(file);
    out.extend(outside::wrong(file));
    out.extend(undeclared(file, crates));
    out.extend(written_by_the_reader(file));
    out.iter().map(|what| format!("{}: {what}", file.path)).collect()
}

/// Libraries and crates that a file names and its Cargo.toml does not. The compiler says so too; said here as well, a
/// planted breach can be tested.
fn undeclared(file: &File, crates: &[Krate]) -> Vec<String> {
    let Some(own) = crates.iter().find(|c| c.name == file.krate) else { return Vec::new() };
    let known: BTreeSet<&str> =
        crates.iter().flat_map(|c| c.uses.iter().map(String::as_str).chain([c.name.as_str()])).collect();
    let names: BTreeSet<&String> = file.paths.iter().filter_map(|p| p.first()).collect();
    names
        .into_iter()
        .filter(|name| known.contains(name.as_str()) && **name != own.name && !own.uses.contains(*name))
        .map(|name| format!("{name} is not for {}", own.name))
        .collect()
}

#[test]
fn nothing_is_wrong() {
    let crates = crates();
    let files = files(&crates, false);
    assert!(files.len() > 200 && crates.len() > 10, "the sources were not found");
    let wrong: Vec<String> = files.iter().flat_map(|file| wrong(file, &crates)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let spare = [doors::spare(&files), outside::spare(&files)].concat();
    assert!(spare.is_empty(), "{}", spare.join("\n"));
}

/// A breach of every kind, put into a file of the house, is seen; the same file without it is not.
#[test]
fn breaches_are_seen() {
    let crates = crates();
    let plants = [
        ("package/slots.rs", "use super::super::store::Cache;"),
        ("package/slots.rs", "fn f() { super::super::driver::build() }"),
        ("inspect/pdf/xmp.rs", "use render::pdf;"),
        ("show/pictures/open_files.rs", "fn f() { let _ = image::open(\"a.png\"); }"),
        ("show/pictures/open_files.rs", "use crate::proof::palette;"),
        ("draw/svg_loader.rs", "fn f() { let _ = image::ImageReader::open(\"a.png\"); }"),
        ("render/pdf/save.rs", "fn f() { std::process::Command::new(\"qpdf\"); }"),
        ("render/pdf/save.rs", "use std::process; fn f() { process::Command::new(\"qpdf\"); }"),
        ("render/pdf/save.rs", "use std::{fs as disk}; fn f() { disk::read(\"a\"); }"),
        ("render/pdf/save.rs", "use std as s;"),
        ("render/pdf/save.rs", "use std::*;"),
        ("render/pdf/save.rs", "fn f() { println!(\"{:?}\", std::fs::read(\"a\")); }"),
        ("render/pdf/save.rs", "fn f(p: &std::path::Path) -> bool { p.exists() }"),
        ("cli/run.rs", "fn f(p: &std::path::Path) { println!(\"{}\", p.display()); }"),
        ("driver/verify.rs", "fn f(p: &std::path::Path) -> String { p.display().to_string() }"),
        ("render/pdf/save.rs", "fn f(d: lopdf::Document) { d.save(\"a.pdf\"); }"),
        ("render/pdf/save.rs", "fn f() { lopdf::Document::load(\"a.pdf\"); }"),
        ("render/pdf/save.rs", "fn f() { hayro_syntax::Pdf::new(); }"),
        ("judge/diff/pdf.rs", "use std::net::TcpListener;"),
        ("judge/validate/names.rs", "use super::super::diff::tree;"),
        ("judge/validate/names.rs", "fn f() { inspect::read(\"a\", b\"\"); }"),
        ("plan/guide.rs", "fn f() { std::env::var(\"HOME\"); }"),
        ("plan/guide.rs", "use std::env::var as ask;"),
        ("plan/guide.rs", "fn f() -> std::time::SystemTime { std::time::SystemTime::now() }"),
        ("plan/guide.rs", "use std::time::{Duration, Instant};"),
        ("plan/guide.rs", "use rulings::TABLE;"),
        ("inspect/zip.rs", "use {lopdf as reader};"),
        ("inspect/zip.rs", "extern crate lopdf as reader;"),
        ("inspect/zip.rs", "use zip::ZipWriter;"),
        ("inspect/zip.rs", "fn f() { zip::write::SimpleFileOptions::default(); }"),
        ("inspect/png.rs", "use png::{Decoder, Encoder};"),
        ("inspect/pdf/unpack.rs", "use flate2::write::ZlibEncoder;"),
        ("manifest/art.rs", "use inspect::pdf::drawing;"),
        ("manifest/art.rs", "fn f() { let mut db = 0; db.load_system_fonts(); }"),
    ];
    for (path, plant) in plants {
        let krate = path.split('/').next().unwrap_or_default();
        let krate = crates.iter().find(|c| c.name == krate).map_or("sheafwright", |c| &c.name);
        let seen = |text: &str| wrong(&File::parse(path, krate, text, false), &crates);
        assert!(!seen(plant).is_empty(), "{path}: nobody sees `{plant}`");
        let in_tests = format!("#[cfg(test)]\nmod tests {{\n{plant}\n}}\n");
        assert_eq!(seen(&in_tests), Vec::<String>::new(), "what only tests compile may do more");
    }
    let fine = "use base::model::Fault;\nuse std::path::Path;\nfn f() -> Fault { base::model::Fault::new(\"open\") }\n";
    assert_eq!(wrong(&File::parse("plan/guide.rs", "plan", fine, false), &crates), Vec::<String>::new());
}

/// What a Cargo.toml lets its crate use, the crate uses: a door that nobody goes through is shut.
#[test]
fn what_is_declared_is_used() {
    let crates = crates();
    let (code, all) = (files(&crates, false), files(&crates, true));
    let named = |files: &[File], krate: &str| -> BTreeSet<String> {
        files.iter().filter(|f| f.krate == krate).flat_map(|f| f.paths.iter().map(|p| p[0].clone())).collect()
    };
    let mut wrong = Vec::new();
    for krate in &crates {
        let (used, in_tests) = (named(&code, &krate.name), named(&all, &krate.name));
        let spare = krate.uses.iter().filter(|u| !used.contains(*u));
        wrong.extend(spare.map(|u| format!("{} declares {u} and does not use it", krate.name)));
        // Those of the program are for the tests in this folder too, which are not read here.
        let spare = krate.in_tests.iter().filter(|u| krate.name != "sheafwright" && !in_tests.contains(*u));
        wrong.extend(spare.map(|u| format!("the tests of {} declare {u} and do not use it", krate.name)));
        wrong.extend(krate.uses.intersection(&krate.in_tests).map(|u| format!("{} declares {u} twice", krate.name)));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Libraries that know nothing of any kind of file.
const PLAIN: [&str; 5] = ["base", "borsh", "libm", "rayon", "sha2"];

/// Libraries of file formats that serve the reader and a writer: how far the second opinion goes is said in README.
const BOTH: [(&str, &str); 3] = [
    ("flate2", "unpacks streams for the reader, and packs pixels and archives"),
    ("notosans", "a font, drawn by the reader where a file brings none and embedded by the writer"),
    ("png", "reads every PNG, and writes listing pictures; stickers are written by oxipng"),
];

/// The writing half of those.
const WRITES: [(&str, &[&str]); 3] = [
    ("flate2", &["write", "Compression", "Compress", "bufread::ZlibEncoder", "bufread::DeflateEncoder"]),
    ("png", &["Encoder", "Writer", "StreamWriter", "Compression", "Filter"]),
    ("zip", &["ZipWriter", "write"]),
];

/// The reader writes nothing, even where a library of its could.
fn written_by_the_reader(file: &File) -> Vec<String> {
    if file.krate != "inspect" {
        return Vec::new();
    }
    let writes = |p: &&Vec<String>| {
        let halves = WRITES.iter().filter(|(library, _)| p[0] == *library).flat_map(|(_, halves)| *halves);
        halves.into_iter().any(|half| p[1..].join("::").starts_with(half))
            || p.last().is_some_and(|l| l == "*") && p.len() == 2
    };
    file.paths.iter().filter(writes).map(|p| format!("{} writes", p.join("::"))).collect()
}

/// Every crate but the reader, those that stand below it, and those that only judge may write files.
#[test]
fn reader_and_writers_share_no_other_library() {
    let crates = crates();
    let of = |name: &str| &crates.iter().find(|c| c.name == name).unwrap_or_else(|| panic!("{name} is gone")).uses;
    let writers: BTreeSet<&String> =
        crates.iter().filter(|c| !["base", "inspect"].contains(&c.name.as_str())).flat_map(|c| &c.uses).collect();
    let shared: Vec<&str> = of("inspect")
        .iter()
        .filter(|l| writers.contains(l) && !PLAIN.contains(&l.as_str()))
        .map(String::as_str)
        .collect();
    assert_eq!(shared, BOTH.map(|(name, _)| name), "the list of libraries that serve both sides is not true");
    assert!(BOTH.iter().all(|(_, why)| !why.is_empty()));
}

/// Circles of files that are known: they are to go, and none is to come.
const CIRCLES: [&[&str]; 0] = [];

/// The files that each file of a crate leads to. What lies below a file, and what it lies below, does not count: a room
/// hands its types to its files.
fn ways(files: &[&File]) -> BTreeMap<String, BTreeSet<String>> {
    let by_module: BTreeMap<Vec<String>, &File> =
        files.iter().map(|f| ([&[f.krate.clone()][..], &f.module[..]].concat(), *f)).collect();
    let mut out = BTreeMap::new();
    for file in files {
        let own = [&[file.krate.clone()][..], &file.module[..]].concat();
        let mut to = BTreeSet::new();
        for path in &file.paths {
            // A path may begin at a module that lies below this file, or at its crate.
            let below = [&own[..], &path[..]].concat();
            let whole = if path[0] == file.krate { path.clone() } else { below };
            let Some((module, target)) = lead(&by_module, whole) else { continue };
            if !module.starts_with(&own) && !own.starts_with(&module) {
                to.insert(target.path.clone());
            }
        }
        out.insert(file.path.clone(), to);
    }
    out
}

/// The file in which a path ends, names that are handed on by others followed to where they stand.
fn lead<'a>(by_module: &BTreeMap<Vec<String>, &'a File>, mut path: Vec<String>) -> Option<(Vec<String>, &'a File)> {
    for _ in 0..8 {
        let n = (1..=path.len()).rev().find(|n| by_module.contains_key(&path[..*n]))?;
        let (module, file) = (path[..n].to_vec(), by_module[&path[..n]]);
        let handed_on = path.get(n).and_then(|name| file.imports.get(name)).map(|to| {
            let to = if to[0] == file.krate { to.clone() } else { [&module[..], &to[..]].concat() };
            [&to[..], &path[n + 1..]].concat()
        });
        match handed_on {
            Some(next) if next != path => path = next,
            _ => return Some((module, file)),
        }
    }
    None
}

/// Sets of files that lead to each other.
fn circles(ways: &BTreeMap<String, BTreeSet<String>>) -> BTreeSet<Vec<String>> {
    let reach = |from: &str| {
        let (mut open, mut seen) = (vec![from.to_owned()], BTreeSet::new());
        while let Some(next) = open.pop() {
            open.extend(ways[&next].iter().filter(|to| seen.insert((*to).clone())).cloned());
        }
        seen
    };
    let all: BTreeMap<&String, BTreeSet<String>> = ways.keys().map(|file| (file, reach(file))).collect();
    all.iter()
        .filter(|(file, seen)| seen.contains(**file))
        .map(|(file, seen)| seen.iter().filter(|to| all[to].contains(*file)).cloned().collect())
        .collect()
}

#[test]
fn no_files_import_each_other_in_a_circle() {
    let crates = crates();
    let files = files(&crates, false);
    let count = |c: &Krate| {
        let own: Vec<&File> = files.iter().filter(|f| f.krate == c.name).collect();
        ways(&own).values().map(BTreeSet::len).sum::<usize>()
    };
    assert!(crates.iter().map(count).sum::<usize>() > 300, "the ways between the files were not found");
    let found: BTreeSet<Vec<String>> = crates
        .iter()
        .flat_map(|c| {
            let own = files.iter().filter(|f| f.krate == c.name);
            circles(&ways(&own.collect::<Vec<_>>()))
        })
        .collect();
    let known: BTreeSet<Vec<String>> =
        CIRCLES.iter().map(|files| files.iter().map(|f| (*f).to_owned()).collect()).collect();
    assert_eq!(found, known);
}

#[test]
fn ways_are_found() {
    let texts = [
        ("plan/lib.rs", "mod x; mod y;"),
        ("plan/x.rs", "mod low; use super::y::{deep::T, Item};"),
        ("plan/x/low.rs", "use crate::{y::deep, x::X}; fn f() { super::super::y::go() }"),
        ("plan/y/mod.rs", "mod deep; use deep::T; use crate::x::low::{A, B};"),
        ("plan/y/deep.rs", "use super::Item; use super::super::x as other; fn f() { other::low::g() }"),
    ];
    let files = texts.map(|(path, text)| File::parse(path, "plan", text, false));
    let ways = ways(&files.iter().collect::<Vec<_>>());
    let of = |file: &str| ways[file].iter().cloned().collect::<Vec<_>>().join(" ");
    assert_eq!(of("plan/lib.rs"), "");
    assert_eq!(of("plan/x.rs"), "plan/y/deep.rs plan/y/mod.rs");
    assert_eq!(of("plan/x/low.rs"), "plan/y/deep.rs plan/y/mod.rs");
    assert_eq!(of("plan/y/mod.rs"), "plan/x/low.rs");
    assert_eq!(of("plan/y/deep.rs"), "plan/x.rs plan/x/low.rs");
}

#[test]
fn circles_are_seen() {
    let parse = |path: &str, text: &str| File::parse(path, "plan", text, false);
    let all = [
        parse("plan/lib.rs", "mod a; mod b; mod c; mod d; pub use c::Thing; fn f() { a::g() }"),
        parse("plan/a.rs", "use crate::Thing; fn g() { super::b::h() }"),
        parse("plan/b.rs", "fn h() { crate::helper() }"),
        parse("plan/c.rs", "use super::d::x; pub struct Thing;"),
        parse("plan/d.rs", "#[cfg(test)] mod tests { use crate::b; }\nfn x() { vec![crate::a::g()]; }"),
    ];
    let ways = ways(&all.iter().collect::<Vec<_>>());
    assert_eq!(circles(&ways), BTreeSet::from([["plan/a.rs", "plan/c.rs", "plan/d.rs"].map(str::to_owned).to_vec()]));
}
