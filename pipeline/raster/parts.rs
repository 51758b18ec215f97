//! Parts: one picture with many drawings on it, taken apart.
//!
//! Pixels that touch, by an edge or a corner, belong together. So do parts with so little clear space between them
//! that they must be one drawing (the dot and the stem of an i), and whatever is tiny after that is a stray speck.
//! What is left is put into reading order.

use super::{Area, HAZE, Raster};
use base::model::product::Reading;

/// How a sheet is taken apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rules {
    /// Parts with this many clear pixels or fewer between them belong together.
    pub gap: f64,
    /// Parts with fewer pixels than this are specks.
    pub speck: usize,
    /// The way in which the drawings are counted.
    pub reading: Reading,
}

/// A drawing on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    /// Where it lies.
    pub area: Area,
    /// How many pixels it has.
    pub pixels: usize,
    label: u32,
}

/// What was found on a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Parts {
    /// The drawings in reading order.
    pub parts: Vec<Part>,
    /// How many specks were dropped.
    pub specks: usize,
    runs: Runs,
}

/// Takes a sheet apart.
pub fn parts(sheet: &Raster, rules: &Rules) -> Parts {
    let mut runs = Runs::of(sheet);
    let mut sets = runs.touching();
    runs.join(&mut sets, rules.gap);
    let mut found: Vec<Option<Part>> = vec![None; sets.parent.len()];
    for y in 0..runs.rows.len() - 1 {
        for run in runs.row_mut(y) {
            run.label = sets.root(run.label);
            let first = Area { x: run.from as usize, y, w: 1, h: 1 };
            let part = found[run.label as usize].get_or_insert(Part { area: first, pixels: 0, label: run.label });
            part.pixels += (run.to - run.from) as usize;
            let a = &mut part.area;
            let (right, bottom) = ((a.x + a.w).max(run.to as usize), (a.y + a.h).max(y + 1));
            a.x = a.x.min(run.from as usize);
            a.w = right - a.x;
            a.h = bottom - a.y;
        }
    }
    let (kept, dropped): (Vec<Part>, Vec<Part>) = found.into_iter().flatten().partition(|p| p.pixels >= rules.speck);
    Parts { parts: reading_order(kept, rules.reading), specks: dropped.len(), runs }
}

impl Parts {
    /// One part, cut out of its sheet without its neighbours.
    pub fn lift(&self, sheet: &Raster, part: &Part) -> Raster {
        let a = part.area;
        let mut out = Raster::clear(a.w, a.h);
        for y in a.y..a.y + a.h {
            for run in self.runs.row(y).iter().filter(|run| run.label == part.label) {
                let (from, to) = (run.from as usize, run.to as usize);
                let at = (y - a.y) * a.w + from - a.x;
                out.px[at..at + to - from].copy_from_slice(&sheet.px[y * sheet.w + from..y * sheet.w + to]);
            }
        }
        out
    }
}

/// Pixels of a row that belong to something, side by side: from the first to before the last, and the label of what they
/// belong to.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Run {
    from: u32,
    to: u32,
    label: u32,
}

/// The runs of a sheet, row by row from left to right. A sheet has far fewer of them than pixels.
#[derive(Clone, Debug, PartialEq)]
struct Runs {
    all: Vec<Run>,
    /// Where each row begins, and behind the last one the end.
    rows: Vec<usize>,
}

impl Runs {
    fn of(sheet: &Raster) -> Runs {
        let mut runs = Runs { all: Vec::new(), rows: vec![0] };
        for row in sheet.px.chunks_exact(sheet.w.max(1)) {
            let mut x = 0;
            while let Some(from) = row[x..].iter().position(|p| p[3] > HAZE).map(|n| x + n) {
                let to = row[from..].iter().position(|p| p[3] <= HAZE).map_or(row.len(), |n| from + n);
                runs.all.push(Run { from: from as u32, to: to as u32, label: 0 });
                x = to;
            }
            runs.rows.push(runs.all.len());
        }
        runs
    }

    fn row(&self, y: usize) -> &[Run] {
        &self.all[self.rows[y]..self.rows[y + 1]]
    }

    fn row_mut(&mut self, y: usize) -> &mut [Run] {
        &mut self.all[self.rows[y]..self.rows[y + 1]]
    }

    /// Labels runs that touch by an edge or a corner; labels rise in the order in which parts are met.
    fn touching(&mut self) -> Sets {
        let mut sets = Sets { parent: Vec::new() };
        for y in 0..self.rows.len() - 1 {
            let (above, here) = self.all.split_at_mut(self.rows[y]);
            let above = if y > 0 { &above[self.rows[y - 1]..] } else { &[] };
            let mut first = 0;
            for run in &mut here[..self.rows[y + 1] - self.rows[y]] {
                let mut label = None;
                first += above[first..].iter().take_while(|a| a.to < run.from).count();
                for near in above[first..].iter().take_while(|a| a.from <= run.to) {
                    match label {
                        None => label = Some(near.label),
                        Some(label) => sets.unite(label, near.label),
                    }
                }
                run.label = label.unwrap_or_else(|| sets.add());
            }
        }
        sets
    }

