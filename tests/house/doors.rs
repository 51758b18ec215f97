//! Rooms and the doors between them, as far as they stand in one crate, and doors between crates through which only a
//! few things may be carried.

use crate::source::File;
use std::collections::BTreeSet;

/// A door from one room into another.
struct Door {
    from: &'static str,
    into: &'static str,
    /// What may be carried through: names of items of the other room; none means all.
    only: &'static [&'static str],
    /// Why it is there.
    why: &'static str,
}

const fn door(from: &'static str, into: &'static str, only: &'static [&'static str], why: &'static str) -> Door {
    Door { from, into, only, why }
}

/// Crates that are several rooms, each with a folder or a file of its own. A room of these has no door that is not listed.
const SHARED: [&str; 4] = ["sheafwright", "base", "judge", "show"];

/// The doors. main leads to cli, cli to the driver, the driver to the stages; the stages do not know each other, and what
/// they hand on is a type of `model`. Crates of one room go by their Cargo.toml, and by what is said of them here.
const DOORS: &[Door] = &[
    door("main", "cli", &[], "arguments in, exit code out"),
    door("cli", "driver", &[], "a command is one call of the driver"),
    door("cli", "model", &[], "findings and faults are what reports are made of"),
    door("cli", "validate", &["CATALOGUE", "counts", "find", "graph"], "the reports read the catalogue and the ways"),
    door(
        "cli",
        "manifest",
        &["FILE", "Origin", "Said", "add", "starter"],
        "`new` writes a first manifest, `add` says what is wanted, `explain --where` tells where a value stands",
    ),
    door("cli", "plan", &["pack"], "where the pages of an update pack go, in words"),
    door("cli", "manual", &[], "`explain`, the schema and the completions show what can be looked up"),
    door("cli", "catalogue", &[], "its page, table and JSON are written"),
    door("cli", "launch", &["Plan", "calendar", "markdown"], "its plans are shown and written"),
    door("driver", "launch", &["LAUNCH", "Plan", "Seen", "steps"], "it looks what lies there of the version"),
    door("launch", "model", &["launch", "product"], "the steps of the manifest, and their days"),
    door("launch", "checksum", &["sha256_hex"], "events of a calendar have names that stay"),
    door("driver", "catalogue", &[], "it reads bundles and fills the entries"),
    door("catalogue", "model", &["Fault", "byte_size", "units"], "sizes in words"),
    door(
        "manual",
        "manifest",
        &["keys", "looks", "shop_keys"],
        "the keys with their comments, those that a shop may share, and the looks that come along",
    ),
    door("manual", "keys", &[], "what a key takes"),
    door("manual", "model", &["Check", "Fault", "fault"], "checks are explained as well; near names are suggested"),
    door("manual", "validate", &["CATALOGUE", "find"], "the names of the checks"),
    door("manual", "rulings", &["ALL"], "rulings with their parameters"),
    door(
        "manual",
        "draw",
        &["built_in", "motifs", "ruling", "shots"],
        "motifs, layouts and typefaces, and the parameters of a ruling",
    ),
    door(
        "cli",
        "store",
        &["new_bytes", "new_file", "replace_file"],
        "`new`, `proof`, `manual` and `catalogue` write files",
    ),
    door(
        "cli",
        "world",
        &["bytes_below", "products_named", "products_near", "read_outside", "slashed", "today"],
        "`listing` reads a bundle, `release` a key, `table` reports; a new product is released today; products are found",
    ),
    door("driver", "world", &[], "it opens the product's folder"),
    door("driver", "redate", &[], "it plans the next year's product"),
    door("driver", "manual", &["html", "of", "sample"], "it draws the pictures of the manual"),
    door("cli", "files", &["slashed"], "ways are shown with / on every system"),
    door("store", "files", &["slashed"], "ways are shown with / on every system"),
    door(
        "driver",
        "files",
        &["Files", "Made", "Notes", "slashed"],
        "it asks the folder what was read, shows ways with /, and keeps what is noted",
    ),
    door("driver", "manifest", &[], "stage"),
    door("driver", "plan", &[], "stage"),
    door("driver", "render", &[], "stage"),
    door("driver", "inspect", &[], "what was made is read back before it is judged"),
    door("driver", "validate", &[], "stage"),
    door("driver", "checksum", &[], "stage"),
    door("driver", "package", &[], "stage"),
    door("driver", "listing", &[], "stage"),
    door("driver", "diff", &[], "stage"),
    door("driver", "proof", &[], "stage"),
    door("driver", "pictures", &[], "stage"),
    door("driver", "store", &[], "only the driver writes bundles"),
    door("driver", "releases", &[], "it seals and verifies"),
    door(
        "cli",
        "releases",
        &["compare", "sign"],
        "what is reported of a bundle against its papers; a key that has to be unlocked",
    ),
    door("releases", "model", &[], "faults come back; a library that gives up is caught"),
    door("releases", "checksum", &["sha256_hex", "sums"], "digests are what it is about"),
    door("driver", "model", &[], "it hands the types on"),
    door(
        "driver",
        "draw",
        &["Fonts", "built_in", "fonts", "motifs", "shots", "specimen", "svg"],
        "fonts are opened once, for planning and for rendering; motifs and typefaces are drawn for the manual; layouts say whether sisters are made",
    ),
    door("driver", "raster", &["palette"], "pages that the guide shows as pixels have few colours"),
    door("driver", "rulings", &["ALL"], "the tables go to manifest and plan"),
    door("manifest", "inspect", &["read"], "a finished PDF is looked at while there is a line to blame"),
    door("model", "keys", &["Described", "Shape"], "lengths and days say what the manifest takes for them"),
    door("keys", "describe", &["Described"], "the derive stands beside its trait"),
    door("model", "deflate", &[], "pixels that wait are held small"),
    door("driver", "calendar", &["right_to_left"], "which way the words of a product run, for its proof"),
    door("driver", "deflate", &[], "entries of the cache are small"),
    door("reading", "keys", &["Node", "Table"], "numbers are held against the ranges that keys state"),
    door("reading", "model", &["fault"], "a word that is nearly right is answered as faults do"),
    door("validate", "model", &[], "it makes Findings"),
    door("validate", "colour", &[], "differences and contrasts of colours"),
    door("validate", "text", &["Widths"], "how wide a text is, it is told"),
    door("package", "model", &[], "it makes the uploads and the record"),
    door("package", "checksum", &["sha256_hex"], "the record names a finished file by its digest"),
    door("listing", "model", &[], "it makes texts of facts"),
    door("listing", "wording", &[], "its sentences in the language of the product"),
    door("listing", "draw", &["breaks"], "where lines of its texts may end"),
    door("listing", "calendar", &[], "it says which months a planner is for"),
    door("diff", "model", &[], "it makes Differences"),
    door("diff", "inspect", &[], "bundles are read with the independent reader"),
    door("diff", "colour", &["difference"], "differences of colours"),
    door("diff", "wording", &[], "the change note in the language of the product"),
    door("proof", "model", &[], "it makes the proof page"),
    door("proof", "inspect", &[], "pages as pixels"),
    door("proof", "raster", &[], "small pictures"),
    door("pictures", "model", &[], "it makes listing pictures"),
    door("pictures", "inspect", &[], "pages as pixels, from the finished files"),
    door("pictures", "draw", &[], "type, shelves and the table of layouts"),
    door("pictures", "colour", &[], "colours of the scene"),
    door("pictures", "wording", &[], "their titles and captions in the language of the product"),
    door("pictures", "raster", &[], "pixels and their resizing"),
    door("checksum", "model", &[], "artifacts have digests"),
    door("colour", "model", &[], "a colour is a type of the model"),
    door("files", "model", &[], "faults come back"),
    door("text", "model", &[], "roles and styles"),
    door("store", "model", &[], "artifacts are written, faults come back"),
    door("store", "checksum", &[], "entries of the cache carry their digest"),
    door("world", "model", &[], "faults and dates"),
    door(
        "world",
        "files",
        &["Files", "Made", "Notes", "SHOP", "slashed"],
        "it answers for the product's folder, finds its shop's file, and shows ways with /",
    ),
];

