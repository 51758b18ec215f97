//! Places for many things at once, as functions of the template language: a grid, books half behind each other, a fan, stickers
//! on shelves.

use super::open_files::OpenFiles;
use base::model::units::between;
use base::model::{Rect, Size};
use draw::sheet_layout::{SizedGroup, layout};
use serde_json::{Value as Json, json};
use tera::{Kwargs, State, Tera, TeraResult, Value};

/// Gives the functions to a template engine.
/// Of a product that is read from right to left, rows begin on the right.
pub fn register(tera: &mut Tera, open_files: &OpenFiles, right_to_left: bool) {
    tera.register_function("grid", move |k: Kwargs, _: &State| grid(&k, right_to_left));
    tera.register_function("books", move |k: Kwargs, _: &State| books(&k, right_to_left));
    tera.register_function("fan", |k: Kwargs, _: &State| fan(&k));
    let sizes: Vec<Size> = open_files.stickers.iter().map(|s| s.size).collect();
    tera.register_function("shelves", move |k: Kwargs, _: &State| shelve(&k, &sizes, right_to_left));
}

fn value(json: &Json) -> Value {
    Value::from_serializable(json)
}

/// A place for one of several things.
struct Place {
    /// Which of them, from 0.
    i: usize,
    /// Its rectangle.
    at: Rect,
    /// The middle of what is seen of it, and the room of a caption there.
    middle: f64,
    room: f64,
}

impl Place {
    fn json(&self) -> Json {
        let Rect { x, y, w, h } = self.at;
        json!({ "i": self.i, "x": x, "y": y, "w": w, "h": h, "middle": self.middle, "room": self.room })
    }
}

/// What is to be arranged, and where.
struct Shelf {
    n: usize,
    within: Rect,
    ratio: f64,
    gap: f64,
    caption: f64,
    right_to_left: bool,
}

impl Shelf {
    fn of(k: &Kwargs, right_to_left: bool) -> TeraResult<Shelf> {
        let n = k.must_get::<i64>("n")?.clamp(0, 400) as usize;
        let within = Rect::new(k.must_get("x")?, k.must_get("y")?, k.must_get("w")?, k.must_get("h")?);
        let (ratio, gap) = (k.must_get::<f64>("ratio")?, k.get::<f64>("gap")?.unwrap_or(0.0));
        Ok(Shelf { n, within, ratio, gap, caption: k.get::<f64>("caption")?.unwrap_or(0.0), right_to_left })
    }

    /// In rows and columns, as large as they can be. A last row that is not full stands in the middle.
    fn grid(&self) -> Vec<Place> {
        let Shelf { n, within: Rect { x, y, w, h }, ratio, gap, caption, right_to_left } = *self;
        let room = |columns: usize| {
            let rows = n.div_ceil(columns);
            let cell = (w - gap * (columns - 1) as f64) / columns as f64;
            let high = (h - gap * (rows - 1) as f64) / rows as f64 - caption;
            (cell.min(high * ratio), rows)
        };
        // A full last row is worth a little of the size; of two that are alike the one with fewer columns is airier.
        let worth = |columns: usize| {
            let (wide, rows) = room(columns);
            wide * (0.85 + 0.15 * n as f64 / (rows * columns) as f64)
        };
        let columns = (1..=n.max(1)).rev().max_by(|a, b| worth(*a).total_cmp(&worth(*b))).unwrap_or(1);
        let (wide, rows) = room(columns);
        let (wide, high) = (wide.max(1.0).floor(), (wide / ratio).max(1.0).floor());
        // What is left over goes between the columns and rows, up to as much again as the gap, then to the sides.
        let across = between((w - wide * columns as f64) / (columns.max(2) - 1) as f64, gap, gap * 2.2);
        let down = between((h - (high + caption) * rows as f64) / (rows.max(2) - 1) as f64, gap, gap * 2.2);
        let top = y + ((h - rows as f64 * (high + caption) - (rows.max(1) - 1) as f64 * down) / 2.0).max(0.0);
        let place = |i: usize| {
            let (row, column) = (i / columns, i % columns);
            let here = if row + 1 == rows { n - row * columns } else { columns };
            let used = here as f64 * wide + (here - 1) as f64 * across;
            let column = if right_to_left { here - 1 - column } else { column };
            let left = x + (w - used) / 2.0 + column as f64 * (wide + across);
            let at = Rect::new(left.round(), (top + row as f64 * (high + caption + down)).round(), wide, high);
            Place { i, at, middle: at.x + wide / 2.0, room: wide + across * 0.86 }
        };
        (0..n).map(place).collect()
    }

