//! What is tried: for every reader a name, files to begin with, and the reader itself. Changed at random by the tests of this
//! folder, and guided by which code they reach in `guided`.

use super::folder::Folder;
use inspect::pdf::drawing;
use std::fs;
use std::io::Write;
use std::path::PathBuf;

/// A reader.
pub struct Target {
    /// Its name.
    pub name: &'static str,
    /// Files to begin with.
    pub seeds: fn() -> Vec<Vec<u8>>,
    /// Reads a file. It may not panic, run over its stack, or take long.
    pub read: fn(&[u8]),
}

/// All of them.
pub const ALL: [Target; 11] = [
    Target { name: "manifest", seeds: manifests, read: manifest_and_plan },
    Target { name: "svg", seeds: drawings, read: drawing_as_template },
    Target { name: "markdown", seeds: guides, read: guide },
    Target { name: "pdf", seeds: || files("tests/fixtures/foreign", "pdf"), read: pdf },
    Target { name: "png", seeds: || files("tests/fixtures/pngsuite", "png"), read: png },
    Target { name: "jpeg", seeds: || files("products/allotment-year/art", "jpg"), read: jpeg },
    Target { name: "zip", seeds: archives, read: zip_with_entries },
    Target { name: "font", seeds: || vec![notosans::REGULAR_TTF.to_vec()], read: font },
    Target { name: "csv", seeds: tables, read: csv },
    Target { name: "ics", seeds: || files("tests/fixtures/calendar/ics", "ics"), read: ics },
    Target { name: "mp4", seeds: || vec![film()], read: mp4 },
];

/// The reader of this name.
pub fn find(name: &str) -> Option<&'static Target> {
    ALL.iter().find(|target| target.name == name)
}

/// The folder of the repository.
pub fn root() -> PathBuf {
    // That of the guided ones lies two folders below the tests.
    let here = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().find(|folder| folder.join("products").is_dir()).map_or(here.clone(), PathBuf::from)
}

/// A file of the repository.
fn file(path: &str) -> Vec<u8> {
    fs::read(root().join(path)).unwrap_or_else(|e| panic!("{path}: {e}"))
}

/// All files of a folder of the repository with this ending.
fn files(folder: &str, ending: &str) -> Vec<Vec<u8>> {
    let mut paths: Vec<PathBuf> = fs::read_dir(root().join(folder))
        .unwrap_or_else(|e| panic!("{folder}: {e}"))
        .map(|e| e.expect("a folder of the repository can be listed").path())
        .filter(|p| p.extension().is_some_and(|e| e == ending))
        .collect();
    paths.sort();
    assert!(!paths.is_empty(), "{folder} has no .{ending}");
    paths.iter().map(|p| fs::read(p).expect("a file of the repository can be read")).collect()
}

/// A manifest that is read, and planned if it is one.
fn read_and_plan(folder: &Folder) {
    let Ok(products) = manifest::read(folder, rulings::ALL) else { return };
    for product in &products {
        let Ok(fonts) = draw::Fonts::open(&product.style.fonts) else { continue };
        let _ = plan::plan(product, &fonts, rulings::ALL, &plan::Placed::new());
        let _ = plan::guide(product, &fonts, &plan::GuideFacts::default());
    }
}

const MANIFEST: &str = r##"name = "Harbour Log"
version = "1.0.0"
released = 2027-03-01
language = "en-GB"
shop = { name = "Tarn and Tide Papers", contact = "help@tarn-and-tide.example" }
[page]
size = "A6"
layout = "single"
coil = "none"
[notebook]
[[notebook.section]]
name = "Boats"
pages = [{ template = "deck-log", count = 2 }]
[[notebook.template]]
name = "Deck log"
ruling = "lined"
with = { pitch = "wide" }
"##;

fn manifests() -> Vec<Vec<u8>> {
    let more = "[[sticker]]\nmotif = \"star\"\nlongest = \"12 mm\"\n[variants.hand]\nright = {}\nleft = { page.hand = \"left\" }\n";
    let mut seeds: Vec<Vec<u8>> = ["allotment-year", "lamplight-log", "sticker-pocket"]
        .iter()
        .map(|name| file(&format!("products/{name}/product.toml")))
        .collect();
    seeds.extend([MANIFEST.into(), format!("{MANIFEST}{more}").into()]);
    seeds
}

fn manifest_and_plan(bytes: &[u8]) {
    read_and_plan(&Folder::new([(manifest::FILE, bytes)]));
}

fn drawings() -> Vec<Vec<u8>> {
    [files("tests/fixtures/art", "svg"), files("products/allotment-year/art", "svg")].concat()
}

fn drawing_as_template(bytes: &[u8]) {
    let text = format!("{MANIFEST}[[notebook.template]]\nname = \"Chart\"\nart = \"art/a.svg\"\n");
    read_and_plan(&Folder::new([(manifest::FILE, text.as_bytes()), ("art/a.svg", bytes)]));
}

