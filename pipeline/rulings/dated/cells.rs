//! The grid of a month to write in: weekdays in the head, a row a week.

use super::super::parts::name_room;
use super::events::marks_in;
use super::sheet::{Sheet, figure, fitting, line};
use base::model::dated::{DayCell, MonthData};
use base::model::drawing::{Path, Role};
use base::model::units::between;
use base::model::{Mm, Rect};
use draw::text::Setting;
use std::ops::Range;

/// Where a month's grid lies, and which of its columns.
pub struct Cells {
    /// The days, without their head: `rows` rows.
    pub area: Rect,
    /// Height of the head above it.
    pub head: f64,
    /// How many rows.
    pub rows: usize,
    /// Which weekdays, as indices.
    pub days: Range<usize>,
    /// Width of the week numbers left of it; 0 for none.
    pub weeks: f64,
}

impl Cells {
    /// The width that week numbers take beside such an area; 0 where the product has none.
    pub fn week_width(sheet: &Sheet, width: f64) -> f64 {
        if sheet.page.week_word.is_none() {
            return 0.0;
        }
        // Wide enough for a finger where the days keep enough.
        between(width * 0.055, Mm(6.4).pt().min(width * 0.075), Mm(8.0).pt())
    }

    fn cell(&self, column: usize, row: usize) -> Rect {
        let (w, h) = (self.area.w / self.days.len().max(1) as f64, self.area.h / self.rows.max(1) as f64);
        Rect::new(self.area.x + column as f64 * w, self.area.y + row as f64 * h, w, h)
    }
}

