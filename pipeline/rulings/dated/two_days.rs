//! Two days on a page.

use super::super::params::{Colour, Mark, pen};
use super::super::parts::{Grid, gutter, on_frame};
use super::day::day_name;
use super::sheet::Sheet;
use super::{Ruling, head, undated};
use base::keys::Described;
use base::model::dated::{DatedKind, DatedPage, DayCell};
use base::model::{Drawing, Mm};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext};
use serde::Deserialize;

/// Each day with its things to do and its notes: one above the other, side by side on a wide page, one on each paper of
/// a spread. A day that does not share its page has the whole of it.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct TwoDays {
    /// Head of the checklist.
    to_do: String,
    /// Head of the notes.
    notes: String,
    /// What is ticked: a box or a circle.
    mark: Mark,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for TwoDays {
    fn default() -> TwoDays {
        TwoDays { to_do: "To do".into(), notes: "Notes".into(), mark: Mark::Box, weight: None, colour: None }
    }
}

impl Ruling for TwoDays {
    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for TwoDays {
    const KINDS: &'static [DatedKind] = &[DatedKind::Day];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        let grid = sheet.grid(0);
        let (area, shared) = (grid.area, page.days.len() > 1);
        let parts: Vec<Grid> = if context.areas.len() > 1 {
            vec![grid, sheet.grid(1)]
        } else if !shared {
            vec![grid]
        } else if area.w > area.h * 1.1 {
            area.columns(2, gutter(area) * 1.2).iter().map(|c| grid.across(c.x, c.w)).collect()
        } else {
            let half = grid.rows / 2;
            vec![Grid::new(grid.band(0, half), grid.pitch), Grid::new(grid.band(half, grid.rows), grid.pitch)]
        };
        if !shared && parts.len() > 1 {
            self.part(&mut sheet, page.days.first(), &parts[0], 0, Halves::List);
            self.part(&mut sheet, None, &parts[1], 0, Halves::Notes);
            return sheet.out;
        }
        for (day, part) in page.days.iter().zip(&parts) {
            if shared {
                day_name(&mut sheet, day, part.band(0, 1));
            }
            self.part(&mut sheet, Some(day), part, usize::from(shared), Halves::Both);
        }
        sheet.out
    }
}

/// What of a day stands on a part.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Halves {
    List,
    Notes,
    Both,
}

impl TwoDays {
    fn part(&self, sheet: &mut Sheet, day: Option<&DayCell>, grid: &Grid, from: usize, what: Halves) {
        let events = if grid.rows >= from + 8 { 2 } else { 1 }.min(grid.rows.saturating_sub(from));
        if let Some(day) = day {
            let left = sheet.events_on_lines(&day.events, grid, from, events);
            sheet.more(left, grid.band(from + events.saturating_sub(1), from + events));
        }
        let from = if what == Halves::Notes { from } else { from + events };
        match what {
            Halves::List => sheet.ticks(&self.to_do, self.mark, grid, from, grid.rows),
            Halves::Notes => sheet.block(&self.notes, grid, from, grid.rows),
            Halves::Both if grid.area.w >= Mm(95.0).pt() => {
                let columns = grid.area.columns(2, gutter(grid.area));
                let (left, right) = (grid.across(columns[0].x, columns[0].w), grid.across(columns[1].x, columns[1].w));
                sheet.ticks(&self.to_do, self.mark, &left, from, grid.rows);
                sheet.block(&self.notes, &right, from, grid.rows);
            }
            Halves::Both => {
                let split = from + (grid.rows - from.min(grid.rows)) / 2;
                sheet.ticks(&self.to_do, self.mark, grid, from, split);
                sheet.block(&self.notes, grid, split, grid.rows);
            }
        }
    }
}