fn guides() -> Vec<Vec<u8>> {
    let lists = "# Tides\n\n1. *ebb* **flood**\n   - `slack`\n\n> neaps\n\n| a | b |\n|---|:-:|\n| 1 | [x](https://tide.example) |\n";
    let images = "![a](a.png)\n\n<b>x</b> &amp; \\* ~~s~~\n\n```\ncode\n```\n\n---\n[r]: <b c> 'd'\n{{ pages }}\n";
    vec![lists.into(), images.into(), file("README.md")]
}

fn guide(bytes: &[u8]) {
    let text = format!("{MANIFEST}[guide]\ntext = \"guide.md\"\n");
    read_and_plan(&Folder::new([(manifest::FILE, text.as_bytes()), ("guide.md", bytes)]));
}

fn pdf(bytes: &[u8]) {
    let bytes = bytes.to_vec().into();
    inspect::inspect("a.pdf", None, &bytes);
    drawing::fingerprints(&bytes);
}

fn png(bytes: &[u8]) {
    inspect::inspect("a.png", None, &bytes.to_vec().into());
    let _ = raster::decode::decode("a.png", bytes);
}

fn jpeg(bytes: &[u8]) {
    inspect::inspect("a.jpg", None, &bytes.to_vec().into());
    let _ = raster::decode::decode("a.jpg", bytes);
}

fn archives() -> Vec<Vec<u8>> {
    use zip::write::SimpleFileOptions;
    let pack = |method: zip::CompressionMethod, comment: &str| {
        let mut out = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
        let options = SimpleFileOptions::default().compression_method(method);
        for (name, bytes) in
            [("log.png", files("tests/fixtures/pngsuite", "png").remove(0)), ("ä/b.txt", b"tide".to_vec())]
        {
            out.start_file(name, options).expect("a name");
            out.write_all(&bytes).expect("memory takes it");
        }
        out.set_comment(comment).expect("it is short");
        out.finish().expect("memory takes it").into_inner()
    };
    vec![pack(zip::CompressionMethod::Stored, ""), pack(zip::CompressionMethod::Deflated, "PK\u{5}\u{6} slack")]
}

fn zip_with_entries(bytes: &[u8]) {
    inspect::inspect_with_entries("a.zip", None, &bytes.to_vec().into());
}

fn font(bytes: &[u8]) {
    read_font(bytes);
}

/// Whether it is a font.
pub fn read_font(bytes: &[u8]) -> bool {
    use base::model::drawing::Role;
    draw::fonts::embedding(bytes);
    let font = base::model::product::FontFile {
        from: "a.ttf".to_owned(),
        bytes: bytes.into(),
        built_in: false,
        figures: None,
    };
    let files = Role::ALL.into_iter().map(|role| (role, vec![font.clone()])).collect();
    let Ok(fonts) = draw::Fonts::open(&files) else { return false };
    let role = Role::ALL[0];
    fonts.missing(role, "Ebb ä\u{0301} \u{0e33}");
    for glyph in fonts.shape(role, "Tide AVfi 12 ä\u{0301} \u{0e33}\u{0627}\u{0644}").iter() {
        fonts.outline(glyph, 12.0);
    }
    true
}

fn tables() -> Vec<Vec<u8>> {
    vec![
        b"date,title,until\n2027-03-01,Ebb,2027-03-04\n2027-05-06,\"Flood, \"\"high\"\"\",\n".to_vec(),
        b"\xef\xbb\xbfdate;title\n01.03.2027;Ebbe\n".to_vec(),
        b"date\ttitle\n2028-02-29\tLeap\n".to_vec(),
    ]
}

fn csv(bytes: &[u8]) {
    calendar::read_csv(bytes, "a.csv");
}

fn ics(bytes: &[u8]) {
    calendar::read_ics(bytes, "a.ics");
}

/// The boxes of a film of 90 frames, and none of its frames (ISO/IEC 14496-12, put together by hand).
fn film() -> Vec<u8> {
    let boxed =
        |kind: &[u8; 4], content: &[u8]| [&(content.len() as u32 + 8).to_be_bytes(), &kind[..], content].concat();
    let numbers = |all: &[u32]| all.iter().flat_map(|n| n.to_be_bytes()).collect::<Vec<u8>>();
    let header = boxed(b"tkhd", &[vec![0; 76], numbers(&[640 << 16, 480 << 16])].concat());
    let time = boxed(b"mdhd", &numbers(&[0, 0, 0, 30, 90, 0]));
    let kind = boxed(b"hdlr", b"\0\0\0\0\0\0\0\0vide\0\0\0\0\0\0\0\0\0\0\0\0\0");
    let table = boxed(b"minf", &boxed(b"stbl", &boxed(b"stsz", &numbers(&[0, 0, 90]))));
    let track = boxed(b"trak", &[header, boxed(b"mdia", &[time, kind, table].concat())].concat());
    [boxed(b"ftyp", b"isom\0\0\0\0"), boxed(b"moov", &track)].concat()
}

fn mp4(bytes: &[u8]) {
    inspect::inspect("a.mp4", None, &bytes.to_vec().into());
}
