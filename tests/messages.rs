//! The messages of the manifest as a designer reads them, all of a run in one snapshot: place, line, mark, help.

use sheafwright::world::World;
use std::fs;
use std::path::Path;

/// What is said of a manifest, with files beside it.
fn said(text: &str, files: &[(&str, &[u8])]) -> String {
    let folder = tempfile::tempdir().expect("a folder for the product");
    let write = |path: &str, bytes: &[u8]| {
        let path = folder.path().join(path);
        fs::create_dir_all(path.parent().unwrap_or(Path::new(""))).expect("a folder");
        fs::write(path, bytes).expect("a file");
    };
    write(manifest::FILE, text.as_bytes());
    for (path, bytes) in files {
        write(path, bytes);
    }
    let world = World::open(folder.path()).expect("the folder is there");
    match manifest::read(&world, rulings::ALL) {
        Ok(products) => format!("no fault: {}", products[0].name),
        Err(faults) => faults.iter().map(|f| format!("{f}\n")).collect::<Vec<_>>().join("\n"),
    }
}

#[test]
fn every_kind_of_value() {
    let text = r##"name = "Harbour Log"
slug = "Harbour Log"
version = "1.0"
released = 2027-03-01T08:00:00
language = "english!"

[page]
size = "12 x 20 furlongs"
orientation = "sideways"
toolbar = "90 mm"
coil = "left"

[style]
ink = "#12345g"
paper = 7
corner = "3 parsecs"

[limits]
files = 0
megabytes = -2

[delivery]
address = "ftp://tarn-and-tide.example"
"##;
    insta::assert_snapshot!(said(text, &[]));
}

#[test]
fn words_that_are_nearly_right() {
    let text = r##"naem = "Harbour Log"
name = "Harbour Log"
released = 2027-03-01

[notebok]

[notebook]
sections = 3

[[notebook.section]]
name = "Tides"
pages = [{ template = "deck-lock", count = 2 }, { template = "deck-log", count = 0 }]

[[notebook.template]]
name = "Deck log"
ruling = "linned"

[[notebook.template]]
name = "Sea chart"
ruling = "lined"
with = { pich = 7, pitch = "wyde" }

[[cover]]
design = "bandet"
pattern = "plaid"

[[sticker]]
motif = "taly"

[licence]
refunds = "never"
"##;
    insta::assert_snapshot!(said(text, &[]));
}

#[test]
fn names_that_clash_and_tables_that_lack_something() {
    let text = r##"released = 2027-03-01

[[notebook.section]]
pages = [{ count = 2 }]

[[notebook.template]]
name = "Dot grid"
ruling = "dot-grid"

[[notebook.template]]
name = "Dot-Grid"
ruling = "dot-grid"

[[notebook.template]]
name = "Nothing"

[[sticker]]
motif = "tally"

[[sticker]]
name = "Tally"
motif = "week-strip"

[[sticker]]
label = "no art"

[[cover]]
design = "texture"

[[lower]]
check = "tap-area-small"
"##;
    insta::assert_snapshot!(said(text, &[]));
}

#[test]
fn files_that_are_missing_or_broken() {
    let text = r##"name = "Harbour Log"
released = 2027-03-01
guide = { text = "texts/guid.md" }

[style.fonts]
heading = "fonts/heading.ttf"

[notebook]
welcome = "texts/welcome.md"

[[sticker]]
file = "art/gul.svg"

[[sticker]]
file = "art/gull.svg"

[[sticker]]
file = "art/noise.png"

[[sticker]]
file = "../art/gull.svg"

[[sticker]]
file = "/art/gull.svg"

[[sticker]]
file = "art"
"##;
    let files: &[(&str, &[u8])] = &[
        ("art/gull.svg", b"<svg xmlns=\"http://www.w3.org/2000/svg\">\n  <path d=\"M0 0\">\n</svg>"),
        ("art/noise.png", b"\x89PNG\r\n\x1a\n and no more"),
        ("fonts/heading.ttf", b"a web page"),
        ("texts/guide.md", b"# Guide"),
    ];
    insta::assert_snapshot!(said(text, files));
}

#[test]
fn breaks_of_the_syntax() {
    let text =
        "name = \"Harbour Log\nreleased = 2027-13-01\n[page\nsize = \"A5\"\n[style]\nink = \"#123\"\nink = \"#456\"\n";
    insta::assert_snapshot!(said(text, &[]));
}

