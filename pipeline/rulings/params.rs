//! What the parameters of rulings have in common: pitches by name, colours, weekdays, and plain words for a value
//! that does not fit.

use base::colour;
use base::keys::{COLOUR, Described, Shape, Word};
use base::model::{Mm, Rgb};
use draw::Pen;
use serde::Deserialize;
use serde::de::{Deserializer, Error, Unexpected, Visitor};
use std::fmt;
use std::ops::RangeInclusive;

/// Line pitches that stationery goes by, in mm (rounded from the inch measures 11/32, 9/32 and 1/4).
pub const NAMED: [(&str, f64); 3] = [("wide", 8.7), ("college", 7.1), ("narrow", 6.35)];

/// Distance from line to line: a number of mm, or `wide`, `college`, `narrow`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pitch(pub f64);

impl Pitch {
    /// College ruling, the house's own.
    pub const COLLEGE: Pitch = Pitch(7.1);

    /// Wide ruling: rows that are ticked or filled in.
    pub const WIDE: Pitch = Pitch(8.7);

    /// The same in points.
    pub fn pt(self) -> f64 {
        Mm(self.0).pt()
    }
}

impl Described for Pitch {
    fn shape() -> Shape {
        let word = |word, doc| Word { word, doc };
        let named = vec![word("wide", "8.7 mm"), word("college", "7.1 mm"), word("narrow", "6.35 mm")];
        Shape::Either(vec![Shape::Number, Shape::Words(named)])
    }
}

impl<'de> Deserialize<'de> for Pitch {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Pitch, D::Error> {
        struct Reader;
        impl Visitor<'_> for Reader {
            type Value = Pitch;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a number of mm, or \"wide\", \"college\" or \"narrow\"")
            }
            fn visit_f64<E: Error>(self, v: f64) -> Result<Pitch, E> {
                Ok(Pitch(v))
            }
            fn visit_i64<E: Error>(self, v: i64) -> Result<Pitch, E> {
                Ok(Pitch(v as f64))
            }
            fn visit_u64<E: Error>(self, v: u64) -> Result<Pitch, E> {
                Ok(Pitch(v as f64))
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<Pitch, E> {
                let named = NAMED.iter().find(|(name, _)| *name == v);
                named.map(|(_, mm)| Pitch(*mm)).ok_or_else(|| E::invalid_value(Unexpected::Str(v), &self))
            }
        }
        from.deserialize_any(Reader)
    }
}

/// A colour, `#rrggbb` or `#rgb`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Colour(pub Rgb);

impl Described for Colour {
    fn shape() -> Shape {
        Shape::Form("a colour", COLOUR)
    }
}

impl<'de> Deserialize<'de> for Colour {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Colour, D::Error> {
        let text = String::deserialize(from)?;
        Rgb::parse(&text)
            .map(Colour)
            .ok_or_else(|| D::Error::invalid_value(Unexpected::Str(&text), &"a colour such as \"#8a8f98\""))
    }
}

/// The pen of a ruling that may bring its own weight (points) and colour.
pub fn pen(base: &Pen, weight: Option<f64>, own: Option<Colour>) -> Pen {
    let mut pen = *base;
    if let Some(w) = weight {
        // On small pictures the pen is heavier than 0.5 pt: a light rule stays lighter than a heavy one there too.
        pen.weight *= w / 0.5;
    }
    if let Some(Colour(c)) = own {
        pen.rule = c;
        pen.grid = colour::mix(c, pen.paper, 0.4);
        pen.dot = c;
    }
    pen
}

/// Refuses a list with too few or too many entries.
pub fn length(name: &str, given: usize, range: RangeInclusive<usize>) -> Result<(), String> {
    if range.contains(&given) {
        return Ok(());
    }
    Err(format!("{name} has {given} entries; give {} to {}", range.start(), range.end()))
}

/// Refuses a list of labels that is not of the length that is needed.
pub fn labels(name: &str, given: usize, needed: usize, what: &str) -> Result<(), String> {
    if given == needed { Ok(()) } else { Err(format!("{name} has {given} entries; give {needed}, {what}")) }
}

/// Names of weekdays or months as the labels that a manifest may replace.
pub fn named(names: &[&str]) -> Vec<String> {
    names.iter().map(|name| (*name).to_owned()).collect()
}

/// What is ticked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum Mark {
    /// A square with round corners.
    #[default]
    Box,
    /// A circle.
    Circle,
}
