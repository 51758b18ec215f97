//! The texts against made-up facts: true numbers, singular and plural, line ends and widths.
#![allow(clippy::unwrap_used)]

use super::page_size::page_size;
use super::wrap::{COLUMNS, wrap};
use super::*;
use base::model::facts::*;
use base::model::product::*;
use base::model::{Rgb, Role, Size};
use proptest::prelude::*;
use std::sync::Arc;

fn product() -> Product {
    let mut product = sample::product();
    let section = |name: &str| Section {
        name: name.into(),
        colour: Rgb::BLACK,
        icon: None,
        pages: Vec::new(),
        within: Vec::new(),
        art: None,
    };
    let template = |name: &str| Template {
        name: name.into(),
        slug: name.to_lowercase(),
        ruling: "lined".into(),
        with: toml::Table::new(),
        beside: None,
        art: None,
        offered: true,
        icon: None,
        stickers: Vec::new(),
    };
    let cover = |name: &str| Cover {
        name: name.into(),
        design: CoverDesign::Flat,
        colour: Rgb::BLACK,
        second: Rgb::WHITE,
        material: base::model::look::Material::Plain,
        finish: Default::default(),
        label: true,
        line: String::new(),
    };
    product.notebook = Some(Notebook {
        title: "Allotment Year".into(),
        cover: cover("Shed door"),
        welcome: String::new(),
        art: FrontArt::default(),
        sections: ["Seeds", "Beds", ""].map(section).into(),
        templates: ["Lined", "Dot grid", "Bed plan"].map(template).into(),
        dated: None,
        parts: base::model::structure::Parts::default(),
        finished: None,
    });
    product.covers = ["Potting bench", "Frost"].map(cover).into();
    product.shop.contact = Some("hello@fernlea.example".into());
    product.listing.title = "Allotment Year: a notebook for growers".into();
    product.listing.summary = "Plan the beds, keep the seeds in order.".into();
    product.listing.tags = vec!["allotment".into(), "notebook".into()];
    product
}

fn link(leads: Leads) -> LinkFacts {
    LinkFacts { leads, flags: 4, ..LinkFacts::default() }
}

fn pdf(path: &str, kind: Kind, size: u64, pages: usize, links: usize) -> Inspected {
    let size_of = Size::new(1024.0, 768.0);
    let to = || link(Leads::Page { page: 0, left: Some(0.0), top: Some(768.0) });
    let page = |i| PageFacts {
        size: size_of,
        links: if i == 0 { (0..links).map(|_| to()).collect() } else { Vec::new() },
        ..PageFacts::default()
    };
    let entry = |title: &str| OutlineFacts {
        depth: 0,
        title: title.into(),
        leads: Leads::Page { page: 0, left: None, top: None },
    };
    let titles: &[&str] =
        if kind == Kind::Notebook { &["Index", "1 Seeds", "2 Beds", "Section 3", "Lined", "Dot grid"] } else { &[] };
    let facts = PdfFacts {
        pages: (0..pages).map(page).collect(),
        outline: titles.iter().map(|t| entry(t)).collect(),
        ..PdfFacts::default()
    };
    Inspected { path: path.into(), kind: Some(kind), size, sha256: String::new(), facts: Facts::Pdf(Arc::new(facts)) }
}

fn png(name: &str, w: u32, h: u32) -> Inspected {
    let facts = PngFacts {
        width: w,
        height: h,
        pixels_per_metre: Some((11_811, 11_811)),
        has_transparency: true,
        ..PngFacts::default()
    };
    Inspected {
        path: format!("contents/stickers/{name}"),
        kind: Some(Kind::Sticker),
        size: 40_000,
        sha256: String::new(),
        facts: Facts::Png(facts),
    }
}

fn text(path: &str, kind: Kind) -> Inspected {
    Inspected {
        path: path.into(),
        kind: Some(kind),
        size: 900,
        sha256: String::new(),
        facts: Facts::Text(TextFacts::default()),
    }
}

