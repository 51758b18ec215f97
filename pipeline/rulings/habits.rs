//! Habits in rows, days in columns.

use super::params::{Colour, Mark, Pitch, pen};
use super::parts::{Grid, LEAST_MARK, LEAST_NUMERAL, Type, field, name, on_frame, say, strong, thin, tick, wash};
use super::{Ruling, RulingContext, lined};
use base::keys::Described;
use base::model::drawing::{Path, Stroke};
use base::model::units::between;
use base::model::{Drawing, Mm, Rect};
use draw::ruling::fits;
use draw::text::{Align, Setting};
use serde::Deserialize;

/// A row a habit, with a mark to fill in for each day. On a spread the days run on over both papers; where a page is
/// too narrow for all days they go on in a block below.
#[derive(Debug, Deserialize, Described)]
#[serde(deny_unknown_fields, default, rename_all = "kebab-case")]
pub struct Habits {
    /// Number of habits; as many as fit, up to 14, by default.
    /// Range: 1 to 60.
    rows: Option<usize>,
    /// Number of days.
    /// Range: 1 to 62.
    days: usize,
    /// Height of a row; in proportion to the columns by default.
    /// Range: 2 to 50 mm.
    pitch: Option<Pitch>,
    /// Circle or box.
    mark: Mark,
    /// Label of the field at the top; empty for none.
    month: String,
    /// Head of the notes, where there is room for them; empty for none.
    notes: String,
    /// Names of the habits, from the top; the others stay blank.
    labels: Vec<String>,
    /// Width of the lines in points.
    /// Range: 0.1 to 4 pt.
    weight: Option<f64>,
    /// Colour of the lines.
    colour: Option<Colour>,
}

impl Default for Habits {
    fn default() -> Habits {
        Habits {
            rows: None,
            days: 31,
            pitch: None,
            mark: Mark::Circle,
            month: "Month".into(),
            notes: "Notes".into(),
            labels: Vec::new(),
            weight: None,
            colour: None,
        }
    }
}

/// Rows of the head: two for the field, and a free one.
const HEAD: usize = 3;

/// The least rows of the notes: a free one, the name, and two lines.
const NOTES: usize = 4;

/// A run of days on an area.
struct Block {
    area: Rect,
    /// Width of the column of names; nothing where the names stand on the paper before.
    names: f64,
    first: usize,
    days: usize,
    /// Which block from the top.
    nth: usize,
}

impl Ruling for Habits {
    fn draw(&self, context: &RulingContext) -> Drawing {
        let mut d = Drawing::new();
        let context = &on_frame(context, pen(&context.pen, self.weight, self.colour));
        let Some(first) = context.areas.first() else { return d };
        let (blocks, cell) =
            if let Some(second) = context.areas.get(1) { self.over_two(*first, *second) } else { self.stacked(*first) };
        let stacks = blocks.iter().map(|b| b.nth + 1).max().unwrap_or(1);
        let (pitch, rows, free) = self.fit(*first, cell, stacks);
        let grid = Grid::new(*first, pitch);
        if rows == 0 || cell <= 0.0 {
            return d;
        }
        let set = Type::new(*first, pitch, &context.pen);
        if !self.month.is_empty() {
            field(&mut d, context, set.label, &self.month, grid.band(0, HEAD - 1));
        }
        for b in &blocks {
            self.block(&mut d, context, &Grid::new(b.area, pitch), b, rows, HEAD + b.nth * (rows + 1 + free));
        }
        let end = HEAD + stacks * (rows + 1 + free) + 1 - free;
        for area in &context.areas {
            let g = Grid::new(*area, pitch);
            if g.rows + 1 >= end + NOTES {
                let first_paper = area == first;
                name(&mut d, context, set.head, if first_paper { &self.notes } else { "" }, g.band(end, end + 1));
                lined::rules(&mut d, &context.pen, &g, end + 2);
                d.line(area.x, g.y(end + 1), area.right(), g.y(end + 1), strong(&context.pen));
            }
        }
        d
    }
}

impl Habits {
    /// Height of a row, habits in a block, and free rows below a block: airy where there is room, close where
    /// blocks would else hold few habits. Where nothing is asked the rows are as much higher as fills the page.
    fn fit(&self, area: Rect, cell: f64, stacks: usize) -> (f64, usize, usize) {
        let least = Mm(4.6).pt();
        let airy = between(cell * 1.2, least, Mm(8.0).pt());
        let close = between(cell * 0.95, least, airy);
        let tries = match self.pitch {
            Some(p) => [(p.pt(), 1), (p.pt(), 0)],
            None => [(airy, 1), (close, 0)],
        };
        let enough = self.rows.unwrap_or(6);
        let mut found = (tries[0].0, 0, 1);
        for (pitch, free) in tries {
            // Each block has a row for the numbers; below the last one no row need stay free.
            let room = (Grid::new(area, pitch).rows + free).saturating_sub(HEAD) / stacks;
            found = (pitch, self.rows.unwrap_or(14).min(room.saturating_sub(1 + free)), free);
            if found.1 >= enough {
                break;
            }
        }
        let (pitch, rows, free) = found;
        if self.pitch.is_some() || rows == 0 {
            return found;
        }
        // Down to the last line of the notes, or of the last block where there is no room for them.
        let (all, used) = (Grid::new(area, pitch).rows, HEAD + stacks * (rows + 1 + free) - free);
        let filled = if all >= used + NOTES { all } else { used };
        (area.h / filled as f64, rows, free)
    }

