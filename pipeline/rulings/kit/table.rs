//! Tables: a heading row, columns to write in, to tick or with circles, and rows of one line or of several.

use super::super::parts::{Grid, LEAST_MARK, strong, thin, tick, wash};
use super::asks::Asks;
use super::boxes::row_name;
use super::hand::{Hand, shortened};
use super::part::{Holds, Kind, Part};
use base::model::drawing::{Path, Stroke};
use base::model::units::{PT_PER_MM, between};
use base::model::{Drawing, Mm, Point, Rect};
use draw::ruling::fits;
use draw::text::Align;

/// As many columns to tick as may share short heads, such as the days of a week.
const MANY: usize = 5;

/// The least distance of circles beside each other, and below each other, in points: 4 and 4.5 mm, so that each can be hit.
pub const DOT: f64 = 4.0 * PT_PER_MM;
const DOT_ROW: f64 = 4.5 * PT_PER_MM;

/// How many times as wide as the widest column of marks the widest column to write in is to be, where smaller heads
/// bring that about.
const MAIN: f64 = 1.5;

/// A column with its place.
struct Column {
    /// Which one of the part it is.
    nth: usize,
    x: f64,
    w: f64,
}

/// The least width of column `i`.
fn least(hand: &Hand, part: &Part, i: usize) -> f64 {
    let label = part.labels.get(i).map_or("", String::as_str);
    match part.held(i) {
        Holds::Tick if many(part) => Mm(5.0).pt(),
        // A head in the middle of its column needs less space beside it.
        Holds::Tick => Mm(7.5).pt().max(hand.least(label) - hand.pad()),
        Holds::Dots => (DOT * part.steps(5).min(5) as f64 + 2.0 * hand.pad() + 0.1).max(hand.least(label)),
        Holds::Text => {
            let names = if i == 0 { part.names.iter().map(|n| hand.least(n)).fold(0.0, f64::max) } else { 0.0 };
            Mm(12.0).pt().max(hand.least(label)).max(names.min(Mm(30.0).pt()))
        }
    }
}

fn many(part: &Part) -> bool {
    (0..part.labels.len()).filter(|i| part.held(*i) == Holds::Tick).count() >= MANY
}

/// The width that a table asks for: that of its columns, at the least those that it cannot do without.
pub fn least_width(hand: &Hand, part: &Part) -> f64 {
    hand.smaller().map(|hand| leasts(&hand, part)).fold(f64::MAX, f64::min).max(Mm(42.0).pt())
}

/// The least width of all columns together.
fn leasts(hand: &Hand, part: &Part) -> f64 {
    (0..part.labels.len()).map(|i| least(hand, part, i)).sum()
}

/// What a table asks for.
pub fn asks(hand: &Hand, part: &Part, w: f64, named: usize) -> Asks {
    let head = named + usize::from(headed(part));
    if part.names.is_empty() {
        let least = head + part.rows.map_or(2, |rows| rows.min(2));
        return Asks { wish: part.rows.map(|rows| head + rows), ..Asks::from(least) };
    }
    // Names need not all stand on a low page.
    let n = part.names.len();
    let wish = part.rows.or_else(|| marks_rows(hand, part, w)).map(|rows| head + n * rows);
    Asks { least: head + n.min(3), whole: head + n, wish, step: (head, n) }
}

/// The lines of each row that are enough for a table in which nothing is written, only ticked and filled in.
fn marks_rows(hand: &Hand, part: &Part, w: f64) -> Option<usize> {
    if (1..part.labels.len().max(2)).any(|i| part.held(i) == Holds::Text) {
        return None;
    }
    let in_line = |c: &Column| fits(c.w - 2.0 * hand.pad(), DOT).max(1);
    let columns = columns(hand, part, 0.0, w);
    let dots = columns.iter().filter(|c| part.held(c.nth) == Holds::Dots);
    let lines = dots.map(|c| part.steps(5).div_ceil(in_line(c))).max().unwrap_or(1);
    Some(if lines == 1 { 1 } else { (lines as f64 * DOT_ROW / hand.pitch).ceil() as usize })
}

fn headed(part: &Part) -> bool {
    part.labels.iter().any(|l| !l.is_empty())
}

