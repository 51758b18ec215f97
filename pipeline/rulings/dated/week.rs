//! A week as columns of days.

use super::super::params::{Colour, pen};
use super::super::parts::{Grid, gutter, on_frame};
use super::sheet::{Sheet, figure, fitting, line};
use super::small::{HEIGHT, Small, chosen};
use super::{Ruling, head, undated};
use base::keys::Described;
use base::model::dated::{DatedKind, DatedPage, DayCell, MonthData, WeekdayName};
use base::model::drawing::{Path, Role};
use base::model::{Drawing, Mm, Rect};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext};
use draw::text::Setting;
use serde::Deserialize;

/// Seven columns of days, with notes; in two or four bands where they would be too narrow; four on the first paper of a
/// spread, three and the notes on the second.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct DatedWeek {
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

impl Default for DatedWeek {
    fn default() -> DatedWeek {
        DatedWeek { lines: true, notes: "Notes".into(), small_months: true, weight: None, colour: None }
    }
}

impl Ruling for DatedWeek {
    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for DatedWeek {
    const KINDS: &'static [DatedKind] = &[DatedKind::Week];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        let grid = sheet.grid(0);
        let least = Mm(22.0).pt();
        let columns = match context.areas.len() {
            1 if grid.area.w / 7.0 >= least => 7,
            1 if grid.area.w / 4.0 >= least => 4,
            1 => 2,
            _ => 4,
        };
        if columns == 7 {
            // Below the days notes and a small month, in a quarter of the page.
            let foot = if self.notes.is_empty() { 0 } else { (grid.rows / 4).max(4) };
            let to = grid.rows.saturating_sub(foot + usize::from(foot > 0));
            for (i, column) in grid.area.columns(7, 0.0).into_iter().enumerate() {
                self.column(&mut sheet, i, &grid.across(column.x, column.w), 0, to);
            }
            if foot > 0 {
                let below = grid.band((to + 1).min(grid.rows), grid.rows);
                notes_and_months(&mut sheet, &self.notes, self.small_months, below);
            }
            return sheet.out;
        }
        let grids = band_grids(&sheet, columns);
        for (grid, slots) in grids.iter().zip(bands(&grids, columns)) {
            for (slot, column, from, to) in slots {
                let own = grid.across(column.x, column.w);
                if slot < 7 {
                    self.column(&mut sheet, slot, &own, from, to);
                } else if !self.notes.is_empty() {
                    let inner = own.across(column.x + column.w * 0.06, column.w * 0.94);
                    // Their head is level with those of the days.
                    sheet.block(&self.notes, &inner, from + head_rows(from, to) - 1, to);
                }
            }
        }
        sheet.out
    }
}

/// A slot (0 to 6 a day, 7 the notes), its column, and its first and last line.
type Slot = (usize, Rect, usize, usize);

/// The grid of each area, of a pitch near that of the page with which all bands have as many lines.
fn band_grids(sheet: &Sheet, columns: usize) -> Vec<Grid> {
    let areas = sheet.context.areas.len();
    let count = (8 / areas / columns).max(1);
    let body = sheet.body(0);
    let lines = ((body.h / sheet.pitch / count as f64).round() as usize).max(2);
    let pitch = body.h / (lines * count) as f64;
    (0..areas).map(|i| Grid { rows: lines * count, ..Grid::new(sheet.body(i), pitch) }).collect()
}

/// Eight slots in bands of so many columns, area by area.
fn bands(grids: &[Grid], columns: usize) -> Vec<Vec<Slot>> {
    let each = 8 / grids.len().max(1);
    let count = (each / columns).max(1);
    let of = |(area, grid): (usize, &Grid)| {
        let tall = grid.rows / count;
        let across = grid.area.columns(columns, 0.0);
        let slot = |i: usize| (area * each + i, across[i % columns], i / columns * tall, (i / columns + 1) * tall);
        (0..each).map(slot).collect()
    };
    grids.iter().enumerate().map(of).collect()
}

/// How many rows the head of a day takes.
fn head_rows(from: usize, to: usize) -> usize {
    if to >= from + 5 { 2 } else { 1 }
}

impl DatedWeek {
    /// A day in a column: its head, then lines.
    fn column(&self, sheet: &mut Sheet, i: usize, grid: &Grid, from: usize, to: usize) {
        let page = sheet.page;
        let Some(day) = page.week.as_ref().and_then(|w| w.days.get(i)) else { return };
        let head = head_rows(from, to);
        if to <= from {
            return;
        }
        let room = grid.band(from, to);
        let wash = sheet.wash();
        if day.weekend {
            sheet.out.ground.fill(Path::rect(room), wash);
        }
        let top = grid.band(from, (from + head).min(to));
        let pad = (grid.area.w * 0.07).min(sheet.pitch * 0.3);
        let inner = grid.across(grid.area.x + pad, grid.area.w - 2.0 * pad);
        let most = (to - from).saturating_sub(head) / 2;
        let more = sheet.events_on_lines(&day.events, &Grid { rows: to, ..inner }, from + head, most.max(1));
        day_head(sheet, i, day, top, more);
        if self.lines {
            let lines = Grid { rows: to.saturating_sub(1), ..inner };
            sheet.lines(&lines, from + head + 1, to);
        }
        let pen = sheet.pen();
        sheet.out.ground.line(room.x, top.bottom(), room.right(), top.bottom(), pen.rule());
        sheet.out.ground.stroke(Path::rect(room), pen.rule());
    }
}

