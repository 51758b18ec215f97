//! Bytes back to facts, read by other libraries than the ones that write.
//!
//! Whatever the pipeline made (or anybody else did) is opened here as a stranger would open it. The readers share
//! no code with the writers, so that a slip in one is not hidden by the same slip in the other. A file is known
//! by what it contains, not by what it is called, and no input, however broken, may end the program: what cannot
//! be read becomes [`Facts::Unreadable`] with the reason.

mod bytes;
pub mod pdf;
pub mod png;
pub mod text;
pub mod zip;

use crate::model::artifact::Kind;
use crate::model::facts::{Facts, Inspected};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// What lies in these bytes. The name only helps where the bytes alone don't tell.
pub fn read(name: &str, bytes: &[u8]) -> Facts {
    let reader: fn(&[u8]) -> Facts = if starts_pdf(bytes) {
        pdf::read
    } else if bytes.starts_with(&png::SIGNATURE) {
        png::read
    } else if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06") {
        |bytes| zip::read(std::io::Cursor::new(bytes))
    } else {
        return by_name(name, bytes);
    };
    guard(|| reader(bytes))
}

/// What lies in these bytes, with the file's place, size and digest.
pub fn inspect(path: &str, kind: Option<Kind>, bytes: &[u8]) -> Inspected {
    let facts = read(path, bytes);
    Inspected { path: path.to_owned(), kind, size: bytes.len() as u64, sha256: bytes::sha256(bytes), facts }
}

/// Runs a reader of foreign bytes. Should one of the libraries give up with a panic, that is a refusal of the file and
/// no end of the program.
pub(crate) fn guard(read: impl FnOnce() -> Facts) -> Facts {
    catch_unwind(AssertUnwindSafe(read))
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
    fn names_do_not_hide_what_is_inside() {
        assert!(matches!(read("a.pdf", b"no pdf at all"), Facts::Unreadable(_)));
        assert!(matches!(read("a.zip", b""), Facts::Unreadable(_)));
        assert!(matches!(read("a.txt", "Gr\u{fc}n\n".as_bytes()), Facts::Text(_)));
        assert!(matches!(read("a.bin", &[0, 159, 146, 150]), Facts::Unreadable(_)));
    }
}
