//! Lays parts out on the areas of a page: in the densest way that it needs, on one paper or on two, band below band.

use super::super::RulingContext;
use super::super::lined::rules;
use super::super::parts::{Grid, frame, gutter};
use super::asks::Asks;
use super::bands::{
    Band, HAIR, airy, alike, all_asks, asks, band_asks, bands, gaps, kin, least_width, level, parted, seats, shares,
    sizes, stacked,
};
use super::hand::Hand;
use super::joined::joined;
use super::part::{Fill, Kind, Part};
use super::ways::{Ease, Way, ways};
use super::{boxes, columns, marks, table};
use base::model::{Drawing, Mm, Rect};
use draw::ruling::fits;
use std::cell::Cell;

/// Draws parts on the areas of a context: in the first way that leaves nothing out, else in the one that leaves out least.
pub fn draw(context: &RulingContext, parts: &[Part], pitch: f64) -> Drawing {
    let Some(first) = context.areas.first() else { return Drawing::new() };
    let mut best: Option<(usize, Drawing)> = None;
    let joined = joined(parts);
    for way in ways(pitch, *first) {
        let parts = match (way.ease, &joined) {
            (Ease::Joined, None) => continue,
            (Ease::Joined, Some(joined)) => joined.as_slice(),
            _ => parts,
        };
        let lost = Cell::new(0);
        let trial = Trial { context, parts, pitch, way, lost: &lost };
        let drawing = match context.areas.as_slice() {
            [first, second, ..] => trial.spread([*first, *second]),
            _ => trial.single(*first),
        };
        if lost.get() == 0 {
            return drawing;
        }
        if best.as_ref().is_none_or(|(least, _)| lost.get() < *least) {
            best = Some((lost.get(), drawing));
        }
    }
    best.map_or_else(Drawing::new, |(_, drawing)| drawing)
}

/// Parts that are set in one way.
struct Trial<'a> {
    context: &'a RulingContext<'a>,
    parts: &'a [Part],
    /// Distance of the lines as asked for, in points.
    pitch: f64,
    way: Way,
    /// How much found no room.
    lost: &'a Cell<usize>,
}

impl<'a> Trial<'a> {
    fn hand(&self, area: Rect, pitch: f64) -> Hand<'a> {
        Hand::new(self.context, area, pitch, (self.way, self.lost))
    }

    /// The grid of an area, and its rows: a page that is set densely fills its frame with whole or half rows.
    fn grid(&self, area: Rect, halves: bool) -> (Grid, f64) {
        let Some(pitch) = self.way.pitch.filter(|pitch| area.h >= *pitch) else {
            let grid = Grid::new(area, self.pitch);
            return (grid, grid.rows as f64);
        };
        let area = frame(area);
        let part = if halves { 2.0 } else { 1.0 };
        let rows = fits(area.h, pitch / part).max(1) as f64 / part;
        (Grid { area, pitch: area.h / rows, rows: fits(rows, 1.0) }, rows)
    }

    /// One paper: from the top down; on a wide one in two columns, where parts are narrow enough for it.
    fn single(&self, area: Rect) -> Drawing {
        let mut d = Drawing::new();
        let (grid, rows) = self.grid(area, true);
        let hand = self.hand(area, grid.pitch);
        let (head, body) = headed(self.parts);
        let columns = area.columns(2, gutter(area));
        let wide = area.w > area.h * 1.15 && area.w > Mm(150.0).pt();
        let narrow = |p: &Part| least_width(&hand, p) * 1.25 <= columns[0].w;
        if !wide || bands(body).len() < 2 || bands(body).iter().any(|b| b.len() > 1) || !body.iter().all(narrow) {
            let hand = even(&hand, self.parts, area.w);
            stack(&mut d, &hand, stacked(&hand, self.parts, area.w), (&grid, rows), 0, None);
            return d;
        }
        let (grid, _) = self.grid(area, false);
        let hand = self.hand(area, grid.pitch);
        let hand = even(&even(&hand, head, area.w), body, columns[0].w);
        let top = top(&mut d, &hand, head, &grid);
        let halves = [columns[0], columns[1]].map(|c| grid.across(c.x, c.w));
        deal(&mut d, &hand, body, halves, top);
        d
    }

    /// Two papers: fields on the first, everything else dealt out to both.
    fn spread(&self, areas: [Rect; 2]) -> Drawing {
        let mut d = Drawing::new();
        let [first, second] = areas.map(|area| self.grid(area, false).0);
        let hand = self.hand(areas[0], first.pitch);
        let hand = even(&hand, self.parts, areas[0].w);
        let (head, body) = headed(self.parts);
        // The other paper begins at the same height; a line without a name there would look like a field that lost it.
        let top = top(&mut d, &hand, head, &first);
        deal(&mut d, &hand, body, [first, second], top);
        d
    }
}

