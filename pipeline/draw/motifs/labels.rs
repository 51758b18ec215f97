//! Labels: ribbons, flags, tapes, tags, bubbles.

use super::boxes::centred_words;
use super::icons;
use super::kit::{Kit, LINE, chain, mm};
use crate::draw::colour;
use crate::draw::text::Align;
use crate::model::drawing::{Path, Role, Seg, Shape};
use crate::model::{Point, Rect, Stroke};

pub fn banner(k: &mut Kit) {
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
    centred_words(k, face.inset_each(mm(4.0), 0.0, mm(4.0), 0.0), 21.0, on);
}

pub fn label(k: &mut Kit) {
    let r = k.card(60.0, 22.0);
    let inner = r.inset(mm(2.0));
    let seam = Stroke::new(0.9, k.base).round();
    k.d.stroke(Path::rounded(inner, (k.radius - mm(1.2)).max(mm(0.8))), seam);
    let room = inner.inset_each(mm(5.0), 0.0, mm(5.0), 0.0);
    if k.label.is_empty() {
        k.heading(Rect::new(room.x, room.y + mm(1.2), room.w, room.h), Align::Centre);
    } else {
        let deep = k.deep;
        centred_words(k, room, 20.0, deep);
    }
}

pub fn page_flag(k: &mut Kit) {
    let r = k.sized(34.0, 13.0);
    let base = k.base;
    flag(k, r, base);
}

/// A flag with a notched right end; its left end is what sticks to the page.
fn flag(k: &mut Kit, r: Rect, fill: crate::model::Rgb) {
    let notch = r.h * 0.38;
    let outline =
        [(r.x, r.y), (r.right(), r.y), (r.right() - notch, r.centre().y), (r.right(), r.bottom()), (r.x, r.bottom())];
    k.shape(chain(&outline, true), fill);
    let end = Rect::new(r.x, r.y, mm(5.0), r.h);
    let (pale, stroke) = (colour::mix(k.paper, fill, 0.45), k.outline());
    k.d.fill_stroke(Path::rect(end), pale, stroke);
    if !k.label.is_empty() {
        let ink = colour::label_on(fill, k.deep, k.paper);
        centred_words(k, Rect::new(end.right() + mm(1.0), r.y, r.w - mm(7.0) - notch, r.h), 15.0, ink);
    }
}

pub fn page_flags(k: &mut Kit) {
    let r = k.sized(34.0, 47.0);
    let fills = [k.base, colour::mix(k.paper, k.base, 0.62), k.soft];
    for (row, fill) in r.rows(3, mm(4.0)).into_iter().zip(fills) {
        flag(k, row, fill);
    }
}

pub fn date_tag(k: &mut Kit) {
    let r = k.sized(46.0, 24.0);
    // A luggage-label shape: two corners cut at the end with the eye.
    let (x, cut) = (r.x + mm(5.0), mm(7.0));
    let outline = [
        (x + cut, r.y + mm(2.0)),
        (r.right(), r.y + mm(2.0)),
        (r.right(), r.bottom() - mm(2.0)),
        (x + cut, r.bottom() - mm(2.0)),
        (x, r.bottom() - mm(2.0) - cut),
        (x, r.y + mm(2.0) + cut),
    ];
    let (ground, soft, stroke) = (k.ground, k.soft, k.outline());
    k.shape(chain(&outline, true), ground);
    let eye = Point::new(x + mm(5.6), r.centre().y);
    k.shape(Path::circle(eye, mm(2.3)), soft);
    let string = Path(vec![
        Seg::Move(eye),
        Seg::Cubic(
            Point::new(eye.x - mm(3.0), eye.y - mm(7.0)),
            Point::new(r.x - mm(0.6), eye.y - mm(9.0)),
            Point::new(r.x, eye.y - mm(11.0) - 0.1),
        ),
        Seg::Move(eye),
        Seg::Cubic(
            Point::new(eye.x - mm(3.5), eye.y - mm(2.0)),
            Point::new(r.x + mm(1.4), eye.y + mm(3.0)),
            Point::new(r.x + mm(0.6), r.bottom()),
        ),
    ]);
    k.d.stroke(string, stroke);
    let room = Rect::new(eye.x + mm(5.0), r.y + mm(2.0), r.right() - eye.x - mm(9.0), r.h - mm(4.0));
    if k.label.is_empty() {
        // Day, month: two lines with a slanting stroke between them.
        let rule = k.rule();
        let y = room.bottom() - mm(5.4);
        let middle = room.centre().x;
        k.d.line(room.x, y, middle - mm(2.4), y, rule);
        k.d.line(middle + mm(2.4), y, room.right(), y, rule);
        k.d.line(middle - mm(1.3), y + mm(0.6), middle + mm(1.9), room.y + mm(5.4), stroke);
    } else {
        let deep = k.deep;
        centred_words(k, room, 17.0, deep);
    }
}