    /// Unites parts with so many clear pixels between them, or fewer: between the middles of two pixels with n clear ones
    /// between them lie n + 1 steps.
    fn join(&self, sets: &mut Sets, gap: f64) {
        if gap <= 0.0 {
            return;
        }
        let reach = (gap + 1.0).powi(2);
        let height = self.rows.len() - 1;
        for down in 0..=((gap + 1.0).floor() as usize).min(height.saturating_sub(1)) {
            let left = (reach - (down as f64).powi(2)).max(0.0).sqrt().floor() as u32;
            for y in 0..height - down {
                let (here, below) = (self.row(y), self.row(y + down));
                let mut first = 0;
                for (i, run) in here.iter().enumerate() {
                    // In its own row only what follows it: the rest was met from the other side.
                    first = if down == 0 {
                        i + 1
                    } else {
                        first + below[first..].iter().take_while(|b| b.to + left <= run.from).count()
                    };
                    for near in below[first..].iter().take_while(|b| b.from < run.to + left) {
                        if run.label != near.label {
                            sets.unite(run.label, near.label);
                        }
                    }
                }
            }
        }
    }
}

/// Sets of labels that turned out to be one, each known by its smallest label.
struct Sets {
    parent: Vec<u32>,
}

impl Sets {
    /// A set of its own, and its label.
    fn add(&mut self) -> u32 {
        let label = self.parent.len() as u32;
        self.parent.push(label);
        label
    }

    fn root(&mut self, mut i: u32) -> u32 {
        while self.parent[i as usize] != i {
            let up = self.parent[self.parent[i as usize] as usize];
            self.parent[i as usize] = up;
            i = up;
        }
        i
    }

    fn unite(&mut self, a: u32, b: u32) {
        let (a, b) = (self.root(a), self.root(b));
        self.parent[a.max(b) as usize] = a.min(b);
    }
}

/// Rows from the top; in a row along the line. The topmost part that is left begins a row, and those belong to it
/// that share with it at least half of the height of the lower of the two. Columns are rows of the sheet turned over.
fn reading_order(mut left: Vec<Part>, reading: Reading) -> Vec<Part> {
    let columns = matches!(reading, Reading::Columns | Reading::ColumnsFromRight);
    let from_right = matches!(reading, Reading::RowsFromRight | Reading::ColumnsFromRight);
    // Across the lines and along them: first position and length of each.
    let across = |p: &Part| if columns { (p.area.x, p.area.w) } else { (p.area.y, p.area.h) };
    let along = |p: &Part| if columns { p.area.y } else { p.area.x };
    left.sort_by_key(|p| (across(p).0, along(p)));
    let mut lines = Vec::new();
    while let Some(first) = left.first().copied() {
        let beside = |p: &Part| {
            let ((a, long), (b, other)) = (across(&first), across(p));
            let shared = (a + long).min(b + other).saturating_sub(a.max(b));
            2 * shared >= long.min(other)
        };
        let (mut line, rest): (Vec<Part>, Vec<Part>) = left.into_iter().partition(beside);
        line.sort_by_key(|p| (along(p), across(p).0));
        if from_right && !columns {
            line.reverse();
        }
        lines.push(line);
        left = rest;
    }
    if from_right && columns {
        lines.reverse();
    }
    lines.into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Which pixels lie in one part, by looking at every pair of them.
    fn by_pairs(sheet: &Raster, gap: f64) -> Vec<Option<usize>> {
        let seen: Vec<usize> = (0..sheet.px.len()).filter(|&i| sheet.px[i][3] > HAZE).collect();
        let mut part: Vec<Option<usize>> = (0..sheet.px.len()).map(|i| seen.contains(&i).then_some(i)).collect();
        loop {
            let mut same = true;
            for &i in &seen {
                for &j in &seen {
                    let step = |at: usize| ((at % sheet.w) as f64, (at / sheet.w) as f64);
                    let ((ax, ay), (bx, by)) = (step(i), step(j));
                    let (dx, dy) = ((ax - bx).abs(), (ay - by).abs());
                    if (dx.max(dy) <= 1.0 || gap > 0.0 && dx * dx + dy * dy <= (gap + 1.0).powi(2)) && part[i] < part[j]
                    {
                        part[j] = part[i];
                        same = false;
                    }
                }
            }
            if same {
                return part;
            }
        }
    }

    proptest! {
        /// Every pixel that is seen lies in the part that its neighbours near and far put it in, and is lifted with it.
        #[test]
        fn parts_are_what_every_pair_of_pixels_says(
            w in 1usize..14,
            drawn in prop::collection::vec(prop::bool::weighted(0.25), 0..160),
            gap in prop::sample::select(vec![0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 40.0]),
        ) {
            let h = drawn.len() / w;
            let px = drawn[..w * h].iter().map(|on| if *on { [9, 9, 9, 255] } else { [0; 4] }).collect();
            let sheet = Raster { w, h, px };
            let expected = by_pairs(&sheet, gap);
            let found = parts(&sheet, &Rules { gap, speck: 0, reading: Reading::Rows });
            let mut seen = vec![None; w * h];
            for part in &found.parts {
                let lifted = found.lift(&sheet, part);
                prop_assert_eq!(lifted.px.iter().filter(|p| p[3] > 0).count(), part.pixels);
                for (i, p) in lifted.px.iter().enumerate().filter(|(_, p)| p[3] > 0) {
                    let at = (part.area.y + i / part.area.w) * w + part.area.x + i % part.area.w;
                    prop_assert_eq!(*p, sheet.px[at]);
                    prop_assert_eq!(seen[at], None);
                    seen[at] = expected[at];
                }
                let of: std::collections::BTreeSet<_> = (0..w * h).filter(|&i| {
                    let (x, y) = (i % w, i / w);
                    let a = part.area;
                    x >= a.x && x < a.x + a.w && y >= a.y && y < a.y + a.h && lifted.px[(y - a.y) * a.w + x - a.x][3] > 0
                }).map(|i| expected[i]).collect();
                prop_assert_eq!(of.len(), 1);
            }
            prop_assert_eq!(seen, expected);
        }
    }
}
