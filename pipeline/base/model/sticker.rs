//! Stickers as the manifest describes them: sizes, edges, borders, and sheets of drawings to cut apart.

use super::drawing::Picture;
use super::fault::SourceSpan;
use super::units::{Mm, Rgb};
use super::weekday::Weekday;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The stickers.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct StickerSet {
    /// Resolution.
    pub dpi: f64,
    /// Clear padding round the art.
    pub padding: Mm,
    /// How hard to look for smaller files.
    pub optimise: Optimise,
    /// Which sheets are made.
    pub sheets: SheetForms,
    /// Names of the groups in order; a sticker in none of them has an empty one.
    pub groups: Vec<String>,
    /// Sheets of drawings that are still to be cut.
    pub cuts: Vec<CutSheet>,
    /// The stickers in order; those of a sheet stand among them once it is cut.
    pub items: Vec<Sticker>,
    /// Numbers that stickers have in the version that buyers have.
    pub numbers: StickerNumbers,
}

/// Numbers of stickers by their names, as they stand in the names of files: `07`.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize)]
pub struct StickerNumbers(pub BTreeMap<String, String>);

impl StickerSet {
    /// The number of every sticker, in their order. One that buyers have keeps its number; a new one takes the next after all
    /// that were ever given, so that no number comes to mean another sticker.
    pub fn numbered(&self) -> Vec<String> {
        let kept = &self.numbers.0;
        let usual = self.items.len().to_string().len().max(2);
        let digits = kept.values().map(String::len).max().unwrap_or(usual);
        let mut next = kept.values().filter_map(|n| n.parse::<usize>().ok()).max().unwrap_or(0);
        let number = |sticker: &Sticker| match kept.get(&sticker.name) {
            Some(number) => number.clone(),
            None => {
                next += 1;
                format!("{next:0digits$}")
            }
        };
        self.items.iter().map(number).collect()
    }
}

/// How hard to look for smaller files; the pixels are the same every time.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Optimise {
    /// For a first look.
    Quick,
    /// For every day.
    #[default]
    Normal,
    /// For the launch.
    Best,
}

/// Which sheets of stickers are made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub struct SheetForms {
    /// Pages of a PDF.
    pub pdf: bool,
    /// A PNG for each page.
    pub png: bool,
}

/// One sticker.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Sticker {
    /// Its name, as in the file name after the number.
    pub name: String,
    /// The group that it stands in; empty for none.
    pub group: String,
    /// Where its art comes from.
    pub source: StickerSource,
    /// How long the art is at placed size, along the side that `side` names.
    pub longest: Mm,
    /// Which side of the art `longest` is said of.
    pub side: Side,
    /// Colour for built-in drawings.
    pub colour: Rgb,
    /// Resolution.
    pub dpi: f64,
    /// Clear padding round the art.
    pub padding: Mm,
    /// What happens to edge pixels that carry the colour of an old background.
    pub edges: Edges,
    /// A die-cut border, if any. It is added to the art: `longest` is the art's own.
    pub border: Option<Border>,
    /// The day on which a week begins, for built-in drawings that have the days.
    pub first_day: Weekday,
    /// The language of the words that built-in drawings have.
    pub language: StickerLanguage,
}

/// The language of the words that built-in drawings have.
#[derive(Clone, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub struct StickerLanguage {
    /// The table of words, by the first part of its tag.
    pub table: String,
    /// A letter or two for each day, Monday first.
    pub days: [String; 7],
    /// Whether it is written from right to left: built-in drawings with words are mirrored then.
    pub right_to_left: bool,
}

impl Default for StickerLanguage {
    /// English.
    fn default() -> StickerLanguage {
        StickerLanguage {
            table: "en".to_owned(),
            days: ["M", "T", "W", "T", "F", "S", "S"].map(str::to_owned),
            right_to_left: false,
        }
    }
}

/// The side that a size is said of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Side {
    /// The longer of the two.
    #[default]
    Longest,
    /// Left to right.
    Width,
    /// Top to bottom.
    Height,
}

/// What happens to edge pixels of a picture that carry the colour of the background that it was cut out of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Edges {
    /// That colour is estimated and, where it explains the edge, taken off.
    #[default]
    Estimate,
    /// This colour is taken off.
    Matte(Rgb),
    /// They stay as they are.
    Keep,
}

/// A sheet with many drawings, and how it is cut into stickers.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct CutSheet {
    /// The file.
    pub path: String,
    /// Where its art comes from: an SVG or a picture.
    pub source: StickerSource,
    /// How large it is at placed size.
    pub size: SheetSize,
    /// Clear space up to which parts belong together.
    pub gap: Mm,
    /// Parts whose area is smaller than that of a square with this side are specks.
    pub speck: Mm,
    /// The way in which the drawings are counted.
    pub reading: Reading,
    /// Names in reading order; empty when they come from ids or are numbered.
    pub names: Vec<String>,
    /// How many drawings there must be, where the designer says so.
    pub count: Option<usize>,
    /// What every sticker of the sheet shares; its name is what numbers are added to.
    pub like: Sticker,
    /// Where the manifest names the file, the names and the count, for messages. No piece depends on it.
    #[borsh(skip)]
    pub spans: CutSpans,
}

/// Where the manifest speaks of a sheet of drawings.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize)]
pub struct CutSpans {
    /// Name of the manifest.
    pub manifest: String,
    /// The file.
    pub file: Option<SourceSpan>,
    /// The list of names.
    pub names: Option<SourceSpan>,
    /// The count.
    pub count: Option<SourceSpan>,
}

/// How large a sheet of drawings is at placed size.
#[derive(Clone, Copy, Debug, PartialEq, borsh::BorshSerialize)]
pub enum SheetSize {
    /// As large as its pixels make it at the asked resolution; an SVG as large as it says, 96 px to the inch.
    Own,
    /// The whole sheet is this wide.
    Width(Mm),
    /// The longest of its drawings is this long.
    Longest(Mm),
}

/// The way in which the drawings of a sheet are counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Reading {
    /// Along rows from the left.
    #[default]
    Rows,
    /// Along rows from the right.
    RowsFromRight,
    /// Down columns, the left one first.
    Columns,
    /// Down columns, the right one first.
    ColumnsFromRight,
}

/// A die-cut border round a sticker's art.
#[derive(Clone, Copy, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Border {
    /// Width of the band.
    pub width: Mm,
    /// Its colour.
    pub colour: Rgb,
    /// Whether holes in the art are closed with the colour.
    pub fill_holes: bool,
    /// Whether a soft shadow lies below.
    pub shadow: bool,
}

/// Where a sticker's art comes from.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub enum StickerSource {
    /// An SVG file: its path for messages and its text.
    Svg(String, Arc<String>),
    /// A PNG file.
    Png(Arc<Picture>),
    /// A drawing that comes with the tool, by its name in the sticker table, and its label if it takes one.
    BuiltIn(String, Option<String>),
}
