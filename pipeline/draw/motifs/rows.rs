//! Rows: strips with a badge at the left and cells to colour in, tick or write in.

use super::builder::{MotifBuilder, mm};
use super::icons;
use super::shapes::turned;
use crate::text::Align;
use base::model::drawing::{Path, Role, Seg};
use base::model::{Point, Rect, Stroke};

/// Height of a strip in mm.
const STRIP: f64 = 15.0;

/// Middles of `n` cells in a strip, evenly spread with the same space at both ends.
fn spread(area: Rect, n: usize) -> Vec<Point> {
    let step = area.w / (n as f64 + 0.3);
    (0..n).map(|i| Point::new(area.x + step * (i as f64 + 0.65), area.centre().y)).collect()
}

pub fn weather(k: &mut MotifBuilder) {
    let area = k.sized(98.0, STRIP);
    let ground = k.ground;
    k.shape(Path::rounded(area, k.radius), ground);
    let kinds = [icons::SUN, icons::SUN_CLOUD, icons::CLOUDY, icons::WIND, icons::RAIN, icons::STORM, icons::SNOW];
    for (at, icon) in spread(area, kinds.len()).into_iter().zip(kinds) {
        k.icon(icon, at, mm(9.6));
    }
}

pub fn water(k: &mut MotifBuilder) {
    let area = k.strip(92.0, STRIP, icons::DROP);
    let paper = k.paper;
    for at in spread(area, 8) {
        let size = mm(9.0);
        let corner = Point::new(at.x - size / 2.0, at.y - size / 2.0);
        k.shape(icons::path(icons::DROP_SHAPE).placed(corner, size / icons::GRID), paper);
    }
}

pub fn sleep(k: &mut MotifBuilder) {
    let area = k.strip(98.0, STRIP, icons::MOON);
    for (i, at) in spread(area, 10).into_iter().enumerate() {
        let paper = k.paper;
        k.cell(Rect::new(at.x - mm(3.2), at.y - mm(4.2), mm(6.4), mm(8.4)), paper);
        k.letter(&(i + 1).to_string(), at, 9.0, k.deep);
    }
}

pub fn mood(k: &mut MotifBuilder) {
    let area = k.sized(80.0, STRIP);
    let ground = k.ground;
    k.shape(Path::rounded(area, k.radius), ground);
    for (i, at) in spread(area, 5).into_iter().enumerate() {
        let paper = k.paper;
        k.shape(Path::circle(at, mm(4.8)), paper);
        let (ink, dot) = (k.line, mm(0.62));
        for side in [-1.0, 1.0] {
            k.d.fill(Path::circle(Point::new(at.x + side * mm(1.6), at.y - mm(1.2)), dot), ink);
        }
        // From a mouth turned down to a wide smile.
        let bend = mm([-1.5, -0.8, 0.0, 1.0, 2.2][i]);
        let (half, y) = (mm(2.1), at.y + mm(1.5) - bend * 0.3);
        let mouth = Path(vec![
            Seg::Move(Point::new(at.x - half, y)),
            Seg::Cubic(
                Point::new(at.x - half * 0.45, y + bend),
                Point::new(at.x + half * 0.45, y + bend),
                Point::new(at.x + half, y),
            ),
        ]);
        let stroke = k.outline();
        k.d.stroke(mouth, stroke);
    }
}

pub fn moving(k: &mut MotifBuilder) {
    let area = k.strip(96.0, STRIP, icons::WEIGHTS);
    let days = k.weekdays;
    for (at, day) in spread(area, 7).into_iter().zip(days) {
        let paper = k.paper;
        k.shape(Path::circle(at, mm(4.3)), paper);
        k.letter(day, at, 10.0, k.deep);
    }
}

pub fn energy(k: &mut MotifBuilder) {
    let area = k.strip(60.0, STRIP, icons::BATTERY);
    let body = Rect::new(area.x + mm(4.0), area.centre().y - mm(4.6), area.w - mm(10.0), mm(9.2));
    let (line, paper) = (k.line, k.paper);
    let cap = Rect::new(body.right(), body.centre().y - mm(2.0), mm(2.2), mm(4.0));
    k.d.fill(Path::rounded_each(cap, [0.0, mm(1.0), mm(1.0), 0.0]), line);
    k.cell(body, paper);
    let stroke = k.outline();
    for cell in body.columns(5, 0.0).iter().skip(1) {
        k.d.line(cell.x, body.y, cell.x, body.bottom(), stroke);
    }
}

