//! The typefaces that the tool brings along, all under the SIL Open Font License 1.1.

use base::model::Blob;
use base::model::drawing::Role;
use base::model::product::FontFile;
use flate2::read::ZlibDecoder;
use rustybuzz::ttf_parser::{Face, name_id};
use std::collections::BTreeMap;
use std::io::Read;
use std::sync::{Mutex, PoisonError};

/// What `build.rs` has packed of the folder `fonts`.
mod packed {
    include!(concat!(env!("OUT_DIR"), "/faces.rs"));
}

/// Bytes by name.
type Bytes = BTreeMap<&'static str, Blob>;

/// A typeface: the faces of it that the tool brings along, by their PostScript names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Family {
    /// Its name, as a manifest says it.
    pub name: &'static str,
    /// What kind of letter it is, and what it serves for.
    pub what: &'static str,
    /// Its upright.
    pub regular: &'static str,
    /// Its italic, if it has one.
    pub italic: Option<&'static str>,
    /// Its bold, if it has one.
    pub bold: Option<&'static str>,
}

impl Family {
    /// Its face for a role; its upright where it has no other.
    pub fn face(&self, role: Role) -> &'static str {
        match role {
            Role::Heading | Role::Label | Role::SmallCapitals => self.regular,
            Role::HeadingItalic | Role::LabelItalic => self.italic.unwrap_or(self.regular),
            Role::LabelBold => self.bold.unwrap_or(self.regular),
        }
    }
}

/// A family of an upright, an italic and a bold.
const fn whole(name: &'static str, what: &'static str, [regular, italic, bold]: [&'static str; 3]) -> Family {
    Family { name, what, regular, italic: Some(italic), bold: Some(bold) }
}

/// The typefaces, serifs first, then those without, then those for large words, then handwriting.
pub const FAMILIES: [Family; 16] = [
    whole(
        "Libertinus Serif",
        "a serif of the printed book, for headings and long texts",
        ["LibertinusSerif-Regular", "LibertinusSerif-Italic", "LibertinusSerif-Bold"],
    ),
    whole("Lora", "a serif with brushed curves, for headings and texts", ["Lora-Regular", "Lora-Italic", "Lora-Bold"]),
    whole(
        "Crimson Pro",
        "a light serif of the old style, for quiet pages",
        ["CrimsonPro-Regular", "CrimsonPro-Italic", "CrimsonPro-Bold"],
    ),
    whole(
        "Fraunces",
        "a soft serif with round ends, for warm headings; its bold is a semibold",
        ["Fraunces-Regular", "Fraunces-Italic", "Fraunces-SemiBold"],
    ),
    whole(
        "Zilla Slab",
        "a slab serif, for sober headings and labels",
        ["ZillaSlab-Regular", "ZillaSlab-Italic", "ZillaSlab-Bold"],
    ),
    whole(
        "Noto Sans",
        "a plain sans serif of many languages, for labels",
        ["NotoSans-Regular", "NotoSans-Italic", "NotoSans-Bold"],
    ),
    whole("Karla", "a narrow sans serif with character, for labels", ["Karla-Regular", "Karla-Italic", "Karla-Bold"]),
    whole(
        "Nunito",
        "a sans serif with round ends, for friendly labels",
        ["Nunito-Regular", "Nunito-Italic", "Nunito-Bold"],
    ),
    whole(
        "Work Sans",
        "a wide sans serif that is read well when small, for labels",
        ["WorkSans-Regular", "WorkSans-Italic", "WorkSans-Bold"],
    ),
    Family {
        name: "Quicksand",
        what: "a round geometric sans serif, for light headings",
        regular: "Quicksand-Regular",
        italic: None,
        bold: Some("Quicksand-Bold"),
    },
    whole(
        "Josefin Sans",
        "a geometric sans serif with small letters low, for elegant headings",
        ["JosefinSans-Regular", "JosefinSans-Italic", "JosefinSans-Bold"],
    ),
    whole(
        "Playfair Display",
        "a high-contrast serif, for large headings",
        ["PlayfairDisplay-Regular", "PlayfairDisplay-Italic", "PlayfairDisplay-Bold"],
    ),
    Family {
        name: "DM Serif Display",
        what: "a heavy serif of strong contrast, for large headings",
        regular: "DMSerifDisplay-Regular",
        italic: Some("DMSerifDisplay-Italic"),
        bold: None,
    },
    Family {
        name: "Amatic SC",
        what: "tall narrow hand-drawn capitals, for large headings",
        regular: "AmaticSC-Regular",
        italic: None,
        bold: Some("AmaticSC-Bold"),
    },
    Family {
        name: "Caveat",
        what: "a quick handwriting, for headings",
        regular: "Caveat-Regular",
        italic: None,
        bold: Some("Caveat-Bold"),
    },
    Family {
        name: "Patrick Hand",
        what: "a neat handwriting in print letters, for headings and labels",
        regular: "PatrickHand-Regular",
        italic: None,
        bold: None,
    },
];

/// A face beside those of its family.
const SEMIBOLD: &str = "LibertinusSerif-Semibold";

/// A font that the tool brings along, by the PostScript name of its face.
pub fn font(name: &'static str) -> Option<FontFile> {
    static KNOWN: Mutex<Bytes> = Mutex::new(Bytes::new());
    let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    let bytes = match known.get(name) {
        Some(bytes) => bytes.clone(),
        None => {
            let bytes = carried(name)?;
            known.insert(name, bytes.clone());
            bytes
        }
    };
    Some(FontFile { from: name.to_owned(), bytes, built_in: true, figures: None })
}

/// The names of the faces that a manifest or a look may ask for.
pub fn faces() -> impl Iterator<Item = &'static str> {
    let each = FAMILIES.iter().flat_map(|f| [Some(f.regular), f.italic, f.bold]);
    each.flatten().chain([SEMIBOLD])
}

