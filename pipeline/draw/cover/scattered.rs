//! Motifs that stand alone: in staggered rows or scattered by lot, none over the edge or on what is kept clear; and stems that
//! grow from the foot of the board.

use super::room::{Room, Tones, steps};
use crate::lots::lot;
use base::model::drawing::{Path, Seg, Shape, Stroke};
use base::model::units::between;
use base::model::{Drawing, Point, Rgb};
use std::f64::consts::TAU;

/// The middles of staggered rows, with row and column; odd rows have one less, so that both sides are alike.
fn staggered(room: Room, step: f64, rise: f64) -> Vec<(Point, usize, usize)> {
    let r = room.field;
    let (columns, rows) = (steps(r.w, step), steps(r.h, step * rise));
    let (across, down) = (r.w / columns as f64, r.h / rows as f64);
    let mut out = Vec::new();
    for row in 0..rows {
        let odd = row % 2;
        for column in 0..columns - odd.min(columns - 1) {
            let x = r.x + (column as f64 + 0.5 + 0.5 * odd as f64) * across;
            out.push((Point::new(x, r.y + (row as f64 + 0.5) * down), row, column));
        }
    }
    out
}

/// A point so far from another in a direction, in turns clockwise from the top.
fn from(at: Point, turns: f64, far: f64) -> Point {
    let (sin, cos) = libm::sincos(turns * TAU);
    Point::new(at.x + far * sin, at.y - far * cos)
}

/// Flowers of five petals round an open middle, each turned a little otherwise.
pub fn blossoms(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    let reach = step * 0.3;
    for (at, row, column) in staggered(room, step, 0.8) {
        if room.holds(at, reach) {
            blossom(d, at, reach, lot(row, column, 51), tones.motif, tones.ground);
        }
    }
}

fn blossom(d: &mut Drawing, at: Point, reach: f64, turned: f64, petals: Rgb, middle: Rgb) {
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

/// Stars of five points, large and small by turns.
pub fn stars(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    for (at, row, column) in staggered(room, step, 0.75) {
        let reach = step * if (row + column) % 2 == 0 { 0.24 } else { 0.12 };
        let turned = (lot(row, column, 52) - 0.5) * 0.1;
        if room.holds(at, reach) {
            let points: Vec<Point> = (0..10)
                .map(|n| from(at, turned + n as f64 / 10.0, if n % 2 == 0 { reach } else { reach * 0.44 }))
                .collect();
            d.fill(Path::polyline(&points, true), tones.motif);
        }
    }
}

/// Short slanting strokes, as of rain.
pub fn rain(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    let mut segs = Vec::new();
    let width = step * 0.1;
    for (at, row, column) in staggered(room, step, 1.1) {
        let half = step * (0.2 + 0.14 * lot(row, column, 53));
        if room.holds(at, half + width) {
            segs.extend([Seg::Move(from(at, 0.06, half)), Seg::Line(from(at, 0.56, half))]);
        }
    }
    d.stroke(Path(segs), Stroke::new(width, tones.motif).round());
}

/// Chips of stone in three tones, as if cast into the board.
pub fn terrazzo(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    let r = room.field;
    let (columns, rows) = (steps(r.w, step), steps(r.h, step));
    let (across, down) = (r.w / columns as f64, r.h / rows as f64);
    for (row, column) in (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column))) {
        let of = |what| lot(row * 4096 + column, what, 54);
        let reach = step * (0.14 + 0.3 * of(0) * of(1));
        let shift = |lot: f64| (lot - 0.5) * 0.5;
        let x = r.x + (column as f64 + 0.5 + shift(of(2))) * across;
        let y = r.y + (row as f64 + 0.5 + shift(of(3))) * down;
        let at = Point::new(x, y);
        if !room.holds(at, reach) {
            continue;
        }
        let corners = 4 + (of(4) * 3.0) as usize;
        let points: Vec<Point> = (0..corners)
            .map(|n| {
                let turns = (n as f64 + 0.55 * of(10 + n)) / corners as f64 + of(5);
                from(at, turns, reach * (0.62 + 0.38 * of(20 + n)))
            })
            .collect();
        let tone = [tones.soft, tones.motif, tones.deep][(of(6) * 3.0) as usize % 3];
        d.fill(Path::polyline(&points, true), tone);
    }
}

/// Stems of a meadow that grow from the foot of the field, each with leaves, and a blossom, a bud or an ear on top. Where
/// something is kept clear they stay below it.
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
        let foot = Point::new(foot.x, foot.y - width);
        d.stroke(Path(vec![Seg::Move(foot), Seg::Cubic(bend, bend, top)]), Stroke::new(width, tones.motif));
        let on = |t: f64| {
            let (a, b, c) = ((1.0 - t).powi(3), 3.0 * t * (1.0 - t), t.powi(3));
            Point::new(a * foot.x + b * bend.x + c * top.x, a * foot.y + b * bend.y + c * top.y)
        };
        let pairs = 1 + (height / step * 1.4) as usize;
        for (pair, side) in (0..pairs).flat_map(|pair| [(pair, 1.0), (pair, -1.0)]) {
            let t = 0.22 + 0.56 * pair as f64 / pairs as f64 + 0.04 * side;
            leaf(d, room, on(t), side * (0.1 + 0.05 * of(30 + pair)), step * (0.3 - 0.12 * t), tones.motif);
        }
        if !room.holds(top, reach) {
            continue;
        }
        match n % 3 {
            0 => blossom(d, top, reach, of(3), tones.deep, tones.ground),
            1 => {
                for k in 0..7 {
                    let at = from(top, (k as f64 - 3.0) * 0.055, reach * 0.85);
                    d.stroke(Path::line(top, at), Stroke::new(width * 0.7, tones.motif));
                    d.push(Shape::Dots { at: vec![at], diameter: reach * 0.24, colour: tones.deep });
                }
            }
            _ => {
                for k in 0..5 {
                    let at = Point::new(top.x, top.y + (f64::from(k) - 1.5) * reach * 0.45);
                    for side in [0.11, -0.11] {
                        leaf(d, room, at, side, reach * 0.62, tones.deep);
                    }
                }
            }
        }
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
