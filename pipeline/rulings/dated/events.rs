//! What happens on a day: marks in the colour of their list, names in the ink; holidays have a round mark, other days
//! a bar.

use super::super::parts::Grid;
use super::sheet::{Sheet, line, line_at};
use base::colour;
use base::model::Rect;
use base::model::dated::{DayCell, DayEvent};
use base::model::drawing::{Path, Role};
use base::model::{Drawing, Point, Rgb};
use draw::text::{Align, Setting};

/// How far its name stands from its mark, in em.
const INDENT: f64 = 0.62;

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

    /// Draws an event in a row of its own on a baseline: smaller, without its time, then cut where it is too long.
    pub fn event(&mut self, event: &DayEvent, row: Rect, set: Setting, y: f64) {
        let cap = set.cap(self.context.fonts);
        if row.w < set.size * 1.6 || y - cap < row.y - 1e-6 || y > row.bottom() + 1e-6 {
            return;
        }
        self.bullet(event, row.x, y, cap);
        let text = Rect { x: row.x + set.size * INDENT, w: row.w - set.size * INDENT, ..row };
        let (fitted, shown) = self.fitted(event, text.w, set);
        line(&mut self.out.layer, self.context, fitted, &shown, text, y);
    }

    /// The text of an event with the setting in which it fits a width; without its time rather than cut.
    fn fitted(&self, event: &DayEvent, width: f64, set: Setting) -> (Setting, String) {
        let least = (set.size * 0.86).max(5.8).min(set.size);
        let fit = |text: &str| set.fitted(self.context.fonts, [text], width, least);
        let whole = said(event);
        let shown =
            if fit(&whole).width(self.context.fonts, &whole) > width + 1e-6 { event.name.clone() } else { whole };
        (fit(&shown), shown)
    }

    /// Whether an event fits a row whole, with or without its time.
    pub fn fits(&self, event: &DayEvent, row: Rect, set: Setting) -> bool {
        let width = row.w - set.size * INDENT;
        let (fitted, shown) = self.fitted(event, width, set);
        row.w >= set.size * 1.6 && fitted.width(self.context.fonts, &shown) <= width + 1e-6
    }

    /// An event on two lines: what does not fit the first goes on below.
    fn in_two(&mut self, event: &DayEvent, rows: [Rect; 2], set: Setting, seat: impl Fn(Rect) -> f64) {
        let width = rows[0].w - set.size * INDENT;
        let mut lines = set.wrap(self.context.fonts, &said(event), width);
        if lines.len() > 2 {
            lines = set.wrap_to(self.context.fonts, &event.name, width, 2);
        }
        lines.resize(2, String::new());
        self.bullet(event, rows[0].x, seat(rows[0]), set.cap(self.context.fonts));
        for (row, text) in rows.into_iter().zip(lines) {
            let room = Rect { x: row.x + set.size * INDENT, w: width, ..row };
            let set = set.fitted(self.context.fonts, [text.as_str()], width, (set.size * 0.86).max(5.8).min(set.size));
            line(&mut self.out.layer, self.context, set, &text, room, seat(row));
        }
    }

    /// An event as a tinted field over a whole row, with its name where that fits.
    pub fn field(&mut self, event: &DayEvent, row: Rect, set: Setting) {
        let (own, paper) = (self.mark(event.colour), self.pen().paper);
        self.out.layer.fill(Path::rounded(row, row.h * 0.16), colour::mix(paper, own, 0.24));
        let room = row.inset_each(row.h * 0.14, 0.0, 1.0, 0.0);
        if row.w >= set.size * 4.5 || self.fits(event, room, set) {
            self.event(event, room, set, row.centre().y + set.cap(self.context.fonts) / 2.0);
        }
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

    /// Draws the events of a day on the lines of a grid, from line `from` on, on at most `most` of them; a long name
    /// takes two where there is room. Returns how many found no room.
    pub fn events_on_lines(&mut self, events: &[DayEvent], grid: &Grid, from: usize, most: usize) -> usize {
        let set = self.event_set(grid.pitch * 0.72);
        let room = most.min(grid.rows.saturating_sub(from));
        let seat = |row: Rect| row.bottom() - row.h * 0.28;
        let mut spare = room.saturating_sub(events.len());
        let mut at = from;
        for event in events.iter().take(room) {
            let row = grid.band(at, at + 1);
            if spare > 0 && !self.fits(event, row, set) && row.w >= set.size * 5.0 {
                self.in_two(event, [row, grid.band(at + 1, at + 2)], set, seat);
                (spare, at) = (spare - 1, at + 2);
            } else {
                self.event(event, row, set, seat(row));
                at += 1;
            }
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
        let mut spare: Vec<usize> = days.iter().map(|d| lanes.saturating_sub(d.events.len())).collect();
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
                    let middle = set.cap(self.context.fonts) / 2.0;
                    let seat = move |row: Rect| row.centre().y + middle;
                    let free = lane + 1 < lanes && !taken[c][lane + 1] && spare[c] > 0;
                    if free && !self.fits(event, inner, set) {
                        taken[c][lane + 1] = true;
                        spare[c] -= 1;
                        self.in_two(event, [inner, Rect { y: inner.y + step, ..inner }], set, seat);
                    } else {
                        self.event(event, inner, set, seat(inner));
                    }
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

/// Round marks for events without names, at most three, from the right end of a row.
pub fn marks_in(d: &mut Drawing, marks: &[Rgb], row: Rect) {
    let r = (row.h * 0.13).clamp(0.9, 2.0);
    for (i, colour) in marks.iter().take(3).enumerate() {
        let x = row.right() - r - i as f64 * r * 2.8;
        if x - r < row.x || r * 2.0 > row.h {
            break;
        }
        d.fill(Path::circle(Point::new(x, row.centre().y), r), *colour);
    }
}
