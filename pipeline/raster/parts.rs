//! Parts: one picture with many drawings on it, taken apart.
//!
//! Pixels that touch, by an edge or a corner, belong together. So do parts with so little clear space between them
//! that they must be one drawing (the dot and the stem of an i), and whatever is tiny after that is a stray speck.
//! What is left is put into reading order.

use super::distance::Nearest;
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
    labels: Vec<u32>,
}

/// Pixels that belong to nothing.
const CLEAR: u32 = u32::MAX;

/// Takes a sheet apart.
pub fn parts(sheet: &Raster, rules: &Rules) -> Parts {
    let (mut labels, mut sets) = touching(sheet);
    join(sheet, &labels, &mut sets, rules.gap);
    let mut found: Vec<Option<Part>> = vec![None; sets.parent.len()];
    for (i, label) in labels.iter_mut().enumerate() {
        if *label == CLEAR {
            continue;
        }
        *label = sets.root(*label);
        let (x, y) = (i % sheet.w, i / sheet.w);
        let part =
            found[*label as usize].get_or_insert(Part { area: Area { x, y, w: 1, h: 1 }, pixels: 0, label: *label });
        part.pixels += 1;
        let a = &mut part.area;
        let (right, bottom) = ((a.x + a.w).max(x + 1), (a.y + a.h).max(y + 1));
        a.x = a.x.min(x);
        a.w = right - a.x;
        a.h = bottom - a.y;
    }
    let (kept, dropped): (Vec<Part>, Vec<Part>) = found.into_iter().flatten().partition(|p| p.pixels >= rules.speck);
    Parts { parts: reading_order(kept, rules.reading), specks: dropped.len(), labels }
}

impl Parts {
    /// One part, cut out of its sheet without its neighbours.
    pub fn lift(&self, sheet: &Raster, part: &Part) -> Raster {
        let a = part.area;
        let mut out = sheet.crop(a);
        for (i, p) in out.px.iter_mut().enumerate() {
            let at = (a.y + i / a.w) * sheet.w + a.x + i % a.w;
            if self.labels[at] != part.label {
                *p = [0; 4];
            }
        }
        out
    }
}

/// Sets of labels that turned out to be one, each known by its smallest label.
struct Sets {
    parent: Vec<u32>,
}

impl Sets {
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

/// Labels pixels that touch by an edge or a corner.
fn touching(sheet: &Raster) -> (Vec<u32>, Sets) {
    let (w, mut sets) = (sheet.w, Sets { parent: Vec::new() });
    let mut labels = vec![CLEAR; sheet.px.len()];
    for i in 0..labels.len() {
        if sheet.px[i][3] <= HAZE {
            continue;
        }
        let (x, y) = (i % w, i / w);
        // Of the eight neighbours these four have been visited already.
        let before = [
            (x > 0).then(|| i - 1),
            (y > 0 && x > 0).then(|| i - w - 1),
            (y > 0).then(|| i - w),
            (y > 0 && x + 1 < w).then(|| i - w + 1),
        ];
        for j in before.into_iter().flatten() {
            let label = labels[j];
            if label == CLEAR {
                continue;
            }
            if labels[i] == CLEAR {
                labels[i] = label;
            } else if labels[i] != label {
                sets.unite(labels[i], label);
            }
        }
        if labels[i] == CLEAR {
            labels[i] = sets.parent.len() as u32;
            sets.parent.push(labels[i]);
        }
    }
    (labels, sets)
}

/// Unites parts that are near each other. Where two parts meet half way, neighbouring pixels have their nearest
/// members in different parts, and the distance between those members is the gap (seldom a pixel more). Were a
/// third part nearer there, both would be near that one, and are united through it.
fn join(sheet: &Raster, labels: &[u32], sets: &mut Sets, gap: f64) {
    if gap <= 0.0 {
        return;
    }
    let Some(near) = Nearest::to(sheet.w, sheet.h, |i| labels[i] != CLEAR) else { return };
    // Between the middles of two pixels with n clear ones between them lie n + 1 steps.
    let reach = (gap + 1.0).powi(2);
    for i in 0..labels.len() {
        let (x, y) = (i % sheet.w, i / sheet.w);
        for j in [(x + 1 < sheet.w).then(|| i + 1), (y + 1 < sheet.h).then(|| i + sheet.w)].into_iter().flatten() {
            let ([ax, ay], [bx, by]) = (near.of[i], near.of[j]);
            let (a, b) = (labels[ay as usize * sheet.w + ax as usize], labels[by as usize * sheet.w + bx as usize]);
            let squared = f64::from(ax.abs_diff(bx)).powi(2) + f64::from(ay.abs_diff(by)).powi(2);
            if a != b && squared <= reach {
                sets.unite(a, b);
            }
        }
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
