//! A picture as an image XObject: its colours, and its alpha as a soft mask (ISO 32000-1, 8.9.5 and 11.6.5.3).
//!
//! Its data goes into the document model as it will lie in the file: the pixels of many stickers take hundreds of
//! megabytes, and the model would deflate one after the other.

use super::save::{self, FINISHED};
use base::deflate::{zlib_rows, zlib_rows_in_haste};
use base::model::drawing::Picture;
use printpdf::{DictItem, ExternalStream, ExternalXObject, XObject};
use raster::rows;
use std::collections::BTreeMap;

/// The picture for the document model, in haste packed as quickly as can be where it is painted. One that is opaque throughout
/// has no mask.
pub fn object(picture: &Picture, hasty: bool) -> XObject {
    let rgba = picture.rgba.bytes();
    let pixels = rgba.as_chunks::<4>().0;
    let colours: Vec<[u8; 3]> = pixels.iter().map(|[r, g, b, _]| [*r, *g, *b]).collect();
    let mut stream = image(picture, (b"DeviceRGB", 3), colours.into_flattened(), hasty);
    if pixels.iter().any(|pixel| pixel[3] < 255) {
        let mask = image(picture, (b"DeviceGray", 1), pixels.iter().map(|pixel| pixel[3]).collect(), hasty);
        stream.dict.insert("SMask".to_owned(), DictItem::Stream { stream: mask });
    }
    XObject::External(ExternalXObject { stream, width: None, height: None, dpi: None })
}

/// Its pixels in a colour space of so many channels.
fn image(picture: &Picture, (space, channels): (&[u8], usize), plain: Vec<u8>, hasty: bool) -> ExternalStream {
    let name = |name: &[u8]| DictItem::Name(name.to_vec());
    let dict = [
        ("Type", name(b"XObject")),
        ("Subtype", name(b"Image")),
        ("Width", DictItem::Int(picture.width.into())),
        ("Height", DictItem::Int(picture.height.into())),
        ("BitsPerComponent", DictItem::Int(8)),
        ("ColorSpace", name(space)),
        (FINISHED, DictItem::Bool(true)),
    ];
    let mut dict = BTreeMap::from(dict.map(|(key, item)| (key.to_owned(), item)));
    let width = picture.width as usize;
    let differences = if hasty { rows::differences_in_haste } else { rows::differences };
    let rows = rows::painted(&plain, width, channels).then(|| differences(&plain, width, channels));
    let packed = match &rows {
        Some(rows) => Some(if hasty { zlib_rows_in_haste(rows) } else { zlib_rows(rows) })
            .filter(|packed| packed.len() < plain.len()),
        None => save::smaller(&plain),
    };
    let content = match packed {
        Some(packed) => {
            dict.insert("Filter".to_owned(), name(b"FlateDecode"));
            if rows.is_some() {
                // A filter for each row (7.4.4.4).
                let parms = [("Predictor", 15), ("Colors", channels as i64), ("Columns", picture.width.into())];
                let map = parms.map(|(key, value)| (key.to_owned(), DictItem::Int(value))).into();
                dict.insert("DecodeParms".to_owned(), DictItem::Dict { map });
            }
            packed
        }
        None => plain,
    };
    ExternalStream { dict, content, compress: false }
}
