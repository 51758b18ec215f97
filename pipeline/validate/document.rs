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
}
