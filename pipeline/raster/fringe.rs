//! Matte fringe: a rim of the old background's colour along edges that were cut out of it.
//!
//! A pixel that was half art and half background, made half clear later, still holds the mix: `c = a·art + (1 − a)·
//! background`, in the numbers that drawing programs mix, which are sRGB ones. The art's share is the colour of the
//! nearest full pixel; the background is then the one that explains all edge pixels best (least squares). If it
//! explains them much better than the art's own colour does, there is a fringe, and the mix can be undone.

use super::Raster;
use base::model::Rgb;
use base::model::product::Edges;

/// Alpha from which a pixel counts as full.
const FULL: u8 = 250;
/// Alpha below which a colour is too coarse to say anything.
const FAINT: u8 = 8;
/// Edge pixels that it takes to say anything.
const ENOUGH: usize = 24;
/// How far (root mean square, in channel steps) edges must be off before a buyer would see it.
const VISIBLE: f64 = 14.0;
/// The part of the error that a background must explain.
const EXPLAINED: f64 = 0.75;

/// A fringe that was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fringe {
    /// The background that it was cut out of, as estimated.
    pub matte: Rgb,
    /// Edge pixels looked at.
    pub pixels: usize,
    /// How far off their colours are, root mean square in channel steps.
    pub error: f64,
}

/// An edge pixel: where, its alpha (0 to 1), its colour, the colour of the art beside it.
struct Edge {
    at: usize,
    a: f64,
    colour: [f64; 3],
    art: [f64; 3],
}

/// Looks for a fringe.
pub fn find(r: &Raster) -> Option<Fringe> {
    judge(&edges(r, FAINT))
}

/// Does at the edges what is asked for, and says what was taken off.
pub fn clear(r: &mut Raster, wanted: Edges) -> Option<Fringe> {
    match wanted {
        Edges::Keep => None,
        Edges::Estimate => remove(r),
        Edges::Matte(matte) => undo(r, matte),
    }
}

/// Takes a fringe off, if there is one, and says what it was.
pub fn remove(r: &mut Raster) -> Option<Fringe> {
    let fringe = find(r)?;
    unmix(r, &edges(r, 1), fringe.matte);
    Some(fringe)
}

/// Takes the colour of a known background out of every edge; `None` where there are no soft edges.
pub fn undo(r: &mut Raster, matte: Rgb) -> Option<Fringe> {
    let edges = edges(r, 1);
    let (count, mut sum) = (edges.iter().map(|e| e.a).sum::<f64>() * 3.0, 0.0);
    for e in &edges {
        sum += e.a * (0..3).map(|c| (e.colour[c] - e.art[c]).powi(2)).sum::<f64>();
    }
    unmix(r, &edges, matte);
    (!edges.is_empty()).then(|| Fringe { matte, pixels: edges.len(), error: (sum / count).sqrt() })
}

/// Undoes the mix of art and background at the edges.
fn unmix(r: &mut Raster, edges: &[Edge], matte: Rgb) {
    let matte = channels(matte);
    for e in edges {
        for (c, background) in matte.iter().enumerate() {
            let undone = (e.colour[c] - (1.0 - e.a) * background) / e.a;
            // The fainter a pixel, the more its rounding grows: faint ones lean on the art beside them.
            let trust = (e.a * 2.0).min(1.0);
            let value = undone.clamp(0.0, 255.0) * trust + e.art[c] * (1.0 - trust);
            r.px[e.at][c] = value.round() as u8;
        }
    }
}

fn channels(c: Rgb) -> [f64; 3] {
    [f64::from(c.r), f64::from(c.g), f64::from(c.b)]
}

/// How far from an edge its art is looked for, in pixels.
const REACH: usize = 3;

