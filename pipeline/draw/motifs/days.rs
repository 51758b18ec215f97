//! Days: strips and cards for a day, a week, a month.

use super::builder::{LINE, MotifBuilder, SIDE, mm};
use super::icons;
use crate::text::Align;
use base::model::drawing::{Path, Role};
use base::model::{Point, Rect};

pub fn week_strip(k: &mut MotifBuilder) {
    let head = if k.label.is_empty() { 0.0 } else { 9.0 };
    let r = k.card(105.0, 30.0 + head);
    let band = Rect::new(r.x, r.y, r.w, mm(8.0 + head));
    let (soft, stroke, days) = (k.soft, k.outline(), k.weekdays);
    k.d.fill(Path::rounded_each(band, [k.radius, k.radius, 0.0, 0.0]), soft);
    if head > 0.0 {
        k.heading(Rect::new(r.x + mm(SIDE), r.y + mm(1.0), r.w - mm(SIDE * 2.0), mm(head)), Align::Centre);
    }
    k.d.line(r.x, band.bottom(), r.right(), band.bottom(), stroke);
    for (i, (column, day)) in r.columns(7, 0.0).into_iter().zip(days).enumerate() {
        if i > 0 {
            k.d.line(column.x, band.bottom() - mm(8.0), column.x, r.bottom(), stroke);
        }
        let room = Rect::new(column.x, band.bottom() - mm(8.0), column.w, mm(8.0));
        k.words(day, Role::LabelBold, 11.0, k.deep, room, Align::Centre);
    }
    k.d.stroke(Path::rounded(r, k.radius), stroke);
}

pub fn habit_dots(k: &mut MotifBuilder) {
    let body = k.headed_card(98.0, 54.0, icons::SUN);
    let (rows, days) = (4, k.weekdays);
    let (pitch, left) = (mm(8.2), body.x + mm(SIDE + 34.0));
    let step = (body.right() - mm(SIDE) - left) / 7.0;
    for (i, day) in days.into_iter().enumerate() {
        k.letter(day, Point::new(left + step * (i as f64 + 0.5), body.y + mm(4.6)), 9.0, k.deep);
    }
    for row in 0..rows {
        let y = body.y + mm(12.0) + pitch * f64::from(row);
        let (rule, paper) = (k.rule(), k.paper);
        k.d.line(body.x + mm(SIDE), y + mm(2.4), left - mm(1.5), y + mm(2.4), rule);
        for i in 0..7 {
            k.shape(Path::circle(Point::new(left + step * (f64::from(i) + 0.5), y), mm(2.9)), paper);
        }
    }
}

pub fn month_dots(k: &mut MotifBuilder) {
    let body = k.headed_card(84.0, 53.0, icons::CALENDAR);
    let (columns, rows) = (8, 4);
    let step = (body.w - mm(6.0)) / f64::from(columns);
    let drop = (body.h - mm(4.0)) / f64::from(rows);
    for n in 0..columns * rows {
        let (column, row) = (n % columns, n / columns);
        let at = Point::new(
            body.x + mm(3.0) + step * (f64::from(column) + 0.5),
            body.y + mm(2.0) + drop * (f64::from(row) + 0.5),
        );
        if n == 31 {
            // The last place of the grid has no day: a heart closes the month.
            k.icon(icons::HEART_ICON, at, mm(7.0));
        } else {
            let paper = k.paper;
            k.shape(Path::circle(at, mm(3.7)), paper);
            k.letter(&(n + 1).to_string(), at, 9.0, k.deep);
        }
    }
}

pub fn day_parts(k: &mut MotifBuilder) {
    let body = k.headed_card(62.0, 84.0, icons::CLOCK);
    let parts = body.rows(3, 0.0);
    for (i, (part, icon)) in parts.iter().zip([icons::SUN_CLOUD, icons::SUN, icons::MOON]).enumerate() {
        let (stroke, rule) = (k.outline(), k.rule());
        if i > 0 {
            k.d.line(part.x, part.y, part.right(), part.y, stroke);
        }
        k.icon(icon, Point::new(part.x + mm(8.6), part.centre().y), mm(9.6));
        for line in 0..3 {
            let y = part.centre().y + mm(LINE * (f64::from(line) - 1.0) + 1.6);
            k.d.line(part.x + mm(17.0), y, part.right() - mm(SIDE), y, rule);
        }
    }
}
