//! The promises of the packer: limits, every file once, no slot too many, groups whole, the same answer each time.
#![allow(clippy::unwrap_used)]

use super::*;
use proptest::prelude::*;

fn pdf(kind: Kind, bare: u64) -> Piece {
    Piece { kind, bare, zipped: bare + 90, opens_alone: true, variant: None }
}

fn other(kind: Kind, bare: u64) -> Piece {
    Piece { kind, bare, zipped: bare + 90, opens_alone: false, variant: None }
}

fn used(slot: &Slot, pieces: &[Piece]) -> u64 {
    match slot {
        Slot::Bare(i) => pieces[*i].bare,
        Slot::Zip(list) => EMPTY + list.iter().map(|i| pieces[*i].zipped).sum::<u64>(),
    }
}

/// The usual product: a notebook, covers, guide, licence, start-here, stickers and a sheet.
fn usual(stickers: usize, each: u64) -> Vec<Piece> {
    let mut pieces = vec![
        pdf(Kind::Notebook, 900),
        pdf(Kind::Covers, 1_500),
        other(Kind::Sticker, each),
        pdf(Kind::Guide, 400),
        other(Kind::Licence, 40),
        other(Kind::StartHere, 30),
        pdf(Kind::Sheet, 700),
    ];
    pieces.extend(std::iter::repeat_n(other(Kind::Sticker, each), stickers - 1));
    pieces
}

#[test]
fn one_bare_notebook_and_one_zip() {
    let pieces = usual(3, 100);
    let slots = fill(&pieces, 5, 20_000).unwrap();
    assert_eq!(slots, [Slot::Bare(0), Slot::Zip((1..9).collect())]);
}

#[test]
fn one_slot_only() {
    let slots = fill(&usual(3, 100), 1, 20_000).unwrap();
    assert_eq!(slots, [Slot::Zip((0..9).collect())]);
}

#[test]
fn groups_stay_whole_where_no_slot_is_lost() {
    let pieces = usual(30, 500);
    let slots = fill(&pieces, 5, 20_000).unwrap();
    assert_eq!(slots.len(), 3, "{slots:?}");
    assert_eq!(slots[1], Slot::Zip(vec![1, 3, 4, 5]), "the papers, with the start-here text");
    assert!(slots[2].pieces().iter().all(|i| matches!(pieces[*i].kind, Kind::Sticker | Kind::Sheet)));
}

#[test]
fn stickers_are_torn_once_at_most_and_in_order() {
    let pieces = usual(60, 500);
    let slots = fill(&pieces, 5, 20_000).unwrap();
    assert_eq!(slots.len(), 3);
    let runs: Vec<Vec<usize>> = slots[1..]
        .iter()
        .map(|s| s.pieces().iter().copied().filter(|i| pieces[*i].kind == Kind::Sticker).collect())
        .collect();
    // One archive has the low numbers, the other the high ones.
    let spans: Vec<(usize, usize)> = runs.iter().map(|r: &Vec<usize>| (r[0], r[r.len() - 1])).collect();
    assert!(spans[0].1 < spans[1].0 || spans[1].1 < spans[0].0, "{spans:?}");
}

#[test]
fn a_file_that_fits_only_without_headers_is_bare() {
    let pieces = [pdf(Kind::Covers, 1_000), other(Kind::Licence, 10), other(Kind::StartHere, 10)];
    let slots = fill(&pieces, 5, 1_000).unwrap();
    assert_eq!(slots, [Slot::Bare(0), Slot::Zip(vec![1, 2])]);
}

#[test]
fn over_the_limit_the_stickers_go_first() {
    let pieces = usual(30, 1_000);
    assert!(fill(&pieces, 1, 20_000).is_none());
    let out = leave_out(&pieces, 1, 20_000);
    assert_eq!(out.len(), 30);
    assert!(out.iter().all(|i| pieces[*i].kind == Kind::Sticker));
    // A notebook that no slot takes is left out although it matters most.
    let large = [pdf(Kind::Notebook, 5_000), other(Kind::Licence, 40)];
    assert_eq!(leave_out(&large, 3, 1_000), [0]);
}

/// The fewest slots by trying everything: each piece bare or in one of the archives.
fn by_force(pieces: &[Piece], bytes: u64, notebook_bare: bool) -> Option<usize> {
    fn go(pieces: &[Piece], at: usize, zips: &mut Vec<u64>, bare: usize, bytes: u64, must: bool, best: &mut usize) {
        let Some(piece) = pieces.get(at) else {
            *best = (zips.len() + bare).min(*best);
            return;
        };
        if piece.opens_alone && piece.bare <= bytes {
            go(pieces, at + 1, zips, bare + 1, bytes, must, best);
            if must && piece.kind == Kind::Notebook {
                return;
            }
        }
        for z in 0..zips.len() {
            if zips[z] + piece.zipped <= bytes {
                zips[z] += piece.zipped;
                go(pieces, at + 1, zips, bare, bytes, must, best);
                zips[z] -= piece.zipped;
            }
        }
        if EMPTY + piece.zipped <= bytes {
            zips.push(EMPTY + piece.zipped);
            go(pieces, at + 1, zips, bare, bytes, must, best);
            zips.pop();
        }
    }
    let mut best = usize::MAX;
    go(pieces, 0, &mut Vec::new(), 0, bytes, notebook_bare, &mut best);
    (best != usize::MAX).then_some(best)
}

