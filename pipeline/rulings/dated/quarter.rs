//! A quarter: three months to write in, with notes.

use super::super::params::{Colour, pen};
use super::super::parts::{Grid, gutter, on_frame, strong};
use super::cells::Cells;
use super::sheet::{Sheet, seated};
use super::small::Small;
use super::{Ruling, head, undated};
use base::keys::Described;
use base::model::dated::{DatedKind, DatedPage, MonthData};
use base::model::{Drawing, Mm, Rect};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext};
use serde::Deserialize;

/// Three months: one below the other with notes beside, or side by side with notes below; on a spread two on the first
/// paper, one and the notes on the second.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Quarter {
    /// Head of the notes; empty for none.
    notes: String,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Quarter {
    fn default() -> Quarter {
        Quarter { notes: "Notes".into(), weight: None, colour: None }
    }
}

impl Ruling for Quarter {
    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for Quarter {
    const KINDS: &'static [DatedKind] = &[DatedKind::Quarter];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        let grid = sheet.grid(0);
        let area = grid.area;
        // At the ends of a planner a quarter may have one or two months: they share the room of three.
        let count = page.months.len().clamp(1, 3);
        if context.areas.len() > 1 && count < 3 {
            let other = sheet.grid(1);
            let tall = (grid.rows * 2 / 3).max(1);
            for (month, grid) in page.months.iter().zip([&grid, &other]) {
                large(&mut sheet, month, grid, 0, tall);
            }
            sheet.block(&self.notes, &grid, tall, grid.rows);
            sheet.block(&self.notes, &other, if count == 2 { tall } else { 0 }, other.rows);
        } else if context.areas.len() > 1 {
            let half = grid.rows / 2;
            let other = sheet.grid(1);
            for (month, (grid, from)) in page.months.iter().zip([(&grid, 0), (&grid, half), (&other, 0)]) {
                large(&mut sheet, month, grid, from, from + half);
            }
            sheet.block(&self.notes, &other, half, other.rows);
        } else if area.w > area.h * 1.1 {
            let tall = (grid.rows * 2 / 3).max(1);
            for (month, column) in page.months.iter().zip(area.columns(count, gutter(area))) {
                let own = grid.across(column.x, column.w);
                large(&mut sheet, month, &own, 0, tall);
                sheet.block(&self.notes, &own, tall, grid.rows);
            }
        } else {
            let tall = (grid.rows / count).max(1);
            let gap = gutter(area);
            let wide = (area.w - gap) * 0.64;
            let own = grid.across(area.x, wide);
            let beside = grid.across(area.x + wide + gap, area.w - wide - gap);
            for (i, month) in page.months.iter().enumerate().take(count) {
                let from = i * tall;
                large(&mut sheet, month, &own, from, from + tall);
                let to = if i + 1 == count { grid.rows } else { from + tall - 1 };
                sheet.block(&self.notes, &beside, from, to.max(from));
            }
        }
        sheet.out
    }
}

/// A month between two lines of a grid: its name, and its days to write in; small where they would be too low.
fn large(sheet: &mut Sheet, month: &MonthData, grid: &Grid, from: usize, to: usize) {
    let band = grid.band(from.min(grid.rows), to.min(grid.rows));
    let head = sheet.pitch * 0.72;
    let row = ((band.h - sheet.pitch * 1.3 - head) / 6.0 / (sheet.pitch * 0.25)).floor() * sheet.pitch * 0.25;
    if row < Mm(6.0).pt() {
        let how = Small { weeks: true, year: false, name: sheet.name.size };
        let room = band.inset_each(0.0, 0.0, 0.0, band.h * 0.05);
        sheet.small_month(month, room, how);
        return;
    }
    let name = grid.band(from, from + 1);
    let set = sheet.name.sized(sheet.name.size * 1.1);
    seated(&mut sheet.out.layer, sheet.context, set, &month.name, name);
    sheet.tap(name, month.place.as_deref());
    let y = name.bottom();
    sheet.out.ground.line(band.x, y, band.right(), y, strong(sheet.pen()));
    let weeks = Cells::week_width(sheet, band.w);
    let days = Rect::new(band.x + weeks, y + head, band.w - weeks, row * 6.0);
    let rows = month.rows.len().min(6);
    sheet.cells(month, &Cells { area: Rect { h: row * rows as f64, ..days }, head, rows, days: 0..7, weeks });
}
