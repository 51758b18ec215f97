//! Boxes: cards with a head and room to write.

use super::builder::{FIRST, LINE, MotifBuilder, SIDE, mm};
use super::icons;
use super::shapes::soft_chain;
use crate::text::Align;
use base::model::drawing::{Path, Shape};
use base::model::{Point, Rect};

/// Side of a box to tick, in mm.
const TICK_BOX: f64 = 4.2;

pub fn to_do_box(k: &mut MotifBuilder) {
    let body = k.headed_card(60.0, 66.0, icons::BOXES);
    for y in k.lines(body, 7, 7.2) {
        tick_box(k, body.x + mm(SIDE), y);
    }
}

/// A box to tick, standing on a writing line.
fn tick_box(k: &mut MotifBuilder, x: f64, y: f64) {
    let r = Rect::new(x, y - mm(TICK_BOX) - mm(0.3), mm(TICK_BOX), mm(TICK_BOX));
    let (stroke, paper) = (k.outline(), k.paper);
    k.d.fill_stroke(Path::rounded(r, mm(0.9)), paper, stroke);
}

pub fn shopping_list(k: &mut MotifBuilder) {
    let body = k.headed_card(78.0, 66.0, icons::BASKET);
    for column in body.inset_each(mm(SIDE), 0.0, mm(SIDE), 0.0).columns(2, mm(6.0)) {
        for i in 0..7 {
            let y = body.y + mm(FIRST + LINE * f64::from(i));
            let (stroke, paper, rule) = (k.outline(), k.paper, k.rule());
            k.d.fill_stroke(Path::circle(Point::new(column.x + mm(1.7), y - mm(1.9)), mm(1.5)), paper, stroke);
            k.d.line(column.x + mm(5.0), y, column.right(), y, rule);
        }
    }
}

pub fn meal_plan(k: &mut MotifBuilder) {
    let body = k.headed_card(62.0, 66.5, icons::BOWL);
    let days = k.weekdays;
    for (y, day) in k.lines(body, 7, 8.6).into_iter().zip(days) {
        let at = Point::new(body.x + mm(SIDE + 2.8), y - mm(2.3));
        let soft = k.soft;
        k.d.fill(Path::circle(at, mm(2.8)), soft);
        k.letter(day, at, 9.5, k.deep);
    }
}

pub fn phone_call(k: &mut MotifBuilder) {
    let body = k.headed_card(64.0, 54.5, icons::HANDSET);
    let (x0, x1) = (body.x + mm(SIDE), body.right() - mm(SIDE));
    for (i, caption) in [k.words.who, k.words.number, k.words.about].into_iter().enumerate() {
        k.field(caption, x0, x1, body.y + mm(FIRST + 0.5 + 8.0 * i as f64));
    }
    let (stroke, y) = (k.rule(), body.y + mm(FIRST + 0.5 + 16.0 + LINE));
    k.d.line(x0, y, x1, y, stroke);
    k.d.line(x0, y + mm(LINE), x1, y + mm(LINE), stroke);
}

pub fn appointment(k: &mut MotifBuilder) {
    let body = k.headed_card(64.0, 48.5, icons::CLOCK);
    let (x0, x1) = (body.x + mm(SIDE), body.right() - mm(SIDE));
    let middle = (x0 + x1) / 2.0;
    let y = |i: f64| body.y + mm(FIRST + 0.5 + 8.0 * i);
    let w = k.words;
    k.field(w.date, x0, middle - mm(2.0), y(0.0));
    k.field(w.time, middle + mm(2.0), x1, y(0.0));
    k.field(w.with, x0, x1, y(1.0));
    k.field(w.place, x0, x1, y(2.0));
    k.field(w.bring, x0, x1, y(3.0));
}

pub fn good_things(k: &mut MotifBuilder) {
    let body = k.headed_card(68.0, 62.0, icons::HEART_ICON);
    for (i, y) in k.lines(body, 6, 9.0).into_iter().enumerate() {
        if i % 2 == 0 {
            let at = Point::new(body.x + mm(SIDE + 3.0), y - mm(0.8));
            let base = k.soft;
            k.shape(Path::circle(at, mm(3.2)), base);
            k.letter(&(i / 2 + 1).to_string(), at, 10.5, k.deep);
        }
    }
}

