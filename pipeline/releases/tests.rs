//! The file of releases, the papers of a bundle, and what is said of both.
#![allow(clippy::unwrap_used)]

use super::compare::{Digests, How, Part, differences, of_sums, whole};
use super::reasons::{Made, reasons};
use super::*;
use base::checksum::sums;
use proptest::prelude::*;

fn record(version: &str) -> Vec<u8> {
    let inputs = r#"[{"path": "product.toml", "sha256": "aa"}, {"path": "art/a \"b\".svg", "sha256": "bb"}]"#;
    format!(
        r#"{{"version": "{version}", "released": "2027-03-01", "tool": "sheafwright 0.1.0", "files": [], "inputs": {inputs}}}"#
    )
    .into_bytes()
}

fn release(version: &str) -> Release {
    Release::of(&record(version), b"sums", None).unwrap()
}

#[test]
fn entries_are_added_and_nothing_else_is_touched() {
    let first = Releases::default().with(&release("1.0.0"));
    let mine = first.replace("tool =", "note = \"the good one\"\ntool =") + "\n# until the fair";
    let read = Releases::read(mine.as_bytes(), "releases.toml").unwrap();
    assert_eq!(read.of("1.0.0"), Some(&release("1.0.0")));
    let both = read.with(&release("1.10.0"));
    assert!(both.starts_with(&mine), "{both}");
    let read = Releases::read(both.as_bytes(), "releases.toml").unwrap();
    assert_eq!(read.versions().into_iter().collect::<Vec<_>>(), ["1.0.0", "1.10.0"]);
    assert_eq!(read.of("1.10.0"), Some(&release("1.10.0")));
    assert_eq!(read.of("1.1.0"), None);
    let dated = Release::of(&record("2.0.0"), b"", Some("2028-02-29".parse().unwrap())).unwrap();
    assert_eq!(dated.released.to_string(), "2028-02-29");
}

#[test]
fn a_file_that_is_none() {
    let good = Releases::default().with(&release("1.0.0"));
    let bad = [
        good.clone() + &good[good.find("\n[[").unwrap()..],
        good.replace("record = \"", "record = \"0"),
        good.replace("sums =", "summs ="),
        good.replace("version = \"1.0.0\"", "version = 1"),
        good.replace("[[release]]", "[[release]"),
    ];
    let said: Vec<String> = bad
        .iter()
        .map(|text| {
            let faults = Releases::read(text.as_bytes(), "releases.toml").unwrap_err();
            faults.iter().map(|f| format!("{f}\n")).collect()
        })
        .chain([Releases::read(&[0xff], "releases.toml").unwrap_err()[0].to_string()])
        .collect();
    insta::assert_snapshot!(said.join("\n"));
}

#[test]
fn what_is_no_longer_as_it_was() {
    let then = Made {
        tool: "sheafwright 0.0.9".into(),
        program: "01".into(),
        libraries: [("icu_datetime_data", "2.0.0"), ("notosans", "0.0.9")].map(|(k, v)| (k.into(), v.into())).into(),
        inputs: [("a.svg", "1"), ("b.ttf", "2"), ("same", "3")].map(|(k, v)| (k.into(), v.into())).into(),
    };
    let now = Made {
        tool: "sheafwright 0.1.0".into(),
        program: "02".into(),
        libraries: [("icu_datetime_data".to_owned(), "2.4.0".to_owned())].into(),
        inputs: [("a.svg", "4"), ("same", "3"), ("c.png", "5")].map(|(k, v)| (k.into(), v.into())).into(),
    };
    insta::assert_snapshot!(reasons(&then, &now).join("\n"));
    assert_eq!(reasons(&then, &then), [""; 0]);
    // The program knows the libraries that it came with.
    let ours = Made::now(BTreeMap::new());
    for name in ["typst-assets", "notosans", "icu_datetime_data"] {
        assert!(ours.libraries.contains_key(name), "{:?}", ours.libraries);
    }
}

#[test]
fn what_a_buyer_has_is_a_part() {
    let stated: Digests = ["upload/log.zip", "contents/log.pdf", "contents/more/a.png", "listing/tags.txt"]
        .map(|p| (p.to_owned(), p.to_owned()))
        .into();
    let there = |names: &[&str]| names.iter().map(|n| ((*n).to_owned(), String::new())).collect::<Digests>();
    assert_eq!(Part::among(&stated, &there(&["log.zip"])), Part::Uploads);
    assert_eq!(Part::among(&stated, &there(&["more/a.png", "log.pdf"])), Part::Contents);
    assert_eq!(Part::among(&stated, &there(&["other"])), Part::Uploads);
    assert_eq!(Part::Contents.of(&stated).into_keys().collect::<Vec<_>>(), ["log.pdf", "more/a.png"]);
}

fn paths() -> impl Strategy<Value = Digests> {
    prop::collection::btree_map("[a-z\\\\\n\r é]{1,6}(/[a-z]{1,3})?", "[0-9a-f]{64}", 1..12)
}

proptest! {
    /// What is written as a list of checksums is read as the same list, whatever the names.
    #[test]
    fn lists_of_checksums_come_back(list in paths()) {
        prop_assert_eq!(of_sums(&sums(&list)), Some(list));
    }

    /// Each change is told, by its kind, and nothing but the changes.
    #[test]
    fn every_change_is_told_and_no_other(files in paths(), gone in 0usize..12, harmed in 0usize..12, new in "[A-Z]{7}") {
        let names: Vec<String> = files.keys().cloned().collect();
        let (gone, harmed) = (&names[gone % names.len()], &names[harmed % names.len()]);
        let mut there = files.clone();
        there.insert(harmed.clone(), "harmed".into());
        there.insert(new.clone(), "new".into());
        there.remove(gone);
        let told: Vec<(String, How)> = differences(&files, &there).into_iter().map(|d| (d.path, d.kind)).collect();
        let mut wanted = vec![(gone.clone(), How::Missing), (new, How::Added)];
        if harmed != gone {
            wanted.push((harmed.clone(), How::Altered));
        }
        wanted.sort();
        prop_assert_eq!(told, wanted);
        prop_assert_eq!(differences(&files, &files), vec![]);
    }
}

/// The list of checksums is held as a whole: a line that is gone, another digest or a line more is an alteration.
#[test]
fn the_list_itself_is_held() {
    let record = br#"{"files": []}"#;
    let files: Digests = [("contents/a".to_owned(), "a".repeat(64))].into();
    let mut listed = files.clone();
    listed.insert("bundle.json".into(), base::checksum::sha256_hex(record));
    listed.insert("proof.html".into(), "b".repeat(64));
    let text = sums(&listed);
    let held = |text: Option<&str>| {
        let stated = whole(record, files.clone(), text);
        let mut there = listed.clone();
        if let Some(text) = text {
            there.insert("SHA256SUMS".into(), base::checksum::sha256_hex(text.as_bytes()));
        }
        differences(&stated, &there).into_iter().map(|d| (d.path, d.kind)).collect::<Vec<_>>()
    };
    assert_eq!(held(Some(&text)), []);
    let altered = ("SHA256SUMS".to_owned(), How::Altered);
    let first = text.lines().next().unwrap();
    for other in [text.replace(first, ""), text.replace("aaa", "aab"), format!("{text}\n{first}"), format!("{text} ")] {
        assert!(held(Some(&other)).contains(&altered), "{other}");
    }
    assert!(held(None).contains(&("SHA256SUMS".to_owned(), How::Missing)));
}
