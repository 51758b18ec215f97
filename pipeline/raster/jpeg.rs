//! What the head of a JPEG says: whether it can travel as it is, and which way up it is meant.

use base::model::Pixels;
use base::model::drawing::Picture;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, RgbaImage};
use std::io::Cursor;

/// A JPEG that every reader of PDF can show as it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Head {
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// One channel instead of three.
    pub grey: bool,
}

/// The head of a JPEG with 8 bits and one channel or three, Huffman coded, upright (ITU-T T.81, B.2.2; PDF takes the
/// baseline, extended and progressive processes: ISO 32000-1, 7.4.8).
pub fn plain(bytes: &[u8]) -> Option<Head> {
    if orientation(bytes)? != Orientation::NoTransforms {
        return None;
    }
    let mut at = 2;
    loop {
        while *bytes.get(at)? == 0xff && *bytes.get(at + 1)? == 0xff {
            at += 1;
        }
        let (marker, length) = (*bytes.get(at + 1)?, u16::from_be_bytes([*bytes.get(at + 2)?, *bytes.get(at + 3)?]));
        if bytes[at] != 0xff {
            return None;
        }
        match marker {
            0xc0..=0xc2 => {
                let head = bytes.get(at + 4..at + 10)?;
                let size = |i: usize| u32::from(u16::from_be_bytes([head[i], head[i + 1]]));
                let fits = head[0] == 8 && matches!(head[5], 1 | 3);
                return fits.then(|| Head { height: size(1), width: size(3), grey: head[5] == 1 });
            }
            0xc3 | 0xc5..=0xc7 | 0xc9..=0xcb | 0xcd..=0xcf | 0xda | 0xd9 => return None,
            _ => at += 2 + usize::from(length),
        }
    }
}

/// How many channels a JPEG says that it has (ITU-T T.81, B.2.2).
pub fn channels(bytes: &[u8]) -> Option<u8> {
    let mut at = 2;
    loop {
        while *bytes.get(at)? == 0xff && *bytes.get(at + 1)? == 0xff {
            at += 1;
        }
        let length = u16::from_be_bytes([*bytes.get(at + 2)?, *bytes.get(at + 3)?]);
        match (*bytes.get(at)?, *bytes.get(at + 1)?) {
            (0xff, 0xc4 | 0xc8 | 0xcc) => at += 2 + usize::from(length),
            (0xff, 0xc0..=0xcf) => return bytes.get(at + 9).copied(),
            (0xff, 0xd9 | 0xda) => return None,
            (0xff, _) => at += 2 + usize::from(length),
            _ => return None,
        }
    }
}

fn orientation(bytes: &[u8]) -> Option<Orientation> {
    image::codecs::jpeg::JpegDecoder::new(Cursor::new(bytes)).ok()?.orientation().ok()
}

/// The picture as it is meant to be seen, where a camera only noted how it was held.
pub fn upright(bytes: &[u8], picture: Picture) -> Picture {
    let Some(turn) = orientation(bytes).filter(|t| *t != Orientation::NoTransforms) else { return picture };
    let Picture { name, width, height, rgba } = picture;
    let Some(image) = RgbaImage::from_raw(width, height, rgba.into_vec()) else {
        return Picture { name, width: 0, height: 0, rgba: Pixels::default() };
    };
    let mut image = DynamicImage::ImageRgba8(image);
    image.apply_orientation(turn);
    Picture { name, width: image.width(), height: image.height(), rgba: image.into_rgba8().into_raw().into() }
}
