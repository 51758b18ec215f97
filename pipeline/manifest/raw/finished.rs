//! What is laid over a finished notebook.

use super::Word;
use super::art::Side;
use crate::values::Length;
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;
use toml::Spanned;

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
                crate::values::pages(v).map(PageList).map_err(E::custom)
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
