//! Picture files as pixels.

use super::Context;
use super::source::suggest_file;
use base::files;
use base::files::Notes;
use base::model::drawing::Picture;
use base::model::pixels::{Pixels, Read};
use base::model::{Blob, Fault};
use raster::decode as raster;
use std::sync::Arc;

/// Reads a PNG or JPEG that the manifest names; notes what is wrong at the name.
pub fn open(cx: &mut Context, path: &toml::Spanned<String>) -> Option<Arc<Picture>> {
    let name = path.get_ref();
    let read = cx
        .world
        .read(name)
        .and_then(|bytes| files::made(cx.world, "picture", name, &bytes, || opened(cx.world.notes(), name, &bytes)));
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

/// What a large picture is noted under: it takes half a second to see that one can be read.
const NOTE: &str = "large picture";

fn opened(notes: Option<&dyn Notes>, path: &str, file: &Blob) -> Result<Picture, Fault> {
    let noted = notes.and_then(|notes| borsh::from_slice(&notes.noted(NOTE, file.sha256())?).ok());
    if let Some((width, height, pixels)) = noted {
        let rgba = Pixels::filed(file.clone(), raster::pixels, width as usize * height as usize * 4, pixels);
        return Ok(Picture { name: path.to_owned(), width, height, rgba });
    }
    let picture = decode(path, file)?;
    if picture.rgba.len() <= LARGE {
        return Ok(picture);
    }
    let of = (picture.width, picture.height, picture.rgba.sha256());
    if let (Some(notes), Ok(form)) = (notes, borsh::to_vec(&of)) {
        notes.note(NOTE, file.sha256(), &form);
    }
    Ok(held(file, picture, raster::pixels))
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

/// The same of a file that is held anyway: its pixels are taken from there whenever they are looked at.
pub fn decode_in_file(path: &str, file: &Blob) -> Result<Picture, Fault> {
    let picture = decode(path, file)?;
    Ok(Picture { rgba: picture.rgba.left_in(file.clone(), raster::pixels), ..picture })
}
