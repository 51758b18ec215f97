//! Packing as a whole: real bytes, real limits, messages; and the record.
#![allow(clippy::unwrap_used)]

use super::*;
use base::model::facts::{Inspected, PageFacts, PdfFacts, PngFacts, TextFacts};
use base::model::{Facts, Size};

fn product(files: usize, bytes: u64) -> Product {
    let mut product = sample::product();
    product.limits.files = files;
    product.limits.bytes = bytes;
    product
}

fn file(path: &str, kind: Kind, size: usize) -> Artifact {
    // Bytes that deflate does not shrink.
    let mut x = 88_172_645_463_325_252_u64;
    let bytes = (0..size)
        .map(|_| {
            x ^= x << 13;
            x ^= x >> 7;
            x ^= x << 17;
            x as u8
        })
        .collect();
    Artifact { path: format!("contents/{path}"), kind, bytes }
}

fn usual() -> Vec<Artifact> {
    let mut files = vec![
        file("allotment-year.pdf", Kind::Notebook, 9_000),
        file("covers.pdf", Kind::Covers, 8_000),
        file("guide.pdf", Kind::Guide, 3_000),
        file("licence-terms.txt", Kind::Licence, 900),
        file("start-here.txt", Kind::StartHere, 700),
        file("sticker-sheet.pdf", Kind::Sheet, 2_000),
    ];
    files.extend((1..=6).map(|i| file(&format!("stickers/{i:02}-leaf.png"), Kind::Sticker, 2_500)));
    files
}

fn names(packing: &Packing) -> Vec<&str> {
    packing.uploads.iter().map(|u| u.path.as_str()).collect()
}

#[test]
fn everything_fits() {
    let packing = pack(&product(5, 40_000), &usual()).unwrap();
    assert_eq!(names(&packing), ["upload/allotment-year.pdf", "upload/allotment-year-extras.zip"]);
    assert!(packing.left_out.is_empty() && !packing.wants_card());
    assert_eq!(packing.uploads[0].bytes, usual()[0].bytes);
}

#[test]
fn stickers_in_a_zip_of_their_own() {
    let packing = pack(&product(5, 19_000), &usual()).unwrap();
    assert_eq!(
        names(&packing),
        ["upload/allotment-year.pdf", "upload/allotment-year-extras.zip", "upload/allotment-year-stickers.zip"]
    );
}

#[test]
fn one_zip_for_all() {
    assert_eq!(names(&pack(&product(1, 60_000), &usual()).unwrap()), ["upload/allotment-year.zip"]);
}

#[test]
fn too_much_says_what_to_drop() {
    let faults = pack(&product(2, 19_000), &usual()).unwrap_err();
    assert_eq!(faults.len(), 1);
    assert!(faults[0].message.contains("do not fit into 2 uploads of at most 19 kB"), "{}", faults[0]);
    assert!(faults[0].help.as_ref().unwrap().contains("the stickers (6 files, 15.7 kB)"), "{}", faults[0]);
    let faults = pack(&product(9, 5_000), &usual()).unwrap_err();
    let about: Vec<&str> = faults.iter().filter_map(|f| f.file.as_deref()).collect();
    assert_eq!(about, ["contents/allotment-year.pdf", "contents/covers.pdf"]);
}

#[test]
fn a_card_takes_the_place_of_what_does_not_fit() {
    let mut product = product(3, 19_000);
    product.delivery = Some("https://fernlea.example/allotment-year".into());
    product.limits.files = 2;
    let first = pack(&product, &usual()).unwrap();
    assert!(first.wants_card());
    let mut with = usual();
    with.push(file("delivery-card.pdf", Kind::DeliveryCard, 500));
    let second = pack(&product, &with).unwrap();
    assert!(!second.wants_card());
    assert_eq!(first.left_out, second.left_out);
    assert_eq!(names(&second).last(), Some(&"upload/delivery-card.pdf"));
    assert_eq!(second.uploads.len(), 2);
    // Every file is either left out or in a slot.
    let mut inside = 0;
    for upload in &second.uploads[..1] {
        inside += zip::ZipArchive::new(std::io::Cursor::new(&upload.bytes)).unwrap().len();
    }
    assert_eq!(inside + second.left_out.len(), usual().len());
    // With a single slot the card is all there is.
    product.limits.files = 1;
    let only = pack(&product, &with).unwrap();
    assert_eq!(names(&only), ["upload/delivery-card.pdf"]);
    assert_eq!(only.left_out.len(), usual().len());
}

