//! Motifs that stand alone: in staggered rows or scattered by lot, none over the edge or on what is kept clear.

use super::florals::{blossom, from};
use super::room::{Room, Tones, steps};
use crate::lots::lot;
use base::model::drawing::{Path, Seg, Stroke};
use base::model::{Drawing, Point};

/// The middles of staggered rows, with row and column; odd rows have one less, so that both sides are alike. A motif reaches so far
/// round its middle.
pub fn staggered(room: Room, step: f64, rise: f64, reach: f64) -> Vec<(Point, usize, usize)> {
    let r = room.field;
    let (columns, rows) = (steps(r.w, step), room.rows(step * rise, reach));
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

/// Flowers of five petals round an open middle, each turned a little otherwise.
pub fn blossoms(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    let reach = step * 0.3;
    for (at, row, column) in staggered(room, step, 0.8, reach) {
        if room.holds(at, reach) {
            blossom(d, at, reach, lot(row, column, 51), tones.motif, tones.ground);
        }
    }
}

/// Stars of five points, large and small by turns.
pub fn stars(d: &mut Drawing, room: Room, step: f64, tones: &Tones) {
    for (at, row, column) in staggered(room, step, 0.75, step * 0.24) {
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
    for (at, row, column) in staggered(room, step, 1.1, step * 0.3) {
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
