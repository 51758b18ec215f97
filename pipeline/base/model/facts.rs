//! Facts: what a reader found in the bytes of a file. Nothing here comes from the plan.

use super::artifact::Kind;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::sync::Arc;

mod burden;
mod pdf;

pub use burden::Burden;
pub use pdf::*;

/// A file with what was read from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Inspected {
    /// Path inside the bundle (`contents/…`), or as given on the command line.
    pub path: String,
    /// What it is, where somebody planned it.
    pub kind: Option<Kind>,
    /// Size in bytes.
    pub size: u64,
    /// SHA-256 in hex.
    pub sha256: String,
    /// What was read.
    pub facts: Facts,
}

impl Inspected {
    /// The last part of the path.
    pub fn name(&self) -> &str {
        self.path.rsplit('/').next().unwrap_or(&self.path)
    }
}

/// What was read from one file.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub enum Facts {
    /// A PDF file.
    Pdf(Arc<PdfFacts>),
    /// A PNG file.
    Png(PngFacts),
    /// A ZIP archive.
    Zip(ZipFacts),
    /// A plain text.
    Text(TextFacts),
    /// A picture that is shown and never edited: JPEG, GIF or MP4.
    Picture(PictureFacts),
    /// Bytes that no reader understood, and why.
    Unreadable(String),
}

/// A line of Markdown as it is read: the backslashes in front of marks go.
pub fn without_escapes(text: &str) -> String {
    let mut out = String::new();
    let mut chars = text.trim().chars().peekable();
    while let Some(c) = chars.next() {
        if c != '\\' || !chars.peek().is_some_and(char::is_ascii_punctuation) {
            out.push(c);
        }
    }
    out
}

/// A JPEG, GIF or MP4 file as read.
#[derive(Clone, Debug, Default, PartialEq, Serialize, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct PictureFacts {
    /// `JPEG`, `GIF` or `MP4`.
    pub format: String,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// How many frames it has; 1 for one that does not move.
    pub frames: usize,
    /// How long a film takes in milliseconds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub milliseconds: Option<u64>,
}

/// A PNG file as read.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct PngFacts {
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// Bits a channel.
    pub bit_depth: u8,
    /// Colour type as in the PNG specification: 0 grey, 2 RGB, 3 palette, 4 grey with alpha, 6 RGB with alpha.
    pub colour_type: u8,
    /// Whether it is interlaced.
    pub interlaced: bool,
    /// Pixels per metre from `pHYs`, if given in metres.
    pub pixels_per_metre: Option<(u32, u32)>,
    /// Whether it has an `sRGB` chunk.
    pub srgb: bool,
    /// Whether it has a colour profile (`iCCP`).
    pub profile: bool,
    /// Whether it is animated (`acTL`).
    pub animated: bool,
    /// Whether every corner pixel is fully transparent.
    pub corners_clear: bool,
    /// Whether any pixel is not opaque.
    pub has_transparency: bool,
    /// Box of the pixels with alpha above zero: x, y, width, height. `None` when empty.
    pub ink_box: Option<[u32; 4]>,
    /// Fully transparent pixels whose colour is not zero.
    pub dirty_clear_pixels: u64,
    /// Half-transparent edge pixels whose colour leans towards white or black against the ink beside them.
    pub fringe_pixels: u64,
    /// Half-transparent edge pixels looked at.
    pub edge_pixels: u64,
    /// Tiny islands of ink far smaller than the rest: how many.
    pub specks: u64,
    /// One pixel of the first speck.
    pub first_speck: Option<(u32, u32)>,
    /// SHA-256 of size and pixels, in hex; equal for two files that show the same.
    pub pixels: String,
    /// Bytes after its end, which belong to nothing.
    #[serde(default, skip_serializing_if = "is_none")]
    pub stray_bytes: u64,
    /// What is broken, in words; empty when nothing is.
    pub damage: Vec<String>,
}

/// Whether a count is nothing that would be told of.
fn is_none(count: &u64) -> bool {
    *count == 0
}

impl PngFacts {
    /// Resolution in dots per inch, from `pHYs` (1 inch = 0.0254 m).
    pub fn dpi(&self) -> Option<f64> {
        self.pixels_per_metre.map(|(x, _)| f64::from(x) * 0.0254)
    }
}

/// A ZIP archive as read.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct ZipFacts {
    /// Its entries in the order of the central directory.
    pub entries: Vec<EntryFacts>,
    /// Whether it uses ZIP64 structures.
    pub zip64: bool,
    /// Bytes before the first entry or after the end record that belong to nothing.
    pub stray_bytes: u64,
    /// How many entries lie within the bytes of others, so that the same bytes are unpacked twice.
    pub shared: usize,
    /// What is broken, in words; empty when nothing is.
    pub damage: Vec<String>,
}

/// An entry of an archive as read.
#[derive(Clone, Debug, Default, PartialEq, Serialize, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct EntryFacts {
    /// Name as stored.
    pub name: String,
    /// Size unpacked, in bytes.
    pub size: u64,
    /// Size as stored, in bytes.
    pub stored: u64,
    /// Compression method number.
    pub method: u16,
    /// Whether its CRC-32 is right.
    pub sound: bool,
    /// SHA-256 of the unpacked bytes, in hex; empty where it was not unpacked.
    pub sha256: String,
    /// General purpose flags of the central header.
    #[serde(skip)]
    pub flags: u16,
    /// Whether the name's bytes are UTF-8.
    #[serde(skip)]
    pub utf8: bool,
    /// Whether it is a folder.
    #[serde(skip)]
    pub folder: bool,
    /// Whether it is a symbolic link (Unix mode in the external attributes).
    #[serde(skip)]
    pub symlink: bool,
    /// Ids of the extra fields of the central header.
    #[serde(skip)]
    pub extra: Vec<u16>,
    /// Date and time as stored, `2027-01-15 10:20:30`.
    #[serde(skip)]
    pub time: String,
    /// Where its local header begins, in bytes from the start of the archive.
    #[serde(skip)]
    pub at: u64,
    /// The CRC-32 that the central header states.
    #[serde(skip)]
    pub crc: u32,
    /// Where the local header contradicts the central one, in words; empty when it does not.
    #[serde(skip)]
    pub contradicts: String,
    /// Why it was not unpacked, in words; empty when it was.
    #[serde(skip)]
    pub skipped: String,
}

/// A text as read.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct TextFacts {
    /// Lines.
    pub lines: usize,
    /// Characters.
    pub characters: usize,
    /// Characters of the longest line.
    pub longest: usize,
    /// How its characters are written, where that is not UTF-8: `UTF-16`, or an old code page.
    pub code: Option<Cow<'static, str>>,
    /// Whether it begins with a byte order mark.
    pub bom: bool,
    /// Whether any line ends with CR.
    pub carriage_returns: bool,
    /// The text itself, up to a mebibyte of it.
    pub text: String,
}
