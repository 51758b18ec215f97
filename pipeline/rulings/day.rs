//! A day by the hour, with things to do and notes beside it.

use super::params::{Colour, Pitch, pen};
use super::parts::{Grid, Type, field, gutter, half_hour, headed, least_type, line_label, name, on_frame, say, strong};
use super::{Ruling, RulingContext, lined, lists};
use base::keys::Described;
use base::model::drawing::Role;
use base::model::{Drawing, Mm, Rect};
use draw::text::{Align, Setting};
use serde::Deserialize;

/// Hours from top to bottom; things to do and notes on the second paper, or beside the hours where the page is wide
/// enough.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Day {
    /// First hour.
    /// Range: 0 to 23.
    from: u8,
    /// Last hour.
    /// Range: 0 to 23.
    to: u8,
    /// Height of an hour; by default the hours fill the page. Smaller where they would not all fit.
    /// Range: 2 to 50 mm.
    pitch: Option<Pitch>,
    /// Whether a lighter line marks the half hours.
    half_hours: bool,
    /// 24 or 12: how the hours are counted.
    /// Range: 12 to 24.
    clock: u8,
    /// Label of the date's field; empty for none.
    date: String,
    /// Label of the field beside it; empty for none.
    focus: String,
    /// Head of the list of things to do.
    to_do: String,
    /// Head of the notes.
    notes: String,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Day {
    fn default() -> Day {
        Day {
            from: 6,
            to: 22,
            pitch: None,
            half_hours: true,
            clock: 24,
            date: "Date".into(),
            focus: "Most important".into(),
            to_do: "To do".into(),
            notes: "Notes".into(),
            weight: None,
            colour: None,
        }
    }
}

/// The lowest row that is written in, in mm (common practice, no source).
const LEAST_ROW: f64 = 5.0;

/// The highest row that an hour takes where nothing is asked (common practice, no source).
const HIGHEST_ROW: Mm = Mm(14.0);

impl Ruling for Day {
    fn check(&self) -> Result<(), String> {
        if self.to > 23 || self.from >= self.to {
            return Err(format!(
                "the day goes from {} to {}; give hours from 0 to 23, the later one in `to`",
                self.from, self.to
            ));
        }
        if self.clock != 24 && self.clock != 12 {
            return Err(format!("clock is {}; give 24 or 12", self.clock));
        }
        Ok(())
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let context = &on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(first) = context.areas.first() else { return d };
        let (head, body) = headed(*first);
        let pitch = self.row(body);
        let set = Type::new(*first, pitch, &context.pen).label;
        let grid = Grid::new(body, pitch);
        if let Some(second) = context.areas.get(1) {
            line_label(&mut d, context, set, &self.date, head);
            let end = self.hour_rows(&mut d, context, &grid);
            lined::rules(&mut d, &context.pen, &grid, end + 1);
            let (above, below) = headed(*second);
            field(&mut d, context, set, &self.focus, above);
            self.lists(&mut d, context, &Grid::new(below, pitch));
        } else if first.w >= Mm(85.0).pt() {
            let gap = gutter(*first) * 1.4;
            let share = if first.w > first.h { 0.5 } else { 0.56 };
            let w = (first.w - gap) * share;
            let hours = grid.across(first.x, w);
            let beside = grid.across(first.x + w + gap, first.w - gap - w);
            let seat = |grid: &Grid| Rect { x: grid.area.x, w: grid.area.w, ..head };
            line_label(&mut d, context, set, &self.date, seat(&hours));
            field(&mut d, context, set, &self.focus, seat(&beside));
            let end = self.hour_rows(&mut d, context, &hours);
            lined::rules(&mut d, &context.pen, &hours, end + 1);
            self.lists(&mut d, context, &beside);
        } else {
            line_label(&mut d, context, set, &self.date, head);
            let end = self.hour_rows(&mut d, context, &grid);
            if grid.rows >= end + 3 {
                name(&mut d, context, self.head(context, &grid), &self.notes, grid.band(end + 1, end + 2));
                lined::rules(&mut d, &context.pen, &grid, end + 2);
            } else {
                lined::rules(&mut d, &context.pen, &grid, end + 1);
            }
        }
        d
    }
}

impl Day {
    fn hours(&self) -> usize {
        usize::from(self.to - self.from) + 1
    }

