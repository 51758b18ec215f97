//! `[stickers]`, groups and single stickers.

use super::Word;
use crate::values::{Colour, Extent, Length};
use base::keys::{Described, Shape};
use base::model::weekday::Weekday;
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;
use toml::Spanned;

/// What all stickers share.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Stickers {
    /// The resolution of PNGs.
    /// Range: 36 to 2400 dpi. Default: 300.
    /// Example: `dpi = 264`
    pub dpi: Option<Spanned<f64>>,
    /// The clear ground round the art.
    /// Default: 1 mm.
    /// Example: `padding = "2 mm"`
    pub padding: Option<Length>,
    /// The longest side of stickers that have no size of their own, from 2 to 400 mm.
    /// Default: 50 mm for files, and a size of its own for each motif.
    /// Example: `longest = "40 mm"`
    pub longest: Option<Spanned<Extent>>,
    /// The day on which weeks on stickers begin.
    /// Default: that of the notebook.
    pub first_day: Option<Weekday>,
    /// The border of all stickers.
    /// Default: none.
    /// Example: `border = { width = "2 mm" }`
    pub border: Option<Border>,
    /// Whether the colour of an old background is taken off soft edges; or that colour.
    /// Default: true.
    /// Example: `clean-edges = "#ffffff"`
    pub clean_edges: Option<CleanEdges>,
    /// How hard PNGs are packed. The pixels are the same.
    /// Default: "normal".
    pub optimise: Option<OptimiseName>,
    /// In which forms there are sheets.
    /// Default: "both".
    pub sheets: Option<SheetsName>,
}

/// How hard PNGs are packed.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum OptimiseName {
    /// Fast, and a little larger.
    Quick,
    /// A good measure.
    Normal,
    /// As small as can be; it takes long.
    Best,
}

/// In which forms there are sheets.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum SheetsName {
    /// As pages of a PDF and as PNGs.
    Both,
    /// As pages of a PDF.
    Pdf,
    /// As PNGs on a clear ground.
    Png,
    /// None.
    None,
}

/// What stickers of a group share, and the sheet of drawings that they are cut from, if they are.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct StickerGroup {
    /// The heading on the sheets.
    /// Default: it must be given.
    /// Example: `name = "Tools"`
    pub name: Word,
    /// A picture with many drawings on it, from which the stickers are cut; an SVG names them by its ids.
    /// Default: the stickers of the group stand one by one.
    /// Example: `cut = "art/sheet.png"`
    pub cut: Word,
    /// The width of the whole picture that is cut.
    /// Default: by its pixels and dpi.
    /// Example: `cut = "art/sheet.png"`
    /// `width = "80 mm"`
    pub width: Option<Spanned<Extent>>,
    /// The longest side of its largest sticker, from 2 to 400 mm.
    /// Default: that of all stickers.
    /// Example: `longest = "40 mm"`
    pub longest: Option<Spanned<Extent>>,
    /// Parts with less clear space between them are one drawing.
    /// Default: 1 mm.
    /// Example: `cut = "art/sheet.png"`
    /// `width = "80 mm"`
    /// `gap = "0.5 mm"`
    pub gap: Option<Spanned<Length>>,
    /// Parts smaller than this are dropped, and counted.
    /// Default: 0.5 mm.
    /// Example: `cut = "art/sheet.png"`
    /// `width = "80 mm"`
    /// `speck = "0.2 mm"`
    pub speck: Option<Spanned<Length>>,
    /// In which order the drawings are read.
    /// Default: "rows".
    pub reading: Option<ReadingName>,
    /// Their names, in that order.
    /// Default: numbers, or the ids of an SVG.
    /// Example: `cut = "art/sheet.png"`
    /// `width = "80 mm"`
    /// `names = ["sun", "moon"]`
    pub names: Option<Spanned<Vec<Spanned<String>>>>,
    /// How many there are; another count is a fault.
    /// Default: as many as are found.
    /// Example: `cut = "art/sheet.png"`
    /// `width = "80 mm"`
    /// `count = 2`
    pub count: Option<Spanned<u32>>,
    /// The resolution of PNGs.
    /// Range: 36 to 2400 dpi. Default: 300.
    /// Example: `dpi = 264`
    pub dpi: Option<Spanned<f64>>,
    /// The clear ground round the art.
    /// Default: that of all stickers.
    /// Example: `padding = "2 mm"`
    pub padding: Option<Length>,
    /// The colour of its motifs.
    /// Default: each takes the next of `style.sections`.
    /// Example: `colour = "#8a9a5b"`
    pub colour: Option<Colour>,
    /// The border of its stickers, or that there is none.
    /// Default: that of all stickers.
    /// Example: `border = false`
    pub border: Option<BorderChoice>,
    /// As for all stickers.
    /// Default: that of all stickers.
    /// Example: `clean-edges = false`
    pub clean_edges: Option<CleanEdges>,
}