pub fn for_and_against(k: &mut MotifBuilder) {
    let body = k.headed_card(76.0, 60.0, icons::BALANCE);
    let (middle, stroke, rule) = (body.centre().x, k.outline(), k.rule());
    k.d.line(middle, body.y + mm(4.0), middle, body.bottom() - mm(4.0), stroke);
    for (side, plus) in [(body.x, true), (middle, false)] {
        let at = Point::new(side + body.w / 4.0, body.y + mm(7.0));
        let base = k.base;
        k.shape(Path::circle(at, mm(3.2)), base);
        let sign = base::model::Stroke::new(2.2, k.on_base).round();
        k.d.line(at.x - mm(1.5), at.y, at.x + mm(1.5), at.y, sign);
        if plus {
            k.d.line(at.x, at.y - mm(1.5), at.x, at.y + mm(1.5), sign);
        }
        for i in 0..5 {
            let y = body.y + mm(17.0 + LINE * f64::from(i));
            k.d.line(side + mm(SIDE), y, side + body.w / 2.0 - mm(SIDE - 0.5), y, rule);
        }
    }
}

pub fn goal_steps(k: &mut MotifBuilder) {
    let body = k.headed_card(84.0, 66.0, icons::MOUNTAIN);
    // Five steps, each wide enough for a word or two and as high as a writing line.
    let (n, rise) = (5, mm(LINE + 0.5));
    let foot = body.bottom() - mm(5.0);
    let (x0, run) = (body.x + mm(SIDE), (body.w - mm(SIDE * 2.0) - mm(10.0)) / n as f64);
    let right = body.right() - mm(SIDE);
    // The goal itself is written above the lower steps.
    let rule = k.rule();
    for line in 0..2 {
        let y = body.y + mm(FIRST + LINE * f64::from(line));
        k.d.line(x0, y, x0 + run * 3.0 - mm(4.0), y, rule);
    }
    for i in (0..n).rev() {
        let top = foot - rise * (i + 1) as f64;
        let x = x0 + run * i as f64;
        let fill = if i % 2 == 0 { k.soft } else { k.paper };
        let step = Rect::new(x, top, right - x, rise);
        k.shape(Path::rounded_each(step, [mm(1.2), mm(1.2), 0.0, 0.0]), fill);
        k.letter(&(i + 1).to_string(), Point::new(x + mm(3.2), top + rise / 2.0), 10.0, k.deep);
    }
    k.icon(icons::FLAG, Point::new(right - mm(4.2), foot - rise * n as f64 - mm(3.6)), mm(8.4));
}

pub fn note_with_tape(k: &mut MotifBuilder) {
    let r = k.sized(58.0, 66.0);
    let paper = Rect::new(r.x, r.y + mm(4.5), r.w, r.h - mm(4.5));
    let ground = k.ground;
    k.shape(Path::rounded(paper, k.radius), ground);
    let tape = Rect::new(r.centre().x - mm(14.0), r.y, mm(28.0), mm(9.0));
    super::trims::torn_tape(k, tape);
    let body = Rect::new(paper.x, paper.y + mm(6.0), paper.w, paper.h - mm(6.0));
    if k.label.is_empty() {
        k.lines(body, 7, 0.0);
    } else {
        k.heading(Rect::new(body.x + mm(SIDE), body.y, body.w - mm(SIDE * 2.0), mm(9.0)), Align::Centre);
        k.lines(Rect::new(body.x, body.y + mm(LINE), body.w, body.h), 6, 0.0);
    }
}

pub fn note_dotted(k: &mut MotifBuilder) {
    let r = k.sized(64.0, 64.0);
    let (fold, ground) = (mm(11.0), k.ground);
    let (x, y) = (r.right(), r.bottom());
    // The lower right corner is folded over: the card ends at the fold.
    let q = k.radius;
    k.shape(soft_chain(&[(r.x, r.y, q), (x, r.y, q), (x, y - fold, 0.0), (x - fold, y, 0.0), (r.x, y, q)]), ground);
    let mut top = r.y;
    if !k.label.is_empty() {
        k.heading(Rect::new(r.x + mm(SIDE), r.y + mm(2.5), r.w - mm(SIDE * 2.0), mm(9.0)), Align::Left);
        top += mm(8.0);
    }
    let at: Vec<Point> = (0..=10)
        .flat_map(|row| (0..=10).map(move |col| (row, col)))
        .map(|(row, col)| (r.centre().x + mm(5.0 * (f64::from(col) - 5.0)), top + mm(7.0 + 5.0 * f64::from(row))))
        .filter(|(x, y)| *y < r.bottom() - mm(4.5) && (r.right() - x) + (r.bottom() - y) > fold + mm(2.0))
        .map(|(x, y)| Point::new(x, y))
        .collect();
    let colour = base::colour::mix(k.write, k.line, 0.3);
    k.d.push(Shape::Dots { at, diameter: 1.7, colour });
    let soft = k.soft;
    k.shape(soft_chain(&[(x - fold, y, 0.0), (x - fold, y - fold, mm(1.6)), (x, y - fold, 0.0)]), soft);
}