/// The hand in the one size of type in which the labels of all parts have room, and with the one form of names that several tables
/// share.
fn even<'a>(hand: &Hand<'a>, parts: &[Part], w: f64) -> Hand<'a> {
    let mut least = hand.label.size;
    for band in stacked(hand, parts, w) {
        for (part, (_, wide)) in band.iter().zip(seats(hand, &band, w)) {
            least = least.min(match part.part {
                Kind::Table => columns::size(hand, part, wide),
                Kind::Cards => boxes::card_size(hand, part, wide),
                _ => least,
            });
        }
    }
    let hand = hand.in_size(least);
    Hand { letters: letters(&hand, parts, w), ..hand }
}

/// How many letters names have that several tables share, where one of these has no room for them whole.
fn letters(hand: &Hand, parts: &[Part], w: f64) -> usize {
    let named = |part: &&Part| part.part == Kind::Table && !part.names.is_empty();
    let mut least = hand.letters;
    for band in stacked(hand, parts, w) {
        for (part, (_, wide)) in band.iter().zip(seats(hand, &band, w)).filter(|(part, _)| named(part)) {
            let shares = parts.iter().filter(named).filter(|other| other.names == part.names).count() > 1;
            let shown = columns::form(hand, part, 0.0, wide).names;
            if shares && shown != part.names {
                least = least.min(shown.iter().map(|name| name.chars().count()).max().unwrap_or(least));
            }
        }
    }
    least
}

/// Draws the fields at the top; returns the rows that they take.
fn top(d: &mut Drawing, hand: &Hand, head: &[Part], grid: &Grid) -> usize {
    let mut at = 0;
    for part in head {
        let ask = asks(hand, part, grid.area.w, at == 0);
        let rows = ask.wish.unwrap_or(ask.least);
        if at + rows + 2 <= grid.rows {
            one(d, hand, part, grid, at, at + rows);
            at += rows;
        } else {
            hand.lose(part.labels.len().max(1));
        }
    }
    at
}

/// The fields and sentences that a page begins with, and what follows them.
fn headed(parts: &[Part]) -> (&[Part], &[Part]) {
    let n = parts.iter().take_while(|p| matches!(p.part, Kind::Fields | Kind::Text) && !p.beside).count();
    // Where fields head every section, they are no head of the page.
    let again = parts[n..].windows(2).any(|p| p[0].part == Kind::Fields && p[1].part != Kind::Fields);
    if again || parts.get(n).is_some_and(|p| p.beside) { (&[], parts) } else { parts.split_at(n) }
}

/// Deals bands out to two grids: where their heights are closest; one band alone is parted, or stands on both.
fn deal(d: &mut Drawing, hand: &Hand, parts: &[Part], grids: [Grid; 2], top: usize) {
    let w = grids[0].area.w;
    let bands = stacked(hand, parts, w);
    let mut halves: [Vec<Band>; 2] = match bands.as_slice() {
        [] => return,
        [band] if band.len() > 1 => {
            let half = band.len().div_ceil(2);
            let (a, b) = band.split_at(half);
            [vec![a.to_vec()], vec![b.to_vec()]]
        }
        [band] => {
            let [a, b] = halved(&band[0]);
            [vec![vec![a]], vec![vec![b]]]
        }
        _ => {
            let rows = grids[0].rows.saturating_sub(top);
            let high: Vec<f64> = bands
                .iter()
                .map(|band| {
                    let ask = band_asks(hand, band, w, false);
                    let share = band.first().and_then(|p| p.share).unwrap_or(1.0);
                    ask.wish.map_or(ask.least as f64 + share * rows as f64 / 3.0, |wish| wish as f64)
                })
                .collect();
            let all: f64 = high.iter().sum();
            // What would stay free on a paper or a half of which nothing grows is worse than papers that are not alike.
            let grows: Vec<bool> = bands.iter().map(|band| band_asks(hand, band, w, false).wish.is_none()).collect();
            let free = |from: usize, to: usize| {
                let used: f64 = high[from..to].iter().sum();
                if grows[from..to].contains(&true) { 0.0 } else { (rows as f64 - used).max(0.0) }
            };
            let off = |n: usize| {
                let void = free(0, n) + free(n, bands.len());
                (high[..n].iter().sum::<f64>() - all / 2.0).abs() + void
            };
            // A field stays with what it heads; sections that fields head stay whole.
            let fields = |n: usize| bands[n].iter().all(|p| p.part == Kind::Fields);
            let sections = (2..bands.len() - 1).any(|n| fields(n) && !fields(n - 1) && !fields(n + 1));
            let heads = |n: &usize| !fields(n - 1) && (!sections || fields(*n));
            let n = (1..bands.len()).filter(heads).min_by(|a, b| off(*a).total_cmp(&off(*b))).unwrap_or(1);
            let (a, b) = bands.split_at(n);
            [a.to_vec(), b.to_vec()]
        }
    };
    halves.iter_mut().for_each(|bands| fill(hand, bands, w));
    // Both begin at the same height.
    let free = |grid: &Grid| grid.rows.saturating_sub(top) as f64;
    let airy = Some(halves.iter().zip(&grids).all(|(bands, grid)| airy(hand, bands, w, top, free(grid))));
    level_halves(hand, &mut halves, &grids[0], top, airy == Some(true));
    for (bands, grid) in halves.into_iter().zip(grids) {
        stack(d, hand, bands, (&grid, grid.rows as f64), top, airy);
    }
}

