//! Labels: ribbons, flags, tapes, tags, bubbles.

use super::builder::{LINE, MotifBuilder, mm};
use super::icons;
use super::shapes::{chain, soft_chain};
use crate::text::Align;
use base::colour;
use base::model::drawing::{Path, Role, Seg};
use base::model::{Point, Rect, Stroke};

pub fn banner(k: &mut MotifBuilder) {
    let r = k.sized(84.0, 21.0);
    let (tail, drop) = (mm(13.0), mm(4.0));
    let face = Rect::new(r.x + tail, r.y, r.w - tail * 2.0, r.h - drop);
    let (soft, base, dark) = (k.soft, k.base, k.line);
    for flip in [1.0, -1.0] {
        let (x, inner) = if flip > 0.0 { (r.x, face.x) } else { (r.right(), face.right()) };
        let (fold, notch) = (inner + flip * mm(5.0), x + flip * mm(5.5));
        let (top, foot) = (r.y + drop, r.bottom());
        let swallow = chain(&[(x, top), (fold, top), (fold, foot), (x, foot), (notch, (top + foot) / 2.0)], true);
        k.shape(swallow, soft);
        k.shape(chain(&[(inner, face.bottom()), (fold, face.bottom()), (fold, foot)], true), dark);
    }
    k.shape(Path::rounded(face, mm(0.8)), base);
    let seam = Stroke::new(0.9, colour::mix(base, k.on_base, 0.45)).round().dashed(3.2, 2.6);
    for y in [face.y + mm(2.0), face.bottom() - mm(2.0)] {
        k.d.line(face.x + mm(2.5), y, face.right() - mm(2.5), y, seam);
    }
    let on = k.on_base;
    k.block(face.inset_each(mm(4.0), mm(3.0), mm(4.0), mm(3.0)), Role::Heading, 21.0, on, Align::Centre);
}

pub fn label(k: &mut MotifBuilder) {
    let r = k.card(60.0, 22.0);
    let inner = r.inset(mm(2.0));
    let seam = Stroke::new(0.9, k.base).round();
    k.d.stroke(Path::rounded(inner, (k.radius - mm(1.2)).max(mm(0.8))), seam);
    let room = inner.inset_each(mm(5.0), 0.0, mm(5.0), 0.0);
    if k.label.is_empty() {
        k.heading(Rect::new(room.x, room.y + mm(1.2), room.w, room.h), Align::Centre);
    } else {
        let deep = k.deep;
        k.block(room.inset_each(0.0, mm(1.4), 0.0, mm(1.4)), Role::Heading, 20.0, deep, Align::Centre);
    }
}

pub fn page_flag(k: &mut MotifBuilder) {
    let r = k.sized(34.0, 13.0);
    let base = k.base;
    flag(k, r, base);
}

/// A flag with a notched right end; its left end is what sticks to the page.
fn flag(k: &mut MotifBuilder, r: Rect, fill: base::model::Rgb) {
    let notch = r.h * 0.38;
    let q = mm(1.0);
    let outline = [
        (r.x, r.y, q),
        (r.right(), r.y, 0.0),
        (r.right() - notch, r.centre().y, 0.0),
        (r.right(), r.bottom(), 0.0),
        (r.x, r.bottom(), q),
    ];
    k.shape(soft_chain(&outline), fill);
    let end = Rect::new(r.x, r.y, mm(5.0), r.h);
    let (pale, stroke) = (colour::mix(k.paper, fill, 0.45), k.outline());
    k.d.fill_stroke(Path::rounded_each(end, [q, 0.0, 0.0, q]), pale, stroke);
    if !k.label.is_empty() {
        let ink = if fill == k.base { k.on_base } else { colour::label_on(fill, k.deep, k.paper) };
        k.block(
            Rect::new(end.right() + mm(1.0), r.y + mm(1.3), r.w - mm(7.0) - notch, r.h - mm(2.6)),
            Role::Heading,
            15.0,
            ink,
            Align::Centre,
        );
    }
}

pub fn page_flags(k: &mut MotifBuilder) {
    let r = k.sized(34.0, 47.0);
    let fills = [k.base, colour::mix(k.paper, k.base, 0.62), k.soft];
    for (row, fill) in r.rows(3, mm(4.0)).into_iter().zip(fills) {
        flag(k, row, fill);
    }
}

