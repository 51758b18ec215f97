//! `[stickers]`, groups and single stickers.

use super::Word;
use crate::values::{Colour, Extent, Length};
use base::model::weekday::Weekday;
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;
use toml::Spanned;

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Stickers {
    pub dpi: Option<Spanned<f64>>,
    pub padding: Option<Length>,
    pub longest: Option<Spanned<Extent>>,
    pub first_day: Option<Weekday>,
    pub border: Option<Border>,
    pub clean_edges: Option<CleanEdges>,
    pub optimise: Option<OptimiseName>,
    pub sheets: Option<SheetsName>,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OptimiseName {
    Quick,
    Normal,
    Best,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SheetsName {
    Both,
    Pdf,
    Png,
    None,
}

/// What stickers of a group share, and the sheet of drawings that they are cut from, if they are.
#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct StickerGroup {
    pub name: Word,
    pub cut: Word,
    pub width: Option<Spanned<Extent>>,
    pub longest: Option<Spanned<Extent>>,
    pub gap: Option<Spanned<Length>>,
    pub speck: Option<Spanned<Length>>,
    pub reading: Option<ReadingName>,
    pub names: Option<Spanned<Vec<Spanned<String>>>>,
    pub count: Option<Spanned<u32>>,
    pub dpi: Option<Spanned<f64>>,
    pub padding: Option<Length>,
    pub colour: Option<Colour>,
    pub border: Option<BorderChoice>,
    pub clean_edges: Option<CleanEdges>,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReadingName {
    Rows,
    RowsFromRight,
    Columns,
    ColumnsFromRight,
}

/// Whether edges are cleaned: true, false, or the colour of the old background.
#[derive(Clone, Copy, PartialEq)]
pub enum CleanEdges {
    Wanted(bool),
    Matte(Colour),
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

#[derive(Clone, Copy, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Border {
    pub width: Option<Length>,
    pub colour: Option<Colour>,
    pub fill_holes: Option<bool>,
    pub shadow: Option<bool>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Sticker {
    pub name: Word,
    pub file: Word,
    pub motif: Word,
    pub group: Word,
    pub label: Option<String>,
    pub longest: Option<Spanned<Extent>>,
    pub width: Option<Spanned<Extent>>,
    pub height: Option<Spanned<Extent>>,
    pub dpi: Option<Spanned<f64>>,
    pub padding: Option<Length>,
    pub colour: Option<Colour>,
    pub border: Option<BorderChoice>,
    pub clean_edges: Option<CleanEdges>,
}
