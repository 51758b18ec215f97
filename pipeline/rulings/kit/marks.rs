//! Parts that are filled in or read: fields, dots, bars, rings, scales, timelines, sentences.

use super::super::parts::{Grid, field, gutter, thin, wash};
use super::asks::Asks;
use super::boxes::row_name;
use super::columns::DOT;
use super::hand::Hand;
use super::part::{Kind, Part};
use super::table::circles;
use super::ways::Ease;
use base::model::drawing::{Path, Stroke};
use base::model::units::between;
use base::model::{Drawing, Mm, Point, Rect};
use draw::ruling::fits;
use draw::text::Align;
use std::f64::consts::TAU;

/// What such a part asks for in a width: all of it, where anything helps.
pub fn asks(hand: &Hand, part: &Part, w: f64, named: usize) -> Asks {
    let whole = hand.way.ease > Ease::Part;
    let all_or = |one: usize, all: usize| if whole { all } else { one };
    match part.part {
        Kind::Text => Asks::just(hand.lines(&part.label, w).len().div_ceil(2) + 1),
        Kind::Dots => {
            let all = named + part.names.len();
            Asks { whole: all, ..Asks::between(all_or(named + 1, all), all) }
        }
        Kind::Bars => {
            let all = named + 2 * part.labels.len();
            Asks { whole: all, ..Asks::between(all_or(named + 2, all), all) }
        }
        Kind::Rings => {
            let (rows, lines) = (part.rows.unwrap_or(5).max(3) + 1, ring_lines(part, w));
            let all = named + 3 * lines;
            Asks { whole: all, ..Asks::between(all_or(named + 3, all), named + rows * lines) }
        }
        Kind::Scale => Asks::just(named + 2),
        Kind::Timeline => Asks { step: (named, part.steps(1).max(1)), ..Asks::from(named + 3) },
        _ => Asks::from(named + 2),
    }
}

/// Fields in one width: those of each row. The first row is the one with few: what a page is about stands alone. Where a
/// phone's page would have many rows of them, those below the first stand closer.
fn rows_of(hand: &Hand, part: &Part, w: f64) -> Vec<Vec<usize>> {
    let usual = rows_within(hand, part, w, (26.0, 10.0));
    if hand.phone && usual.len() > 2 { rows_within(hand, part, w, (21.0, 8.0)) } else { usual }
}

/// The same with fields of so many millimetres at the least, and so many beside the label.
fn rows_within(hand: &Hand, part: &Part, w: f64, (least, more): (f64, f64)) -> Vec<Vec<usize>> {
    let mut rows: Vec<Vec<usize>> = vec![Vec::new()];
    let mut used = 0.0;
    for i in (0..part.labels.len()).rev() {
        let least = Mm(least).pt().max(hand.label.width(hand.context.fonts, &part.labels[i]) + Mm(more).pt());
        if used + least > w && used > 0.0 {
            rows.push(Vec::new());
            used = 0.0;
        }
        used += least + gutter(Rect::new(0.0, 0.0, w, 1.0));
        if let Some(row) = rows.last_mut() {
            row.insert(0, i);
        }
    }
    rows.reverse();
    rows
}

/// What fields ask for: those at the top of a page have two rows, as every head has, or one on a phone's page.
pub fn fields_asks(hand: &Hand, part: &Part, w: f64, first: bool) -> Asks {
    let rows = rows_of(hand, part, w).len();
    let least = rows.max(if first && !hand.phone { 2 } else { 1 });
    Asks::between(least, least.max(rows * part.rows.unwrap_or(1)))
}