/// Lets bands that are alike have the same rows on both halves: as many as on the fuller half. Where one half has fewer of
/// them, such as one goal beside two, those few are higher instead: no half of a page stays free.
fn level_halves(hand: &Hand, halves: &mut [Vec<Band>; 2], grid: &Grid, top: usize, airy: bool) {
    let rows = grid.rows.saturating_sub(top) as f64;
    let before = halves.clone();
    let sizes = [0, 1].map(|half: usize| {
        let all = all_asks(hand, &before[half], grid.area.w, top, airy);
        let mut sizes = sizes(&all, &shares(&before[half]), fits(rows - gaps(&all), 1.0));
        level(&before[half], &all, &mut sizes);
        sizes
    });
    for (half, other) in [(0, 1), (1, 0)] {
        for (i, band) in halves[half].iter_mut().enumerate() {
            let many = |side: usize| before[side].iter().filter(|b| alike(b, &before[half][i])).count();
            let Some(twin) = before[other].iter().position(|b| alike(b, &before[half][i])) else { continue };
            if many(half) < many(other) {
                continue;
            }
            let size = sizes[other][twin];
            for part in band.iter_mut().filter(|_| size < sizes[half][i]) {
                if matches!(part.part, Kind::Lines | Kind::Ticks) {
                    part.rows = Some(size.saturating_sub(usize::from(!part.label.is_empty())).max(1));
                }
            }
        }
    }
}

/// Lets the last lines or rows of a half go on to its foot, where all of its parts have enough.
fn fill(hand: &Hand, bands: &mut [Band], w: f64) {
    if bands.iter().any(|band| band_asks(hand, band, w, false).wish.is_none()) {
        return;
    }
    let grows = |p: &Part| matches!(p.part, Kind::Lines | Kind::Ticks | Kind::Table);
    if let Some(band) = bands.iter_mut().rev().find(|band| band.iter().any(grows)) {
        for part in band.iter_mut().filter(|p| grows(p)) {
            part.rows = None;
            part.stretched = true;
        }
    }
}

/// A part on two papers: its boxes or named rows on both, or the same part twice.
fn halved(part: &Part) -> [Part; 2] {
    let mut halves = [part.clone(), part.clone()];
    let cut = |list: &[String]| {
        let (a, b) = list.split_at(list.len().div_ceil(2));
        [a.to_vec(), b.to_vec()]
    };
    if part.part == Kind::Boxes && part.labels.len() > 1 {
        // Of an odd number of columns with cards the first has a paper for itself.
        let half = part.labels.len() / 2;
        let slips = || [part.labels[..half].to_vec(), part.labels[half..].to_vec()];
        let [a, b] = if part.fill == Fill::Slips { slips() } else { cut(&part.labels) };
        halves[0].labels = a;
        halves[1].labels = b;
    } else if part.names.len() > 1 {
        let [a, b] = cut(&part.names);
        halves[0].names = a;
        halves[1].names = b;
    } else if let (Kind::Cards | Kind::Timeline, Some(count @ 2..)) = (part.part, part.count) {
        // A number that is given is that of both papers together.
        halves[0].count = Some(count.div_ceil(2));
        halves[1].count = Some(count / 2);
    }
    halves
}

