//! What happens on a day: marks in the colour of their list, names in the ink; holidays have a round mark, other days
//! a bar.

use super::super::parts::Grid;
use super::sheet::{Sheet, line, line_at};
use base::colour;
use base::model::Rect;
use base::model::dated::{DayCell, DayEvent};
use base::model::drawing::{Path, Role};
use base::model::{Drawing, Point};
use draw::text::{Align, Setting};

/// The text of an event: its time, where it begins on this day, and its name.
fn said(event: &DayEvent) -> String {
    match &event.time {
        Some(time) if !event.from_before => format!("{time} {}", event.name),
        _ => event.name.clone(),
    }
}

impl Sheet<'_> {
    /// The setting of events, at most this large.
    pub fn event_set(&self, most: f64) -> Setting {
        Setting::new(Role::Label, (self.label.size * 0.92).min(most), self.pen().ink)
    }

    /// Draws an event in a row of its own, and says whether it found room.
    pub fn event(&mut self, event: &DayEvent, row: Rect, set: Setting, y: f64) {
        let cap = set.cap(self.context.fonts);
        if row.w < set.size * 1.6 || y - cap < row.y - 1e-6 || y > row.bottom() + 1e-6 {
            return;
        }
        self.bullet(event, row.x, y, cap);
        let text = Rect { x: row.x + set.size * 0.62, w: row.w - set.size * 0.62, ..row };
        let whole = said(event);
        let fitted = set.fitted(self.context.fonts, [whole.as_str()], text.w, (set.size * 0.84).max(5.6).min(set.size));
        // Without its time rather than cut.
        let shown = if fitted.width(self.context.fonts, &whole) > text.w { &event.name } else { &whole };
        let fitted = set.fitted(self.context.fonts, [shown.as_str()], text.w, (set.size * 0.84).max(5.6).min(set.size));
        line(&mut self.out.layer, self.context, fitted, shown, text, y);
    }

    fn bullet(&mut self, event: &DayEvent, x: f64, y: f64, cap: f64) {
        let colour = self.mark(event.colour);
        let d = &mut self.out.layer;
        if event.holiday {
            d.fill(Path::circle(Point::new(x + cap * 0.36, y - cap / 2.0), cap * 0.34), colour);
        } else {
            d.fill(Path::rect(Rect::new(x + cap * 0.18, y - cap, cap * 0.34, cap)), colour);
        }
    }

    /// Draws the events of a day on the lines of a grid, from line `from` on, at most `most` of them; returns how many
    /// found no room.
    pub fn events_on_lines(&mut self, events: &[DayEvent], grid: &Grid, from: usize, most: usize) -> usize {
        let set = self.event_set(grid.pitch * 0.46);
        let room = most.min(grid.rows.saturating_sub(from));
        for (i, event) in events.iter().take(room).enumerate() {
            let row = grid.band(from + i, from + i + 1);
            self.event(event, row, set, row.bottom() - row.h * 0.28);
        }
        events.len().saturating_sub(room)
    }

    /// "+2" at the right end of a row: so many more happen than are named.
    pub fn more(&mut self, count: usize, row: Rect) {
        if count == 0 {
            return;
        }
        let set = Setting::new(Role::LabelBold, self.label.size.min(row.h * 0.6), self.pen().quiet);
        let text = format!("+{count}");
        let width = set.width(self.context.fonts, &text);
        if width <= row.w {
            let y = row.centre().y + set.cap(self.context.fonts) / 2.0;
            line_at(&mut self.out.layer, self.context, set, &text, row, y, Align::Right);
        }
    }

    /// The names of the lists with their marks, in one row from the left; those that find no room are left out.
    pub fn legend(&mut self, row: Rect) {
        let set = self.label.sized(self.label.size * 0.9);
        let mut x = row.x;
        let y = row.centre().y + set.cap(self.context.fonts) / 2.0;
        let page = self.page;
        for entry in &page.legend {
            let (side, gap) = (set.cap(self.context.fonts), set.size * 0.5);
            let width = set.width(self.context.fonts, &entry.name);
            if self.small() || row.h < set.size * 1.3 || x + side + gap + width > row.right() {
                break;
            }
            let mark = self.mark(entry.colour);
            self.out.layer.fill(Path::rounded(Rect::new(x, y - side, side, side), side * 0.25), mark);
            line(
                &mut self.out.layer,
                self.context,
                set,
                &entry.name,
                Rect { x: x + side + gap, w: width + 1.0, ..row },
                y,
            );
            x += side + gap + width + set.size * 1.6;
        }
    }

    /// Draws the events of a row of days below their numbers: what goes on for days runs through as a band. Returns
    /// for each day how many found no room.
    pub fn events_in_cells(&mut self, days: &[DayCell], cells: &[Rect], set: Setting, step: f64) -> Vec<usize> {
        let lanes = cells.first().map_or(0, |c| (c.h / step).floor().max(0.0) as usize);
        let mut taken = vec![vec![false; lanes]; cells.len()];
        let mut left = vec![0; cells.len()];
        for (c, day) in days.iter().enumerate().take(cells.len()) {
            if !day.shown {
                continue;
            }
            for event in &day.events {
                if event.from_before && c > 0 && days[c - 1].shown && has(&days[c - 1], event) {
                    continue;
                }
                let run = (c..cells.len().min(days.len()))
                    .take_while(|k| {
                        *k == c || (days[*k].shown && days[*k].events.iter().any(|e| same(e, event) && e.from_before))
                    })
                    .count();
                let lane = (0..lanes).find(|lane| taken[c..c + run].iter().all(|t| !t[*lane]));
                let Some(lane) = lane else {
                    left[c..c + run].iter_mut().for_each(|l| *l += 1);
                    continue;
                };
                taken[c..c + run].iter_mut().for_each(|t| t[lane] = true);
                let (a, b) = (cells[c], cells[c + run - 1]);
                let row = Rect::new(a.x, a.y + lane as f64 * step, b.right() - a.x, step);
                let ends = (event.from_before, days[c + run - 1].events.iter().any(|e| same(e, event) && e.goes_on));
                if run > 1 || ends.0 || ends.1 {
                    self.band(event, row, set, ends);
                } else {
                    let inner = row.inset_each(set.size * 0.3, 0.0, set.size * 0.3, 0.0);
                    self.event(event, inner, set, row.centre().y + set.cap(self.context.fonts) / 2.0);
                }
            }
        }
        left
    }

    /// An event that goes on for days: a tinted band, square where it comes from or goes on to another row.
    fn band(&mut self, event: &DayEvent, row: Rect, set: Setting, (before, on): (bool, bool)) {
        let (pen, own) = (self.pen(), self.mark(event.colour));
        let gap = set.size * 0.25;
        let body =
            row.inset_each(if before { 0.0 } else { gap }, row.h * 0.06, if on { 0.0 } else { gap }, row.h * 0.06);
        let r = body.h * 0.3;
        let (l, e) = (if before { 0.0 } else { r }, if on { 0.0 } else { r });
        let tint = colour::mix(pen.paper, own, 0.24);
        self.out.layer.fill(Path::rounded_each(body, [l, e, e, l]), tint);
        let text = body.inset_each(set.size * 0.4, 0.0, set.size * 0.4, 0.0);
        let ink = Setting { colour: colour::deepened(own, tint, pen.ink, 4.5), ..set };
        let whole = said(event);
        let ink = ink.fitted(self.context.fonts, [whole.as_str()], text.w, (set.size * 0.84).max(5.6).min(set.size));
        line(
            &mut self.out.layer,
            self.context,
            ink,
            &whole,
            row_of(text, row),
            row.centre().y + ink.cap(self.context.fonts) / 2.0,
        );
    }
}

/// The sides of one rectangle with the height of another.
fn row_of(sides: Rect, heights: Rect) -> Rect {
    Rect { y: heights.y, h: heights.h, ..sides }
}

fn same(a: &DayEvent, b: &DayEvent) -> bool {
    a.name == b.name && a.list == b.list
}

fn has(day: &DayCell, event: &DayEvent) -> bool {
    day.events.iter().any(|e| same(e, event) && e.goes_on)
}

/// Dots in the colours of events, for cells without room for names.
pub fn dots(d: &mut Drawing, sheet_mark: impl Fn(&DayEvent) -> base::model::Rgb, events: &[DayEvent], area: Rect) {
    let r = (area.h * 0.16).clamp(0.8, 1.8);
    for (i, event) in events.iter().take(3).enumerate() {
        let x = area.right() - r - i as f64 * r * 3.0;
        if x - r < area.x || r * 2.0 > area.h {
            break;
        }
        d.fill(Path::circle(Point::new(x, area.centre().y), r), sheet_mark(event));
    }
}