pub fn reading(k: &mut MotifBuilder) {
    let area = k.strip(98.0, 20.0, icons::BOOK);
    // Ten spines on a board, of uneven height and width as on a shelf, one of them leaning.
    let board = area.bottom() - mm(3.4);
    let heights = [12.0, 10.4, 13.0, 11.2, 12.4, 9.8, 12.8, 11.0, 13.0, 11.6];
    let widths = [5.6, 4.8, 5.2, 6.2, 4.6, 5.6, 5.0, 5.8, 4.8, 5.4];
    let (all, gap): (f64, f64) = (widths.iter().sum(), 1.1);
    let mut x = area.x + (area.w - mm(all + gap * 9.0)) / 2.0 - mm(0.6);
    let (paper, soft) = (k.paper, k.soft);
    for (i, (h, w)) in heights.into_iter().zip(widths).enumerate() {
        let lean = i == 9;
        let r = Rect::new(x + if lean { mm(0.9) } else { 0.0 }, board - mm(h), mm(w), mm(h));
        let band = Rect::new(r.x, r.y + mm(2.2), r.w, mm(1.9));
        let about = Point::new(r.x, board);
        let tilt = |p: Path| if lean { turned(p, about, -7.0) } else { p };
        k.d.fill(tilt(Path::rounded(r, mm(0.8))), paper);
        k.d.fill(tilt(Path::rect(band)), soft);
        let stroke = k.outline();
        k.d.stroke(tilt(Path::rounded(r, mm(0.8))), stroke);
        x += mm(w + gap);
    }
    let stroke = k.outline();
    k.d.line(area.x + mm(3.0), board, area.right() - mm(3.0), board, stroke);
}

pub fn tally(k: &mut MotifBuilder) {
    let area = k.strip(80.0, STRIP, icons::STROKES);
    // Printed pale, to be traced with the pen.
    let pale = Stroke::new(1.7, base::colour::mix(k.ground, k.base, 0.42)).round();
    for at in spread(area, 4) {
        for i in 0..4 {
            let x = at.x + mm(2.2) * (f64::from(i) - 1.5);
            k.d.line(x, at.y - mm(4.2), x, at.y + mm(4.2), pale);
        }
        k.d.line(at.x - mm(5.2), at.y + mm(2.2), at.x + mm(5.2), at.y - mm(2.2), pale);
    }
}

pub fn budget(k: &mut MotifBuilder) {
    let area = k.strip(98.0, 18.0, icons::PURSE);
    let stroke = k.outline();
    let fields = area.columns(3, 0.0);
    for (cell, caption) in fields.iter().zip([k.words.planned, k.words.spent, k.words.left]) {
        k.caption(caption, cell.x + mm(2.6), cell.y + mm(4.9), Align::Left);
        let (y, rule) = (cell.bottom() - mm(3.6), k.rule());
        k.d.line(cell.x + mm(2.6), y, cell.right() - mm(2.6), y, rule);
    }
    for cell in fields.iter().skip(1) {
        k.d.line(cell.x, cell.y + mm(3.4), cell.x, cell.bottom() - mm(3.4), stroke);
    }
}

pub fn progress(k: &mut MotifBuilder) {
    let area = k.sized(98.0, 22.0);
    let ground = k.ground;
    k.shape(Path::rounded(area, k.radius), ground);
    let head = Rect::new(area.x + mm(5.0), area.y + mm(1.6), area.w - mm(10.0), mm(7.4));
    k.heading(head, Align::Left);
    let bar = Rect::new(area.x + mm(5.0), area.bottom() - mm(9.6), area.w - mm(10.0), mm(6.0));
    let (paper, stroke, step) = (k.paper, k.outline(), bar.w / 10.0);
    k.d.fill(Path::rounded(bar, bar.h / 2.0), paper);
    for i in 1..10 {
        let x = bar.x + step * f64::from(i);
        k.d.line(x, bar.y, x, bar.bottom(), stroke);
    }
    k.d.stroke(Path::rounded(bar, bar.h / 2.0), stroke);
    for (i, text) in ["1", "2", "3", "4", "5", "6", "7", "8", "9", "10"].into_iter().enumerate() {
        let room = Rect::new(bar.x + step * i as f64, bar.y, step, bar.h);
        k.words(text, Role::LabelBold, 8.5, k.line, room, Align::Centre);
    }
}
