//! Units: points, millimetres and sRGB colours, each a type of its own so that none is taken for another.

use crate::keys::{Described, Shape};
use serde::{Deserialize, Serialize};
use std::fmt;

/// Points in a millimetre: 72 to the inch, 25.4 mm to the inch (ISO 32000 default user space).
pub const PT_PER_MM: f64 = 72.0 / 25.4;

/// A length in PDF points (1/72 inch).
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize, borsh::BorshSerialize)]
pub struct Pt(pub f64);

/// A length in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize, borsh::BorshSerialize)]
pub struct Mm(pub f64);

impl Described for Mm {
    fn shape() -> Shape {
        Shape::Number
    }
}

impl From<Mm> for Pt {
    fn from(mm: Mm) -> Pt {
        Pt(mm.0 * PT_PER_MM)
    }
}

impl From<Pt> for Mm {
    fn from(pt: Pt) -> Mm {
        Mm(pt.0 / PT_PER_MM)
    }
}

impl Mm {
    /// The same length in points.
    pub fn pt(self) -> f64 {
        self.0 * PT_PER_MM
    }
}

impl fmt::Display for Mm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", trim_number(self.0, 2))
    }
}

/// An sRGB colour, 8 bits a channel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct Rgb {
    /// Red, 0 to 255.
    pub r: u8,
    /// Green, 0 to 255.
    pub g: u8,
    /// Blue, 0 to 255.
    pub b: u8,
}

/// As it is written: `#b8564f`.
impl Serialize for Rgb {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl Rgb {
    /// White.
    pub const WHITE: Rgb = Rgb::new(255, 255, 255);
    /// Black.
    pub const BLACK: Rgb = Rgb::new(0, 0, 0);

    /// A colour from its three channels.
    pub const fn new(r: u8, g: u8, b: u8) -> Rgb {
        Rgb { r, g, b }
    }

    /// Reads `#rgb` or `#rrggbb` (CSS Color 4 hex notation, without alpha). `None` for anything else.
    pub fn parse(text: &str) -> Option<Rgb> {
        let hex = text.strip_prefix('#')?;
        if !hex.is_ascii() {
            return None;
        }
        let digit = |i: usize, n: usize| u8::from_str_radix(&hex[i..i + n], 16).ok();
        match hex.len() {
            6 => Some(Rgb::new(digit(0, 2)?, digit(2, 2)?, digit(4, 2)?)),
            3 => Some(Rgb::new(digit(0, 1)? * 17, digit(1, 1)? * 17, digit(2, 1)? * 17)),
            _ => None,
        }
    }

    /// The channels as fractions from 0 to 1.
    pub fn fractions(self) -> [f64; 3] {
        [f64::from(self.r) / 255.0, f64::from(self.g) / 255.0, f64::from(self.b) / 255.0]
    }
}

impl fmt::Display for Rgb {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.r, self.g, self.b)
    }
}

/// A value held between two bounds that come from input: where they cross, the upper one counts. (`f64::clamp` panics
/// there, and is for bounds that stand in the code.)
pub fn between(value: f64, low: f64, high: f64) -> f64 {
    value.max(low).min(high)
}

/// A number with at most `places` decimals and no trailing zeros: `7.1`, `8`, `0.35`.
pub fn trim_number(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A name in files as people read it: `left-hand` becomes `Left hand`.
pub fn spoken(name: &str) -> String {
    let spaced = name.replace(['-', '_'], " ");
    let mut chars = spaced.chars();
    chars.next().map_or(String::new(), |first| first.to_uppercase().chain(chars).collect())
}

/// A file size for people, with decimal prefixes (SI): `845 bytes`, `31.2 kB`, `20 MB`.
pub fn byte_size(bytes: u64) -> String {
    let value = bytes as f64;
    match bytes {
        1 => "1 byte".to_owned(),
        0..1_000 => format!("{bytes} bytes"),
        // From here on a value that rounds up to 1,000 takes the next prefix.
        1_000..999_950 => format!("{} kB", trim_number(value / 1e3, 1)),
        999_950..999_950_000 => format!("{} MB", trim_number(value / 1e6, 1)),
        _ => format!("{} GB", trim_number(value / 1e9, 2)),
    }
}
