//! Rules across the page.

use super::{Desk, Ruling};
use crate::model::{Drawing, Mm};
use serde::Deserialize;

/// Rules from edge to edge.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Lined {
    /// Distance of the rules in mm; college ruling by default.
    pitch: Mm,
}

impl Default for Lined {
    fn default() -> Lined {
        Lined { pitch: Mm(7.1) }
    }
}

impl Ruling for Lined {
    fn check(&self) -> Result<(), String> {
        if (2.0..=50.0).contains(&self.pitch.0) { Ok(()) } else { Err("pitch must lie between 2 and 50 mm".into()) }
    }

    fn draw(&self, desk: &Desk) -> Drawing {
        let mut d = Drawing::new();
        for area in &desk.areas {
            let rows = (area.h / self.pitch.pt()).floor() as usize;
            for i in 1..=rows {
                let y = area.y + i as f64 * self.pitch.pt();
                d.line(area.x, y, area.right(), y, desk.pen.rule());
            }
        }
        d
    }
}