/// The columns of a table in a width. Where there is no room for all, those to write in that were to be the narrowest are
/// left out first: never the first, and what is ticked or filled in only after them.
fn columns(hand: &Hand, part: &Part, x: f64, w: f64) -> Vec<Column> {
    let mut shown: Vec<usize> = (0..part.labels.len().max(1)).collect();
    let leasts: Vec<f64> = shown.iter().map(|i| least(hand, part, *i)).collect();
    while shown.len() > 1 && shown.iter().map(|i| leasts[*i]).sum::<f64>() > w + 1e-6 {
        let written = (1..shown.len()).rev().filter(|at| part.held(shown[*at]) == Holds::Text);
        let out = written.min_by(|a, b| part.wide(shown[*a]).total_cmp(&part.wide(shown[*b])));
        shown.remove(out.unwrap_or(shown.len() - 1));
    }
    // Each has its share, or what it needs; those with enough give it.
    let mut wide = vec![0.0; leasts.len()];
    let mut open = shown.clone();
    let mut free = w;
    loop {
        let all: f64 = open.iter().map(|i| part.wide(*i)).sum();
        let (narrow, rest): (Vec<usize>, Vec<usize>) =
            open.iter().partition(|i| free * part.wide(**i) / all < leasts[**i]);
        if narrow.is_empty() || rest.is_empty() {
            for i in &open {
                wide[*i] = free * part.wide(*i) / all;
            }
            break;
        }
        for i in narrow {
            wide[i] = leasts[i];
            free -= leasts[i];
        }
        open = rest;
    }
    let mut at = x;
    let place = |i: usize| {
        let w = wide[i];
        at += w;
        Column { nth: i, x: at - w, w }
    };
    shown.into_iter().map(place).collect()
}

/// How wide the widest column to write in is in widths of the widest one with marks, as far as that matters.
fn main_share(part: &Part, columns: &[Column]) -> f64 {
    let widest = |written: bool| {
        let own = columns.iter().filter(|c| (part.held(c.nth) == Holds::Text) == written);
        own.map(|c| c.w).fold(0.0, f64::max)
    };
    let (written, marked) = (widest(true), widest(false));
    if marked > 0.0 { (written / marked).min(MAIN) } else { MAIN }
}

/// Draws a table between two lines of the grid.
pub fn draw(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    debug_assert_eq!(part.part, Kind::Table);
    let pen = hand.pen();
    // All heads in one size, the largest at which there is room for the most columns, and most room to write.
    let sizes = hand.smaller().map(|hand| (columns(&hand, part, grid.area.x, grid.area.w), hand));
    let share = |columns: &[Column]| main_share(part, columns);
    let better = |a: &[Column], b: &[Column]| b.len() > a.len() || (b.len() == a.len() && share(b) > share(a) + 1e-6);
    let most = sizes.reduce(|a, b| if better(&a.0, &b.0) { b } else { a });
    let Some((columns, hand)) = &most else { return };
    left_out(d, hand, part, columns, grid.band(from, to));
    let mut top = from;
    if headed(part) && top < to {
        d.fill(Path::rect(grid.band(top, top + 1)), wash(pen));
        heads(d, hand, part, columns, grid.band(top, top + 1));
        top += 1;
    }
    let room = to.saturating_sub(top);
    let (n, tall) = match (part.names.len(), part.rows) {
        (0, rows) => (rows.map_or(room, |r| r.min(room)), 1),
        (n, rows) => {
            let n = n.min(room);
            (n, rows.unwrap_or(usize::MAX).min(room.checked_div(n).unwrap_or(0)).max(1))
        }
    };
    if n == 0 {
        return;
    }
    // Rows of the grid that are too few for one more line in each row make all rows a little higher.
    let whole = part.names.is_empty() || part.rows.is_some() || n < part.names.len();
    let end = if whole { top + n * tall } else { to };
    let pitch = (grid.y(end) - grid.y(top)) / (n * tall) as f64;
    let y = |i: usize| grid.y(top) + i as f64 * pitch;
    let step = thin(pen, pitch);
    for i in 1..n * tall {
        let between = !i.is_multiple_of(tall);
        if !between && (i.is_multiple_of(step) || tall > 1) {
            d.line(grid.area.x, y(i), grid.area.right(), y(i), pen.rule());
        }
        if between && i.is_multiple_of(step) {
            // Lines to write on, where something is written.
            for c in columns.iter().filter(|c| part.held(c.nth) == Holds::Text && (c.nth > 0 || part.names.is_empty()))
            {
                d.line(c.x, y(i), c.x + c.w, y(i), pen.grid());
            }
        }
    }
    let marks = Stroke::new(pen.weight * 1.2, pen.dot);
    // A name stands with the first line that is written beside it, else in the middle of its row, as marks do.
    let written = columns.iter().any(|c| c.nth > 0 && part.held(c.nth) == Holds::Text);
    for row in 0..n {
        let band = Rect { y: y(row * tall), h: tall as f64 * pitch, ..grid.band(top, end) };
        for column in columns {
            let cell = Rect::new(column.x, band.y, column.w, band.h);
            match part.held(column.nth) {
                Holds::Text if column.nth == 0 => {
                    let label = part.names.get(row).map_or("", String::as_str);
                    let seat = if written { Rect { h: grid.pitch, ..cell } } else { cell };
                    row_name(d, hand, label, seat);
                }
                Holds::Text => {}
                Holds::Tick if pen.small && row % step != 0 => {}
                Holds::Tick => {
                    let least = if pen.small { 0.0 } else { LEAST_MARK.pt() + marks.width };
                    let side = between(grid.pitch * 0.5, least.min(grid.pitch * 0.7), column.w * 0.74);
                    tick(d, part.mark, cell, side, hand.context.corner, marks);
                }
                Holds::Dots => circles(d, hand, part.steps(5), cell, marks),
            }
        }
    }
    for column in &columns[1..] {
        d.line(column.x, grid.y(from), column.x, grid.y(end), pen.rule());
    }
    if top > from {
        d.line(grid.area.x, grid.y(top), grid.area.right(), grid.y(top), strong(pen));
    }
    d.stroke(Path::rect(grid.band(from, end)), pen.rule());
}

