//! Music staves: five lines each, alone or joined in systems.

use super::params::{Colour, check_weight, count, pen, within};
use super::parts::fits;
use super::{Desk, Ruling};
use crate::model::drawing::Stroke;
use crate::model::{Drawing, Mm};
use serde::Deserialize;

/// Staves of five lines.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Staves {
    /// Distance of the lines of a staff in mm.
    pitch: Mm,
    /// Free height between two staves, in distances of the lines.
    between: f64,
    /// How many staves a line at the left joins: 1 for none, 2 for piano.
    joined: usize,
    /// Width of the lines in points.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Staves {
    fn default() -> Staves {
        Staves { pitch: Mm(2.0), between: 5.0, joined: 1, weight: None, colour: None }
    }
}

impl Ruling for Staves {
    fn check(&self) -> Result<(), String> {
        within("pitch", self.pitch.0, 1.0..=8.0, "mm")?;
        within("between", self.between, 2.0..=20.0, "line distances")?;
        count("joined", self.joined, 1..=8)?;
        check_weight(self.weight)
    }

    fn draw(&self, desk: &Desk) -> Drawing {
        let mut d = Drawing::new();
        let mut pen = pen(&desk.pen, self.weight, self.colour);
        let pitch = self.pitch.pt();
        // Five lines stay five lines on a small picture: thinner than elsewhere there.
        pen.weight = pen.weight.min(pitch * 0.24);
        let staff = 4.0 * pitch;
        let between = self.between * pitch;
        // Systems stand farther apart than their staves.
        let apart = if self.joined > 1 { between * 1.6 } else { between };
        let system = staff * self.joined as f64 + between * (self.joined - 1) as f64;
        // Room for ledger lines above the first staff and below the last one.
        let ledger = between / 2.0;
        for area in &desk.areas {
            let systems = fits(area.h - 2.0 * ledger + apart, system + apart);
            for s in 0..systems {
                let top = area.y + ledger + s as f64 * (system + apart);
                for n in 0..self.joined {
                    let y = top + n as f64 * (staff + between);
                    for line in 0..5 {
                        let y = y + f64::from(line) * pitch;
                        d.line(area.x, y, area.right(), y, pen.rule());
                    }
                }
                let half = pen.weight / 2.0;
                if self.joined > 1 {
                    let bar = Stroke::new(pen.weight * 2.0, pen.rule);
                    let x = area.x + pen.weight;
                    d.line(x, top - half, x, top + system + half, bar);
                }
            }
        }
        d
    }
}