/// A typeface by its name.
pub fn family(name: &str) -> Option<&'static Family> {
    FAMILIES.iter().find(|family| family.name == name)
}

/// A face by its name, or the upright of a typeface, by a name that need not live as long as the program.
pub fn font_named(name: &str) -> Option<FontFile> {
    let face = family(name).map(|family| family.regular).or_else(|| faces().find(|face| *face == name));
    face.and_then(font)
}

/// Every name that a manifest or a look may say: those of typefaces and of faces.
pub fn names() -> impl Iterator<Item = &'static str> {
    FAMILIES.iter().map(|family| family.name).chain(faces())
}

/// Who made a typeface, in the words of its own files.
pub fn rights(family: &Family) -> Option<String> {
    let font = font(family.regular)?;
    let face = Face::parse(&font.bytes, 0).ok()?;
    let mut names = face.names().into_iter().filter(|n| n.name_id == name_id::COPYRIGHT_NOTICE && n.is_unicode());
    names.find_map(|n| n.to_string())
}

fn carried(name: &str) -> Option<Blob> {
    match name {
        "NotoSans-Regular" => Some(notosans::REGULAR_TTF.into()),
        "NotoSans-Bold" => Some(notosans::BOLD_TTF.into()),
        "NotoSans-Italic" => Some(notosans::ITALIC_TTF.into()),
        other => unpacked(other).or_else(|| libertinus(other).map(Blob::from)),
    }
}

fn unpacked(name: &str) -> Option<Blob> {
    let (_, packed, length) = packed::PACKED.iter().find(|(face, _, _)| *face == name)?;
    let mut bytes = Vec::with_capacity(*length);
    ZlibDecoder::new(*packed).read_to_end(&mut bytes).ok()?;
    Some(Blob::from(bytes))
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

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::fonts::{Embedding, embedding};

    /// What the European languages of the house need beyond plain letters.
    const LETTERS: &str = "ÄÖÜäöüßÀÉÈÊÇàéèêçœŒñÑáíóúãõåÅøØąćęłńóśźżĄŁŻ–—‘’“”„«»…•·×€½";

    #[test]
    fn each_face_is_the_font_that_it_is_called_and_may_be_embedded() {
        for name in faces() {
            let font = font(name).unwrap_or_else(|| panic!("{name} is not carried"));
            assert_eq!(embedding(&font.bytes), Some(Embedding::Installable), "{name}");
            let face = Face::parse(&font.bytes, 0).unwrap();
            let names = face.names().into_iter().filter(|n| n.name_id == name_id::POST_SCRIPT_NAME);
            let called: Vec<String> = names.filter_map(|n| n.to_string()).collect();
            assert!(called.iter().any(|c| c == name || format!("{c}-Regular") == name), "{name}: {called:?}");
            let missing: String = LETTERS.chars().filter(|c| face.glyph_index(*c).is_none()).collect();
            assert_eq!(missing, "", "{name}");
        }
    }

    #[test]
    fn every_packed_face_belongs_to_a_typeface_and_every_typeface_says_whose_it_is() {
        for (name, _, length) in packed::PACKED {
            assert!(faces().any(|face| face == *name), "{name}");
            assert_eq!(unpacked(name).unwrap().len(), *length, "{name}");
        }
        for family in &FAMILIES {
            let rights = rights(family).unwrap_or_default();
            assert!(rights.contains("opyright") || rights.contains('©'), "{}: {rights:?}", family.name);
        }
    }
}