fn files() -> Vec<Inspected> {
    let entry = |name: &str| EntryFacts { name: name.into(), size: 9, stored: 9, sound: true, ..EntryFacts::default() };
    vec![
        pdf("contents/allotment-year.pdf", Kind::Notebook, 312_345, 128, 2_816),
        pdf("contents/covers.pdf", Kind::Covers, 98_000, 2, 0),
        pdf("contents/guide.pdf", Kind::Guide, 51_000, 6, 1),
        text("contents/licence-terms.txt", Kind::Licence),
        text("contents/start-here.txt", Kind::StartHere),
        pdf("contents/sticker-sheet.pdf", Kind::Sheet, 77_000, 1, 0),
        png("01-leaf.png", 1_200, 700),
        png("02-pot.png", 400, 612),
        pdf("upload/allotment-year.pdf", Kind::Upload, 312_345, 128, 2_816),
        Inspected {
            path: "upload/allotment-year-extras.zip".into(),
            kind: Some(Kind::Upload),
            size: 12_345_678,
            sha256: String::new(),
            facts: Facts::Zip(ZipFacts {
                entries: vec![entry("covers.pdf"), entry("guide.pdf")],
                ..ZipFacts::default()
            }),
        },
    ]
}

fn read() -> BundleFacts {
    BundleFacts::read(&[&product()], &files()).unwrap()
}

fn check_text(text: &str) {
    assert!(!text.contains('\r') && !text.starts_with('\u{feff}') && text.ends_with('\n') && !text.ends_with("\n\n"));
    assert!(text.lines().all(|l| l.trim_end() == l), "no space at the end of a line");
}

fn check_columns(text: &str) {
    check_text(text);
    for line in text.lines() {
        assert!(line.chars().count() <= COLUMNS, "{line}");
    }
}

#[test]
fn figures_are_read_off_the_files() {
    let facts = read();
    let book = facts.notebook.unwrap();
    assert_eq!((book.pages, book.links, book.sections), (128, 2_816, 3));
    assert_eq!(book.section_names, ["Seeds", "Beds"]);
    // “Bed plan” is in the manifest, but the file has no such chapter.
    assert_eq!(book.templates, ["Lined", "Dot grid"]);
    let stickers = facts.stickers.unwrap();
    assert_eq!((stickers.count, stickers.dpi.as_str(), stickers.longest.as_str()), (2, "300", "612 to 1,200"));
    assert_eq!(facts.covers.unwrap().names, "Potting bench and Frost");
    assert_eq!((facts.sheets, facts.guide), (1, 6));
}

#[test]
fn a_file_that_cannot_be_read_is_a_fault() {
    let mut files = files();
    files[1].facts = Facts::Unreadable("no end of file".into());
    let faults = BundleFacts::read(&[&product()], &files).unwrap_err();
    assert_eq!(faults[0].file.as_deref(), Some("contents/covers.pdf"));
}

/// 1 in = 25.4 mm = 72 pt (ISO 32000-1, 8.3.2.3). ISO 216: A4 is 210 × 297 mm, sides 1 : √2.
#[test]
fn page_sizes_in_all_units() {
    let page = page_size(Size::new(1024.0, 768.0), &wording::Tongue::new("en"));
    assert_eq!(page.pt, "1024 × 768 pt");
    assert_eq!(page.mm, "361.2 × 270.9 mm");
    assert_eq!(page.inches, "14.22 × 10.67 in");
    assert_eq!(page.px, "3,755 × 2,816 px");
    assert_eq!((page.aspect.as_str(), page.orientation.as_str()), ("4 : 3", "landscape"));
    let a4 = page_size(Size::new(595.276, 841.89), &wording::Tongue::new("en"));
    assert_eq!(
        (a4.mm.as_str(), a4.aspect.as_str(), a4.orientation.as_str()),
        ("210 × 297 mm", "1 : 1.414", "portrait")
    );
    assert_eq!(page_size(Size::new(500.0, 500.0), &wording::Tongue::new("en")).aspect, "1 : 1");
    assert_eq!(page_size(Size::new(1080.0, 2340.0), &wording::Tongue::new("en")).aspect, "6 : 13");
}

