//! What metals look like under a lamp at the upper left.

use base::model::Rgb;
use base::model::look::Metal;

/// The tones of a metal.
#[derive(Clone, Copy)]
pub struct Tones {
    /// Its own.
    pub body: Rgb,
    /// Its shadow side.
    pub deep: Rgb,
    /// Its light.
    pub shine: Rgb,
    /// Its outline.
    pub outline: Rgb,
}

impl Tones {
    /// Those of a metal of a style.
    pub fn of(metal: Metal) -> Tones {
        Tones::hex(match metal {
            Metal::Silver => [0xa9acb0, 0x6e7278, 0xf2f3f4, 0x55585e],
            Metal::Brass => [0xc9a75a, 0x8b6b2c, 0xf8ecc4, 0x6b5120],
            Metal::Black => [0x4b4d52, 0x26282c, 0xa9adb4, 0x17181b],
            Metal::Copper => [0xbf7d58, 0x84492c, 0xf3cdb4, 0x683820],
            Metal::White => [0xececea, 0xb9b9b6, 0xffffff, 0x94948f],
        })
    }

    /// From numbers, as colours are written: body, shadow, light, outline.
    pub(crate) fn hex([body, deep, shine, outline]: [u32; 4]) -> Tones {
        let rgb = |n: u32| Rgb::new((n >> 16) as u8, (n >> 8) as u8, n as u8);
        Tones { body: rgb(body), deep: rgb(deep), shine: rgb(shine), outline: rgb(outline) }
    }
}
