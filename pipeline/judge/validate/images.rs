//! Pictures: inside PDFs, and as files of their own.

use super::catalogue::{Findings, found};
use super::stickers::is_sticker;
use base::model::Where;
use base::model::artifact::Kind;
use base::model::facts::{Facts, ImageFacts, Inspected, PdfFacts};
use base::model::units::trim_number;
use base::model::variant;
use base::model::variant::Variant;
use std::collections::{BTreeMap, BTreeSet};

/// Below this resolution a picture looks soft on a tablet, whose screens have about 264 dots an inch; a page is seldom
/// shown larger than the screen (common practice, no source).
const SOFT: f64 = 96.0;
/// Above this nobody sees the difference, and only the file grows.
const WASTEFUL: f64 = 620.0;
/// Smaller pictures than this share of the page, and this many pixels, are left alone.
const SMALL: (f64, u64) = (0.05, 400_000);
/// A page that is one picture has no text that could be searched.
const WHOLE_PAGE: f64 = 0.9;
/// Larger sides than this are refused by many apps.
const MAX_SIDE: u32 = 8_192;

/// Checks the pictures inside a PDF.
pub fn check(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    for image in &facts.images {
        check_image(image, &Where::page(&file.path, image.first_page), findings);
    }
    profiles(file, facts, findings);
    for (i, page) in facts.pages.iter().enumerate() {
        for fault in &page.broken_pictures {
            let at = Where::page(&file.path, i + 1);
            found!(findings, "image-damaged", at, "a picture among the page's drawing instructions {fault}");
        }
        if page.drawn.is_some_and(|d| d.cmyk > 0) {
            let at = Where::page(&file.path, i + 1);
            found!(findings, "colour-cmyk", at, "the page draws in CMYK");
        }
    }
    let scanned = |page: &&base::model::facts::PageFacts| {
        page.drawn.is_some_and(|d| d.glyphs == 0 && d.images > 0 && d.marks <= 3)
    };
    let covering = facts.images.iter().any(|i| i.cover.is_some_and(|c| c >= WHOLE_PAGE));
    let pages = facts.pages.iter().filter(scanned).count();
    // A cover may well be one picture; a whole file of them was exported as pictures.
    if covering && pages >= 3 && pages * 2 > facts.pages.len() {
        let all = facts.pages.len();
        found!(
            findings,
            "pages-are-pictures",
            Where::file(&file.path),
            "{pages} of {all} pages are one picture, without any text"
        );
    }
}

/// Pictures that leave open what their colours mean, beside others that say it.
fn profiles(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    let said = |i: &&ImageFacts| matches!(i.colour.as_str(), "ICCBased" | "CalRGB");
    let open = |i: &&ImageFacts| i.colour == "DeviceRGB";
    let (with, without) = (facts.images.iter().filter(said).count(), facts.images.iter().filter(open).count());
    if let (Some(first), true) = (facts.images.iter().find(open), with > 0) {
        let at = Where::page(&file.path, first.first_page);
        found!(
            findings,
            "image-profile-missing",
            at,
            "{without} pictures have no colour profile, {with} others have one"
        );
    }
}

fn check_image(image: &ImageFacts, at: &Where, findings: &mut Findings) {
    let (w, h) = (image.width, image.height);
    if let Some(fault) = &image.fault {
        found!(findings, "image-damaged", at.clone(), "the {w} \u{d7} {h} picture {fault}");
    }
    if image.colour == "DeviceCMYK" || image.components == Some(4) {
        found!(findings, "image-cmyk", at.clone(), "the {w} \u{d7} {h} picture is in CMYK");
    }
    if matches!(image.colour.as_str(), "Separation" | "DeviceN" | "Lab") {
        let colour = &image.colour;
        found!(findings, "image-colour-odd", at.clone(), "the {w} \u{d7} {h} picture is in {colour} colour");
    }
    let (Some(dpi), Some(cover)) = (image.dpi, image.cover) else { return };
    if dpi < SOFT && cover >= SMALL.0 && !image.colour.is_empty() && w > 1 && h > 1 {
        let (dpi, cover) = (trim_number(dpi, 0), trim_number(cover * 100.0, 0));
        found!(
            findings,
            "image-too-coarse",
            at.clone(),
            "the {w} \u{d7} {h} picture covers {cover} % of the page at {dpi} dpi"
        );
    } else if dpi > WASTEFUL && u64::from(w) * u64::from(h) > SMALL.1 {
        let dpi = trim_number(dpi, 0);
        found!(findings, "image-too-fine", at.clone(), "the {w} \u{d7} {h} picture is placed at {dpi} dpi");
    }
}

/// Checks pictures that are files of their own against each other.
pub fn pictures(files: &[Inspected], variants: &[Variant], findings: &mut Findings) {
    let mut shown: BTreeMap<&str, &str> = BTreeMap::new();
    // What a file of a variant is called in all of them.
    let common = |path: &str| {
        let path = variant::inside(path);
        variant::of(variants, path).map(|_| variant::common(variants, path))
    };
    for file in files {
        // An upload is a copy of what lies loose beside it.
        let (Facts::Png(facts), false) = (&file.facts, file.kind == Some(Kind::Upload)) else { continue };
        let at = || Where::file(&file.path);
        if facts.width.max(facts.height) > MAX_SIDE {
            let (w, h) = (facts.width, facts.height);
            found!(
                findings,
                "picture-too-large",
                at(),
                "the picture is {w} \u{d7} {h} pixels, more than {MAX_SIDE} on a side"
            );
        }
        if facts.pixels.is_empty() {
            continue;
        }
        match shown.get(facts.pixels.as_str()) {
            // Two variants may share a picture that a third has otherwise.
            Some(first) if common(first).is_some_and(|c| Some(c) == common(&file.path)) => {}
            Some(first) => found!(findings, "pictures-alike", at(), "the picture shows the same as {first}"),
            None => {
                shown.insert(&facts.pixels, &file.path);
            }
        }
    }
    numbers(files, findings);
}

/// Stickers that are numbered count without gaps and without doubles, folder by folder.
fn numbers(files: &[Inspected], findings: &mut Findings) {
    let mut folders: BTreeMap<&str, BTreeMap<u32, &str>> = BTreeMap::new();
    for file in files.iter().filter(|f| matches!(f.facts, Facts::Png(_)) && is_sticker(f)) {
        let folder = file.path.rsplit_once('/').map_or("", |(folder, _)| folder);
        let digits: String = file.name().chars().take_while(char::is_ascii_digit).collect();
        let Ok(number) = digits.parse() else { continue };
        if let Some(first) = folders.entry(folder).or_default().insert(number, &file.path) {
            found!(
                findings,
                "sticker-numbers-gap",
                Where::file(&file.path),
                "the number {number} is that of {first} as well"
            );
        }
    }
    // In a bundle with a record numbers stay with their sticker: that of one that is gone is not given to another, and what
    // is the same in all variants lies elsewhere.
    let kept: BTreeSet<&str> = files
        .iter()
        .filter(|f| f.kind == Some(Kind::Sticker))
        .filter_map(|f| Some(f.path.rsplit_once('/')?.0))
        .collect();
    folders.retain(|folder, _| !kept.contains(folder));
    for numbers in folders.into_values().filter(|n| n.len() > 1) {
        let mut expected = numbers.keys().next().copied().unwrap_or(1);
        for (number, path) in numbers {
            if number != expected {
                found!(
                    findings,
                    "sticker-numbers-gap",
                    Where::file(path),
                    "the number {expected} is missing before {number}"
                );
            }
            expected = number + 1;
        }
    }
}
