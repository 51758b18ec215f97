//! Tables that may name art, and the keys of art.

use super::Word;
use base::keys::{Described, Shape};
use base::model::art::Measure;
use serde::de::value::MapAccessDeserializer;
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer};
use std::collections::BTreeMap;
use std::fmt;
use toml::Spanned;

/// A table that may name art, with its own keys beside those of art (serde cannot flatten a table that refuses unknown
/// keys).
macro_rules! artful {
    ($(#[$about:meta])* pub struct $name:ident { $($(#[$meta:meta])* pub $field:ident: $type:ty,)* }) => {
        $(#[$about])*
        #[derive(Default, Deserialize, Described)]
        #[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
        pub struct $name {
            $($(#[$meta])* pub $field: $type,)*
            /// The art of this page: an .svg, .pdf, .png or .jpg file of yours. An SVG is also a template, and its elements named `link:…` are tap areas.
            /// Default: the tool draws the page.
            /// Example: `art = "art/map.svg"`
            pub art: Word,
            /// How the art is fitted into its room.
            /// Default: "fit".
            /// Example: `art = "art/map.svg"`
            /// `fit = "fill"`
            pub fit: Option<Spanned<FitName>>,
            /// The room that the art takes.
            /// Default: "page".
            /// Example: `art = "art/map.svg"`
            /// `room = "papers"`
            pub room: Option<Spanned<RoomName>>,
            /// What of the tabs and links lies over the art.
            /// Default: "over".
            /// Example: `art = "art/map.svg"`
            /// `navigation = "taps"`
            pub navigation: Option<Spanned<NavigationName>>,
            /// Tap areas on the art, beside those that the file has.
            /// Default: none.
            /// Example: `art = "art/map.svg"`
            /// `link = [{ to = "index", at = ["10 mm", "5 mm", "40 mm", "12 mm"] }]`
            pub link: Option<Spanned<Vec<Spanned<ArtLink>>>>,
            /// Whether elements that are tap areas are left out of the picture.
            /// Default: false.
            /// Example: `art = "art/map.svg"`
            /// `hide-links = true`
            pub hide_links: Option<Spanned<bool>>,
            /// Which page of a PDF. On a section of a finished notebook: the page that its tab leads to.
            /// Default: 1.
            /// Example: `art = "art/map.pdf"`
            /// `page = 1`
            pub page: Option<Spanned<u32>>,
            /// Whether the links of a PDF are kept.
            /// Default: true.
            /// Example: `art = "art/map.pdf"`
            /// `keep-links = false`
            pub keep_links: Option<Spanned<bool>>,
            /// Links of a PDF that are to lead elsewhere, by what they lead to; an empty text drops one.
            /// Default: none.
            /// Example: `art = "art/map.pdf"`
            /// `re-aim = { "page 1" = "index" }`
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
    /// A page that is art of yours.
    pub struct Art {}
}

/// A welcome page: its text, or where that stands, or art.
pub enum Welcome {
    Text(String),
    Art(Box<Art>),
}

impl Described for Welcome {
    fn shape() -> Shape {
        Shape::Either(vec![Shape::Text, Art::shape()])
    }
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

/// How art is fitted into its room.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum FitName {
    /// At its own size; another shape is a finding.
    Exact,
    /// As large as it fits, whole.
    Fit,
    /// As large as it fills, cut off where it is too long.
    Fill,
    /// As large as it fills the page to its edges.
    Bleed,
}

/// The room that art takes.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum RoomName {
    /// The whole page.
    Page,
    /// The papers, with the desk round them.
    Papers,
    /// The area in which rulings are drawn.
    WritingArea,
}

/// What of tabs and links lies over art.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum NavigationName {
    /// The tabs are drawn over it.
    Over,
    /// Only their tap areas lie there.
    Taps,
    /// Nothing.
    None,
}

/// A tap area on art.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct ArtLink {
    /// Where it leads: a place such as `index`, `section/3`, `page/2`, `template/dot-grid`, or an https address.
    /// Default: it must be given.
    /// Example: `to = "index"`
    pub to: Word,
    /// Where it lies: left, top, width and height, in mm, px or %.
    /// Default: it must be given.
    /// Example: `at = ["10 mm", "5 mm", "40 mm", "12 mm"]`
    pub at: Option<Spanned<Vec<Side>>>,
}

/// The form of a measure on art.
const MEASURE: &str = r"^\s*-?[0-9.]+\s*((mm|cm|pt|in)( at \s*[0-9.]+\s*dpi)?|px( at \s*[0-9.]+\s*dpi)?|%)\s*$";

/// One of the four numbers of a tap area: a bare number is in mm.
#[derive(Clone, Copy)]
pub struct Side(pub Measure);

impl Described for Side {
    fn shape() -> Shape {
        Shape::Either(vec![Shape::Number, Shape::Form("a measure such as \"8 mm\", \"120 px\" or \"5 %\"", MEASURE)])
    }
}

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
                crate::values::measure(v).map(Side).map_err(E::custom)
            }
        }
        d.deserialize_any(Reader)
    }
}

pub(super) use artful;
