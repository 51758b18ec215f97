//! The edges of a cut-out picture: rims left by a ground that was there before, and specks that the eraser missed.

use super::Pixels;
use base::model::facts::PngFacts;

/// Larger pictures are not searched for specks.
const MAX_PIXELS: usize = 24 << 20;
/// Edge pixels lighter or darker than the ink beside them by this much (of 255) make a rim.
const RIM: i32 = 48;
/// A speck has at most this many pixels, and at most this share of the largest piece.
const SPECK: usize = 12;
const SPECK_SHARE: f64 = 0.002;

/// Fills in rims and specks.
pub fn look(facts: &mut PngFacts, image: &Pixels) {
    if image.all.len() <= MAX_PIXELS && image.width > 0 {
        rims(facts, image);
        specks(facts, image);
    }
}

/// Half-transparent pixels between nothing and ink should have the ink's colour. Where they lean to white or to black, the
/// picture was cut from a white or black ground (its matte), and shows it on any other.
fn rims(facts: &mut PngFacts, image: &Pixels) {
    let (w, h) = (image.width, image.all.len() / image.width);
    for (at, pixel) in image.all.iter().enumerate().filter(|(_, pixel)| (16..=200).contains(&pixel[3])) {
        let (x, y) = (at % w, at / w);
        let mut clear = false;
        let mut ink: Option<[u8; 4]> = None;
        let mut nearest = usize::MAX;
        for v in y.saturating_sub(2)..(y + 3).min(h) {
            for u in x.saturating_sub(2)..(x + 3).min(w) {
                let near = image.all[v * w + u];
                let distance = u.abs_diff(x).pow(2) + v.abs_diff(y).pow(2);
                clear |= near[3] == 0;
                if near[3] >= 250 && distance < nearest {
                    nearest = distance;
                    ink = Some(near);
                }
            }
        }
        if let (true, Some(ink)) = (clear, ink) {
            facts.edge_pixels += 1;
            facts.fringe_pixels += u64::from((lightness(*pixel) - lightness(ink)).abs() > RIM);
        }
    }
}

/// Luma by the weights of ITU-R BT.601, 0 to 255.
fn lightness([r, g, b, _]: [u8; 4]) -> i32 {
    (299 * i32::from(r) + 587 * i32::from(g) + 114 * i32::from(b)) / 1000
}

/// Counts pieces that hang together (corners count) and are tiny beside the largest.
///
/// Pieces are put together from runs, the stretches of a row that are not clear: a run belongs with each run of the row
/// above that it touches.
fn specks(facts: &mut PngFacts, image: &Pixels) {
    let mut pieces = Pieces::default();
    let mut above: Vec<Run> = Vec::new();
    for (y, row) in image.all.chunks_exact(image.width).enumerate() {
        let mut runs = runs(row);
        let mut from = 0;
        for run in &mut runs {
            run.piece = pieces.add(run.end - run.start, (run.start, y));
            // Runs above that end before this one begins touch none of the later ones either.
            while above.get(from).is_some_and(|other| other.end < run.start) {
                from += 1;
            }
            for other in above[from..].iter().take_while(|other| other.start <= run.end) {
                pieces.join(other.piece, run.piece);
            }
        }
        above = runs;
    }
    let largest = pieces.all.iter().map(|piece| piece.size).max().unwrap_or(0);
    let tiny = |size: usize| size <= SPECK && size as f64 <= largest as f64 * SPECK_SHARE;
    for piece in pieces.all.iter().enumerate().filter(|(n, p)| p.parent == *n && tiny(p.size)).map(|(_, piece)| piece) {
        facts.specks += 1;
        facts.first_speck.get_or_insert((piece.first.0 as u32, piece.first.1 as u32));
    }
}

/// A stretch of a row, `start` to before `end`, and the piece that it was counted to.
struct Run {
    start: usize,
    end: usize,
    piece: usize,
}

fn runs(row: &[[u8; 4]]) -> Vec<Run> {
    let mut runs = Vec::new();
    let mut at = 0;
    while let Some(skip) = row[at..].iter().position(|pixel| pixel[3] > 0) {
        let start = at + skip;
        let end = row[start..].iter().position(|pixel| pixel[3] == 0).map_or(row.len(), |length| start + length);
        runs.push(Run { start, end, piece: 0 });
        at = end;
    }
    runs
}

/// Pieces as a forest: a piece that was joined to another has that one as its parent.
#[derive(Default)]
struct Pieces {
    all: Vec<Piece>,
}

struct Piece {
    parent: usize,
    size: usize,
    /// Its first pixel in reading order.
    first: (usize, usize),
}

impl Pieces {
    fn add(&mut self, size: usize, first: (usize, usize)) -> usize {
        self.all.push(Piece { parent: self.all.len(), size, first });
        self.all.len() - 1
    }

    fn root(&mut self, mut piece: usize) -> usize {
        while self.all[piece].parent != piece {
            // Each step halves the way for the next search.
            let parent = self.all[piece].parent;
            self.all[piece].parent = self.all[parent].parent;
            piece = self.all[piece].parent;
        }
        piece
    }

    /// The older of the two stays the root, so `first` needs no care and the roots stay in reading order.
    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.root(one), self.root(other));
        let (kept, gone) = (one.min(other), one.max(other));
        if kept != gone {
            self.all[gone].parent = kept;
            self.all[kept].size += self.all[gone].size;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::borrow::Cow;

    fn seen(rows: &[&str]) -> PngFacts {
        let pixel = |c: char| [0, 0, 0, if c == '#' { 255 } else { 0 }];
        let all: Vec<[u8; 4]> = rows.iter().flat_map(|row| row.chars().map(pixel)).collect();
        let mut facts = PngFacts::default();
        specks(&mut facts, &Pixels { width: rows[0].len(), all: Cow::Owned(all) });
        facts
    }

    #[test]
    fn a_cup_of_two_arms_is_one_piece_and_corners_hold_together() {
        let wide = "#".repeat(600);
        let gap = ".".repeat(600);
        let tall: Vec<&str> = std::iter::repeat_n(wide.as_str(), 12).collect();
        let with = |art: [&str; 4]| {
            let art: Vec<String> = art.iter().map(|row| format!("{row:.<600}")).collect();
            let rows: Vec<&str> =
                tall.iter().copied().chain([gap.as_str()]).chain(art.iter().map(String::as_str)).collect();
            let facts = seen(&rows);
            (facts.specks, facts.first_speck)
        };
        assert_eq!(with(["#.#", "#.#", "###", "..."]), (1, Some((0, 13))), "joined below");
        assert_eq!(with(["#..", ".#.", "#..", ".#."]), (1, Some((0, 13))), "by corners, both ways");
        assert_eq!(with(["#.#", "...", "#.#", "..."]), (4, Some((0, 13))), "apart");
        assert_eq!(with(["..#.#", ".#.#.", "#.#..", "....."]), (1, Some((2, 13))), "first in reading order");
    }
}
