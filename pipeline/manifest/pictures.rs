//! Picture files as pixels.

use super::Context;
use super::source::suggest_file;
use base::files;
use base::model::drawing::Picture;
use base::model::pixels::Read;
use base::model::{Blob, Fault};
use raster::decode as raster;
use std::sync::Arc;

/// Reads a PNG or JPEG that the manifest names; notes what is wrong at the name.
pub fn open(cx: &mut Context, path: &toml::Spanned<String>) -> Option<Arc<Picture>> {
    let name = path.get_ref();
    let read =
        cx.world.read(name).and_then(|bytes| files::made(cx.world, "picture", name, &bytes, || opened(name, &bytes)));
    match read {
        Ok(picture) => Some(picture),
        Err(fault) => {
            let near = cx.world.nearby(path.get_ref());
            let help = fault
                .help
                .clone()
                .or_else(|| fault.message.contains("no such file").then(|| suggest_file(path.get_ref(), &near)));
            cx.source.fault(path.span(), fault.message, help);
            None
        }
    }
}

fn opened(path: &str, bytes: &Blob) -> Result<Picture, Fault> {
    Ok(held(bytes, decode(path, bytes)?, raster::pixels))
}

/// Pixels that take more bytes than this are read anew from their file when they are looked at: sheets of drawings do, pages do
/// not.
const LARGE: usize = 48 << 20;

/// A picture, a large one without its pixels in memory; `read` takes them from the file.
pub fn held(file: &Blob, picture: Picture, read: Read) -> Picture {
    if picture.rgba.len() <= LARGE {
        return picture;
    }
    Picture { rgba: picture.rgba.left_in(file.clone(), read), ..picture }
}

/// Pixels of a PNG or JPEG file; what cannot be used as it is (cut off, in the colours of printing ink, far too large) is
/// refused with a word on why.
pub fn decode(path: &str, bytes: &[u8]) -> Result<Picture, Fault> {
    raster::decode(path, bytes).map(|read| read.picture).map_err(|fault| Fault {
        message: format!("{path:?} is not a picture that can be read: {}", fault.message),
        help: fault.help.or(Some("export it again as PNG or JPEG, in sRGB".into())),
        ..Fault::new("")
    })
}
