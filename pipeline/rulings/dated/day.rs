//! A day by the hour, with priorities, notes and small months.

use super::super::params::{Colour, Mark, pen};
use super::super::parts::{Grid, check_row, gutter, on_frame, strong};
use super::sheet::{Sheet, line_at, seated};
use super::small::Small;
use super::{Ruling, head, undated};
use base::keys::Described;
use base::model::dated::{DatedKind, DatedPage, DayCell, DayEvent, HourName};
use base::model::{Drawing, Mm, Rect};
use draw::ruling::{DatedDrawing, DatedRuling, RulingContext};
use draw::text::{Align, Setting};
use serde::Deserialize;

/// Hours from top to bottom; small months, priorities and notes on the second paper, or beside the hours where the page
/// is wide enough. Two days that share a page stand side by side.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct DatedDay {
    /// First hour.
    /// Range: 0 to 23.
    from: u8,
    /// Last hour.
    /// Range: 0 to 23.
    to: u8,
    /// Whether a lighter line marks the half hours.
    half_hours: bool,
    /// Head of the priorities; empty for none.
    priorities: String,
    /// How many priorities.
    /// Range: 1 to 12.
    count: usize,
    /// What is ticked: a box or a circle.
    mark: Mark,
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

impl Default for DatedDay {
    fn default() -> DatedDay {
        DatedDay {
            from: 6,
            to: 22,
            half_hours: true,
            priorities: "Priorities".into(),
            count: 3,
            mark: Mark::Box,
            notes: "Notes".into(),
            small_months: true,
            weight: None,
            colour: None,
        }
    }
}

impl Ruling for DatedDay {
    fn check(&self) -> Result<(), String> {
        self.hours().check()
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        undated(self, context)
    }
}

impl DatedRuling for DatedDay {
    const KINDS: &'static [DatedKind] = &[DatedKind::Day];

    fn draw_dated(&self, context: &RulingContext, page: &DatedPage) -> DatedDrawing {
        let context = on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(mut sheet) = head::begin(&context, page) else { return DatedDrawing::default() };
        let grid = sheet.grid(0);
        let area = grid.area;
        if let [first, second, ..] = page.days.as_slice() {
            let halves = if context.areas.len() > 1 {
                vec![grid, sheet.grid(1)]
            } else {
                area.columns(2, gutter(area)).iter().map(|c| grid.across(c.x, c.w)).collect()
            };
            for (day, half) in [first, second].into_iter().zip(halves) {
                day_name(&mut sheet, day, half.band(0, 1));
                let rest = Grid::new(half.band(1.min(half.rows), half.rows), half.pitch);
                self.hours().draw(&mut sheet, Some(day), &rest, 1);
            }
            return sheet.out;
        }
        let day = page.days.first();
        if context.areas.len() > 1 {
            let other = sheet.grid(1);
            self.hours().draw(&mut sheet, day, &grid, 2);
            self.lists(&mut sheet, &other);
        } else if area.w >= Mm(85.0).pt() {
            let gap = gutter(area) * 1.3;
            let wide = (area.w - gap) * if area.w > area.h { 0.5 } else { 0.56 };
            self.hours().draw(&mut sheet, day, &grid.across(area.x, wide), 2);
            self.lists(&mut sheet, &grid.across(area.x + wide + gap, area.w - wide - gap));
        } else {
            // Hours stay high enough to write in; what is left above them goes to the priorities, without their head.
            let n = (usize::from(self.to - self.from) + 1) as f64;
            let free = ((area.h - n * Mm(5.0).pt()) / grid.pitch).floor().max(0.0) as usize;
            let rows = if self.priorities.is_empty() { 0 } else { self.count.min(free.saturating_sub(1)) };
            let pen = sheet.pen();
            for i in 0..rows {
                check_row(&mut sheet.out.ground, sheet.context, pen, self.mark, grid.band(i, i + 1));
            }
            let rest = Grid::new(grid.band(rows, grid.rows), grid.pitch);
            self.hours().draw(&mut sheet, day, &rest, 1);
        }
        sheet.out
    }
}

impl DatedDay {
    fn hours(&self) -> Hours {
        Hours { from: self.from, to: self.to, halves: self.half_hours }
    }

    /// Small months, priorities and notes in a column.
    fn lists(&self, sheet: &mut Sheet, grid: &Grid) {
        let mut from = 0;
        if self.small_months {
            from = months_across(sheet, grid, grid.rows / 3);
        }
        if !self.priorities.is_empty() {
            let to = (from + 1 + self.count).min(grid.rows);
            sheet.ticks(&self.priorities, self.mark, grid, from, to);
            from = to + 1;
        }
        if !self.notes.is_empty() {
            sheet.block(&self.notes, grid, from, grid.rows);
        }
    }
}

/// The name of one of two days above its half.
pub fn day_name(sheet: &mut Sheet, day: &DayCell, row: Rect) {
    let Some(weekday) = sheet.page.weekdays.get(day.weekday) else { return };
    let text = format!("{} {}", weekday.short, day.number);
    let set = sheet.name.sized((sheet.name.size * 1.25).min(row.h * 0.68));
    seated(&mut sheet.out.layer, sheet.context, set, &text, row);
}

