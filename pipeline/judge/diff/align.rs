//! Which page of the old version is which page of the new one.
//!
//! Pages that draw the same are matched as a sequence, so that one page inserted is one page inserted; those that
//! match out of order have moved. What is left between two matches is paired by likeness, as far as it is alike.

use inspect::pdf::fingerprint::Digest;
use similar::{Algorithm, DiffOp, capture_diff_slices};
use std::collections::{BTreeMap, HashMap};

/// In a gap with more pairs than this, pages are paired in order, without weighing every pair.
const MAX_PAIRS: usize = 250_000;
/// Pages less alike than this are not the same page, redrawn.
const ALIKE: f64 = 0.25;

/// Pages of two versions, side by side. All numbers count from 0.
#[derive(Debug, Default, PartialEq)]
pub struct Alignment {
    /// Pages in order that draw the same: old, new.
    pub same: Vec<(usize, usize)>,
    /// Pages that draw the same, out of order.
    pub moved: Vec<(usize, usize)>,
    /// Pages that are taken to be the same, drawn otherwise.
    pub redrawn: Vec<(usize, usize)>,
    /// Old pages without a counterpart.
    pub removed: Vec<usize>,
    /// New pages without a counterpart.
    pub inserted: Vec<usize>,
}

impl Alignment {
    /// Leaves out the pages that are `passed` on either side.
    pub fn leave_out(&mut self, [old, new]: [&[bool]; 2]) {
        let (a, b) = (|page: usize| old.get(page) == Some(&true), |page: usize| new.get(page) == Some(&true));
        for pairs in [&mut self.same, &mut self.moved, &mut self.redrawn] {
            pairs.retain(|(i, j)| !a(*i) && !b(*j));
        }
        self.removed.retain(|page| !a(*page));
        self.inserted.retain(|page| !b(*page));
    }

    /// All pairs, in the order of the new version.
    pub fn pairs(&self) -> Vec<(usize, usize)> {
        let mut all: Vec<_> = self.same.iter().chain(&self.moved).chain(&self.redrawn).copied().collect();
        all.sort_by_key(|p| p.1);
        all
    }
}

/// Aligns two sequences of fingerprints. `likeness` says from 0 to 1 how alike an old and a new page are.
pub fn align(old: &[Digest], new: &[Digest], likeness: impl Fn(usize, usize) -> f64) -> Alignment {
    let mut found = Alignment { same: in_order(old, new), ..Alignment::default() };
    let mut partner_old = vec![None; old.len()];
    let mut partner_new = vec![None; new.len()];
    for &(a, b) in &found.same {
        (partner_old[a], partner_new[b]) = (Some(b), Some(a));
    }
    // What matches out of order.
    let mut waiting: HashMap<Digest, std::collections::VecDeque<usize>> = HashMap::new();
    for (a, digest) in old.iter().enumerate().filter(|(a, _)| partner_old[*a].is_none()) {
        waiting.entry(*digest).or_default().push_back(a);
    }
    for (b, digest) in new.iter().enumerate() {
        if partner_new[b].is_none()
            && let Some(a) = waiting.get_mut(digest).and_then(std::collections::VecDeque::pop_front)
        {
            (partner_old[a], partner_new[b]) = (Some(b), Some(a));
            found.moved.push((a, b));
        }
    }
    // What lies between two matches.
    let mut bounds = found.same.clone();
    bounds.push((old.len(), new.len()));
    let (mut from_a, mut from_b) = (0, 0);
    for (to_a, to_b) in bounds {
        let left: Vec<usize> = (from_a..to_a).filter(|a| partner_old[*a].is_none()).collect();
        let right: Vec<usize> = (from_b..to_b).filter(|b| partner_new[*b].is_none()).collect();
        for (a, b) in alike(&left, &right, &likeness) {
            (partner_old[a], partner_new[b]) = (Some(b), Some(a));
            found.redrawn.push((a, b));
        }
        (from_a, from_b) = (to_a + 1, to_b + 1);
    }
    found.removed = (0..old.len()).filter(|a| partner_old[*a].is_none()).collect();
    found.inserted = (0..new.len()).filter(|b| partner_new[*b].is_none()).collect();
    found
}

/// The same for the pages that are not passed on either side, each of which is given as its fingerprints and which of them are.
pub fn some(sides: [(&[Digest], &[bool]); 2], likeness: impl Fn(usize, usize) -> f64) -> Alignment {
    let [a, b] = sides.map(|(_, passed)| (0..passed.len()).filter(|page| !passed[*page]).collect::<Vec<usize>>());
    let prints =
        |(all, _): (&[Digest], &[bool]), some: &[usize]| some.iter().map(|page| all[*page]).collect::<Vec<_>>();
    let mut found = align(&prints(sides[0], &a), &prints(sides[1], &b), |i, j| likeness(a[i], b[j]));
    for pair in found.same.iter_mut().chain(&mut found.moved).chain(&mut found.redrawn) {
        *pair = (a[pair.0], b[pair.1]);
    }
    found.removed.iter_mut().for_each(|page| *page = a[*page]);
    found.inserted.iter_mut().for_each(|page| *page = b[*page]);
    found
}

