//! Tables: a heading row, columns to write in, to tick or with circles, and rows of one line or of several.

use super::super::parts::{Grid, LEAST_MARK, say, strong, thin, tick, wash};
use super::asks::Asks;
use super::boxes::row_name;
use super::columns::{self, Column, DOT, Form, MANY, form};
use super::hand::{Hand, shortened};
use super::part::{Holds, Kind, Part};
use super::ways::Ease;
use base::colour;
use base::model::drawing::{Path, Stroke};
use base::model::units::{PT_PER_MM, between};
use base::model::{Drawing, Mm, Point, Rect};
use draw::Pen;
use draw::ruling::fits;
use draw::text::Align;

/// The least distance of circles below each other in points: 4.5 mm, so that each can be hit.
const DOT_ROW: f64 = 4.5 * PT_PER_MM;

/// The least air between the lines of two circles in points: 0.6 mm, so that they are no chain.
const DOT_AIR: f64 = 0.6 * PT_PER_MM;

/// The width that a table asks for: that of its columns, at the least those that it cannot do without.
pub fn least_width(hand: &Hand, part: &Part) -> f64 {
    columns::least_width(hand, part).max(Mm(42.0).pt())
}

/// What a table asks for.
pub fn asks(hand: &Hand, part: &Part, w: f64, named: usize) -> Asks {
    let form = form(hand, part, 0.0, w);
    let lines = form.lines;
    let head = named + if headed(part) { lines } else { 0 };
    let ease = hand.way.ease;
    if part.names.is_empty() {
        let usual = match ease {
            Ease::Easy => 3,
            Ease::Usual | Ease::Part => 2,
            Ease::Close | Ease::Bare | Ease::Written | Ease::Joined => 1,
        };
        let least = head + lines * part.rows.map_or(usual, |rows| rows.min(usual));
        let step = if lines > 1 { (head, lines) } else { (0, 1) };
        return Asks { wish: part.rows.map(|rows| head + lines * rows), step, ..Asks::from(least) };
    }
    let n = part.names.len();
    let rows = part.rows.or_else(|| marks_rows(hand, part, &form));
    // On a phone's page a cell is narrow: what is written in it takes two lines.
    let high = if hand.phone && ease >= Ease::Close { rows.unwrap_or(2) } else { 1 };
    // Names need not all stand where nothing else helps.
    let least = if ease == Ease::Part { n.min(3) } else { n * high };
    let wish = rows.map(|rows| head + n * rows * lines);
    Asks { least: head + least * lines, whole: head + n * high * lines, wish, step: (head, n * lines) }
}

/// The lines of each row that are enough for a table in which nothing is written, only ticked and filled in; beside circles
/// no more than a word or a time is.
fn marks_rows(hand: &Hand, part: &Part, form: &Form) -> Option<usize> {
    let mut held = (1..part.labels.len().max(2)).map(|i| part.held(i));
    if part.stretched || held.clone().any(|held| held == Holds::Text) && !held.any(|held| held == Holds::Dots) {
        return None;
    }
    let in_line = |c: &Column| fits(c.w - 2.0 * hand.pad(), DOT).max(1);
    let dots = form.columns.iter().filter(|c| part.held(c.nth) == Holds::Dots);
    let lines = dots.map(|c| part.steps(5).div_ceil(in_line(c))).max().unwrap_or(1);
    Some(if lines == 1 { 1 } else { (lines as f64 * DOT_ROW / hand.pitch).ceil() as usize })
}

fn headed(part: &Part) -> bool {
    part.labels.iter().any(|l| !l.is_empty())
}

/// A line between the rows of a table: heavier than one that is written on, by a hair where there are no such lines, so that
/// no manner of rules makes it one of dots or two.
fn border(pen: &Pen, written: bool) -> Stroke {
    Stroke::new(pen.weight * if written { 1.5 } else { 1.1 }, pen.rule)
}

