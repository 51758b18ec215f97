//! A year at a glance: twelve months as blocks of lines, or as columns of days.

use super::params::{Colour, Pitch, labels, named, pen};
use super::parts::{
    Grid, Type, gutter, least_type, name, name_room, on_frame, say, seat, strong, thin, together, wash,
};
use super::{Ruling, RulingContext};
use base::keys::Described;
use base::model::calendar::MONTHS;
use base::model::drawing::Path;
use base::model::{Drawing, Mm, Rect};
use draw::text::{Align, Setting};
use serde::Deserialize;
use std::ops::Range;

/// What a month looks like.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
enum Layout {
    /// A block of lines under the month's name.
    #[default]
    Blocks,
    /// A column with a row for each day from 1 to 31.
    Days,
}

/// Twelve months; six on each paper of a spread.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Year {
    /// Blocks of lines, or columns of days.
    layout: Layout,
    /// Names of the months, January first.
    labels: Vec<String>,
    /// Month that the year begins with.
    /// Range: 1 to 12.
    first_month: usize,
    /// Distance of the lines of blocks; by default about narrow ruling, so that the months fill the page.
    /// Range: 2 to 50 mm.
    pitch: Option<Pitch>,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Year {
    fn default() -> Year {
        Year { layout: Layout::Blocks, labels: named(&MONTHS), first_month: 1, pitch: None, weight: None, colour: None }
    }
}

impl Ruling for Year {
    fn check(&self) -> Result<(), String> {
        labels("labels", self.labels.len(), 12, "one for each month, January first")
    }

    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let context = &on_frame(context, pen(&context.pen, self.weight, self.colour));
        let names: Vec<String> = (0..12).map(|i| self.labels[(self.first_month - 1 + i) % 12].clone()).collect();
        let each = if context.areas.len() > 1 { 6 } else { 12 };
        for (i, area) in context.areas.iter().enumerate().take(12 / each) {
            let own = i * each..(i + 1) * each;
            match self.layout {
                Layout::Blocks => self.blocks(&mut d, context, *area, &names[own]),
                Layout::Days => days(&mut d, context, *area, &names, own),
            }
        }
        d
    }
}

impl Year {
    fn blocks(&self, d: &mut Drawing, context: &RulingContext, area: Rect, names: &[String]) {
        let pen = &context.pen;
        let columns = columns(area, names.len());
        let down = names.len() / columns;
        // The name's row and at least one line make a block.
        let (pitch, rows) = match self.pitch {
            Some(p) => (p.pt(), Grid::new(area, p.pt()).rows / down),
            None => {
                let rows = ((area.h / Pitch(6.35).pt() / down as f64).round() as usize).max(2);
                (area.h / (rows * down) as f64, rows)
            }
        };
        if rows == 0 {
            return;
        }
        let grid = Grid::new(area, pitch);
        let slots = area.columns(columns, gutter(area));
        let set = Type::new(area, pitch, pen).head;
        let least = least_type(area).min(set.size);
        let set = set.fitted(context.fonts, names.iter().map(String::as_str), slots[0].w, least);
        for (i, label) in names.iter().enumerate() {
            let g = grid.across(slots[i % columns].x, slots[i % columns].w);
            let from = i / columns * rows;
            // A name stands on its own line, with nothing close above it: so each month is one block.
            let band = g.band(from, from + 1);
            name(d, context, set, label, seat(band));
            d.line(g.area.x, g.y(from + 1), g.area.right(), g.y(from + 1), strong(pen));
            // The last row stays free above the next month's name; at the foot the lines go on to the area's end.
            let to = if i / columns + 1 < down { from + rows - 1 } else { grid.rows.max(from + rows) };
            for line in (from + 2..=to).step_by(thin(pen, pitch)) {
                d.line(g.area.x, g.y(line), g.area.right(), g.y(line), pen.rule());
            }
        }
    }
}

/// In how many columns `n` blocks lie so that a block is about square.
fn columns(area: Rect, n: usize) -> usize {
    let off = |c: usize| {
        let (w, h) = (area.w / c as f64, area.h / (n / c) as f64);
        libm::log(w / h / 1.05).abs()
    };
    (1..=n).filter(|c| n.is_multiple_of(*c)).min_by(|a, b| off(*a).total_cmp(&off(*b))).unwrap_or(1)
}

/// Months side by side, a row for each day from 1 to 31: which days a month has is left to its writer, since the year
/// is not named. All months are named alike, whichever of them stand on this area.
fn days(d: &mut Drawing, context: &RulingContext, area: Rect, names: &[String], own: Range<usize>) {
    let pen = &context.pen;
    // On an upright page the second half of the year goes below the first where rows stay high enough.
    let stacked = own.len() == 12 && area.h > area.w && area.h / 66.0 >= Mm(3.6).pt();
    let parts = if stacked { 2 } else { 1 };
    let rows = parts * 32 + (parts - 1);
    let pitch = (area.h / rows as f64).min(Mm(7.1).pt());
    let grid = Grid::new(area, pitch);
    let set = Type::new(area, pitch, pen).label;
    let small = set.sized((pitch * 0.55).min(set.size).max(least_type(area))).tracked(0.0);
    // Never so narrow that a day's number would have to be smaller than can be read.
    let numbers = (area.w * 0.06).clamp(7.0, 16.0).max(small.width(context.fonts, "30") / 0.75);
    let each = own.len() / parts;
    let room = name_room((area.w - numbers) / each as f64);
    let (set, cut) = together(context, Setting { colour: pen.ink, ..set }, names, room);
    for (part, cut) in cut[own].chunks(each).enumerate() {
        let top = part * 33;
        let own = grid.across(area.x + numbers, area.w - numbers);
        let columns = own.band(top, top + 32).columns(each, 0.0);
        d.fill(Path::rect(own.band(top, top + 1)), wash(pen));
        for (c, label) in columns.iter().zip(cut) {
            say(d, context, set, label, Rect { h: pitch, ..*c }, Align::Centre);
        }
        for day in 1..=31 {
            let row = grid.band(top + day, top + day + 1);
            let label = Setting { colour: pen.quiet, ..small };
            say(d, context, label, &day.to_string(), Rect { w: numbers * 0.75, ..row }, Align::Right);
            if day > 1 && (day - 1) % thin(pen, pitch) == 0 {
                d.line(own.area.x, row.y, own.area.right(), row.y, pen.grid());
            }
        }
        for c in &columns[1..] {
            d.line(c.x, c.y, c.x, c.bottom(), pen.rule());
        }
        d.line(own.area.x, own.y(top + 1), own.area.right(), own.y(top + 1), pen.rule());
        d.stroke(Path::rect(own.band(top, top + 32)), pen.rule());
    }
}
