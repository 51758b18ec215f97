//! Font files.

use super::blob::Blob;
use super::look::Figures;

/// A font file.
#[derive(Clone, PartialEq, borsh::BorshSerialize)]
pub struct FontFile {
    /// Where it comes from: a path in the product's folder, or the name of a font that the tool brings along.
    pub from: String,
    /// Its bytes.
    pub bytes: Blob,
    /// Whether it comes with the tool.
    pub built_in: bool,
    /// Which of its figures are asked for among words; `None` takes those that it has by itself.
    pub figures: Option<Figures>,
}

impl std::fmt::Debug for FontFile {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "FontFile({} {} bytes)", self.from, self.bytes.len())
    }
}
