//! Tables that may name art, and the keys of art.

use super::Word;
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
                crate::values::measure(v).map(Side).map_err(E::custom)
            }
        }
        d.deserialize_any(Reader)
    }
}

pub(super) use artful;