/// The rows of a table on the grid.
struct Body {
    /// Its first line.
    top: usize,
    /// Its last one.
    end: usize,
    /// Rows.
    n: usize,
    /// Lines of the grid that each line of a row takes.
    tall: usize,
    /// The same of a whole row.
    each: usize,
}

/// How many rows there are between two lines of the grid, and how high.
fn body(part: &Part, lines: usize, top: usize, to: usize) -> Body {
    let room = to.saturating_sub(top) / lines;
    let (n, tall) = match (part.names.len(), part.rows) {
        (0, rows) => (rows.map_or(room, |r| r.min(room)), 1),
        (n, rows) => {
            let n = n.min(room);
            (n, rows.unwrap_or(usize::MAX).min(room.checked_div(n).unwrap_or(0)).max(1))
        }
    };
    // Rows of the grid that are too few for one more line in each row make all rows a little higher.
    let whole = part.names.is_empty() && lines == 1 || part.rows.is_some() || n < part.names.len();
    let each = tall * lines;
    Body { top, end: if whole { top + n * each } else { to }, n, tall, each }
}

/// Draws a table between two lines of the grid, in the hand's own type.
pub fn draw(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    debug_assert_eq!(part.part, Kind::Table);
    let pen = hand.pen();
    let form = form(hand, part, grid.area.x, grid.area.w);
    let mut top = from;
    if headed(part) && top + form.lines <= to {
        d.fill(Path::rect(grid.band(top, top + form.lines)), wash(pen));
        heads(d, hand, part, &form, grid, top);
        top += form.lines;
    }
    let body = body(part, form.lines, top, to);
    for name in part.names.iter().skip(body.n) {
        hand.left_out(d, name, hand.pitch * (part.names.len() - body.n) as f64, grid.band(from, to));
    }
    if body.n == 0 {
        return;
    }
    let y = |i: usize| grid.y(top) + i as f64 * pitch(grid, &body);
    if form.lines > 1 {
        // Rows of several lines are told apart by their ground, since their columns do not meet.
        for row in (1..body.n).step_by(2) {
            let high = y((row + 1) * body.each) - y(row * body.each);
            let ground = Rect::new(grid.area.x, y(row * body.each), grid.area.w, high);
            d.fill(Path::rect(ground), colour::mix(pen.paper, wash(pen), 0.6));
        }
    }
    lines(d, hand, part, &form, grid, &body);
    cells(d, hand, part, &form, grid, &body);
    // Columns are parted from top to foot, those of rows with several lines line by line, and lightly.
    for (column, before) in form.columns.iter().skip(1).zip(&form.columns) {
        if form.lines == 1 {
            d.line(column.x, grid.y(from), column.x, grid.y(body.end), pen.rule());
        } else if column.line == before.line {
            if top > from {
                d.line(column.x, grid.y(from + column.line), column.x, grid.y(from + column.line + 1), pen.rule());
            }
            for row in 0..body.n {
                let at = row * body.each + column.line * body.tall;
                d.line(column.x, y(at), column.x, y(at + body.tall), pen.grid());
            }
        }
    }
    if top > from {
        d.line(grid.area.x, grid.y(top), grid.area.right(), grid.y(top), strong(pen));
    }
    d.stroke(Path::rect(grid.band(from, body.end)), pen.rule());
}

/// The distance of a table's lines.
fn pitch(grid: &Grid, body: &Body) -> f64 {
    (grid.y(body.end) - grid.y(body.top)) / (body.n * body.each) as f64
}

/// Whether rows of several lines have lines to write on: beside circles no more than a word or a time is written.
fn is_lined(part: &Part) -> bool {
    part.names.is_empty() || !(1..part.labels.len()).any(|i| part.held(i) == Holds::Dots)
}

