//! Listing pictures.

use super::Word;
use crate::values::{Colour, PixelSize};
use serde::de::{Error, Unexpected, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;
use toml::Spanned;

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
