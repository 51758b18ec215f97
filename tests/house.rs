//! The plan of the house, held: which room may import which, who touches the disk and the clock, and that the reader of
//! files shares no library with their writer.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

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

/// Every door of the house. main leads to cli, cli to the driver, the driver to the stages; the stages do not know each
/// other, and what they hand on is a type of `model`.
const DOORS: &[Door] = &[
    door("main", "cli", &[], "arguments in, exit code out"),
    door("cli", "driver", &[], "a command is one call of the driver"),
    door("cli", "model", &[], "findings and faults are what reports are made of"),
    door(
        "cli",
        "validate",
        &["CATALOGUE", "counts", "find", "graph"],
        "`explain` and the reports read the catalogue and the ways",
    ),
    door("cli", "manifest", &["FILE", "starter", "suggest"], "`new` writes a first manifest; near names are suggested"),
    door("cli", "store", &["new_file", "replace_file"], "`new` and `proof` write a file"),
    door("cli", "world", &["read_outside", "today"], "`listing` reads a bundle; a new product is released today"),
    door("driver", "world", &[], "it opens the product's folder"),
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
    door("driver", "model", &[], "it hands the types on"),
    door("driver", "draw", &["Fonts"], "fonts are opened once, for planning and for rendering"),
    door("manifest", "model", &[], "it makes the Product"),
    door("manifest", "world", &["World", "built_in_font"], "the files that a manifest names"),
    door("manifest", "draw", &[], "colours are worked out, fonts and motifs looked up while there is a line to blame"),
    door("manifest", "rulings", &[], "names and parameters of rulings are checked with their place in the text"),
    door("manifest", "inspect", &["read"], "a finished PDF is looked at while there is a line to blame"),
    door("plan", "model", &[], "it makes the Plan"),
    door("plan", "draw", &[], "pages are drawings"),
    door("plan", "rulings", &[], "templates are rulings"),
    door("render", "model", &[], "it makes Artifacts"),
    door("render", "draw", &[], "shapes, fonts and pictures"),
    door("validate", "model", &[], "it makes Findings"),
    door("validate", "draw", &[], "differences and contrasts of colours"),
    door("package", "model", &[], "it makes the uploads and the record"),
    door("package", "checksum", &["sha256_hex"], "the record names a finished file by its digest"),
    door("listing", "model", &[], "it makes texts of facts"),
    door("diff", "model", &[], "it makes Differences"),
    door("diff", "inspect", &[], "bundles are read with the independent reader"),
    door("diff", "checksum", &["sha256_hex"], "what has the same digest is the same"),
    door("diff", "draw", &[], "differences of colours"),
    door("proof", "model", &[], "it makes the proof page"),
    door("proof", "inspect", &[], "pages as pixels"),
    door("proof", "draw", &[], "colours of the page"),
    door("pictures", "model", &[], "it makes listing pictures"),
    door("pictures", "inspect", &[], "pages as pixels, from the finished files"),
    door("pictures", "draw", &[], "type, colours, shelves and the table of layouts"),
    door("checksum", "model", &[], "artifacts have digests"),
    door("store", "model", &[], "artifacts are written, faults come back"),
    door("store", "checksum", &[], "entries of the cache carry their digest"),
    door("inspect", "model", &[], "it makes Facts"),
    door("rulings", "model", &[], "a ruling is a drawing"),
    door("rulings", "draw", &[], "pens, texts and colours"),
    door("draw", "model", &[], "drawings are made of the model's shapes"),
    door("world", "model", &[], "faults and font files"),
];

/// Rooms that may not stand yet; their doors may be unused.
const TO_COME: [&str; 1] = ["diff"];

/// A source file: its path below `pipeline/`, and its text without comments and tests.
struct Source {
    path: String,
    code: String,
}

impl Source {
    /// The room that it belongs to: its first folder, or its own name.
    fn room(&self) -> &str {
        self.path.split('/').next().unwrap_or_default().trim_end_matches(".rs")
    }
}

fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("pipeline");
    let (mut folders, mut files) = (vec![root.clone()], Vec::<PathBuf>::new());
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("the folder is there") {
            let path = entry.expect("the entry can be read").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                files.push(path);
            }
        }
    }
    files.sort();
    let of_tests = |path: &str| path.ends_with("tests.rs") || path.contains("/tests/");
    files
        .iter()
        .map(|file| {
            let path = file.strip_prefix(&root).expect("it lies below").to_string_lossy().replace('\\', "/");
            let text = fs::read_to_string(file).expect("it is text");
            Source { code: without_tests(&text), path }
        })
        .filter(|s| !of_tests(&s.path))
        .collect()
}

/// The text without comments and without what only tests compile: a module at the end of the file.
fn without_tests(text: &str) -> String {
    let lines: Vec<&str> = text.lines().collect();
    let end = (0..lines.len())
        .find(|i| lines[*i] == "#[cfg(test)]" && lines.get(i + 1).is_some_and(|l| l.ends_with('{')))
        .unwrap_or(lines.len());
    let code = |line: &&&str| !line.trim_start().starts_with("//");
    lines[..end].iter().filter(code).map(|l| format!("{l}\n")).collect()
}

/// What a file takes from other rooms: room and item, of `use crate::…` and of paths inside the code.
fn takes(code: &str) -> BTreeSet<(String, String)> {
    let mut out = BTreeSet::new();
    // The program is a crate of its own and names the library.
    let code = code.replace("sheafwright::", "crate::");
    for (at, _) in code.match_indices("crate::") {
        for path in expand(&code[at + "crate::".len()..]) {
            let mut parts = path.split("::").map(str::trim);
            let room = parts.next().unwrap_or_default().to_owned();
            out.insert((room, parts.next().unwrap_or_default().to_owned()));
        }
    }
    out
}

/// The paths of a use tree: `a::{b, c::d}` are `a::b` and `a::c::d`.
fn expand(tree: &str) -> Vec<String> {
    let end = tree.find(|c: char| !(c.is_alphanumeric() || "_:{".contains(c))).unwrap_or(tree.len());
    let Some(brace) = tree[..end].find('{') else { return vec![tree[..end].to_owned()] };
    let (head, mut depth, mut from) = (&tree[..brace], 0, brace + 1);
    let mut out = Vec::new();
    for (i, c) in tree.char_indices().skip(brace) {
        let ends = c == '}' && depth == 1;
        if (c == ',' && depth == 1) || ends {
            let part = tree[from..i].trim();
            if !part.is_empty() {
                out.extend(expand(part).into_iter().map(|p| format!("{head}{p}")));
            }
            from = i + 1;
        }
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        if ends {
            break;
        }
    }
    out
}

#[test]
fn use_trees_are_read_whole() {
    let paths = |text: &str| {
        let mut found: Vec<String> = takes(text).into_iter().map(|(a, b)| format!("{a}/{b}")).collect();
        found.sort();
        found.join(" ")
    };
    assert_eq!(paths("use crate::draw::colour;"), "draw/colour");
    assert_eq!(paths("use crate::{a, b::{c, d::e}, f::g as h};"), "a/ b/c b/d f/g");
    assert_eq!(
        paths("    let x = crate::world::today();\nuse sheafwright::cli::{args::Args, run};"),
        "cli/args cli/run world/today"
    );
    assert_eq!(without_tests("a\n// crate::b\n#[cfg(test)]\nmod tests {\nuse crate::c;\n}\n"), "a\n");
}