pub fn plant_marker(k: &mut Kit) {
    let r = k.sized(34.0, 72.0);
    // A broad head to write on and a stake that narrows to a point.
    let (top, shoulder, stake) = (mm(30.0), mm(33.5), mm(8.0));
    let c = r.centre().x;
    let head = Path(vec![
        Seg::Move(Point::new(r.x, r.y + mm(5.0))),
        Seg::Cubic(Point::new(r.x, r.y), Point::new(r.x + mm(1.0), r.y), Point::new(r.x + mm(6.0), r.y)),
        Seg::Line(Point::new(r.right() - mm(6.0), r.y)),
        Seg::Cubic(
            Point::new(r.right() - mm(1.0), r.y),
            Point::new(r.right(), r.y),
            Point::new(r.right(), r.y + mm(5.0)),
        ),
        Seg::Line(Point::new(r.right(), r.y + top - mm(2.0))),
        Seg::Cubic(
            Point::new(r.right(), r.y + shoulder),
            Point::new(c + stake, r.y + shoulder - mm(2.0)),
            Point::new(c + stake / 2.0, r.y + shoulder + mm(4.0)),
        ),
        Seg::Line(Point::new(c, r.bottom())),
        Seg::Line(Point::new(c - stake / 2.0, r.y + shoulder + mm(4.0))),
        Seg::Cubic(
            Point::new(c - stake, r.y + shoulder - mm(2.0)),
            Point::new(r.x, r.y + shoulder),
            Point::new(r.x, r.y + top - mm(2.0)),
        ),
        Seg::Close,
    ]);
    let ground = k.ground;
    k.shape(head, ground);
    k.icon(icons::LEAF, Point::new(c, r.y + mm(51.0) - mm(6.0)), mm(6.4));
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

pub fn quote_band(k: &mut Kit) {
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
        saying(k, Rect::new(x0, r.y + mm(3.0), x1 - x0, r.h - mm(6.0)));
    }
}

/// The label as up to three lines of italics, set as large as they fit.
fn saying(k: &mut Kit, room: Rect) {
    let mut set = crate::draw::text::Setting::new(Role::HeadingItalic, 17.0, k.deep);
    let mut lines = set.wrap(k.fonts, &k.label, room.w);
    while set.size > 9.0 && (lines.len() > 3 || lines.iter().any(|l| set.width(k.fonts, l) > room.w)) {
        set = set.sized(set.size - 0.5);
        lines = set.wrap(k.fonts, &k.label, room.w);
    }
    let pitch = (set.size * 1.3).min(room.h / lines.len().max(1) as f64);
    let top = room.centre().y - pitch * (lines.len() as f64 - 1.0) / 2.0;
    for (i, line) in lines.iter().enumerate() {
        let at = Rect::new(room.x, top + pitch * (i as f64 - 0.5), room.w, pitch);
        let fitted = set.clipped(k.fonts, line, room.w);
        set.draw_in(&mut k.d, k.fonts, &fitted, at, Align::Left);
    }
}

pub fn speech_bubble(k: &mut Kit) {
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
        centred_words(k, b.inset(mm(4.0)), 20.0, deep);
    }
}

