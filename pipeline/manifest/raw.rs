//! The manifest as written: one struct a table, every key optional, unknown keys refused.

mod art;
mod finished;
mod notebook;
mod shots;
mod stickers;

pub use art::*;
pub use finished::*;
pub use notebook::*;
pub use shots::*;
pub use stickers::*;

use super::values::{Colour, Length, PageSize};
use base::model::look;
use serde::de::{Error, Unexpected, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;
use toml::Spanned;

type Word = Option<Spanned<String>>;

/// Keys of the top level that hold for a product as a whole, whatever its variants.
pub const TOP: [&str; 17] = [
    "name",
    "slug",
    "version",
    "released",
    "issued",
    "classic-pdf",
    "shop",
    "pictures",
    "picture",
    "assets",
    "licence",
    "listing",
    "limits",
    "delivery",
    "versions",
    "lower",
    "variants",
];

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
    pub calendar: Option<Spanned<calendar::table::CalendarTable>>,
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
    pub versions: Option<Versions>,
    /// Taken out before this is read; it stands here so that a word near to it is led to it.
    #[serde(rename = "variants")]
    _variants: Option<serde::de::IgnoredAny>,
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
    pub hand: Option<HandName>,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HandName {
    Left,
    Right,
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
    pub look: Word,
    pub tabs: Option<look::TabShape>,
    pub binding: Option<look::Binding>,
    pub metal: Option<look::Metal>,
    pub heading: Option<look::Heading>,
    pub rules: Option<look::Rules>,
    pub divider: Option<look::Divider>,
    pub index: Option<look::Index>,
    pub cover: Option<look::Cover>,
    pub board: Option<Colour>,
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
    pub zip_per_variant: Option<Spanned<bool>>,
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

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Versions {
    pub major: Vec<Spanned<String>>,
    pub minor: Vec<Spanned<String>>,
    pub patch: Vec<Spanned<String>>,
    pub download_again: Option<DownloadAgain>,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DownloadAgain {
    Patch,
    Minor,
    Major,
    Never,
}
