//! Music staves: five lines each, alone or joined in systems.

use super::params::{Colour, pen};
use super::parts::frame;
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::drawing::Stroke;
use base::model::{Drawing, Mm, Rect};
use draw::ruling::fits;
use serde::Deserialize;

/// Staves of five lines.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Staves {
    /// Distance of the lines of a staff in mm; 2 by default, 2.2 on pages narrower than 90 mm.
    /// Range: 1 to 8 mm.
    pitch: Option<Mm>,
    /// Free height between two staves, in distances of the lines; by default about 5, so that the staves fill the page.
    /// Range: 2 to 20 line distances.
    between: Option<f64>,
    /// How many staves a line at the left joins: 1 for none, 2 for piano.
    /// Range: 1 to 8.
    joined: usize,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Staves {
    fn default() -> Staves {
        Staves { pitch: None, between: None, joined: 1, weight: None, colour: None }
    }
}

impl Staves {
    /// Distance of the lines of a staff in points: on a phone wider, so that there is room to write a note.
    fn distance(&self, area: Rect) -> f64 {
        self.pitch.unwrap_or(Mm(if area.w < Mm(90.0).pt() { 2.2 } else { 2.0 })).pt()
    }

    /// Height of a system and the space to the next one: systems stand farther apart than their staves.
    fn system(&self, staff: f64, between: f64) -> (f64, f64) {
        let apart = if self.joined > 1 { between * 1.6 } else { between };
        (staff * self.joined as f64 + between * (self.joined - 1) as f64, apart)
    }

    /// How many systems fit, with half a space above and below.
    fn systems(&self, height: f64, staff: f64, between: f64) -> usize {
        let (system, apart) = self.system(staff, between);
        fits(height - between + apart, system + apart)
    }
}

impl Ruling for Staves {
    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let mut pen = pen(&context.pen, self.weight, self.colour);
        let Some(first) = context.areas.first() else { return d };
        let pitch = self.distance(*first);
        // Five lines stay five lines on a small picture: thinner than elsewhere there.
        pen.weight = pen.weight.min(pitch * 0.24);
        let staff = 4.0 * pitch;
        // A hair heavier than a rule: the lines of a staff are never dotted or dashed, whatever the look does to rules.
        let solid = Stroke::new(pen.weight * 1.1, pen.rule);
        for whole in &context.areas {
            let area = if self.between.is_none() { frame(*whole) } else { *whole };
            let mut between = self.between.unwrap_or(5.0) * pitch;
            let systems = self.systems(area.h, staff, between);
            if self.between.is_none() && systems > 0 {
                // Free heights in all, counted in spaces between staves.
                let staves = systems * self.joined;
                let wide = if self.joined > 1 { 0.6 * (systems - 1) as f64 } else { 0.0 };
                // The last staff ends on the foot, as the lines of all pages do, unless it stands alone.
                let last = if staves > 1 { 0.5 } else { 0.0 };
                between = (area.h - staves as f64 * staff) / (staves as f64 + wide - last);
            }
            let (system, apart) = self.system(staff, between);
            // Room for ledger lines above the first staff; below the last one they have what is free at the foot.
            let ledger = between / 2.0;
            for s in 0..systems {
                let top = area.y + ledger + s as f64 * (system + apart);
                for n in 0..self.joined {
                    let y = top + n as f64 * (staff + between);
                    for line in 0..5 {
                        let y = y + f64::from(line) * pitch;
                        d.line(area.x, y, area.right(), y, solid);
                    }
                }
                let half = solid.width / 2.0;
                if self.joined > 1 {
                    let bar = Stroke::new(pen.weight * 2.0, pen.rule);
                    let x = area.x + pen.weight;
                    d.line(x, top - half, x, (top + system + half).min(whole.bottom()), bar);
                }
            }
        }
        d
    }
}
