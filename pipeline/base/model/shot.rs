//! Listing pictures: what the manifest asks for, and what is known of them once they are composed.

use super::drawing::Picture;
use super::fault::SourceSpan;
use super::geometry::Rect;
use super::units::Rgb;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A listing picture as the manifest asks for it.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Shot {
    /// Its name in the file name, after the number.
    pub name: String,
    /// How it is laid out.
    pub layout: ShotLayout,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// How it is written.
    pub format: ShotFormat,
    /// The words on it; `None` for those that go with the layout.
    pub title: Option<String>,
    /// A second line; `None` for the one that goes with the layout.
    pub line: Option<String>,
    /// The ground; `None` for a tint of the accent.
    pub ground: Option<Rgb>,
    /// The pages on it; empty for those that the layout picks.
    pub pages: Vec<PageRef>,
    /// Milliseconds that a page stands, for pictures that move; `None` for as long as suits them.
    pub pause: Option<u32>,
}

/// How a listing picture is laid out.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub enum ShotLayout {
    /// A layout that comes with the tool, by name.
    BuiltIn(String),
    /// A layout of the designer's own: the path of the file, its text, and the pictures that it names.
    Own {
        /// Path in the product's folder.
        path: String,
        /// The template.
        text: Arc<String>,
        /// Pictures from the product's folder, by the path that stands in the text.
        art: BTreeMap<String, Arc<Picture>>,
    },
}

/// How a listing picture is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub enum ShotFormat {
    /// Without loss.
    Png,
    /// With this quality, 1 to 100.
    Jpeg(u8),
    /// Moving pictures.
    Gif,
    /// Moving pictures with their pages turned, as MP4.
    Film,
}

impl ShotFormat {
    /// The ending of the file's name.
    pub const fn ending(self) -> &'static str {
        match self {
            ShotFormat::Png => "png",
            ShotFormat::Jpeg(_) => "jpg",
            ShotFormat::Gif => "gif",
            ShotFormat::Film => "mp4",
        }
    }

    /// Whether it shows more than one moment.
    pub const fn moves(self) -> bool {
        matches!(self, ShotFormat::Gif | ShotFormat::Film)
    }
}

/// A page of the notebook, as the manifest names it.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct PageRef {
    /// Which one.
    pub which: Which,
    /// Where the manifest says so.
    pub span: SourceSpan,
}

/// Which page.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub enum Which {
    /// By number, from 1.
    Number(usize),
    /// By place: `index`, `section/3`, `template/dot-grid`.
    Place(String),
}

/// A listing picture that was composed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Composed {
    /// Path in the bundle.
    pub path: String,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// Size of the file in bytes.
    pub bytes: u64,
    /// Whether it is a film.
    pub film: bool,
    /// The words on it.
    pub words: Vec<Words>,
}

/// Words on a listing picture.
#[derive(
    Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, borsh::BorshSerialize, borsh::BorshDeserialize,
)]
pub struct Words {
    /// What they say.
    pub text: String,
    /// Height of a capital in pixels of the picture.
    pub cap: f64,
    /// What they cover: x, y, width, height in pixels of the picture.
    pub area: [f64; 4],
    /// Its characters that stand there as the box for what a font lacks.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub boxed: String,
}

impl Words {
    /// What they cover.
    pub fn rect(&self) -> Rect {
        Rect::new(self.area[0], self.area[1], self.area[2], self.area[3])
    }
}
