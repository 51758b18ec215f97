//! Boxes with names, cards with named lines, and rows to tick.

use super::super::lined::rules;
use super::super::parts::{Grid, check_row, gutter, strong, thin};
use super::asks::Asks;
use super::hand::Hand;
use super::part::{Fill, Part};
use base::model::drawing::{Path, Shape, Stroke};
use base::model::{Drawing, Mm, Point, Rect};
use draw::ruling::fits;
use draw::text::Align;

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
    let usual = even.or_else(any).unwrap_or_else(|| beside(26.0));
    let columns = part.columns.map_or(usual, |c| {
        let (asked, fitting) = (c.min(n), most(hand, w, c.min(n)));
        // Where fewer fit than were asked for, rather so few that none is left over in a row of its own.
        if fitting < asked { (1..=fitting).rev().find(|c| n.is_multiple_of(*c)).unwrap_or(fitting) } else { fitting }
    });
    Form { columns, rows: n.div_ceil(columns) }
}

/// The least rows of a box below its name.
fn inner(part: &Part) -> usize {
    part.rows.unwrap_or(match part.fill {
        Fill::Slips => 5,
        _ => 2,
    })
}

/// What boxes ask for.
pub fn asks(hand: &Hand, part: &Part, w: f64, named: usize) -> Asks {
    // As few rows as they can do with, on the widest form.
    let form = form(hand, part, w, 0, inner(part));
    let all = form.rows * (1 + inner(part));
    match part.rows {
        Some(_) => Asks::between(named + 1 + inner(part), named + all),
        None => Asks { whole: named + all, ..Asks::from(named + 1 + inner(part)) },
    }
}

/// Draws boxes between two lines of the grid.
pub fn draw(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let room = to.saturating_sub(from);
    // Rather all of them with one line each than some of them with two.
    let curt = part.rows.is_none() && matches!(part.fill, Fill::Lines | Fill::Ticks);
    let form_of = |inner: usize| (form(hand, part, grid.area.w, room, inner), inner);
    let whole = |(form, inner): &(Form, usize)| form.rows * (1 + inner) <= room;
    let usual = inner(part);
    let tight = Some(1).filter(|_| curt).map(form_of).filter(whole);
    let (form, inner) = Some(form_of(usual)).filter(whole).or(tight).unwrap_or_else(|| form_of(usual));
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
    let (each, over) = (room / shown, room % shown);
    let columns = grid.area.columns(form.columns, gutter(grid.area));
    // Names shrink together, if they have to.
    let names = part.labels.iter().map(String::as_str);
    let head = hand.head.fitted(hand.context.fonts, names, columns[0].w, 7.0_f64.min(hand.head.size));
    let hand = &Hand { head, ..*hand };
    let framed = matches!(part.fill, Fill::Open | Fill::Dots);
    let mut top = from;
    for r in 0..shown {
        // What no whole row is left of goes to the last ones; frames share it.
        let end = top + each + usize::from(r >= shown - over);
        for (c, column) in columns.iter().enumerate() {
            let Some(label) = part.labels.get(r * form.columns + c) else { continue };
            let own = grid.across(column.x, column.w);
            if framed {
                let exact = room as f64 * grid.pitch / shown as f64;
                let y = grid.y(from) + r as f64 * exact;
                frame(d, hand, part, label, Rect::new(column.x, y, column.w, exact), r > 0);
            } else {
                hand.heading(d, label, &own, top);
                filled(d, hand, part, &own, top + 1, end);
            }
        }
        top = end;
    }
}

/// A box with a frame, its name above it.
fn frame(d: &mut Drawing, hand: &Hand, part: &Part, label: &str, area: Rect, below: bool) {
    let pen = hand.pen();
    let gap = if label.is_empty() { if below { hand.pitch * 0.5 } else { 0.0 } } else { hand.pitch };
    let framed = area.inset_each(0.0, gap, 0.0, 0.0);
    if !label.is_empty() {
        let row = Rect { h: hand.pitch, ..area };
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
    let n = ((to - from) / 3).max(1);
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

/// What cards ask for: one whole card.
pub fn card_asks(part: &Part, named: usize) -> Asks {
    Asks::from(named + part.labels.len().max(2))
}

/// Cards with the same named lines, as many as there is room for.
pub fn cards(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let pen = hand.pen();
    let lines = part.labels.len().max(2);
    let room = to.saturating_sub(from);
    let wide = fits(grid.area.w + gutter(grid.area), Mm(58.0).pt()).clamp(1, 3);
    let most = most(hand, grid.area.w, part.columns.unwrap_or(wide));
    // A number that is given is dealt out evenly, if it can be.
    let even = part.count.and_then(|n| (2..=most).rev().find(|c| n.is_multiple_of(*c)));
    let columns = even.unwrap_or(most);
    let all = part.count.unwrap_or(usize::MAX);
    let shown = ((room + 1) / (lines + 1)).min(all.div_ceil(columns));
    if shown == 0 {
        return;
    }
    // Lines that are left over make every card higher, then the last ones: they end where the page ends.
    let more = room + 1 - shown * (lines + 1);
    let (each, over) = (lines + more / shown, more % shown);
    let mut top = from;
    let corner = hand.context.corner.min(Mm(1.6).pt());
    for r in 0..shown {
        let tall = each + usize::from(r >= shown - over);
        for (c, column) in grid.area.columns(columns, gutter(grid.area)).into_iter().enumerate() {
            if r * columns + c >= all {
                continue;
            }
            let own = grid.across(column.x, column.w);
            let card = own.band(top, top + tall);
            let pad = (hand.pitch * 0.4).min(card.w * 0.1);
            let inside = own.across(card.x + pad, card.w - 2.0 * pad);
            for i in 0..tall {
                let row = inside.band(top + i, top + i + 1);
                if let Some(label) = part.labels.get(i) {
                    let line = Rect { h: row.h * 0.96, ..row };
                    super::super::parts::line_label(d, hand.context, hand.label, label, line);
                }
                if i + 1 < tall && (top + i + 1).is_multiple_of(thin(pen, grid.pitch)) {
                    d.line(inside.area.x, row.bottom(), inside.area.right(), row.bottom(), pen.rule());
                }
            }
            d.stroke(Path::rounded(card, corner), Stroke::new(pen.weight * 1.3, pen.dot));
            if pen.small {
                d.line(card.x, own.y(top + 1), card.right(), own.y(top + 1), strong(pen));
            }
        }
        top += tall + 1;
    }
}

/// A label in a cell of a row, from the left.
pub fn row_name(d: &mut Drawing, hand: &Hand, label: &str, cell: Rect) {
    hand.cell(d, hand.ink, label, cell, Align::Left);
}
