//! A year as a wall plan: months side by side, a row for each day.

use super::super::params::{Colour, pen};
use super::super::parts::{name_room, on_frame, strong};
use super::events::marks_in;
use super::sheet::{Sheet, figure, fitting};
use super::{Ruling, head, undated};
use base::keys::Described;
use base::model::dated::{DatedKind, DatedPage, DayCell, MonthData};
use base::model::drawing::{Path, Role};
use base::model::{Drawing, Mm, Rect};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext};
use draw::text::Setting;
use serde::Deserialize;

/// Months as columns, days as rows from 1 to 31; half of the months on each paper of a spread, half of them below the
/// others on a page that is too narrow for twelve.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct WallPlan {
    /// Whether each day has the initial of its weekday.
    weekdays: bool,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for WallPlan {
    fn default() -> WallPlan {
        WallPlan { weekdays: true, weight: None, colour: None }
    }
}

impl Ruling for WallPlan {
    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

/// Days of the longest month.
const DAYS: usize = 31;

impl DatedRuling for WallPlan {
    const KINDS: &'static [DatedKind] = &[DatedKind::Year, DatedKind::Quarter];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        let each = page.months.len().div_ceil(context.areas.len()).max(1);
        for (i, months) in page.months.chunks(each).enumerate().take(context.areas.len()) {
            let body = sheet.body(i);
            let columns = each.max(if page.kind == DatedKind::Year { (3 / context.areas.len()).max(1) } else { 1 });
            self.plan(&mut sheet, body, months, columns);
        }
        sheet.out
    }
}

impl WallPlan {
    fn plan(&self, sheet: &mut Sheet, body: Rect, months: &[MonthData], columns: usize) {
        let pen = sheet.pen();
        let head = sheet.pitch.min(body.h * 0.06);
        let row = (body.h - head) / DAYS as f64;
        let across = Rect::new(body.x, body.y + head, body.w, row * DAYS as f64).columns(columns, 0.0);
        // All months of the page are named alike, whichever of them stand on this paper.
        let page = sheet.page;
        let all = &page.months;
        let names: Vec<[&str; 3]> =
            all.iter().map(|m| [m.name.as_str(), m.short.as_str(), m.narrow.as_str()]).collect();
        let first = months.first().and_then(|own| all.iter().position(|m| m.iso == own.iso)).unwrap_or(0);
        let set = Setting { colour: pen.ink, ..sheet.label.sized(sheet.label.size.min(head * 0.6)) };
        let (set, names) = fitting(sheet.context, set, &names, name_room(across[0].w));
        for ((month, column), name) in months.iter().zip(&across).zip(names.into_iter().skip(first)) {
            let title = Rect::new(column.x, body.y, column.w, head);
            figure(&mut sheet.out.layer, sheet.context, set, name, title);
            if row < sheet.least_tap() {
                // Rows that no finger can hit: the column as a whole leads on.
                sheet.tap(Rect { h: body.h, ..title }, month.leads());
            } else {
                sheet.tap(title, month.place.as_deref());
            }
            self.month(sheet, month, *column, row);
        }
        // Rules that all months have; the last days of a month have their own.
        for n in 1..28 {
            let y = body.y + head + n as f64 * row;
            sheet.out.ground.line(body.x, y, across[months.len().min(columns) - 1].right(), y, pen.grid());
        }
        for column in across.iter().take(months.len()).skip(1) {
            sheet.out.ground.line(column.x, column.y, column.x, column.bottom(), pen.rule());
        }
        let top = body.y + head;
        sheet.out.ground.line(body.x, top, across[months.len().min(columns) - 1].right(), top, strong(pen));
    }

