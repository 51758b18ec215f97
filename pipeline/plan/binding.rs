//! What holds the papers: rings, wires, a spiral or discs in punched holes, or stitches in the fold. Taps lie where the rings
//! would be, whatever is seen.

use super::frame::Frame;
use base::colour;
use base::model::drawing::{Path, Stroke};
use base::model::look::Binding;
use base::model::product::{Product, Style};
use base::model::{Drawing, Point, Rect, Rgb};
use draw::metal::Tones;
use wording::Tongue;
use wording::binding::Named;

/// What the product's language calls it.
pub fn named(product: &Product) -> Named {
    Tongue::of(product).documents().binding.of(product.style.manner.binding, product.page.coil)
}

/// One ring's room: where it is, how long and wide, and whether it goes across the page.
struct Room {
    centre: Point,
    long: f64,
    width: f64,
    across: bool,
}

impl Room {
    /// A point `t` along the wire and `s` to its side, from the middle.
    fn at(&self, t: f64, s: f64) -> Point {
        let c = self.centre;
        if self.across { Point::new(c.x + t, c.y + s) } else { Point::new(c.x + s, c.y + t) }
    }

    /// The sides on which there is paper with a hole: both across a gutter, the lower one at the top of a paper.
    fn ends(&self) -> &'static [f64] {
        if self.across { &[-1.0, 1.0] } else { &[1.0] }
    }

    /// A wire from hole to hole, or from beyond the paper to its hole.
    fn wire(&self, from_side: f64, to_side: f64, into: f64) -> Path {
        let from = if self.across { -into } else { -(self.long / 2.0 - self.width * 0.25) };
        Path::line(self.at(from, from_side), self.at(into, to_side))
    }
}

/// Draws the binding of a frame's papers.
pub fn draw(d: &mut Drawing, frame: &Frame, style: &Style) {
    let dark = colour::darker(style.ink, style.paper);
    let tones = Tones::of(style.manner.metal);
    let binding = style.manner.binding;
    for ring in &frame.rings {
        let room = Room {
            centre: ring.centre(),
            long: ring.w.max(ring.h),
            width: ring.w.min(ring.h),
            across: ring.w > ring.h,
        };
        match binding {
            Binding::Rings => rings(d, frame, style, &room, tones),
            Binding::Wire => wires(d, style, &room, tones, dark),
            Binding::Spiral => spiral(d, frame, style, &room, tones),
            Binding::Discs => disc(d, style, &room, tones, dark),
            Binding::Thread => stitch(d, &room, tones),
            Binding::None => {}
        }
    }
}

fn rings(d: &mut Drawing, frame: &Frame, style: &Style, room: &Room, tones: Tones) {
    let dark = colour::darker(style.ink, style.paper);
    let (width, hole) = (room.width, room.width * 0.5);
    let end = room.long / 2.0 - hole;
    for side in room.ends() {
        punched(d, room.at(side * end, 0.0), hole, style, dark);
        shade(d, frame, style, room, *side, end);
    }
    // The wire goes down into the hole at its inner side.
    let into = end - hole * 0.25;
    metal(d, room, [0.0, 0.0], into, width * 0.46, tones);
}

/// A wire of this thickness, from one side offset to the other: outline, shadow side, body and light.
fn metal(d: &mut Drawing, room: &Room, [from, to]: [f64; 2], into: f64, thick: f64, tones: Tones) {
    let layers =
        [(0.0, 1.0, tones.outline), (0.0, 0.8, tones.deep), (-0.065, 0.54, tones.body), (-0.15, 0.18, tones.shine)];
    for (shift, share, tone) in layers {
        let off = shift * thick;
        d.stroke(room.wire(from + off, to + off, into), Stroke::new(thick * share, tone).round());
    }
}

/// What a wire throws on the paper, as far as there is paper.
fn shade(d: &mut Drawing, frame: &Frame, style: &Style, room: &Room, side: f64, end: f64) {
    let dark = colour::darker(style.ink, style.paper);
    let stroke = Stroke::new(room.width * 0.3, colour::mix(style.paper, dark, 0.13)).round();
    let on_paper = |p: Point| frame.papers.iter().any(|paper| paper.contains(Rect::new(p.x, p.y, 0.0, 0.0), 0.0));
    let (from, to) = (room.at(side * end * 0.9, room.width * 0.36), room.at(side * end * 0.42, room.width * 0.42));
    if on_paper(from) && on_paper(to) {
        d.stroke(Path::line(from, to), stroke);
    }
}

/// Two thin wires side by side, each in a hole of its own.
fn wires(d: &mut Drawing, style: &Style, room: &Room, tones: Tones, dark: Rgb) {
    let (hole, off) = (room.width * 0.26, room.width * 0.42);
    let end = room.long / 2.0 - hole;
    for s in [-off, off] {
        for side in room.ends() {
            punched(d, room.at(side * end, s), hole, style, dark);
        }
        metal(d, room, [s, s], end - hole * 0.2, room.width * 0.22, tones);
    }
}

