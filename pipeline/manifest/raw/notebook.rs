//! `[notebook]` with its sections and templates, and covers.

use super::Word;
use super::art::{Art, ArtKeys, ArtLink, FitName, NavigationName, RoomName, Welcome, artful};
use super::finished::{Labels, OutlineEntry, OverLink, Tabs};
use crate::values::Colour;
use base::model::weekday::Weekday;
use serde::de::value::SeqAccessDeserializer;
use serde::de::{Error, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer};
use std::collections::BTreeMap;
use std::fmt;
use toml::Spanned;

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Notebook {
    pub title: Word,
    pub first_day: Option<Weekday>,
    pub cover: Option<Cover>,
    pub welcome: Option<Spanned<Welcome>>,
    pub index: Option<Art>,
    pub overview: Option<Art>,
    pub divider: Option<Art>,
    pub parts: Option<Spanned<Vec<Spanned<PartName>>>>,
    pub dividers: Option<Spanned<bool>>,
    pub foot: Option<Spanned<bool>>,
    pub marks: Option<Spanned<bool>>,
    pub section: Vec<Spanned<Section>>,
    pub template: Vec<Spanned<Template>>,
    pub dated: Vec<Spanned<Dated>>,
    pub months: Option<Months>,
    pub file: Word,
    pub rewrite: Option<Spanned<bool>>,
    pub tabs: Option<Spanned<Tabs>>,
    pub link: Option<Spanned<Vec<Spanned<OverLink>>>>,
    pub places: Option<Spanned<BTreeMap<String, Spanned<u32>>>>,
    pub outline: Option<Spanned<Vec<Spanned<OutlineEntry>>>>,
    pub keep_outline: Option<Spanned<bool>>,
    pub labels: Option<Spanned<Vec<Spanned<Labels>>>>,
}

artful! {
    pub struct Section {
        pub name: String,
        pub colour: Option<Colour>,
        pub pages: Vec<Spanned<SectionPages>>,
        pub section: Vec<Spanned<SectionWithin>>,
        pub last_page: Option<Spanned<u32>>,
    }
}

/// A section within a section.
#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct SectionWithin {
    pub name: String,
    pub colour: Option<Colour>,
    pub pages: Vec<Spanned<SectionPages>>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct SectionPages {
    pub template: Word,
    pub count: Option<Spanned<u32>>,
    pub name: Word,
    pub data: toml::Table,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PartName {
    Cover,
    Welcome,
    Index,
    Sections,
    Overview,
    Templates,
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
        pub overview: Option<bool>,
    }
}

artful! {
    pub struct Dated {
        pub pages: Option<Spanned<calendar::Kind>>,
        pub name: Option<Spanned<calendar::SetName>>,
        pub ruling: Word,
        #[serde(rename = "with")]
        pub parameters: toml::Table,
        pub companions: Vec<Spanned<Companion>>,
        pub weekdays: Option<calendar::DayChoice>,
    }
}

artful! {
    pub struct Companion {
        pub name: Word,
        pub count: Option<Spanned<u32>>,
        pub ruling: Word,
        #[serde(rename = "with")]
        pub parameters: toml::Table,
    }
}

/// The tabs of the months.
#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Months {
    pub edge: Option<MonthsEdge>,
    pub label: Option<MonthLabel>,
    pub colours: Option<Spanned<MonthColours>>,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum MonthsEdge {
    Side,
    Top,
}

#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum MonthLabel {
    Short,
    Narrow,
    Number,
}

/// The colours of months: those of the sections, or a list of its own, which is gone through again and again.
pub enum MonthColours {
    Sections,
    Each(Vec<Colour>),
}

impl<'de> Deserialize<'de> for MonthColours {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<MonthColours, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = MonthColours;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("\"sections\", or a list of colours")
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<MonthColours, E> {
                match v {
                    "sections" => Ok(MonthColours::Sections),
                    _ => Err(E::unknown_variant(v, &["sections"])),
                }
            }
            fn visit_seq<A: SeqAccess<'de>>(self, list: A) -> Result<MonthColours, A::Error> {
                Vec::deserialize(SeqAccessDeserializer::new(list)).map(MonthColours::Each)
            }
        }
        d.deserialize_any(Reader)
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