    /// Height of a row below the head: as asked, or so that the hours fill the page. Hours that would be too high for that leave
    /// open rows below the last one, down to the foot.
    fn row(&self, body: Rect) -> f64 {
        let most = self.high(body, self.step(body));
        match self.pitch {
            Some(pitch) => pitch.pt().min(most),
            None if most <= HIGHEST_ROW.pt() => most,
            None => Grid::filled(body, Mm(11.0).pt()).pitch,
        }
    }

    /// The highest row with which all hours fit.
    fn high(&self, body: Rect, step: usize) -> f64 {
        body.h / self.hours().div_ceil(step) as f64
    }

    /// Every how many hours there is a row: rows keep a height that can be written in.
    fn step(&self, body: Rect) -> usize {
        (1..4).find(|step| self.high(body, *step) >= Mm(LEAST_ROW).pt()).unwrap_or(4)
    }

    /// Heads are of one size whatever column they stand in.
    fn head(&self, context: &RulingContext, grid: &Grid) -> Setting {
        Type::new(context.areas.first().copied().unwrap_or(grid.area), grid.pitch, &context.pen).head
    }

    fn called(&self, hour: u8) -> String {
        match (self.clock, hour) {
            (12, 0) => "12 am".into(),
            (12, 12) => "12 pm".into(),
            (12, h) if h < 12 => format!("{h} am"),
            (12, h) => format!("{} pm", h - 12),
            (_, h) => h.to_string(),
        }
    }

    /// Draws the hours and returns the line below the last one.
    fn hour_rows(&self, d: &mut Drawing, context: &RulingContext, grid: &Grid) -> usize {
        let pen = &context.pen;
        let least = context.areas.first().map_or(0.0, |area| least_type(*area));
        let size = (grid.pitch * 0.42).min(self.head(context, grid).size).max(least);
        let set = Setting::new(Role::Heading, size, pen.ink);
        let step = self.step(grid.area);
        let names: Vec<String> = (self.from..=self.to).step_by(step).map(|h| self.called(h)).collect();
        // Half hours give way first where there would be no room to write.
        let halved = self.half_hours && !pen.small && step == 1 && grid.pitch >= 2.0 * Mm(LEAST_ROW).pt();
        let widest = names.iter().map(|n| set.width(context.fonts, n)).fold(0.0, f64::max);
        let indent = (widest + size * 0.9).min(grid.area.w * 0.4);
        let end = names.len().min(grid.rows);
        for (i, name) in names.iter().take(end).enumerate() {
            let row = grid.band(i, i + 1);
            // The numerals hang from the top of the row, where the hour begins, clear of the line above.
            let cap = set.cap(context.fonts);
            let high = (cap + set.size * 0.5).min(row.h);
            let from_top = Mm(1.4).pt().max(row.h * 0.15).min(row.h * 0.22);
            // In the lowest rows they stand on the ground: what hangs below them stays within too.
            let from_top = from_top.min((row.h - cap - set.size * 0.24).max(0.0));
            let seat = Rect::new(row.x, row.y + from_top + (cap - high) / 2.0, widest.min(indent), high);
            say(d, context, set, name, seat, Align::Right);
            if halved {
                let y = row.centre().y;
                d.line(row.x + indent, y, row.right(), y, half_hour(pen));
            }
            let from = if pen.small { row.x + indent } else { row.x };
            d.line(from, row.bottom(), row.right(), row.bottom(), pen.rule());
            if pen.small {
                // A short stroke where the numeral stands.
                d.line(row.x, row.bottom(), row.x + indent * 0.5, row.bottom(), pen.rule());
            }
        }
        d.line(grid.area.x, grid.y(0), grid.area.right(), grid.y(0), strong(pen));
        end
    }

    /// Things to do in the upper half, notes in the lower one.
    fn lists(&self, d: &mut Drawing, context: &RulingContext, grid: &Grid) {
        // A free row below the field, where there is room for it.
        let from = if grid.rows >= 10 { 2 } else { 1 };
        if grid.rows < from + 5 {
            return;
        }
        let set = self.head(context, grid);
        let split = from + (grid.rows - from) / 2;
        name(d, context, set, &self.to_do, grid.band(from - 1, from));
        lists::block(d, context, grid, from, split);
        name(d, context, set, &self.notes, grid.band(split + 1, split + 2));
        d.line(grid.area.x, grid.y(split + 2), grid.area.right(), grid.y(split + 2), strong(&context.pen));
        lined::rules(d, &context.pen, grid, split + 3);
    }
}
