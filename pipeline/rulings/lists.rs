//! Lists: two columns of rules under heads, and rows with boxes to tick.

use super::params::{Colour, Mark, Pitch, pen};
use super::parts::{Grid, Type, check_row, field, filling, frame, gutter, head_rows, headed, strong};
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::Drawing;
use serde::Deserialize;

/// Columns of rules, each with room for a heading.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct TwoColumnList {
    /// Distance of the rules; college ruling by default.
    /// Range: 2 to 50 mm.
    pitch: Pitch,
    /// Number of columns.
    /// Range: 1 to 6.
    columns: usize,
    /// Labels of the headings, from the left; they repeat on a second paper.
    labels: Vec<String>,
    /// Height of the heading in rows; 0 for none.
    /// Range: 0 to 6.
    head: Option<usize>,
    /// Width of the rules in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the rules.
    colour: Option<Colour>,
}

impl Default for TwoColumnList {
    fn default() -> TwoColumnList {
        TwoColumnList { pitch: Pitch::COLLEGE, columns: 2, labels: Vec::new(), head: None, weight: None, colour: None }
    }
}

impl Ruling for TwoColumnList {
    fn pitch(&self) -> Option<f64> {
        Some(self.pitch.pt())
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let context = &context.with(pen(&context.pen, self.weight, self.colour));
        for area in &context.areas {
            let grid = Grid::new(*area, self.pitch.pt());
            let head = self.head.unwrap_or_else(|| head_rows(*area, grid.pitch)).min(grid.rows);
            let set = Type::new(*area, grid.pitch, &context.pen).label;
            for (i, column) in area.columns(self.columns, gutter(*area)).iter().enumerate() {
                let own = grid.across(column.x, column.w);
                if head > 0 {
                    let label = self.labels.get(i).map_or("", String::as_str);
                    field(&mut d, context, set, label, own.band(0, head));
                }
                super::lined::rules(&mut d, &context.pen, &own, head + 1);
            }
        }
        d
    }
}

/// Rows with a box to tick and a rule.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Checklist {
    /// Height of a row; by default about wide ruling, so that the rows fill the page.
    /// Range: 2 to 50 mm.
    pitch: Option<Pitch>,
    /// Number of columns on each paper.
    /// Range: 1 to 6.
    columns: usize,
    /// Box or circle.
    mark: Mark,
    /// Label of a heading line; without one the rows begin at the top.
    title: Option<String>,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Checklist {
    fn default() -> Checklist {
        Checklist { pitch: None, columns: 1, mark: Mark::Box, title: None, weight: None, colour: None }
    }
}

impl Ruling for Checklist {
    fn pitch(&self) -> Option<f64> {
        self.pitch.map(Pitch::pt)
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let context = &context.with(pen(&context.pen, self.weight, self.colour));
        for area in &context.areas {
            let usual = || filling(*area, Pitch::WIDE.pt());
            let mut grid = self.pitch.map_or_else(usual, |pitch| Grid::new(*area, pitch.pt()));
            let mut head = 0;
            if let (Some(title), true) = (&self.title, grid.rows > 2) {
                let set = Type::new(*area, grid.pitch, &context.pen).label;
                let mut seat = headed(*area).0;
                if self.pitch.is_some() {
                    head = head_rows(*area, grid.pitch).min(grid.rows - 1);
                    seat = grid.band(0, head);
                } else {
                    // The rows share what is left of the page.
                    grid = Grid::filled(headed(frame(*area)).1, Pitch::WIDE.pt());
                }
                field(&mut d, context, set, title, seat);
            }
            for column in area.columns(self.columns, gutter(*area) * 1.2) {
                let own = grid.across(column.x, column.w);
                for i in head..grid.rows {
                    check_row(&mut d, context, &context.pen, self.mark, own.band(i, i + 1));
                }
            }
        }
        d
    }
}

/// A block of rows to tick under a strong line: for rulings that have such a corner.
pub(super) fn block(d: &mut Drawing, context: &RulingContext, grid: &Grid, from: usize, to: usize) {
    d.line(grid.area.x, grid.y(from), grid.area.right(), grid.y(from), strong(&context.pen));
    for i in from..to {
        check_row(d, context, &context.pen, Mark::Box, grid.band(i, i + 1));
    }
}
