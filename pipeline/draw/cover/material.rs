//! What boards are made of: a grain that lies over any colour, in tiles that meet without a seam.
//!
//! Only sums, products and square roots go into a grain: every machine makes the same of them, and a tile, which is made for every build
//! that shows it, must not take long.

use super::case::Side;
use crate::lots::{SIDE, each, lot, noise};
use base::model::drawing::{Picture, Shape};
use base::model::look::Material;
use base::model::units::between;
use base::model::{Drawing, Point, Rect};
use std::sync::{Arc, OnceLock};

/// How large a tile is laid on a book of usual size, in points: 192 pixels to the inch.
const LAID: f64 = 96.0;
/// The measure of the smallest book of usual size: that of A5, or of the smallest tablet.
const USUAL: f64 = 15.7;
/// The least share of its size at which a tile is laid: any finer, and a grain is seen as a grey veil.
const FINEST: f64 = 0.4;
/// Steps of strength on either side of nothing: few of them keep a tile small in a file.
const STEPS: f64 = 10.0;

/// How large a tile is laid on a book with this measure. On a pocket book it is smaller, for its threads would look like ropes.
pub fn laid(unit: f64) -> f64 {
    LAID * (unit / USUAL).clamp(FINEST, 1.0)
}

/// Lays the grain over a board, in tiles about so large. They fill it to its edges, a little stretched where they must. A row of them
/// is one picture: what repeats itself within it takes no room in a file, and a guide shows many covers on a page.
pub fn lay(d: &mut Drawing, material: Material, board: Rect, laid: f64) {
    let Some(tile) = tile(material) else { return };
    let across = (board.w / laid).round().max(1.0);
    let w = board.w / across;
    let down = (board.h / w).round().max(1.0);
    let h = board.h / down;
    let strip = Arc::new(repeated(&tile, across as usize, 1));
    for row in 0..down as usize {
        let at = Rect::new(board.x, board.y + row as f64 * h, board.w, h);
        d.push(Shape::Picture { picture: strip.clone(), at, turn: 0.0 });
    }
}

/// A picture so many times beside and below itself, as one.
fn repeated(picture: &Picture, across: usize, down: usize) -> Picture {
    let whole = picture.rgba.bytes();
    let wide = 4 * picture.width as usize;
    let row = |row: &[u8]| row.repeat(across);
    let once: Vec<u8> = whole.chunks_exact(wide).flat_map(row).collect();
    let (width, height) = (picture.width * across as u32, picture.height * down as u32);
    Picture { name: picture.name.clone(), width, height, rgba: once.repeat(down).into() }
}

