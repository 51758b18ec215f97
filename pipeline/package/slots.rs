//! Which file goes into which upload slot.
//!
//! In this order: no slot over the limit; every file once; the notebook as a bare PDF where a slot is free, since
//! tablets open that most easily; as few slots as possible; things that belong together kept together. Where it all
//! cannot fit, what matters least to a buyer on the first day is left out first.

use super::archive::EMPTY;
use super::bins;
use base::model::Kind;
use std::collections::BTreeMap;

/// A file to be packed, by its figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// What it is.
    pub kind: Kind,
    /// Its bytes as a file of its own.
    pub bare: u64,
    /// What it adds to an archive.
    pub zipped: u64,
    /// Whether it may be uploaded as it is (a PDF).
    pub opens_alone: bool,
    /// The variant that it belongs to; `None` for what all share.
    pub variant: Option<usize>,
}

/// A slot: the numbers of its pieces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Slot {
    /// One file as it is.
    Bare(usize),
    /// An archive.
    Zip(Vec<usize>),
}

impl Slot {
    /// The pieces in it.
    pub fn pieces(&self) -> &[usize] {
        match self {
            Slot::Bare(i) => std::slice::from_ref(i),
            Slot::Zip(list) => list,
        }
    }
}

/// The slots for these pieces, or `None` when they need more than `files` slots of `bytes` each.
pub fn fill(pieces: &[Piece], files: usize, bytes: u64) -> Option<Vec<Slot>> {
    let capacity = bytes.saturating_sub(EMPTY);
    let alone = |p: &Piece| p.opens_alone && p.bare <= bytes;
    // A file that is too large for an archive by the bytes of its headers may still fit as it is.
    let mut bare: Vec<usize> =
        (0..pieces.len()).filter(|i| pieces[*i].zipped > capacity && alone(&pieces[*i])).collect();
    let packed = |bare: &[usize]| {
        let rest: Vec<usize> = (0..pieces.len()).filter(|i| !bare.contains(i)).collect();
        let sizes: Vec<u64> = rest.iter().map(|i| pieces[*i].zipped).collect();
        let packing = bins::fewest(&sizes, capacity)?;
        (bare.len() + bins::count(&packing) <= files).then_some((rest, packing))
    };
    let mut best = packed(&bare)?;
    let notebooks: Vec<usize> = (0..pieces.len())
        .filter(|i| pieces[*i].kind == Kind::Notebook && alone(&pieces[*i]) && !bare.contains(i))
        .collect();
    // Variants are treated alike: all of their notebooks lie bare, or none does.
    let varied = notebooks.iter().any(|i| pieces[*i].variant.is_some());
    let steps: Vec<&[usize]> = if varied { vec![&notebooks] } else { notebooks.chunks(1).collect() };
    for step in steps {
        bare.extend(step);
        match packed(&bare) {
            Some(better) => best = better,
            None => bare.truncate(bare.len() - step.len()),
        }
    }
    bare.sort_unstable();
    let (rest, packing) = best;
    let zips = together(pieces, &rest, bins::count(&packing), capacity).unwrap_or_else(|| by_bin(&rest, &packing));
    Some(in_order(pieces, bare, zips, bytes))
}

/// The same with an archive for each variant, behind what all share.
pub fn apart(pieces: &[Piece], files: usize, bytes: u64) -> Option<Vec<Slot>> {
    let capacity = bytes.saturating_sub(EMPTY);
    let mut own: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    let mut shared = Vec::new();
    for (i, piece) in pieces.iter().enumerate() {
        match piece.variant {
            Some(variant) => own.entry(variant).or_default().push(i),
            None => shared.push(i),
        }
    }
    let weight = |list: &[usize]| list.iter().map(|i| pieces[*i].zipped).sum::<u64>();
    if own.values().any(|list| weight(list) > capacity) {
        return None;
    }
    let figures: Vec<Piece> = shared.iter().map(|i| pieces[*i].clone()).collect();
    let slots = fill(&figures, files.checked_sub(own.len())?, bytes)?;
    let back = |slot: Slot| match slot {
        Slot::Bare(i) => Slot::Bare(shared[i]),
        Slot::Zip(list) => Slot::Zip(list.into_iter().map(|i| shared[i]).collect()),
    };
    Some(slots.into_iter().map(back).chain(own.into_values().map(Slot::Zip)).collect())
}