pub fn date_tag(k: &mut MotifBuilder) {
    let r = k.sized(46.0, 24.0);
    // A luggage-label shape: two corners cut at the end with the eye.
    let (x, cut) = (r.x + mm(5.0), mm(7.0));
    let (top, foot, q) = (r.y + mm(2.0), r.bottom() - mm(2.0), k.radius);
    let outline = [
        (x + cut, top, mm(1.2)),
        (r.right(), top, q),
        (r.right(), foot, q),
        (x + cut, foot, mm(1.2)),
        (x, foot - cut, mm(1.2)),
        (x, top + cut, mm(1.2)),
    ];
    let (ground, soft, stroke) = (k.ground, k.soft, k.outline());
    k.shape(soft_chain(&outline), ground);
    let eye = Point::new(x + mm(5.6), r.centre().y);
    // Two ends of a string that was drawn through the eye; the eye's rim lies over them.
    let string = Path(vec![
        Seg::Move(eye),
        Seg::Cubic(
            Point::new(eye.x - mm(4.0), eye.y - mm(1.4)),
            Point::new(r.x + mm(4.6), eye.y - mm(8.0)),
            Point::new(r.x, r.y + mm(1.4)),
        ),
        Seg::Move(eye),
        Seg::Cubic(
            Point::new(eye.x - mm(5.0), eye.y + mm(0.4)),
            Point::new(r.x + mm(2.4), eye.y + mm(5.0)),
            Point::new(r.x + mm(1.8), r.bottom()),
        ),
    ]);
    k.d.stroke(string, stroke);
    k.shape(Path::circle(eye, mm(2.3)), soft);
    let room = Rect::new(eye.x + mm(5.0), r.y + mm(2.0), r.right() - eye.x - mm(9.0), r.h - mm(4.0));
    if k.label.is_empty() {
        // Day, month: two lines with a slanting stroke between them.
        let rule = k.rule();
        let y = room.bottom() - mm(5.4);
        let middle = room.centre().x;
        k.d.line(room.x, y, middle - mm(2.4), y, rule);
        k.d.line(middle + mm(2.4), y, room.right(), y, rule);
        // The stroke leans the same way in every language: Unicode does not mirror it either.
        let lean = if k.right_to_left { -1.0 } else { 1.0 };
        k.d.line(middle - lean * mm(1.3), y + mm(0.6), middle + lean * mm(1.9), room.y + mm(5.4), stroke);
    } else {
        let deep = k.deep;
        k.block(room.inset_each(0.0, mm(2.4), 0.0, mm(2.4)), Role::Heading, 17.0, deep, Align::Centre);
    }
}

pub fn plant_marker(k: &mut MotifBuilder) {
    let r = k.sized(34.0, 72.0);
    // A broad head to write on, and a stake with a point.
    let (c, half, shoulder, tip) = (r.centre().x, mm(6.5), r.y + mm(33.0), r.bottom() - mm(11.0));
    let q = mm(3.2);
    let outline = [
        (r.x, r.y, q),
        (r.right(), r.y, q),
        (r.right(), shoulder, q),
        (c + half, shoulder, q),
        (c + half, tip, mm(2.0)),
        (c, r.bottom(), mm(0.8)),
        (c - half, tip, mm(2.0)),
        (c - half, shoulder, q),
        (r.x, shoulder, q),
    ];
    let ground = k.ground;
    k.shape(soft_chain(&outline), ground);
    k.icon(icons::LEAF, Point::new(c, r.y + mm(45.0)), mm(8.4));
    let rule = k.rule();
    let first = if k.label.is_empty() { 0 } else { 1 };
    if first == 1 {
        k.heading(Rect::new(r.x + mm(4.0), r.y + mm(3.0), r.w - mm(8.0), mm(8.0)), Align::Centre);
    }
    for i in first..3 {
        let y = r.y + mm(10.5 + LINE * f64::from(i));
        k.d.line(r.x + mm(4.5), y, r.right() - mm(4.5), y, rule);
    }
}

pub fn quote_band(k: &mut MotifBuilder) {
    let r = k.card(98.0, 32.0);
    let bar = Rect::new(r.x, r.y, mm(3.4), r.h);
    let (base, stroke) = (k.base, k.outline());
    k.d.fill(Path::rounded_each(bar, [k.radius, 0.0, 0.0, k.radius]), base);
    k.d.line(bar.right(), r.y, bar.right(), r.bottom(), stroke);
    k.d.stroke(Path::rounded(r, k.radius), stroke);
    // The marks are drawn, not set: every font has its own idea of a quotation mark.
    for i in 0..2 {
        let at = Point::new(r.x + mm(11.0 + 6.4 * f64::from(i)), r.y + mm(10.2));
        let u = mm(1.0);
        let mark = Path(vec![
            Seg::Move(Point::new(at.x + 1.9 * u, at.y - 5.0 * u)),
            Seg::Cubic(
                Point::new(at.x - 1.4 * u, at.y - 3.8 * u),
                Point::new(at.x - 2.3 * u, at.y - 1.6 * u),
                Point::new(at.x - 2.3 * u, at.y + 0.4 * u),
            ),
            Seg::Cubic(
                Point::new(at.x - 2.3 * u, at.y + 3.2 * u),
                Point::new(at.x + 2.3 * u, at.y + 3.2 * u),
                Point::new(at.x + 2.3 * u, at.y + 0.4 * u),
            ),
            Seg::Cubic(
                Point::new(at.x + 2.3 * u, at.y - 1.4 * u),
                Point::new(at.x + 0.8 * u, at.y - 2.2 * u),
                Point::new(at.x - 0.3 * u, at.y - 2.0 * u),
            ),
            Seg::Cubic(
                Point::new(at.x - 0.1 * u, at.y - 3.2 * u),
                Point::new(at.x + 0.7 * u, at.y - 4.2 * u),
                Point::new(at.x + 1.9 * u, at.y - 5.0 * u),
            ),
            Seg::Close,
        ]);
        k.shape(mark, base);
    }
    let (x0, x1) = (r.x + mm(25.0), r.right() - mm(6.0));
    if k.label.is_empty() {
        let rule = k.rule();
        for i in 0..3 {
            let y = r.y + mm(10.0 + LINE * f64::from(i));
            k.d.line(x0, y, x1, y, rule);
        }
    } else {
        let deep = k.deep;
        k.block(Rect::new(x0, r.y + mm(3.0), x1 - x0, r.h - mm(6.0)), Role::HeadingItalic, 19.0, deep, Align::Left);
    }
}

