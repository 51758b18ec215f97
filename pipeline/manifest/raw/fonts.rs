//! Fonts, the designer's own or the tool's.

use base::keys::{Described, Shape};
use serde::de::value::MapAccessDeserializer;
use serde::de::{Error, MapAccess, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;
use toml::Spanned;

/// Typefaces that come along, by name, each with its italic and bold where it has them: `heading = "Lora"`, `heading = "Caveat"`;
/// the manual shows all of them. Or fonts of your own: .ttf, .otf, .woff or .woff2 files in the product's folder that may be embedded and sold in a document. Several
/// files make one font, such as those of a family that is split by scripts: the first that has a character sets it, then those of the other roles.
/// A variable font is set at the weight that is stated: `{ file = "fonts/Hedgerow.ttf", weight = 600 }`.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Fonts {
    /// The font of headings.
    /// Default: Libertinus Serif.
    /// Example: `heading = "Fraunces"`
    pub heading: Option<Spanned<FontNames>>,
    /// The font of headings in italics.
    /// Default: the italic of a typeface that headings name, else their font, else Libertinus Serif Italic.
    /// Example: `heading-italic = "fonts/Hedgerow.ttf"`
    pub heading_italic: Option<Spanned<FontNames>>,
    /// The font of labels and running text.
    /// Default: Noto Sans.
    /// Example: `label = ["Karla", "fonts/Hedgerow.ttf"]`
    pub label: Option<Spanned<FontNames>>,
    /// The font of labels in bold.
    /// Default: the bold of a typeface that labels name, else their font, else Noto Sans Bold.
    /// Example: `label-bold = { file = "fonts/Hedgerow.ttf", weight = 650 }`
    pub label_bold: Option<Spanned<FontNames>>,
    /// The font of labels in italics.
    /// Default: the italic of a typeface that labels name, else their font, else Noto Sans Italic.
    /// Example: `label-italic = "fonts/Hedgerow.ttf"`
    pub label_italic: Option<Spanned<FontNames>>,
}

/// A variable font at a weight.
#[derive(Clone, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Weighed {
    /// The file.
    /// Default: it must be given.
    /// Example: `file = "fonts/Hedgerow.ttf"`
    pub file: String,
    /// The weight that a variable font is set at, within those that it has: 400 is that of plain text, 700 is bold.
    /// Range: 1 to 1000.
    /// Default: the one that the font has by itself.
    /// Example: `weight = 600`
    pub weight: Option<f64>,
}

/// A font as it is written: a file or the name of a face, and the weight of a variable one; or several of which the first that has a
/// character sets it.
#[derive(Clone)]
pub struct FontNames(pub Vec<Weighed>);

/// One of them.
struct One(Weighed);

impl Described for FontNames {
    fn shape() -> Shape {
        let one = || vec![Shape::Text, Weighed::shape()];
        Shape::Either([one(), vec![Shape::List(Box::new(Shape::Either(one())))]].concat())
    }
}

const EXPECTED: &str =
    "a font file such as \"fonts/Hedgerow.ttf\", { file = \"fonts/Hedgerow.ttf\", weight = 600 }, or a list of them";

impl<'de> Deserialize<'de> for One {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<One, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = One;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(EXPECTED)
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<One, E> {
                Ok(One(Weighed { file: v.to_owned(), weight: None }))
            }
            fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<One, A::Error> {
                Weighed::deserialize(MapAccessDeserializer::new(map)).map(One)
            }
        }
        d.deserialize_any(Reader)
    }
}

impl<'de> Deserialize<'de> for FontNames {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<FontNames, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = FontNames;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(EXPECTED)
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<FontNames, E> {
                Ok(FontNames(vec![Weighed { file: v.to_owned(), weight: None }]))
            }
            fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<FontNames, A::Error> {
                Weighed::deserialize(MapAccessDeserializer::new(map)).map(|one| FontNames(vec![one]))
            }
            fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<FontNames, A::Error> {
                let mut all = Vec::new();
                while let Some(One(one)) = seq.next_element()? {
                    all.push(one);
                }
                Ok(FontNames(all))
            }
        }
        d.deserialize_any(Reader)
    }
}