/// Pieces by the number of their bin.
fn by_bin(pieces: &[usize], packing: &[usize]) -> Vec<Vec<usize>> {
    let mut zips = vec![Vec::new(); bins::count(packing)];
    for (piece, bin) in pieces.iter().zip(packing) {
        zips[*bin].push(*piece);
    }
    zips
}

/// What belongs together: the stickers with their sheets, the papers to read and the covers, each notebook; of a variant
/// all that is its own.
fn group(piece: &Piece, index: usize) -> (u8, usize) {
    match (piece.variant, piece.kind) {
        (Some(variant), _) => (0, variant),
        (None, Kind::Notebook) => (0, index),
        (None, Kind::Sticker | Kind::Sheet) => (2, 0),
        _ => (1, 0),
    }
}

/// Packs into exactly `count` archives without tearing groups apart; where that cannot be, only the stickers are
/// dealt out, in the order of their numbers, over as few archives as possible. `None` when that cannot be either.
fn together(pieces: &[Piece], rest: &[usize], count: usize, capacity: u64) -> Option<Vec<Vec<usize>>> {
    let mut groups: Vec<((u8, usize), Vec<usize>)> = Vec::new();
    for i in rest {
        let key = group(&pieces[*i], *i);
        match groups.iter_mut().find(|(k, _)| *k == key) {
            Some((_, list)) => list.push(*i),
            None => groups.push((key, vec![*i])),
        }
    }
    groups.sort_by_key(|(key, _)| *key);
    let groups: Vec<Vec<usize>> = groups.into_iter().map(|(_, list)| list).collect();
    let weight = |list: &[usize]| list.iter().map(|i| pieces[*i].zipped).sum::<u64>();
    let sizes: Vec<u64> = groups.iter().map(|g| weight(g)).collect();
    if let Some(packing) = bins::fewest(&sizes, capacity)
        && bins::count(&packing) == count
    {
        let whole: Vec<usize> = (0..groups.len()).collect();
        let join = |bin: Vec<usize>| bin.into_iter().flat_map(|g| groups[g].clone()).collect();
        return Some(by_bin(&whole, &packing).into_iter().map(join).collect());
    }
    let (stickers, others): (Vec<usize>, Vec<usize>) =
        rest.iter().partition(|i| pieces[**i].kind == Kind::Sticker && pieces[**i].variant.is_none());
    let mut blocks: Vec<Vec<usize>> = Vec::new();
    for g in &groups {
        let block: Vec<usize> = g.iter().copied().filter(|i| others.contains(i)).collect();
        if !block.is_empty() {
            blocks.push(block);
        }
    }
    pour(&blocks.iter().map(|b| weight(b)).collect::<Vec<_>>(), &stickers, pieces, count, capacity).map(
        |(at, poured)| {
            let mut zips = poured;
            for (block, bin) in blocks.iter().zip(at) {
                zips[bin].extend(block);
            }
            zips.retain(|z| !z.is_empty());
            zips
        },
    )
}

/// More blocks than this are not tried in every arrangement: 8 blocks have 4,140.
const MOST_BLOCKS: usize = 8;

/// Tries every way to spread the blocks over the bins, pours the stickers into what room is left, and keeps the way
/// that tears the row of stickers least.
fn pour(
    blocks: &[u64],
    stickers: &[usize],
    pieces: &[Piece],
    count: usize,
    capacity: u64,
) -> Option<(Vec<usize>, Vec<Vec<usize>>)> {
    if blocks.len() > MOST_BLOCKS || count == 0 {
        return None;
    }
    let mut best: Option<(usize, Vec<usize>, Vec<Vec<usize>>)> = None;
    let mut at = vec![0; blocks.len()];
    loop {
        let mut room = vec![capacity as i128; count];
        for (size, bin) in blocks.iter().zip(&at) {
            room[*bin] -= i128::from(*size);
        }
        if room.iter().all(|r| *r >= 0)
            && let Some(poured) = deal(stickers, pieces, &room)
        {
            let torn = poured.iter().filter(|z| !z.is_empty()).count();
            if best.as_ref().is_none_or(|(least, ..)| torn < *least) {
                best = Some((torn, at.clone(), poured));
            }
        }
        // The next arrangement: bins are alike, so a block may open at most one new bin (restricted growth).
        let next = (0..at.len()).rev().find(|i| {
            let seen = at[..*i].iter().max().map_or(0, |m| m + 1);
            at[*i] < seen && at[*i] + 1 < count
        });
        let Some(i) = next else { break };
        at[i] += 1;
        at[i + 1..].fill(0);
    }
    best.map(|(_, at, poured)| (at, poured))
}

