//! Chart: rows and columns below a heading row.

use super::params::{Colour, Pitch, pen};
use super::parts::{Grid, Type, filling, say, strong, thin, wash};
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::drawing::Path;
use base::model::{Drawing, Rect};
use draw::text::{Align, Setting};
use serde::Deserialize;

/// Rows and columns in a frame, with a heading row.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Chart {
    /// Height of a row; by default about wide ruling, so that the rows fill the page.
    /// Range: 2 to 50 mm.
    pitch: Option<Pitch>,
    /// Number of columns.
    /// Range: 1 to 40.
    columns: usize,
    /// Number of rows below the heading row; as many as fit by default.
    /// Range: 1 to 200.
    rows: Option<usize>,
    /// Width of the first column, in widths of the others.
    /// Range: 0.2 to 10.
    first: f64,
    /// Height of the heading row in rows; 0 for none.
    /// Range: 0 to 4.
    head: usize,
    /// What stands in the heading row, from the left; columns without a label stay blank.
    labels: Vec<String>,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Chart {
    fn default() -> Chart {
        Chart {
            pitch: None,
            columns: 4,
            rows: None,
            first: 1.6,
            head: 1,
            labels: Vec::new(),
            weight: None,
            colour: None,
        }
    }
}

impl Ruling for Chart {
    fn check(&self) -> Result<(), String> {
        if self.labels.len() > self.columns {
            return Err(format!(
                "labels has {} entries for {} columns; take some out or raise columns",
                self.labels.len(),
                self.columns
            ));
        }
        Ok(())
    }

    fn pitch(&self) -> Option<f64> {
        self.pitch.map(Pitch::pt)
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let context = &context.with(pen(&context.pen, self.weight, self.colour));
        for area in &context.areas {
            self.table(&mut d, context, *area);
        }
        d
    }
}

impl Chart {
    fn table(&self, d: &mut Drawing, context: &RulingContext, area: Rect) {
        let pen = &context.pen;
        let grid = self.pitch.map_or_else(|| filling(area, Pitch::WIDE.pt()), |pitch| Grid::new(area, pitch.pt()));
        let head = self.head.min(grid.rows);
        let last = self.rows.map_or(grid.rows, |r| (head + r).min(grid.rows));
        if last == 0 {
            return;
        }
        if head > 0 {
            d.fill(Path::rect(grid.band(0, head)), wash(pen));
        }
        let step = thin(pen, grid.pitch);
        for i in (head + 1..last).filter(|i| (i - head).is_multiple_of(step)) {
            d.line(area.x, grid.y(i), area.right(), grid.y(i), pen.rule());
        }
        let other = area.w / (self.first + self.columns as f64 - 1.0);
        let mut x = area.x;
        let set = Type::new(area, grid.pitch, pen).label;
        for c in 0..self.columns {
            let w = if c == 0 { other * self.first } else { other };
            if c > 0 {
                d.line(x, grid.y(0), x, grid.y(last), pen.rule());
            }
            if let (Some(label), true) = (self.labels.get(c), head > 0) {
                let pad = (w * 0.08).min(grid.pitch * 0.3);
                let cell = Rect::new(x + pad, grid.y(0), w - 2.0 * pad, head as f64 * grid.pitch);
                say(d, context, Setting { colour: pen.ink, ..set }, label, cell, Align::Left);
            }
            x += w;
        }
        if head > 0 && head < last {
            d.line(area.x, grid.y(head), area.right(), grid.y(head), strong(pen));
        }
        d.stroke(Path::rect(grid.band(0, last)), pen.rule());
    }
}