/// Lines between rows, and lines to write on within them.
fn lines(d: &mut Drawing, hand: &Hand, part: &Part, form: &Form, grid: &Grid, body: &Body) {
    let (pen, pitch) = (hand.pen(), pitch(grid, body));
    let step = thin(pen, pitch);
    let lined = is_lined(part);
    let written = |c: &&Column| lined && part.held(c.nth) == Holds::Text && (c.nth > 0 || part.names.is_empty());
    for i in 1..body.n * body.each {
        let y = grid.y(body.top) + i as f64 * pitch;
        if i.is_multiple_of(body.each) {
            if i.is_multiple_of(step) || body.each > 1 {
                d.line(grid.area.x, y, grid.area.right(), y, border(pen, body.each > 1));
            }
        } else if i.is_multiple_of(body.tall) {
            d.line(grid.area.x, y, grid.area.right(), y, pen.grid());
        } else if i.is_multiple_of(step) {
            let line = i % body.each / body.tall;
            for c in form.columns.iter().filter(|c| c.line == line).filter(written) {
                d.line(c.x, y, c.x + c.w, y, pen.rule());
            }
        }
    }
}

/// What stands in the rows: their names, boxes to tick, circles.
fn cells(d: &mut Drawing, hand: &Hand, part: &Part, form: &Form, grid: &Grid, body: &Body) {
    let (pen, pitch) = (hand.pen(), pitch(grid, body));
    let step = thin(pen, pitch);
    let marks = Stroke::new(pen.weight * 1.2, pen.dot);
    // A name stands with the first line that is written beside it, else in the middle of its row, as marks do.
    let written = is_lined(part) && form.columns.iter().any(|c| c.nth > 0 && part.held(c.nth) == Holds::Text);
    for row in 0..body.n {
        for column in &form.columns {
            let y = grid.y(body.top) + (row * body.each + column.line * body.tall) as f64 * pitch;
            let cell = Rect::new(column.x, y, column.w, body.tall as f64 * pitch);
            match part.held(column.nth) {
                Holds::Text if column.nth == 0 => {
                    let label = form.names.get(row).map_or("", String::as_str);
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
}

/// What stands in the heading row, all in one size. Many columns to tick have heads that are cut alike.
fn heads(d: &mut Drawing, hand: &Hand, part: &Part, form: &Form, grid: &Grid, top: usize) {
    let ticked: Vec<&Column> = form.columns.iter().filter(|c| part.held(c.nth) == Holds::Tick).collect();
    let label = |c: &Column| part.labels.get(c.nth).cloned().unwrap_or_default();
    let set = hand.ink.tracked(0.0);
    let mut short = (set, Vec::new());
    if ticked.len() >= MANY {
        let labels: Vec<String> = ticked.iter().map(|c| label(c)).collect();
        let narrowest = ticked.iter().map(|c| c.w).fold(f64::MAX, f64::min);
        let width = (narrowest - 2.0 * hand.air()).max(0.0);
        let fitting = |cut: &Vec<String>| cut.iter().all(|l| set.width(hand.context.fonts, l) <= width + 1e-6);
        let cuts = [usize::MAX, 3, 2, 1].map(|letters| -> Vec<String> {
            labels.iter().map(|label| label.chars().take(letters).collect()).collect()
        });
        let alike = cuts.into_iter().find(fitting);
        short = alike.map_or_else(|| shortened(hand.context.fonts, set, &labels, narrowest * 0.92), |cut| (set, cut));
    }
    let mut cut = short.1.iter();
    for column in &form.columns {
        let band = grid.band(top + column.line, top + column.line + 1);
        let cell = Rect::new(column.x, band.y, column.w, band.h);
        let centred = part.held(column.nth) == Holds::Tick;
        match if centred { cut.next() } else { None } {
            Some(text) => say(d, hand.context, short.0, text, cell, Align::Centre),
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
    // No smaller than a pen can hit, as far as their distance allows with some air between them.
    let least = (LEAST_MARK.pt() / 2.0).min((across.min(down) - DOT_AIR - stroke.width) / 2.0);
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
