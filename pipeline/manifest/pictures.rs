//! Picture files as pixels.

use super::Context;
use super::source::suggest_file;
use base::files;
use base::model::Fault;
use base::model::drawing::Picture;
use raster::decode as raster;
use std::sync::Arc;

/// Reads a PNG or JPEG that the manifest names; notes what is wrong at the name.
pub fn open(cx: &mut Context, path: &toml::Spanned<String>) -> Option<Arc<Picture>> {
    let name = path.get_ref();
    let read =
        cx.world.read(name).and_then(|bytes| files::made(cx.world, "picture", name, &bytes, || decode(name, &bytes)));
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

/// Pixels of a PNG or JPEG file; what cannot be used as it is (cut off, in the colours of printing ink, far too large) is
/// refused with a word on why.
pub fn decode(path: &str, bytes: &[u8]) -> Result<Picture, Fault> {
    raster::decode(path, bytes).map(|read| read.picture).map_err(|fault| Fault {
        message: format!("{path:?} is not a picture that can be read: {}", fault.message),
        help: fault.help.or(Some("export it again as PNG or JPEG, in sRGB".into())),
        ..Fault::new("")
    })
}
