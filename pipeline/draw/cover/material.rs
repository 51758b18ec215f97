//! What boards are made of: a grain that lies over any colour, in tiles that meet without a seam.
//!
//! Only sums, products and square roots go into a grain: every machine makes the same of them, and a tile, which is made for every build
//! that shows it, must not take long.

use crate::lots::{SIDE, each, lot, noise};
use base::model::drawing::{Picture, Shape};
use base::model::look::Material;
use base::model::units::between;
use base::model::{Drawing, Point, Rect};
use std::sync::{Arc, OnceLock};

/// How large a tile is laid, in points: 192 pixels to the inch.
const LAID: f64 = 96.0;
/// Steps of strength on either side of nothing: few of them keep a tile small in a file.
const STEPS: f64 = 10.0;

/// Lays the grain over a board. The tiles fill it to its edges, a little stretched where they must.
pub fn lay(d: &mut Drawing, material: Material, board: Rect) {
    let Some(tile) = tile(material) else { return };
    let across = (board.w / LAID).round().max(1.0);
    let w = board.w / across;
    let down = (board.h / w).round().max(1.0);
    let h = board.h / down;
    for (row, column) in (0..down as usize).flat_map(|row| (0..across as usize).map(move |column| (row, column))) {
        let at = Rect::new(board.x + column as f64 * w, board.y + row as f64 * h, w, h);
        d.push(Shape::Picture { picture: tile.clone(), at, turn: 0.0 });
    }
}

/// Lays the grain over areas as if it were cut out of one piece that begins at `corner`. Pictures are not mirrored with a page, so
/// what is no rectangle is laid in rows.
pub fn cut(d: &mut Drawing, material: Material, corner: Point, areas: impl Iterator<Item = Rect>) {
    let Some(tile) = tile(material) else { return };
    let whole = tile.rgba.bytes();
    let pixels = |points: f64| (points.max(0.0) / LAID * SIDE as f64).round() as usize;
    for at in areas {
        let columns = pixels(at.x - corner.x)..pixels(at.right() - corner.x);
        let rows = pixels(at.y - corner.y)..pixels(at.bottom() - corner.y);
        let (w, h) = (columns.len() as u32, rows.len() as u32);
        if w == 0 || h == 0 {
            continue;
        }
        let mut rgba = Vec::with_capacity(4 * columns.len() * rows.len());
        for (y, x) in rows.flat_map(|y| columns.clone().map(move |x| (y, x))) {
            let from = 4 * (y % SIDE * SIDE + x % SIDE);
            rgba.extend_from_slice(&whole[from..from + 4]);
        }
        let picture = Picture { name: tile.name.clone(), width: w, height: h, rgba: rgba.into() };
        d.push(Shape::Picture { picture: Arc::new(picture), at, turn: 0.0 });
    }
}

/// Lays the grain over a strip from the book's head to its foot that is narrower than a tile, or has its width split.
pub fn strip(d: &mut Drawing, material: Material, strip: Rect) {
    let Some(tile) = tile(material) else { return };
    let columns = (strip.w / LAID).ceil().max(1.0);
    let rows = (strip.h / LAID).round().max(1.0);
    let (w, h) = (strip.w / columns, strip.h / rows);
    let wide = between((w / h * SIDE as f64).round(), 1.0, SIDE as f64) as usize;
    let whole = tile.rgba.bytes();
    let rgba: Vec<u8> = (0..SIDE).flat_map(|y| &whole[4 * y * SIDE..4 * (y * SIDE + wide)]).copied().collect();
    let name = tile.name.clone();
    let cut = Arc::new(Picture { name, width: wide as u32, height: SIDE as u32, rgba: rgba.into() });
    for (row, column) in (0..rows as usize).flat_map(|row| (0..columns as usize).map(move |column| (row, column))) {
        let at = Rect::new(strip.x + column as f64 * w, strip.y + row as f64 * h, w, h);
        d.push(Shape::Picture { picture: cut.clone(), at, turn: 0.0 });
    }
}

