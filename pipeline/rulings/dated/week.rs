//! A week as columns of days, and as a page of boxes.

use super::super::params::{Colour, check_weight, pen};
use super::super::parts::{Grid, gutter};
use super::sheet::{Sheet, fitting, line};
use super::small::NARROWEST;
use super::{Ruling, undated};
use base::model::dated::{DatedKind, DatedPage, DayCell, WeekdayName};
use base::model::drawing::{Path, Role};
use base::model::{Drawing, Mm, Rect};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext};
use draw::text::Setting;
use serde::Deserialize;

/// Seven columns of days, with notes; in two or four bands where they would be too narrow; four on the first paper of a
/// spread, three and the notes on the second.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct DatedWeek {
    /// Whether the days are lined.
    lines: bool,
    /// Head of the notes; empty for none.
    notes: String,
    /// Whether small months are shown where there is room.
    small_months: bool,
    /// Width of the lines in points.
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
    fn check(&self) -> Result<(), String> {
        check_weight(self.weight)
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for DatedWeek {
    const KINDS: &'static [DatedKind] = &[DatedKind::Week];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = context.with(pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = Sheet::new(&context, page) else { return DatedDrawing::default() };
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
        for (area, slots) in bands(&sheet, columns).into_iter().enumerate() {
            let grid = sheet.grid(area);
            for (slot, column, from, to) in slots {
                let own = grid.across(column.x, column.w);
                if slot < 7 {
                    self.column(&mut sheet, slot, &own, from, to);
                } else if !self.notes.is_empty() {
                    let inner = own.across(column.x + column.w * 0.06, column.w * 0.94);
                    sheet.block(&self.notes, &inner, from, to);
                }
            }
        }
        sheet.out
    }
}

/// A slot (0 to 6 a day, 7 the notes), its column, and its first and last line.
type Slot = (usize, Rect, usize, usize);

/// Eight slots in bands of so many columns, area by area.
fn bands(sheet: &Sheet, columns: usize) -> Vec<Vec<Slot>> {
    let areas = sheet.context.areas.len();
    let each = 8 / areas;
    let count = (each / columns).max(1);
    (0..areas)
        .map(|area| {
            let grid = sheet.grid(area);
            let tall = grid.rows / count;
            let across = grid.area.columns(columns, 0.0);
            (0..each)
                .map(|i| {
                    let (c, b) = (i % columns, i / columns);
                    let to = if b + 1 == count { grid.rows } else { (b + 1) * tall };
                    (area * each + i, across[c], b * tall, to)
                })
                .collect()
        })
        .collect()
}

impl DatedWeek {
    /// A day in a column: its head, then lines.
    fn column(&self, sheet: &mut Sheet, i: usize, grid: &Grid, from: usize, to: usize) {
        let page = sheet.page;
        let Some(day) = page.week.as_ref().and_then(|w| w.days.get(i)) else { return };
        let head = if to >= from + 5 { 2 } else { 1 };
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
    let size = (head.h * 0.68).min(head.w * 0.34).min(sheet.pitch * 1.25);
    let colour = day.events.iter().find(|e| e.holiday).map_or(pen.ink, |e| sheet.written(e.colour));
    let number = Setting::new(Role::Heading, size, colour);
    let y = head.bottom() - (head.h - number.cap(context.fonts)) / 2.0;
    if pen.small {
        let bar = Rect::new(inner.x, head.y + head.h * 0.3, (size * 0.9).min(inner.w), head.h * 0.4);
        sheet.out.layer.fill(Path::rect(bar), pen.dot);
    } else {
        line(&mut sheet.out.layer, context, number, &day.number, inner, y);
        // As wide as the widest number, so that the names of all days stand in line.
        let widest = number.width(context.fonts, "30").max(number.width(context.fonts, &day.number));
        let rest = inner.inset_each(widest + size * 0.28, 0.0, 0.0, 0.0);
        weekday(sheet, i, &page.weekdays, rest, y);
        sheet.more(more, Rect { y: y - head.h * 0.5, h: head.h * 0.5, ..rest });
    }
    sheet.tap(head, day.leads());
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
    if months && width >= NARROWEST.pt() {
        let count = if area.w >= width * 4.0 { 2 } else { 1 };
        let top = Rect { h: width * 0.98, ..area };
        for (i, month) in sheet.page.small.iter().enumerate().take(count) {
            let x = area.right() - (count - i) as f64 * width - (count - 1 - i) as f64 * gap;
            let how = super::small::Small { weeks: true, year: true, name: sheet.name.size * 0.8 };
            sheet.small_month(month, Rect { x, w: width, ..top }, how);
        }
        wide -= count as f64 * (width + gap);
    }
    sheet.block(notes, &grid.across(area.x, wide), 0, grid.rows);
}

/// Seven boxes and one for notes.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct DatedOpenWeek {
    /// Head of the box for notes; empty for none.
    notes: String,
    /// Whether a small month stands in the box for notes where there is room.
    small_months: bool,
    /// Width of the lines in points.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for DatedOpenWeek {
    fn default() -> DatedOpenWeek {
        DatedOpenWeek { notes: "Notes".into(), small_months: true, weight: None, colour: None }
    }
}

