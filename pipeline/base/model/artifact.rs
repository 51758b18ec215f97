//! What a stage made: a file that does not lie on the disk yet.

use super::blob::Blob;
use serde::{Deserialize, Serialize};

/// What a file of the bundle is.
#[derive(
    Clone,
    Copy,
    Debug,
    PartialEq,
    Eq,
    Hash,
    PartialOrd,
    Ord,
    Serialize,
    Deserialize,
    borsh::BorshSerialize,
    borsh::BorshDeserialize,
)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// The hyperlinked notebook.
    Notebook,
    /// The alternate covers.
    Covers,
    /// One sticker.
    Sticker,
    /// A page of stickers.
    Sheet,
    /// The how-to guide.
    Guide,
    /// The licence terms.
    Licence,
    /// The text to read first.
    StartHere,
    /// The card with a download link.
    DeliveryCard,
    /// A file in an upload slot.
    Upload,
    /// A text of the listing.
    Listing,
    /// A picture of the listing.
    Picture,
}

/// A finished file: where it goes in the bundle, what it is, its bytes.
#[derive(Clone, PartialEq, borsh::BorshSerialize)]
pub struct Artifact {
    /// Path inside the bundle, with `/` between folders: `contents/stickers/01-note.png`.
    pub path: String,
    /// What it is.
    pub kind: Kind,
    /// The bytes.
    pub bytes: Blob,
}

impl Artifact {
    /// The last part of the path.
    pub fn name(&self) -> &str {
        self.path.rsplit('/').next().unwrap_or(&self.path)
    }
}

impl std::fmt::Debug for Artifact {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Artifact({} {:?} {} bytes)", self.path, self.kind, self.bytes.len())
    }
}