/// Weekday and number of a day in its head; the whole of it is tapped.
pub fn day_head(sheet: &mut Sheet, i: usize, day: &DayCell, head: Rect, more: usize) {
    let (context, pen, page) = (sheet.context, sheet.pen(), sheet.page);
    let pad = (head.w * 0.07).min(sheet.pitch * 0.3);
    let inner = head.inset_each(pad, 0.0, pad, 0.0);
    let stacked = head.w < Mm(15.0).pt();
    let size = (head.h * 0.68).min(head.w * if stacked { 0.6 } else { 0.34 }).min(sheet.pitch * 1.25);
    let size = if stacked { size.min(head.h * 0.5) } else { size };
    let colour = day.events.iter().find(|e| e.holiday).map_or(pen.ink, |e| sheet.written(e.colour));
    let number = Setting::new(Role::Heading, size, colour);
    let cap = number.cap(context.fonts);
    sheet.tap(head, day.leads());
    if pen.small {
        let bar = Rect::new(inner.x, head.y + head.h * 0.3, (size * 0.9).min(inner.w), head.h * 0.4);
        sheet.out.layer.fill(Path::rect(bar), pen.dot);
        return;
    }
    if stacked {
        let upper = Rect { h: head.h * 0.56, ..inner };
        let lower = Rect { y: upper.bottom(), h: head.h - upper.h, ..inner };
        figure(&mut sheet.out.layer, context, number, &day.number, upper);
        if let Some(name) = page.weekdays.get(i) {
            let set = sheet.label;
            // All of them short, or all of them initials.
            let short = page.weekdays.iter().all(|day| set.width(context.fonts, &day.short) <= lower.w);
            figure(&mut sheet.out.ground, context, set, if short { &name.short } else { &name.narrow }, lower);
        }
        return;
    }
    let y = head.bottom() - (head.h - cap) / 2.0;
    line(&mut sheet.out.layer, context, number, &day.number, inner, y);
    // As wide as the widest number, so that the names of all days stand in line.
    let numbers = page.week.iter().flat_map(|week| &week.days).chain([day]);
    let widths = numbers.map(|day| number.width(context.fonts, &day.number));
    let widest = widths.fold(number.width(context.fonts, "30"), f64::max);
    let rest = inner.inset_each(widest + size * 0.28, 0.0, 0.0, 0.0);
    weekday(sheet, i, &page.weekdays, rest, y);
    sheet.more(more, Rect { y: y - head.h * 0.5, h: head.h * 0.5, ..rest });
}

/// The name of a weekday on a baseline, in the longest form that all seven of them can take.
fn weekday(sheet: &mut Sheet, i: usize, all: &[WeekdayName], room: Rect, y: f64) {
    let names: Vec<[&str; 3]> = all.iter().map(|d| [d.name.as_str(), d.short.as_str(), d.narrow.as_str()]).collect();
    let set = sheet.label.sized(sheet.label.size * 1.06);
    let (set, names) = fitting(sheet.context, set, &names, room.w);
    if let Some(name) = names.get(i) {
        line(&mut sheet.out.ground, sheet.context, set, name, room, y);
    }
}

/// Notes, and at their right as many small months as have room.
pub fn notes_and_months(sheet: &mut Sheet, notes: &str, months: bool, area: Rect) {
    let grid = Grid::new(area, sheet.pitch);
    let gap = gutter(area);
    let width = area.h.min(Mm(54.0).pt()).min(area.w * 0.3);
    let mut wide = area.w;
    if months && sheet.small_fits(width, width * HEIGHT) {
        let count = if area.w >= width * 3.4 { 2 } else { 1 };
        let top = Rect { h: width * HEIGHT, ..area };
        let large = sheet.page.kind <= DatedKind::Month;
        let own = &sheet.page.month.iso;
        let all: Vec<&MonthData> = sheet.page.small.iter().filter(|m| !large || m.iso != *own).collect();
        for (i, month) in chosen(&all, count, large).into_iter().enumerate() {
            let x = area.right() - (count - i) as f64 * width - (count - 1 - i) as f64 * gap;
            let how = Small { weeks: true, year: true, name: sheet.name.size * 0.8 };
            sheet.small_month(month, Rect { x, w: width, ..top }, how);
        }
        wide -= count as f64 * (width + gap);
    }
    if !notes.is_empty() {
        sheet.block(notes, &grid.across(area.x, wide), 0, grid.rows);
    }
}