impl Ruling for DatedOpenWeek {
    fn check(&self) -> Result<(), String> {
        check_weight(self.weight)
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for DatedOpenWeek {
    const KINDS: &'static [DatedKind] = &[DatedKind::Week];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = context.with(pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = Sheet::new(&context, page) else { return DatedDrawing::default() };
        let (columns, rows) = match (context.areas.len(), context.areas[0]) {
            (1, a) if a.w > a.h * 1.1 => (4, 2),
            (1, _) => (2, 4),
            (_, a) if a.w > a.h * 1.1 => (2, 2),
            _ => (1, 4),
        };
        let each = columns * rows;
        for area in 0..context.areas.len() {
            let body = sheet.body(area);
            let gap = (sheet.pitch * 0.4).min(body.h * 0.02);
            let body = body.inset_each(0.0, gap, 0.0, 0.0);
            let (across, down) = (body.columns(columns, gap), body.rows(rows, gap));
            for i in 0..each {
                let slot = area * each + i;
                let room = Rect { x: across[i % columns].x, w: across[i % columns].w, ..down[i / columns] };
                self.open_box(&mut sheet, slot, room);
            }
        }
        sheet.out
    }
}

impl DatedOpenWeek {
    fn open_box(&self, sheet: &mut Sheet, slot: usize, room: Rect) {
        let page = sheet.page;
        let (pen, context) = (sheet.pen(), sheet.context);
        let radius = context.corner.min(sheet.pitch * 0.35).min(room.w / 4.0);
        let head = Rect { h: (sheet.pitch * 1.2).min(room.h * 0.4), ..room };
        let day = page.week.as_ref().and_then(|w| w.days.get(slot));
        let wash = sheet.wash();
        if day.is_some_and(|d| d.weekend) {
            sheet.out.ground.fill(Path::rounded(room, radius), wash);
        }
        sheet.out.ground.stroke(Path::rounded(room, radius), pen.rule());
        let Some(day) = day else {
            if self.notes.is_empty() {
                return;
            }
            let pad = sheet.pitch * 0.3;
            let seat = head.inset_each(pad, 0.0, pad, 0.0);
            let inner = room.inset_each(pad, pad, pad, pad * 0.5);
            let width = inner.h.min(inner.w * 0.5).min(Mm(52.0).pt());
            super::sheet::seated(
                &mut sheet.out.ground,
                context,
                sheet.name,
                &self.notes,
                Rect { w: seat.w * 0.45, ..seat },
            );
            if self.small_months && width >= NARROWEST.pt() {
                let corner = Rect { x: inner.right() - width, w: width, ..inner };
                sheet.small_months(corner, width, 1);
            }
            return;
        };
        sheet.out.ground.line(head.x, head.bottom(), head.right(), head.bottom(), pen.grid());
        let pad = sheet.pitch * 0.3;
        let rest = Rect::new(room.x + pad, head.bottom(), room.w - 2.0 * pad, room.bottom() - head.bottom());
        let set = sheet.event_set(sheet.pitch * 0.46);
        let grid = Grid::new(rest.inset_each(0.0, set.size * 0.25, 0.0, 0.0), set.size * 1.5);
        let more = sheet.events_on_lines(&day.events, &grid, 0, (grid.rows / 2).max(1));
        day_head(sheet, slot, day, head, more);
    }
}
