//! Pictures inside of a drawing (`data:` addresses): their size is looked at before anybody unpacks them.

use super::{MOST_PICTURED, MOST_UNPACKED};
use crate::artwork::inner;
use base::model::Fault;
use raster::decode::check_size;
use resvg::usvg::{ImageHrefResolver, ImageKind, Options, roxmltree};
use std::io::Read;
use std::sync::{Arc, Mutex};

/// What was found in the pictures of one drawing.
#[derive(Default)]
pub struct Found {
    pixels: u64,
    /// What cannot be used.
    pub fault: Option<Fault>,
}

/// What usvg asks for the picture behind an address: its kind, its bytes, and how drawings are read.
type Resolver<'f> = Box<dyn Fn(&str, Arc<Vec<u8>>, &Options) -> Option<ImageKind> + Send + Sync + 'f>;

/// A resolver of addresses that hold their data; what goes beyond a limit is noted and left out.
pub fn resolver(found: &Mutex<Found>) -> Resolver<'_> {
    let usual = ImageHrefResolver::default_data_resolver();
    Box::new(move |mime, data, options| {
        let Ok(mut found) = found.lock() else { return None };
        match looked_at(data, &mut found) {
            Ok(data) => {
                // A drawing inside of the drawing asks for nothing here: it may hold no pictures.
                drop(found);
                let plain = inner::plain(data);
                // What was in inks is a PNG now.
                let mime = if plain.starts_with(b"\x89PNG") { "image/png" } else { mime };
                usual(mime, plain, options)
            }
            Err(fault) => {
                found
                    .fault
                    .get_or_insert(Fault { message: format!("a picture inside of it: {}", fault.message), ..fault });
                None
            }
        }
    })
}

/// The data, unpacked where they are a packed drawing.
fn looked_at(data: Arc<Vec<u8>>, found: &mut Found) -> Result<Arc<Vec<u8>>, Fault> {
    let data = if data.starts_with(&[0x1f, 0x8b]) {
        let mut out = Vec::new();
        // Data that do not unpack to their end are for the library to refuse.
        let _ = flate2::read::GzDecoder::new(&data[..]).take(MOST_UNPACKED + 1).read_to_end(&mut out);
        if out.len() as u64 > MOST_UNPACKED {
            return Err(Fault::new(format!("it unpacks to more than {} MiB, which are the most", MOST_UNPACKED >> 20))
                .help("leave it out, or export it as plain SVG"));
        }
        Arc::new(out)
    } else {
        data
    };
    match size(&data) {
        Some((w, h)) => {
            check_size(w, h)?;
            found.pixels = found.pixels.saturating_add(w * h);
            if found.pixels > MOST_PICTURED {
                return Err(Fault::new(format!(
                    "all pictures of the drawing up to this one have {} pixels; {MOST_PICTURED} are the most",
                    found.pixels
                ))
                .help("export the pictures smaller, or give them as files of their own"));
            }
        }
        None => drawing(&data)?,
    }
    Ok(data)
}

/// A drawing inside of the drawing has the same limits.
fn drawing(data: &[u8]) -> Result<(), Fault> {
    let Ok(text) = std::str::from_utf8(data) else { return Ok(()) };
    super::text(text).map_err(|f| Fault { span: None, ..f })?;
    let options = roxmltree::ParsingOptions { allow_dtd: true, nodes_limit: 500_000, ..Default::default() };
    // What is no drawing is for the library to refuse.
    let Ok(doc) = roxmltree::Document::parse_with_options(text, options) else { return Ok(()) };
    super::parts(&doc, text).map_err(|f| Fault { span: None, ..f })
}

/// Width and height as the header says: PNG (IHDR), JPEG (SOF), GIF (screen), WebP (RFC 9649).
fn size(data: &[u8]) -> Option<(u64, u64)> {
    let big = |at: usize, n: usize| data.get(at..at + n).map(|b| b.iter().fold(0, |v, b| v << 8 | u64::from(*b)));
    let little =
        |at: usize, n: usize| data.get(at..at + n).map(|b| b.iter().rev().fold(0, |v, b| v << 8 | u64::from(*b)));
    if data.starts_with(b"\x89PNG") {
        return Some((big(16, 4)?, big(20, 4)?));
    }
    if data.starts_with(b"GIF8") {
        return Some((little(6, 2)?, little(8, 2)?));
    }
    if data.starts_with(b"RIFF") && data.get(8..12) == Some(b"WEBP") {
        return match data.get(12..16)? {
            b"VP8X" => Some((little(24, 3)? + 1, little(27, 3)? + 1)),
            b"VP8 " => Some((little(26, 2)? & 0x3fff, little(28, 2)? & 0x3fff)),
            _ => {
                let bits = little(21, 4)?;
                Some(((bits & 0x3fff) + 1, (bits >> 14 & 0x3fff) + 1))
            }
        };
    }
    if !data.starts_with(b"\xff\xd8\xff") {
        return None;
    }
    let mut at = 2;
    while let (Some(0xff), Some(marker)) = (big(at, 1), big(at + 1, 1)) {
        match marker {
            0xff => at += 1,
            0x01 | 0xd0..=0xd8 => at += 2,
            0xc0..=0xcf if !matches!(marker, 0xc4 | 0xc8 | 0xcc) => return Some((big(at + 7, 2)?, big(at + 5, 2)?)),
            _ => at += 2 + big(at + 2, 2)? as usize,
        }
    }
    None
}
