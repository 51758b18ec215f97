//! The kit: parts out of which pages are composed, in the program and in the manifest alike.
//!
//! A page is a list of parts, from the top down. A part that stands `beside` another shares its band. The rows of the baseline
//! grid are dealt out to the bands ([`bands`]), and the layout ([`layout`]) stacks them; each part then draws itself between two
//! lines of the grid.
//! Where not everything fits, the page is set more densely ([`ways`]), at last with tables of the same rows as one ([`joined`]);
//! only then is something left out from below, whole: a head never stands alone, a row is never lower than the pitch.

mod asks;
mod bands;
mod boxes;
mod columns;
mod hand;
mod joined;
mod layout;
mod marks;
mod part;
mod table;
#[cfg(test)]
mod tests;
mod ways;

pub use hand::shortened;
pub use layout::draw;
pub use part::{Fill, Holds, Kind, Part};

use super::params::{Colour, Pitch, pen};
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::Drawing;
use serde::Deserialize;

/// A page composed of parts, from the top down.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Composed {
    /// The parts, from the top down: tables, boxes, fields, rows to tick, lines, dots, bars, rings, scales, timelines, a text.
    parts: Vec<Part>,
    /// Distance of the lines, to which all parts keep; college ruling by default.
    /// Range: 2 to 50 mm.
    pitch: Pitch,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Composed {
    fn default() -> Composed {
        let part = |kind| Part { part: kind, ..Part::default() };
        Composed {
            parts: vec![
                Part { labels: vec![String::new(); 2], widths: vec![3.0, 1.0], ..part(Kind::Fields) },
                Part { labels: vec![String::new(); 4], fill: Fill::Dots, columns: Some(2), ..part(Kind::Boxes) },
                Part { share: Some(0.6), ..part(Kind::Ticks) },
            ],
            pitch: Pitch::COLLEGE,
            weight: None,
            colour: None,
        }
    }
}

impl Ruling for Composed {
    fn check(&self) -> Result<(), String> {
        if self.parts.is_empty() {
            return Err("parts is empty; give at least one, such as { part = \"lines\" }".into());
        }
        if self.parts.len() > 24 {
            return Err(format!("parts has {} entries; give at most 24", self.parts.len()));
        }
        self.parts.iter().enumerate().try_for_each(|(i, part)| part.check(i))
    }

    fn pitch(&self) -> Option<f64> {
        Some(self.pitch.pt())
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        draw(&context.with(pen(&context.pen, self.weight, self.colour)), &self.parts, self.pitch.pt())
    }
}