/// Remembers the columns for which there was no room.
fn left_out(d: &mut Drawing, hand: &Hand, part: &Part, columns: &[Column], band: Rect) {
    let by = leasts(hand, part) - band.w;
    for i in (0..part.labels.len()).filter(|i| columns.iter().all(|c| c.nth != *i)) {
        hand.left_out(d, &part.labels[i], by, band);
    }
}

/// What stands in the heading row. Many columns to tick have heads that are cut alike.
fn heads(d: &mut Drawing, hand: &Hand, part: &Part, columns: &[Column], band: Rect) {
    let ticked: Vec<&Column> = columns.iter().filter(|c| part.held(c.nth) == Holds::Tick).collect();
    let label = |c: &Column| part.labels.get(c.nth).cloned().unwrap_or_default();
    let mut short = (hand.ink, Vec::new());
    if ticked.len() >= MANY {
        let labels: Vec<String> = ticked.iter().map(|c| label(c)).collect();
        let width = ticked.iter().map(|c| c.w).fold(f64::MAX, f64::min) * 0.92;
        short = shortened(hand.context.fonts, hand.ink.tracked(0.0), &labels, width);
    }
    let mut cut = short.1.iter();
    for column in columns {
        let cell = Rect::new(column.x, band.y, column.w, band.h);
        let centred = part.held(column.nth) == Holds::Tick;
        match if centred { cut.next() } else { None } {
            Some(text) => super::super::parts::say(d, hand.context, short.0, text, cell, Align::Centre),
            None => {
                let (align, more) = if centred { (Align::Centre, hand.pad() / 2.0) } else { (Align::Left, 0.0) };
                let seat = Rect { x: cell.x - more, w: cell.w + 2.0 * more, ..cell };
                hand.cell(d, hand.ink, &label(column), seat, align);
            }
        }
    }
}

/// Circles in a cell, all across and in the middle of its height: on one line, else on several.
/// Where there is no room for all of them there are none: the cell is left to write the number in.
pub fn circles(d: &mut Drawing, hand: &Hand, count: usize, cell: Rect, stroke: Stroke) {
    let room = (cell.w - 2.0 * hand.pad()).max(0.0);
    let most = fits(cell.h, DOT_ROW).max(1);
    let fitting = |lines: &usize| count.div_ceil(*lines) as f64 * DOT <= room + 1e-6;
    let Some(lines) = (1..=most).find(fitting) else { return };
    let in_line = count.div_ceil(lines);
    let (across, down) = (room / in_line as f64, cell.h / lines as f64);
    // No smaller than a pen can hit, as far as their distance allows.
    let least = (LEAST_MARK.pt() / 2.0).min(across.min(down) * 0.43);
    let radius = between(across.min(down) * 0.36, least, Mm(1.8).pt());
    if radius <= stroke.width {
        return;
    }
    let top = cell.centre().y - down * (lines as f64 - 1.0) / 2.0;
    for i in 0..count.min(lines * in_line) {
        let (line, nth) = (i / in_line, i % in_line);
        let x = cell.x + hand.pad() + across * (nth as f64 + 0.5);
        d.stroke(Path::circle(Point::new(x, top + down * line as f64), radius), stroke);
    }
}
