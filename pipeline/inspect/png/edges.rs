//! The edges of a cut-out picture: rims left by a ground that was there before, and specks that the eraser missed.

use super::Pixels;
use crate::model::facts::PngFacts;

/// Larger pictures are not searched for specks.
const MAX_PIXELS: usize = 24 << 20;
/// Edge pixels lighter or darker than the ink beside them by this much (of 255) make a rim.
const RIM: i32 = 48;
/// A speck has at most this many pixels, and at most this share of the largest piece.
const SPECK: usize = 12;
const SPECK_SHARE: f64 = 0.002;

/// Fills in rims and specks.
pub fn look(facts: &mut PngFacts, image: &Pixels) {
    if image.width * image.height > MAX_PIXELS {
        return;
    }
    let alpha: Vec<u8> =
        (0..image.height).flat_map(|y| (0..image.width).map(move |x| (x, y))).map(|(x, y)| image.at(x, y)[3]).collect();
    rims(facts, image, &alpha);
    specks(facts, image.width, image.height, &alpha);
}

/// Half-transparent pixels between nothing and ink should have the ink's colour. Where they lean to white or to black, the
/// picture was cut from a white or black ground (its matte), and shows it on any other.
fn rims(facts: &mut PngFacts, image: &Pixels, alpha: &[u8]) {
    let (w, h) = (image.width, image.height);
    for y in 0..h {
        for x in 0..w {
            if !(16..=200).contains(&alpha[y * w + x]) {
                continue;
            }
            let mut clear = false;
            let mut ink: Option<[u8; 4]> = None;
            let mut nearest = usize::MAX;
            for v in y.saturating_sub(2)..(y + 3).min(h) {
                for u in x.saturating_sub(2)..(x + 3).min(w) {
                    let a = alpha[v * w + u];
                    let distance = u.abs_diff(x).pow(2) + v.abs_diff(y).pow(2);
                    clear |= a == 0;
                    if a >= 250 && distance < nearest {
                        nearest = distance;
                        ink = Some(image.at(u, v));
                    }
                }
            }
            if let (true, Some(ink)) = (clear, ink) {
                facts.edge_pixels += 1;
                facts.fringe_pixels += u64::from((lightness(image.at(x, y)) - lightness(ink)).abs() > RIM);
            }
        }
    }
}

/// Luma by the weights of ITU-R BT.601, 0 to 255.
fn lightness([r, g, b, _]: [u8; 4]) -> i32 {
    (299 * i32::from(r) + 587 * i32::from(g) + 114 * i32::from(b)) / 1000
}

/// Counts pieces that hang together (corners count) and are tiny beside the largest.
fn specks(facts: &mut PngFacts, w: usize, h: usize, alpha: &[u8]) {
    let mut seen = vec![false; w * h];
    let mut pieces: Vec<(usize, usize)> = Vec::new();
    let mut open = Vec::new();
    for start in 0..w * h {
        if seen[start] || alpha[start] == 0 {
            continue;
        }
        seen[start] = true;
        open.push(start);
        let mut size = 0;
        while let Some(at) = open.pop() {
            size += 1;
            let (x, y) = (at % w, at / w);
            for v in y.saturating_sub(1)..(y + 2).min(h) {
                for u in x.saturating_sub(1)..(x + 2).min(w) {
                    let next = v * w + u;
                    if !seen[next] && alpha[next] > 0 {
                        seen[next] = true;
                        open.push(next);
                    }
                }
            }
        }
        pieces.push((size, start));
    }
    let largest = pieces.iter().map(|p| p.0).max().unwrap_or(0);
    let tiny = |size: usize| size <= SPECK && size as f64 <= largest as f64 * SPECK_SHARE;
    for (_, start) in pieces.into_iter().filter(|p| tiny(p.0)) {
        facts.specks += 1;
        facts.first_speck.get_or_insert(((start % w) as u32, (start / w) as u32));
    }
}