/// The tile of a material, which every cover shares; none of a plain board.
fn tile(material: Material) -> Option<Arc<Picture>> {
    static LINEN: OnceLock<Arc<Picture>> = OnceLock::new();
    static KRAFT: OnceLock<Arc<Picture>> = OnceLock::new();
    static LEATHER: OnceLock<Arc<Picture>> = OnceLock::new();
    static WOOD: OnceLock<Arc<Picture>> = OnceLock::new();
    let (once, name, grain, most): (_, _, fn() -> Vec<f64>, f64) = match material {
        Material::Plain => return None,
        Material::Linen => (&LINEN, "linen", linen, 0.2),
        Material::Kraft => (&KRAFT, "kraft", kraft, 0.16),
        Material::Leather => (&LEATHER, "leather", leather, 0.22),
        Material::Wood => (&WOOD, "wood", wood, 0.13),
    };
    Some(once.get_or_init(|| Arc::new(picture(name, &grain(), most))).clone())
}

/// A grain as a picture: darker is black and lighter white, as strong as it is far from nothing; `most` is the strength
/// of 1, from 0 to 1.
fn picture(name: &str, grain: &[f64], most: f64) -> Picture {
    let mut rgba = Vec::with_capacity(4 * grain.len());
    for v in grain {
        let strength = (between(v.abs(), 0.0, 1.0) * STEPS).round() / STEPS * most;
        let tone = if *v < 0.0 { 0 } else { 255 };
        rgba.extend([tone, tone, tone, (strength * 255.0).round() as u8]);
    }
    Picture { name: name.to_owned(), width: SIDE as u32, height: SIDE as u32, rgba: rgba.into() }
}

/// A plain weave of threads of four pixels, each of its own tone, thicker and thinner along its way.
fn linen() -> Vec<f64> {
    const THREAD: usize = 4;
    const ROUND: [f64; THREAD] = [-0.55, 0.25, 0.2, -0.35];
    each(|x, y| {
        let (i, j) = (x / THREAD, y / THREAD);
        let weft = (i + j).is_multiple_of(2);
        let (thread, across, along) = if weft { (j, y % THREAD, x) } else { (i + 1000, x % THREAD, y) };
        let tone = lot(thread, 0, 11) - 0.5;
        let slub = noise(along, (thread * 37) % SIDE, [24, 64], 12);
        ROUND[across] + 0.5 * tone + 0.3 * slub + 0.25 * (lot(x, y, 13) - 0.5) + if weft { 0.1 } else { -0.1 }
    })
}

/// Fibres that lie in all directions on a fine tooth.
fn kraft() -> Vec<f64> {
    let mut grain =
        each(|x, y| 0.45 * (lot(x, y, 21) - 0.5) + 0.3 * noise(x, y, [85, 85], 22) + 0.12 * noise(x, y, [9, 9], 23));
    for n in 0..420 {
        let of = |what| lot(n, what, 24);
        let (mut x, mut y) = (of(0) * SIDE as f64, of(1) * SIDE as f64);
        let (mut dx, mut dy) = (of(2) - 0.5, of(3) - 0.5);
        let tone = if of(4) < 0.6 { -0.55 } else { 0.6 };
        let bend = (of(5) - 0.5) * 0.08;
        for _ in 0..(10.0 + of(6) * 26.0) as usize {
            let length = (dx * dx + dy * dy).sqrt().max(1e-6);
            (dx, dy) = (dx / length - dy * bend / length, dy / length + dx * bend / length);
            (x, y) = (x + dx, y + dy);
            let wrapped = |v: f64| v.rem_euclid(SIDE as f64) as usize % SIDE;
            let place = wrapped(y) * SIDE + wrapped(x);
            grain[place] = 0.4 * grain[place] + 0.6 * tone;
        }
    }
    grain
}

