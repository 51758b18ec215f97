//! Stickers of the product that stand on pages of its notebook.

use super::art::Measure;
use super::fault::SourceSpan;
use super::units::Mm;

/// A sticker on a page of the notebook.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct PlacedSticker {
    /// Its name, as in the name of its file.
    pub sticker: String,
    /// Its middle, from the left and the top of the page.
    pub at: [Measure; 2],
    /// How wide it is without its clear rim; `None` for its true size.
    pub width: Option<Mm>,
    /// How far it is turned, in degrees clockwise.
    pub turn: f64,
    /// Where the manifest names it, for messages. No page depends on it.
    #[borsh(skip)]
    pub named: Option<SourceSpan>,
    /// Where the manifest says where it lies, likewise.
    #[borsh(skip)]
    pub placed: Option<SourceSpan>,
}
