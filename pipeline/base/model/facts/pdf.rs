//! What a reader found in a PDF: pages, links, outline, fonts, pictures.

use super::Burden;
use crate::model::geometry::{Rect, Size};
use crate::model::units::Rgb;
use serde::Serialize;
use std::sync::Arc;

/// A PDF file as read.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct PdfFacts {
    /// Header or catalog version, as `1.7`.
    pub version: String,
    /// Document title: the XMP one, else the one of the document information.
    pub title: Option<String>,
    /// Title in the document information dictionary.
    pub title_info: Option<String>,
    /// Title in the XMP metadata (`dc:title`).
    pub title_xmp: Option<String>,
    /// Whether the window shows the title in place of the file name (`DisplayDocTitle`).
    pub shows_title: bool,
    /// Natural language of the catalog.
    pub language: Option<String>,
    /// Natural language in the XMP metadata (`dc:language`).
    pub language_xmp: Option<String>,
    /// What the document information says of its making.
    pub info: Making,
    /// What the XMP metadata say of it; `None` where there are no XMP metadata.
    pub xmp: Option<Making>,
    /// Pages in order.
    pub pages: Vec<PageFacts>,
    /// Number of pages that the page tree's root claims (`Count`).
    pub claimed_pages: Option<i64>,
    /// Outline entries, flattened in reading order.
    pub outline: Vec<OutlineFacts>,
    /// What is broken in the outline's chain: loops, links to nothing, wrong counts.
    pub outline_faults: Vec<String>,
    /// Every font resource once.
    pub fonts: Vec<FontFacts>,
    /// Every picture once.
    pub images: Vec<ImageFacts>,
    /// Actions of the document itself (open action, scripts, page events): where and what.
    pub actions: Vec<(String, String)>,
    /// Whether the file is encrypted.
    pub encrypted: bool,
    /// Whether the cross-reference data had to be rebuilt.
    pub repaired: bool,
    /// What was wrong with the file's skeleton, in words; empty when nothing was.
    pub damage: Vec<String>,
    /// How the bytes divide.
    pub bytes: ByteShares,
    /// Streams stored more than once: how many copies too many, and their bytes.
    pub duplicate_streams: (usize, u64),
    /// Objects that nothing refers to: how many, and how many bytes they take.
    pub unused_objects: (usize, u64),
}

/// Who made a document, with what, and when.
#[derive(Clone, Debug, Default, PartialEq, Eq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct Making {
    /// Its author.
    pub author: Option<String>,
    /// The program in which it was written.
    pub creator: Option<String>,
    /// The program or library that made the PDF.
    pub producer: Option<String>,
    /// When it was made, in seconds since 1970 (UTC; a time without a zone counts as UTC).
    pub created: Option<i64>,
    /// When it was changed, likewise.
    pub changed: Option<i64>,
}

/// How the bytes of a PDF divide, as stored.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct ByteShares {
    /// Font programs.
    pub fonts: u64,
    /// Pictures and their masks.
    pub images: u64,
    /// Page contents and forms.
    pub pages: u64,
    /// All the rest: dictionaries, links, cross-reference data.
    pub rest: u64,
}

/// A page as read.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct PageFacts {
    /// Page box as shown (CropBox within MediaBox), in points, before rotation.
    pub size: Size,
    /// MediaBox as x0, y0, x1, y1 in PDF space (origin bottom left).
    pub media_box: [f64; 4],
    /// CropBox likewise (equal to the MediaBox where absent).
    pub crop_box: [f64; 4],
    /// Boxes for printers (`TrimBox`, `BleedBox`, `ArtBox`) that reach outside the MediaBox or are no boxes: their names.
    pub stray_boxes: Vec<String>,
    /// Rotation in degrees.
    pub rotate: i64,
    /// User unit, 1 by default.
    pub user_unit: f64,
    /// Label from the page label tree.
    pub label: Option<String>,
    /// Index of the page that is this very object and comes before it, where a page stands in the file twice.
    pub again: Option<usize>,
    /// Link annotations in file order.
    pub links: Vec<LinkFacts>,
    /// Subtypes of the annotations that are no links, in file order.
    pub other_annotations: Vec<String>,
    /// What is drawn; `None` where it was not counted.
    pub drawn: Option<Drawn>,
    /// What it takes to draw it.
    pub burden: Burden,
    /// Texts that are shown, in file order, as far as they could be read.
    pub texts: Vec<TextShown>,
    /// Extent of all that is drawn, without grounds and without what lies under tap areas.
    pub content: Option<Rect>,
    /// Whether it uses a picture or instructions that are damaged, so that a part of it is not shown or shown wrong.
    pub gaps: bool,
    /// What is wrong with its drawing instructions, or with those of forms that it uses, in words.
    pub broken: Vec<String>,
    /// What is wrong with pictures that are written among its instructions, in words.
    pub broken_pictures: Vec<String>,
}