    /// Days over two papers, all columns alike: so many on the second paper that the names on the first get a bit more
    /// than a quarter of it.
    fn over_two(&self, left: Rect, right: Rect) -> (Vec<Block>, f64) {
        let names = |on_right: usize| left.w - (self.days - on_right) as f64 * right.w / on_right as f64;
        let off = |n: usize| (names(n) / left.w - 0.28).abs();
        let on_right = (self.days.div_ceil(2)..=self.days).min_by(|a, b| off(*a).total_cmp(&off(*b))).unwrap_or(1);
        let cell = right.w / on_right as f64;
        let on_left = self.days - on_right;
        let blocks = vec![
            Block { area: left, names: names(on_right), first: 1, days: on_left, nth: 0 },
            Block { area: right, names: 0.0, first: on_left + 1, days: on_right, nth: 0 },
        ];
        (blocks, cell)
    }

    /// Days in one block or in several, one below the other, with columns wide enough to tick.
    fn stacked(&self, area: Rect) -> (Vec<Block>, f64) {
        let names = area.w * 0.28;
        let most = fits(area.w - names, Mm(4.6).pt()).max(1);
        let stacks = self.days.div_ceil(most).min(4);
        let each = self.days.div_ceil(stacks);
        let cell = (area.w - names) / each as f64;
        let blocks = (0..self.days.div_ceil(each))
            .map(|nth| {
                let first = nth * each + 1;
                Block { area, names, first, days: each.min(self.days + 1 - first), nth }
            })
            .collect();
        (blocks, cell)
    }

    fn block(&self, d: &mut Drawing, context: &RulingContext, grid: &Grid, b: &Block, rows: usize, top: usize) {
        let pen = &context.pen;
        let x = b.area.x + b.names;
        let cell = (b.area.w - b.names) / self.widest(b) as f64;
        let right = x + cell * b.days as f64;
        // A shorter last block keeps the width of those above it: ends align.
        let band = grid.across(b.area.x, b.area.w);
        d.fill(Path::rect(band.band(top, top + 1)), wash(pen));
        let set = Type::new(b.area, grid.pitch, pen).label;
        let number =
            Setting { colour: pen.ink, ..set }.tracked(0.0).sized(set.size.min(cell * 0.62).max(LEAST_NUMERAL));
        let step = thin(pen, cell);
        for day in 0..b.days {
            let label = (b.first + day).to_string();
            let at = Rect::new(x + day as f64 * cell, grid.y(top), cell, grid.pitch);
            say(d, context, number, &label, at, Align::Centre);
        }
        let stroke = Stroke::new(pen.weight, if pen.small { pen.rule } else { pen.dot });
        for r in 0..rows {
            let row = band.band(top + 1 + r, top + 2 + r);
            if b.names > 0.0 {
                let label = self.labels.get(r).map_or("", String::as_str);
                let seat = Rect::new(row.x + 2.0, row.y, b.names - 6.0, row.h);
                say(d, context, Setting { colour: pen.ink, ..set }, label, seat, Align::Left);
            }
            d.line(row.x, row.bottom(), row.right(), row.bottom(), pen.grid());
            for day in (0..b.days).step_by(step) {
                let seat = Rect::new(x + day as f64 * cell, row.y, cell * step as f64, row.h);
                let seat = Rect { w: seat.w.min(right - seat.x), ..seat };
                let room = seat.w.min(row.h);
                let least = if pen.small { 0.0 } else { LEAST_MARK.pt() + stroke.width };
                let side = between(room * 0.68, least, room * 0.86);
                tick(d, self.mark, seat, side, context.corner, stroke);
            }
        }
        let (above, below) = (grid.y(top + 1), grid.y(top + 1 + rows));
        d.line(band.area.x, above, band.area.right(), above, pen.rule());
        d.line(band.area.x, below, band.area.right(), below, pen.rule());
        if b.names > 0.0 {
            d.line(x, grid.y(top), x, below, pen.rule());
        }
    }

    /// Columns that the block's width is cut into: a last, shorter block keeps the columns of those above it.
    fn widest(&self, b: &Block) -> usize {
        (b.first - 1).checked_div(b.nth).map_or(b.days, |each| each.max(b.days))
    }
}