#[test]
fn description() {
    let text = super::description::description(&product(), &read());
    check_text(&text);
    for part in [
        "# Allotment Year: a notebook for growers\n\nPlan the beds",
        "(`allotment-year.pdf`): 128 pages with 2,816 links",
        "**2 covers** (`covers.pdf`): Potting bench and Frost. The same page size",
        "**2 stickers**: PNG pictures, one a sticker, on a transparent ground, 300 dpi, 612 to 1,200 pixels",
        "**1 sticker sheet** in a PDF",
        "guide** of 6 pages",
        "divider page, Seeds and Beds among them; the others wait for",
        "2 page templates, each of which",
        "- Lined\n- Dot grid\n",
        "- 361.2 × 270.9 mm\n",
        "- `allotment-year.pdf`: notebook, 312.3 kB, 128 pages\n",
        "- `allotment-year-extras.zip`: zip archive, 12.3 MB, 2 files\n",
        "hello@fernlea.example",
    ] {
        assert!(text.contains(part), "{part}\n---\n{text}");
    }
    assert!(!text.contains("{{") && !text.contains("{%") && !text.contains("\n\n\n"));
}

#[test]
fn one_of_each() {
    let mut product = product();
    let book = product.notebook.as_mut().unwrap();
    book.sections.truncate(1);
    book.templates.truncate(1);
    product.covers.truncate(1);
    let files = [
        pdf("contents/allotment-year.pdf", Kind::Notebook, 1, 1, 1),
        pdf("contents/covers.pdf", Kind::Covers, 98_000, 1, 0),
        png("01-leaf.png", 1_200, 700),
    ];
    let facts = BundleFacts::read(&[&product], &files).unwrap();
    let all = [super::description::description(&product, &facts), start_here(&product, &facts)].concat();
    for part in
        ["1 page with 1 link ", "1 cover**", "1 sticker**: a PNG picture on", "1 section with", "1 page template,"]
    {
        assert!(all.contains(part), "{part}\n---\n{all}");
    }
    for wrong in ["1 pages", "1 links", "1 stickers", "1 covers", "1 sections", "1 templates", "1 bytes", "1 files"] {
        assert!(!all.contains(wrong), "{wrong}\n---\n{all}");
    }
}

#[test]
fn a_product_of_stickers_only() {
    let mut product = product();
    product.notebook = None;
    product.covers.clear();
    let facts = BundleFacts::read(&[&product], &[png("01-leaf.png", 10, 10), png("02-pot.png", 10, 10)]).unwrap();
    let text = super::description::description(&product, &facts);
    for wrong in ["notebook**", "cover", "template", "Page size", "guide"] {
        assert!(!text.contains(wrong), "{wrong}\n---\n{text}");
    }
    check_columns(&start_here(&product, &facts));
}

#[test]
fn list_of_files() {
    let list = super::files::files(&product(), &read());
    check_columns(&list);
    for part in [
        "Files to download: 2 files, 12,658,023 bytes (12.7 MB)\n",
        "\nallotment-year.pdf\n    notebook, 312,345 bytes (312.3 kB), 128 pages\n",
        "\nallotment-year-extras.zip\n    zip archive, 12,345,678 bytes (12.3 MB), 2 files\n    - covers.pdf\n",
        "\nstickers/01-leaf.png\n    sticker, 40,000 bytes (40 kB), 1,200 × 700 px at 300 dpi\n",
        "licence-terms.txt\n    licence terms, 900 bytes\n",
    ] {
        assert!(list.contains(part), "{part}\n---\n{list}");
    }
}

#[test]
fn start_here_names_every_file() {
    let text = start_here(&product(), &read());
    check_columns(&text);
    for name in [
        "allotment-year.pdf",
        "covers.pdf",
        "guide.pdf",
        "licence-terms.txt",
        "sticker-sheet.pdf",
        "stickers: 2 stickers",
    ] {
        assert!(text.contains(name), "{name}\n---\n{text}");
    }
}