impl Sheet<'_> {
    /// Draws a month's grid. Numbers are tapped in their corner, week numbers as a whole.
    pub fn cells(&mut self, month: &MonthData, cells: &Cells) {
        self.cell_lines(cells);
        for (r, week) in month.rows.iter().take(cells.rows).enumerate() {
            if cells.weeks > 0.0 {
                let row = cells.cell(0, r);
                let number = Rect::new(cells.area.x - cells.weeks, row.y, cells.weeks, row.h);
                if let Some(text) = &week.number {
                    let set = self.label.sized(self.label.size.min(cells.weeks * 0.6));
                    figure(&mut self.out.layer, self.context, set, text, number.inset_each(1.0, 0.0, 1.0, 0.0));
                }
                self.tap(number, week.place.as_deref());
            }
            let days: Vec<DayCell> = week.days.iter().skip(cells.days.start).take(cells.days.len()).cloned().collect();
            let boxes: Vec<Rect> = (0..days.len()).map(|c| cells.cell(c, r)).collect();
            self.cell_row(&days, &boxes);
        }
    }

    fn cell_lines(&mut self, cells: &Cells) {
        let (pen, context, wash) = (self.pen(), self.context, self.wash());
        let weekdays = self.page.weekdays.get(cells.days.clone()).unwrap_or_default();
        let columns = cells.area.columns(cells.days.len(), 0.0);
        let head = Rect { y: cells.area.y - cells.head, h: cells.head, ..cells.area };
        // All days of the week are named alike, whichever of them stand on this paper.
        let names: Vec<[&str; 3]> =
            self.page.weekdays.iter().map(|d| [d.name.as_str(), d.short.as_str(), d.narrow.as_str()]).collect();
        let set = Setting { colour: pen.ink, ..self.label.sized(self.label.size.min(cells.head * 0.6)) };
        let (set, names) = fitting(context, set, &names, name_room(cells.cell(0, 0).w));
        let d = &mut self.out.ground;
        for ((column, day), name) in columns.iter().zip(weekdays).zip(names.into_iter().skip(cells.days.start)) {
            if day.weekend {
                d.fill(Path::rect(*column), wash);
            }
            if !pen.small {
                figure(d, context, set, name, Rect { y: head.y, h: head.h, ..*column });
            }
        }
        if cells.weeks > 0.0 && !pen.small {
            let corner = Rect { x: head.x - cells.weeks, w: cells.weeks, ..head };
            let word = self.page.week_word.as_deref().unwrap_or_default();
            figure(d, context, Setting { colour: pen.quiet, ..set }, word, corner);
        }
        for r in 1..cells.rows {
            let y = cells.cell(0, r).y;
            d.line(cells.area.x - cells.weeks, y, cells.area.right(), y, pen.rule());
        }
        for column in columns.iter().skip(usize::from(cells.weeks <= 0.0)) {
            d.line(column.x, column.y, column.x, column.bottom(), pen.rule());
        }
        let frame = Rect { x: cells.area.x - cells.weeks, w: cells.area.w + cells.weeks, ..cells.area };
        d.stroke(Path::rect(frame), pen.rule());
    }

    /// The days of a row: numbers, events, tap areas.
    fn cell_row(&mut self, days: &[DayCell], boxes: &[Rect]) {
        let Some(first) = boxes.first().copied() else { return };
        let (pen, context) = (self.pen(), self.context);
        let size = (first.h * 0.4).min(first.w * 0.42).min(self.label.size * 1.75);
        let set = Setting::new(Role::Heading, size, pen.ink);
        let pad = (first.w * 0.08).min(size * 0.42);
        let top = (size * 1.34).max(Mm(5.0).pt()).min(first.h * 0.55);
        let event_set = self.event_set((first.w * 0.14).max(6.0));
        let step = event_set.size * 1.42;
        let below: Vec<Rect> = boxes.iter().map(|b| b.inset_each(0.0, top, 0.0, (b.h - top) * 0.22)).collect();
        let named = first.w >= Mm(15.0).pt() && below[0].h >= step;
        let left = if named && !self.small() {
            self.events_in_cells(days, &below, event_set, step)
        } else {
            vec![0; boxes.len()]
        };
        for ((day, cell), left) in days.iter().zip(boxes).zip(left) {
            if !day.shown {
                continue;
            }
            let row = Rect { h: top, ..*cell };
            let mut set = set;
            if !day.inside {
                set = Setting { colour: self.light(), ..set.sized(size * 0.82) };
            } else if let Some(event) = day.events.iter().find(|e| e.holiday) {
                set.colour = self.written(event.colour);
            }
            let seat = row.inset_each(pad, 0.0, pad, 0.0);
            let width = set.width(context.fonts, &day.number).min(seat.w);
            if pen.small {
                figure(&mut self.out.layer, context, set, &day.number, Rect { w: seat.w.min(size), ..seat });
            } else {
                let y = row.y + pad.max(row.h * 0.16) + size * context.fonts.metrics(Role::Heading).cap;
                line(
                    &mut self.out.layer,
                    context,
                    set,
                    &day.number,
                    Rect { w: width + 0.01, ..seat },
                    y.min(row.bottom() - set.size * 0.24),
                );
                let rest = seat.inset_each(width + pad * 0.6, 0.0, 0.0, 0.0);
                // A second calendar in small figures, with its month where one begins and has room.
                let small = self.label.sized((size * 0.55).min(self.label.size));
                let fits = |text: &&String| small.width(context.fonts, text) <= rest.w;
                let second = [&day.begins_beside, &day.beside].into_iter().flatten().find(fits);
                if let Some(second) = second {
                    line(&mut self.out.layer, context, small, second, rest, y.min(row.bottom() - set.size * 0.24));
                }
                if named {
                    self.more(left, rest);
                } else {
                    let marks: Vec<_> = day.events.iter().map(|e| self.mark(e.colour)).collect();
                    marks_in(&mut self.out.layer, &marks, rest);
                }
            }
            let least = Mm(7.0).pt();
            let wide = if left > 0 { cell.w } else { (width + 2.0 * pad).max(least).min(cell.w) };
            // A cell in which nobody could write is tapped as a whole.
            let tall =
                if cell.h < Mm(10.0).pt() || cell.w < Mm(9.0).pt() { cell.h } else { top.max(least).min(cell.h) };
            let wide = if tall >= cell.h - 1e-9 { cell.w } else { wide };
            self.tap(Rect::new(cell.x, cell.y, wide, tall), day.leads());
        }
    }
}