/// The longest run of equal pages in order. Pages that one side does not have are left out beforehand: they can match
/// nothing, and would only make the search long.
fn in_order(old: &[Digest], new: &[Digest]) -> Vec<(usize, usize)> {
    let mut numbers: BTreeMap<&Digest, (u32, bool, bool)> = BTreeMap::new();
    for (side, digests) in [(0, old), (1, new)] {
        for digest in digests {
            let next = numbers.len() as u32;
            let entry = numbers.entry(digest).or_insert((next, false, false));
            if side == 0 { entry.1 = true } else { entry.2 = true }
        }
    }
    let kept = |digests: &[Digest]| -> Vec<(usize, u32)> {
        let numbered = digests.iter().enumerate().map(|(i, d)| (i, numbers[d]));
        numbered.filter(|(_, n)| n.1 && n.2).map(|(i, n)| (i, n.0)).collect()
    };
    let (a, b) = (kept(old), kept(new));
    let keys = |kept: &[(usize, u32)]| kept.iter().map(|k| k.1).collect::<Vec<u32>>();
    let mut pairs = Vec::new();
    for op in capture_diff_slices(Algorithm::Patience, &keys(&a), &keys(&b)) {
        if let DiffOp::Equal { old_index, new_index, len } = op {
            pairs.extend((0..len).map(|i| (a[old_index + i].0, b[new_index + i].0)));
        }
    }
    pairs
}

/// Pairs of a gap, in order, so that the pairs together are as alike as can be.
fn alike(left: &[usize], right: &[usize], likeness: &impl Fn(usize, usize) -> f64) -> Vec<(usize, usize)> {
    let (m, n) = (left.len(), right.len());
    if m == 0 || n == 0 {
        return Vec::new();
    }
    if m.saturating_mul(n) > MAX_PAIRS {
        let pairs = left.iter().zip(right).map(|(a, b)| (*a, *b));
        return pairs.filter(|(a, b)| likeness(*a, *b) >= ALIKE).collect();
    }
    let width = n + 1;
    let mut best = vec![0.0f64; (m + 1) * width];
    let mut scores = vec![0.0f64; m * n];
    for i in (0..m).rev() {
        for j in (0..n).rev() {
            let score = likeness(left[i], right[j]);
            scores[i * n + j] = score;
            let skip = best[(i + 1) * width + j].max(best[i * width + j + 1]);
            let take = if score >= ALIKE { score + best[(i + 1) * width + j + 1] } else { 0.0 };
            best[i * width + j] = skip.max(take);
        }
    }
    let (mut i, mut j, mut pairs) = (0, 0, Vec::new());
    while i < m && j < n {
        let here = best[i * width + j];
        let score = scores[i * n + j];
        if score >= ALIKE && here <= score + best[(i + 1) * width + j + 1] {
            pairs.push((left[i], right[j]));
            (i, j) = (i + 1, j + 1);
        } else if here <= best[(i + 1) * width + j] {
            i += 1;
        } else {
            j += 1;
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fingerprints(pages: &[u8]) -> Vec<Digest> {
        pages.iter().map(|p| [*p; 32]).collect()
    }

    fn found(old: &[u8], new: &[u8]) -> Alignment {
        align(&fingerprints(old), &fingerprints(new), |_, _| 0.0)
    }

    #[test]
    fn one_inserted_page_is_one_inserted_page() {
        let found = found(&[1, 2, 3, 4], &[1, 9, 2, 3, 4]);
        assert_eq!((found.inserted, found.removed), (vec![1], vec![]));
        assert_eq!(found.same.len(), 4);
    }

    #[test]
    fn a_page_elsewhere_has_moved() {
        let found = found(&[1, 2, 3, 4, 5], &[1, 3, 4, 5, 2]);
        assert_eq!(found.moved, vec![(1, 4)]);
        assert!(found.inserted.is_empty() && found.removed.is_empty());
    }

    #[test]
    fn what_is_alike_is_the_same_page_redrawn() {
        let found =
            align(
                &fingerprints(&[1, 2, 3]),
                &fingerprints(&[1, 8, 9, 3]),
                |a, b| if (a, b) == (1, 2) { 0.9 } else { 0.1 },
            );
        assert_eq!(found.redrawn, vec![(1, 2)]);
        assert_eq!(found.inserted, vec![1]);
    }

    #[test]
    fn a_page_that_is_passed_on_its_side_is_left_out_of_every_list() {
        let whole = || Alignment {
            same: vec![(0, 0)],
            moved: vec![(1, 2)],
            redrawn: vec![(2, 1)],
            removed: vec![3],
            inserted: vec![3],
        };
        let mut none = whole();
        none.leave_out([&[false; 4], &[]]);
        assert_eq!(none, whole());
        let mut old = whole();
        old.leave_out([&[false, true, true, true], &[]]);
        assert_eq!(old, Alignment { same: vec![(0, 0)], inserted: vec![3], ..Alignment::default() });
        let mut new = whole();
        new.leave_out([&[], &[true, false, false, true]]);
        assert_eq!(new, Alignment { same: vec![], inserted: vec![], ..whole() });
    }
}
