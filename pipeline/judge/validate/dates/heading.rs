//! What a page is headed by: the largest date on it, and what stands beside that and completes it.

use super::day::Period;
use super::grid::Grid;
use super::lines::Line;
use super::phrase::{Part, Reading};
use base::model::Rect;
use base::model::facts::PageFacts;
use std::collections::BTreeSet;

/// What belongs to a heading is at least so high, as a share of its largest text.
const SMALLEST: f64 = 0.18;
/// It stands no further above or below than so many times the height of the largest text.
const NEAR: f64 = 2.2;
/// Texts whose heights differ by less than this share are of one rank.
const RANK: f64 = 0.06;
/// More dates than so many on a page are not weighed against each other.
const MAX_DATES: usize = 400;

/// The heading of a page.
#[derive(Clone, Debug)]
pub struct Heading {
    /// What it says, taken together.
    pub reading: Reading,
    /// The period, where it says enough for one.
    pub period: Option<Period>,
    /// Where its largest text stands.
    pub area: Rect,
    /// The name of a weekday in it that does not stand within the date.
    pub weekday: Option<u8>,
}

/// Finds the heading of a page.
pub fn find(page: &PageFacts, lines: &[Line], grids: &[Grid]) -> Option<Heading> {
    let in_grid: BTreeSet<usize> = grids
        .iter()
        .flat_map(|g| g.heads.iter().copied().chain(g.rows.iter().flat_map(|r| r.cells.iter().map(|c| c.line))))
        .collect();
    let dates: Vec<(&Line, Reading)> = lines
        .iter()
        .enumerate()
        .filter(|(i, _)| !in_grid.contains(i))
        .filter_map(|(_, line)| Some((line, line.reading?)))
        .collect();
    if dates.len() > MAX_DATES {
        return None;
    }
    let tapped = |line: &Line| {
        let at = line.area.centre();
        page.links.iter().any(|l| l.leads.page().is_some() && within(l.rect, at.x, at.y))
    };
    let names = |r: &Reading| r.names_something();
    let tallest = |free: bool| {
        let of = dates.iter().filter(|(line, r)| names(r) && (!free || !tapped(line)));
        // The tallest, of equal ones the first from the top.
        of.rev().max_by(|(a, _), (b, _)| a.area.h.total_cmp(&b.area.h)).copied()
    };
    let (free, any) = (tallest(true), tallest(false)?);
    // Tabs and steps are tapped; a heading may be, too, where it is much larger than any other date.
    let (lead, reading) = match free {
        Some(free) if free.0.area.h * 1.6 >= any.0.area.h => free,
        _ if any.1.from.year.is_some() || any.0.area.h > 1.6 * free.map_or(0.0, |f| f.0.area.h) => any,
        _ => free?,
    };
    // Texts of one rank that say other things: a list, or the days of a double page or of a week.
    // Where the lead itself is tapped, as in an index, so may they be.
    let linked = tapped(lead);
    let peers: Vec<Reading> = dates
        .iter()
        .filter(|(line, r)| names(r) && (line.area.h - lead.area.h).abs() <= RANK * lead.area.h)
        .filter(|(line, _)| linked || !tapped(line))
        .map(|(_, r)| *r)
        .collect();
    let whole = |r: &Reading| r.period();
    let (mut days, others): (Vec<Reading>, Vec<Reading>) =
        peers.iter().copied().partition(|r| matches!(r.period(), Some(Period::Days(a, b)) if a == b));
    if days.len() >= 2 && others.is_empty() {
        days.sort_by_key(|r| r.period().map(Period::first));
        days.dedup();
        let ends = (days.first().and_then(whole), days.last().and_then(whole));
        let (Some(first), Some(last)) = (ends.0.map(Period::first), ends.1.map(Period::last)) else { return None };
        let period = match last.since(first) {
            0 => Period::Days(first, last),
            n if n + 1 != days.len() as i64 || n > 6 => return None,
            1 => Period::Days(first, last),
            _ => Period::Week(first, last),
        };
        let reading = days[0];
        return Some(Heading { reading, period: Some(period), area: lead.area, weekday: None });
    }
    let month_of = |r: &Reading| r.month_only();
    if month_of(&reading).is_some() && peers.iter().any(|r| month_of(r).is_some() && month_of(r) != month_of(&reading))
    {
        return None;
    }
    Some(joined(lead, reading, &dates))
}