    /// In so many rows, in each of them every one half behind the one before it at most; the hindmost of a row comes first, as it
    /// is drawn. With how much of the room they cover.
    fn overlapping(&self, rows: usize) -> (Vec<Place>, f64) {
        /// The least part of a thing that is seen beside the one before it.
        const SEEN: f64 = 0.5;
        let Shelf { n, within: Rect { x, y, w, h }, ratio, gap, caption, right_to_left } = *self;
        let columns = n.div_ceil(rows);
        let behind = columns.saturating_sub(1) as f64;
        let row_high = (h - gap * (rows - 1) as f64) / rows as f64;
        let wide = ((row_high - caption) * ratio).min(w / (1.0 + SEEN * behind)).max(1.0).floor();
        let high = (wide / ratio).max(1.0).floor();
        let step = ((w - wide) / behind.max(1.0)).min(wide + gap).floor();
        let spare = (row_high - high - caption).max(0.0) / 2.0;
        let place = |i: usize| {
            let (row, column) = (i / columns, i % columns);
            let here = if row + 1 == rows { n - row * columns } else { columns };
            let left = x + (w - wide - step * here.saturating_sub(1) as f64) / 2.0 + step * column as f64;
            let top = y + row as f64 * (row_high + gap) + spare;
            // The first is seen whole, of the others what looks out beyond the one before.
            let seen = if column == 0 { wide } else { step.min(wide) };
            let middle = left + wide - seen / 2.0;
            let mirrored = |v: f64, wide: f64| if right_to_left { 2.0 * x + w - v - wide } else { v };
            let at = Rect::new(mirrored(left, wide).round(), top.round(), wide, high);
            (Place { i, at, middle: mirrored(middle, 0.0), room: step.min(seen) * 0.95 }, seen * high)
        };
        let order = (0..rows).flat_map(|row| (row * columns..((row + 1) * columns).min(n)).rev());
        let (places, seen): (Vec<Place>, Vec<f64>) = order.map(place).unzip();
        (places, seen.iter().sum())
    }
}

/// `n` things of one `ratio` (width to height) in a room `x`, `y`, `w`, `h`, with `gap` between them and room for a
/// `caption` below each.
fn grid(k: &Kwargs, right_to_left: bool) -> TeraResult<Value> {
    let places = Shelf::of(k, right_to_left)?.grid();
    Ok(value(&json!(places.iter().map(Place::json).collect::<Vec<_>>())))
}

/// Books as in a grid, or half behind each other where they fill much more of the room that way. They come in the order in
/// which they are drawn.
fn books(k: &Kwargs, right_to_left: bool) -> TeraResult<Value> {
    let shelf = Shelf::of(k, right_to_left)?;
    let apart = shelf.grid();
    let area: f64 = apart.iter().map(|p| p.at.w * p.at.h).sum();
    let behind = (1..=shelf.n.clamp(1, 3)).map(|rows| shelf.overlapping(rows)).max_by(|a, b| a.1.total_cmp(&b.1));
    let taken = behind.filter(|(_, covered)| *covered > 1.2 * area).map_or(apart, |(places, _)| places);
    Ok(value(&json!(taken.iter().map(Place::json).collect::<Vec<_>>())))
}

/// `n` sheets `w` wide and of this `ratio`, spread over `angle` degrees round a point far below: their middles lie on an
/// arc through `x`, `y`, which is the middle of the middle one. Each lies so low that no corner of it looks out above
/// those in front of it.
fn fan(k: &Kwargs) -> TeraResult<Value> {
    let n = k.must_get::<i64>("n")?.clamp(0, 60) as usize;
    let (x, y, w): (f64, f64, f64) = (k.must_get("x")?, k.must_get("y")?, k.must_get("w")?);
    let (ratio, spread) = (k.must_get::<f64>("ratio")?, k.must_get::<f64>("angle")?);
    let radius = k.must_get::<f64>("radius")?;
    let at = |i: usize| if n < 2 { 0.0 } else { i as f64 / (n - 1) as f64 - 0.5 };
    // The outermost lie lowest, the middle one on top: it gets the first page.
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|a, b| at(*a).abs().total_cmp(&at(*b).abs()).then(a.cmp(b)));
    let sheets: Vec<Json> = order
        .iter()
        .enumerate()
        .rev()
        .map(|(page, i)| {
            let at = at(*i);
            let angle = at * spread;
            let (sin, cos) = libm::sincos(angle.to_radians());
            let (half, up) = (w / 2.0, w / ratio / 2.0);
            // How far the upper inner corner would stand above the middle one's edge, and a step below it.
            let corner = up * cos + half * sin.abs() - up;
            let step = at.abs() * (n - 1) as f64 * up * 0.05;
            let low = (radius * (1.0 - cos)).max(if angle == 0.0 { 0.0 } else { corner + step });
            let (cx, cy) = (x + radius * sin, y + low);
            json!({ "x": cx - w / 2.0, "y": cy - w / ratio / 2.0, "w": w, "angle": angle, "page": page })
        })
        .collect();
    Ok(value(&json!(sheets)))
}

