//! A flip-through: a short silent loop through pages as a GIF.
//!
//! Source: GIF89a specification (1990): delays count in hundredths of a second, one palette of at most 256 colours.

use super::compose::Still;
use super::way::{self, Moment};
use super::{PictureContext, Sketch, Taken};
use base::model::Fault;
use base::model::shot::Shot;
use raster::palette;
use rayon::prelude::*;
use std::collections::BTreeMap;

/// How far a tap has spread at each of its steps, and for how many milliseconds that stands.
const SPREAD: [(f64, u32); 4] = [(0.0, 340), (0.35, 70), (0.7, 70), (1.0, 100)];

/// How long a page stands, in milliseconds.
const PAUSE: u32 = 1400;

/// Colours of the one palette, as many as a GIF can have.
const COLOURS: usize = 256;

/// Lays the moments of the loop out.
pub fn sketch(context: &PictureContext, shot: &Shot) -> Result<Sketch, Vec<Fault>> {
    let pages = way::pages(context, shot, false)?;
    way::sketch(context, shot, way::moments(context, &pages, &SPREAD), shot.pause.unwrap_or(PAUSE))
}

/// Takes the pictures of the loop. Moments that look the same are drawn once.
pub fn through(context: &PictureContext, shot: &Shot, sketch: &Sketch) -> Result<Taken, Vec<Fault>> {
    let mut first: BTreeMap<&str, usize> = BTreeMap::new();
    let mut different: Vec<&str> = Vec::new();
    let which: Vec<usize> = sketch
        .frames
        .iter()
        .map(|frame| {
            *first.entry(frame).or_insert_with(|| {
                different.push(frame);
                different.len() - 1
            })
        })
        .collect();
    let taken: Vec<Result<Still, Vec<Fault>>> = different.par_iter().map(|svg| context.compose(shot, svg)).collect();
    let drawn: Vec<Still> = taken.into_iter().collect::<Result<_, _>>()?;
    let words = drawn.first().map_or(Vec::new(), |f| f.words.clone());
    let frames: Vec<&Still> = which.iter().map(|i| &drawn[*i]).collect();
    let bytes = gif(&frames, &sketch.moments).map_err(|f| vec![f])?;
    Ok(Taken { bytes, words })
}

/// Writes the frames; each holds only the part that changed.
fn gif(frames: &[&Still], moments: &[Moment]) -> Result<Vec<u8>, Fault> {
    let fail = |e: gif::EncodingError| Fault::new(format!("the GIF could not be written: {e}"));
    let Some(first) = frames.first() else { return Err(Fault::new("a loop needs a page")) };
    let side = |v: u32| u16::try_from(v).map_err(|_| Fault::new("a GIF has at most 65,535 pixels a side"));
    let (w, h) = (side(first.width)?, side(first.height)?);
    // Pages as they stand and a last step of a tap have every colour that there is.
    let telling = |m: &Moment| m.tap.is_none_or(|t| t.2 >= 1.0);
    let told = frames.iter().zip(moments).filter(|(_, m)| telling(m));
    let palette = palette::of(told.flat_map(|(f, _)| colours(f)), COLOURS);
    let flat: Vec<u8> = palette.iter().flat_map(|c| [c[0], c[1], c[2]]).collect();
    let indexed: Vec<Vec<u8>> = frames.par_iter().map(|f| palette::index(colours(f), &palette)).collect();
    let mut out = Vec::new();
    let mut encoder = gif::Encoder::new(&mut out, w, h, &flat).map_err(fail)?;
    encoder.set_repeat(gif::Repeat::Infinite).map_err(fail)?;
    for (i, pixels) in indexed.iter().enumerate() {
        let wide = usize::from(w);
        let (x0, y0, x1, y1) = match i.checked_sub(1) {
            Some(before) => changed(&indexed[before], pixels, wide),
            None => (0, 0, wide, usize::from(h)),
        };
        let part: Vec<u8> = (y0..y1).flat_map(|y| pixels[y * wide + x0..y * wide + x1].iter().copied()).collect();
        encoder
            .write_frame(&gif::Frame {
                left: x0 as u16,
                top: y0 as u16,
                width: (x1 - x0) as u16,
                height: (y1 - y0) as u16,
                // In hundredths of a second.
                delay: (moments[i].delay / 10).max(1) as u16,
                dispose: gif::DisposalMethod::Keep,
                buffer: part.into(),
                ..gif::Frame::default()
            })
            .map_err(fail)?;
    }
    drop(encoder);
    Ok(out)
}

/// The smallest rectangle in which two frames differ; one pixel where they don't.
fn changed(before: &[u8], now: &[u8], w: usize) -> (usize, usize, usize, usize) {
    let (mut x0, mut y0, mut x1, mut y1) = (w, usize::MAX, 0, 0);
    for (y, (a, b)) in before.chunks_exact(w).zip(now.chunks_exact(w)).enumerate() {
        let Some(left) = a.iter().zip(b).position(|(p, q)| p != q) else { continue };
        let right = a.iter().zip(b).rposition(|(p, q)| p != q).unwrap_or(left);
        (x0, x1) = (x0.min(left), x1.max(right + 1));
        (y0, y1) = (y0.min(y), y + 1);
    }
    if x1 == 0 { (0, 0, 1, 1) } else { (x0, y0, x1, y1) }
}

/// The pixels of a frame.
fn colours(frame: &Still) -> impl Iterator<Item = palette::Colour> {
    frame.rgb.as_chunks::<3>().0.iter().map(|[r, g, b]| [*r, *g, *b, 255])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_changed_is_written() {
        let before = vec![0; 20];
        let mut now = before.clone();
        assert_eq!(changed(&before, &now, 5), (0, 0, 1, 1));
        now[7] = 1;
        now[13] = 1;
        assert_eq!(changed(&before, &now, 5), (2, 1, 4, 3));
    }

    #[test]
    fn a_palette_keeps_what_covers_most() {
        let mut rgb = Vec::new();
        for i in 0..4000_u32 {
            rgb.extend(if i % 2 == 0 { [250, 249, 243] } else { [(i % 251) as u8, (i % 241) as u8, (i % 239) as u8] });
        }
        let still = Still { width: 4000, height: 1, rgb, words: Vec::new(), page: None };
        let made = palette::of(colours(&still), COLOURS);
        assert!(made.len() <= 256 && made.contains(&[250, 249, 243, 255]));
        assert_eq!(palette::of(colours(&still), COLOURS), made);
        let pixels = palette::index(colours(&still), &made);
        assert_eq!(made[usize::from(pixels[0])], [250, 249, 243, 255]);
    }
}
