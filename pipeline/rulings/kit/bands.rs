//! Bands of parts, from the top down: which stand side by side, how many rows each asks for, and how the rows of a page are dealt
//! out to them.

use super::super::parts::gutter;
use super::asks::Asks;
use super::hand::Hand;
use super::part::{Kind, Part};
use super::ways::Ease;
use super::{boxes, marks, table};
use base::model::{Mm, Rect};

/// Parts that stand side by side.
pub type Band = Vec<Part>;

/// A hair of rounding, in rows.
pub const HAIR: f64 = 1e-6;

/// Parts as bands.
pub fn bands(parts: &[Part]) -> Vec<Band> {
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
pub fn stacked(hand: &Hand, parts: &[Part], w: f64) -> Vec<Band> {
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
pub fn seats(hand: &Hand, band: &[Part], w: f64) -> Vec<(f64, f64)> {
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
pub fn least_width(hand: &Hand, part: &Part) -> f64 {
    match part.part {
        Kind::Table => table::least_width(hand, part),
        Kind::Dots | Kind::Bars | Kind::Timeline | Kind::Scale => Mm(50.0).pt(),
        // Below each other they would have a line or two on a crowded phone's page.
        Kind::Lines | Kind::Ticks if hand.phone && hand.way.ease <= Ease::Close => Mm(20.0).pt(),
        _ => Mm(42.0).pt(),
    }
}

/// The least lines, or rows to tick, under a name.
fn least_rows(hand: &Hand, part: &Part) -> usize {
    let least = match (hand.way.ease, part.rows, part.part) {
        (Ease::Easy, None, Kind::Ticks) => 5,
        (Ease::Easy, None, _) => 4,
        (Ease::Easy | Ease::Usual | Ease::Part, ..) => 2,
        (Ease::Close | Ease::Bare | Ease::Written | Ease::Joined, ..) => 1,
    };
    part.rows.map_or(least, |rows| rows.min(least))
}

/// What a part asks for in a width.
pub fn asks(hand: &Hand, part: &Part, w: f64, first: bool) -> Asks {
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

/// What a band asks for in a width.
pub fn band_asks(hand: &Hand, band: &[Part], w: f64, first: bool) -> Asks {
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
pub fn all_asks(hand: &Hand, bands: &[Band], w: f64, top: usize, airy: bool) -> Vec<(f64, Asks)> {
    let ask =
        |(i, band): (usize, &Band)| (gap(hand, bands, i, top, airy), band_asks(hand, band, w, top == 0 && i == 0));
    bands.iter().enumerate().map(ask).collect()
}

/// All free rows above bands.
pub fn gaps(all: &[(f64, Asks)]) -> f64 {
    all.iter().map(|(gap, _)| gap).sum()
}

/// Whether there is room for a free row above every name, with nothing missing for it.
pub fn airy(hand: &Hand, bands: &[Band], w: f64, top: usize, rows: f64) -> bool {
    let all = all_asks(hand, bands, w, top, true);
    gaps(&all) + all.iter().map(|(_, a)| a.least.max(a.whole) as f64).sum::<f64>() <= rows + HAIR
}

/// Each band's share of what is left over.
pub fn shares(bands: &[Band]) -> Vec<f64> {
    bands.iter().map(|b| b.first().and_then(|p| p.share).unwrap_or(1.0)).collect()
}

/// Whether two bands hold the same thing, such as the steps of two goals.
pub fn alike(a: &[Part], b: &[Part]) -> bool {
    let same = |(a, b): (&Part, &Part)| {
        a.part == b.part
            && (&a.label, &a.labels, &a.names) == (&b.label, &b.labels, &b.names)
            && (a.rows, a.columns, a.count, a.share) == (b.rows, b.columns, b.count, b.share)
    };
    a.len() == b.len() && a.iter().zip(b).all(same)
}

/// Gives bands that are alike the same rows; returns the rows that are left over.
pub fn level(bands: &[Band], all: &[(f64, Asks)], sizes: &mut [usize]) -> usize {
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
pub fn kin(bands: &[Band], all: &[(f64, Asks)], i: usize) -> Vec<usize> {
    (0..bands.len()).filter(|j| all[*j].1.least == all[i].1.least && alike(&bands[*j], &bands[i])).collect()
}

/// The bands above which the air goes that those which are alike leave over: the fields that head a section, else those
/// bands themselves.
pub fn parted(bands: &[Band], all: &[(f64, Asks)]) -> Vec<usize> {
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
pub fn sizes(all: &[(f64, Asks)], shares: &[f64], rows: usize) -> Vec<usize> {
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
