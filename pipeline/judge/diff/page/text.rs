//! Words and codes of the page.

use base::model::change::{Change, Verdict};

use base::model::difference::Comparison;

/// Why the version number must become what it must.
pub fn why(found: &Comparison) -> String {
    let words = match found.verdict {
        Verdict::Same => return "Both versions are the same, byte for byte.".to_owned(),
        _ if found.rule.stated => "By the rule that the product states.",
        Verdict::Patch => "Something was mended. Nothing was added, and nothing that older copies have is lost.",
        Verdict::Minor => "Something was added or moved. Nothing that older copies have is lost.",
        Verdict::Major => "Something that older copies have is gone or leads elsewhere.",
    };
    match found.decisive.as_slice() {
        [] => words.to_owned(),
        some => format!("{words} Because of: {}.", some.join(", ")),
    }
}

/// Whether a change adds, takes away, alters, or is not seen at all.
pub fn tone(kind: Change) -> &'static str {
    match kind {
        Change::FileAdded | Change::PageInserted | Change::LinkAdded => "come",
        Change::FileRemoved | Change::PageRemoved | Change::LinkRemoved | Change::LinkRetargeted => "gone",
        Change::StoredDifferently | Change::MetadataChanged | Change::FileRenamed => "quiet",
        _ => "other",
    }
}