/// Lays the grain over areas as if it were cut out of one piece that begins at `corner`. Pictures are not mirrored with a page, so
/// what is no rectangle is laid in rows.
pub fn cut(d: &mut Drawing, material: Material, corner: Point, areas: impl Iterator<Item = Rect>, laid: f64) {
    let Some(tile) = tile(material) else { return };
    let whole = tile.rgba.bytes();
    let pixels = |points: f64| (points.max(0.0) / laid * SIDE as f64).round() as usize;
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

/// Lays the grain over a strip along the spine that is narrower than a tile, or has its width split. The grain goes along with it: for a
/// strip along the top rows and columns of a tile change places, by which its light stays at the upper left.
pub fn strip(d: &mut Drawing, material: Material, strip: Rect, spine: Side, laid: f64) {
    let Some(tile) = tile(material) else { return };
    let (wide, long) = match spine {
        Side::Left => (strip.w, strip.h),
        Side::Top => (strip.h, strip.w),
    };
    let columns = (wide / laid).ceil().max(1.0);
    let rows = (long / laid).round().max(1.0);
    let w = wide / columns;
    let wide = between((w / (long / rows) * SIDE as f64).round(), 1.0, SIDE as f64) as usize;
    let whole = tile.rgba.bytes();
    let (rgba, width, height): (Vec<u8>, _, _) = match spine {
        Side::Left => {
            let rows = (0..SIDE).flat_map(|y| &whole[4 * y * SIDE..4 * (y * SIDE + wide)]);
            (rows.copied().collect(), wide, SIDE)
        }
        Side::Top => {
            let pixels = (0..wide).flat_map(|y| (0..SIDE).map(move |x| 4 * (x * SIDE + y)));
            (pixels.flat_map(|from| &whole[from..from + 4]).copied().collect(), SIDE, wide)
        }
    };
    let name = tile.name.clone();
    let cut = Picture { name, width: width as u32, height: height as u32, rgba: rgba.into() };
    let cut = Arc::new(match spine {
        Side::Left => repeated(&cut, 1, rows as usize),
        Side::Top => repeated(&cut, rows as usize, 1),
    });
    for column in 0..columns as usize {
        let off = column as f64 * w;
        let at = match spine {
            Side::Left => Rect::new(strip.x + off, strip.y, w, strip.h),
            Side::Top => Rect::new(strip.x, strip.y + off, strip.w, w),
        };
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
    use super::super::book::Book;
    use super::super::case::Case;
    use super::*;
    use base::model::{Mm, Size};

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
        lay(&mut d, Material::Leather, board, LAID);
        let area: f64 =
            d.shapes.iter().map(|s| if let Shape::Picture { at, .. } = s { at.w * at.h } else { 0.0 }).sum();
        assert!((area - board.w * board.h).abs() < 1e-6);
        assert!(d.shapes.iter().all(|s| matches!(s, Shape::Picture { at, .. } if board.contains(*at, 1e-9))));
        // A row of seven tiles is one picture.
        let seven = |s: &Shape| matches!(s, Shape::Picture { picture, .. } if picture.width as usize == 7 * SIDE && picture.height as usize == SIDE);
        assert!(d.shapes.iter().all(seven));
        lay(&mut d, Material::Plain, board, LAID);
        assert_eq!(d.shapes.len(), 4);
    }

    /// The measure of a book on a page whose shorter side is so many millimetres.
    fn unit(short: f64) -> f64 {
        let side = Mm(short).pt();
        Book::new(Case { size: Size::new(side, side * 1.5), spread: false, corner: 9.0, spine: Side::Left }).unit
    }

    #[test]
    fn a_grain_is_no_coarser_on_a_small_book_and_never_lost() {
        // Tablets both ways, A5, A4, Letter and what is larger.
        for short in [148.0, 150.0, 170.0, 180.0, 210.0, 215.9, 297.0] {
            assert_eq!(laid(unit(short)), LAID, "{short}");
        }
        let most = LAID / unit(148.0);
        for short in 60..=148 {
            let unit = unit(f64::from(short));
            let (size, share) = (laid(unit), laid(unit) / unit);
            assert!(share <= most * 1.01, "{short} mm: {share}, {most} on a larger one");
            assert!(size >= LAID * FINEST, "{short} mm: {size}");
        }
        // On the smallest page of all, a thread of four pixels is still more than half a point wide.
        assert!(laid(unit(10.0)) / SIDE as f64 * 4.0 > 0.5);
    }

    /// How strong the pixels of a picture are, row by row.
    fn strengths(picture: &Picture) -> Vec<u8> {
        picture.rgba.bytes().as_chunks::<4>().0.iter().map(|p| p[3]).collect()
    }

    #[test]
    fn the_grain_of_a_strip_goes_along_with_the_spine() {
        let laid_at = |spine: Side| {
            let strip_ = match spine {
                Side::Left => Rect::new(9.0, 9.0, 40.0, 500.0),
                Side::Top => Rect::new(9.0, 9.0, 500.0, 40.0),
            };
            let mut d = Drawing::new();
            strip(&mut d, Material::Wood, strip_, spine, LAID);
            let placed = d.shapes.iter().map(|s| match s {
                Shape::Picture { picture, at, .. } => (picture.clone(), *at),
                other => panic!("a picture, not {other:?}"),
            });
            let placed: Vec<_> = placed.collect();
            let area: f64 = placed.iter().map(|(_, at)| at.w * at.h).sum();
            assert!((area - 40.0 * 500.0).abs() < 1e-6);
            assert!(placed.iter().all(|(_, at)| strip_.contains(*at, 1e-9)));
            placed
        };
        let (upright, across) = (laid_at(Side::Left), laid_at(Side::Top));
        assert_eq!(upright.len(), across.len());
        for ((a, p), (b, q)) in upright.iter().zip(&across) {
            assert_eq!((p.x, p.y, p.w, p.h), (q.y, q.x, q.h, q.w));
            assert_eq!((a.width, a.height), (b.height, b.width));
        }
        let (a, b) = (&upright[0].0, &across[0].0);
        let (p, q) = (strengths(a), strengths(b));
        let (w, h) = (a.width as usize, a.height as usize);
        assert!((0..w * h).all(|i| p[i] == q[i % w * h + i / w]));
    }
}
