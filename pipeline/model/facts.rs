//! Facts: what a reader found in the bytes of a file. Nothing here comes from the plan.

use super::geometry::{Rect, Size};
use serde::Serialize;

/// What was read from one file.
#[derive(Clone, Debug, PartialEq)]
pub enum Facts {
    /// A PDF file.
    Pdf(Box<PdfFacts>),
    /// A PNG file.
    Png(PngFacts),
    /// A ZIP archive.
    Zip(ZipFacts),
    /// A plain text.
    Text(TextFacts),
    /// Bytes that no reader understood, and why.
    Unreadable(String),
}

/// A PDF file as read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PdfFacts {
    /// Header or catalog version, as `1.7`.
    pub version: String,
    /// Document title (XMP or Info).
    pub title: Option<String>,
    /// Natural language of the catalog.
    pub language: Option<String>,
    /// Pages in order.
    pub pages: Vec<PageFacts>,
    /// Outline entries, flattened in reading order.
    pub outline: Vec<OutlineFacts>,
    /// Every font resource once.
    pub fonts: Vec<FontFacts>,
    /// Whether the file is encrypted.
    pub encrypted: bool,
    /// Whether the cross-reference data had to be rebuilt.
    pub repaired: bool,
}

/// A page as read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PageFacts {
    /// Page box as shown (CropBox within MediaBox), in points, before rotation.
    pub size: Size,
    /// MediaBox as x0, y0, x1, y1 in PDF space (origin bottom left).
    pub media_box: [f64; 4],
    /// CropBox likewise (equal to the MediaBox where absent).
    pub crop_box: [f64; 4],
    /// Rotation in degrees.
    pub rotate: i64,
    /// User unit, 1 by default.
    pub user_unit: f64,
    /// Label from the page label tree.
    pub label: Option<String>,
    /// Link annotations in file order.
    pub links: Vec<LinkFacts>,
}

/// A link annotation as read.
#[derive(Clone, Debug, PartialEq)]
pub struct LinkFacts {
    /// Tap area in page space: points from the top left of the crop box, y down.
    pub rect: Rect,
    /// Where it leads.
    pub leads: Leads,
    /// Its `Contents` text.
    pub says: Option<String>,
    /// Flags (`F`), 0 when absent.
    pub flags: i64,
    /// Border width, 1 when absent (ISO 32000-1, 12.5.2).
    pub border: f64,
}

/// Where a link or an outline entry leads.
#[derive(Clone, Debug, PartialEq)]
pub enum Leads {
    /// To a page of the same file, by index from 0, with the destination's left and top in PDF space.
    Page {
        /// Page index from 0.
        page: usize,
        /// Left coordinate, if the destination has one.
        left: Option<f64>,
        /// Top coordinate, if the destination has one.
        top: Option<f64>,
    },
    /// To an address.
    Uri(String),
    /// To nothing that exists, and why.
    Nowhere(String),
    /// Another kind of action: its name.
    Action(String),
}

/// An outline entry as read.
#[derive(Clone, Debug, PartialEq)]
pub struct OutlineFacts {
    /// Depth, 0 for the top level.
    pub depth: usize,
    /// Its title.
    pub title: String,
    /// Where it leads.
    pub leads: Leads,
}

/// A font as read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FontFacts {
    /// BaseFont, subset tag included.
    pub name: String,
    /// Font subtype (`Type0`, `TrueType` …).
    pub subtype: String,
    /// Whether a font program is embedded.
    pub embedded: bool,
    /// Whether the name carries a subset tag.
    pub subset: bool,
    /// Whether it has a ToUnicode map.
    pub to_unicode: bool,
}

/// A PNG file as read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PngFacts {
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// Bits a channel.
    pub bit_depth: u8,
    /// Colour type as in the PNG specification: 0 grey, 2 RGB, 3 palette, 4 grey with alpha, 6 RGB with alpha.
    pub colour_type: u8,
    /// Pixels per metre from `pHYs`, if given in metres.
    pub pixels_per_metre: Option<(u32, u32)>,
    /// Whether it has an `sRGB` chunk.
    pub srgb: bool,
    /// Whether every corner pixel is fully transparent.
    pub corners_clear: bool,
    /// Whether any pixel is not opaque.
    pub has_transparency: bool,
    /// Box of the pixels with alpha above zero: x, y, width, height. `None` when empty.
    pub ink_box: Option<[u32; 4]>,
    /// Fully transparent pixels whose colour is not zero.
    pub dirty_clear_pixels: u64,
}

impl PngFacts {
    /// Resolution in dots per inch, from `pHYs` (1 inch = 0.0254 m).
    pub fn dpi(&self) -> Option<f64> {
        self.pixels_per_metre.map(|(x, _)| f64::from(x) * 0.0254)
    }
}

/// A ZIP archive as read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ZipFacts {
    /// Its entries in the order of the central directory.
    pub entries: Vec<EntryFacts>,
}

/// An entry of an archive as read.
#[derive(Clone, Debug, PartialEq, Serialize)]
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
    /// SHA-256 of the unpacked bytes, in hex.
    pub sha256: String,
}

/// A text as read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TextFacts {
    /// Lines.
    pub lines: usize,
    /// Characters.
    pub characters: usize,
}

/// A file of the bundle, read back.
#[derive(Clone, Debug, PartialEq)]
pub struct Inspected {
    /// Path inside the bundle.
    pub path: String,
    /// What the plan says that it is; `None` for a file from outside.
    pub kind: Option<super::artifact::Kind>,
    /// Size in bytes.
    pub size: u64,
    /// What was read.
    pub facts: Facts,
}