/// Draws bands one below another, from row `top` of the grid to its last. `air` says whether names have a free row above
/// them; where it is not said they have one if there is room. `room` is the grid with its rows, the last of which may be half.
fn stack(
    d: &mut Drawing,
    hand: &Hand,
    mut bands: Vec<Band>,
    (grid, room): (&Grid, f64),
    top: usize,
    air: Option<bool>,
) {
    let w = grid.area.w;
    let rows = (room - top as f64).max(0.0);
    let mut all = all_asks(hand, &bands, w, top, false);
    let needed = |all: &[(f64, Asks)]| gaps(all) + all.iter().map(|(_, a)| a.least as f64).sum::<f64>();
    let fields = |band: &Band| band.iter().all(|p| p.part == Kind::Fields);
    let (asked, lack) = (bands.clone(), (needed(&all) - rows).max(0.0));
    while all.len() > 1 && needed(&all) > rows + HAIR {
        bands.pop();
        // Of sections that fields head, none is left in part.
        if let Some(last) = bands.iter().rposition(fields).filter(|last| !bands[..*last].iter().all(fields)) {
            bands.truncate(last);
        }
        // Fields go with what they head.
        while bands.len() > 1 && bands.last().is_some_and(fields) {
            bands.pop();
        }
        all.truncate(bands.len());
    }
    for part in asked[bands.len()..].iter().flatten() {
        let label = part.labels.first().filter(|_| part.label.is_empty()).unwrap_or(&part.label);
        hand.left_out(d, label, lack * hand.pitch, grid.area);
        hand.lose(part.labels.len() + part.names.len() + 1);
    }
    // Fields alone are no page.
    let alone = bands.iter().all(|b| b.iter().all(|p| matches!(p.part, Kind::Fields | Kind::Text)));
    let low = needed(&all) > rows + HAIR;
    if low || (alone && rows > needed(&all) + HAIR) && top == 0 && bands.len() == 1 {
        let parts = bands.iter().flatten().filter(|_| low);
        hand.lose(parts.map(|p| p.labels.len() + p.names.len() + 1).sum());
        return rules(d, hand.pen(), grid, top + 1);
    }
    if air.unwrap_or_else(|| airy(hand, &bands, w, top, rows)) {
        all = all_asks(hand, &bands, w, top, true);
    }
    let free = rows - gaps(&all);
    let mut sizes = sizes(&all, &shares(&bands), fits(free, 1.0));
    let mut over = level(&bands, &all, &mut sizes);
    // What bands that are alike leave over goes to one that stands alone, else it is air between them.
    let alone = |i: &usize| all[*i].1.wish.is_none() && kin(&bands, &all, *i).len() == 1;
    if let Some(i) = (0..bands.len()).rev().find(alone) {
        sizes[i] += over;
        over = 0;
    }
    let parted = parted(&bands, &all);
    let air = over as f64 / parted.len().max(1) as f64;
    // Half a row that is left over is shared by the free rows, or makes all rows a little higher.
    let rest = Some(free - fits(free, 1.0) as f64).filter(|rest| *rest > HAIR).unwrap_or(0.0);
    let gapped = all.iter().filter(|(gap, _)| *gap > 0.0).count();
    let (more, higher) = if gapped > 0 { (rest / gapped as f64, 1.0) } else { (0.0, rows / (rows - rest).max(1.0)) };
    let grid = &Grid { pitch: if higher > 1.0 { grid.pitch * higher } else { grid.pitch }, ..*grid };
    let (mut at, mut lower) = (top, 0.0);
    for (i, ((band, (gap, _)), size)) in bands.iter().zip(&all).zip(sizes).enumerate() {
        let whole = fits(*gap, 1.0);
        at += whole;
        lower += gap - whole as f64 + if *gap > 0.0 { more } else { 0.0 };
        if parted.contains(&i) {
            lower += air;
        }
        let grid = grid.lower(lower);
        for (part, (x, wide)) in band.iter().zip(seats(hand, band, w)) {
            one(d, hand, part, &grid.across(grid.area.x + x, wide), at, at + size);
        }
        at += size;
    }
}

/// Draws one part between two lines of a grid.
fn one(d: &mut Drawing, hand: &Hand, part: &Part, grid: &Grid, from: usize, to: usize) {
    let mut from = from;
    if !part.label.is_empty() && part.part != Kind::Text && from < to {
        if part.part == Kind::Table {
            hand.title(d, &part.label, grid, from);
        } else {
            hand.heading(d, &part.label, grid, from);
        }
        from += 1;
    }
    match part.part {
        Kind::Lines => rules(d, hand.pen(), &Grid { rows: to.min(from + part.rows.unwrap_or(to)), ..*grid }, from + 1),
        Kind::Ticks => boxes::ticks(d, hand, part, grid, from, to),
        Kind::Fields => marks::fields(d, hand, part, grid, from, to),
        Kind::Table => table::draw(d, hand, part, grid, from, to),
        Kind::Boxes => boxes::draw(d, hand, part, grid, from, to),
        Kind::Cards => boxes::cards(d, hand, part, grid, from, to),
        Kind::Dots => marks::dots(d, hand, part, grid, from, to),
        Kind::Bars => marks::bars(d, hand, part, grid, from, to),
        Kind::Rings => marks::rings(d, hand, part, grid, from, to),
        Kind::Scale => marks::scale(d, hand, part, grid, from, to),
        Kind::Timeline => marks::timeline(d, hand, part, grid, from, to),
        Kind::Text => marks::text(d, hand, part, grid, from, to),
    }
}
