//! A PDF file to be made: its pages, what leads where, outline and page labels.

use super::drawing::Drawing;
use super::geometry::{Rect, Size};
use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

/// A named spot that a link can lead to.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, borsh::BorshSerialize)]
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
    /// A section within a section: both counted from 1.
    Within(usize, usize),
    /// A template page, by its slug.
    Template(Arc<str>),
    /// A page of a finished file, counted from 1.
    Page(usize),
    /// A dated page, as its place is written: `day/2027-03-14`, `week/2027-W09/2`.
    Dated(Arc<str>),
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
            Place::Within(section, within) => write!(f, "section/{section}/section/{within}"),
            Place::Template(slug) => write!(f, "template/{slug}"),
            Place::Page(n) => write!(f, "page/{n}"),
            Place::Dated(place) => f.write_str(place),
        }
    }
}

/// Where a link leads.
#[derive(Clone, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Target {
    /// A place of the same file.
    Place(Place),
    /// An https address.
    Address(Arc<str>),
}

impl Target {
    /// Goes through the texts that it is written with.
    pub fn texts(&mut self, mut each: impl FnMut(&mut Arc<str>)) {
        match self {
            Target::Address(text) | Target::Place(Place::Template(text) | Place::Dated(text)) => each(text),
            Target::Place(_) => {}
        }
    }
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
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Link {
    /// Tap area, in points from the top left of the page.
    pub rect: Rect,
    /// Where it leads.
    pub target: Target,
    /// What a screen reader says of it.
    pub says: Arc<str>,
}

/// A page of a PDF.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize)]
pub struct Page {
    /// The place that begins here, if any.
    pub place: Option<Place>,
    /// What is drawn.
    pub drawing: Drawing,
    /// Tap areas.
    pub links: Vec<Link>,
}

/// An entry of the outline.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Entry {
    /// Its title.
    pub title: String,
    /// The page that it opens, from 0.
    pub page: usize,
    /// Entries below it.
    pub children: Vec<Entry>,
    /// Whether the entries below it are shown from the start.
    pub open: bool,
}

/// A run of page labels that begins at a page (ISO 32000-1, 12.4.2).
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct LabelRun {
    /// First page of the run, from 0.
    pub page: usize,
    /// What stands before the number.
    pub prefix: String,
    /// How the number is written.
    pub style: LabelStyle,
}

/// How a page label's number is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub enum LabelStyle {
    /// 1, 2, 3.
    Decimal,
    /// i, ii, iii.
    Roman,
    /// No number, only the prefix.
    None,
}

/// A PDF file to be made.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
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
    /// Whether its language is written from right to left, which tells readers where the first page of a spread lies.
    pub right_to_left: bool,
}
