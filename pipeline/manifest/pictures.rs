//! Picture files as pixels.

use super::Context;
use super::source::suggest;
use crate::model::Fault;
use crate::model::drawing::Picture;
use image::{ImageReader, Limits};
use std::io::Cursor;
use std::sync::Arc;

/// The longest side of a picture that is read, in pixels.
const LONGEST: u32 = 20_000;

/// Reads a PNG or JPEG that the manifest names; notes what is wrong at the name.
pub fn open(cx: &mut Context, path: &toml::Spanned<String>) -> Option<Arc<Picture>> {
    match cx.world.read(path.get_ref()).and_then(|bytes| decode(path.get_ref(), &bytes)) {
        Ok(picture) => Some(Arc::new(picture)),
        Err(fault) => {
            let near = cx.world.nearby(path.get_ref());
            let help = fault.help.clone().or_else(|| {
                fault.message.contains("no such file").then(|| suggest(path.get_ref(), near.iter().map(String::as_str)))
            });
            cx.source.fault(path.span(), fault.message, help);
            None
        }
    }
}

/// Pixels of a PNG or JPEG file.
pub fn decode(path: &str, bytes: &[u8]) -> Result<Picture, Fault> {
    let about = |why: String| {
        Fault::new(format!("{path:?} is not a picture that can be read: {why}"))
            .help("export it again as PNG or JPEG, in sRGB")
    };
    let mut reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(|e| about(e.to_string()))?;
    let mut limits = Limits::default();
    limits.max_image_width = Some(LONGEST);
    limits.max_image_height = Some(LONGEST);
    limits.max_alloc = Some(1 << 30);
    reader.limits(limits);
    let image = reader.decode().map_err(|e| about(e.to_string()))?.into_rgba8();
    let (width, height) = image.dimensions();
    Ok(Picture { name: path.to_owned(), width, height, rgba: image.into_raw() })
}
