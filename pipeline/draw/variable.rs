//! Variable fonts (OpenType, `fvar`): which weights one has, and the static font that it is at one of them.

use allsorts::binary::read::ReadScope;
use allsorts::font_data::FontData;
use allsorts::tables::Fixed;
use base::model::panics;
use rustybuzz::ttf_parser::{Face, Tag};

/// The axis of weights (OpenType, registered axis `wght`).
const WEIGHT: Tag = Tag::from_bytes(b"wght");

/// The weights of a variable font, from 1 to 1000.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weights {
    /// The lightest.
    pub least: f32,
    /// The one that it has where none is asked for.
    pub usual: f32,
    /// The heaviest.
    pub most: f32,
}

/// The weights of a font; `None` for one that has an only one, and for what cannot be read.
pub fn weights(bytes: &[u8]) -> Option<Weights> {
    let face = Face::parse(bytes, 0).ok()?;
    let axis = face.variation_axes().into_iter().find(|axis| axis.tag == WEIGHT)?;
    (axis.min_value < axis.max_value).then_some(Weights {
        least: axis.min_value,
        usual: axis.def_value,
        most: axis.max_value,
    })
}

/// The static font that a variable one is at a weight within its bounds; all of its other axes stay at their defaults.
///
/// # Errors
/// What the library cannot work out, in its words.
pub fn at_weight(bytes: &[u8], weight: f32) -> Result<Vec<u8>, String> {
    let axes: Vec<Fixed> = Face::parse(bytes, 0)
        .map_err(|e| e.to_string())?
        .variation_axes()
        .into_iter()
        .map(|axis| Fixed::from(if axis.tag == WEIGHT { weight } else { axis.def_value }))
        .collect();
    let made = panics::caught(|| {
        let data = ReadScope::new(bytes).read::<FontData<'_>>().map_err(|e| e.to_string())?;
        let tables = data.table_provider(0).map_err(|e| e.to_string())?;
        let (made, _) = allsorts::variations::instance(&tables, &axes).map_err(|e| e.to_string())?;
        Ok(made)
    });
    made.unwrap_or_else(|_| Err("a table of it is damaged".to_owned()))
}
