//! The PDF as a whole: can it be opened by everybody, and does it say what it is.

use super::catalogue::{Findings, found};
use crate::model::Where;
use crate::model::facts::{Inspected, PdfFacts};

/// Checks the document.
pub fn check(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    let at = || Where::file(&file.path);
    if facts.encrypted {
        found!(findings, "pdf-encrypted", at(), "the file is encrypted");
        if facts.pages.is_empty() {
            // It did not open, so there is nothing more to say.
            return;
        }
    }
    if facts.repaired {
        found!(findings, "pdf-needs-repair", at(), "readers have to repair the file: {}", facts.damage.join("; "));
    }
    match (&facts.title_info, &facts.title_xmp) {
        (None, None) => found!(findings, "title-missing", at(), "the document has no title"),
        (Some(info), Some(xmp)) if info != xmp => {
            found!(
                findings,
                "titles-disagree",
                at(),
                "the title is \u{201c}{info}\u{201d} in the document information and \u{201c}{xmp}\u{201d} in the XMP metadata"
            );
        }
        _ => {}
    }
    if facts.language.is_none() {
        found!(findings, "language-missing", at(), "the document does not say its language");
    }
    for (place, kind) in &facts.actions {
        found!(findings, "document-runs-something", at(), "the document holds {kind} {place}");
    }
    if is_newer(&facts.version) {
        found!(findings, "version-too-new", at(), "the file is written to PDF {}", facts.version);
    }
    waste(file, facts, findings);
}

/// Waste is worth a word when it is at least this many bytes, and this share of the file.
const WASTE: (u64, f64) = (10_000, 0.02);
/// Larger files take long to open on a tablet and to load down (common practice, no source).
const COMFORTABLE: u64 = 100_000_000;

fn waste(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    let at = || Where::file(&file.path);
    let worth = |bytes: u64| bytes >= WASTE.0 && bytes as f64 >= WASTE.1 * file.size as f64;
    let (copies, bytes) = facts.duplicate_streams;
    if worth(bytes) {
        found!(findings, "streams-stored-twice", at(), "{copies} copies of streams take {bytes} bytes");
    }
    let (objects, bytes) = facts.unused_objects;
    if worth(bytes) {
        found!(findings, "objects-unused", at(), "{objects} objects that nothing refers to take {bytes} bytes");
    }
    if file.size > COMFORTABLE {
        let s = &facts.bytes;
        let mb = |n: u64| crate::model::units::trim_number(n as f64 / 1e6, 1);
        found!(
            findings,
            "file-too-heavy",
            at(),
            "the file has {} MB: {} MB of pictures, {} MB of fonts, {} MB of pages, {} MB of the rest",
            mb(file.size),
            mb(s.images),
            mb(s.fonts),
            mb(s.pages),
            mb(s.rest)
        );
    }
}

/// Whether a version is newer than 1.7, the last one that every reader app knows.
fn is_newer(version: &str) -> bool {
    version.parse::<f64>().is_ok_and(|v| v > 1.75)
}
