//! `new`, `add` and `look`: a product's folder before its first build.

use super::args::{Add, New};
use super::outcome::{CLEAN, complain, print, say, typed};
use crate::driver::{self, State};
use crate::{store, world};
use base::files::slashed;
use base::model::Fault;
use manifest::add::Wanted;
use manifest::starter::{self, Start};
use std::fmt::Write;
use std::path::Path;

/// Most files that are listed.
const MOST: usize = 20;

/// Makes a product.
pub fn new(args: &New) -> u8 {
    let dir = &args.dir;
    let folder = dir.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let finished = args.finished.as_ref().map(|file| {
        let name = file.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        (name, file)
    });
    let start = match (&finished, args.planner, args.stickers, args.art) {
        (Some((name, _)), ..) => Start::Finished(name.clone()),
        (_, true, ..) => Start::Planner,
        (_, _, true, _) => Start::Stickers,
        (_, _, _, true) => Start::Art,
        _ => Start::Notebook,
    };
    let bytes = match finished.as_ref().map(|(_, file)| world::read_outside(file)).transpose() {
        Ok(bytes) => bytes,
        Err(fault) => return complain(&[fault.help("name a PDF that you have: sheafwright new DIR --finished FILE")]),
    };
    if bytes.as_ref().is_some_and(|b| !b.starts_with(b"%PDF-")) {
        let file = finished.as_ref().map(|(_, f)| slashed(f)).unwrap_or_default();
        return complain(&[Fault::new("it is no PDF")
            .in_file(file)
            .help("export the notebook as PDF, and name that file")]);
    }
    let files = starter::files(&start, &folder, &world::today().to_string());
    // The manifest goes first: where there is one, nothing else is written.
    for (path, text) in &files {
        if let Err(fault) = store::new_file(&dir.join(path), text) {
            return complain(&[fault]);
        }
    }
    if let (Some((name, _)), Some(bytes)) = (&finished, &bytes)
        && let Err(fault) = store::new_bytes(&dir.join("exports").join(name), bytes)
    {
        return complain(&[fault]);
    }
    let more: Vec<&str> = files.iter().skip(1).map(|(path, _)| *path).collect();
    let with = if more.is_empty() { String::new() } else { format!(", with {}", more.join(" and ")) };
    say!("Made {}{with}. Next: sheafwright build {}", slashed(&dir.join(manifest::FILE)), typed(dir));
    CLEAN
}

/// Adds one thing to a manifest, and says what was written.
pub fn add(args: &Add) -> u8 {
    let (name, colour) = (args.name.as_deref(), args.colour.as_deref());
    let wanted = Wanted { thing: args.what.into(), which: &args.which, name, colour };
    match driver::add(&args.product, &wanted) {
        Ok(added) => {
            let (first, lines) = added.lines;
            let mut out = format!("Wrote into {}:\n", slashed(&added.file));
            for (i, line) in lines.iter().enumerate() {
                // Writing to a text does not fail.
                let _ = writeln!(out, "  {:>4} | {line}", first + i);
            }
            for note in added.notes {
                let _ = writeln!(out, "note: {note}");
            }
            let _ = writeln!(out, "Next: sheafwright build {}", typed(&args.product));
            print(&out);
            CLEAN
        }
        Err(faults) => {
            let code = complain(&faults);
            say!("{} stays as it was.", manifest::FILE);
            code
        }
    }
}

/// Says what lies in a folder, what of it is used by nothing, and what the next step is.
pub fn look(folder: &Path) -> u8 {
    let looked = match driver::look(folder) {
        Ok(looked) => looked,
        Err(fault) => return complain(&[fault]),
    };
    let mut out = String::new();
    let mut list = |head: &str, files: &[String]| {
        if files.is_empty() {
            return;
        }
        let _ = writeln!(out, "{head}");
        for file in files.iter().take(MOST) {
            let _ = writeln!(out, "  {file}");
        }
        if files.len() > MOST {
            let _ = writeln!(out, "  and {} more", files.len() - MOST);
        }
    };
    list("Files here:", &looked.files);
    list("Used by nothing in product.toml:", &looked.unused);
    let here = typed(folder);
    let ends = |ending: &str| looked.files.iter().find(|f| f.to_lowercase().ends_with(ending));
    match &looked.state {
        State::Bare => {
            let next = match (ends(".pdf"), ends(".svg")) {
                (Some(pdf), _) => format!("sheafwright new {here} --finished {}", typed(&folder.join(pdf))),
                (None, Some(_)) => format!("sheafwright new {here} --art"),
                (None, None) => format!("sheafwright new {here}"),
            };
            let _ = writeln!(out, "There is no product.toml yet. Next: {next}");
        }
        State::Faulty(faults) => {
            let many = if faults.len() == 1 { "one thing".to_owned() } else { format!("{} things", faults.len()) };
            let _ = writeln!(out, "product.toml has {many} to mend. The first:\n{}", faults[0]);
            let _ = writeln!(out, "Next: mend that; `sheafwright check {here}` shows all of them.");
        }
        State::Ready(makes) => {
            let _ = writeln!(out, "product.toml is sound: {}.\nNext: sheafwright build {here}", makes.join(", "));
        }
    }
    print(&out);
    CLEAN
}