/// Which part of its space a page shows, how it is turned, and in which unit.
#[derive(Clone, Copy, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Frame {
    boxes: [[f64; 4]; 2],
    rotate: i64,
    user_unit: f64,
}

/// A text that a page shows.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct TextShown {
    /// From its first glyph to its last, and from its foot to the height of its capitals, in page space.
    pub area: Rect,
    /// What it says; empty where the font does not tell.
    pub text: Arc<str>,
    /// Whether its extent was reckoned with the widths of its font.
    pub exact: bool,
    /// Whether it runs level, from left to right.
    pub level: bool,
    /// Its colour and that of the ground beneath the whole of it, where both are known.
    pub colours: Option<(Rgb, Rgb)>,
}

impl PageFacts {
    /// Which part of its space it shows, how it is turned, and in which unit, to tell pages apart that draw the same.
    pub fn frame(&self) -> Frame {
        Frame { boxes: [self.media_box, self.crop_box], rotate: self.rotate, user_unit: self.user_unit }
    }

    /// Size as a reader sees the page, in points: turned, and in its own unit.
    pub fn shown(&self) -> Size {
        let unit = if self.user_unit > 0.0 { self.user_unit } else { 1.0 };
        let (w, h) = (self.size.w * unit, self.size.h * unit);
        if self.rotate.rem_euclid(180) == 90 { Size::new(h, w) } else { Size::new(w, h) }
    }
}

/// What a page's content draws, forms that it uses included.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct Drawn {
    /// Operators, each use of a form counted.
    pub operators: u64,
    /// Operators that leave a mark: fills, strokes, text, pictures, shadings.
    pub marks: u64,
    /// Pictures placed.
    pub images: u64,
    /// Of these, with a soft mask.
    pub masks: u64,
    /// Pixels of all pictures placed.
    pub pixels: u64,
    /// Text shown, in characters or glyph codes.
    pub glyphs: u64,
    /// Codes shown for which the font has no glyph (`.notdef`), where that could be told.
    pub missing_glyphs: u64,
    /// Operators that choose a colour in CMYK.
    pub cmyk: u64,
}

/// A link annotation as read.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct LinkFacts {
    /// Tap area in page space: points from the top left of the crop box, y down.
    pub rect: Rect,
    /// Whether its corners are stored in reverse order, or the rectangle is no rectangle.
    pub reversed: bool,
    /// Where it leads.
    pub leads: Leads,
    /// How the file says so.
    pub form: LinkForm,
    /// Whether it has a `Dest`.
    pub has_dest: bool,
    /// Whether it has an action (`A`).
    pub has_action: bool,
    /// Its `Contents` text.
    pub says: Option<Arc<str>>,
    /// Flags (`F`), 0 when absent.
    pub flags: i64,
    /// Border width, 1 when absent (ISO 32000-1, 12.5.2).
    pub border: f64,
    /// Zoom of an `XYZ` destination, where it is neither null nor 0.
    pub zoom: Option<f64>,
    /// Whether anything but the page's ground is drawn within the tap area; `None` where that could not be told.
    pub over_marks: Option<bool>,
    /// What is wrong with its `QuadPoints`, in words, if anything is.
    pub quads: Option<Box<str>>,
    /// The drawn shape that comes nearest to the tap area in place and size, if one of about its size lies there.
    pub tab: Option<Rect>,
    /// The picture or form that the tap area covers, if it is one.
    pub shows: Option<Box<Shown>>,
    /// The kind of view that the destination asks for.
    pub view: View,
}

