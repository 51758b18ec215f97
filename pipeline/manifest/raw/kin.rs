//! Other products that a product is sold with.

use super::Word;
use base::keys::{Described, Shape};
use serde::de::value::MapAccessDeserializer;
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;
use toml::Spanned;

/// A product that goes with this one.
pub enum GoesWith {
    /// Its folder.
    Way,
    /// Its folder, and in what the two agree.
    Table,
}

impl Described for GoesWith {
    fn shape() -> Shape {
        Shape::Either(vec![Shape::Text, SisterTable::shape()])
    }
}

/// A product that goes with this one, and in what the two agree.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct SisterTable {
    /// The way to its folder.
    /// Default: it must be given.
    /// Example: `product = "../button-tin"`
    #[serde(rename = "product")]
    pub _product: Word,
    /// In what the two are said to agree. Where they do not, a check says so.
    /// Default: in nothing.
    /// Example: `product = "../button-tin"`
    /// `same = ["page-size", "colours"]`
    #[serde(rename = "same")]
    pub _same: Vec<SameName>,
}

/// In what products agree that go with each other.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum SameName {
    /// Width and height of the pages.
    PageSize,
    /// The side at which tabs lie.
    Tabs,
    /// Paper, ink, rules, ground and accent, and the colours of sections as far as both have some.
    Colours,
}

/// The products that a set is made of.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Set {
    /// The ways to their folders, two at least, in the order in which texts name them.
    /// Default: it must be given.
    /// Example: `products = ["../mending-log", "../button-tin"]`
    #[serde(rename = "products")]
    pub _products: Vec<Spanned<String>>,
}

impl<'de> Deserialize<'de> for GoesWith {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<GoesWith, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = GoesWith;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("the way to a product's folder, such as \"../button-tin\", or a table with product = \"…\"")
            }
            fn visit_str<E: Error>(self, _: &str) -> Result<GoesWith, E> {
                Ok(GoesWith::Way)
            }
            fn visit_map<A: serde::de::MapAccess<'de>>(self, map: A) -> Result<GoesWith, A::Error> {
                SisterTable::deserialize(MapAccessDeserializer::new(map)).map(|_| GoesWith::Table)
            }
        }
        d.deserialize_any(Reader)
    }
}
