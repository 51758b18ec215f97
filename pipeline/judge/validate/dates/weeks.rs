//! Numbers of weeks: each against the days beside it, by the way of counting that the file keeps to.

use super::book::{Book, Sheet};
use super::day::{Day, Period};
use super::grid_days::{days, largest, sound};
use crate::validate::catalogue::{Findings, found};
use base::model::Rect;
use std::collections::BTreeMap;

/// Fewer numbers than these show no way of counting.
const LEAST: usize = 4;
/// This share of the numbers must be right by one way of counting before the others are wrong by it.
const SHARE: f64 = 0.6;
/// So many wrong numbers that are all right by another way are two ways in one file.
const MIXED: usize = 3;

/// A way of counting weeks: its name, and the number of the week that begins on a day.
type Scheme = (&'static str, fn(Day, Day) -> u8);

/// Ways of counting. The first is ISO 8601 for weeks from Monday; the others are those of UTS 35 for other first days of
/// the week and of the year, and counts from the first week of the file.
const SCHEMES: [Scheme; 5] = [
    ("weeks by their fourth day, as ISO 8601 counts", |first, _| of_year(first.plus(3))),
    ("weeks from the one with 1 January", |first, _| of_year(first.plus(6))),
    ("weeks from the first whole one of the year", |first, _| of_year(first)),
    ("weeks by the ISO 8601 number of their Thursday", |first, _| thursday(first).iso_week()),
    ("weeks from the first of the planner", |first, start| {
        u8::try_from(first.since(start).div_euclid(7) + 1).unwrap_or(0)
    }),
];

/// A printed number of a week.
struct Printed {
    page: usize,
    area: Rect,
    number: u8,
    first: Day,
}

fn of_year(day: Day) -> u8 {
    ((day.of_year() - 1) / 7 + 1) as u8
}

/// The Thursday of the seven days that begin on a day.
fn thursday(first: Day) -> Day {
    first.plus((i64::from(3 - i16::from(first.weekday()))).rem_euclid(7))
}

/// Checks the numbers of weeks in headings and beside the rows of grids.
pub fn check(book: &Book, findings: &mut Findings) {
    let printed: Vec<Printed> = book.sheets.iter().enumerate().flat_map(|(i, sheet)| of_page(book, i, sheet)).collect();
    let Some(begin) = printed.iter().map(|p| p.first).min().filter(|_| printed.len() >= LEAST) else { return };
    // Counted from the start means from the week of the first month's first day; a grid before it may show more.
    let start = book.span().map_or(begin, |(first, _)| first);
    let start = |p: &Printed| {
        let back = i64::from((i16::from(start.weekday()) - i16::from(p.first.weekday())).rem_euclid(7));
        start.plus(-back)
    };
    let right = |scheme: &Scheme, p: &Printed| scheme.1(p.first, start(p)) == p.number;
    let count = |scheme: &Scheme| printed.iter().filter(|p| right(scheme, p)).count();
    let counts: Vec<(usize, &Scheme)> = SCHEMES.iter().map(|s| (count(s), s)).collect();
    // Of equals, the one that stands first.
    let Some((most, scheme)) = counts.into_iter().rev().max_by_key(|(n, _)| *n) else { return };
    let wrong: Vec<&Printed> = printed.iter().filter(|p| !right(scheme, p)).collect();
    let other = SCHEMES.iter().find(|other| wrong.iter().all(|p| right(other, p)));
    if let (Some(other), true) = (other, wrong.len() >= MIXED) {
        let page = |right: bool| {
            let of = |p: &&Printed| (scheme.1(p.first, start(p)) == p.number) == right;
            printed.iter().find(of).map_or(0, |p| p.page + 1)
        };
        let (here, there) = (page(true), page(false));
        let (ways, less) = ([scheme.0, other.0], wrong.len());
        found!(
            findings,
            "week-scheme-mixed",
            book.file(),
            "{most} numbers count {} (page {here}), and {less} count {} (page {there})",
            ways[0],
            ways[1]
        );
        return;
    }
    if (most as f64) < SHARE * printed.len() as f64 {
        return;
    }
    for p in wrong {
        let (is, words) = (scheme.1(p.first, start(p)), book.words);
        found!(
            findings,
            "week-number-wrong",
            book.at(p.page).rect(p.area),
            "the week from {} has the number {}, and is week {is} ({most} other numbers count {})",
            p.first.said(words),
            p.number,
            scheme.0
        );
    }
}

/// The numbers of weeks that a page prints.
fn of_page(book: &Book, page: usize, sheet: &Sheet) -> Vec<Printed> {
    let mut out = Vec::new();
    if let (Some(Period::Week(first, last)), Some(heading)) = (sheet.period(), &sheet.heading)
        && let (Some(number), 6) = (heading.reading.week, last.since(first))
    {
        out.push(Printed { page, area: heading.area, number, first });
    }
    let largest = largest(sheet);
    for (n, grid) in sheet.grids.iter().enumerate() {
        let Some((month, parts)) = sound(book, sheet, grid, largest == Some(n)) else { continue };
        let days: BTreeMap<usize, Day> = days(month, &parts).into_iter().collect();
        // A column of numbers is one of weeks where each row has one; else it is something else.
        if !grid.rows.iter().all(|row| row.week.is_some()) {
            continue;
        }
        for row in &grid.rows {
            let (Some((number, line)), Some(cell)) = (row.week, row.cells.first()) else { continue };
            let Some(day) = days.get(&cell.line) else { continue };
            let first = day.plus(-(cell.column as i64));
            out.push(Printed { page, area: sheet.lines[line].area, number, first });
        }
    }
    out
}
