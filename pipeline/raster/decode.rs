//! Picture files into pixels: PNG and JPEG, with a limit on size and a plain word for what cannot be used.
//!
//! PNG comes in many forms (1 to 16 bits, grey, palette, interlaced); all become 8-bit sRGB with straight alpha.

use crate::jpeg as jpeg_head;
use base::model::drawing::Picture;
use base::model::{Fault, panics};
use std::io::Cursor;

/// The most pixels along one side of a picture that is read.
pub const MOST_SIDE: u32 = 20_000;
/// The most pixels of a picture that is read: half a gigabyte of memory.
pub const MOST_PIXELS: u64 = 120_000_000;

/// A picture, and what the designer should know of it.
#[derive(Debug)]
pub struct Decoded {
    /// The pixels.
    pub picture: Picture,
    /// Such as that an animation's first frame was taken.
    pub notes: Vec<String>,
}

/// Reads a PNG or JPEG file. `name` is its path, for messages.
pub fn decode(name: &str, bytes: &[u8]) -> Result<Decoded, Fault> {
    panics::file("picture", name, || decoded(name, bytes))
}

/// The pixels of a picture that was decoded before; `None` for anything else.
pub fn pixels(bytes: &[u8]) -> Option<Vec<u8>> {
    Some(decode("", bytes).ok()?.picture.rgba.into_vec())
}

/// The same as the picture is meant to be seen, where a camera only noted how it was held.
pub fn upright_pixels(bytes: &[u8]) -> Option<Vec<u8>> {
    Some(jpeg_head::upright(bytes, decode("", bytes).ok()?.picture).rgba.into_vec())
}

fn decoded(name: &str, bytes: &[u8]) -> Result<Decoded, Fault> {
    let made = if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        png(name, bytes)
    } else if bytes.starts_with(b"\xff\xd8\xff") {
        jpeg(name, bytes)
    } else {
        let what = if bytes.is_empty() { "the file is empty" } else { "this is neither a PNG nor a JPEG picture" };
        Err(Fault::new(what).help("export it as PNG (for stickers, with a transparent ground) or JPEG"))
    };
    made.map_err(|f| f.in_file(name))
}

/// Refuses a canvas that is empty or too large to handle, before any memory is taken for it.
pub fn check_size(w: u64, h: u64) -> Result<(), Fault> {
    if w == 0 || h == 0 {
        return Err(Fault::new(format!("the picture has no area: {w} × {h} px")).help("export it anew"));
    }
    if w > u64::from(MOST_SIDE) || h > u64::from(MOST_SIDE) || w * h > MOST_PIXELS {
        return Err(Fault::new(format!(
            "the picture is {w} × {h} px; at most {MOST_SIDE} px a side and {} million in all can be used",
            MOST_PIXELS / 1_000_000
        ))
        .help("export it smaller: 1,200 px make a sticker of 100 mm at 300 dpi"));
    }
    Ok(())
}

fn png(name: &str, bytes: &[u8]) -> Result<Decoded, Fault> {
    let broken = |e: png::DecodingError| {
        let message = match &e {
            png::DecodingError::IoError(io) if io.kind() == std::io::ErrorKind::UnexpectedEof => {
                format!("the PNG is cut off: it ends after {} bytes, before its picture does", bytes.len())
            }
            _ => match plain(&e.to_string()) {
                // The library shows its own types where a part of the file is out of place.
                said if said.contains('{') => "the PNG is damaged: a part of it is unknown or out of place".to_owned(),
                said => format!("the PNG is damaged: {said}"),
            },
        };
        Fault::new(message).help("export it again, or copy it anew from where it came")
    };
    // A buffer that grows with the file is no protection: the size is checked before the first row is read.
    let mut decoder = png::Decoder::new_with_limits(Cursor::new(bytes), png::Limits { bytes: 1 << 30 });
    decoder.set_transformations(png::Transformations::normalize_to_color8() | png::Transformations::ALPHA);
    let header = decoder.read_header_info().map_err(broken)?;
    check_size(u64::from(header.width), u64::from(header.height))?;
    let mut reader = decoder.read_info().map_err(broken)?;
    let mut notes = Vec::new();
    let info = reader.info();
    if let Some(control) = info.animation_control() {
        notes.push(format!("the PNG is animated ({} frames); the first is used", control.num_frames));
    }
    if info.icc_profile.is_some() && info.srgb.is_none() {
        notes.push("the PNG carries a colour profile; its numbers are taken as sRGB".to_owned());
    }
    let (w, h) = (info.width, info.height);
    let size = reader.output_buffer_size().ok_or_else(|| Fault::new("the PNG is too large to read"))?;
    let mut data = vec![0; size];
    let frame = reader.next_frame(&mut data).map_err(broken)?;
    reader.finish().map_err(broken)?;
    data.truncate(frame.buffer_size());
    let rgba = match frame.color_type {
        png::ColorType::Rgba => data,
        png::ColorType::Rgb => data.chunks_exact(3).flat_map(|c| [c[0], c[1], c[2], 255]).collect(),
        png::ColorType::GrayscaleAlpha => data.chunks_exact(2).flat_map(|c| [c[0], c[0], c[0], c[1]]).collect(),
        png::ColorType::Grayscale => data.iter().flat_map(|g| [*g, *g, *g, 255]).collect(),
        png::ColorType::Indexed => return Err(Fault::new("the PNG's palette could not be read")),
    };
    Ok(Decoded { picture: Picture { name: name.to_owned(), width: w, height: h, rgba: rgba.into() }, notes })
}

fn jpeg(name: &str, bytes: &[u8]) -> Result<Decoded, Fault> {
    use image::ImageDecoder;
    let broken = |e: image::ImageError| {
        Fault::new(format!("the JPEG cannot be read: {}", plain(&e.to_string())))
            .help("export it again as RGB JPEG or PNG")
    };
    let decoder = image::codecs::jpeg::JpegDecoder::new(Cursor::new(bytes)).map_err(broken)?;
    let (w, h) = decoder.dimensions();
    check_size(u64::from(w), u64::from(h))?;
    // The library tells some of them as RGB once it has turned them into that, by a guess.
    if decoder.original_color_type() == image::ExtendedColorType::Cmyk8 || jpeg_head::channels(bytes) == Some(4) {
        return Err(Fault::new("the JPEG is in CMYK, the colours of printing ink")
            .help("export it in sRGB: screens have no ink, and a guess would change your colours"));
    }
    let rgba = image::DynamicImage::from_decoder(decoder).map_err(broken)?.into_rgba8().into_raw();
    Ok(Decoded {
        picture: Picture { name: name.to_owned(), width: w, height: h, rgba: rgba.into() },
        notes: Vec::new(),
    })
}

/// A library's message without its own name for the format in front.
fn plain(message: &str) -> String {
    let m = message.trim_start_matches("Format error decoding Jpeg: ").trim_matches('"').trim_end_matches('.');
    m.to_lowercase()
}