/// Deals the stickers in their order into the bins, roomiest first; a bin that is full is not gone back to.
fn deal(stickers: &[usize], pieces: &[Piece], room: &[i128]) -> Option<Vec<Vec<usize>>> {
    let mut order: Vec<usize> = (0..room.len()).collect();
    order.sort_by_key(|b| (std::cmp::Reverse(room[*b]), *b));
    let mut poured = vec![Vec::new(); room.len()];
    let mut bins = order.into_iter();
    let (mut bin, mut left) = (None, -1_i128);
    for i in stickers {
        let size = i128::from(pieces[*i].zipped);
        while bin.is_none() || left < size {
            let next = bins.next()?;
            (bin, left) = (Some(next), room[next]);
        }
        left -= size;
        if let Some(b) = bin {
            poured[b].push(*i);
        }
    }
    Some(poured)
}

/// Bare files first, then the archive with the text to read first, then the others by their first piece. An archive
/// that would hold one PDF only becomes that PDF.
fn in_order(pieces: &[Piece], bare: Vec<usize>, mut zips: Vec<Vec<usize>>, bytes: u64) -> Vec<Slot> {
    let mut slots: Vec<Slot> = bare.into_iter().map(Slot::Bare).collect();
    for zip in &mut zips {
        zip.sort_unstable();
    }
    let starts = |zip: &[usize]| zip.iter().any(|i| pieces[*i].kind == Kind::StartHere);
    zips.sort_by_key(|zip| (!starts(zip), zip.first().copied()));
    for zip in zips {
        match zip.as_slice() {
            [one] if pieces[*one].opens_alone && pieces[*one].bare <= bytes => slots.push(Slot::Bare(*one)),
            _ => slots.push(Slot::Zip(zip)),
        }
    }
    slots.sort_by_key(|s| match s {
        Slot::Bare(i) => (pieces[*i].kind != Kind::Notebook, 0),
        Slot::Zip(_) => (true, 1),
    });
    slots
}

/// The pieces to leave out so that the others fit: what matters least goes first, the stickers as a whole.
pub fn leave_out(pieces: &[Piece], files: usize, bytes: u64) -> Vec<usize> {
    let rank = |kind: Kind| match kind {
        Kind::StartHere => 0,
        Kind::Licence => 1,
        Kind::Guide => 2,
        Kind::Notebook => 3,
        Kind::Covers => 4,
        Kind::Sheet => 5,
        Kind::Sticker => 6,
        _ => 7,
    };
    let mut units: Vec<(u8, Vec<usize>)> = Vec::new();
    for (i, piece) in pieces.iter().enumerate() {
        let rank = rank(piece.kind);
        match units.iter_mut().find(|(r, _)| *r == rank && piece.kind == Kind::Sticker) {
            Some((_, list)) => list.push(i),
            None => units.push((rank, vec![i])),
        }
    }
    units.sort_by_key(|(rank, _)| *rank);
    let (mut kept, mut out): (Vec<usize>, Vec<usize>) = (Vec::new(), Vec::new());
    for (_, unit) in units {
        let mut with: Vec<usize> = kept.iter().chain(&unit).copied().collect();
        with.sort_unstable();
        let figures: Vec<Piece> = with.iter().map(|i| pieces[*i].clone()).collect();
        if fill(&figures, files, bytes).is_some() { kept = with } else { out.extend(unit) }
    }
    out.sort_unstable();
    out
}

#[cfg(test)]
mod tests;