#[test]
fn the_same_bytes_each_time() {
    let product = product(5, 19_000);
    assert_eq!(pack(&product, &usual()).unwrap(), pack(&product, &usual()).unwrap());
}

#[test]
fn the_record() {
    let page = PageFacts { size: Size::new(959.976, 720.0), ..PageFacts::default() };
    let pdf = PdfFacts { version: "1.7".into(), pages: vec![page.clone(), page], ..PdfFacts::default() };
    let png = PngFacts { width: 1200, height: 800, pixels_per_metre: Some((11_811, 11_811)), ..PngFacts::default() };
    let files = [
        Inspected {
            path: "upload/allotment-year.pdf".into(),
            kind: Some(Kind::Upload),
            size: 4,
            sha256: String::new(),
            facts: Facts::Pdf(std::sync::Arc::new(pdf)),
        },
        Inspected {
            path: "contents/start-here.txt".into(),
            kind: Some(Kind::StartHere),
            size: 3,
            sha256: String::new(),
            facts: Facts::Text(TextFacts { lines: 1, characters: 2, ..TextFacts::default() }),
        },
        Inspected {
            path: "contents/stickers/01-leaf.png".into(),
            kind: Some(Kind::Sticker),
            size: 9,
            sha256: String::new(),
            facts: Facts::Png(png),
        },
    ];
    let digests = files.iter().map(|f| (f.path.clone(), format!("digest of {}", f.path))).collect();
    let inputs = [("product.toml".to_owned(), "b".to_owned()), ("art/leaf.svg".to_owned(), "a".to_owned())];
    let text = record::bundle(&[&product(5, 1)], &files, &digests, &inputs, (serde_json::json!([]), None));
    assert!(text.ends_with("}\n") && !text.contains('\r'));
    let json: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!(json["format"], 1);
    assert_eq!(json["product"], "allotment-year");
    assert_eq!(json["released"], "2027-01-15");
    let kinds: Vec<&str> = json["files"].as_array().unwrap().iter().map(|f| f["kind"].as_str().unwrap()).collect();
    assert_eq!(kinds, ["start-here", "sticker", "upload"]);
    assert_eq!(json["files"][1]["facts"]["dpi"], 299.999);
    assert_eq!(json["files"][2]["facts"]["pages"], 2);
    assert_eq!(json["files"][2]["facts"]["page_sizes"], serde_json::json!([[959.976, 720]]));
    assert_eq!(json["files"][2]["sha256"], "digest of upload/allotment-year.pdf");
    assert_eq!(json["inputs"][0]["path"], "art/leaf.svg");
    assert_eq!((&json["limits"]["files"], &json["limits"]["tag"]), (&5.into(), &20.into()));
    assert_eq!(json["names"]["sections"], serde_json::json!([]));
    assert_eq!(text, record::bundle(&[&product(5, 1)], &files, &digests, &inputs, (serde_json::json!([]), None)));
    // Of other inputs, or none, it is what would have been written of them.
    let of = |inputs: &[(String, String)]| {
        record::bundle(&[&product(5, 1)], &files, &digests, inputs, (serde_json::json!([]), None))
    };
    for (one, other) in [(&inputs[..], &inputs[..1]), (&inputs[1..], &[]), (&[], &inputs[..])] {
        assert_eq!(record::with_inputs(&of(one), other), Some(of(other)));
    }
    assert_eq!(record::with_inputs("{}\n", &inputs), None);
}
