//! The manifest as written: one struct a table, every key optional, unknown keys refused.

use super::values::{Colour, Extent, Length, PageSize, PixelSize};
use crate::model::art::Measure;
use serde::de::value::MapAccessDeserializer;
use serde::de::{Error, Unexpected, Visitor};
use serde::{Deserialize, Deserializer};
use std::collections::BTreeMap;
use std::fmt;
use toml::Spanned;

type Word = Option<Spanned<String>>;

/// A table that may name art, with its own keys beside those of art (serde cannot flatten a table that refuses unknown
/// keys).
macro_rules! artful {
    (pub struct $name:ident { $($(#[$meta:meta])* pub $field:ident: $type:ty,)* }) => {
        #[derive(Default, Deserialize)]
        #[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
        pub struct $name {
            $($(#[$meta])* pub $field: $type,)*
            pub art: Word,
            pub fit: Option<Spanned<FitName>>,
            pub room: Option<Spanned<RoomName>>,
            pub navigation: Option<Spanned<NavigationName>>,
            pub link: Option<Spanned<Vec<Spanned<ArtLink>>>>,
            pub hide_links: Option<Spanned<bool>>,
            pub page: Option<Spanned<u32>>,
            pub keep_links: Option<Spanned<bool>>,
            pub re_aim: Option<Spanned<BTreeMap<String, Spanned<String>>>>,
        }

        impl $name {
            /// The keys of art.
            pub fn art_keys(&self) -> ArtKeys<'_> {
                ArtKeys {
                    art: self.art.as_ref(),
                    fit: self.fit.as_ref(),
                    room: self.room.as_ref(),
                    navigation: self.navigation.as_ref(),
                    link: self.link.as_ref(),
                    hide_links: self.hide_links.as_ref(),
                    page: self.page.as_ref(),
                    keep_links: self.keep_links.as_ref(),
                    re_aim: self.re_aim.as_ref(),
                }
            }
        }
    };
}

/// The keys of art, wherever they stand.
#[derive(Clone, Copy, Default)]
pub struct ArtKeys<'r> {
    pub art: Option<&'r Spanned<String>>,
    pub fit: Option<&'r Spanned<FitName>>,
    pub room: Option<&'r Spanned<RoomName>>,
    pub navigation: Option<&'r Spanned<NavigationName>>,
    pub link: Option<&'r Spanned<Vec<Spanned<ArtLink>>>>,
    pub hide_links: Option<&'r Spanned<bool>>,
    pub page: Option<&'r Spanned<u32>>,
    pub keep_links: Option<&'r Spanned<bool>>,
    pub re_aim: Option<&'r Spanned<BTreeMap<String, Spanned<String>>>>,
}

artful! {
    pub struct Art {}
}

/// A welcome page: its text, or where that stands, or art.
pub enum Welcome {
    Text(String),
    Art(Box<Art>),
}

impl<'de> Deserialize<'de> for Welcome {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Welcome, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = Welcome;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a text, the path of a .md file, or a table with art = \"…\"")
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<Welcome, E> {
                Ok(Welcome::Text(v.to_owned()))
            }
            fn visit_map<A: serde::de::MapAccess<'de>>(self, map: A) -> Result<Welcome, A::Error> {
                Art::deserialize(MapAccessDeserializer::new(map)).map(|art| Welcome::Art(Box::new(art)))
            }
        }
        d.deserialize_any(Reader)
    }
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FitName {
    Exact,
    Fit,
    Fill,
    Bleed,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum RoomName {
    Page,
    Papers,
    WritingArea,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NavigationName {
    Over,
    Taps,
    None,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct ArtLink {
    pub to: Word,
    pub at: Option<Spanned<Vec<Side>>>,
}

/// One of the four numbers of a tap area: a bare number is in mm.
#[derive(Clone, Copy)]
pub struct Side(pub Measure);

impl<'de> Deserialize<'de> for Side {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Side, D::Error> {
        struct Reader;
        impl Visitor<'_> for Reader {
            type Value = Side;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a measure such as 8 (mm), \"8 mm\", \"120 px\" or \"5 %\"")
            }
            fn visit_i64<E: Error>(self, v: i64) -> Result<Side, E> {
                Ok(Side(Measure::Mm(v as f64)))
            }
            fn visit_f64<E: Error>(self, v: f64) -> Result<Side, E> {
                Ok(Side(Measure::Mm(v)))
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<Side, E> {
                super::values::measure(v).map(Side).map_err(E::custom)
            }
        }
        d.deserialize_any(Reader)
    }
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Manifest {
    pub name: Word,
    pub slug: Word,
    pub version: Word,
    pub released: Option<Spanned<toml::value::Datetime>>,
    pub issued: bool,
    pub language: Word,
    pub classic_pdf: bool,
    pub shop: Shop,
    pub page: Page,
    pub style: Style,
    pub notebook: Option<Notebook>,
    pub cover: Vec<Cover>,
    pub stickers: Stickers,
    pub sticker_group: Vec<Spanned<StickerGroup>>,
    pub sticker: Vec<Spanned<Sticker>>,
    pub pictures: Pictures,
    pub picture: Vec<Spanned<Shot>>,
    pub assets: Option<Assets>,
    pub guide: Guide,
    pub licence: Licence,
    pub listing: Listing,
    pub limits: Limits,
    pub delivery: Delivery,
    pub lower: Vec<Spanned<Lower>>,
    pub data: toml::Table,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Shop {
    pub name: Word,
    pub contact: Option<String>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Page {
    pub size: Option<PageSize>,
    pub orientation: Option<Orientation>,
    pub layout: Option<Layout>,
    pub toolbar: Option<Spanned<Length>>,
    pub toolbar_edge: Option<EdgeName>,
    pub coil: Option<Spanned<CoilName>>,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Orientation {
    Portrait,
    Landscape,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Layout {
    Single,
    Spread,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum EdgeName {
    Top,
    Bottom,
    Left,
    Right,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CoilName {
    Middle,
    Top,
    None,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Style {
    pub ink: Option<Colour>,
    pub rule: Option<Colour>,
    pub paper: Option<Colour>,
    pub desk: Option<Colour>,
    pub accent: Option<Colour>,
    pub corner: Option<Spanned<Length>>,
    pub sections: Vec<Colour>,
    pub fonts: Fonts,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Fonts {
    pub heading: Word,
    pub heading_italic: Word,
    pub label: Word,
    pub label_bold: Word,
    pub label_italic: Word,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Notebook {
    pub title: Word,
    pub cover: Option<Cover>,
    pub welcome: Option<Spanned<Welcome>>,
    pub index: Option<Art>,
    pub overview: Option<Art>,
    pub divider: Option<Art>,
    pub section: Vec<Spanned<Section>>,
    pub template: Vec<Spanned<Template>>,
    pub file: Word,
    pub rewrite: Option<Spanned<bool>>,
    pub tabs: Option<Spanned<Tabs>>,
    pub link: Option<Spanned<Vec<Spanned<OverLink>>>>,
    pub places: Option<Spanned<BTreeMap<String, Spanned<u32>>>>,
    pub outline: Option<Spanned<Vec<Spanned<OutlineEntry>>>>,
    pub keep_outline: Option<Spanned<bool>>,
    pub labels: Option<Spanned<Vec<Spanned<Labels>>>>,
}

/// Tabs over a finished file.
#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Tabs {
    pub side: Option<SideName>,
    pub depth: Option<Spanned<Length>>,
    pub draw: Option<bool>,
    pub pages: Option<Spanned<PageList>>,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SideName {
    Right,
    Left,
    Turning,
}

/// A tap area over a finished file.
#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct OverLink {
    pub pages: Option<Spanned<PageList>>,
    pub to: Word,
    pub at: Option<Spanned<Vec<Side>>>,
    pub says: Option<String>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct OutlineEntry {
    pub title: Word,
    pub page: Option<Spanned<u32>>,
    pub entries: Vec<Spanned<OutlineEntry>>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Labels {
    pub from: Option<Spanned<u32>>,
    pub style: Option<LabelName>,
    pub prefix: String,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LabelName {
    Decimal,
    Roman,
    None,
}

/// Pages of a finished file: a number, several, runs as `"3-10"` and `"20-"`, or `"all"`; from 0 here, from 1 there.
#[derive(Clone)]
pub struct PageList(pub Vec<(usize, Option<usize>)>);

impl<'de> Deserialize<'de> for PageList {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<PageList, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = PageList;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("pages such as 5, [1, 3], \"2-10\", \"20-\" or \"all\"")
            }
            fn visit_i64<E: Error>(self, v: i64) -> Result<PageList, E> {
                match usize::try_from(v) {
                    Ok(n) if n > 0 => Ok(PageList(vec![(n - 1, Some(n - 1))])),
                    _ => Err(E::custom(format!("`{v}` is not a page\npages are counted from 1"))),
                }
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<PageList, E> {
                super::values::pages(v).map(PageList).map_err(E::custom)
            }
            fn visit_seq<A: serde::de::SeqAccess<'de>>(self, mut seq: A) -> Result<PageList, A::Error> {
                let mut all = Vec::new();
                while let Some(PageList(mut some)) = seq.next_element()? {
                    all.append(&mut some);
                }
                Ok(PageList(all))
            }
        }
        d.deserialize_any(Reader)
    }
}

artful! {
    pub struct Section {
        pub name: String,
        pub colour: Option<Colour>,
        pub pages: Vec<Spanned<SectionPages>>,
        pub last_page: Option<Spanned<u32>>,
    }
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct SectionPages {
    pub template: Word,
    pub count: Option<Spanned<u32>>,
}

artful! {
    pub struct Template {
        pub name: Word,
        pub slug: Word,
        pub ruling: Word,
        #[serde(rename = "with")]
        pub parameters: toml::Table,
        pub beside: Word,
        pub beside_with: toml::Table,
    }
}

artful! {
    pub struct Cover {
        pub name: Option<String>,
        pub design: Option<Spanned<Design>>,
        pub colour: Option<Colour>,
        pub second: Option<Colour>,
        pub pattern: Option<Spanned<PatternName>>,
        pub texture: Word,
        pub label: Option<bool>,
        pub line: Option<String>,
    }
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Design {
    Flat,
    Banded,
    Framed,
    Patterned,
    Texture,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PatternName {
    Dots,
    Stripes,
    Scales,
    Leaves,
    Gingham,
    Waves,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Stickers {
    pub dpi: Option<Spanned<f64>>,
    pub padding: Option<Length>,
    pub longest: Option<Spanned<Extent>>,
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

/// Whose the files of the product are.
#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Assets {
    pub own: Vec<Spanned<String>>,
    pub item: Vec<Spanned<AssetItem>>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct AssetItem {
    pub file: Word,
    pub title: Word,
    pub by: Word,
    pub source: Word,
    pub licence: Word,
    pub receipt: Word,
    pub allows: Option<Spanned<Vec<Spanned<String>>>>,
    pub credit: Word,
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

/// What all listing pictures share, and whether there is the usual set of them.
#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Pictures {
    pub usual: bool,
    pub size: Option<PixelSize>,
    pub format: Option<FormatName>,
    pub quality: Option<Spanned<u32>>,
    pub ground: Option<Colour>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Shot {
    pub layout: Word,
    pub name: Word,
    pub size: Option<PixelSize>,
    pub format: Option<Spanned<FormatName>>,
    pub quality: Option<Spanned<u32>>,
    pub title: Option<String>,
    pub line: Option<String>,
    pub ground: Option<Colour>,
    pub pages: Vec<Spanned<PageName>>,
    pub pause: Option<Spanned<f64>>,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FormatName {
    Png,
    Jpeg,
    Gif,
}

/// A page by number or by place.
pub enum PageName {
    Number(usize),
    Place(String),
}

impl<'de> Deserialize<'de> for PageName {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<PageName, D::Error> {
        struct Reader;
        impl Visitor<'_> for Reader {
            type Value = PageName;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a page number from 1, or a place such as \"index\" or \"template/dot-grid\"")
            }
            fn visit_i64<E: Error>(self, v: i64) -> Result<PageName, E> {
                let number = usize::try_from(v).ok().filter(|n| *n > 0);
                number.map(PageName::Number).ok_or_else(|| E::invalid_value(Unexpected::Signed(v), &self))
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<PageName, E> {
                Ok(PageName::Place(v.to_owned()))
            }
        }
        d.deserialize_any(Reader)
    }
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Guide {
    pub wanted: Option<bool>,
    pub text: Word,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Licence {
    pub small_commercial: Option<u32>,
    pub classroom_seats: Option<u32>,
    pub refunds: Option<Spanned<Refunds>>,
    pub credits: Vec<String>,
    pub extra: Option<String>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Refunds {
    Days(u32),
    NoneOnceDownloaded,
    Unstated,
}

impl<'de> Deserialize<'de> for Refunds {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Refunds, D::Error> {
        struct Reader;
        impl Visitor<'_> for Reader {
            type Value = Refunds;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a number of days, \"none-once-downloaded\" or \"unstated\"")
            }
            fn visit_i64<E: Error>(self, v: i64) -> Result<Refunds, E> {
                let days = u32::try_from(v).map_err(|_| E::invalid_value(Unexpected::Signed(v), &self))?;
                Ok(Refunds::Days(days))
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<Refunds, E> {
                match v {
                    "none-once-downloaded" => Ok(Refunds::NoneOnceDownloaded),
                    "unstated" => Ok(Refunds::Unstated),
                    _ => Err(E::unknown_variant(v, &["none-once-downloaded", "unstated"])),
                }
            }
        }
        d.deserialize_any(Reader)
    }
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Listing {
    pub title: Word,
    pub summary: Option<String>,
    pub tags: Vec<String>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Limits {
    pub files: Option<Spanned<u32>>,
    pub megabytes: Option<Spanned<f64>>,
    pub title: Option<u32>,
    pub tags: Option<u32>,
    pub tag: Option<u32>,
    pub pictures: Option<Spanned<u32>>,
    pub picture_pixels: Option<Spanned<u32>>,
    pub picture_megabytes: Option<Spanned<f64>>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Delivery {
    pub address: Word,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Lower {
    pub check: Word,
    pub to: Option<LowerTo>,
    pub reason: Word,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LowerTo {
    Warning,
    Note,
    Off,
}