/// In which order drawings on a sheet are read.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum ReadingName {
    /// From left to right, row by row.
    Rows,
    /// From right to left, row by row.
    RowsFromRight,
    /// Downwards, column by column from the left.
    Columns,
    /// Downwards, column by column from the right.
    ColumnsFromRight,
}

/// Whether edges are cleaned: true, false, or the colour of the old background.
#[derive(Clone, Copy, PartialEq)]
pub enum CleanEdges {
    Wanted(bool),
    Matte(Colour),
}

impl Described for CleanEdges {
    fn shape() -> Shape {
        Shape::Either(vec![Shape::YesOrNo, Colour::shape()])
    }
}

impl<'de> Deserialize<'de> for CleanEdges {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<CleanEdges, D::Error> {
        struct Reader;
        impl Visitor<'_> for Reader {
            type Value = CleanEdges;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("true, false, or the colour of the old background, as in \"#ffffff\"")
            }
            fn visit_bool<E: Error>(self, v: bool) -> Result<CleanEdges, E> {
                Ok(CleanEdges::Wanted(v))
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<CleanEdges, E> {
                Colour::deserialize(serde::de::value::StrDeserializer::new(v)).map(CleanEdges::Matte)
            }
        }
        d.deserialize_any(Reader)
    }
}

/// A border, or that there is none.
#[derive(Clone, Copy)]
pub enum BorderChoice {
    Wanted(bool),
    Like(Border),
}

impl Described for BorderChoice {
    fn shape() -> Shape {
        Shape::Either(vec![Shape::YesOrNo, Border::shape()])
    }
}

impl<'de> Deserialize<'de> for BorderChoice {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<BorderChoice, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = BorderChoice;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a border such as { width = \"2 mm\" }, or false for none")
            }
            fn visit_bool<E: Error>(self, v: bool) -> Result<BorderChoice, E> {
                Ok(BorderChoice::Wanted(v))
            }
            fn visit_map<A: serde::de::MapAccess<'de>>(self, map: A) -> Result<BorderChoice, A::Error> {
                Border::deserialize(serde::de::value::MapAccessDeserializer::new(map)).map(BorderChoice::Like)
            }
        }
        d.deserialize_any(Reader)
    }
}

/// A border round stickers.
#[derive(Clone, Copy, Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Border {
    /// How wide it is.
    /// Default: 2 mm.
    /// Example: `width = "1.6 mm"`
    pub width: Option<Length>,
    /// Its colour.
    /// Default: "#ffffff".
    /// Example: `colour = "#fffdf7"`
    pub colour: Option<Colour>,
    /// Whether holes in the art are filled as well.
    /// Default: true.
    pub fill_holes: Option<bool>,
    /// Whether a soft shadow lies below it.
    /// Default: false.
    pub shadow: Option<bool>,
}

/// A sticker.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Sticker {
    /// Its name among the files.
    /// Default: that of its file or motif.
    /// Example: `name = "to-do"`
    pub name: Word,
    /// Its art: an .svg or .png file of yours.
    /// Default: `motif` must be given.
    /// Example: `file = "art/sun.svg"`
    pub file: Word,
    /// Its art: a motif that the tool brings along.
    /// Default: `file` must be given.
    /// Example: `motif = "to-do-box"`
    #[keys(of = "motif")]
    pub motif: Word,
    /// The group that it belongs to, by its heading.
    /// Default: none.
    /// Example: `group = "Tools"`
    pub group: Word,
    /// The words on a motif in place of its own; empty for none.
    /// Default: the motif's.
    /// Example: `label = "This week"`
    pub label: Option<String>,
    /// Its longest side, from 2 to 400 mm, or in pixels.
    /// Default: that of its group.
    /// Example: `longest = "42 mm"`
    pub longest: Option<Spanned<Extent>>,
    /// Its width, in place of its longest side.
    /// Default: it follows from the art.
    /// Example: `width = "600 px"`
    pub width: Option<Spanned<Extent>>,
    /// Its height, in place of its longest side.
    /// Default: it follows from the art.
    /// Example: `height = "30 mm"`
    pub height: Option<Spanned<Extent>>,
    /// The resolution of PNGs.
    /// Range: 36 to 2400 dpi. Default: 300.
    /// Example: `dpi = 264`
    pub dpi: Option<Spanned<f64>>,
    /// The clear ground round the art.
    /// Default: that of its group.
    /// Example: `padding = "2 mm"`
    pub padding: Option<Length>,
    /// The colour of a motif.
    /// Default: the next of `style.sections`, else the accent.
    /// Example: `colour = "#8a9a5b"`
    pub colour: Option<Colour>,
    /// Its border, or that there is none.
    /// Default: that of its group.
    /// Example: `border = { width = "1.6 mm" }`
    pub border: Option<BorderChoice>,
    /// As for all stickers.
    /// Default: that of its group.
    /// Example: `clean-edges = false`
    pub clean_edges: Option<CleanEdges>,
}
