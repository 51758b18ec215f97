//! A day with a checklist and notes.

use super::super::params::{Colour, Mark, pen};
use super::super::parts::{Grid, gutter, on_frame};
use super::day::months_across;
use super::sheet::Sheet;
use super::{Ruling, head, undated};
use base::keys::Described;
use base::model::dated::{DatedKind, DatedPage};
use base::model::{Drawing, Mm};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext};
use serde::Deserialize;

/// Things to do with a box each, and lines for notes: side by side, one above the other on a narrow page, or one on
/// each paper of a spread. What happens on the day stands above the things to do.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct DayNotes {
    /// Head of the checklist.
    to_do: String,
    /// Head of the notes.
    notes: String,
    /// What is ticked: a box or a circle.
    mark: Mark,
    /// Whether small months are shown where there is room.
    small_months: bool,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for DayNotes {
    fn default() -> DayNotes {
        DayNotes {
            to_do: "To do".into(),
            notes: "Notes".into(),
            mark: Mark::Box,
            small_months: true,
            weight: None,
            colour: None,
        }
    }
}

impl Ruling for DayNotes {
    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

/// Rows for what happens on the day.
const EVENTS: usize = 3;

impl DatedRuling for DayNotes {
    const KINDS: &'static [DatedKind] = &[DatedKind::Day];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        let grid = sheet.grid(0);
        let area = grid.area;
        if context.areas.len() > 1 {
            let other = sheet.grid(1);
            self.list(&mut sheet, &grid, grid.rows);
            self.page_notes(&mut sheet, &other, 0);
        } else if area.w >= Mm(85.0).pt() {
            let gap = gutter(area) * 1.3;
            let wide = (area.w - gap) * 0.5;
            self.list(&mut sheet, &grid.across(area.x, wide), grid.rows);
            self.page_notes(&mut sheet, &grid.across(area.x + wide + gap, area.w - wide - gap), 0);
        } else {
            let split = grid.rows / 2;
            self.list(&mut sheet, &grid, split);
            sheet.block(&self.notes, &grid, split, grid.rows);
        }
        sheet.out
    }
}

impl DayNotes {
    /// What happens on the day, and things to do down to a line.
    fn list(&self, sheet: &mut Sheet, grid: &Grid, to: usize) {
        let rows = EVENTS.min(to / 5);
        let page = sheet.page;
        let mut all = Vec::new();
        for day in &page.days {
            all.extend(day.events.iter().cloned());
        }
        let left = sheet.events_on_lines(&all, grid, 0, rows);
        if rows > 0 {
            sheet.more(left, grid.band(rows - 1, rows));
        }
        sheet.lines(grid, 1, rows.saturating_sub(1));
        sheet.ticks(&self.to_do, self.mark, grid, rows, to);
    }

    /// Notes below small months.
    fn page_notes(&self, sheet: &mut Sheet, grid: &Grid, from: usize) {
        let from = if self.small_months { months_across(sheet, grid, grid.rows / 3) } else { from };
        sheet.block(&self.notes, grid, from, grid.rows);
    }
}