/// The room that a file belongs to.
pub fn room(file: &File) -> &str {
    match file.module.first() {
        Some(first) if SHARED.contains(&file.krate.as_str()) => first,
        None if file.path == "main.rs" => "main",
        _ => &file.krate,
    }
}

/// Crates of the house that are one room.
const SINGLE: [&str; 12] = [
    "calendar", "describe", "draw", "inspect", "manifest", "plan", "raster", "redate", "render", "rulings", "sample",
    "wording",
];

/// The room into which a path leads, and what it takes there.
fn leads(path: &[String]) -> Option<(&str, &str)> {
    let part = |i: usize| path.get(i).map_or("", String::as_str);
    match part(0) {
        krate if SHARED.contains(&krate) && !part(1).is_empty() => Some((part(1), part(2))),
        krate if SINGLE.contains(&krate) && !part(1).is_empty() => Some((krate, part(1))),
        _ => None,
    }
}

/// Every step of a file out of its room: the room it goes into and what it takes.
fn steps(file: &File) -> BTreeSet<(&str, &str)> {
    let own = room(file);
    // lib.rs names the rooms of its crate and is none.
    if file.module.is_empty() && own != "main" && SHARED.contains(&file.krate.as_str()) {
        return BTreeSet::new();
    }
    file.paths.iter().filter_map(|p| leads(p)).filter(|(into, _)| *into != own).collect()
}

/// What is wrong with the steps of a file.
pub fn wrong(file: &File) -> Vec<String> {
    let own = room(file);
    let mut out = Vec::new();
    for (into, item) in steps(file) {
        match DOORS.iter().find(|d| d.from == own && d.into == into) {
            None if SINGLE.contains(&own) => {}
            None => out.push(format!("there is no door from {own} into {into}")),
            Some(d) if !d.only.is_empty() && !item.is_empty() && !d.only.contains(&item) => {
                out.push(format!("{into}::{item} is not for {own}"));
            }
            Some(_) => {}
        }
    }
    out
}

/// Doors that nobody goes through.
pub fn spare(files: &[File]) -> Vec<String> {
    let used: BTreeSet<(&str, &str)> =
        files.iter().flat_map(|f| steps(f).into_iter().map(|(into, _)| (room(f), into)).collect::<Vec<_>>()).collect();
    let spare = DOORS.iter().filter(|d| !used.contains(&(d.from, d.into)));
    spare.map(|d| format!("nothing goes from {} into {}: take the door out", d.from, d.into)).collect()
}

#[test]
fn doors_make_no_circle_and_each_has_a_reason() {
    for d in DOORS {
        assert!(!d.why.is_empty() && d.from != d.into);
        let (mut open, mut seen) = (vec![d.into], BTreeSet::new());
        while let Some(room) = open.pop() {
            assert_ne!(room, d.from, "one can go from {} round and back into it", d.from);
            if seen.insert(room) {
                open.extend(DOORS.iter().filter(|e| e.from == room).map(|e| e.into));
            }
        }
    }
}

#[test]
fn every_crate_is_one_room_or_several() {
    let all: BTreeSet<String> = crate::source::crates().into_iter().map(|c| c.name).collect();
    assert_eq!(all, SHARED.iter().chain(&SINGLE).map(|name| (*name).to_owned()).collect());
}
