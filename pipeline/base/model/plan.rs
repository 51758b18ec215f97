//! The plan: everything that will be made, and every promise that it makes.

use super::artifact::Kind;
use super::drawing::Drawing;
use super::finding::Where;
use super::finished::FinishedPlan;
use super::geometry::{Rect, Size};
use super::product::Sticker;
use super::shot::Composed;
use std::collections::BTreeMap;
use std::fmt;

/// A named spot that a link can lead to.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Place {
    /// The notebook's cover.
    Cover,
    /// The welcome page.
    Welcome,
    /// The index.
    Index,
    /// The overview of all templates.
    Templates,
    /// A further page of the overview, counted from 2.
    MoreTemplates(usize),
    /// The divider of a section, counted from 1.
    Section(usize),
    /// A page that stands behind a section's divider: section and page, both counted from 1.
    Leaf(usize, usize),
    /// A template page, by its slug.
    Template(String),
    /// A page of a finished file, counted from 1.
    Page(usize),
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Cover => write!(f, "cover"),
            Place::Welcome => write!(f, "welcome"),
            Place::Index => write!(f, "index"),
            Place::Templates => write!(f, "templates"),
            Place::MoreTemplates(n) => write!(f, "templates/{n}"),
            Place::Section(n) => write!(f, "section/{n}"),
            Place::Leaf(section, page) => write!(f, "section/{section}/page/{page}"),
            Place::Template(slug) => write!(f, "template/{slug}"),
            Place::Page(n) => write!(f, "page/{n}"),
        }
    }
}

/// Where a link leads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    /// A place of the same file.
    Place(Place),
    /// An https address.
    Address(String),
}

impl fmt::Display for Target {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Target::Place(p) => p.fmt(f),
            Target::Address(a) => f.write_str(a),
        }
    }
}

/// A tap area and where it leads.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// Tap area, in points from the top left of the page.
    pub rect: Rect,
    /// Where it leads.
    pub target: Target,
    /// What a screen reader says of it.
    pub says: String,
}

/// A page of a PDF.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// The place that begins here, if any.
    pub place: Option<Place>,
    /// What is drawn.
    pub drawing: Drawing,
    /// Tap areas.
    pub links: Vec<Link>,
}

/// An entry of the outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its title.
    pub title: String,
    /// The page that it opens, from 0.
    pub page: usize,
    /// Entries below it.
    pub children: Vec<Entry>,
}

/// A run of page labels that begins at a page (ISO 32000-1, 12.4.2).
#[derive(Clone, Debug, PartialEq)]
pub struct LabelRun {
    /// First page of the run, from 0.
    pub page: usize,
    /// What stands before the number.
    pub prefix: String,
    /// How the number is written.
    pub style: LabelStyle,
}

/// How a page label's number is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LabelStyle {
    /// 1, 2, 3.
    Decimal,
    /// i, ii, iii.
    Roman,
    /// No number, only the prefix.
    None,
}

/// A PDF file to be made.
#[derive(Clone, Debug, PartialEq)]
pub struct PdfPlan {
    /// Document title.
    pub title: String,
    /// One page size for the whole file.
    pub size: Size,
    /// Drawings that are stored once and used by pages (`Shape::Form`).
    pub forms: Vec<Drawing>,
    /// Pages in order.
    pub pages: Vec<Page>,
    /// Outline.
    pub outline: Vec<Entry>,
    /// Page labels; empty for none.
    pub labels: Vec<LabelRun>,
    /// Where each place begins: page index from 0.
    pub places: BTreeMap<Place, usize>,
}

/// A PNG to be made of finished pictures.
#[derive(Clone, Debug, PartialEq)]
pub struct PicturePlan {
    /// Size in points.
    pub size: Size,
    /// Resolution.
    pub dpi: f64,
    /// What is drawn on the clear ground.
    pub drawing: Drawing,
}

/// One file to be made.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Path in the bundle: `contents/…`.
    pub path: String,
    /// What it is.
    pub kind: Kind,
    /// How it is made.
    pub make: Make,
}

/// How a file is made.
#[derive(Clone, Debug, PartialEq)]
pub enum Make {
    /// Drawn as a PDF.
    Pdf(Box<PdfPlan>),
    /// A finished PDF, with what is laid over it.
    Finished(Box<FinishedPlan>),
    /// Drawn, trimmed and written as a PNG.
    Sticker(Sticker),
    /// Pictures and words on a clear ground, written as one PNG.
    Picture(Box<PicturePlan>),
    /// A text, already final.
    Text(String),
}

impl Item {
    /// Pages of the file; 0 for what has none.
    pub fn pages(&self) -> usize {
        match &self.make {
            Make::Pdf(pdf) => pdf.pages.len(),
            Make::Finished(finished) => finished.over.pages.len(),
            Make::Sticker(_) | Make::Picture(_) | Make::Text(_) => 0,
        }
    }
}

/// Something that came up while the plan was made, and that she should know of.
#[derive(Clone, Debug, PartialEq)]
pub struct Remark {
    /// What it is about.
    pub about: About,
    /// Where it is.
    pub place: Where,
    /// What is so, with the numbers.
    pub message: String,
}

/// What a remark is about; each has its check in the catalogue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// Art of another shape than its room.
    ArtShape,
    /// A font that a text in a drawing asks for and the product does not have.
    ArtFont,
    /// A character that no font of the product has.
    ArtCharacter,
    /// A tap area of art that lies under one of the tool's own.
    ArtLink,
    /// Something in art that is left out of the page.
    ArtLeftOut,
    /// A text that is too long for its room.
    TextTooLong,
}

/// Everything that will be made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// The items in order.
    pub items: Vec<Item>,
    /// The listing pictures, once they are composed.
    pub pictures: Vec<Composed>,
    /// What came up while it was made.
    pub remarks: Vec<Remark>,
}
