//! Grids to draw and to letter on: perspective, calligraphy.

use super::params::{Colour, pen};
use super::parts::{Grid, clip, frame, strong, thin};
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::drawing::Stroke;
use base::model::{Drawing, Mm, Point, Rect};
use serde::Deserialize;
use std::f64::consts::PI;

/// Lines towards one vanishing point or two, with the horizon.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Perspective {
    /// Vanishing points: 1 in the middle, or 2 at the sides with upright lines.
    /// Range: 1 to 2.
    points: usize,
    /// Height of the horizon, as a share of the page from above.
    /// Range: 0 to 1.
    horizon: f64,
    /// Lines of each point.
    /// Range: 8 to 240.
    rays: usize,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the horizon; the other lines are lighter.
    colour: Option<Colour>,
}

impl Default for Perspective {
    fn default() -> Perspective {
        Perspective { points: 1, horizon: 0.42, rays: 72, weight: None, colour: None }
    }
}

impl Ruling for Perspective {
    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let pen = pen(&context.pen, self.weight, self.colour);
        for area in &context.areas {
            let area = frame(*area);
            let y = area.y + area.h * self.horizon;
            let points = match self.points {
                1 => vec![Point::new(area.centre().x, y)],
                _ => vec![Point::new(area.x, y), Point::new(area.right(), y)],
            };
            let far = area.w + area.h;
            // Near the point lines would run together: they begin a little off it.
            let near = (area.w.min(area.h) * 0.035).min(Mm(6.0).pt());
            let step = thin(&pen, area.w.min(area.h) * 2.0 / self.rays as f64);
            for p in &points {
                for i in (0..self.rays).filter(|i| i.is_multiple_of(step)) {
                    let angle = 2.0 * PI * (i as f64 + 0.5 * f64::from(u8::from(self.points == 1))) / self.rays as f64;
                    let (sin, cos) = libm::sincos(angle);
                    let at = |t: f64| Point::new(p.x + t * cos, p.y + t * sin);
                    if let Some((a, b)) = clip(at(near), at(far), area) {
                        d.line(a.x, a.y, b.x, b.y, pen.grid());
                    }
                }
            }
            if self.points == 2 {
                let n = (area.w / Mm(12.0).pt()).floor().max(1.0);
                for i in 1..n as usize {
                    let x = area.x + area.w * i as f64 / n;
                    d.line(x, area.y, x, area.bottom(), pen.grid());
                }
            }
            d.line(area.x, y, area.right(), y, strong(&pen));
        }
        d
    }
}

/// Guide lines for lettering: ascender, waist, base and descender, with the slant of the letters.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Calligraphy {
    /// Height of a small letter in mm; 6 by default, 4 on pages narrower than 90 mm.
    /// Range: 2 to 40 mm.
    x_height: Option<Mm>,
    /// Height of ascenders and descenders, in heights of a small letter.
    /// Range: 0.4 to 3.
    ascender: f64,
    /// Slant of the letters in degrees from the base line; 90 is upright, 55 a pointed pen's (common practice, no source).
    /// Range: 30 to 90 degrees.
    slant: f64,
    /// Distance of the slanted lines, from 3 mm; 0 for none.
    /// Range: 0 to 60 mm.
    slant_every: Mm,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Calligraphy {
    fn default() -> Calligraphy {
        Calligraphy { x_height: None, ascender: 1.0, slant: 55.0, slant_every: Mm(12.0), weight: None, colour: None }
    }
}

impl Ruling for Calligraphy {
    fn check(&self) -> Result<(), String> {
        match self.slant_every.0 {
            mm if mm > 0.0 && mm < 3.0 => Err(format!("slant-every is {mm} mm; give 3 to 60 mm, or 0 for none")),
            _ => Ok(()),
        }
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let pen = pen(&context.pen, self.weight, self.colour);
        for area in &context.areas {
            let area = frame(*area);
            let usual = Mm(if area.w < Mm(90.0).pt() { 4.0 } else { 6.0 });
            let x = self.x_height.unwrap_or(usual).pt();
            let rise = x * self.ascender;
            let (tall, gap) = (x + 2.0 * rise, x * 0.5);
            let sets = Grid::new(Rect { h: area.h + gap, ..area }, tall + gap).rows;
            // What is left goes between the sets, so that the last descender stands on the last line.
            let gap = if sets > 1 { (area.h - sets as f64 * tall) / (sets - 1) as f64 } else { gap };
            for i in 0..sets {
                let top = area.y + i as f64 * (tall + gap);
                self.set(&mut d, &pen, Rect { y: top, h: tall, ..area }, rise);
            }
        }
        d
    }
}

impl Calligraphy {
    fn set(&self, d: &mut Drawing, pen: &draw::Pen, area: Rect, rise: f64) {
        let every = self.slant_every.pt() * thin(pen, self.slant_every.pt() * 0.4) as f64;
        if every > 0.0 {
            let lean = area.h / libm::tan(self.slant.to_radians());
            let mut x = area.x - lean;
            while x < area.right() {
                if let Some((a, b)) = clip(Point::new(x, area.bottom()), Point::new(x + lean, area.y), area) {
                    d.line(a.x, a.y, b.x, b.y, pen.grid());
                }
                x += every;
            }
        }
        // Guides are no rules to write between: whatever a look does to rules, each is one line, a hair lighter or heavier than
        // those, and the base line is the strongest.
        let dashed = Stroke::new(pen.weight * 0.9, pen.rule).dashed(3.0, 2.0);
        for (y, stroke) in [
            (area.y, dashed),
            (area.y + rise, Stroke::new(pen.weight * 1.1, pen.rule)),
            (area.bottom() - rise, strong(pen)),
            (area.bottom(), dashed),
        ] {
            d.line(area.x, y, area.right(), y, stroke);
        }
    }
}
