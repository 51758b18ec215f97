//! Words and codes of the page.

use crate::model::difference::{Change, Verdict};

/// The rule by which the version number follows from what changed.
pub fn rule(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Same => "Both versions are the same, byte for byte.",
        Verdict::Patch => "Something was mended. Nothing was added, and nothing that older copies have is lost.",
        Verdict::Minor => "Something was added or moved. Nothing that older copies have is lost.",
        Verdict::Major => "Something that older copies have is gone or leads elsewhere.",
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
