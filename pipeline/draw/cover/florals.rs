//! Plants: a meadow at the foot, sprays in two corners, a garland round the label. Stems bear leaves in pairs, and a blossom, a
//! bud or an ear on top; nothing of them lies over the edge or on what is kept clear.

use super::room::{Room, Tones, steps};
use crate::lots::lot;
use base::model::drawing::{Path, Seg, Shape, Stroke};
use base::model::units::between;
use base::model::{Drawing, Point, Rgb};
use std::f64::consts::TAU;

/// A point so far from another in a direction, in turns clockwise from the top.
pub fn from(at: Point, turns: f64, far: f64) -> Point {
    let (sin, cos) = libm::sincos(turns * TAU);
    Point::new(at.x + far * sin, at.y - far * cos)
}

/// A flower of five petals round an open middle.
pub fn blossom(d: &mut Drawing, at: Point, reach: f64, turned: f64, petals: Rgb, middle: Rgb) {
    for n in 0..5 {
        let to = turned / 5.0 + f64::from(n) / 5.0;
        let p = |turns: f64, far: f64| from(at, to + turns, far * reach);
        let path = Path(vec![
            Seg::Move(at),
            Seg::Cubic(p(-0.075, 0.35), p(-0.105, 0.85), p(-0.04, 0.97)),
            Seg::Cubic(p(-0.02, 1.0), p(0.02, 1.0), p(0.04, 0.97)),
            Seg::Cubic(p(0.105, 0.85), p(0.075, 0.35), at),
            Seg::Close,
        ]);
        d.fill(path, petals);
    }
    d.push(Shape::Dots { at: vec![at], diameter: reach * 0.36, colour: middle });
}

/// A stem: a curve with its control point twice, and which way its top points, in turns from the top of the page.
struct Stem {
    foot: Point,
    bend: Point,
    top: Point,
    way: f64,
    width: f64,
}

impl Stem {
    /// A point on it, from 0 at its foot to 1 at its top.
    fn on(&self, t: f64) -> Point {
        let (a, b, c) = ((1.0 - t).powi(3), 3.0 * t * (1.0 - t), t.powi(3));
        let Stem { foot, bend, top, .. } = self;
        Point::new(a * foot.x + b * bend.x + c * top.x, a * foot.y + b * bend.y + c * top.y)
    }

    /// Draws it with so many pairs of leaves; `of` are lots of its own.
    fn draw(&self, d: &mut Drawing, room: Room, step: f64, pairs: usize, tones: &Tones, of: impl Fn(usize) -> f64) {
        let Stem { foot, bend, top, way, width } = *self;
        d.stroke(Path(vec![Seg::Move(foot), Seg::Cubic(bend, bend, top)]), Stroke::new(width, tones.motif));
        for (pair, side) in (0..pairs).flat_map(|pair| [(pair, 1.0), (pair, -1.0)]) {
            let t = 0.22 + 0.56 * pair as f64 / pairs as f64 + 0.04 * side;
            leaf(d, room, self.on(t), way + side * (0.1 + 0.05 * of(30 + pair)), step * (0.3 - 0.12 * t), tones.motif);
        }
    }

    /// Draws what it bears: a blossom, a bud or an ear, which reaches so far round its top, if there is room for it.
    fn head(&self, d: &mut Drawing, room: Room, reach: f64, kind: usize, tones: &Tones, turned: f64) {
        let Stem { top, way, width, .. } = *self;
        if !room.holds(top, reach) {
            return;
        }
        match kind % 3 {
            0 => blossom(d, top, reach, turned, tones.deep, tones.ground),
            1 => {
                for k in 0..7 {
                    let at = from(top, way + (k as f64 - 3.0) * 0.055, reach * 0.85);
                    d.stroke(Path::line(top, at), Stroke::new(width * 0.7, tones.motif));
                    d.push(Shape::Dots { at: vec![at], diameter: reach * 0.24, colour: tones.deep });
                }
            }
            _ => {
                for k in 0..5 {
                    let at = from(top, way, -((f64::from(k) - 1.5) * reach * 0.45));
                    for side in [0.11, -0.11] {
                        leaf(d, room, at, way + side, reach * 0.62, tones.deep);
                    }
                }
            }
        }
    }
}

/// Stems of a meadow that grow from the foot of the field. Where something is kept clear they stay below it.
pub fn meadow(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    let r = room.field;
    let stems = steps(r.w, step * 0.62);
    let apart = r.w / stems as f64;
    let most = r.h * 0.46;
    for n in 0..stems {
        let of = |what| lot(n, what, 55);
        let foot = Point::new(r.x + (n as f64 + 0.5) * apart, r.bottom());
        // The outer ones are taller, as in a wreath.
        let out = (foot.x - r.centre().x).abs() / (r.w / 2.0);
        let reach = step * (0.2 + 0.12 * of(0));
        let lean = between((of(1) - 0.5) * apart * 1.1, r.x + reach - foot.x, r.right() - reach - foot.x);
        let mut height = most * (0.34 + 0.42 * of(2) + 0.24 * out);
        let beside = |x: f64| room.clear.is_none_or(|clear| x + reach < clear.x || x - reach > clear.right());
        if let Some(clear) = room.clear
            && !(beside(foot.x) && beside(foot.x + lean))
        {
            height = height.min(r.bottom() - clear.bottom() - reach * 1.4);
        }
        if height < reach * 2.5 {
            continue;
        }
        let top = Point::new(foot.x + lean, foot.y - height);
        let bend = Point::new(foot.x, foot.y - height * 0.6);
        let width = step * 0.035;
        // A stem stands on the edge, and its stroke would reach beyond it.
        let stem = Stem { foot: Point::new(foot.x, foot.y - width), bend, top, way: 0.0, width };
        stem.draw(d, room, step, 1 + (height / step * 1.4) as usize, tones, of);
        stem.head(d, room, reach, n, tones, of(3));
    }
}