/// What hands write that are no programmer's, a manifest each.
#[test]
fn slips_of_the_syntax() {
    let slips = [
        "slug = “log”",
        "slug = „log“",
        "slug = log",
        "slug: \"log\"",
        "slug \"log\"",
        "slug == \"log\"",
        "slug = \"log",
        "slug =",
        "// a word",
        "issued = True",
        "issued = yes",
        "page.size = 5 mm",
        "style.ink = #8a9a5b",
        "limits.megabytes = 1,5",
        "limits.files = 07",
        "released = 01.02.2027",
        "version = 1.0.0",
        "notebook.welcome = \"texts\\Welcome.md\"",
        "listing.tags = [\"log\" \"boats\"]",
        "listing.tags = [\"log\", \"boats\"\n[page]\nsize = \"A5\"",
        "page = { size = \"A5\"",
        "[page\nsize = \"A5\"",
        "[page]]\nsize = \"A5\"",
        "[page]\nsize = \"A5\"\n[page]\ncoil = \"top\"",
        "slug = \"log\", issued = true",
    ];
    let head = "name = \"Harbour Log\"\n";
    let all = slips.map(|slip| format!("# {slip}\n{}", said(&format!("{head}{slip}\n"), &[])));
    insta::assert_snapshot!(all.join("\n"));
}

/// Values of the right kind with a form that nobody takes, and files that are nearly there.
#[test]
fn forms_that_are_nearly_right() {
    let files: &[(&str, &[u8])] = &[
        ("art/Stars.svg", b"<svg xmlns=\"http://www.w3.org/2000/svg\"/>"),
        ("art/moon.svg", b"<svg xmlns=\"http://www.w3.org/2000/svg\"/>"),
        ("texts/welcome.md", b"Hello"),
    ];
    let lines = [
        "version = 1.0",
        "released = \"2027-03-01\"",
        "released = 2027",
        "page.size = \"1668x2388\"",
        "page.size = \"1668 x 2388 px\"",
        "page.size = \"210 x 297\"",
        "page = [{ size = \"A5\" }]",
        "cover = { name = \"Slate\" }",
        "notebook.section = [\"Boats\", \"Tides\"]",
        "notebook.first-day = 7",
        "limits.files = \"3\"",
        "listing.tags = \"log\"",
        "issued = \"yes\"",
        "sticker = [{ file = \"art/stars.svg\" }]",
        "sticker = [{ file = \"Stars.svg\" }]",
        "sticker = [{ file = \"pictures/moon.svg\" }]",
        "sticker = [{ file = \"art/mon.svg\" }]",
        "sticker = [{ file = 'art\\Stars.svg' }]",
        "notebook.welcome = \"words/hello.md\"",
        "notebook.template = [{ ruling = 7 }]",
        "notebook.template = [{ ruling = \"lined\", with = { pitch = true } }]",
    ];
    let all = lines.map(|line| {
        let released = if line.starts_with("released") { "" } else { "released = 2027-03-01\n" };
        format!("# {line}\n{}", said(&format!("name = \"Harbour Log\"\n{released}{line}\n"), files))
    });
    insta::assert_snapshot!(all.join("\n"));
}

#[test]
fn columns_are_counted_in_characters() {
    let text = "name = \"Ebbe & Flut – Größe\"\nreleased = 2027-03-01\nshop = { name = \"Büro für Tüten\", contcat = \"x\" }\n";
    insta::assert_snapshot!(said(text, &[]));
}

#[test]
fn variants_that_cannot_be_made() {
    let text = r##"name = "Harbour Log"
released = 2027-03-01

[[notebook.section]]
name = "Tides"

[[notebook.template]]
name = "Deck log"
ruling = "lined"

[variants]
hand = "left"
size = {}

[variants.Colour-Way]
moss = { style = { accnt = "#4f7257" } }
clay = { limits = { files = 3 }, titel = "Clay" }
slate = "#334455"

[variants.week]
monday = {}
sunday = { notebook.template = { dock-log.with.pitch = 6, deck-log = 3 }, notebook.section.2.name = "Swell" }

[[variants.skip]]
week = ["monday", "tuesday"]
wek = "monday"

[[variants.skip]]
"##;
    insta::assert_snapshot!(said(text, &[]));
}

#[test]
fn variants_without_end_or_of_one_name() {
    let numbered = |n: usize| (0..n).map(|i| format!("c{i} = {{}}\n")).collect::<String>();
    let head = "name = \"Harbour Log\"\nreleased = 2027-03-01\n";
    let many = format!("{head}[variants.one]\n{}[variants.two]\n{}", numbered(7), numbered(7));
    let same = format!("{head}[variants.one]\na-b = {{}}\na = {{}}\n[variants.two]\nc = {{}}\nb-c = {{}}\n");
    let taken = format!("{head}[variants.one]\nstickers = {{}}\n");
    let none = format!("{head}[variants.one]\na = {{}}\n[[variants.skip]]\none = \"a\"\n");
    let all = [many, same, taken, none].map(|text| said(&text, &[]));
    insta::assert_snapshot!(all.join("\n----\n\n"));
}
