//! Pages of a planner that differ little: drawn once whole, and of the others what differs.
//!
//! A planner has hundreds of pages of a kind, and what they have in common, the rules and the tabs, is most of each
//! picture. The first page of a kind and month lies under the others; a picture of another holds only the pixels that
//! are not the same, and is clear elsewhere.

use std::collections::BTreeMap;

/// How far a channel may differ to be the same: less than anybody sees, more than a palette costs.
const SAME: u8 = 10;
/// Bytes that are compared at once: whole pixels.
const BLOCK: usize = 64;

/// Of these pages, by their labels: which page lies under which. Pages without a date in their label lie alone.
pub fn beneath<'l>(pages: impl Iterator<Item = (usize, Option<&'l str>, [u64; 2])>) -> BTreeMap<usize, usize> {
    let mut first: BTreeMap<(String, [u64; 2]), usize> = BTreeMap::new();
    let mut out = BTreeMap::new();
    for (n, label, size) in pages {
        let Some(kin) = label.and_then(kin) else { continue };
        match first.get(&(kin.clone(), size)) {
            Some(base) => {
                out.insert(n, *base);
            }
            None => {
                first.insert((kin, size), n);
            }
        }
    }
    out
}

/// What a label shares with those of pages that look like it: the month of a day, and for all that form; `None` where
/// it is no date.
fn kin(label: &str) -> Option<String> {
    let form: String = label.chars().map(|c| if c.is_ascii_digit() { '0' } else { c }).collect();
    let day = form.starts_with("0000-00-00");
    let others = ["0000-00", "0000-Q0", "W00"];
    let dated = day || others.iter().any(|other| form == *other || form.starts_with(&format!("{other}/")));
    // Companions of one page, as /2 and /3, are drawn each in its own way.
    let behind = label.split_once('/').map_or("", |(_, behind)| behind);
    dated.then(|| format!("{} {} {behind}", if day { &label[..7] } else { "" }, form))
}

/// A picture's pixels with those cleared that are the same in the one beneath it.
pub fn over(mut rgba: Vec<u8>, beneath: &[u8]) -> Vec<u8> {
    for (own, under) in rgba.chunks_mut(BLOCK).zip(beneath.chunks(BLOCK)) {
        // Nearly all are equal, which is asked of many at once.
        if own == under {
            own.fill(0);
            continue;
        }
        for (own, under) in own.as_chunks_mut::<4>().0.iter_mut().zip(under.as_chunks::<4>().0) {
            if own == under || own.iter().zip(under).all(|(a, b)| a.abs_diff(*b) <= SAME) {
                *own = [0; 4];
            }
        }
    }
    rgba
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_of_a_month_lie_over_its_first_and_companions_over_companions() {
        let labels = ["2027-01-01", "2027-01-01/2", "2027-01-02", "2027-01-02/2", "2027-02-01", "W01", "W02", "7", "8"];
        let size = [1, 2];
        let all = beneath(labels.iter().enumerate().map(|(n, label)| (n, Some(*label), size)));
        assert_eq!(all, BTreeMap::from([(2, 0), (3, 1), (6, 5)]));
    }

    #[test]
    fn what_is_the_same_is_clear() {
        let own = [1, 1, 1, 255, 90, 0, 0, 255];
        assert_eq!(over(own.to_vec(), &[0, 4, 2, 255, 0, 0, 0, 255]), [0, 0, 0, 0, 90, 0, 0, 255]);
    }
}
