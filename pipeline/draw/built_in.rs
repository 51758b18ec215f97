//! The fonts that the tool brings along.

use base::model::Blob;
use base::model::product::FontFile;
use rustybuzz::ttf_parser::{Face, name_id};
use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

/// Bytes by name.
type Bytes = BTreeMap<&'static str, Blob>;

/// A font that the tool brings along, by file name: Noto Sans and Libertinus Serif, both under the SIL Open Font
/// License 1.1.
pub fn font(name: &'static str) -> Option<FontFile> {
    static KNOWN: Mutex<Bytes> = Mutex::new(Bytes::new());
    let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    let bytes = match known.get(name) {
        Some(bytes) => bytes.clone(),
        None => {
            let bytes = Blob::from(carried(name)?);
            known.insert(name, bytes.clone());
            bytes
        }
    };
    Some(FontFile { from: name.to_owned(), bytes, built_in: true })
}

/// The names of the faces that a manifest or a look may ask for.
pub const FACES: [&str; 7] = [
    "LibertinusSerif-Regular",
    "LibertinusSerif-Italic",
    "LibertinusSerif-Bold",
    "LibertinusSerif-Semibold",
    "NotoSans-Regular",
    "NotoSans-Bold",
    "NotoSans-Italic",
];

/// A font that the tool brings along, by a name that need not live as long as the program.
pub fn font_named(name: &str) -> Option<FontFile> {
    FACES.into_iter().find(|face| *face == name).and_then(font)
}

fn carried(name: &str) -> Option<&'static [u8]> {
    match name {
        "NotoSans-Regular" => Some(notosans::REGULAR_TTF),
        "NotoSans-Bold" => Some(notosans::BOLD_TTF),
        "NotoSans-Italic" => Some(notosans::ITALIC_TTF),
        other => libertinus(other),
    }
}

/// A face of Libertinus Serif out of the many that its crate carries, by PostScript name.
fn libertinus(name: &str) -> Option<&'static [u8]> {
    typst_assets::fonts().find(|bytes| {
        Face::parse(bytes, 0).is_ok_and(|face| {
            face.names()
                .into_iter()
                .filter(|n| n.name_id == name_id::POST_SCRIPT_NAME && n.is_unicode())
                .any(|n| n.to_string().as_deref() == Some(name))
        })
    })
}
