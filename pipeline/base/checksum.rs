//! SHA-256 digests and the checksum file: how a buyer, or the designer years later, proves that no byte has changed.
//!
//! Digests by FIPS 180-4; the checksum file has the form that `sha256sum -c` reads.

use crate::model::{Artifact, Sha};
use std::collections::BTreeMap;
use std::fmt::Write;

/// SHA-256 of some bytes as 64 lower-case hex digits.
pub fn sha256_hex(bytes: &[u8]) -> String {
    Sha::of(bytes).to_string()
}

/// The digest of every file, by its path. Digests are taken in parallel: they are the one thing in a build that must
/// touch every byte.
pub fn digests(files: &[Artifact]) -> BTreeMap<String, String> {
    use rayon::prelude::*;
    files.par_iter().map(|f| (f.path.clone(), f.bytes.sha256().to_string())).collect()
}

/// The text of `SHA256SUMS`: a line a file, digest, two spaces, path, in the order of the paths.
///
/// A path with a backslash or a line feed gets the escaped form that coreutils writes (a backslash in front of the
/// line), so that every path that a file system allows can be verified.
pub fn sums(digests: &BTreeMap<String, String>) -> String {
    let mut out = String::new();
    for (path, digest) in digests {
        let escaped = path.replace('\\', "\\\\").replace('\n', "\\n").replace('\r', "\\r");
        let mark = if escaped == *path { "" } else { "\\" };
        // Writing to a String cannot fail.
        let _ = writeln!(out, "{mark}{digest}  {escaped}");
    }
    out
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    /// Source: FIPS 180-4 and NIST's example messages; see tests/fixtures/SOURCES.md.
    const VECTORS: &str = include_str!("../../tests/fixtures/refs/sha256_vectors.csv");

    /// A message as the table writes it: hex digits, `00 x55` or `(61 repeated 1000000 times)`.
    fn message(text: &str) -> Vec<u8> {
        let hex = |t: &str| u8::from_str_radix(t, 16).unwrap();
        let text = text.trim_matches(['(', ')']).replace(" repeated ", " x").replace(" times", "");
        match text.split_once(" x") {
            Some((byte, times)) => vec![hex(byte); times.parse().unwrap()],
            None => (0..text.len()).step_by(2).map(|i| hex(&text[i..i + 2])).collect(),
        }
    }

    #[test]
    fn published_vectors() {
        let mut seen = 0;
        for line in VECTORS.lines().skip(1) {
            // The name may hold commas inside quotes; the last three fields do not.
            let fields: Vec<&str> = line.rsplitn(4, ',').collect();
            let (digest, bytes, message) = (fields[0], fields[1], message(fields[2]));
            assert_eq!(message.len().to_string(), bytes, "{line}");
            assert_eq!(sha256_hex(&message), digest, "{line}");
            seen += 1;
        }
        assert_eq!(seen, 17);
    }

    #[test]
    fn sums_are_sorted_and_escaped() {
        let digest = sha256_hex(b"");
        let map: BTreeMap<String, String> =
            ["upload/b.zip", "contents/a.pdf", "odd\\name"].map(|p| (p.to_owned(), digest.clone())).into();
        let text = sums(&map);
        assert_eq!(text, format!("{digest}  contents/a.pdf\n\\{digest}  odd\\\\name\n{digest}  upload/b.zip\n"),);
    }

    #[test]
    fn sha256sum_agrees() {
        let folder = tempfile::tempdir().unwrap();
        let files: Vec<Artifact> =
            [("one.txt", &b"first"[..]), ("two words.bin", &[0, 255, 10]), ("back\\slash", b"x")]
                .map(|(path, bytes)| Artifact {
                    path: path.into(),
                    kind: crate::model::Kind::Listing,
                    bytes: bytes.into(),
                })
                .into();
        for f in &files {
            std::fs::write(folder.path().join(&f.path), &f.bytes).unwrap();
        }
        std::fs::write(folder.path().join("SHA256SUMS"), sums(&digests(&files))).unwrap();
        // coreutils is the judge; where it is not installed there is none.
        let mut run = std::process::Command::new("sha256sum");
        let Ok(run) = run.args(["-c", "--strict", "SHA256SUMS"]).current_dir(folder.path()).output() else { return };
        assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    }
}