#[test]
fn rooms_import_one_way() {
    let doors: BTreeMap<(&str, &str), &Door> = DOORS.iter().map(|d| ((d.from, d.into), d)).collect();
    let (mut wrong, mut used) = (Vec::new(), BTreeSet::new());
    let sources = sources();
    assert!(sources.len() > 60, "the sources were not found");
    for source in sources.iter().filter(|s| s.room() != "lib") {
        for (room, item) in takes(&source.code) {
            if room == source.room() || room.is_empty() {
                continue;
            }
            match doors.get(&(source.room(), room.as_str())) {
                None => wrong.push(format!("{}: there is no door from {} into {room}", source.path, source.room())),
                Some(d) if !d.only.is_empty() && !item.is_empty() && !d.only.contains(&item.as_str()) => {
                    wrong.push(format!("{}: {room}::{item} is not for {}", source.path, source.room()));
                }
                Some(d) => {
                    used.insert((d.from, d.into));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let spare: Vec<String> = DOORS
        .iter()
        .filter(|d| !used.contains(&(d.from, d.into)))
        .filter(|d| !TO_COME.contains(&d.from) && !TO_COME.contains(&d.into))
        .map(|d| format!("nothing goes from {} into {}: take the door out", d.from, d.into))
        .collect();
    assert!(spare.is_empty(), "{}", spare.join("\n"));
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

/// Files outside of these rooms that use any of these words.
fn users_of(words: &[&str], rooms: &[&str]) -> Vec<String> {
    sources()
        .iter()
        .filter(|s| !rooms.contains(&s.room()))
        .filter(|s| s.code.split(|c: char| !(c.is_alphanumeric() || c == '_')).any(|w| words.contains(&w)))
        .map(|s| s.path.clone())
        .collect()
}

#[test]
fn only_world_and_store_touch_the_disk() {
    assert_eq!(users_of(&["fs", "walkdir", "tempfile"], &["world", "store"]), Vec::<String>::new());
}

#[test]
fn only_world_knows_what_day_it_is() {
    // The store asks for the age of what lies in its cache, and writes it nowhere.
    assert_eq!(users_of(&["SystemTime", "OffsetDateTime", "chrono"], &["world", "store"]), Vec::<String>::new());
    // How long a command took may be shown, and reaches no file.
    assert_eq!(users_of(&["Instant"], &["cli"]), Vec::<String>::new());
}

#[test]
fn reader_and_writer_share_no_library() {
    let writers = ["lopdf", "printpdf", "svg2pdf", "subsetter", "oxipng", "libdeflater"];
    let readers = ["hayro", "hayro_syntax"];
    for source in sources() {
        let uses = |words: &[&str]| words.iter().any(|w| source.code.contains(&format!("{w}::")));
        match source.room() {
            "inspect" => assert!(!uses(&writers), "{} uses a library that writes", source.path),
            "render" => assert!(!uses(&readers), "{} uses a library that reads", source.path),
            _ => {}
        }
    }
}

/// `clamp` panics where its bounds cross, so both must stand in the code: numbers, constants, and lengths made of them. For
/// bounds that come from input there is `model::units::between`.
#[test]
fn clamps_have_bounds_that_stand_in_the_code() {
    let stands = |bound: &str| {
        let bare: String = bound
            .replace("Mm(", "")
            .replace("mm(", "")
            .replace(").pt()", "")
            .replace("decode::", "")
            .chars()
            .filter(|c| !matches!(c, '(' | ')' | ' ' | '.' | '_' | '<'))
            .collect();
        !bare.is_empty() && bare.chars().all(|c| c.is_ascii_digit() || c.is_ascii_uppercase() || c == '-')
    };
    let mut wrong = Vec::new();
    for source in sources() {
        for (at, _) in source.code.match_indices(".clamp(") {
            let inner = &source.code[at + 7..];
            let mut depth = 1;
            let end = inner.find(|c: char| {
                depth += i32::from(c == '(') - i32::from(c == ')');
                depth == 0
            });
            let bounds = &inner[..end.unwrap_or(0)];
            if !bounds.split(", ").all(stands) {
                wrong.push(format!("{}: clamp({bounds})", source.path));
            }
        }
    }
    assert!(wrong.is_empty(), "use `between`:\n{}", wrong.join("\n"));
}