/// Fields side by side, each on its line.
pub fn fields(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let rows = rows_of(hand, part, grid.area.w);
    let each = part.rows.unwrap_or(1).min(to.saturating_sub(from) / rows.len().max(1)).max(1);
    let gap = gutter(grid.area);
    for (r, row) in rows.iter().enumerate() {
        // The last row of fields stands on the last line.
        let Some(line) = to.checked_sub((rows.len() - 1 - r) * each).filter(|line| *line > from) else { continue };
        let free = (grid.area.w - gap * (row.len() as f64 - 1.0)).max(0.0);
        let mut x = grid.area.x;
        for (i, wide) in row.iter().zip(widths(hand, part, row, free)) {
            let seat = Rect::new(x, grid.y(line - 1), wide, grid.pitch);
            field(d, hand.context, hand.label, &part.labels[*i], seat);
            x += wide + gap;
        }
    }
}

/// The widths of fields side by side: their shares, on a phone's page no less than there is room to write in.
fn widths(hand: &Hand, part: &Part, row: &[usize], free: f64) -> Vec<f64> {
    let all: f64 = row.iter().map(|i| part.wide(*i)).sum();
    let shares: Vec<f64> = row.iter().map(|i| free * part.wide(*i) / all).collect();
    let label = |i: &usize| hand.label.width(hand.context.fonts, &part.labels[*i]);
    let leasts: Vec<f64> = row.iter().map(|i| label(i) + Mm(8.0).pt()).collect();
    let short = |n: usize| shares[n] < leasts[n];
    let taken: f64 = (0..row.len()).filter(|n| short(*n)).map(|n| leasts[n]).sum();
    let others: f64 = (0..row.len()).filter(|n| !short(*n)).map(|n| shares[n]).sum();
    if !hand.phone || taken <= 0.0 || others <= 0.0 || taken >= free * 0.8 {
        return shares;
    }
    let scale = (free - taken) / others;
    (0..row.len()).map(|n| if short(n) { leasts[n] } else { shares[n] * scale }).collect()
}

/// Rows of circles, each with its name.
pub fn dots(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let pen = hand.pen();
    let names = part.names.iter().map(|n| hand.ink.width(hand.context.fonts, n)).fold(0.0, f64::max);
    // On a narrow page names give way: without circles a row would be none.
    let beside = grid.area.w - DOT * part.steps(10) as f64 - 2.0 * hand.pad() - 0.1;
    let names = (names + 3.0 * hand.pad()).min(grid.area.w * 0.4).min(beside.max(grid.area.w * 0.25));
    for (i, name) in part.names.iter().enumerate().take(to.saturating_sub(from)) {
        let row = grid.band(from + i, from + i + 1);
        row_name(d, hand, name, Rect { x: row.x - hand.pad(), w: names + hand.pad(), ..row });
        let seat = Rect { x: row.x + names, w: row.w - names, ..row };
        circles(d, hand, part.steps(10), seat, Stroke::new(pen.weight * 1.2, pen.dot));
        d.line(row.x, row.bottom(), row.right(), row.bottom(), pen.grid());
    }
    missing(d, hand, &part.names, to.saturating_sub(from), grid.band(from, to));
}

/// Remembers the names that have no room, of which so many have.
fn missing(d: &mut Drawing, hand: &Hand, names: &[String], shown: usize, room: Rect) {
    let by = hand.pitch * names.len().saturating_sub(shown) as f64;
    names.iter().skip(shown).for_each(|name| hand.left_out(d, name, by, room));
}

/// Bars with steps, each below its name.
pub fn bars(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let pen = hand.pen();
    for (i, label) in part.labels.iter().enumerate() {
        let top = from + 2 * i;
        if top + 2 > to {
            break;
        }
        hand.cell(d, hand.ink, label, under(hand, grid.band(top, top + 1)), Align::Left);
        let row = grid.band(top + 1, top + 2);
        let bar = Rect { y: row.y + row.h * 0.08, h: row.h * 0.92, ..row };
        let (steps, corner) = (part.steps(10), bar.h * 0.28);
        d.fill(Path::rounded(bar, corner), wash(pen));
        let every = thin(pen, bar.w / steps as f64);
        for step in (1..steps).filter(|s| s.is_multiple_of(every)) {
            let x = bar.x + bar.w * step as f64 / steps as f64;
            d.line(x, bar.y, x, bar.bottom(), pen.rule());
        }
        d.stroke(Path::rounded(bar, corner), Stroke::new(pen.weight * 1.3, pen.dot));
    }
    missing(d, hand, &part.labels, to.saturating_sub(from) / 2, grid.band(from, to));
}