    fn month(&self, sheet: &mut Sheet, month: &MonthData, column: Rect, row: f64) {
        let (pen, context, page) = (sheet.pen(), sheet.context, sheet.page);
        let days: Vec<&DayCell> = month.rows.iter().flat_map(|w| &w.days).filter(|d| d.inside).take(DAYS).collect();
        let wash = sheet.wash();
        let at = |n: usize| Rect::new(column.x, column.y + n as f64 * row, column.w, row);
        let weekend = |d: &&DayCell| d.weekend;
        for (n, day) in days.iter().enumerate() {
            if weekend(day) {
                // Neighbours of a weekend are one field.
                let run = days[n..].iter().take_while(|d| weekend(d)).count();
                if n == 0 || !weekend(&days[n - 1]) {
                    sheet.out.layer.fill(Path::rect(Rect { h: run as f64 * row, ..at(n) }), wash);
                }
            }
            if n >= 27 {
                let y = at(n).bottom();
                sheet.out.layer.line(column.x, y, column.right(), y, pen.grid());
            }
        }
        // Low rows are filled by their numbers, so that those can be read.
        let size = (row * 0.56).max((row * 0.66).min(5.6)).min(column.w * 0.4).min(sheet.label.size);
        let set = Setting::new(Role::Label, size, pen.ink);
        let pad = size * 0.3;
        let figures = (size * 1.3).min(column.w * 0.5);
        for (n, day) in days.iter().enumerate() {
            let cell = at(n);
            let mut own = set;
            if let Some(event) = day.events.iter().find(|e| e.holiday) {
                own.role = Role::LabelBold;
                own.colour = sheet.written(event.colour);
            }
            let number = Rect { x: cell.x + pad, w: figures, ..cell };
            figure(&mut sheet.out.layer, context, own, &day.number, number);
            let mut x = number.right() + pad;
            let initial = page.weekdays.get(day.weekday).map(|w| w.narrow.as_str()).unwrap_or_default();
            // With room for a mark behind it.
            if self.weekdays && !pen.small && size * 0.8 >= 5.0 && cell.right() - x >= size + pad * 2.0 {
                let quiet = Setting { colour: pen.quiet, ..set.sized(size * 0.8) };
                figure(&mut sheet.out.layer, context, quiet, initial, Rect { x, w: size, ..cell });
                x += size + pad;
            }
            // The number's corner leads to the day; the rest is to write in, where anyone could.
            let least = Mm(7.0).pt();
            let wide = if cell.w < Mm(13.0).pt() { cell.w } else { (x - cell.x).max(least).min(cell.w) };
            sheet.tap(Rect { w: wide, ..cell }, day.leads().filter(|_| row >= sheet.least_tap()));
            let rest = Rect { x, w: (cell.right() - x - pad).max(0.0), ..cell };
            self.events(sheet, day, rest);
        }
    }

    /// The first event of a day where its name has room, with "+2" for more of them; else a mark at the right side, a
    /// stroke from row to row for what goes on for days.
    fn events(&self, sheet: &mut Sheet, day: &DayCell, rest: Rect) {
        let Some(first) = day.events.first().filter(|_| !sheet.small()) else { return };
        let set = sheet.event_set((rest.h * 0.52).max(5.2));
        let more = day.events.len() - 1;
        let tail = if more > 0 { set.size * 1.6 } else { 0.0 };
        let room = Rect { w: rest.w - tail, ..rest };
        if sheet.fits(first, room, set) {
            let base = rest.centre().y + set.cap(sheet.context.fonts) / 2.0;
            sheet.event(first, room, set, base);
            sheet.more(more, Rect { x: rest.right() - tail, w: tail, ..rest });
            return;
        }
        let marks: Vec<_> =
            day.events.iter().filter(|e| !e.from_before && !e.goes_on).map(|e| sheet.mark(e.colour)).collect();
        let wide = (rest.h * 0.14).min(rest.w);
        if let Some(long) = day.events.iter().find(|e| e.from_before || e.goes_on) {
            let colour = sheet.mark(long.colour);
            sheet.out.layer.fill(Path::rect(Rect { x: rest.right() - wide, w: wide, ..rest }), colour);
        }
        marks_in(&mut sheet.out.layer, &marks, Rect { w: (rest.w - wide * 2.0).max(0.0), ..rest });
    }
}
