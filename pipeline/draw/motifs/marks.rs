//! Marks: small signs to set beside a line: arrows, ticks, stars, round marks with an icon.

use super::builder::{MotifBuilder, mm};
use super::icons::{self, Icon};
use super::shapes::{chain, soft_chain};
use base::model::drawing::{Path, Role, Seg};
use base::model::{Point, Rect, Stroke};

/// Weight of a sign that stands alone on its mark, in points: twice the outline.
const SIGN: f64 = 3.4;

/// A round mark in the full colour with a sign on it.
fn sign(k: &mut MotifBuilder, data: &str) {
    let r = k.sized(12.0, 12.0);
    let (base, on) = (k.base, k.on_base);
    k.shape(Path::circle(r.centre(), r.w / 2.0), base);
    k.d.stroke(icons::path(data).placed(Point::new(0.0, 0.0), mm(12.0) / icons::GRID), Stroke::new(SIGN, on).round());
}

/// A round mark in the tint with an icon on it.
fn round(k: &mut MotifBuilder, icon: Icon, size: f64) {
    let r = k.sized(15.0, 15.0);
    let ground = k.ground;
    k.shape(Path::circle(r.centre(), r.w / 2.0), ground);
    k.icon(icon, r.centre(), mm(size));
}

pub fn tick(k: &mut MotifBuilder) {
    sign(k, icons::TICK);
}

pub fn cross(k: &mut MotifBuilder) {
    sign(k, icons::CROSS);
}

pub fn moved_on(k: &mut MotifBuilder) {
    sign(k, icons::ONWARD);
}

pub fn question(k: &mut MotifBuilder) {
    sign(k, "M8.6 9 C8.6 6.6 10.2 5.6 12 5.6 C14 5.6 15.5 6.9 15.5 8.8 C15.5 11.4 12 11.6 12 14.2");
    let on = k.on_base;
    k.d.fill(Path::circle(Point::new(mm(6.0), mm(9.0)), SIGN * 0.6), on);
}

pub fn reminder_bell(k: &mut MotifBuilder) {
    round(k, icons::BELL, 9.6);
}

pub fn idea(k: &mut MotifBuilder) {
    round(k, icons::BULB, 9.8);
}

pub fn birthday(k: &mut MotifBuilder) {
    round(k, icons::GIFT, 9.2);
}

pub fn post(k: &mut MotifBuilder) {
    round(k, icons::LETTER, 9.2);
}

pub fn place(k: &mut MotifBuilder) {
    round(k, icons::PIN, 9.8);
}

pub fn pay_day(k: &mut MotifBuilder) {
    round(k, icons::COINS, 10.0);
}

pub fn heart(k: &mut MotifBuilder) {
    // The outline of the data runs from 2.4 to 21.6 across and from 3.4 to 20.8 down.
    let r = k.sized(14.0, 12.75);
    let scale = r.w / 19.2;
    let at = Point::new(r.x - 2.4 * scale, r.y - 3.4 * scale + (r.h - 17.4 * scale) / 2.0);
    let base = k.base;
    k.shape(icons::path(icons::HEART).placed(at, scale), base);
}

/// A star of five points; every corner a little blunt through the round joins of its outline.
pub fn star_path(c: Point, radius: f64) -> Path {
    let points: Vec<(f64, f64)> = (0..10)
        .map(|i| {
            let r = if i % 2 == 0 { radius } else { radius * 0.5 };
            let (s, co) = libm::sincos((f64::from(i) * 36.0 - 90.0).to_radians());
            (c.x + r * co, c.y + r * s)
        })
        .collect();
    chain(&points, true)
}

pub fn star(k: &mut MotifBuilder) {
    // A pentagram of radius R is 2 sin 72° R wide and (1 + cos 36°) R high.
    let radius = (mm(14.0) - super::builder::STROKE) / (2.0 * libm::sin(72f64.to_radians()));
    let high = radius * (1.0 + libm::cos(36f64.to_radians()));
    let r = k.sized(14.0, (high + super::builder::STROKE) / mm(1.0));
    let base = k.base;
    k.shape(star_path(Point::new(r.centre().x, r.y + radius), radius), base);
}

pub fn arrow(k: &mut MotifBuilder) {
    let r = k.sized(30.0, 14.0);
    let (c, half, head) = (r.centre().y, mm(2.6), r.right() - mm(10.0));
    let base = k.base;
    k.shape(
        chain(
            &[
                (r.x, c - half),
                (head, c - half),
                (head, r.y),
                (r.right(), c),
                (head, r.bottom()),
                (head, c + half),
                (r.x, c + half),
            ],
            true,
        ),
        base,
    );
}

