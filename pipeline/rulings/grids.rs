//! Square grid and dot grid.

use super::params::{Colour, pen};
use super::parts::{near_frame, thin};
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::drawing::{Path, Shape};
use base::model::{Drawing, Mm, Point, Rect};
use draw::ruling::fits;
use serde::Deserialize;

/// The part of an area that whole cells fill: even margins at the sides, and as near to the frame that all pages share as
/// whole rows come. Returns it with the numbers of columns and rows.
fn whole_cells(area: Rect, side: f64) -> (Rect, usize, usize) {
    let (columns, (rows, lower)) = (fits(area.w, side), near_frame(area, side, 0.0));
    let used = columns as f64 * side;
    let cells = Rect::new(area.x + (area.w - used) / 2.0, area.y + lower, used, rows as f64 * side);
    (cells, columns, rows)
}

/// A grid of squares.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct SquareGrid {
    /// Side of a square in mm; 5 by default.
    /// Range: 1 to 50 mm.
    pitch: Mm,
    /// Every how many lines one is a little stronger; 0 for none.
    /// Range: 0 to 50.
    strong_every: usize,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the stronger lines; the others are lighter.
    colour: Option<Colour>,
}

impl Default for SquareGrid {
    fn default() -> SquareGrid {
        SquareGrid { pitch: Mm(5.0), strong_every: 5, weight: None, colour: None }
    }
}

impl Ruling for SquareGrid {
    fn pitch(&self) -> Option<f64> {
        Some(self.pitch.pt())
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let pen = pen(&context.pen, self.weight, self.colour);
        let pitch = self.pitch.pt();
        for area in &context.areas {
            let (cells, columns, rows) = whole_cells(*area, pitch);
            if columns == 0 || rows == 0 {
                continue;
            }
            let step = thin(&pen, pitch * 0.75);
            // Of the lines that are drawn; in a small picture these are not all, and squares stay squares.
            let is_strong = |i: usize| self.strong_every > 0 && i.is_multiple_of(self.strong_every * step);
            // Light lines first, so that the strong ones are not cut where they cross.
            for strong in [false, true] {
                let stroke = if strong { pen.grid_strong() } else { pen.grid() };
                for i in 1..rows {
                    let y = cells.y + i as f64 * pitch;
                    if is_strong(i) == strong && i % step == 0 {
                        d.line(cells.x, y, cells.right(), y, stroke);
                    }
                }
                for i in 1..columns {
                    let x = cells.x + i as f64 * pitch;
                    if is_strong(i) == strong && i % step == 0 {
                        d.line(x, cells.y, x, cells.bottom(), stroke);
                    }
                }
            }
            // The outline in one piece, so that its corners close; light on all sides, whichever line falls there.
            d.stroke(Path::rect(cells), pen.grid());
        }
        d
    }
}

/// Dots in rows and columns.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct DotGrid {
    /// Distance of the dots in mm; 5 by default.
    /// Range: 1.5 to 50 mm.
    pitch: Mm,
    /// Diameter of a dot in points.
    /// Range: 0.3 to 4 pt.
    size: Option<f64>,
    /// Colour of the dots.
    colour: Option<Colour>,
}

impl Default for DotGrid {
    fn default() -> DotGrid {
        DotGrid { pitch: Mm(5.0), size: None, colour: None }
    }
}

impl Ruling for DotGrid {
    fn pitch(&self) -> Option<f64> {
        Some(self.pitch.pt())
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let pen = pen(&context.pen, None, self.colour);
        let diameter = pen.dot_size * self.size.map_or(1.0, |s| s / 1.05);
        let pitch = self.pitch.pt();
        for area in &context.areas {
            let (cells, columns, rows) = whole_cells(*area, pitch);
            let step = if pen.small { ((3.0 * diameter / pitch).ceil() as usize).max(1) } else { 1 };
            let mut at = Vec::new();
            for row in (0..=rows).step_by(step) {
                for column in (0..=columns).step_by(step) {
                    at.push(Point::new(cells.x + column as f64 * pitch, cells.y + row as f64 * pitch));
                }
            }
            d.push(Shape::Dots { at, diameter, colour: pen.dot });
        }
        d
    }
}
