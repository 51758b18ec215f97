//! Boxes with names, cards with named lines, and rows to tick.

use super::super::lined::rules;
use super::super::parts::{Grid, check_row, gutter, strong, thin};
use super::asks::Asks;
use super::hand::Hand;
use super::part::{Fill, Part};
use super::ways::Ease;
use base::model::drawing::{Path, Shape, Stroke};
use base::model::{Drawing, Mm, Point, Rect};
use draw::ruling::fits;
use draw::text::Align;

/// The least air between boxes with lines, and between cards, in rows; between boxes of a phone's page; and that below the last
/// line of a card.
const AIR: f64 = 0.5;
const CLOSE: f64 = 0.3;
const FOOT: f64 = 0.45;

/// Rows to tick, in as many columns as the width takes.
pub fn ticks(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let usual = fits(grid.area.w, Mm(78.0).pt()).clamp(1, 2);
    let rows = to.min(part.rows.map_or(to, |rows| from + rows));
    // One long column is a list; two that are short are a block.
    let columns = part.columns.unwrap_or(if rows.saturating_sub(from) > 6 { usual } else { 1 });
    for column in grid.area.columns(most(hand, grid.area.w, columns), gutter(grid.area) * 1.2) {
        let own = grid.across(column.x, column.w);
        for i in from..rows {
            check_row(d, hand.context, hand.pen(), part.mark, own.band(i, i + 1));
        }
    }
}

/// So many columns, or as many as leave each some room.
fn most(hand: &Hand, w: f64, columns: usize) -> usize {
    columns.min(fits(w, Mm(24.0).pt().max(hand.pitch * 2.0))).max(1)
}

/// Rows and columns of boxes.
struct Form {
    columns: usize,
    rows: usize,
}

/// How boxes lie side by side in a width, with so many rows of the grid for them, of which each has so many below its name.
fn form(hand: &Hand, part: &Part, w: f64, room: usize, inner: usize) -> Form {
    let n = part.labels.len().max(1);
    let one = 1 + inner;
    let beside = |mm: f64| fits(w + Mm(4.0).pt(), Mm(mm + 4.0).pt()).clamp(1, 4).min(n);
    let full = |c: &usize| n.div_ceil(*c) * one <= room;
    // Columns that leave no box over look meant; narrow ones where the page is too low for others.
    let even = (1..=beside(36.0)).rev().find(|c| n.is_multiple_of(*c) && (*c > 1 || n < 4) && full(c));
    let any = || (1..=beside(36.0)).rev().find(full).or_else(|| (1..=beside(26.0)).find(full));
    // On a phone's page, and where something would be left out, columns are as narrow as their names allow.
    let gap = gutter(Rect::new(0.0, 0.0, w, 1.0));
    let small = hand.head.sized(hand.smallest(hand.head));
    let name = part.labels.iter().map(|l| small.width(hand.context.fonts, l)).fold(Mm(22.0).pt(), f64::max);
    let narrowest = if hand.phone || hand.way.ease < Ease::Usual { fits(w + gap, name + gap).min(4).min(n) } else { 0 };
    let narrow = || (1..=narrowest).find(full);
    let usual = even.or_else(any).or_else(narrow).unwrap_or_else(|| beside(26.0).max(narrowest));
    let columns = part.columns.map_or(usual, |c| {
        let (asked, fitting) = (c.min(n), most(hand, w, c.min(n)));
        // Where fewer fit than were asked for, rather so few that none is left over in a row of its own.
        if fitting < asked { (1..=fitting).rev().find(|c| n.is_multiple_of(*c)).unwrap_or(fitting) } else { fitting }
    });
    Form { columns, rows: n.div_ceil(columns) }
}

/// The rows of a box below its name that it usually has at the least.
fn usual(part: &Part) -> usize {
    part.rows.unwrap_or(match part.fill {
        Fill::Slips => 5,
        _ => 2,
    })
}