/// Pixels that are partly clear, of at least this alpha, and have full art within three pixels: a soft brush or a shadow, whose colour is its
/// own, lies farther from any.
fn edges(r: &Raster, least: u8) -> Vec<Edge> {
    let plain = |p: [u8; 4]| [f64::from(p[0]), f64::from(p[1]), f64::from(p[2])];
    let edge = |at: usize| {
        let [x, y] = full_beside(r, at)?;
        Some(Edge { at, a: f64::from(r.px[at][3]) / 255.0, colour: plain(r.px[at]), art: plain(r.at(x, y)) })
    };
    (0..r.px.len()).filter(|i| (least..FULL).contains(&r.px[*i][3])).filter_map(edge).collect()
}

/// Column and row of the nearest full pixel that is no farther than [`REACH`]: of several the leftmost, and of those the upper one.
/// What lies further away is of no interest, so no distances are kept for a whole sheet.
fn full_beside(r: &Raster, at: usize) -> Option<[usize; 2]> {
    let (x, y) = (at % r.w, at / r.w);
    let mut best: Option<(usize, [usize; 2])> = None;
    for column in x.saturating_sub(REACH)..=(x + REACH).min(r.w - 1) {
        let across = column.abs_diff(x).pow(2);
        let full = |row: &usize| r.at(column, *row)[3] >= FULL;
        let rows = (0..=REACH).flat_map(|far| [y.checked_sub(far), Some(y + far).filter(|row| *row < r.h)]);
        if let Some(row) = rows.flatten().find(full) {
            let squared = across + row.abs_diff(y).pow(2);
            if squared <= REACH * REACH && best.is_none_or(|(least, _)| squared < least) {
                best = Some((squared, [column, row]));
            }
        }
    }
    best.map(|(_, place)| place)
}

fn judge(edges: &[Edge]) -> Option<Fringe> {
    if edges.len() < ENOUGH {
        return None;
    }
    let weight: f64 = edges.iter().map(|e| (1.0 - e.a).powi(2)).sum();
    let matte = [0, 1, 2].map(|c| {
        let sum: f64 = edges.iter().map(|e| (1.0 - e.a) * (e.colour[c] - e.a * e.art[c])).sum();
        (sum / weight).clamp(0.0, 255.0)
    });
    // Both errors are weighed by alpha: a buyer sees the fuller pixels more.
    let total = |m: &dyn Fn(&Edge, usize) -> f64| -> f64 {
        edges.iter().map(|e| e.a * (0..3).map(|c| (e.colour[c] - m(e, c)).powi(2)).sum::<f64>()).sum()
    };
    let clean = total(&|e, c| e.art[c]);
    let mixed = total(&|e, c| e.a * e.art[c] + (1.0 - e.a) * matte[c]);
    let count: f64 = edges.iter().map(|e| e.a).sum::<f64>() * 3.0;
    let error = (clean / count).sqrt();
    let [red, green, blue] = matte.map(|v| v.round() as u8);
    (error >= VISIBLE && mixed <= clean * (1.0 - EXPLAINED)).then_some(Fringe {
        matte: Rgb::new(red, green, blue),
        pixels: edges.len(),
        error,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::distance::Nearest;
    use proptest::prelude::*;

    proptest! {
        /// The same as distances over the whole picture say, which are exact, pixel for pixel.
        #[test]
        fn the_art_beside_an_edge_is_the_nearest_one(
            w in 1usize..14, alphas in prop::collection::vec(prop::sample::select(vec![0u8, 7, 120, 249, 250, 255]), 1..180),
        ) {
            let h = alphas.len().div_ceil(w);
            let mut px: Vec<[u8; 4]> = alphas.iter().map(|a| [1, 2, 3, *a]).collect();
            px.resize(w * h, [0; 4]);
            let r = Raster { w, h, px };
            let near = Nearest::to(w, h, |i| r.px[i][3] >= FULL);
            for at in (0..w * h).filter(|i| r.px[*i][3] < FULL) {
                let known = near.as_ref().filter(|near| near.squared(at) <= 9).map(|near| near.of[at].map(usize::from));
                prop_assert_eq!(full_beside(&r, at), known, "{} of {} x {}", at, w, h);
            }
        }
    }
}
