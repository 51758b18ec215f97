//! Listing pictures.

use super::Word;
use crate::values::{Colour, PixelSize};
use base::keys::{Described, Shape};
use serde::de::{Error, Unexpected, Visitor};
use serde::{Deserialize, Deserializer};
use std::fmt;
use toml::Spanned;

/// What all listing pictures share, and whether there is the usual set of them.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Pictures {
    /// Whether the usual set is made: every layout for which the product has something to show.
    /// Default: false.
    pub usual: bool,
    /// Width and height of all of them in pixels, each from 300 to 8000.
    /// Default: "2000 x 1500".
    /// Example: `size = "2400 x 1800"`
    pub size: Option<PixelSize>,
    /// The format of all of them.
    /// Default: "png".
    /// Example: `format = "jpeg"`
    pub format: Option<FormatName>,
    /// The quality of JPEGs.
    /// Range: 1 to 100. Default: 88.
    /// Example: `quality = 90`
    pub quality: Option<Spanned<u32>>,
    /// The colour behind the pages.
    /// Default: made of the style.
    /// Example: `ground = "#e9efe2"`
    pub ground: Option<Colour>,
}

/// A listing picture.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Shot {
    /// How it is laid out: one of the tool's, or an .svg file of yours.
    /// Default: it must be given.
    /// Example: `layout = "cover"`
    #[keys(of = "layout")]
    pub layout: Word,
    /// Its name among the files.
    /// Default: that of the layout.
    /// Example: `name = "first"`
    pub name: Word,
    /// Its width and height in pixels, each from 300 to 8000.
    /// Default: "2000 x 1500", "1000 x 750" for a GIF and "1440 x 1080" for a film.
    /// Example: `size = "2400 x 1800"`
    pub size: Option<PixelSize>,
    /// Its format. A GIF and an MP4 move.
    /// Default: "png", or "gif" for one that moves.
    /// Example: `format = "jpeg"`
    pub format: Option<Spanned<FormatName>>,
    /// The quality of a JPEG.
    /// Range: 1 to 100. Default: 88.
    /// Example: `quality = 90`
    pub quality: Option<Spanned<u32>>,
    /// Its heading.
    /// Default: the layout's.
    /// Example: `title = "A year on the plot"`
    pub title: Option<String>,
    /// The line below it.
    /// Default: the layout's.
    /// Example: `line = "with 20 templates"`
    pub line: Option<String>,
    /// The colour behind the pages.
    /// Default: that of all pictures.
    /// Example: `ground = "#e9efe2"`
    pub ground: Option<Colour>,
    /// Which pages it shows: numbers, or places such as "index" or "template/dot-grid".
    /// Default: those of the layout.
    /// Example: `pages = ["index"]`
    pub pages: Vec<Spanned<PageName>>,
    /// How long a moving one shows a page.
    /// Range: 0.2 to 20 seconds. Default: 1.4, and in a film as long as makes it some twelve seconds.
    /// Example: `layout = "flip-through"`
    /// `pause = 2.0`
    pub pause: Option<Spanned<f64>>,
}

/// The format of a picture.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum FormatName {
    /// Without loss.
    Png,
    /// Smaller, with a quality.
    Jpeg,
    /// Moves.
    Gif,
    /// A film: moves, and its pages turn.
    Mp4,
}

/// A page by number or by place.
pub enum PageName {
    Number(usize),
    Place(String),
}

impl Described for PageName {
    fn shape() -> Shape {
        Shape::Either(vec![Shape::Whole(1, i64::MAX), Shape::Text])
    }
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
