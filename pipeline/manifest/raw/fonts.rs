//! Fonts of the designer's own.

use base::keys::{Described, Shape};
use serde::de::{Error, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;
use toml::Spanned;

/// Fonts of your own: .ttf, .otf, .woff or .woff2 files in the product's folder that may be embedded and sold in a document. Several
/// files make one font, such as those of a family that is split by scripts: the first that has a character sets it, then those of the other roles.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Fonts {
    /// The font of headings.
    /// Default: Libertinus Serif.
    /// Example: `heading = "fonts/Hedgerow.ttf"`
    pub heading: Option<Spanned<FontNames>>,
    /// The font of headings in italics.
    /// Default: that of headings, else Libertinus Serif Italic.
    /// Example: `heading-italic = "fonts/Hedgerow.ttf"`
    pub heading_italic: Option<Spanned<FontNames>>,
    /// The font of labels and running text.
    /// Default: Noto Sans.
    /// Example: `label = ["NotoSans-Regular", "fonts/Hedgerow.ttf"]`
    pub label: Option<Spanned<FontNames>>,
    /// The font of labels in bold.
    /// Default: that of labels, else Noto Sans Bold.
    /// Example: `label-bold = "fonts/Hedgerow.ttf"`
    pub label_bold: Option<Spanned<FontNames>>,
    /// The font of labels in italics.
    /// Default: that of labels, else Noto Sans Italic.
    /// Example: `label-italic = "fonts/Hedgerow.ttf"`
    pub label_italic: Option<Spanned<FontNames>>,
}

/// A font as it is written: a file or the name of a face, or several of which the first that has a character sets it.
#[derive(Clone)]
pub struct FontNames(pub Vec<String>);

impl Described for FontNames {
    fn shape() -> Shape {
        Shape::Either(vec![Shape::Text, Shape::List(Box::new(Shape::Text))])
    }
}

impl<'de> Deserialize<'de> for FontNames {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<FontNames, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = FontNames;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a font file such as \"fonts/Hedgerow.ttf\", or a list of them")
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<FontNames, E> {
                Ok(FontNames(vec![v.to_owned()]))
            }
            fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<FontNames, A::Error> {
                let mut all = Vec::new();
                while let Some(one) = seq.next_element()? {
                    all.push(one);
                }
                Ok(FontNames(all))
            }
        }
        d.deserialize_any(Reader)
    }
}