pub fn speech_bubble(k: &mut MotifBuilder) {
    let r = k.sized(62.0, 36.0);
    let b = Rect::new(r.x, r.y, r.w, r.h - mm(7.5));
    let q = k.radius.max(mm(3.2));
    let mut path = Path::rounded(b, q);
    // The tail replaces a piece of the lower edge, so that one outline runs round both.
    let (x0, x1) = (b.x + mm(12.0), b.x + mm(21.0));
    let at = path
        .0
        .iter()
        .position(|s| matches!(s, Seg::Line(p) if (p.y - b.bottom()).abs() < 1e-6 && p.x < b.centre().x))
        .unwrap_or(path.0.len());
    let tip = Point::new(b.x + mm(9.0), r.bottom());
    path.0.splice(
        at..at,
        [
            Seg::Line(Point::new(x1, b.bottom())),
            Seg::Cubic(Point::new(x1 - mm(2.0), b.bottom() + mm(4.0)), Point::new(tip.x + mm(4.0), tip.y), tip),
            Seg::Cubic(
                Point::new(tip.x + mm(2.4), tip.y - mm(2.0)),
                Point::new(x0, b.bottom() + mm(3.0)),
                Point::new(x0, b.bottom()),
            ),
        ],
    );
    let ground = k.ground;
    k.shape(path, ground);
    if k.label.is_empty() {
        let rule = k.rule();
        for i in 0..3 {
            let y = b.y + mm(9.0 + LINE * f64::from(i));
            k.d.line(b.x + mm(6.0), y, b.right() - mm(6.0), y, rule);
        }
    } else {
        let deep = k.deep;
        k.block(b.inset(mm(4.0)), Role::Heading, 20.0, deep, Align::Centre);
    }
}

pub fn ticket(k: &mut MotifBuilder) {
    let r = k.sized(76.0, 32.0);
    let (n, stub) = (mm(3.2), r.right() - mm(19.0));
    // A card with a bite above and below the tear line.
    let k4 = n * 0.5523;
    let bite = |x: f64, y: f64, s: f64| {
        [
            Seg::Line(Point::new(x - s * n, y)),
            Seg::Cubic(Point::new(x - s * n, y + s * k4), Point::new(x - s * k4, y + s * n), Point::new(x, y + s * n)),
            Seg::Cubic(Point::new(x + s * k4, y + s * n), Point::new(x + s * n, y + s * k4), Point::new(x + s * n, y)),
        ]
    };
    let mut path = Path::rounded(r, k.radius);
    let foot = path
        .0
        .iter()
        .position(|s| matches!(s, Seg::Line(p) if (p.y - r.bottom()).abs() < 1e-6 && p.x < r.centre().x))
        .unwrap_or(path.0.len());
    path.0.splice(foot..foot, bite(stub, r.bottom(), -1.0));
    path.0.splice(1..1, bite(stub, r.y, 1.0));
    let (ground, stroke) = (k.ground, k.outline());
    k.shape(path, ground);
    k.d.line(stub, r.y + n + mm(1.6), stub, r.bottom() - n - mm(1.0), stroke.dashed(0.1, 5.0));
    let star = super::marks::star_path(Point::new((stub + r.right()) / 2.0, r.centre().y), mm(6.0));
    let base = k.base;
    k.shape(star, base);
    let (x0, x1, rule) = (r.x + mm(5.0), stub - mm(5.0), k.rule());
    let first = if k.label.is_empty() { 0 } else { 1 };
    if first == 1 {
        k.heading(Rect::new(x0, r.y + mm(3.0), x1 - x0, mm(9.0)), Align::Left);
    }
    for i in first..3 {
        let y = r.y + mm(11.0 + LINE * f64::from(i));
        k.d.line(x0, y, x1, y, rule);
    }
}
