//! Two pictures of the same size, pixel by pixel.

use base::colour::difference::{Sight, difference};
use base::model::units::Rgb;
use std::collections::HashMap;

/// Side of the squares by which changed pixels are gathered into boxes.
const TILE: usize = 12;
/// With more boxes than this, one box about all of them says more.
const MAX_BOXES: usize = 6;

/// Where two pictures differ.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    /// Pixels that differ.
    pub count: usize,
    /// All pixels.
    pub of: usize,
    /// The box about those that differ: left, top, right, bottom, the last two outside of it.
    pub bounds: [usize; 4],
    /// Boxes about groups of those that differ, from the top, in the same form.
    pub boxes: Vec<[usize; 4]>,
}

/// How different changed pixels look, by CIEDE2000.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Colours {
    /// The greatest difference.
    pub greatest: f64,
    /// The mean over the pixels that differ.
    pub mean: f64,
}

impl Changed {
    /// The share that differs, in words.
    pub fn share(&self) -> String {
        let share = 100.0 * self.count as f64 / self.of.max(1) as f64;
        if share < 0.1 { "less than 0.1 %".to_owned() } else { format!("{share:.1} %") }
    }
}

/// Whether two pixels (red, green, blue, alpha) look different. What lies under full transparency is not seen.
pub fn differ(a: &[u8], b: &[u8], slack: u8) -> bool {
    a != b && !(a[3] == 0 && b[3] == 0) && a.iter().zip(b).any(|(p, q)| p.abs_diff(*q) > slack)
}

/// Compares pictures with four bytes a pixel; differences up to `slack` in every channel do not count. `None` if
/// nothing differs. Both must hold rows of `width` pixels and be equally long.
pub fn compare(old: &[u8], new: &[u8], width: usize, slack: u8) -> Option<Changed> {
    let width = width.max(1);
    let columns = width.div_ceil(TILE);
    let rows = (old.len() / 4 / width).div_ceil(TILE);
    // For every square the box of what changed in it.
    let mut tiles: Vec<Option<[usize; 4]>> = vec![None; columns * rows];
    let mut count = 0;
    for (y, (a, b)) in old.chunks_exact(width * 4).zip(new.chunks_exact(width * 4)).enumerate() {
        if a == b {
            continue;
        }
        for (x, (p, q)) in a.chunks_exact(4).zip(b.chunks_exact(4)).enumerate() {
            if differ(p, q, slack) {
                count += 1;
                let here = [x, y, x + 1, y + 1];
                let tile = &mut tiles[y / TILE * columns + x / TILE];
                *tile = Some(tile.map_or(here, |t| around(t, here)));
            }
        }
    }
    let bounds = tiles.iter().flatten().copied().reduce(around)?;
    let mut boxes = grouped(&mut tiles, columns, rows);
    if boxes.len() > MAX_BOXES {
        boxes = vec![bounds];
    }
    Some(Changed { count, of: old.len() / 4, bounds, boxes })
}

fn around(a: [usize; 4], b: [usize; 4]) -> [usize; 4] {
    [a[0].min(b[0]), a[1].min(b[1]), a[2].max(b[2]), a[3].max(b[3])]
}

/// Boxes about squares that touch, or have no more than one square between them; takes the squares out.
fn grouped(tiles: &mut [Option<[usize; 4]>], columns: usize, rows: usize) -> Vec<[usize; 4]> {
    let mut boxes = Vec::new();
    for start in 0..tiles.len() {
        let Some(first) = tiles[start].take() else { continue };
        let (mut whole, mut open) = (first, vec![start]);
        while let Some(at) = open.pop() {
            let (x, y) = (at % columns, at / columns);
            for ny in y.saturating_sub(2)..=(y + 2).min(rows - 1) {
                for nx in x.saturating_sub(2)..=(x + 2).min(columns - 1) {
                    if let Some(next) = tiles[ny * columns + nx].take() {
                        whole = around(whole, next);
                        open.push(ny * columns + nx);
                    }
                }
            }
        }
        boxes.push(whole);
    }
    boxes
}

/// How different the changed pixels look. A pixel that is partly transparent is seen on white and on black, and the
/// greater difference counts.
pub fn colours(old: &[u8], new: &[u8]) -> Colours {
    let (mut greatest, mut sum, mut count) = (0.0f64, 0.0, 0usize);
    let mut known: HashMap<([u8; 4], [u8; 4]), f64> = HashMap::new();
    for (a, b) in old.chunks_exact(4).zip(new.chunks_exact(4)).filter(|(a, b)| differ(a, b, 0)) {
        let (a, b) = ([a[0], a[1], a[2], a[3]], [b[0], b[1], b[2], b[3]]);
        let seen = *known.entry((a, b)).or_insert_with(|| {
            let on = |ground: u8| difference(over(a, ground), over(b, ground), None::<Sight>);
            if a[3] == 255 && b[3] == 255 { on(255) } else { on(255).max(on(0)) }
        });
        greatest = greatest.max(seen);
        sum += seen;
        count += 1;
    }
    Colours { greatest, mean: sum / count.max(1) as f64 }
}

/// A pixel laid on a grey ground.
pub fn over([r, g, b, a]: [u8; 4], ground: u8) -> Rgb {
    let mix = |c: u8| ((u32::from(c) * u32::from(a) + u32::from(ground) * (255 - u32::from(a)) + 127) / 255) as u8;
    Rgb::new(mix(r), mix(g), mix(b))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn picture(width: usize, height: usize, dots: &[(usize, usize)]) -> Vec<u8> {
        let mut rgba = vec![255; width * height * 4];
        for (x, y) in dots {
            rgba[(y * width + x) * 4] = 0;
        }
        rgba
    }

    #[test]
    fn far_dots_have_boxes_of_their_own() {
        let (a, b) = (picture(200, 100, &[]), picture(200, 100, &[(3, 4), (5, 9), (180, 90)]));
        let found = compare(&a, &b, 200, 0).unwrap();
        assert_eq!((found.count, found.of, found.bounds), (3, 20_000, [3, 4, 181, 91]));
        assert_eq!(found.boxes, [[3, 4, 6, 10], [180, 90, 181, 91]]);
        assert_eq!(compare(&a, &a, 200, 0), None);
    }

    #[test]
    fn what_nobody_sees_is_no_difference() {
        assert!(!differ(&[1, 2, 3, 0], &[9, 9, 9, 0], 0));
        assert!(differ(&[1, 2, 3, 0], &[1, 2, 3, 1], 0));
        assert!(!differ(&[1, 2, 3, 255], &[2, 4, 3, 255], 2));
    }

    #[test]
    fn colours_are_weighed_as_they_look() {
        // Black on white: a difference of 100 in lightness (L* runs from 0 to 100; CIE 15).
        let found = colours(&[0, 0, 0, 255, 7, 7, 7, 255], &[255, 255, 255, 255, 7, 7, 7, 255]);
        assert!((found.greatest - 100.0).abs() < 0.01 && (found.mean - 100.0).abs() < 0.01);
        // White that vanishes is seen on black.
        assert!(colours(&[255, 255, 255, 255], &[255, 255, 255, 0]).greatest > 99.0);
    }
}