/// Pebbles with creases between them, under a light from the upper left.
fn leather() -> Vec<f64> {
    const CELLS: usize = 22;
    let cell = SIDE as f64 / CELLS as f64;
    let stone = |i: usize, j: usize, shift: [f64; 2]| {
        let (a, b) = (i % CELLS, j % CELLS);
        let jitter = |seed| 0.14 + 0.72 * lot(a, b, seed);
        [(a as f64 + jitter(31)) * cell + shift[0], (b as f64 + jitter(32)) * cell + shift[1], lot(a, b, 33)]
    };
    each(|x, y| {
        let (px, py) = (x as f64 + 0.5, y as f64 + 0.5);
        let (ci, cj) = ((px / cell) as usize, (py / cell) as usize);
        // The two nearest stones, over the tile's edges as well.
        let (mut first, mut second) = ([f64::MAX, 0.0, 0.0, 0.0], f64::MAX);
        for (di, dj) in (0..5).flat_map(|di| (0..5).map(move |dj| (di, dj))) {
            let over = |c: usize, step: usize| match c + step {
                before if before < 2 => (before + CELLS - 2, -(SIDE as f64)),
                within if within < CELLS + 2 => (within - 2, 0.0),
                beyond => (beyond - 2 - CELLS, SIDE as f64),
            };
            let ((i, sx), (j, sy)) = (over(ci, di), over(cj, dj));
            let [qx, qy, tone] = stone(i, j, [sx, sy]);
            let (dx, dy) = (px - qx, py - qy);
            let far = (dx * dx + dy * dy).sqrt();
            if far < first[0] {
                second = first[0];
                first = [far, dx, dy, tone];
            } else if far < second {
                second = far;
            }
        }
        let [near, dx, dy, tone] = first;
        let crease = 1.0 - between((second - near) / 3.2, 0.0, 1.0);
        let light = -(dx + dy) / (1.4 * cell);
        let flat = 1.0 - crease;
        flat * (0.75 * light + 0.3 * (tone - 0.5)) - 0.85 * crease * crease + 0.14 * (lot(x, y, 34) - 0.5)
    })
}

/// Long grain from top to foot, in bands, with short dark pores.
fn wood() -> Vec<f64> {
    let mut grain = each(|x, y| {
        let bend = (noise(x, y, [4, 2], 41) * 7.0 + SIDE as f64) as usize;
        let x = (x + bend) % SIDE;
        0.5 * noise(x, y, [64, 2], 42)
            + 0.35 * noise(x, y, [18, 1], 43)
            + 0.25 * noise(x, y, [128, 6], 44)
            + 0.1 * (lot(x, y, 45) - 0.5)
    });
    for n in 0..520 {
        let (x, top) = ((lot(n, 0, 46) * SIDE as f64) as usize, (lot(n, 1, 46) * SIDE as f64) as usize);
        for step in 0..(3.0 + lot(n, 2, 46) * 9.0) as usize {
            grain[(top + step) % SIDE * SIDE + x % SIDE] -= 0.5;
        }
    }
    grain
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    const ALL: [fn() -> Vec<f64>; 4] = [linen, kraft, leather, wood];

    /// The mean step from a line of pixels to the next.
    fn step(grain: &[f64], from: impl Fn(usize) -> usize, to: impl Fn(usize) -> usize) -> f64 {
        (0..SIDE).map(|i| (grain[from(i)] - grain[to(i)]).abs()).sum::<f64>() / SIDE as f64
    }

    #[test]
    fn tiles_meet_without_a_seam() {
        for grain in ALL.map(|make| make()) {
            let rows: Vec<f64> =
                (0..SIDE).map(|y| step(&grain, |x| y * SIDE + x, |x| (y + 1) % SIDE * SIDE + x)).collect();
            let columns: Vec<f64> =
                (0..SIDE).map(|x| step(&grain, |y| y * SIDE + x, |y| y * SIDE + (x + 1) % SIDE)).collect();
            for steps in [rows, columns] {
                // The last step leads over the edge; it is one like the others.
                let (last, others) = steps.split_last().unwrap();
                let most = others.iter().copied().fold(0.0, f64::max);
                assert!(*last <= most * 1.01, "{last} over the edge, {most} at most elsewhere");
            }
        }
    }

    #[test]
    fn a_grain_neither_darkens_nor_lightens_its_board_and_is_seen() {
        for grain in ALL.map(|make| make()) {
            let mean = grain.iter().map(|v| between(*v, -1.0, 1.0)).sum::<f64>() / grain.len() as f64;
            let spread = grain.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / grain.len() as f64;
            assert!(mean.abs() < 0.2, "{mean}");
            assert!((0.15..0.7).contains(&spread.sqrt()), "{spread}");
        }
    }

    #[test]
    fn a_board_is_covered_to_its_edges() {
        let board = Rect::new(13.0, 20.0, 701.0, 388.0);
        let mut d = Drawing::new();
        lay(&mut d, Material::Leather, board);
        let area: f64 =
            d.shapes.iter().map(|s| if let Shape::Picture { at, .. } = s { at.w * at.h } else { 0.0 }).sum();
        assert!((area - board.w * board.h).abs() < 1e-6);
        assert!(d.shapes.iter().all(|s| matches!(s, Shape::Picture { at, .. } if board.contains(*at, 1e-9))));
        lay(&mut d, Material::Plain, board);
        assert_eq!(d.shapes.len(), 7 * 4);
    }
}