/// One small month or two side by side at the top of a column, in at most so many rows; returns the line on which what
/// follows begins.
pub fn months_across(sheet: &mut Sheet, grid: &Grid, most: usize) -> usize {
    let area = grid.area;
    let gap = gutter(area) * 1.2;
    let two = (area.w - gap) / 2.0 >= Mm(38.0).pt();
    let width = if two { (area.w - gap) / 2.0 } else { area.w };
    let rows = ((width.min(Mm(60.0).pt()) * 0.9 / grid.pitch).round() as usize).min(most);
    let height = rows as f64 * grid.pitch;
    if !sheet.small_fits(width, height) || height < width * 0.55 || height < Mm(24.0).pt() {
        return 0;
    }
    let how = Small { weeks: true, year: true, name: sheet.name.size * 0.86 };
    let page = sheet.page;
    for (i, month) in page.small.iter().enumerate().take(if two { 2 } else { 1 }) {
        let x = area.x + i as f64 * (width + gap);
        sheet.small_month(month, Rect::new(x, area.y, width, height), how);
    }
    rows + 1
}

/// Hours of a day.
#[derive(Clone, Copy)]
pub struct Hours {
    /// The first.
    pub from: u8,
    /// The last.
    pub to: u8,
    /// Whether half hours have a line.
    pub halves: bool,
}

impl Hours {
    /// Refuses hours that no day has.
    pub fn check(self) -> Result<(), String> {
        if self.to > 23 || self.from >= self.to {
            return Err(format!(
                "the day goes from {} to {}; give hours from 0 to 23, the later one in `to`",
                self.from, self.to
            ));
        }
        Ok(())
    }

    /// Draws them on a grid below `above` rows for what lasts all day, with the events of a day.
    pub fn draw(self, sheet: &mut Sheet, day: Option<&DayCell>, grid: &Grid, above: usize) {
        let above = if grid.rows > above + 4 { above } else { 0 };
        let (pen, context, page) = (sheet.pen(), sheet.context, sheet.page);
        let n = usize::from(self.to - self.from) + 1;
        let room = grid.area.h - above as f64 * grid.pitch;
        // They fill the page down to the last line beside them.
        let hour = (room / n as f64).min(grid.pitch * 2.4);
        let halves = self.halves && !pen.small && hour >= Mm(6.0).pt();
        sheet.lines(grid, 1, above.saturating_sub(1));
        let top = grid.y(above);
        let size = (hour * 0.5).min(sheet.label.size * 1.15);
        let set = Setting::new(sheet.label.role, size, pen.ink);
        let names: Vec<&HourName> = page.hours.iter().filter(|h| (self.from..=self.to).contains(&h.hour)).collect();
        let widest = names.iter().map(|h| set.width(context.fonts, &h.name)).fold(0.0, f64::max);
        let indent = (widest + size * 0.9).min(grid.area.w * 0.35);
        let (x, right) = (grid.area.x, grid.area.right());
        for (i, name) in names.iter().enumerate() {
            let y = top + i as f64 * hour;
            let row = Rect::new(x, y, (indent - size * 0.6).max(0.0), hour);
            let fitted = set.fitted(context.fonts, [name.name.as_str()], row.w, 1.0);
            // In the middle of its half, but clear of the line above.
            let cap = set.cap(context.fonts);
            let (own, clear) = (if halves { hour / 2.0 } else { hour }, Mm(0.85).pt().min((hour - cap) / 2.0));
            let base = y + ((own - cap) / 2.0).max(clear) + cap;
            line_at(&mut sheet.out.ground, context, fitted, &name.name, row, base, Align::Right);
            if halves {
                sheet.out.ground.line(x + indent, y + hour / 2.0, right, y + hour / 2.0, pen.grid());
            }
            sheet.out.ground.line(x, y + hour, right, y + hour, pen.rule());
        }
        sheet.out.ground.line(x, top, right, top, strong(pen));
        let Some(day) = day else { return };
        let starts = |e: &DayEvent| hour_of(e).filter(|h| *h >= f64::from(self.from) && *h < f64::from(self.to) + 1.0);
        let whole: Vec<DayEvent> = day.events.iter().filter(|e| starts(e).is_none()).cloned().collect();
        let own = Grid { rows: above, ..*grid };
        let left = sheet.events_on_lines(&whole, &own, 0, above);
        if above > 0 {
            sheet.more(left, grid.band(above - 1, above));
        }
        let set = sheet.event_set(hour * 0.5);
        let step = if halves { 2.0 } else { 1.0 };
        let mut taken: Vec<f64> = Vec::new();
        for event in &day.events {
            let Some(h) = starts(event) else { continue };
            // In the row in which it begins; where that is taken, in the next one.
            let mut slot = ((h - f64::from(self.from)) * step).floor();
            while taken.contains(&slot) {
                slot += 1.0;
            }
            taken.push(slot);
            let y = top + slot * hour / step;
            let row = Rect::new(x + indent, y, right - x - indent, hour / step);
            let set = set.sized(set.size.min(row.h * 0.8));
            let base = row.centre().y + set.cap(context.fonts) / 2.0;
            if row.bottom() <= grid.area.bottom() + 1e-6 {
                sheet.event(event, row, set, base);
            }
        }
    }
}

/// The hour, with its fraction, at which an event begins: its time as the product's clock writes it, read by the names
/// of the hours.
pub fn hour_of(event: &DayEvent) -> Option<f64> {
    let minutes = event.minutes.filter(|_| !event.from_before)?;
    Some(f64::from(minutes) / 60.0)
}
