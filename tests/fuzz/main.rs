//! Files that somebody else made, changed at random, against every reader: none may panic, run over its stack, or take long.
//!
//! All targets together take `SHEAFWRIGHT_FUZZ_SECONDS` (60). `SHEAFWRIGHT_FUZZ_SEED` gives other changes. What breaks a reader
//! is kept as `target/fuzz/<target>`, and belongs into a test of its kind once it is mended.

mod change;
mod folder;

use change::Dice;
use folder::Folder;
use inspect::pdf::drawing;
use std::fs;
use std::io::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

/// How many targets share the time.
const TARGETS: u32 = 10;
/// No input of a few kilobytes may take longer, on a machine that does other things as well.
const LONGEST: Duration = Duration::from_secs(40);

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
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

/// Changes the seeds at random and gives them to a reader, for this target's share of the time.
fn target(name: &str, seeds: &[Vec<u8>], read: impl Fn(&[u8])) {
    let budget = Duration::from_secs(number("SHEAFWRIGHT_FUZZ_SECONDS", 60)) / TARGETS;
    let kept = root().join("target/fuzz").join(name);
    fs::create_dir_all(kept.parent().expect("it has a folder")).expect("a folder for what is found");
    // On the disk before it is read: what runs over the stack takes the process along.
    let keep = |bytes: &[u8]| fs::File::create(&kept).and_then(|mut f| f.write_all(bytes)).expect("inputs can be kept");
    let (begun, number_of) = (Instant::now(), Arc::new(AtomicU64::new(0)));
    let since = Arc::new(Mutex::new(Instant::now()));
    let (watched, over, shown) = (since.clone(), number_of.clone(), kept.clone());
    thread::spawn(move || {
        while over.load(Ordering::Relaxed) != u64::MAX {
            thread::sleep(Duration::from_millis(500));
            if watched.lock().is_ok_and(|since| since.elapsed() > LONGEST) {
                eprintln!("an input takes longer than {LONGEST:?}: {}", shown.display());
                std::process::abort();
            }
        }
    });
    let mut dice = Dice::new(number("SHEAFWRIGHT_FUZZ_SEED", 1), name);
    let mut runs = 0u64;
    while runs == 0 || begun.elapsed() < budget {
        // The seeds themselves come first, each once.
        let input = match seeds.get(runs as usize) {
            Some(seed) => seed.clone(),
            None => dice.changed(seeds),
        };
        keep(&input);
        *since.lock().expect("nobody panics with it") = Instant::now();
        if catch_unwind(AssertUnwindSafe(|| read(&input))).is_err() {
            number_of.store(u64::MAX, Ordering::Relaxed);
            panic!("{name}: a reader panicked, see {}", kept.display());
        }
        runs += 1;
    }
    number_of.store(u64::MAX, Ordering::Relaxed);
    let _ = fs::remove_file(&kept);
    println!("{name}: {runs} inputs in {:.1} s", begun.elapsed().as_secs_f64());
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

#[test]
fn manifests_and_their_plans() {
    let more = "[[sticker]]\nmotif = \"star\"\nlongest = \"12 mm\"\n[variants.hand]\nright = {}\nleft = { page.hand = \"left\" }\n";
    let mut seeds: Vec<Vec<u8>> = ["allotment-year", "lamplight-log", "sticker-pocket"]
        .iter()
        .map(|name| file(&format!("products/{name}/product.toml")))
        .collect();
    seeds.extend([MANIFEST.into(), format!("{MANIFEST}{more}").into()]);
    target("manifest", &seeds, |bytes| read_and_plan(&Folder::new([(manifest::FILE, bytes)])));
}

#[test]
fn drawings() {
    let art = r##"[[notebook.template]]
name = "Chart"
art = "art/a.svg"
"##;
    let text = format!("{MANIFEST}{art}");
    let seeds = [files("tests/fixtures/art", "svg"), files("products/allotment-year/art", "svg")].concat();
    target("svg", &seeds, |bytes| {
        read_and_plan(&Folder::new([(manifest::FILE, text.as_bytes()), ("art/a.svg", bytes)]));
    });
}

#[test]
fn guides_in_markdown() {
    let text = format!("{MANIFEST}[guide]\ntext = \"guide.md\"\n");
    let lists = "# Tides\n\n1. *ebb* **flood**\n   - `slack`\n\n> neaps\n\n| a | b |\n|---|:-:|\n| 1 | [x](https://tide.example) |\n";
    let images = "![a](a.png)\n\n<b>x</b> &amp; \\* ~~s~~\n\n```\ncode\n```\n\n---\n[r]: <b c> 'd'\n{{ pages }}\n";
    let seeds: Vec<Vec<u8>> = vec![lists.into(), images.into(), file("README.md")];
    target("markdown", &seeds, |bytes| {
        read_and_plan(&Folder::new([(manifest::FILE, text.as_bytes()), ("guide.md", bytes)]));
    });
}

#[test]
fn pdfs() {
    target("pdf", &files("tests/fixtures/foreign", "pdf"), |bytes| {
        let bytes = bytes.to_vec().into();
        inspect::inspect("a.pdf", None, &bytes);
        drawing::fingerprints(&bytes);
    });
}

#[test]
fn pngs() {
    target("png", &files("tests/fixtures/pngsuite", "png"), |bytes| {
        inspect::inspect("a.png", None, &bytes.to_vec().into());
        let _ = raster::decode::decode("a.png", bytes);
    });
}

#[test]
fn jpegs() {
    target("jpeg", &files("products/allotment-year/art", "jpg"), |bytes| {
        inspect::inspect("a.jpg", None, &bytes.to_vec().into());
        let _ = raster::decode::decode("a.jpg", bytes);
    });
}

#[test]
fn archives() {
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
    let seeds =
        [pack(zip::CompressionMethod::Stored, ""), pack(zip::CompressionMethod::Deflated, "PK\u{5}\u{6} slack")];
    target("zip", &seeds, |bytes| {
        inspect::inspect_with_entries("a.zip", None, &bytes.to_vec().into());
    });
}

#[test]
fn fonts() {
    use base::model::drawing::Role;
    let seeds: Vec<Vec<u8>> = vec![notosans::REGULAR_TTF.to_vec()];
    let whole = read_fonts(&seeds[0]);
    assert!(whole, "the seed is a font");
    target("font", &seeds, |bytes| {
        read_fonts(bytes);
    });

    fn read_fonts(bytes: &[u8]) -> bool {
        draw::fonts::embedding(bytes);
        let font = base::model::product::FontFile { from: "a.ttf".to_owned(), bytes: bytes.into(), built_in: false };
        let files = Role::ALL.into_iter().map(|role| (role, vec![font.clone()])).collect();
        let Ok(fonts) = draw::Fonts::open(&files) else { return false };
        let role = Role::ALL[0];
        fonts.missing(role, "Ebb ä\u{0301} \u{0e33}");
        for glyph in fonts.shape(role, "Tide AVfi 12 ä\u{0301} \u{0e33}\u{0627}\u{0644}").iter() {
            fonts.outline(glyph, 12.0);
        }
        true
    }
}

#[test]
fn lists_of_events_as_tables() {
    let seeds: Vec<Vec<u8>> = vec![
        b"date,title,until\n2027-03-01,Ebb,2027-03-04\n2027-05-06,\"Flood, \"\"high\"\"\",\n".to_vec(),
        b"\xef\xbb\xbfdate;title\n01.03.2027;Ebbe\n".to_vec(),
        b"date\ttitle\n2028-02-29\tLeap\n".to_vec(),
    ];
    target("csv", &seeds, |bytes| {
        calendar::read_csv(bytes, "a.csv");
    });
}

#[test]
fn lists_of_events_as_calendars() {
    target("ics", &files("tests/fixtures/calendar/ics", "ics"), |bytes| {
        calendar::read_ics(bytes, "a.ics");
    });
}
