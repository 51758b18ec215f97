//! The listing pictures, small enough to look at beside each other; one that moves stands still until the designer starts it, and a
//! film plays in the page.

use super::{Pictures, ProofInput, Small, Source, encode};
use base::model::drawing::Picture;
use base::model::facts::{Facts, Inspected};
use base::model::units::byte_size;
use base::model::{Blob, Stop};
use inspect::pdf::drawing::Unopened;
use raster::{Raster, resize};
use rayon::prelude::*;
use serde::Serialize;

/// Where listing pictures lie in a bundle.
pub const FOLDER: &str = "listing/pictures/";
/// Width in pixels: twice as wide as a shop shows them in its lists.
const WIDTH: usize = 600;
/// A GIF with more bytes is shown by its first frame alone, and a film by its name.
const MOST: usize = 4 << 20;

/// A listing picture on the page.
#[derive(Serialize)]
pub struct Shot {
    name: String,
    says: String,
    width: u32,
    height: u32,
    /// The picture as it stands; a film has none.
    picture: Option<usize>,
    /// The picture that moves.
    moving: Option<usize>,
    /// The film as a data address.
    pub film: Option<String>,
}

/// The pictures in the order in which the shop gets them.
///
/// # Errors
/// That nobody wants them any more.
pub fn shots(sheet: &ProofInput, source: &dyn Source, pictures: &mut Pictures) -> Result<Vec<Shot>, Stop> {
    let files: Vec<&(&Inspected, &Blob)> = sheet.files.iter().filter(|(f, _)| f.path.starts_with(FOLDER)).collect();
    let made: Vec<Option<String>> = files
        .par_iter()
        .map(|(file, bytes)| source.small(Small::Listing(&file.sha256), &|| small(bytes)))
        .collect::<Result<_, _>>()?;
    let mut out = Vec::new();
    for ((file, bytes), made) in files.into_iter().zip(made) {
        let Some((width, height)) = size(file) else { continue };
        let mut shot = Shot {
            name: file.name().to_owned(),
            says: format!("{width} × {height} px, {}", byte_size(file.size)),
            width,
            height,
            picture: None,
            moving: None,
            film: None,
        };
        match (&file.facts, made) {
            (Facts::Picture(film), _) if film.milliseconds.is_some() => {
                let long = film.milliseconds.unwrap_or_default() as f64 / 1000.0;
                shot.says = format!("{}, {long:.1} seconds", shot.says);
                shot.film = (bytes.len() <= MOST).then(|| encode::address("video/mp4", bytes));
            }
            (facts, Some(still)) => {
                shot.picture = Some(pictures.add(still));
                let moves = matches!(facts, Facts::Picture(p) if p.frames > 1) && bytes.len() <= MOST;
                shot.moving = moves.then(|| pictures.add(encode::address("image/gif", bytes)));
            }
            (_, None) => continue,
        }
        out.push(shot);
    }
    Ok(out)
}

fn size(file: &Inspected) -> Option<(u32, u32)> {
    match &file.facts {
        Facts::Png(png) => Some((png.width, png.height)),
        Facts::Picture(picture) => Some((picture.width, picture.height)),
        _ => None,
    }
}

/// The first page of a PDF, as small and as a data address; `None` if it cannot be drawn.
pub fn first_page(pdf: Blob) -> Option<String> {
    let pages = Unopened::new(pdf).each(&[0], |page| {
        let px = page.pixels(|size| WIDTH as f64 / size.w.max(1.0))?;
        Some(encode::page(px.width, px.height, &px.rgba))
    });
    pages.into_iter().next().flatten()
}

/// The picture, or its first frame, small and as a data address.
pub fn small(bytes: &[u8]) -> Option<String> {
    let (w, h, rgba) = if bytes.starts_with(b"GIF") {
        first_frame(bytes)?
    } else {
        let read = image::load_from_memory(bytes).ok()?.into_rgba8();
        (read.width(), read.height(), read.into_raw())
    };
    let whole = Raster::of(&Picture { name: String::new(), width: w, height: h, rgba: rgba.into() });
    let wide = WIDTH.min(whole.w);
    let high = ((whole.h * wide) as f64 / whole.w.max(1) as f64).round().max(1.0) as usize;
    let small = if wide < whole.w { resize::resize(&whole, wide, high) } else { whole };
    Some(encode::page(small.w, small.h, &small.bytes()))
}

fn first_frame(bytes: &[u8]) -> Option<(u32, u32, Vec<u8>)> {
    let mut options = gif::DecodeOptions::new();
    options.set_color_output(gif::ColorOutput::RGBA);
    let mut decoder = options.read_info(bytes).ok()?;
    let (w, h) = (usize::from(decoder.width()), usize::from(decoder.height()));
    let frame = decoder.read_next_frame().ok()??;
    let mut whole = vec![255; w * h * 4];
    let (left, top, wide) = (usize::from(frame.left), usize::from(frame.top), usize::from(frame.width));
    for (y, row) in frame.buffer.chunks_exact((wide * 4).max(1)).enumerate() {
        let at = ((top + y) * w + left) * 4;
        whole.get_mut(at..at + row.len())?.copy_from_slice(row);
    }
    Some((w as u32, h as u32, whole))
}
