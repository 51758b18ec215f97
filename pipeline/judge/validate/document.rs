//! The PDF as a whole: can it be opened by everybody, and does it say what it is.

use super::catalogue::{Findings, found};
use base::model::Where;
use base::model::facts::{Inspected, PdfFacts};

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
    if let (Some(catalog), Some(xmp)) = (&facts.language, &facts.language_xmp)
        && !catalog.eq_ignore_ascii_case(xmp)
    {
        found!(
            findings,
            "languages-disagree",
            at(),
            "the language is \u{201c}{catalog}\u{201d} for the document and \u{201c}{xmp}\u{201d} in the XMP metadata"
        );
    }
    making(facts, &at(), findings);
    for (place, kind) in &facts.actions {
        found!(findings, "document-runs-something", at(), "the document holds {kind} {place}");
    }
    if is_newer(&facts.version) {
        found!(findings, "version-too-new", at(), "the file is written to PDF {}", facts.version);
    }
    waste(file, facts, findings);
}

/// Times that differ by less than this many seconds are one: writers look at the clock twice.
const MOMENT: i64 = 60;
/// Where one of two times has no zone they differ by whole quarters of an hour, and by no more than the earth has zones.
const QUARTER: i64 = 900;
const ZONES: i64 = 26 * 3600;

/// What the two places say of the making.
fn making(facts: &PdfFacts, at: &Where, findings: &mut Findings) {
    let (info, Some(xmp)) = (&facts.info, &facts.xmp) else {
        found!(findings, "metadata-missing", at.clone(), "the document has no XMP metadata");
        return;
    };
    let texts = [
        ("author", &info.author, &xmp.author),
        ("program", &info.creator, &xmp.creator),
        ("maker of the PDF", &info.producer, &xmp.producer),
    ];
    let mut told: Vec<String> = Vec::new();
    for (what, info, xmp) in texts {
        if let (Some(info), Some(xmp)) = (info, xmp)
            && info.trim() != xmp.trim()
        {
            told.push(format!("the {what} is \u{201c}{info}\u{201d} and \u{201c}{xmp}\u{201d}"));
        }
    }
    let times = [("making", info.created, xmp.created), ("last change", info.changed, xmp.changed)];
    for (what, info, xmp) in times {
        let (Some(info), Some(xmp)) = (info, xmp) else { continue };
        let apart = (info - xmp).abs();
        let zone = apart <= ZONES && (apart + MOMENT) % QUARTER <= 2 * MOMENT;
        if apart > MOMENT && !zone {
            told.push(format!("the times of its {what} lie {apart} seconds apart"));
        }
    }
    if !told.is_empty() {
        let told = told.join("; ");
        found!(
            findings,
            "metadata-disagree",
            at.clone(),
            "the document information and the XMP metadata contradict each other: {told}"
        );
    }
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
        let mb = |n: u64| base::model::units::trim_number(n as f64 / 1e6, 1);
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
