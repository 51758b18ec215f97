//! What is laid over a finished notebook.

use super::Word;
use super::art::Side;
use crate::values::Length;
use base::keys::{Described, Shape};
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;
use toml::Spanned;

/// Tabs over a finished file.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Tabs {
    /// On which side the tabs lie.
    /// Default: "turning" on a spread, else "right".
    pub side: Option<SideName>,
    /// How far they reach into the page, from 2 mm to a quarter of its shorter side.
    /// Default: as deep as on a drawn page.
    /// Example: `depth = "9 mm"`
    pub depth: Option<Spanned<Length>>,
    /// Whether they are drawn; without it only their tap areas lie there.
    /// Default: true.
    pub draw: Option<bool>,
    /// On which pages they lie.
    /// Default: "all".
    /// Example: `pages = "1-"`
    pub pages: Option<Spanned<PageList>>,
}

/// A side of the page.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum SideName {
    /// All on the right.
    Right,
    /// All on the left.
    Left,
    /// On the right, and on the left once passed.
    Turning,
}

/// A tap area over a finished file.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct OverLink {
    /// On which pages it lies.
    /// Default: "all".
    /// Example: `pages = 1`
    pub pages: Option<Spanned<PageList>>,
    /// Where it leads: a place such as `index`, `section/3`, `page/12`, or an https address.
    /// Default: it must be given.
    /// Example: `to = "page/1"`
    pub to: Word,
    /// Where it lies: left, top, width and height, in mm, pt or % of the page.
    /// Default: it must be given.
    /// Example: `at = [10, 5, "40 mm", "12 mm"]`
    pub at: Option<Spanned<Vec<Side>>>,
    /// What it is called for those who hear the page.
    /// Default: the name of what it leads to.
    /// Example: `says = "To the start"`
    pub says: Option<String>,
}

/// An entry of the outline.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct OutlineEntry {
    /// Its words.
    /// Default: it must be given.
    /// Example: `title = "Recipes"`
    pub title: Word,
    /// The page that it leads to, from 1.
    /// Default: it must be given.
    /// Example: `page = 1`
    pub page: Option<Spanned<u32>>,
    /// Entries below it.
    /// Default: none.
    /// Example: `entries = [{ title = "Soups", page = 1 }]`
    pub entries: Vec<Spanned<OutlineEntry>>,
}

/// How a run of pages is numbered.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Labels {
    /// The page, from 1, from which on pages are numbered so.
    /// Default: 1.
    /// Example: `from = 1`
    pub from: Option<Spanned<u32>>,
    /// How they are numbered.
    /// Default: "decimal".
    pub style: Option<LabelName>,
    /// What stands before the number.
    /// Default: nothing.
    /// Example: `prefix = "A-"`
    pub prefix: String,
}

/// How pages are numbered.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum LabelName {
    /// 1, 2, 3.
    Decimal,
    /// i, ii, iii.
    Roman,
    /// Not at all.
    None,
}

/// The form of runs of pages.
const RUNS: &str =
    r"^\s*(all|0*[1-9][0-9]*\s*([-–]\s*(0*[1-9][0-9]*)?)?\s*(,\s*0*[1-9][0-9]*\s*([-–]\s*(0*[1-9][0-9]*)?)?\s*)*)\s*$";

/// Pages of a finished file: a number, several, runs as `"3-10"` and `"20-"`, or `"all"`; from 0 here, from 1 there.
#[derive(Clone)]
pub struct PageList(pub Vec<(usize, Option<usize>)>);

impl Described for PageList {
    fn shape() -> Shape {
        let runs = Shape::Form("pages such as \"2-10\", \"20-\" or \"all\"", RUNS);
        let some = vec![Shape::Whole(1, i64::MAX), runs];
        let list = Shape::List(Box::new(Shape::Either(some.clone())));
        let lists = Shape::List(Box::new(Shape::Either([some.clone(), vec![list]].concat())));
        Shape::Either([some, vec![lists]].concat())
    }
}

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
