//! Small months, of which each day is linked.

use super::sheet::{Sheet, figure, line};
use base::model::dated::{DatedKind, DayCell, MonthData, WeekRow};
use base::model::drawing::{Path, Role};
use base::model::{Mm, Rect};
use draw::text::Setting;

/// How a small month is drawn.
#[derive(Clone, Copy)]
pub struct Small {
    /// Whether weeks have their number before them.
    pub weeks: bool,
    /// Whether the name has its year.
    pub year: bool,
    /// Size of the name in points.
    pub name: f64,
}

/// Rows of a small month: its name takes one and a half, the weekdays one, its weeks six.
pub const ROWS: f64 = 8.5;
/// Height of a small month in parts of its width where there is room.
pub const HEIGHT: f64 = 0.98;

impl Sheet<'_> {
    /// Draws a small month. Each of its days, its name and its week numbers are tapped as whole fields; where days are too low or
    /// narrow for that, the whole month is one.
    pub fn small_month(&mut self, month: &MonthData, area: Rect, how: Small) {
        let row = area.h / ROWS;
        let wanted = how.weeks && self.page.week_word.is_some();
        // Numbers of weeks are narrower than days, unless they could not be tapped then.
        let share = [0.8, 1.0].into_iter().find(|share| area.w * share / (7.0 + share) >= self.least_tap());
        let column = area.w / (7.0 + share.filter(|_| wanted).unwrap_or(0.0));
        let weeks = wanted && share.is_some();
        let left = area.right() - 7.0 * column;
        let one_tap = column.min(row) < self.least_tap();
        if one_tap {
            self.tap(area, month.leads());
        }
        let at = |c: usize, r: usize| Rect::new(left + c as f64 * column, area.y + (2.5 + r as f64) * row, column, row);
        self.small_names(month, area, how, column, row);
        if !one_tap {
            self.tap(Rect { h: row * 1.5, ..area }, month.place.as_deref());
        }
        self.weekend_wash(month, at);
        let size = (row * 0.62).min(column * 0.58).min(self.label.size * 1.2).max(5.2);
        let set = self.apart(Setting::new(Role::Label, size, self.pen().ink), month, column);
        for (r, week) in month.rows.iter().take(6).enumerate() {
            if !week.days.iter().any(|d| d.shown) {
                continue;
            }
            self.own_week(week, Rect::new(left, at(0, r).y, 7.0 * column, row));
            if let (true, Some(number)) = (weeks, &week.number) {
                let cell = Rect::new(area.x, at(0, r).y, left - area.x, row);
                let quiet =
                    Setting { colour: self.pen().quiet, ..set.sized((set.size * 0.8).max(5.0_f64.min(set.size))) };
                figure(&mut self.out.layer, self.context, quiet, number, cell);
                self.tap(cell, week.place.as_deref().filter(|_| !one_tap));
            }
            for (c, day) in week.days.iter().take(7).enumerate().filter(|(_, d)| d.shown) {
                self.small_day(day, at(c, r), set);
                self.tap(at(c, r), day.leads().filter(|_| !one_tap));
            }
        }
    }

    /// So small that no number of a month touches its neighbours.
    fn apart(&self, set: Setting, month: &MonthData, column: f64) -> Setting {
        let days = month.rows.iter().flat_map(|week| &week.days).filter(|day| day.shown);
        let widest = days.map(|day| set.width(self.context.fonts, &day.number)).fold(0.0, f64::max);
        set.sized(set.size * (column * APART / widest.max(1e-9)).min(1.0))
    }

    /// Its name, and the weekdays above a line.
    fn small_names(&mut self, month: &MonthData, area: Rect, how: Small, column: f64, row: f64) {
        let (context, pen) = (self.context, self.pen());
        let head = Rect { h: row * 1.5, ..area };
        let name = Setting::new(Role::Heading, how.name.min(row * 1.05), pen.ink);
        let text = if how.year { &month.with_year } else { &month.name };
        let room = Rect { w: area.w - column * 0.3, x: area.x + column * 0.16, ..head };
        if pen.small {
            self.out.layer.fill(Path::rect(Rect::new(room.x, head.y + row * 0.4, room.w * 0.4, row * 0.6)), pen.dot);
        }
        let fitted = name.fitted(context.fonts, [text.as_str()], room.w, name.size * 0.75);
        let text = if fitted.width(context.fonts, text) > room.w { &month.short } else { text };
        line(&mut self.out.layer, context, fitted, text, room, head.bottom() - row * 0.42);
        let left = area.right() - 7.0 * column;
        let set = Setting::new(Role::Label, (row * 0.5).min(column * 0.5).min(self.label.size).max(5.0), pen.quiet);
        for (c, day) in self.page.weekdays.iter().take(7).enumerate() {
            let cell = Rect::new(left + c as f64 * column, area.y + row * 1.5, column, row);
            if !pen.small {
                figure(&mut self.out.ground, context, set, &day.narrow, cell);
            }
        }
        let y = area.y + row * 2.5;
        self.out.ground.line(area.x, y, area.right(), y, pen.rule());
    }

    /// The weekends of the month, washed.
    fn weekend_wash(&mut self, month: &MonthData, at: impl Fn(usize, usize) -> Rect) {
        let wash = self.wash();
        let weekend = |c: usize| self.page.weekdays.get(c).is_some_and(|d| d.weekend);
        let run = |c: usize| {
            let has = |r: &WeekRow| r.days.get(c).is_some_and(|d| d.shown);
            let rows = &month.rows[..month.rows.len().min(6)];
            rows.iter().position(has).zip(rows.iter().rposition(has))
        };
        let mut columns: Vec<(usize, usize, (usize, usize))> = Vec::new();
        for (c, rows) in (0..7).filter(|c| weekend(*c)).filter_map(|c| Some((c, run(c)?))) {
            match columns.last_mut() {
                Some((_, to, same)) if *to + 1 == c && *same == rows => *to = c,
                _ => columns.push((c, c, rows)),
            }
        }
        for (from, to, (top, bottom)) in columns {
            let (a, b) = (at(from, top), at(to, bottom));
            self.out.layer.fill(Path::rect(Rect::new(a.x, a.y, b.right() - a.x, b.bottom() - a.y)), wash);
        }
    }

    /// On the page of a week, a frame round its row.
    fn own_week(&mut self, week: &WeekRow, row: Rect) {
        let Some(own) = self.page.week.as_ref().filter(|_| self.page.kind == DatedKind::Week) else { return };
        let Some(first) = own.days.first() else { return };
        if week.days.first().is_some_and(|d| d.iso == first.iso) {
            let (from, to) = (
                week.days.iter().position(|d| d.shown).unwrap_or(0),
                week.days.iter().rposition(|d| d.shown).unwrap_or(6),
            );
            let column = row.w / 7.0;
            let inset = row.h * 0.07;
            let frame =
                Rect::new(row.x + from as f64 * column, row.y, (to + 1 - from) as f64 * column, row.h).inset(inset);
            let path = Path::rounded(frame, frame.h / 2.0);
            let stroke = base::model::drawing::Stroke::new(self.pen().weight * 1.6, self.pen().quiet);
            self.out.layer.stroke(path, stroke);
        }
    }

    fn small_day(&mut self, day: &DayCell, cell: Rect, set: Setting) {
        let (context, pen) = (self.context, self.pen());
        let own = self.page.kind == DatedKind::Day && self.page.days.iter().any(|d| d.iso == day.iso);
        let mut set = set;
        if !day.inside {
            set.colour = self.light();
        }
        if own {
            let side = cell.w.min(cell.h) * 0.94;
            let c = cell.centre();
            let seat = Rect::new(
                c.x - side.max(set.size * 1.5).min(cell.w) / 2.0,
                c.y - side / 2.0,
                side.max(set.size * 1.5).min(cell.w),
                side,
            );
            self.out.layer.fill(Path::rounded(seat, side / 2.0), pen.ink);
            set.colour = pen.paper;
            set.role = Role::LabelBold;
        } else if let Some(event) = day.events.first() {
            // A holiday in bold, and a stroke below whatever happens.
            if event.holiday {
                set.role = Role::LabelBold;
                set.colour = self.written(event.colour);
            }
            let (w, h) = (set.size * 0.9, (set.size * 0.12).max(0.8));
            let y = (cell.centre().y + set.size * 0.5).min(cell.bottom() - h);
            let w = w.min(cell.w);
            if !pen.small {
                let mark = self.mark(event.colour);
                self.out.layer.fill(Path::rect(Rect::new(cell.centre().x - w / 2.0, y, w, h)), mark);
            }
        }
        figure(&mut self.out.layer, context, set, &day.number, cell);
    }

    /// Least side of a day as a tap area, in points.
    pub fn least_tap(&self) -> f64 {
        self.context.long_side * LEAST_TAP.0 / LEAST_TAP.1
    }

    /// Whether the days of a small month so wide and high can be read and tapped.
    pub fn small_fits(&self, width: f64, height: f64) -> bool {
        width >= NARROWEST.pt() && (width / 7.0).min(height / ROWS) >= self.least_tap()
    }

    /// Draws up to `most` small months one below the other from the top of a rectangle, as many as have room; returns
    /// where the room for them ends, the same for all pages of a set. The month that is drawn large is left out.
    pub fn small_months(&mut self, area: Rect, width: f64, most: usize) -> f64 {
        let page = self.page;
        let large = page.kind <= DatedKind::Month;
        let months: Vec<&MonthData> = page.small.iter().filter(|m| !large || m.iso != page.month.iso).collect();
        let height = width * HEIGHT;
        let step = height + self.pitch * 0.5;
        let room = ((area.h + self.pitch * 0.5 + 1e-6) / step).floor().max(0.0) as usize;
        let count = most.min(room);
        for (i, month) in chosen(&months, count, large).iter().enumerate() {
            let how = Small { weeks: true, year: true, name: self.name.size * 0.8 };
            self.small_month(month, Rect::new(area.x, area.y + i as f64 * step, width.min(area.w), height), how);
        }
        area.y + count as f64 * step
    }
}

/// How much of its column the widest number may take.
const APART: f64 = 0.88;
/// Narrowest small month that can be read.
const NARROWEST: Mm = Mm(27.0);
/// Least side of a day as a tap area in CSS pixels, on a screen that shows the longer side of the page on so many (common practice, no
/// source).
const LEAST_TAP: (f64, f64) = (14.2, 1180.0);

/// So many of the small months of a page: beside a large one, the one after it before the one before it.
pub fn chosen<'m>(months: &[&'m MonthData], count: usize, large: bool) -> Vec<&'m MonthData> {
    let from = if large { months.len().saturating_sub(count) } else { 0 };
    months.iter().skip(from).take(count).copied().collect()
}
