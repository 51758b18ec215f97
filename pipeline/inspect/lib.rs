//! Bytes back to facts: PDFs and stickers read by other libraries than the ones that write them, archives by their headers
//! byte by byte.
//!
//! Whatever the pipeline made (or anybody else did) is opened here as a stranger would open it. The readers share
//! no code of ours with the writers, so that a slip in one is not hidden by the same slip in the other; which libraries serve
//! both sides all the same, DEVELOPERS.md says. A file is known
//! by what it contains, not by what it is called, and no input, however broken, may end the program: what cannot
//! be read becomes [`Facts::Unreadable`] with the reason.

mod bytes;
mod film;
pub mod pdf;
pub mod picture;
pub mod png;
pub mod text;
pub mod zip;

use base::model::Blob;
use base::model::artifact::Kind;
use base::model::facts::{Facts, Inspected};
use base::model::panics::caught;
use pdf::fingerprint::PageFingerprint;
use sha2::{Digest, Sha256};
use std::io::{Read, Seek, SeekFrom};
use std::sync::Arc;

/// What lies in these bytes. The name only helps where the bytes alone don't tell.
pub fn read(name: &str, bytes: &Blob) -> Facts {
    // Signatures at the very beginning come first: an archive may hold a stored PDF within its first kilobyte.
    let reader: fn(&Blob) -> Facts = if bytes.starts_with(&png::SIGNATURE) {
        |bytes| png::read(bytes)
    } else if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06") {
        |bytes| zip::read(std::io::Cursor::new(&**bytes))
    } else if starts_pdf(bytes) {
        pdf::read
    } else if picture::knows(bytes) {
        |bytes| picture::read(bytes)
    } else if film::knows(bytes) {
        |bytes| film::read(bytes)
    } else {
        return by_name(name, bytes);
    };
    read_guarded(|| reader(bytes))
}

/// Somebody who reads files. As it stands every file is read when it is asked for; who remembers what it read says so in
/// its own way.
pub trait Reader: Sync {
    /// What lies in a file.
    fn facts(&self, path: &str, bytes: &Blob) -> Facts {
        read(path, bytes)
    }

    /// What each page of a PDF draws; nothing for a file that cannot be opened.
    fn fingerprints(&self, bytes: &Blob) -> Arc<Vec<PageFingerprint>> {
        Arc::new(pdf::drawing::fingerprints(bytes))
    }
}

/// Reads every file anew.
pub struct Uncached;

impl Reader for Uncached {}

/// What lies in these bytes, with the file's place, size and digest.
pub fn inspect(path: &str, kind: Option<Kind>, bytes: &Blob) -> Inspected {
    let facts = read(path, bytes);
    Inspected { path: path.to_owned(), kind, size: bytes.len() as u64, sha256: bytes::sha256(bytes), facts }
}

/// What lies in an archive that is too large to hold in memory, and in its entries, as [`inspect_with_entries`] tells it.
///
/// # Errors
/// When the source cannot be read.
pub fn inspect_source(
    path: &str,
    kind: Option<Kind>,
    mut source: impl Read + Seek,
    entries: bool,
) -> std::io::Result<Vec<Inspected>> {
    source.seek(SeekFrom::Start(0))?;
    let mut hasher = Sha256::new();
    let mut buffer = vec![0; 64 << 10];
    let mut size = 0;
    loop {
        let n = source.read(&mut buffer)?;
        if n == 0 {
            break;
        }
        size += n as u64;
        hasher.update(&buffer[..n]);
    }
    let facts = read_guarded(|| zip::read(&mut source));
    let whole = Inspected { path: path.to_owned(), kind, size, sha256: bytes::hex(&hasher.finalize()), facts };
    Ok(if entries { with_entries(whole, source) } else { vec![whole] })
}

/// An archive of which nothing is known beforehand, with the files that lie in it and that a reader here understands,
/// each at its path below the archive's own: `bundle.zip/covers.pdf`. For any other file it is that file alone.
pub fn inspect_with_entries(path: &str, kind: Option<Kind>, bytes: &Blob) -> Vec<Inspected> {
    with_entries(inspect(path, kind, bytes), std::io::Cursor::new(&**bytes))
}

/// A file, and after it the entries that it has, if it is an archive.
fn with_entries(whole: Inspected, source: impl Read + Seek) -> Vec<Inspected> {
    let mut files = Vec::new();
    if let Facts::Zip(facts) = &whole.facts {
        zip::show(source, facts, &mut |name, inside| {
            files.push(inspect(&format!("{}/{name}", whole.path), None, &inside.into()));
        });
    }
    files.insert(0, whole);
    files
}

/// Runs a reader of foreign bytes. Should one of the libraries give up with a panic, that is a refusal of the file and
/// no end of the program.
pub fn read_guarded(read: impl FnOnce() -> Facts) -> Facts {
    caught(read)
        .unwrap_or_else(|_| Facts::Unreadable("the reader gave up on these bytes; the file is badly broken".to_owned()))
}

/// A PDF may have up to 1,024 bytes of something else in front (common practice of readers, and Annex H of ISO 32000-1).
fn starts_pdf(bytes: &[u8]) -> bool {
    bytes::find(&bytes[..bytes.len().min(1024)], b"%PDF-").is_some()
}

/// Files whose beginning is no known signature: texts, and damaged files that only their name gives away.
fn by_name(name: &str, bytes: &[u8]) -> Facts {
    let ending = name.rsplit_once('.').map(|(_, e)| e.to_ascii_lowercase()).unwrap_or_default();
    let missing = match ending.as_str() {
        "pdf" => "it does not begin with %PDF-, so it is no PDF",
        "png" => "it does not begin with the PNG signature, so it is no PNG",
        "zip" => "it does not begin with a ZIP header, so it is no ZIP archive",
        "txt" | "md" | "csv" => return text::read_named(bytes),
        _ => return text::read(bytes),
    };
    if bytes.is_empty() {
        return Facts::Unreadable("it is empty".to_owned());
    }
    Facts::Unreadable(missing.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_archive_that_begins_with_a_stored_pdf_is_an_archive() {
        let mut bytes = b"PK\x03\x04".to_vec();
        bytes.extend(b"\0".repeat(26));
        bytes.extend(b"a.pdf%PDF-1.7 and so on");
        let facts = super::read("a.zip", &bytes.into());
        assert!(!matches!(facts, super::Facts::Pdf(_)), "{facts:?}");
    }

    #[test]
    fn names_do_not_hide_what_is_inside() {
        assert!(matches!(read("a.pdf", &b"no pdf at all".to_vec().into()), Facts::Unreadable(_)));
        assert!(matches!(read("a.zip", &Blob::default()), Facts::Unreadable(_)));
        assert!(matches!(read("a.txt", &"Gr\u{fc}n\n".as_bytes().to_vec().into()), Facts::Text(_)));
        assert!(matches!(read("a.bin", &vec![0, 159, 146, 150].into()), Facts::Unreadable(_)));
    }
}