/// The fewest rows of a box below its name: rather all boxes with one line each than some of them with two.
fn fewest(hand: &Hand, part: &Part) -> usize {
    let curt = matches!(part.fill, Fill::Lines | Fill::Ticks);
    match (hand.way.ease, part.rows) {
        (Ease::Easy, Some(rows)) => rows.min(3),
        (Ease::Easy, None) if curt => {
            if part.labels.len() > 8 {
                2
            } else {
                3
            }
        }
        (Ease::Easy, None) => usual(part).min(4),
        (Ease::Usual | Ease::Part, None) if curt => 1,
        (Ease::Usual | Ease::Part, _) => usual(part),
        (_, None) if part.fill == Fill::Slips => 2,
        (Ease::Close | Ease::Bare | Ease::Written | Ease::Joined, _) => 1,
    }
}

/// What boxes ask for.
pub fn asks(hand: &Hand, part: &Part, w: f64, named: usize) -> Asks {
    // As few rows as they can do with, on the widest form.
    let form = form(hand, part, w, 0, usual(part));
    let all = form.rows * (1 + usual(part));
    // Boxes need not all stand where nothing else helps.
    let part_of = hand.way.ease == Ease::Part;
    let least = if part_of { 1 + usual(part) } else { form.rows * (1 + fewest(hand, part)) };
    match part.rows {
        Some(_) => Asks::between(named + least, named + all + form.rows.saturating_sub(1)),
        None => Asks { whole: named + all.max(least), ..Asks::from(named + least) },
    }
}

/// Draws boxes between two lines of the grid.
pub fn draw(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let room = to.saturating_sub(from);
    let form_of = |inner: usize| (form(hand, part, grid.area.w, room, inner), inner);
    let whole = |(form, inner): &(Form, usize)| form.rows * (1 + inner) <= room;
    let (most, least) = (usual(part).max(fewest(hand, part)), fewest(hand, part));
    let fitting = (least..=most).rev().map(form_of).find(whole);
    let (form, inner) = fitting.unwrap_or_else(|| form_of(usual(part)));
    let shown = form.rows.min(room / (1 + inner));
    for label in part.labels.iter().skip(shown * form.columns) {
        hand.left_out(
            d,
            label,
            hand.pitch * (form.rows * (1 + inner)).saturating_sub(room) as f64,
            grid.band(from, to),
        );
    }
    if shown == 0 {
        return;
    }
    let columns = grid.area.columns(form.columns, gutter(grid.area));
    // Names shrink together, if they have to.
    let names = part.labels.iter().map(String::as_str);
    let least = if hand.phone { hand.smallest(hand.head) } else { 7.0_f64.min(hand.head.size) };
    let head = hand.head.fitted(hand.context.fonts, names, columns[0].w, least);
    let hand = &Hand { head, ..*hand };
    if matches!(part.fill, Fill::Open | Fill::Dots) {
        let named = part.labels.iter().any(|l| !l.is_empty());
        // Names in a row of their own; between a frame and the name below it there is air.
        let (first, others) = if named { (1.0, 1.0 + AIR) } else { (0.0, AIR) };
        let high = ((room as f64 - first - others * (shown - 1) as f64) / shown as f64).max(0.0) * grid.pitch;
        for r in 0..shown {
            let y = grid.y(from) + first * grid.pitch + r as f64 * (high + others * grid.pitch);
            for (column, label) in columns.iter().zip(part.labels.iter().skip(r * form.columns)) {
                frame(d, hand, part, label, Rect::new(column.x, y, column.w, high));
            }
        }
        return;
    }
    let air = if hand.phone { CLOSE } else { AIR };
    let (each, step) = blocks(room, shown, (1 + inner, part.rows.map(|rows| 1 + rows)), air);
    for r in 0..shown {
        let lower = grid.lower(from as f64 + r as f64 * step);
        for (column, label) in columns.iter().zip(part.labels.iter().skip(r * form.columns)) {
            let own = lower.across(column.x, column.w);
            hand.heading(d, label, &own, 0);
            filled(d, hand, part, &own, 1, each);
        }
    }
}

