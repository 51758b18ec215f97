//! A week by the hour.

use super::super::params::{Colour, pen};
use super::super::parts::{Grid, gutter, on_frame};
use super::day::{Hours, hour_of};
use super::sheet::Sheet;
use super::week::day_head;
use super::{Ruling, head, undated};
use base::keys::Described;
use base::model::dated::{DatedKind, DatedPage, DayEvent};
use base::model::drawing::Path;
use base::model::units::between;
use base::model::{Drawing, Rect};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext};
use draw::text::Align;
use serde::Deserialize;
use std::ops::Range;

/// Days as columns, hours as rows, with a row above for what lasts all day; four days on the first paper of a spread,
/// three and the notes on the second.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct WeekHours {
    /// First hour.
    /// Range: 0 to 23.
    from: u8,
    /// Last hour.
    /// Range: 0 to 23.
    to: u8,
    /// Whether a lighter line marks the half hours.
    half_hours: bool,
    /// Head of the notes on a spread; empty for none.
    notes: String,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for WeekHours {
    fn default() -> WeekHours {
        WeekHours { from: 7, to: 21, half_hours: true, notes: "Notes".into(), weight: None, colour: None }
    }
}

impl Ruling for WeekHours {
    fn check(&self) -> Result<(), String> {
        Hours { from: self.from, to: self.to, halves: self.half_hours }.check()
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for WeekHours {
    const KINDS: &'static [DatedKind] = &[DatedKind::Week];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        if context.areas.len() > 1 {
            let (left, right) = (sheet.grid(0), sheet.grid(1));
            let column = (left.area.w - self.names_width(&sheet)) / 4.0;
            self.days(&mut sheet, &left, 0..4, column);
            let gap = gutter(right.area);
            self.days(&mut sheet, &right, 4..7, column);
            let x = right.area.x + self.names_width(&sheet) + 3.0 * column + gap;
            if !self.notes.is_empty() && x < right.area.right() {
                sheet.block(&self.notes, &right.across(x, right.area.right() - x), 0, right.rows);
            }
        } else {
            let grid = sheet.grid(0);
            let column = (grid.area.w - self.names_width(&sheet)) / 7.0;
            self.days(&mut sheet, &grid, 0..7, column);
        }
        sheet.out
    }
}

impl WeekHours {
    /// Width of the column with the hours' names.
    fn names_width(&self, sheet: &Sheet) -> f64 {
        let area = sheet.context.areas[0];
        let names = sheet.page.hours.iter().filter(|h| (self.from..=self.to).contains(&h.hour));
        let widest = names.map(|h| sheet.label.width(sheet.context.fonts, &h.name)).fold(0.0, f64::max);
        between(widest + sheet.label.size * 0.7, area.w * 0.04, area.w * 0.12)
    }

    fn days(&self, sheet: &mut Sheet, grid: &Grid, days: Range<usize>, column: f64) {
        let page = sheet.page;
        let Some(week) = &page.week else { return };
        let (area, pen, wash) = (grid.area, sheet.pen(), sheet.wash());
        let names = self.names_width(sheet);
        let head = (sheet.pitch * 1.5).min(area.h * 0.1);
        let count = f64::from(self.to - self.from) + 1.0;
        let all_day = (sheet.pitch * 1.6).min(area.h * 0.08);
        let top = area.y + head + all_day;
        let hour = (area.bottom() - top) / count;
        let at = |c: usize| area.x + names + c as f64 * column;
        for (c, i) in days.clone().enumerate() {
            let Some(day) = week.days.get(i) else { continue };
            let room = Rect::new(at(c), area.y, column, area.h);
            if day.weekend {
                sheet.out.ground.fill(Path::rect(room), wash);
            }
        }
        let right = at(days.len());
        for n in 0..=(count as usize) {
            let y = top + n as f64 * hour;
            let stroke = if n == 0 { super::super::parts::strong(pen) } else { pen.rule() };
            sheet.out.ground.line(area.x, y.min(area.bottom()), right, y.min(area.bottom()), stroke);
            if self.half_hours && !pen.small && n < count as usize {
                sheet.out.ground.line(area.x + names, y + hour / 2.0, right, y + hour / 2.0, pen.grid());
            }
        }
        let set = sheet.label.sized(sheet.label.size.min(hour * 0.55));
        for name in page.hours.iter().filter(|h| (self.from..=self.to).contains(&h.hour)) {
            let y = top + f64::from(name.hour - self.from) * hour;
            let row = Rect::new(area.x, y, names - set.size * 0.4, hour);
            let set = set.fitted(sheet.context.fonts, [name.name.as_str()], row.w, 1.0);
            super::sheet::line_at(
                &mut sheet.out.ground,
                sheet.context,
                set,
                &name.name,
                row,
                y + set.size * 0.35 + set.cap(sheet.context.fonts),
                Align::Right,
            );
        }
        for c in 0..=days.len() {
            sheet.out.ground.line(at(c), area.y + head, at(c), area.bottom(), pen.rule());
        }
        sheet.out.ground.line(area.x + names, area.y + head, right, area.y + head, pen.rule());
        let event_set = sheet.event_set((column * 0.16).max(5.8));
        let timed = |e: &DayEvent| hour_of(e).filter(|h| *h >= f64::from(self.from) && *h < f64::from(self.to) + 1.0);
        for (c, i) in days.enumerate() {
            let Some(day) = week.days.get(i) else { continue };
            let whole: Vec<DayEvent> = day.events.iter().filter(|e| timed(e).is_none()).cloned().collect();
            let row = Rect::new(at(c), area.y + head, column, all_day);
            let step = event_set.size * 1.6;
            let lanes = (all_day / step).floor() as usize;
            for (n, event) in whole.iter().take(lanes).enumerate() {
                let field = Rect { y: row.y + n as f64 * step + 0.5, h: step - 1.0, ..row };
                sheet.field(event, field.inset_each(1.0, 0.0, 1.0, 0.0), event_set);
            }
            let more = whole.len().saturating_sub(lanes);
            for event in &day.events {
                let Some(h) = timed(event) else { continue };
                let y = top + (h - f64::from(self.from)) * hour;
                let tall = (event_set.size * 1.7).max(hour * 0.5).min(hour).min(area.bottom() - y);
                let room = Rect::new(at(c) + 1.0, y + 0.5, column - 2.0, tall - 1.0);
                sheet.field(event, room, event_set);
            }
            day_head(sheet, i, day, Rect::new(at(c), area.y, column, head), more);
        }
    }
}
