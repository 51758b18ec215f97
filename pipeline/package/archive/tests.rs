//! The archives, byte by byte and through the zip crate's own reader.
#![allow(clippy::unwrap_used)]

use super::*;
use base::model::Kind;
use proptest::prelude::*;
use std::io::Read;

fn artifact(name: &str, bytes: &[u8]) -> Artifact {
    Artifact { path: format!("contents/{name}"), kind: Kind::Listing, bytes: bytes.into() }
}

fn zip_of(files: &[(&str, &[u8])]) -> Result<Vec<u8>, Fault> {
    let mut entries = Vec::new();
    for (name, bytes) in files {
        entries.push(prepare(name, &artifact(name, bytes), &worth)?);
    }
    write("test.zip", entries)
}

fn u16_at(b: &[u8], at: usize) -> u16 {
    u16::from_le_bytes([b[at], b[at + 1]])
}

fn u32_at(b: &[u8], at: usize) -> u32 {
    u32::from(u16_at(b, at)) | u32::from(u16_at(b, at + 2)) << 16
}

/// Bytes that deflate cannot shrink.
fn noise(n: usize) -> Vec<u8> {
    let mut x = 0x2545_F491_4F6C_DD1D_u64;
    (0..n)
        .map(|_| {
            x ^= x << 13;
            x ^= x >> 7;
            x ^= x << 17;
            x as u8
        })
        .collect()
}

/// The header fields of APPNOTE 4.3.7 and 4.3.12, read without any library.
#[test]
fn raw_headers() {
    let bytes = zip_of(&[("b/text.txt", "hello ".repeat(40).as_bytes()), ("a.png", &noise(300))]).unwrap();
    // Local header of the first entry by name.
    assert_eq!(u32_at(&bytes, 0), 0x0403_4b50);
    assert_eq!(u16_at(&bytes, 6), 0, "no flag: no descriptor, no encryption, plain ASCII");
    assert_eq!(u16_at(&bytes, 8), 0, "stored");
    assert_eq!(u16_at(&bytes, 10), 0x0000, "midnight");
    assert_eq!(u16_at(&bytes, 12), 0x0021, "1980-01-01");
    assert_eq!(u32_at(&bytes, 18), 300);
    assert_eq!(u32_at(&bytes, 22), 300);
    assert_eq!(u16_at(&bytes, 28), 0, "no extra field");
    assert_eq!(&bytes[30..35], b"a.png");
    // End record, then the central directory that it points to.
    let end = bytes.len() - 22;
    assert_eq!(u32_at(&bytes, end), 0x0605_4b50);
    assert_eq!(u16_at(&bytes, end + 10), 2);
    assert_eq!(u16_at(&bytes, end + 20), 0, "no comment");
    let mut at = u32_at(&bytes, end + 16) as usize;
    for (name, method) in [("a.png", 0), ("b/text.txt", 8)] {
        assert_eq!(u32_at(&bytes, at), 0x0201_4b50);
        assert_eq!(u16_at(&bytes, at + 4) >> 8, 3, "made on Unix");
        assert!(u16_at(&bytes, at + 6) <= 20, "version 2.0 is enough to unpack");
        assert_eq!(u16_at(&bytes, at + 10), method, "{name}");
        assert_eq!(u16_at(&bytes, at + 12), 0);
        assert_eq!(u16_at(&bytes, at + 14), 0x0021);
        assert_eq!(u16_at(&bytes, at + 30), 0, "no extra field");
        assert_eq!(u16_at(&bytes, at + 32), 0, "no comment");
        assert_eq!(u32_at(&bytes, at + 38), 0o100_644 << 16, "a plain file, 0644, no DOS attributes");
        let n = u16_at(&bytes, at + 28) as usize;
        assert_eq!(&bytes[at + 46..at + 46 + n], name.as_bytes());
        at += 46 + n;
    }
    assert_eq!(at, end);
}

/// APPNOTE 4.4.4: bit 11 says that the name is UTF-8, in the local and in the central header.
#[test]
fn other_scripts_are_marked_in_both_headers() {
    // The name goes in decomposed and comes out composed.
    let bytes = zip_of(&[("cafe\u{301}.txt", b"x")]).unwrap();
    assert_eq!(u16_at(&bytes, 6), 0x0800);
    let at = u32_at(&bytes, bytes.len() - 22 + 16) as usize;
    assert_eq!(u16_at(&bytes, at + 8), 0x0800);
    assert_eq!(&bytes[30..30 + "café.txt".len()], "café.txt".as_bytes());
}

#[test]
fn pictures_are_stored_unless_deflate_gains_two_percent() {
    assert!(!worth(&artifact("a.png", &noise(10_000))));
    let mut a_little = noise(10_000);
    a_little.extend([0; 100]);
    assert!(!worth(&artifact("a.pdf", &a_little)), "gains 1 %");
    assert!(worth(&artifact("a.txt", &a_little)));
    a_little.extend([0; 400]);
    assert!(worth(&artifact("a.pdf", &a_little)), "gains 5 %");
    assert!(!worth(&artifact("a.txt", b"")));
}

#[test]
fn names_that_cannot_be_unpacked() {
    for name in [
        "",
        "/a",
        "a//b",
        "a/",
        "../a",
        "a/../b",
        "a\\b",
        "c:a",
        "what?.txt",
        "a\u{7}",
        "CON",
        "con.txt",
        "x/LPT9.png",
        "com¹.txt",
        "a.",
        "a ",
        "-a",
        &"n".repeat(256),
    ] {
        let fault = zip_of(&[(name, b"x")]).expect_err(name);
        assert!(fault.help.is_some(), "{fault}");
    }
    for name in ["a.txt", "stickers/01-note.png", "com0.txt", "console.txt", "łąka.txt", "a b.pdf"] {
        zip_of(&[(name, b"x")]).unwrap();
    }
}

#[test]
fn names_that_fall_together() {
    for pair in [["a.txt", "A.txt"], ["stra\u{df}e", "STRASSE"], ["\u{e9}", "e\u{301}"], ["x/1", "X/1"]] {
        let fault = zip_of(&[(pair[0], b"1"), (pair[1], b"2")]).unwrap_err();
        assert!(fault.message.contains("two files"), "{fault}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    /// Read back with the zip crate: every file once, its bytes unchanged; order of input does not matter; the
    /// size is as foretold.
    #[test]
    fn round_trip(files in proptest::collection::btree_map("[a-z]{1,8}(/[a-z]{1,8}\\.(png|txt))?",
                                                        proptest::collection::vec(any::<u8>(), 0..400), 0..12)) {
        // A name cannot be a file and a folder at once.
        let files: Vec<(&str, &[u8])> = files.iter().map(|(n, b)| (n.as_str(), b.as_slice())).collect();
        let costs: Vec<u64> = files.iter().map(|(n, b)| prepare(n, &artifact(n, b), &worth).unwrap().cost()).collect();
        let bytes = zip_of(&files).unwrap();
        prop_assert_eq!(bytes.len() as u64, size(costs));
        let mut backwards = files.clone();
        backwards.reverse();
        prop_assert_eq!(&bytes, &zip_of(&backwards).unwrap());
        let mut archive = zip::ZipArchive::new(Cursor::new(&bytes)).unwrap();
        prop_assert_eq!(archive.len(), files.len());
        for (i, (name, content)) in files.iter().enumerate() {
            let mut entry = archive.by_index(i).unwrap();
            prop_assert_eq!(entry.name().unwrap(), *name);
            let mut back = Vec::new();
            entry.read_to_end(&mut back).unwrap();
            prop_assert_eq!(&back, content);
        }
    }
}