/// The kind of view that a destination asks for (ISO 32000-1, table 151), as far as anybody asks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub enum View {
    /// A place at the top left of the window, with a zoom or without: `XYZ`.
    Spot,
    /// Any other, or none.
    #[default]
    Other,
}

/// A small picture under a tap area.
#[derive(Clone, Copy, Debug, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct Shown {
    /// Where it lies.
    pub area: Rect,
    /// Pixels in a point; `None` for a drawing.
    pub dots: Option<f64>,
    /// For a drawing, how much smaller it is than it was drawn.
    pub scale: Option<f64>,
}

/// How a link names its target.
#[derive(
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Serialize,
    borsh::BorshSerialize,
    borsh::BorshDeserialize,
)]
#[serde(rename_all = "kebab-case")]
pub enum LinkForm {
    /// An explicit destination in `Dest`.
    DestArray,
    /// A named destination in `Dest`.
    DestName,
    /// A `GoTo` action with an explicit destination.
    GoToArray,
    /// A `GoTo` action with a named destination.
    GoToName,
    /// A `URI` action.
    Uri,
    /// Another action.
    Action,
    /// Nothing at all.
    #[default]
    Nothing,
}

impl LinkForm {
    /// Whether it leads within the file.
    pub fn is_local(self) -> bool {
        matches!(self, LinkForm::DestArray | LinkForm::DestName | LinkForm::GoToArray | LinkForm::GoToName)
    }
}

/// Where a link or an outline entry leads.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
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

impl Default for Leads {
    fn default() -> Leads {
        Leads::Nowhere("nothing is said".to_owned())
    }
}

impl Leads {
    /// The page that it leads to, by index from 0.
    pub fn page(&self) -> Option<usize> {
        match self {
            Leads::Page { page, .. } => Some(*page),
            _ => None,
        }
    }
}

/// An outline entry as read.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct OutlineFacts {
    /// Depth, 0 for the top level.
    pub depth: usize,
    /// Its title.
    pub title: String,
    /// Where it leads.
    pub leads: Leads,
}

/// A font as read.
#[derive(Clone, Debug, Default, PartialEq, Serialize, borsh::BorshSerialize, borsh::BorshDeserialize)]
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
    /// Whether it has an encoding of its own, which says what its codes mean.
    #[serde(skip)]
    pub encoded: bool,
    /// Whether text is shown in it; true as well where that was not looked at.
    #[serde(skip)]
    pub used: bool,
    /// First page that names it, from 1.
    #[serde(skip)]
    pub first_page: usize,
    /// Bytes of the font program as stored.
    #[serde(skip)]
    pub bytes: u64,
    /// Embedding permissions (`fsType` of the OS/2 table), where the program still has them.
    #[serde(skip)]
    pub fs_type: Option<u16>,
    /// Codes shown for which it has no glyph.
    #[serde(skip)]
    pub missing_glyphs: u64,
}

/// A picture inside a PDF as read.
#[derive(Clone, Debug, Default, PartialEq, Serialize, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct ImageFacts {
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// Bits a component.
    pub bits: u8,
    /// Colour space by its family name (`DeviceRGB`, `ICCBased` …); empty for a mask.
    pub colour: String,
    /// Components a pixel, where they are known.
    pub components: Option<u8>,
    /// Whether it has a soft mask.
    pub soft_mask: bool,
    /// Compression filters, joined with a space.
    pub filters: String,
    /// Bytes as stored.
    pub bytes: u64,
    /// First page that uses it, from 1.
    pub first_page: usize,
    /// Smallest resolution at which it is placed, in dots per inch; `None` where placing was not looked at.
    pub dpi: Option<f64>,
    /// Greatest share of a page that it covers, 0 to 1, where placing was looked at.
    pub cover: Option<f64>,
    /// SHA-256 of the stored bytes, in hex.
    pub sha256: String,
    /// What is wrong with its data or with those of its mask, in words that follow "the picture".
    #[serde(skip)]
    pub fault: Option<String>,
}