/// All stickers in a room `x`, `y`, `w`, `h`, at least `gap` apart, at one scale: the largest at which they fit.
fn shelve(k: &Kwargs, sizes: &[Size], right_to_left: bool) -> TeraResult<Value> {
    let (x, y, w, h): (f64, f64, f64, f64) = (k.must_get("x")?, k.must_get("y")?, k.must_get("w")?, k.must_get("h")?);
    let gap = k.must_get::<f64>("gap")?;
    let at = |scale: f64| {
        let sizes: Vec<Size> = sizes.iter().map(|s| Size::new(s.w * scale, s.h * scale)).collect();
        layout(&[SizedGroup { head: 0.0, sizes }], Size::new(w, h), 0.0, gap)
    };
    let fits = |scale: f64| {
        let made = at(scale);
        made.pages.len() <= 1 && made.shrunk.is_empty()
    };
    let (mut low, mut high) = (0.0, 20.0);
    for _ in 0..40 {
        let middle = (low + high) / 2.0;
        if fits(middle) { low = middle } else { high = middle }
    }
    let made = at(low);
    let placed: Vec<(usize, Rect)> = made.pages.into_iter().flat_map(|sheet| sheet.placed).collect();
    let bottom = placed.iter().map(|(_, r)| r.bottom()).fold(0.0, f64::max);
    let shift = ((h - bottom) / 2.0).max(0.0);
    let left = |r: &Rect| if right_to_left { w - r.right() } else { r.x };
    let list: Vec<Json> = placed
        .iter()
        .map(|(i, r)| json!({ "i": i, "x": (x + left(r)).round(), "y": (y + shift + r.y).round(), "w": r.w.round(), "h": r.h }))
        .collect();
    Ok(value(&json!(list)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Books behind each other stay in their room, are half seen at least, and no caption reaches into another.
        #[test]
        fn books_behind_each_other_are_seen(
            n in 1usize..13, rows in 1usize..4, w in 300.0..3000.0f64, h in 600.0..3000.0f64, ratio in 0.4..2.0f64,
            right_to_left: bool,
        ) {
            prop_assume!(n.div_ceil(n.div_ceil(rows)) == rows);
            let within = Rect::new(40.0, 70.0, w, h);
            let shelf = Shelf { n, within, ratio, gap: 30.0, caption: 60.0, right_to_left };
            let (places, covered) = shelf.overlapping(rows);
            let mut met: Vec<usize> = places.iter().map(|p| p.i).collect();
            met.sort_unstable();
            prop_assert_eq!(met, (0..n).collect::<Vec<_>>());
            for place in &places {
                prop_assert!(within.contains(place.at, 1.5), "{:?}", place.at);
                prop_assert!(place.at.bottom() + 60.0 <= within.bottom() + 1.5);
            }
            prop_assert!(covered <= w * h && covered <= places.iter().map(|p| p.at.w * p.at.h).sum::<f64>() + 1e-6);
            for pair in places.windows(2).filter(|pair| pair[0].at.y == pair[1].at.y) {
                prop_assert_eq!(pair[0].i, pair[1].i + 1, "the hindmost is drawn first");
                let apart = (pair[0].at.x - pair[1].at.x).abs();
                prop_assert!(apart >= pair[0].at.w * 0.5 - 2.0, "{apart} of {}", pair[0].at.w);
                prop_assert_eq!(pair[0].at.x < pair[1].at.x, right_to_left);
                let clear = (pair[0].middle - pair[1].middle).abs() - (pair[0].room + pair[1].room) / 2.0;
                prop_assert!(clear >= 0.0, "captions overlap by {}", -clear);
            }
            // A row lies below the one above it with its captions.
            for (a, b) in places.iter().zip(places.iter().skip(1)).filter(|(a, b)| a.at.y < b.at.y) {
                prop_assert!(b.at.y - a.at.bottom() >= 60.0 - 1.5);
            }
        }
    }
}