#[test]
fn terms_say_what_was_chosen() {
    let mut product = product();
    let plain = terms(&product, &[]);
    check_columns(&plain);
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat(&plain).contains("not legal advice") && flat(&plain).contains("use them in anything that you sell"));
    assert!(!plain.contains("Refunds") && !plain.contains("Credits") && !plain.contains("learner"));
    product.licence = Licence {
        small_commercial: Some(1_500),
        classroom_seats: Some(1),
        refunds: Refunds::Days(14),
        credits: vec!["Leaf drawings by a friend, CC BY 4.0".into()],
        extra: Some("Posters for the village fair are fine.".into()),
    };
    let font = FontFile { from: "Noto Sans".into(), bytes: Default::default(), built_in: true, figures: None };
    product.style.fonts.insert(Role::Label, vec![font.clone()]);
    product.style.fonts.insert(Role::LabelBold, vec![font.clone()]);
    product.style.fonts.insert(Role::Heading, vec![FontFile { from: "fonts/own.otf".into(), built_in: false, ..font }]);
    let full = terms(&product, &[]);
    check_columns(&full);
    let mut variant = product.clone();
    let other = FontFile { from: "Libertinus Serif".into(), bytes: Default::default(), built_in: true, figures: None };
    variant.style.fonts.insert(Role::HeadingItalic, vec![other]);
    let varied = flat(&terms(&product, &[&product, &variant]));
    assert!(varied.contains("Typeface: Libertinus Serif") && !full.contains("Libertinus"));
    assert_eq!(varied.matches("Typeface: Noto Sans").count(), 1);
    for part in [
        "1,500 sold items",
        "1 learner there",
        "within 14 days of",
        "Leaf drawings by a friend",
        "Typeface: Noto Sans, SIL Open Font License 1.1",
        "village fair",
    ] {
        assert!(flat(&full).contains(part), "{part}\n---\n{full}");
    }
    assert_eq!(full.matches("Typeface").count(), 1);
    assert!(!flat(&full).contains("use them in anything that you sell"));
    product.licence.refunds = Refunds::NoneOnceDownloaded;
    assert!(flat(&terms(&product, &[])).contains("as far as the law of your country allows"));
}

#[test]
fn the_texts() {
    let texts = texts(&product(), &read());
    let paths: Vec<&str> = texts.iter().map(|t| t.path.as_str()).collect();
    assert_eq!(paths, ["listing/description.md", "listing/files.txt", "listing/tags.txt"]);
    assert_eq!(*texts[2].bytes, *b"allotment\nnotebook\n");
}

#[test]
fn numbers_and_rows() {
    assert_eq!([0, 999, 1_000, 1_234_567].map(grouped), ["0", "999", "1,000", "1,234,567"]);
    let tongue = wording::Tongue::new("en");
    let pages = tongue.documents().start.pages;
    assert_eq!([0, 1, 2].map(|n| tongue.count(n, pages)), ["0 pages", "1 page", "2 pages"]);
    let names = ["a", "b", "c"].map(str::to_owned);
    assert_eq!([0, 1, 2, 3].map(|n| tongue.row(&names[..n])), ["", "a", "a and b", "a, b and c"]);
}

#[test]
fn names_with_marks_of_markdown() {
    let mut product = product();
    product.listing.title = "A *bold* [name]_".into();
    let text = super::description::description(&product, &read());
    assert!(text.starts_with("# A \\*bold\\* \\[name\\]\\_\n"), "{text}");
}

proptest! {
    #[test]
    fn wrapped_text_keeps_its_words(text in "([a-zé0-9.,-]{1,20}[ \n]{1,3}|- ){0,60}") {
        let wrapped = wrap(&text);
        let words: Vec<&str> = text.split_whitespace().collect();
        prop_assert_eq!(wrapped.split_whitespace().collect::<Vec<_>>(), words);
        for line in wrapped.lines() {
            prop_assert!(line.chars().count() <= COLUMNS, "{}", line);
        }
    }
}