pub fn ticket(k: &mut Kit) {
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

/// A strip of tape with torn ends, in the tint.
pub fn torn_tape(k: &mut Kit, r: Rect) {
    let fill = colour::mix(k.paper, k.base, 0.55);
    let path = torn(r);
    k.shape(path, fill);
}

/// A strip whose two ends are torn into small teeth.
fn torn(r: Rect) -> Path {
    let (teeth, depth) = (4, mm(1.1));
    let mut points = vec![(r.x, r.y), (r.right(), r.y)];
    let step = r.h / f64::from(teeth * 2);
    for i in 1..teeth * 2 {
        let x = if i % 2 == 1 { r.right() - depth } else { r.right() };
        points.push((x, r.y + step * f64::from(i)));
    }
    points.extend([(r.right(), r.bottom()), (r.x, r.bottom())]);
    for i in 1..teeth * 2 {
        let x = if i % 2 == 1 { r.x + depth } else { r.x };
        points.push((x, r.bottom() - step * f64::from(i)));
    }
    chain(&points, true)
}

pub fn tape_stripes(k: &mut Kit) {
    let r = k.sized(70.0, 13.0);
    let (base, stroke, pale) = (k.base, k.outline(), colour::mix(k.paper, k.base, 0.55));
    k.d.fill(torn(r), pale);
    // Slanting stripes that keep clear of the torn ends.
    let (lean, wide, step) = (r.h * 0.5, mm(2.6), mm(5.2));
    let from = r.x + mm(2.6);
    let mut x = from;
    while x + lean + wide <= r.right() - mm(2.0) {
        k.d.fill(
            chain(&[(x + lean, r.y), (x + lean + wide, r.y), (x + wide, r.bottom()), (x, r.bottom())], true),
            base,
        );
        x += step;
    }
    k.d.stroke(torn(r), stroke);
}

pub fn tape_dots(k: &mut Kit) {
    let r = k.sized(70.0, 13.0);
    let (fill, stroke) = (colour::mix(k.paper, k.base, 0.55), k.outline());
    k.d.fill(torn(r), fill);
    let mut at = Vec::new();
    for row in 0..3 {
        let n = if row % 2 == 0 { 12 } else { 11 };
        for i in 0..n {
            at.push(Point::new(
                r.centre().x + mm(5.5) * (f64::from(i) - f64::from(n - 1) / 2.0),
                r.y + r.h * (0.2 + 0.3 * f64::from(row)),
            ));
        }
    }
    k.d.push(Shape::Dots { at, diameter: mm(1.9), colour: k.base });
    k.d.stroke(torn(r), stroke);
}

pub fn divider_leaf(k: &mut Kit) {
    let r = k.sized(96.0, 11.0);
    let (c, stroke, base) = (r.centre(), k.outline(), k.base);
    for side in [-1.0, 1.0] {
        let end = if side < 0.0 { r.x } else { r.right() };
        k.d.line(c.x + side * mm(11.0), c.y, end - side * mm(4.4), c.y, stroke);
        k.shape(Path::circle(Point::new(end - side * mm(1.5), c.y), mm(1.5)), base);
        let leaf = |lift: f64, reach: f64| {
            let root = Point::new(c.x + side * mm(1.2), c.y);
            let tip = Point::new(c.x + side * reach, c.y - lift);
            Path(vec![
                Seg::Move(root),
                Seg::Cubic(
                    Point::new(root.x + side * mm(1.0), root.y - lift - mm(2.6)),
                    Point::new(tip.x - side * mm(2.0), tip.y - mm(2.4)),
                    tip,
                ),
                Seg::Cubic(
                    Point::new(tip.x - side * mm(1.4), tip.y + mm(2.6)),
                    Point::new(root.x + side * mm(2.6), root.y + mm(1.4)),
                    root,
                ),
                Seg::Close,
            ])
        };
        k.shape(leaf(mm(1.6), mm(9.4)), base);
    }
    let soft = k.soft;
    k.shape(Path::circle(Point::new(c.x, r.centre().y), mm(1.9)), soft);
    k.d.line(c.x, c.y + mm(1.9), c.x, r.bottom(), stroke);
    k.d.line(c.x, r.y, c.x, c.y - mm(1.9), stroke);
}

pub fn corner(k: &mut Kit) {
    let r = k.sized(34.0, 34.0);
    // A ribbon that runs down and to the right from a rounded corner, with a leaf spray inside.
    let (w, q) = (mm(6.0), mm(8.0));
    let band = Path(vec![
        Seg::Move(Point::new(r.x, r.bottom())),
        Seg::Line(Point::new(r.x, r.y + q)),
        Seg::Cubic(Point::new(r.x, r.y + q * 0.45), Point::new(r.x + q * 0.45, r.y), Point::new(r.x + q, r.y)),
        Seg::Line(Point::new(r.right(), r.y)),
        Seg::Line(Point::new(r.right() - w / 2.0, r.y + w / 2.0)),
        Seg::Line(Point::new(r.right(), r.y + w)),
        Seg::Line(Point::new(r.x + q, r.y + w)),
        Seg::Cubic(
            Point::new(r.x + w + 0.9, r.y + w),
            Point::new(r.x + w, r.y + w + 0.9),
            Point::new(r.x + w, r.y + q),
        ),
        Seg::Line(Point::new(r.x + w, r.bottom())),
        Seg::Line(Point::new(r.x + w / 2.0, r.bottom() - w / 2.0)),
        Seg::Close,
    ]);
    let base = k.base;
    k.shape(band, base);
    let seam = Stroke::new(0.9, colour::mix(base, k.on_base, 0.45)).round().dashed(3.2, 2.6);
    let (m, far) = (w / 2.0, mm(6.0));
    k.d.stroke(
        Path(vec![
            Seg::Move(Point::new(r.x + m, r.bottom() - far)),
            Seg::Line(Point::new(r.x + m, r.y + q)),
            Seg::Cubic(
                Point::new(r.x + m, r.y + m + 2.0),
                Point::new(r.x + m + 2.0, r.y + m),
                Point::new(r.x + q, r.y + m),
            ),
            Seg::Line(Point::new(r.right() - far, r.y + m)),
        ]),
        seam,
    );
}