/// The room of a name that stands low in its row, by the left edge.
fn under(hand: &Hand, row: Rect) -> Rect {
    Rect { x: row.x - hand.pad(), y: row.y + row.h * 0.2, w: row.w + hand.pad(), h: row.h * 0.8 }
}

/// Rings that stand side by side in a width.
fn rings_beside(part: &Part, w: f64) -> usize {
    part.labels.len().min(fits(w, Mm(20.0).pt())).max(1)
}

/// Rows of rings in a width.
fn ring_lines(part: &Part, w: f64) -> usize {
    part.labels.len().div_ceil(rings_beside(part, w)).max(1)
}

/// Rings with steps side by side, each above its name; in several rows where there are many.
pub fn rings(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let rows = to.saturating_sub(from);
    let lines = ring_lines(part, grid.area.w).min(rows / 3);
    let beside = part.labels.len().div_ceil(ring_lines(part, grid.area.w)).max(1);
    for (i, labels) in part.labels.chunks(beside).enumerate().take(lines) {
        let from = from + i * (rows / lines);
        ring_row(d, hand, part, (labels, beside), grid, from, from + rows / lines);
    }
    missing(d, hand, &part.labels, lines * beside, grid.band(from, to));
}

/// One row of rings, in so many columns.
fn ring_row(d: &mut Drawing, hand: &Hand, part: &Part, seats: (&[String], usize), grid: &Grid, from: usize, to: usize) {
    let pen = hand.pen();
    let stroke = Stroke::new(pen.weight * 1.3, pen.dot);
    for (column, label) in grid.area.columns(seats.1, gutter(grid.area)).into_iter().zip(seats.0) {
        let own = grid.across(column.x, column.w);
        let room = own.band(from, to - 1);
        let high = room.h - hand.pitch * 0.5;
        let (radius, c) =
            (high.min(room.w) / 2.0, Point::new(room.centre().x, room.y + hand.pitch * 0.25 + high / 2.0));
        let steps = part.steps(10);
        let (outer, hole) = (radius * 0.98, radius * 0.58);
        for step in (0..steps).filter(|s| s.is_multiple_of(thin(pen, TAU * hole / steps as f64))) {
            let (sin, cos) = libm::sincos(TAU * step as f64 / steps as f64 - TAU / 4.0);
            d.line(c.x + hole * cos, c.y + hole * sin, c.x + outer * cos, c.y + outer * sin, pen.rule());
        }
        d.stroke(Path::circle(c, outer), stroke);
        d.stroke(Path::circle(c, hole), stroke);
        let row = own.band(to - 1, to);
        if label.is_empty() {
            d.line(row.x, row.bottom(), row.right(), row.bottom(), pen.rule());
        }
        hand.cell(d, hand.ink, label, row, Align::Centre);
    }
}