/// Rows of each of `n` blocks one below another, and from the top of one to the top of the next: all are equally high,
/// what is left over is air between them, and the last one ends with the room. Without so much air between them only where
/// they would else have fewer than `least` rows.
fn blocks(room: usize, n: usize, (least, most): (usize, Option<usize>), air: f64) -> (usize, f64) {
    let between = n.saturating_sub(1);
    let airy = fits(room as f64 - air * between as f64, n.max(1) as f64);
    let each = if airy >= least { airy } else { room / n.max(1) };
    let each = most.map_or(each, |most| each.min(most));
    let air = room.saturating_sub(n * each) as f64 / between.max(1) as f64;
    // Blocks that may not grow keep together.
    (each, each as f64 + if most.is_some() { air.min(1.0) } else { air })
}

/// A box with a frame, its name above it.
fn frame(d: &mut Drawing, hand: &Hand, part: &Part, label: &str, framed: Rect) {
    let pen = hand.pen();
    if !label.is_empty() {
        // Close to its own frame, as every name is to its line.
        let row = Rect { y: framed.y - hand.pitch * 0.7, h: hand.pitch * 0.7, ..framed };
        super::super::parts::name(d, hand.context, hand.head.sized(hand.head.size * 0.86), label, row);
    }
    if part.fill == Fill::Dots {
        dot_grid(d, hand, framed.inset(hand.pitch * 0.35));
    }
    d.stroke(Path::rounded(framed, hand.context.corner.min(Mm(1.6).pt())), Stroke::new(pen.weight * 1.3, pen.dot));
}

fn dot_grid(d: &mut Drawing, hand: &Hand, area: Rect) {
    let (pen, pitch) = (hand.pen(), Mm(5.0).pt());
    let step = thin(pen, pitch * 0.6);
    let (columns, rows) = (fits(area.w, pitch), fits(area.h, pitch));
    let (x, y) = (area.centre().x - columns as f64 * pitch / 2.0, area.centre().y - rows as f64 * pitch / 2.0);
    let mut at = Vec::new();
    for r in (0..=rows).step_by(step) {
        for c in (0..=columns).step_by(step) {
            at.push(Point::new(x + c as f64 * pitch, y + r as f64 * pitch));
        }
    }
    d.push(Shape::Dots { at, diameter: pen.dot_size, colour: pen.dot });
}

fn filled(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    match part.fill {
        Fill::Ticks => {
            for i in from..to {
                check_row(d, hand.context, hand.pen(), part.mark, grid.band(i, i + 1));
            }
        }
        Fill::Slips => slips(d, hand, grid, from, to),
        _ => rules(d, hand.pen(), &Grid { rows: to.min(grid.rows), ..*grid }, from + 1),
    }
}

/// Cards to write on, one below another, each three lines high; side by side in a wide column.
fn slips(d: &mut Drawing, hand: &Hand, grid: &Grid, from: usize, to: usize) {
    let rows = to.saturating_sub(from);
    // Lower ones on a phone's page, where one alone would be no list.
    let n = (rows / 3).max(if hand.phone && rows >= 4 { 2 } else { 1 });
    let high = (to - from) as f64 * grid.pitch / n as f64;
    let stroke = Stroke::new(hand.pen().weight * 1.3, hand.pen().dot);
    let gap = gutter(grid.area);
    for column in grid.area.columns(fits(grid.area.w + gap, Mm(40.0).pt() + gap).clamp(1, 3), gap) {
        for i in 0..n {
            let y = grid.y(from) + i as f64 * high + hand.pitch * 0.5;
            let slip = Rect::new(column.x, y, column.w, (high - hand.pitch * 0.5).max(0.0));
            d.stroke(Path::rounded(slip, hand.context.corner.min(Mm(1.6).pt())), stroke);
        }
    }
}

