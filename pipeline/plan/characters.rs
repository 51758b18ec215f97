//! Characters and fonts that drawings of stickers ask for and the product does not have: a buyer sees empty boxes.

use base::model::plan::{About, Remark};
use base::model::product::{Sticker, StickerSource};
use base::model::{Fault, Product, Where};
use draw::svg_loader::{MissingGlyph, SvgLoader, UNSET};
use std::collections::BTreeSet;

/// Notes what the drawings of stickers, and of sheets that are cut up, ask for in vain; `stickers` come with their paths
/// in the bundle.
pub fn remarks<'p>(
    product: &'p Product,
    stickers: impl Iterator<Item = (&'p Sticker, &'p str)>,
    remarks: &mut Vec<Remark>,
    faults: &mut Vec<Fault>,
) {
    let sheets = product.stickers.cuts.iter().map(|sheet| (&sheet.source, sheet.path.as_str()));
    let all = stickers.map(|(sticker, path)| (&sticker.source, path)).chain(sheets);
    let mut svg = None;
    let mut read: BTreeSet<(&str, &str)> = BTreeSet::new();
    for (source, path) in all {
        let StickerSource::Svg(file, text) = source else { continue };
        if !text.contains("<text") && !text.contains(":text") || !read.insert((file, path)) {
            continue;
        }
        match svg.get_or_insert_with(|| SvgLoader::new(&product.style)).read(file, text) {
            Ok(loaded) => remarks.extend(loaded.lacks.iter().map(|lack| remark(lack, file, path))),
            Err(fault) if !faults.contains(&fault) => faults.push(fault),
            Err(_) => {}
        }
    }
}

fn remark(lack: &MissingGlyph, file: &str, path: &str) -> Remark {
    let (about, message) = match lack {
        MissingGlyph::Family(name) => {
            (About::ArtFont, format!("a text in {file} asks for the font “{name}”, which the product does not have"))
        }
        MissingGlyph::Character(c) => (
            About::ArtCharacter,
            format!("{file}: no font of the product has the character “{c}” (U+{:04X})", u32::from(*c)),
        ),
        MissingGlyph::Unset(c) => {
            (About::ArtCharacter, format!("{file}: the character “{c}” (U+{:04X}) {UNSET}", u32::from(*c)))
        }
    };
    Remark { about, place: Where::file(path), message }
}
