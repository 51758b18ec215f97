//! A week as rows of days.

use super::super::params::{Colour, pen};
use super::super::parts::{Grid, gutter, on_frame, strong};
use super::sheet::{Sheet, fitting, line};
use super::small::HEIGHT;
use super::week::notes_and_months;
use super::{Ruling, head, undated};
use base::keys::Described;
use base::model::dated::{DatedKind, DatedPage, DayCell};
use base::model::drawing::{Path, Role};
use base::model::units::between;
use base::model::{Drawing, Mm, Rect};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext};
use draw::text::Setting;
use serde::Deserialize;

/// A row of lines for each day, its date at the left; notes in a row of their own, or beside on a wide page; four days
/// on the first paper of a spread, three and the notes on the second.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct WeekRows {
    /// Whether the days are lined.
    lines: bool,
    /// Head of the notes; empty for none.
    notes: String,
    /// Whether small months are shown where there is room.
    small_months: bool,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for WeekRows {
    fn default() -> WeekRows {
        WeekRows { lines: true, notes: "Notes".into(), small_months: true, weight: None, colour: None }
    }
}

impl Ruling for WeekRows {
    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for WeekRows {
    const KINDS: &'static [DatedKind] = &[DatedKind::Week];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        let noted = !self.notes.is_empty();
        let spread = context.areas.len() > 1;
        let body = sheet.body(0);
        let wide = !spread && noted && body.w > body.h * 1.1;
        // How many rows lie on an area: days, and the notes where they have a row of their own.
        let each = if spread { 4 } else { 7 + usize::from(noted && !wide) };
        // Rows of one height that fill the page, each with as many lines.
        let lines = ((body.h / sheet.pitch / each as f64).round() as usize).max(2);
        let grids: Vec<Grid> = (0..context.areas.len())
            .map(|i| Grid { rows: lines * each, ..Grid::new(sheet.body(i), body.h / (lines * each) as f64) })
            .collect();
        for i in 0..7 {
            let (area, row) = if spread { (i / 4, i % 4) } else { (0, i) };
            let grid = grids[area];
            let grid = if wide { grid.across(body.x, body.w * 0.72) } else { grid };
            let (from, to) = between_lines(&grid, row, each);
            self.row(&mut sheet, i, &grid, from, to);
        }
        if !noted {
            return sheet.out;
        }
        if wide {
            let gap = gutter(body);
            let column = Rect { x: body.x + body.w * 0.72 + gap, w: body.w * 0.28 - gap, ..body };
            let grid = Grid::new(column, sheet.pitch);
            let mut from = 0;
            let width = column.w.min(Mm(52.0).pt());
            if self.small_months && sheet.small_fits(width, width * HEIGHT) {
                let room = Rect { y: column.y + sheet.pitch * 0.3, h: column.h * 0.6, ..column };
                let end = sheet.small_months(room, width, 1);
                from = ((end - column.y) / sheet.pitch - 1e-6).ceil() as usize;
            }
            sheet.block(&self.notes, &grid, from, grid.rows);
        } else {
            let grid = grids[context.areas.len() - 1];
            let (from, to) = between_lines(&grid, each - 1, each);
            let (room, pitch) = (grid.band(from, to), sheet.pitch);
            sheet.pitch = grid.pitch;
            notes_and_months(&mut sheet, &self.notes, self.small_months, room);
            sheet.pitch = pitch;
        }
        sheet.out
    }
}

/// The lines between which row `i` of `n` lies.
fn between_lines(grid: &Grid, i: usize, n: usize) -> (usize, usize) {
    (i * grid.rows / n, (i + 1) * grid.rows / n)
}

impl WeekRows {
    fn row(&self, sheet: &mut Sheet, i: usize, grid: &Grid, from: usize, to: usize) {
        let page = sheet.page;
        let Some(day) = page.week.as_ref().and_then(|w| w.days.get(i)) else { return };
        let room = grid.band(from, to);
        let date = between(grid.area.w * 0.2, Mm(12.0).pt().min(grid.area.w * 0.4), Mm(27.0).pt());
        let left = Rect { w: date, ..room };
        let (wash, pen) = (sheet.wash(), sheet.pen());
        if day.weekend {
            sheet.out.ground.fill(Path::rect(left), wash);
        }
        let lines = grid.across(left.right() + sheet.pitch * 0.35, grid.area.w - date - sheet.pitch * 0.35);
        let most = (to - from).div_ceil(2);
        let more = sheet.events_on_lines(&day.events, &Grid { rows: to, ..lines }, from, most.max(1));
        date_field(sheet, i, day, left, more);
        if self.lines {
            sheet.lines(&Grid { rows: to.saturating_sub(1), ..lines }, from + 1, to);
        }
        if from > 0 {
            sheet.out.ground.line(room.x, room.y, room.right(), room.y, pen.rule());
        }
        if to >= grid.rows {
            sheet.out.ground.line(room.x, room.bottom(), room.right(), room.bottom(), strong(pen));
        }
    }
}

/// The date of a day, its number large and its weekday below; tapped as a whole.
fn date_field(sheet: &mut Sheet, i: usize, day: &DayCell, field: Rect, more: usize) {
    let (context, pen, page) = (sheet.context, sheet.pen(), sheet.page);
    sheet.tap(field, day.leads());
    let pad = (field.w * 0.1).min(sheet.pitch * 0.35);
    let inner = field.inset_each(pad, 0.0, pad * 0.6, 0.0);
    let stacked = field.h >= sheet.pitch * 1.8;
    let size = if stacked { (sheet.pitch * 1.15).min(field.h * 0.45) } else { (sheet.pitch * 0.85).min(field.h * 0.6) };
    let colour = day.events.iter().find(|e| e.holiday).map_or(pen.ink, |e| sheet.written(e.colour));
    let number = Setting::new(Role::Heading, size.min(inner.w * 0.6), colour);
    let cap = number.cap(context.fonts);
    if pen.small {
        let bar =
            Rect::new(inner.x, field.y + field.h * 0.2, (size * 0.9).min(inner.w), (cap * 0.8).min(field.h * 0.5));
        sheet.out.layer.fill(Path::rect(bar), pen.dot);
        return;
    }
    let y = if stacked { field.y + sheet.pitch * 0.34 + cap } else { field.centre().y + cap / 2.0 };
    line(&mut sheet.out.layer, context, number, &day.number, inner, y);
    let widest = number.width(context.fonts, "30").max(number.width(context.fonts, &day.number));
    let right = inner.inset_each(widest + size * 0.25, 0.0, 0.0, 0.0);
    let (room, base) = if stacked { (inner, y + sheet.pitch * 0.66) } else { (right, y) };
    let names: Vec<[&str; 3]> =
        page.weekdays.iter().map(|d| [d.name.as_str(), d.short.as_str(), d.narrow.as_str()]).collect();
    let (set, names) = fitting(context, sheet.label, &names, room.w);
    if let Some(name) = names.get(i) {
        line(&mut sheet.out.ground, context, set, name, room, base);
    }
    if stacked {
        sheet.more(more, Rect { y: y - cap, h: cap, ..right });
    }
}
