//! Many products shared out among several runs, each of which builds its part of them.

use std::path::PathBuf;
use std::str::FromStr;

/// A part of all products: the third of five is `3/5`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shard {
    /// Which part, from 1.
    pub number: usize,
    /// How many parts there are.
    pub of: usize,
}

/// Parts at most.
const MOST: usize = 10_000;

impl FromStr for Shard {
    type Err = String;

    fn from_str(text: &str) -> Result<Shard, String> {
        let read = || {
            let (number, of) = text.split_once('/')?;
            Some(Shard { number: number.trim().parse().ok()?, of: of.trim().parse().ok()? })
        };
        match read() {
            Some(shard) if shard.of <= MOST && (1..=shard.of).contains(&shard.number) => Ok(shard),
            _ => Err("a part is written as its number and how many there are: 1/5, 2/5 … 5/5".to_owned()),
        }
    }
}

/// The products of a part, in the order of the list. The costliest are dealt first, each to the part that has least so
/// far, so that no part has more than another by more than one product's cost. What a product costs is told; every run
/// must be told the same, or products would be built twice or not at all.
pub fn share(products: Vec<(PathBuf, u64)>, shard: Shard) -> Vec<PathBuf> {
    let mut order: Vec<usize> = (0..products.len()).collect();
    order.sort_by_key(|i| (std::cmp::Reverse(products[*i].1), *i));
    let mut loads = vec![0_u64; shard.of];
    let mut part = vec![0; products.len()];
    for i in order {
        // There is one part at least, by the form of a part.
        let least = (0..shard.of).min_by_key(|n| (loads[*n], *n)).unwrap_or(0);
        part[i] = least;
        // What costs nothing is dealt in turn as well.
        loads[least] = loads[least].saturating_add(products[i].1.max(1));
    }
    let mine = products.into_iter().zip(part).filter(|(_, part)| part + 1 == shard.number);
    mine.map(|((path, _), _)| path).collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_part_is_a_number_of_a_number() {
        assert_eq!("2/5".parse(), Ok(Shard { number: 2, of: 5 }));
        for wrong in ["0/5", "6/5", "2", "2/", "/5", "a/b", "1/0", "1/10001", "-1/3"] {
            assert!(wrong.parse::<Shard>().is_err(), "{wrong}");
        }
    }

    proptest! {
        #[test]
        fn every_product_is_in_one_part_and_the_parts_cost_the_same(
            costs in prop::collection::vec(0_u64..1_000, 0..60),
            of in 1_usize..9,
        ) {
            let all: Vec<(PathBuf, u64)> = costs.iter().enumerate().map(|(i, c)| (format!("{i:03}").into(), *c)).collect();
            let parts: Vec<Vec<PathBuf>> = (1..=of).map(|number| share(all.clone(), Shard { number, of })).collect();
            let mut together: Vec<PathBuf> = parts.concat();
            together.sort();
            prop_assert_eq!(together, all.iter().map(|(p, _)| p.clone()).collect::<Vec<_>>());
            let cost = |part: &Vec<PathBuf>| -> u64 {
                all.iter().filter(|(p, _)| part.contains(p)).map(|(_, c)| (*c).max(1)).sum()
            };
            let (most, least) = (parts.iter().map(cost).max().unwrap(), parts.iter().map(cost).min().unwrap());
            prop_assert!(most - least <= costs.iter().copied().max().unwrap_or(0).max(1));
        }
    }
}
