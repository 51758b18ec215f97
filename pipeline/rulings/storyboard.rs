//! Storyboard: picture frames with lines for what happens.

use super::params::{Colour, Pitch, check_weight, count, pen, within};
use super::parts::{Grid, gutter};
use super::{Desk, Ruling};
use crate::draw::Pen;
use crate::model::drawing::{Path, Stroke};
use crate::model::{Drawing, Mm, Rect};
use serde::Deserialize;

/// Frames of one shape, each with lines below.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Storyboard {
    /// Width of a frame for a height of 1; 1.778 is 16 : 9.
    ratio: f64,
    /// Frames side by side on each paper; by default as many as fill it best.
    columns: Option<usize>,
    /// Lines below each frame.
    lines: usize,
    /// Distance of the lines; narrow by default.
    pitch: Pitch,
    /// Width of the lines in points.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Storyboard {
    fn default() -> Storyboard {
        Storyboard {
            ratio: 16.0 / 9.0,
            columns: None,
            lines: 3,
            pitch: Pitch(6.35),
            weight: None,
            colour: None,
        }
    }
}

/// How frames lie on an area.
struct Form {
    columns: usize,
    rows: usize,
    gap: f64,
    /// Width and height of a frame.
    w: f64,
    h: f64,
    /// Height of a frame with its lines and the free space below, in pitches.
    tall: usize,
}

impl Ruling for Storyboard {
    fn check(&self) -> Result<(), String> {
        within("ratio", self.ratio, 0.4..=4.0, "")?;
        self.columns.map_or(Ok(()), |c| count("columns", c, 1..=8))?;
        count("lines", self.lines, 0..=20)?;
        self.pitch.check()?;
        check_weight(self.weight)
    }

    fn draw(&self, desk: &Desk) -> Drawing {
        let mut d = Drawing::new();
        let pen = pen(&desk.pen, self.weight, self.colour);
        for area in &desk.areas {
            let best = match self.columns {
                Some(c) => self.form(*area, c),
                None => (1..=4)
                    .filter(|c| *c == 1 || area.w / *c as f64 >= Mm(42.0).pt())
                    .map(|c| self.form(*area, c))
                    .max_by(|a, b| self.filled(*area, a).total_cmp(&self.filled(*area, b)))
                    .unwrap_or_else(|| self.form(*area, 1)),
            };
            self.frames(&mut d, &pen, desk.corner, *area, &best);
        }
        d
    }
}

impl Storyboard {
    fn form(&self, area: Rect, columns: usize) -> Form {
        let (pitch, gap) = (self.pitch.pt(), gutter(area));
        let mut w = ((area.w - gap * (columns - 1) as f64) / columns as f64).max(0.0);
        let mut h = w / self.ratio;
        let lines = self.lines as f64 * pitch;
        // A frame that is too high for the area becomes narrower.
        let most = (Grid::new(area, pitch).rows as f64 * pitch - lines).max(0.0);
        if h > most {
            (w, h) = (most * self.ratio, most);
        }
        let tall = ((h + lines + pitch * 0.75) / pitch).ceil() as usize;
        let last = ((h + lines - 1e-6) / pitch).ceil() as usize;
        let all = Grid::new(area, pitch).rows;
        // The free space below the last row of frames need not fit.
        let rows = if all < last || h <= 0.0 { 0 } else { 1 + (all - last) / tall.max(1) };
        Form { columns, rows, gap, w, h, tall }
    }

    /// The share of the area that frames and lines take; near to 1 is good.
    fn filled(&self, area: Rect, form: &Form) -> f64 {
        let each = form.w * (form.h + self.lines as f64 * self.pitch.pt());
        each * (form.columns * form.rows) as f64 / (area.w * area.h).max(1.0)
    }

    fn frames(&self, d: &mut Drawing, pen: &Pen, corner: f64, area: Rect, form: &Form) {
        let grid = Grid::new(area, self.pitch.pt());
        // Where lines follow, the frame ends a little above the grid so that the first line has a whole row.
        let rise = ((form.h + self.lines as f64 * grid.pitch) / grid.pitch).ceil() as usize - self.lines;
        let total = form.columns as f64 * form.w + (form.columns - 1) as f64 * form.gap;
        let left = area.x + (area.w - total).max(0.0) / 2.0;
        for r in 0..form.rows {
            for c in 0..form.columns {
                let top = r * form.tall;
                let x = left + c as f64 * (form.w + form.gap);
                let frame = Rect::new(x, grid.y(top), form.w, form.h);
                let stroke = Stroke::new(pen.weight * 1.3, pen.dot);
                d.stroke(Path::rounded(frame, corner.min(Mm(1.6).pt())), stroke);
                for i in 1..=self.lines {
                    let y = grid.y(top + rise + i);
                    if y <= area.bottom() + 1e-6 {
                        d.line(x, y, x + form.w, y, pen.rule());
                    }
                }
            }
        }
    }
}