/// What cards ask for: one whole card, with a row for the air below its last line.
pub fn card_asks(part: &Part, named: usize) -> Asks {
    Asks::from(named + part.labels.len().max(2) + 1)
}

/// Cards side by side.
fn card_columns(hand: &Hand, part: &Part, area: Rect) -> usize {
    let wide = fits(area.w + gutter(area), Mm(58.0).pt()).clamp(1, 3);
    let most = most(hand, area.w, part.columns.unwrap_or(wide));
    // A number that is given is dealt out evenly, if it can be.
    let even = part.count.and_then(|n| (2..=most).rev().find(|c| n.is_multiple_of(*c)));
    even.unwrap_or(most)
}

/// The size of type in which all labels of a card have room.
pub fn card_size(hand: &Hand, part: &Part, w: f64) -> f64 {
    let area = Rect::new(0.0, 0.0, w, 1.0);
    let card = area.columns(card_columns(hand, part, area), gutter(area))[0].w;
    let inside = card - 2.0 * pad(hand, card);
    let labels = part.labels.iter().map(String::as_str);
    hand.label.fitted(hand.context.fonts, labels, inside, hand.smallest(hand.label)).size
}

/// Space at either side of the lines of a card.
fn pad(hand: &Hand, w: f64) -> f64 {
    (hand.pitch * 0.4).min(w * 0.1)
}

/// Cards with the same named lines, as many as there is room for.
pub fn cards(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let lines = part.labels.len().max(2);
    let room = to.saturating_sub(from);
    let columns = card_columns(hand, part, grid.area);
    let all = part.count.unwrap_or(usize::MAX);
    let shown = fits(room as f64 + AIR, lines as f64 + FOOT + AIR).min(all.div_ceil(columns));
    if shown == 0 {
        return;
    }
    // Lines that are left over make every card higher. What is then left is air, shared by all: within the cards, below
    // their last line, and between them.
    let between = (shown - 1) as f64;
    let free = room as f64 - AIR * between;
    let lines = fits(free / shown as f64 - FOOT, 1.0).max(lines);
    let more = (free - shown as f64 * (lines as f64 + FOOT)).max(0.0) / (shown as f64 + between);
    let (tall, step) = (lines as f64 + FOOT + more, lines as f64 + FOOT + AIR + 2.0 * more);
    let corner = hand.context.corner.min(Mm(1.6).pt());
    for r in 0..shown {
        let lower = grid.lower(from as f64 + r as f64 * step);
        for (c, column) in grid.area.columns(columns, gutter(grid.area)).into_iter().enumerate() {
            if r * columns + c >= all {
                continue;
            }
            let own = lower.across(column.x, column.w);
            let card = Rect { h: tall * grid.pitch, ..own.band(0, 1) };
            card_of(d, hand, part, &own, card, (lines, corner));
        }
    }
}

/// One card: its lines, each with its name, within its frame.
fn card_of(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, card: Rect, (lines, corner): (usize, f64)) {
    let pen = hand.pen();
    let pad = pad(hand, card.w);
    let inside = grid.across(card.x + pad, card.w - 2.0 * pad);
    let every = thin(pen, grid.pitch);
    for i in 0..lines {
        let row = inside.band(i, i + 1);
        if let Some(label) = part.labels.get(i) {
            let line = Rect { h: row.h * 0.96, ..row };
            super::super::parts::line_label(d, hand.context, hand.label, label, line);
        }
        if (i + 1).is_multiple_of(every) {
            d.line(row.x, row.bottom(), row.right(), row.bottom(), pen.rule());
        }
    }
    d.stroke(Path::rounded(card, corner), Stroke::new(pen.weight * 1.3, pen.dot));
    if pen.small {
        d.line(card.x, grid.y(1), card.right(), grid.y(1), strong(pen));
    }
}

/// A label in a cell of a row, from the left.
pub fn row_name(d: &mut Drawing, hand: &Hand, label: &str, cell: Rect) {
    hand.cell(d, hand.ink, label, cell, Align::Left);
}