/// The heading together with what stands near it and completes it.
fn joined(lead: &Line, reading: Reading, dates: &[(&Line, Reading)]) -> Heading {
    let away = |line: &Line| {
        let (a, b) = (lead.area, line.area);
        let down = (b.y - a.bottom()).max(a.y - b.bottom()).max(0.0);
        let across = (b.x - a.right()).max(a.x - b.right()).max(0.0);
        (down, across)
    };
    let mut near: Vec<(&Line, Reading)> = dates
        .iter()
        .filter(|(line, r)| !std::ptr::eq(*line, lead) && line.area.h >= SMALLEST * lead.area.h && *r != reading)
        .filter(|(line, _)| away(line).0 <= NEAR * lead.area.h)
        .copied()
        .collect();
    // A weekday and the number of a week are completed by days first; then the larger one belongs to it, and of equal
    // ones the nearer.
    let wants_days = reading.week.is_some() || reading.from.weekday.is_some() && reading.from.month.is_none();
    near.sort_by(|(a, p), (b, q)| {
        let distance = |line: &Line| 2.0 * away(line).0 + away(line).1;
        let late = |r: &Reading| wants_days && !(r.from.day.is_some() && r.from.month.is_some());
        let size = b.area.h.total_cmp(&a.area.h);
        late(p).cmp(&late(q)).then(size).then(distance(a).total_cmp(&distance(b)))
    });
    let bare = Part { weekday: reading.from.weekday, ..Part::default() };
    let weekday = reading.from.weekday.filter(|_| reading.from == bare && reading.to.is_none());
    // A weekday of its own is held against the date, and must not stand in the way of one that says another.
    let mut all = Reading {
        from: Part { weekday: reading.from.weekday.filter(|_| weekday.is_none()), ..reading.from },
        ..reading
    };
    let year_alone =
        |r: &Reading| r.period().is_some() && r.from.month.is_none() && r.quarter.is_none() && r.to.is_none();
    let mut beside = weekday;
    for (line, other) in near {
        if year_alone(&all) {
            // A year is complete by itself, but may stand above the name of its month, or beside its quarter.
            let month = other.month_only().filter(|(_, year)| year.is_none_or(|year| Some(year) == all.from.year));
            let one = month.is_some() && dates.iter().filter(|(_, r)| r.month_only().is_some()).count() == 1;
            let fits = one && line.area.h >= 0.4 * lead.area.h || other.quarter.is_some() && other.from.year.is_none();
            if !fits {
                continue;
            }
        } else if all.period().is_some() && !finer(&all, &other, line.area.h / lead.area.h) {
            continue;
        }
        // The number of a quarter is completed by its year or its months, and by none of its months alone.
        if all.quarter.is_some() && other.quarter.is_none() && other.from.month.is_some() && other.to.is_none() {
            continue;
        }
        // The name of a month is not completed by a day in it.
        if all.month_only().is_some() && other.from.day.is_some() && other.from.month.is_some() {
            continue;
        }
        let lone = Part { weekday: other.from.weekday, ..Part::default() };
        if other.from == lone && other.to.is_none() && other.from.weekday.is_some() && other.week.is_none() {
            beside = beside.or(other.from.weekday);
            continue;
        }
        // A day in a column of days below each other is one of a list.
        if dates.iter().filter(|(other, r)| listed(line, other) && one_of_days(r)).count() >= 4 && one_of_days(&other) {
            continue;
        }
        // A bare number is a day only beside the name of its weekday.
        if !other.names_something() && beside.is_none() {
            continue;
        }
        if let Some(both) = all.with(other) {
            all = both;
        }
    }
    // A number as large as the heading is its day: "14" above "March 2027".
    Heading { reading: all, period: all.period(), area: lead.area, weekday: beside }
}

/// Whether two texts of one size begin below each other.
fn listed(a: &Line, b: &Line) -> bool {
    (a.area.x - b.area.x).abs() <= a.area.h && (a.area.h - b.area.h).abs() <= RANK * a.area.h
}

/// A day without its month.
fn one_of_days(r: &Reading) -> bool {
    r.from.day.is_some() && r.from.month.is_none()
}

/// Whether a reading makes a complete one more exact: the number of a day beside its weekday and month.
fn finer(all: &Reading, other: &Reading, size: f64) -> bool {
    let day = size >= 0.6 && other.from.day.is_some() && all.month_only().is_some();
    let bare = Part { day: other.from.day, ..Part::default() };
    let lone = Part { weekday: other.from.weekday, ..Part::default() };
    let alone = other.to.is_none() && other.week.is_none();
    alone && (day && other.from == bare || size >= 0.35 && other.from == lone)
}

/// Whether a point lies in a rectangle.
pub fn within(rect: Rect, x: f64, y: f64) -> bool {
    x >= rect.x && x <= rect.right() && y >= rect.y && y <= rect.bottom()
}