/// Numbered circles in one row between two names; the names stand below where there is no width for all circles between them.
pub fn scale(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let (pen, area) = (hand.pen(), grid.band(from, to));
    let ends: Vec<&str> = part.labels.iter().map(String::as_str).collect();
    // Names take what they need, so that there is width for all the circles.
    let wide = ends.iter().map(|l| hand.label.width(hand.context.fonts, l)).fold(0.0, f64::max);
    let end = if wide > 0.0 { (wide + 2.0 * hand.pad() + 0.1).min(area.w * 0.22) } else { 0.0 };
    let least = Mm(4.4).pt();
    let between_names = fits(area.w - 2.0 * end, least);
    let below = end > 0.0 && to > from + 1 && between_names < part.steps(10) && fits(area.w, least) > between_names;
    let (row, end, room) = if below {
        (grid.band(to - 1, to), area.w / 2.0, grid.band(from, to - 1))
    } else {
        (area, end, Rect { x: area.x + end, w: area.w - 2.0 * end, ..area })
    };
    let steps = part.steps(10).min(fits(room.w, least)).max(1);
    let step = room.w / steps as f64;
    let radius = between(step * 0.4, 0.0, Mm(3.2).pt()).min(room.h * 0.45);
    let stroke = Stroke::new(pen.weight * 1.3, pen.dot);
    for i in 0..steps {
        let c = Point::new(room.x + step * (i as f64 + 0.5), room.centre().y);
        d.stroke(Path::circle(c, radius), stroke);
        let seat = Rect::new(c.x - radius, c.y - radius, 2.0 * radius, 2.0 * radius);
        let number = hand.label.tracked(0.0).sized(hand.label.size.min(radius * 1.05).max(6.5));
        super::super::parts::say(d, hand.context, number, &(i + 1).to_string(), seat, Align::Centre);
    }
    let side = |x: f64| Rect { x, w: end, ..row };
    hand.cell(d, hand.label, ends.first().unwrap_or(&""), side(row.x - hand.pad()), Align::Left);
    hand.cell(d, hand.label, ends.get(1).unwrap_or(&""), side(row.right() - end + hand.pad()), Align::Right);
}

/// Stations on a line: a point, room for a date on one side, lines on the other.
pub fn timeline(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let pen = hand.pen();
    let room = to.saturating_sub(from);
    let stations = part.count.unwrap_or(room / part.rows.unwrap_or(3).max(2)).min(room / 2).max(1);
    let each = room / stations;
    if each == 0 {
        return;
    }
    // What is left over is air below every station: the line ends where the page ends.
    let air = (room - stations * each) as f64 / stations as f64;
    let x = grid.area.x + between(grid.area.w * 0.24, Mm(12.0).pt(), Mm(34.0).pt()).min(grid.area.w * 0.45);
    let gap = (hand.pitch * 0.55).min(grid.area.w * 0.06);
    d.line(x, grid.y(from), x, grid.y(to), Stroke::new(pen.weight * 2.0, pen.dot));
    let step = thin(pen, grid.pitch);
    for s in 0..stations {
        let (grid, top) = (grid.lower(s as f64 * air), from + s * each);
        let date = grid.band(top, top + 1);
        d.line(grid.area.x, date.bottom(), x - gap * 1.6, date.bottom(), pen.rule());
        for i in (1..each).filter(|i| i.is_multiple_of(step)) {
            d.line(x + gap * 1.6, grid.y(top + i), grid.area.right(), grid.y(top + i), pen.rule());
        }
        let radius = Mm(1.7).pt().min(hand.pitch * 0.3).min(gap);
        let c = Point::new(x, date.bottom() - hand.pitch * 0.18 - radius * 0.5);
        d.fill_stroke(Path::circle(c, radius), pen.paper, Stroke::new(pen.weight * 2.4, pen.dot));
    }
}

/// Sentences, two lines to a row, with half a row above them.
pub fn text(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let (set, fonts) = (hand.prose(), hand.context.fonts);
    if hand.pen().small {
        let row = grid.band(from, to);
        d.fill(Path::rect(Rect { y: row.y + row.h * 0.3, h: row.h * 0.3, w: row.w * 0.7, ..row }), wash(hand.pen()));
        return;
    }
    let step = grid.pitch / 2.0;
    let lines = hand.lines(&part.label, grid.area.w);
    for (i, line) in lines.iter().enumerate().take((2 * to.saturating_sub(from)).saturating_sub(1)) {
        let seat = Rect::new(grid.area.x, grid.y(from) + (i + 1) as f64 * step, grid.area.w, step);
        if set.size * 1.2 <= step + 1.0 {
            set.draw_in(d, fonts, line, seat, Align::Left);
        }
    }
}