pub fn arrow_bend(k: &mut MotifBuilder) {
    let r = k.sized(24.0, 24.0);
    // In from the left, down with a round bend.
    let (w, hx, head) = (mm(5.2), r.right() - mm(7.0), r.bottom() - mm(9.5));
    let (x0, x1, q) = (hx - w / 2.0, hx + w / 2.0, mm(8.0));
    let inner = q - w;
    let path = Path(vec![
        Seg::Move(Point::new(r.x, r.y)),
        Seg::Line(Point::new(x1 - q, r.y)),
        Seg::Cubic(Point::new(x1 - q * 0.45, r.y), Point::new(x1, r.y + q * 0.45), Point::new(x1, r.y + q)),
        Seg::Line(Point::new(x1, head)),
        Seg::Line(Point::new(r.right(), head)),
        Seg::Line(Point::new(hx, r.bottom())),
        Seg::Line(Point::new(hx - mm(7.0), head)),
        Seg::Line(Point::new(x0, head)),
        Seg::Line(Point::new(x0, r.y + q)),
        Seg::Cubic(
            Point::new(x0, r.y + w + inner * 0.45),
            Point::new(x0 - inner * 0.55, r.y + w),
            Point::new(x0 - inner, r.y + w),
        ),
        Seg::Line(Point::new(r.x, r.y + w)),
        Seg::Close,
    ]);
    let base = k.base;
    k.shape(path, base);
}

pub fn arrow_curve(k: &mut MotifBuilder) {
    let r = k.sized(32.0, 17.0);
    // A brush-like sweep: thin at the start, broad at the head.
    let p = |x: f64, y: f64| Point::new(r.x + r.w * x, r.y + r.h * y);
    let path = Path(vec![
        Seg::Move(p(0.0, 1.0)),
        Seg::Cubic(p(0.06, 0.42), p(0.34, 0.10), p(0.70, 0.20)),
        Seg::Line(p(0.73, 0.0)),
        Seg::Line(p(1.0, 0.46)),
        Seg::Line(p(0.62, 0.80)),
        Seg::Line(p(0.65, 0.54)),
        Seg::Cubic(p(0.38, 0.44), p(0.16, 0.60), p(0.0, 1.0)),
        Seg::Close,
    ]);
    let base = k.base;
    k.shape(path, base);
}

pub fn priority_marks(k: &mut MotifBuilder) {
    let r = k.sized(44.0, 16.0);
    let (ground, fills) = (k.ground, [k.base, base::colour::mix(k.paper, k.base, 0.55), k.paper]);
    k.shape(Path::rounded(r, k.radius), ground);
    for (i, (cell, fill)) in r.inset_each(mm(1.2), 0.0, mm(1.2), 0.0).columns(3, 0.0).iter().zip(fills).enumerate() {
        let c = cell.centre();
        k.shape(Path::circle(c, mm(5.2)), fill);
        let ink = if fill == k.base { k.on_base } else { base::colour::label_on(fill, k.deep, k.paper) };
        let room = Rect::new(c.x - mm(5.0), c.y - mm(5.0), mm(10.0), mm(10.0));
        k.words(&(i + 1).to_string(), Role::LabelBold, 15.0, ink, room, crate::text::Align::Centre);
    }
}

pub fn check_marks(k: &mut MotifBuilder) {
    let r = k.sized(56.0, 16.0);
    let ground = k.ground;
    k.shape(Path::rounded(r, k.radius), ground);
    let cells = r.inset_each(mm(1.2), 0.0, mm(1.2), 0.0).columns(4, 0.0);
    for (i, cell) in cells.iter().enumerate() {
        let (c, half) = (cell.centre(), mm(4.8));
        let square = Rect::new(c.x - half, c.y - half, half * 2.0, half * 2.0);
        let (paper, base, line) = (k.paper, k.base, k.deep);
        let radius = k.radius.min(mm(1.8));
        k.d.fill(Path::rounded(square, radius), paper);
        if i == 1 {
            // Half done: the lower left half is filled.
            let (x, y, q) = (square.x, square.y, radius * 0.8);
            let half = soft_chain(&[
                (x, y + q, 0.0),
                (square.right() - q, square.bottom(), 0.0),
                (x, square.bottom(), radius),
            ]);
            k.d.fill(half, base);
        }
        let stroke = k.outline();
        k.d.stroke(Path::rounded(square, radius), stroke);
        let data = [icons::TICK, "", icons::ONWARD, icons::CROSS][i];
        let scale = half * 2.0 / icons::GRID * 1.08;
        let at = Point::new(c.x - scale * icons::GRID / 2.0, c.y - scale * icons::GRID / 2.0);
        k.d.stroke(icons::path(data).placed(at, scale), Stroke::new(2.4, line).round());
    }
}