/// A spray in the upper outer corner and one in the lower inner one: stems that part from there in an arch.
pub fn sprays(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    const STEMS: usize = 6;
    let r = room.field;
    let width = step * 0.035;
    let corners = [(Point::new(r.right(), r.y), 0.625, 57), (Point::new(r.x, r.bottom()), 0.125, 58)];
    for (corner, inward, seed) in corners {
        for n in 0..STEMS {
            let of = |what| lot(n, what, seed);
            let aside = 2.0 * n as f64 / (STEMS - 1) as f64 - 1.0;
            let (way, reach) = (inward + aside * 0.07, step * (0.22 + 0.1 * of(0)));
            let mut length = r.w.min(r.h) * (0.5 + 0.24 * (n % 2) as f64 + 0.12 * of(1));
            let stem = loop {
                let foot = from(corner, way, width * 3.0);
                // Outer stems bend over towards their edge, as a bunch falls apart.
                let bend = from(foot, way, length * 0.55);
                let tip = way + aside * 0.11;
                let stem = Stem { foot, bend, top: from(bend, tip, length * 0.5), way: way + aside * 0.075, width };
                let fits =
                    room.holds(stem.top, reach) && (3..=10).all(|t| room.holds(stem.on(f64::from(t) / 10.0), width));
                if fits || length < step {
                    break stem;
                }
                length *= 0.93;
            };
            if length < step {
                continue;
            }
            stem.draw(d, room, step, 2 + (length / step * 1.5) as usize, tones, of);
            stem.head(d, room, reach, n, tones, of(3));
        }
    }
}

/// A garland round what is kept clear, open at the top: leaves to both sides of a vine, and a blossom now and then.
pub fn garland(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    let r = room.field;
    let (centre, w, h) = match room.clear {
        Some(clear) => (clear.centre(), clear.w, clear.h),
        None => (r.centre(), r.w * 0.5, r.w.min(r.h) * 0.5),
    };
    // Of the curves |x/a|⁴ + |y/b|⁴ = 1 the one with these half axes passes the corners of a rectangle w by h.
    const CORNERS: f64 = 1.1893;
    let within = |half: f64, room: f64| half.min(room - step * 0.36).max(0.0);
    let sides = (r.right() - centre.x).min(centre.x - r.x);
    let heights = (r.bottom() - centre.y).min(centre.y - r.y);
    let (a, b) = (within(w / 2.0 * CORNERS + step * 0.3, sides), within(h / 2.0 * CORNERS + step * 0.42, heights));
    let root = |v: f64| v.abs().sqrt().copysign(v);
    let at = |turns: f64| {
        let (sin, cos) = libm::sincos(turns * TAU);
        Point::new(centre.x + a * root(sin), centre.y - b * root(cos))
    };
    const OPEN: f64 = 0.005;
    const FINE: usize = 720;
    let points: Vec<Point> = (0..=FINE).map(|i| at(OPEN + (1.0 - 2.0 * OPEN) * i as f64 / FINE as f64)).collect();
    let width = step * 0.035;
    // On a board that leaves it no room beside the label, the vine is there above and below alone.
    let free = |p: &Point| room.holds(*p, width);
    let fine: Vec<Point> = points.iter().step_by(6).copied().collect();
    let mut vine = Vec::new();
    for run in fine.chunk_by(|a, b| free(a) == free(b)).filter(|run| run.len() > 1 && run.iter().all(free)) {
        vine.extend(run.iter().enumerate().map(|(i, p)| if i == 0 { Seg::Move(*p) } else { Seg::Line(*p) }));
    }
    d.stroke(Path(vine), Stroke::new(width, tones.motif).round());
    // Leaves stand so far apart along the vine.
    let apart = step * 0.19;
    let (mut walked, mut n) = (0.0, 0);
    for pair in points.windows(2) {
        let (dx, dy) = (pair[1].x - pair[0].x, pair[1].y - pair[0].y);
        walked += libm::hypot(dx, dy);
        if walked < apart * n as f64 {
            continue;
        }
        n += 1;
        if !free(&pair[0]) {
            continue;
        }
        let of = |what| lot(n, what, 59);
        let way = libm::atan2(dx, -dy) / TAU;
        if n % 9 == 5 {
            let reach = step * (0.2 + 0.06 * of(0));
            if room.holds(pair[0], reach) {
                blossom(d, pair[0], reach, of(1), tones.deep, tones.ground);
                continue;
            }
        }
        let side = if n % 2 == 0 { 1.0 } else { -1.0 };
        let colour = if of(2) < 0.3 { tones.deep } else { tones.motif };
        leaf(d, room, pair[0], way + side * (0.09 + 0.05 * of(3)), step * (0.28 + 0.1 * of(4)), colour);
    }
}

/// A leaf that begins here and points there, in turns from the top, if there is room for it.
fn leaf(d: &mut Drawing, room: Room, at: Point, turns: f64, length: f64, colour: Rgb) {
    if !room.holds(from(at, turns, length / 2.0), length * 0.56) {
        return;
    }
    let p = |aside: f64, along: f64| from(from(at, turns, along * length), turns + 0.25, aside * length);
    let path = Path(vec![
        Seg::Move(at),
        Seg::Cubic(p(0.26, 0.2), p(0.24, 0.66), p(0.0, 1.0)),
        Seg::Cubic(p(-0.24, 0.66), p(-0.26, 0.2), at),
        Seg::Close,
    ]);
    d.fill(path, colour);
}