/// The fewest archives that stickers are torn over, of all ways to put the blocks into the bins, alike ones too.
fn torn_by_force(blocks: &[u64], stickers: &[usize], pieces: &[Piece], count: usize, capacity: u64) -> Option<usize> {
    let ways = count.pow(blocks.len() as u32);
    let torn = |way: usize| {
        let mut room = vec![i128::from(capacity); count];
        for (i, size) in blocks.iter().enumerate() {
            room[way / count.pow(i as u32) % count] -= i128::from(*size);
        }
        let poured = room.iter().all(|r| *r >= 0).then(|| deal(stickers, pieces, &room)).flatten()?;
        Some(poured.iter().filter(|z| !z.is_empty()).count())
    };
    (0..ways).filter_map(torn).min()
}

fn piece() -> impl Strategy<Value = Piece> {
    let kinds = prop_oneof![
        Just(Kind::Covers),
        Just(Kind::Guide),
        Just(Kind::Sheet),
        Just(Kind::Sticker),
        Just(Kind::Sticker),
        Just(Kind::Licence),
        Just(Kind::StartHere),
    ];
    (kinds, 50_u64..3_000, any::<bool>()).prop_map(|(kind, bare, shrinks)| {
        let opens_alone = matches!(kind, Kind::Covers | Kind::Guide | Kind::Sheet);
        Piece { kind, bare, zipped: 90 + if shrinks { bare / 2 } else { bare }, opens_alone, variant: None }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn blocks_are_spread_so_that_stickers_are_torn_least(
        blocks in prop::collection::vec(1_u64..4_000, 0..6),
        sizes in prop::collection::vec(50_u64..1_500, 0..8),
        count in 1_usize..5,
        capacity in 1_000_u64..6_000,
    ) {
        let pieces: Vec<Piece> = sizes.iter().map(|size| other(Kind::Sticker, *size)).collect();
        let stickers: Vec<usize> = (0..pieces.len()).collect();
        let made = pour(&blocks, &stickers, &pieces, count, capacity);
        let torn = made.as_ref().map(|(_, poured)| poured.iter().filter(|z| !z.is_empty()).count());
        prop_assert_eq!(torn, torn_by_force(&blocks, &stickers, &pieces, count, capacity));
        if let Some((at, poured)) = made {
            prop_assert_eq!((at.len(), poured.len()), (blocks.len(), count));
            for (bin, zip) in poured.iter().enumerate() {
                let mine: u64 = at.iter().zip(&blocks).filter(|(b, _)| **b == bin).map(|(_, size)| size).sum();
                prop_assert!(mine + zip.iter().map(|i| pieces[*i].zipped).sum::<u64>() <= capacity);
            }
        }
    }

    #[test]
    fn promises(
        mut pieces in proptest::collection::vec(piece(), 0..6),
        notebook in proptest::option::of(50_u64..3_000),
        files in 1_usize..6,
        bytes in 500_u64..5_000,
    ) {
        if let Some(bare) = notebook {
            pieces.insert(0, pdf(Kind::Notebook, bare));
        }
        let slots = fill(&pieces, files, bytes);
        let least = by_force(&pieces, bytes, false);
        // It fits whenever there is any way to make it fit.
        prop_assert_eq!(slots.is_some(), least.is_some_and(|n| n <= files));
        let Some(slots) = slots else {
            let out = leave_out(&pieces, files, bytes);
            prop_assert!(!out.is_empty());
            let rest: Vec<Piece> =
                pieces.iter().enumerate().filter(|(i, _)| !out.contains(i)).map(|(_, p)| p.clone()).collect();
            prop_assert!(fill(&rest, files, bytes).is_some());
            return Ok(());
        };
        prop_assert!(slots.len() <= files);
        for slot in &slots {
            prop_assert!(used(slot, &pieces) <= bytes, "{slot:?}");
        }
        let mut all: Vec<usize> = slots.iter().flat_map(|s| s.pieces().to_vec()).collect();
        all.sort_unstable();
        prop_assert_eq!(all, (0..pieces.len()).collect::<Vec<_>>());
        // As few as possible; with the notebook bare where that still fits.
        let bare = by_force(&pieces, bytes, true).filter(|n| *n <= files);
        let wanted = bare.or(least).unwrap();
        prop_assert_eq!(slots.len(), wanted, "{:?}", slots);
        prop_assert_eq!(&slots, &fill(&pieces, files, bytes).unwrap());
        let first_zip = slots.iter().find(|s| matches!(s, Slot::Zip(_)));
        let starts = |i: &usize| pieces[*i].kind == Kind::StartHere;
        if let (Some(zip), true) = (first_zip, (0..pieces.len()).any(|i| starts(&i))) {
            prop_assert!(zip.pieces().iter().any(starts));
        }
    }
}
