//! The messages of the manifest as a designer reads them, all of a run in one snapshot: place, line, mark, help.

use base::model::plan::About;
use base::model::{Fault, Product};
use sheafwright::world::World;
use std::fs;
use std::path::Path;

/// The product of a manifest, with files beside it.
fn read(text: &str, files: &[(&str, &[u8])]) -> Result<Product, Vec<Fault>> {
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
    manifest::read(&world, rulings::ALL).map(|mut products| products.swap_remove(0))
}

/// What is said of a manifest, with files beside it.
fn said(text: &str, files: &[(&str, &[u8])]) -> String {
    match read(text, files) {
        Ok(product) => format!("no fault: {}", product.name),
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

/// A manifest whose style and template hold a line each, the fifth and the ninth.
fn lettered(style: &str, template: &str) -> String {
    format!(
        "name = \"Harbour Log\"\nreleased = 2027-03-01\n\n[style]\n{style}\n\n[[notebook.template]]\nruling = \"lined\"\n{template}\n"
    )
}

#[test]
fn words_of_letters_and_icons_that_there_are_not_are_told_with_those_that_there_are() {
    for (style, word, there) in [
        ("figures = \"oldstile\"", "unknown value `oldstile`", "oldstyle"),
        ("figures = \"tabular\"", "unknown value `tabular`", "lining"),
        ("capitals = \"smal\"", "unknown value `smal`", "small"),
        ("capitals = \"title\"", "unknown value `title`", "plain"),
    ] {
        let said = said(&lettered(style, ""), &[]);
        assert!(said.starts_with("product.toml:5:") && said.contains(word) && said.contains(there), "{said}");
    }
    let said = said(&lettered("", "icon = \"sprowt\""), &[]);
    assert!(said.starts_with("product.toml:9:8: there is no icon `sprowt`") && said.contains("`sprout`"), "{said}");
}

/// What is told of a sound manifest: what each is about, the line, the message.
fn remarked(text: &str, files: &[(&str, &[u8])]) -> Vec<(About, usize, String)> {
    let product = read(text, files).unwrap_or_else(|faults| panic!("{text}\n{faults:?}"));
    let told = product.remarks.into_iter().map(|remark| {
        assert_eq!(remark.place.file, manifest::FILE);
        (remark.about, remark.place.span.map_or(0, |span| span.line), remark.message)
    });
    told.collect()
}

#[test]
fn letters_that_a_font_does_not_have_are_told_at_their_line_with_the_fonts_that_have_them() {
    let font: &[u8] = include_bytes!("fixtures/fonts/hedgerow.ttf");
    let files: &[(&str, &[u8])] = &[("fonts/Hedgerow.ttf", font)];
    let [small, old] = ["capitals = \"small\"", "figures = \"oldstyle\""];
    let hedgerow = "fonts.label = \"fonts/Hedgerow.ttf\"";
    for (style, without, with, kept) in [
        (small.to_owned(), "NotoSans-Regular", "Work Sans", "LibertinusSerif-Regular"),
        (old.to_owned(), "NotoSans-Regular, NotoSans-Bold, NotoSans-Italic", "Crimson Pro", "LibertinusSerif-Regular"),
        (format!("{small}\n{hedgerow}"), "fonts/Hedgerow.ttf", "Zilla Slab", "NotoSans"),
        (format!("{old}\n{hedgerow}"), "fonts/Hedgerow.ttf", "Karla", "NotoSans"),
    ] {
        let told = remarked(&lettered(&style, ""), files);
        let [(About::LettersMissing, 5, message)] = &told[..] else { panic!("{style}: {told:?}") };
        assert!(message.contains(without) && message.contains(with) && !message.contains(kept), "{message}");
    }
    for style in [
        "",
        "capitals = \"plain\"",
        "figures = \"lining\"",
        "capitals = \"small\"\nfonts.label = \"Work Sans\"",
        "figures = \"oldstyle\"\nfonts = { heading = \"Playfair Display\", label = \"Karla\" }",
    ] {
        let told = remarked(&lettered(style, ""), files);
        assert!(told.is_empty(), "{style}: {told:?}");
    }
}

/// A look may ask for letters too; what its fonts lack is told at the line that names it.
#[test]
fn letters_that_a_look_asks_for_are_told_where_it_is_named() {
    let look = include_str!("../pipeline/manifest/looks/pantry.toml").replace("\"Zilla Slab\"", "\"Lora\"");
    let look = format!("capitals = \"small\"\nfigures = \"oldstyle\"\n{look}");
    let files: &[(&str, &[u8])] = &[("looks/larder.toml", look.as_bytes())];
    let told = remarked(&lettered("look = \"larder\"", ""), files);
    let [(About::LettersMissing, 5, figures), (About::LettersMissing, 5, capitals)] = &told[..] else {
        panic!("{told:?}")
    };
    assert!(figures.contains("Lora-Regular") && capitals.contains("Lora-Regular"), "{figures}\n{capitals}");
    // What the style says itself goes before it.
    let told = remarked(&lettered("capitals = \"plain\"\nlook = \"larder\"", ""), files);
    assert!(matches!(&told[..], [(About::LettersMissing, 6, _)]), "{told:?}");
}

#[test]
fn an_icon_of_a_template_that_stands_on_no_page_is_told() {
    let named = "[[notebook.section]]\npages = [{ template = \"lined\", name = \"Moorings\" }]";
    let plain = "[[notebook.section]]\npages = [{ template = \"lined\" }]";
    let icon = "icon = \"sprout\"";
    let parts = "[notebook]\nparts = [\"cover\", \"index\", \"sections\", \"templates\"]";
    for (template, unseen) in [
        (icon.to_owned(), false),
        (format!("{icon}\noverview = false\n{named}"), false),
        (format!("{icon}\noverview = false\n{plain}"), true),
        (format!("{icon}\n{parts}\n{plain}"), true),
        (format!("{icon}\n{parts}\n{named}"), false),
        (format!("overview = false\n{plain}"), false),
    ] {
        let told = remarked(&lettered("", &template), &[]);
        match unseen {
            true => assert!(matches!(&told[..], [(About::IconUnseen, 9, _)]), "{template}: {told:?}"),
            false => assert!(told.is_empty(), "{template}: {told:?}"),
        }
    }
}
