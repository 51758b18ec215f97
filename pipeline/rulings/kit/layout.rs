//! Deals the rows of the grid out to the parts of a page.

use super::super::RulingContext;
use super::super::lined::rules;
use super::super::parts::{Grid, frame, gutter};
use super::asks::Asks;
use super::hand::Hand;
use super::part::{Fill, Kind, Part};
use super::ways::{Ease, Way, ways};
use super::{boxes, columns, marks, table};
use base::model::{Drawing, Mm, Rect};
use draw::ruling::fits;
use std::cell::Cell;

/// Parts that stand side by side.
type Band = Vec<Part>;

/// A hair of rounding, in rows.
const HAIR: f64 = 1e-6;

/// Draws parts on the areas of a context: in the first way that leaves nothing out, else in the one that leaves out least.
pub fn draw(context: &RulingContext, parts: &[Part], pitch: f64) -> Drawing {
    let Some(first) = context.areas.first() else { return Drawing::new() };
    let mut best: Option<(usize, Drawing)> = None;
    for way in ways(pitch, *first) {
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

/// The hand in the one size of type in which the labels of all parts have room.
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
    hand.in_size(least)
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
            let off = |n: usize| (high[..n].iter().sum::<f64>() - all / 2.0).abs();
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

fn bands(parts: &[Part]) -> Vec<Band> {
    let mut out: Vec<Band> = Vec::new();
    for part in parts {
        match out.last_mut() {
            Some(band) if part.beside => band.push(part.clone()),
            _ => out.push(vec![part.clone()]),
        }
    }
    out
}

/// The bands of a page, with those broken up whose parts have no width to stand side by side.
fn stacked(hand: &Hand, parts: &[Part], w: f64) -> Vec<Band> {
    bands(parts).into_iter().flat_map(|band| beside(hand, band, w)).collect()
}

fn beside(hand: &Hand, band: Band, w: f64) -> Vec<Band> {
    let fits = seats(hand, &band, w).iter().zip(&band).all(|(seat, part)| least_width(hand, part) <= seat.1 + 1e-6);
    if band.len() == 1 || fits {
        return vec![band];
    }
    // What stood side by side was equally high.
    let share = band[0].share;
    band.into_iter().map(|part| vec![Part { share: part.share.or(share), ..part }]).collect()
}

/// Where the parts of a band stand: distance from the left, and width.
fn seats(hand: &Hand, band: &[Part], w: f64) -> Vec<(f64, f64)> {
    let gap = gutter(Rect::new(0.0, 0.0, w, 1.0)).max(hand.pitch * 0.5);
    let all: f64 = band.iter().map(|p| p.width.unwrap_or(1.0)).sum();
    let free = (w - gap * (band.len() - 1) as f64).max(0.0);
    let mut x = 0.0;
    let seat = |p: &Part| {
        let wide = free * p.width.unwrap_or(1.0) / all;
        x += wide + gap;
        (x - wide - gap, wide)
    };
    band.iter().map(seat).collect()
}

/// The least width that a part can stand in.
fn least_width(hand: &Hand, part: &Part) -> f64 {
    match part.part {
        Kind::Table => table::least_width(hand, part),
        Kind::Dots | Kind::Bars | Kind::Timeline | Kind::Scale => Mm(50.0).pt(),
        _ => Mm(42.0).pt(),
    }
}

/// The least lines, or rows to tick, under a name.
fn least_rows(hand: &Hand, part: &Part) -> usize {
    let least = match (hand.way.ease, part.rows, part.part) {
        (Ease::Easy, None, Kind::Ticks) => 5,
        (Ease::Easy, None, _) => 4,
        (Ease::Easy | Ease::Usual | Ease::Part, ..) => 2,
        (Ease::Close | Ease::Bare, ..) => 1,
    };
    part.rows.map_or(least, |rows| rows.min(least))
}

/// What a part asks for in a width.
fn asks(hand: &Hand, part: &Part, w: f64, first: bool) -> Asks {
    let named = usize::from(!part.label.is_empty() && part.part != Kind::Text);
    match part.part {
        Kind::Fields => marks::fields_asks(hand, part, w, first),
        Kind::Lines | Kind::Ticks => {
            let least = named + least_rows(hand, part);
            part.rows.map_or(Asks::from(least), |rows| Asks::between(least, named + rows))
        }
        Kind::Table => table::asks(hand, part, w, named),
        Kind::Boxes => boxes::asks(hand, part, w, named),
        Kind::Cards => boxes::card_asks(part, named),
        Kind::Dots | Kind::Bars | Kind::Rings | Kind::Scale | Kind::Timeline | Kind::Text => {
            marks::asks(hand, part, w, named)
        }
    }
}

fn band_asks(hand: &Hand, band: &[Part], w: f64, first: bool) -> Asks {
    let seats = seats(hand, band, w);
    let all: Vec<Asks> = band.iter().zip(&seats).map(|(p, s)| asks(hand, p, s.1, first)).collect();
    let least = all.iter().map(|a| a.least).max().unwrap_or(0);
    let wish = all.iter().map(|a| a.wish).reduce(|a, b| Some(a?.max(b?))).flatten();
    let whole = all.iter().map(|a| a.whole).max().unwrap_or(0);
    Asks { least, whole, wish, step: if all.len() == 1 { all[0].step } else { (0, 1) } }
}

/// The free rows above band `i`: one in the airy layout, else as many as the way has at the least.
fn gap(hand: &Hand, bands: &[Band], i: usize, top: usize, airy: bool) -> f64 {
    let below_text = i > 0 && bands[i - 1].iter().all(|p| p.part == Kind::Text);
    let below = (i > 0 || top > 0) && !below_text;
    let of = |p: &Part| match (begins_with_name(p), own_gap(p)) {
        (false, true) => 0.0,
        _ if airy => 1.0,
        (true, _) => hand.way.air,
        (false, false) => hand.way.space,
    };
    if below { bands[i].iter().map(of).fold(0.0, f64::max) } else { 0.0 }
}

/// Each band's free rows above it, and what it asks for.
fn all_asks(hand: &Hand, bands: &[Band], w: f64, top: usize, airy: bool) -> Vec<(f64, Asks)> {
    let ask =
        |(i, band): (usize, &Band)| (gap(hand, bands, i, top, airy), band_asks(hand, band, w, top == 0 && i == 0));
    bands.iter().enumerate().map(ask).collect()
}

/// All free rows above bands.
fn gaps(all: &[(f64, Asks)]) -> f64 {
    all.iter().map(|(gap, _)| gap).sum()
}

/// Whether there is room for a free row above every name, with nothing missing for it.
fn airy(hand: &Hand, bands: &[Band], w: f64, top: usize, rows: f64) -> bool {
    let all = all_asks(hand, bands, w, top, true);
    gaps(&all) + all.iter().map(|(_, a)| a.least.max(a.whole) as f64).sum::<f64>() <= rows + HAIR
}

fn shares(bands: &[Band]) -> Vec<f64> {
    bands.iter().map(|b| b.first().and_then(|p| p.share).unwrap_or(1.0)).collect()
}

/// Whether two bands hold the same thing, such as the steps of two goals.
fn alike(a: &[Part], b: &[Part]) -> bool {
    let same = |(a, b): (&Part, &Part)| {
        a.part == b.part
            && (&a.label, &a.labels, &a.names) == (&b.label, &b.labels, &b.names)
            && (a.rows, a.columns, a.count, a.share) == (b.rows, b.columns, b.count, b.share)
    };
    a.len() == b.len() && a.iter().zip(b).all(same)
}

/// Gives bands that are alike the same rows; returns the rows that are left over.
fn level(bands: &[Band], all: &[(f64, Asks)], sizes: &mut [usize]) -> usize {
    let mut over = 0;
    for i in 0..bands.len() {
        let kin = kin(bands, all, i);
        let sum: usize = kin.iter().map(|j| sizes[*j]).sum();
        let each = sum / kin.len().max(1);
        over += sum - each * kin.len();
        kin.into_iter().for_each(|j| sizes[j] = each);
    }
    over
}

/// The bands that are like band `i`, itself among them.
fn kin(bands: &[Band], all: &[(f64, Asks)], i: usize) -> Vec<usize> {
    (0..bands.len()).filter(|j| all[*j].1.least == all[i].1.least && alike(&bands[*j], &bands[i])).collect()
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

/// The bands above which the air goes that those which are alike leave over: the fields that head a section, else those
/// bands themselves.
fn parted(bands: &[Band], all: &[(f64, Asks)]) -> Vec<usize> {
    let twin = |i: usize| i < bands.len() && kin(bands, all, i).len() > 1;
    let fields = |i: &usize| bands[*i].iter().all(|p| p.part == Kind::Fields);
    let heads: Vec<usize> = (1..bands.len()).filter(|i| fields(i) && twin(i + 1)).collect();
    if heads.is_empty() { (1..bands.len()).filter(|i| twin(*i)).collect() } else { heads }
}

/// Whether a part begins with the row of a name.
fn begins_with_name(part: &Part) -> bool {
    match part.part {
        Kind::Text => false,
        Kind::Boxes => !part.label.is_empty() || part.labels.iter().any(|l| !l.is_empty()),
        _ => !part.label.is_empty(),
    }
}

/// Whether a part without a name brings the space above it along.
fn own_gap(part: &Part) -> bool {
    matches!(part.part, Kind::Fields | Kind::Text)
}

/// Rows for each band: what it needs, what is enough for it, and of what is left over its share.
fn sizes(all: &[(f64, Asks)], shares: &[f64], rows: usize) -> Vec<usize> {
    let mut sizes: Vec<usize> = all.iter().map(|(_, a)| a.least).collect();
    let mut free = rows.saturating_sub(all.iter().map(|(_, a)| a.least).sum());
    for (size, (_, a)) in sizes.iter_mut().zip(all) {
        let more = a.whole.saturating_sub(*size).min(free);
        *size += more;
        free -= more;
    }
    let open: Vec<usize> = (0..all.len()).filter(|i| all[*i].1.wish.is_none()).collect();
    // A row at a time to each until all wishes are met; the others are not to fall behind by more than so many rows.
    let (start, ahead) = (sizes.clone(), 3);
    loop {
        let wants = |i: &usize| match all[*i].1.wish {
            Some(wish) => sizes[*i] < wish,
            None => all[*i].1.step.1 == 1 && sizes[*i] < start[*i] + ahead,
        };
        let round: Vec<usize> = (0..all.len()).filter(wants).take(free).collect();
        if !round.iter().any(|i| all[*i].1.wish.is_some()) {
            break;
        }
        free -= round.len();
        round.into_iter().for_each(|i| sizes[i] += 1);
    }
    // Rows of several lines are whole, where others can use what is over.
    for (size, (_, a)) in sizes.iter_mut().zip(all).filter(|_| !open.is_empty()) {
        let (fixed, step) = a.step;
        if a.wish.is_some() && step > 1 && *size > fixed {
            let over = ((*size - fixed) % step).min(*size - a.least.max(a.whole).min(*size));
            *size -= over;
            free += over;
        }
    }
    let mut share: f64 = open.iter().map(|i| shares[*i]).sum();
    // Those with steps first: what they cannot use goes to the others.
    let mut order = open.clone();
    order.sort_by_key(|i| all[*i].1.step.1 == 1);
    for i in order {
        let own = if share > 0.0 { (free as f64 * shares[i] / share).round() as usize } else { 0 };
        let (fixed, step) = all[i].1.step;
        let whole = |size: usize| fixed + (size.saturating_sub(fixed) as f64 / step as f64).round() as usize * step;
        let size = whole(sizes[i] + own.min(free)).max(sizes[i]);
        let size = if size > sizes[i] + free { size.saturating_sub(step).max(sizes[i]) } else { size };
        free -= size - sizes[i];
        share -= shares[i];
        sizes[i] = size;
    }
    // What none can use whole: rows with steps become a little higher, and end where the page ends.
    if let Some(i) = open.iter().rev().find(|i| all[**i].1.step.1 > 1) {
        sizes[*i] += free;
    }
    sizes
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