/// A turn of one long wire: it leaves its hole and comes down a little further along.
fn spiral(d: &mut Drawing, frame: &Frame, style: &Style, room: &Room, tones: Tones) {
    let dark = colour::darker(style.ink, style.paper);
    let (hole, lean) = (room.width * 0.4, room.width * 0.62);
    let end = room.long / 2.0 - hole;
    for side in room.ends() {
        punched(d, room.at(side * end, -side * lean), hole, style, dark);
        shade(d, frame, style, room, *side, end);
    }
    metal(d, room, [lean, -lean], end - hole * 0.2, room.width * 0.32, tones);
}

/// A disc with a rim, that papers are pressed on.
fn disc(d: &mut Drawing, style: &Style, room: &Room, tones: Tones, dark: Rgb) {
    let radius = room.long * 0.36;
    let c = room.centre;
    let circle = |dx: f64, dy: f64, r: f64| Path::circle(Point::new(c.x + dx, c.y + dy), r);
    d.fill(circle(radius * 0.06, radius * 0.12, radius * 1.04), colour::mix(style.paper, dark, 0.2));
    d.fill(circle(0.0, 0.0, radius), tones.outline);
    d.fill(circle(0.0, 0.0, radius * 0.94), tones.body);
    d.stroke(circle(0.0, 0.0, radius * 0.7), Stroke::new(radius * 0.07, tones.deep));
    d.stroke(circle(-radius * 0.03, -radius * 0.05, radius * 0.7), Stroke::new(radius * 0.05, tones.shine));
    d.fill(circle(0.0, 0.0, radius * 0.28), colour::mix(tones.body, tones.deep, 0.3));
}

/// A stitch along the fold, or along the top of a pad.
fn stitch(d: &mut Drawing, room: &Room, tones: Tones) {
    let half = room.long * 0.4;
    let c = room.centre;
    let ends = match room.across {
        true => [Point::new(c.x, c.y - half), Point::new(c.x, c.y + half)],
        false => [Point::new(c.x - half, c.y + room.long * 0.18), Point::new(c.x + half, c.y + room.long * 0.18)],
    };
    let thick = (room.width * 0.3).max(0.8);
    let off = |by: f64| ends.map(|p| if room.across { Point::new(p.x + by, p.y) } else { Point::new(p.x, p.y + by) });
    let line = |[a, b]: [Point; 2], width: f64, tone: Rgb| (Path::line(a, b), Stroke::new(width, tone).round());
    for (path, stroke) in [
        line(off(thick * 0.25), thick * 1.15, tones.outline),
        line(off(0.0), thick, tones.body),
        line(off(-thick * 0.18), thick * 0.35, tones.shine),
    ] {
        d.stroke(path, stroke);
    }
    for p in ends {
        d.fill(Path::circle(p, thick * 0.62), tones.outline);
    }
}

/// The fold of two papers that no coil parts: the paper goes on over the gutter and dips into the shade. It lies on the ground, below
/// whatever fills the papers.
pub fn fold(d: &mut Drawing, frame: &Frame, style: &Style) {
    let [left, right] = frame.papers.as_slice() else { return };
    if !matches!(style.manner.binding, Binding::Thread | Binding::None) || frame.rings.is_empty() {
        return;
    }
    let dark = colour::darker(style.ink, style.paper);
    let middle = (left.right() + right.x) / 2.0;
    let reach = frame.corner + (right.x - left.right()) / 2.0;
    let wide = reach * 2.6;
    let steps = 7;
    // From the outside in, each strip a little darker; the innermost is the fold itself.
    for i in 0..steps {
        let share = 1.0 - f64::from(i) / f64::from(steps);
        let half = if i == 0 { reach.max(wide * share) } else { wide * share };
        let t = 0.012 + 0.016 * f64::from(i) + if i + 1 == steps { 0.05 } else { 0.0 };
        let strip = Rect::new(middle - half, left.y, half * 2.0, left.h);
        d.fill(Path::rect(strip), colour::mix(style.paper, dark, if i == 0 { 0.0 } else { t }));
    }
    d.line(middle, left.y, middle, left.bottom(), Stroke::new(0.5, colour::mix(style.paper, dark, 0.32)));
}

/// A punched hole: the dark below it, and at its right and lower rim the light that falls on the paper's cut edge.
fn punched(d: &mut Drawing, at: Point, radius: f64, style: &Style, dark: Rgb) {
    let light = colour::lighter(style.ink, style.paper);
    let off = radius * 0.16;
    d.fill(Path::circle(Point::new(at.x + off, at.y + off), radius), colour::mix(style.paper, light, 0.3));
    d.fill(Path::circle(at, radius), colour::mix(style.desk, dark, 0.42));
}
