//! Places for many things at once, as functions of the template language: a grid, a fan, stickers on shelves.

use super::open_files::OpenFiles;
use base::model::Size;
use base::model::units::between;
use draw::sheet_layout::{SizedGroup, layout};
use serde_json::{Value as Json, json};
use tera::{Kwargs, State, Tera, TeraResult, Value};

/// Gives the functions to a template engine.
/// Of a product that is read from right to left, rows begin on the right.
pub fn register(tera: &mut Tera, open_files: &OpenFiles, right_to_left: bool) {
    tera.register_function("grid", move |k: Kwargs, _: &State| grid(&k, right_to_left));
    tera.register_function("fan", |k: Kwargs, _: &State| fan(&k));
    let sizes: Vec<Size> = open_files.stickers.iter().map(|s| s.size).collect();
    tera.register_function("shelves", move |k: Kwargs, _: &State| shelve(&k, &sizes, right_to_left));
}

fn value(json: &Json) -> Value {
    Value::from_serializable(json)
}

/// `n` things of one `ratio` (width to height) in a room `x`, `y`, `w`, `h`, with `gap` between them and room for a
/// `caption` below each: as large as they can be. A last row that is not full stands in the middle.
fn grid(k: &Kwargs, right_to_left: bool) -> TeraResult<Value> {
    let n = k.must_get::<i64>("n")?.clamp(0, 400) as usize;
    let (x, y, w, h): (f64, f64, f64, f64) = (k.must_get("x")?, k.must_get("y")?, k.must_get("w")?, k.must_get("h")?);
    let (ratio, gap) = (k.must_get::<f64>("ratio")?, k.get::<f64>("gap")?.unwrap_or(0.0));
    let caption = k.get::<f64>("caption")?.unwrap_or(0.0);
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
    let cells: Vec<Json> = (0..n)
        .map(|i| {
            let (row, column) = (i / columns, i % columns);
            let here = if row + 1 == rows { n - row * columns } else { columns };
            let used = here as f64 * wide + (here - 1) as f64 * across;
            let column = if right_to_left { here - 1 - column } else { column };
            let left = x + (w - used) / 2.0 + column as f64 * (wide + across);
            json!({ "x": left.round(), "y": (top + row as f64 * (high + caption + down)).round(), "w": wide, "h": high,
                    "room": wide + across * 0.86 })
        })
        .collect();
    Ok(value(&json!(cells)))
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
    let placed: Vec<(usize, base::model::Rect)> = made.pages.into_iter().flat_map(|sheet| sheet.placed).collect();
    let bottom = placed.iter().map(|(_, r)| r.bottom()).fold(0.0, f64::max);
    let shift = ((h - bottom) / 2.0).max(0.0);
    let left = |r: &base::model::Rect| if right_to_left { w - r.right() } else { r.x };
    let list: Vec<Json> = placed
        .iter()
        .map(|(i, r)| json!({ "i": i, "x": (x + left(r)).round(), "y": (y + shift + r.y).round(), "w": r.w.round(), "h": r.h }))
        .collect();
    Ok(value(&json!(list)))
}
