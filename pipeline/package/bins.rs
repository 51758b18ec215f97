//! Bin packing: the fewest bins of one capacity that hold all the sizes.
//!
//! Exact: first-fit decreasing gives a packing to beat, Martello and Toth's bound L2 says when it cannot be beaten,
//! and a depth-first search settles what lies between. The search stops after a fixed number of steps, so that the
//! answer never depends on the speed of the machine; with the few dozen sizes of a product it ends long before.

/// Steps after which the search takes the best packing found so far.
const STEPS: u32 = 400_000;

/// A packing: for each size, in the order given, the number of its bin, from 0.
pub type Packing = Vec<usize>;

/// The fewest bins, or `None` when one size alone is larger than the capacity.
pub fn fewest(sizes: &[u64], capacity: u64) -> Option<Packing> {
    if sizes.iter().any(|s| *s > capacity) {
        return None;
    }
    let mut order: Vec<usize> = (0..sizes.len()).collect();
    order.sort_by_key(|i| (std::cmp::Reverse(sizes[*i]), *i));
    let sorted: Vec<u64> = order.iter().map(|i| sizes[*i]).collect();
    let mut best = first_fit(&sorted, capacity);
    let mut steps = STEPS;
    for bins in lower_bound(&sorted, capacity)..count(&best) {
        let mut search = Search {
            sizes: &sorted,
            room: vec![capacity; bins],
            at: Vec::with_capacity(sorted.len()),
            left: sorted.iter().sum(),
            steps,
        };
        if search.place() {
            best = search.at;
            break;
        }
        steps = search.steps;
        if steps == 0 {
            break;
        }
    }
    let mut packing = vec![0; sizes.len()];
    for (place, i) in order.into_iter().enumerate() {
        packing[i] = best[place];
    }
    Some(packing)
}

/// How many bins a packing uses.
pub fn count(packing: &[usize]) -> usize {
    packing.iter().max().map_or(0, |m| m + 1)
}

/// Each size into the first bin that has room; sizes sorted from large to small.
fn first_fit(sorted: &[u64], capacity: u64) -> Packing {
    let mut room: Vec<u64> = Vec::new();
    sorted
        .iter()
        .map(|size| {
            let bin = room.iter().position(|r| r >= size).unwrap_or_else(|| {
                room.push(capacity);
                room.len() - 1
            });
            room[bin] -= size;
            bin
        })
        .collect()
}

/// Bound L2 (Martello and Toth, Knapsack Problems, 1990, section 8.3.2): sizes above half the capacity need a bin
/// each, and what is neither that nor small must go into the room beside the middling ones, or into more bins.
fn lower_bound(sorted: &[u64], capacity: u64) -> usize {
    let mut thresholds: Vec<u64> = sorted.iter().copied().filter(|s| s * 2 <= capacity).collect();
    thresholds.push(0);
    thresholds.dedup();
    let bound = |k: u64| {
        let huge = sorted.iter().filter(|s| **s > capacity - k).count() as u64;
        let over_half: Vec<u64> = sorted.iter().copied().filter(|s| *s <= capacity - k && s * 2 > capacity).collect();
        let middle: u64 = sorted.iter().filter(|s| *s * 2 <= capacity && **s >= k).sum();
        let beside = over_half.len() as u64 * capacity - over_half.iter().sum::<u64>();
        huge + over_half.len() as u64 + middle.saturating_sub(beside).div_ceil(capacity.max(1))
    };
    thresholds.into_iter().map(bound).max().unwrap_or(0) as usize
}

/// Whether the sizes fit into a given number of bins; they are placed from large to small.
struct Search<'s> {
    sizes: &'s [u64],
    room: Vec<u64>,
    at: Packing,
    left: u64,
    steps: u32,
}

impl Search<'_> {
    fn place(&mut self) -> bool {
        let Some(size) = self.sizes.get(self.at.len()).copied() else { return true };
        if self.left > self.room.iter().sum() {
            return false;
        }
        for bin in 0..self.room.len() {
            // A bin with the same room as one that was tried leads to the same dead end.
            if self.room[bin] < size || self.room[..bin].contains(&self.room[bin]) {
                continue;
            }
            if self.steps == 0 {
                return false;
            }
            self.steps -= 1;
            let exact = self.room[bin] == size;
            self.room[bin] -= size;
            self.left -= size;
            self.at.push(bin);
            if self.place() {
                return true;
            }
            self.at.pop();
            self.left += size;
            self.room[bin] += size;
            // A size that fills a bin to the brim is best placed there, whatever follows.
            if exact {
                return false;
            }
        }
        false
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use proptest::prelude::*;

    /// The fewest bins by trying every way to put the sizes into groups.
    fn by_force(sizes: &[u64], capacity: u64) -> usize {
        fn go(rest: &[u64], room: &mut Vec<u64>, capacity: u64, best: &mut usize) {
            let Some((size, rest)) = rest.split_first() else {
                *best = room.len().min(*best);
                return;
            };
            for bin in 0..room.len() {
                if room[bin] >= *size {
                    room[bin] -= size;
                    go(rest, room, capacity, best);
                    room[bin] += size;
                }
            }
            room.push(capacity - size);
            go(rest, room, capacity, best);
            room.pop();
        }
        let mut best = sizes.len();
        go(sizes, &mut Vec::new(), capacity, &mut best);
        best
    }

    proptest! {
        #[test]
        fn as_few_as_by_force(sizes in proptest::collection::vec(0_u64..=60, 0..8), more in 0_u64..60) {
            let capacity = sizes.iter().max().copied().unwrap_or(0) + more;
            let packing = fewest(&sizes, capacity).unwrap();
            let bins = count(&packing);
            prop_assert_eq!(bins, by_force(&sizes, capacity));
            for bin in 0..bins {
                let sum: u64 = sizes.iter().zip(&packing).filter(|(_, b)| **b == bin).map(|(s, _)| s).sum();
                prop_assert!(sum <= capacity);
            }
            prop_assert_eq!(&packing, &fewest(&sizes, capacity).unwrap());
        }

        #[test]
        fn the_bound_is_below_the_truth(sizes in proptest::collection::vec(1_u64..=50, 1..7)) {
            let mut sorted = sizes.clone();
            sorted.sort_by_key(|s| std::cmp::Reverse(*s));
            prop_assert!(lower_bound(&sorted, 50) <= by_force(&sizes, 50));
        }
    }

    #[test]
    fn first_fit_is_beaten() {
        // First-fit decreasing needs three bins of 10 here (4 + 4, 3 + 3 + 3, 3), and twice 4 + 3 + 3 is enough.
        let sizes = [4, 4, 3, 3, 3, 3];
        assert_eq!(count(&first_fit(&sizes, 10)), 3);
        assert_eq!(count(&fewest(&sizes, 10).unwrap()), 2);
    }

    #[test]
    fn hundreds_of_small_ones() {
        let sizes: Vec<u64> = (0..500).map(|i| 1_000 + i * 37 % 911).collect();
        let packing = fewest(&sizes, 20_000).unwrap();
        assert_eq!(count(&packing) as u64, sizes.iter().sum::<u64>().div_ceil(20_000));
    }

    #[test]
    fn too_large_for_any() {
        assert_eq!(fewest(&[5, 11], 10), None);
        assert_eq!(fewest(&[], 10), Some(vec![]));
    }
}
