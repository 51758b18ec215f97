//! Days one below the other with their weekdays beside them, as in a month's list or a year's wall plan.

use super::book::{Book, Sheet};
use super::day::{Month, Period};
use super::grid_days::parts;
use super::lines::Line;
use crate::validate::catalogue::{Findings, found};
use base::model::Rect;
use std::collections::BTreeSet;

/// A column of fewer days is no list of a month.
const LEAST: usize = 10;
/// A weekday stands no further to the right of its number than so many heights of the number.
const BESIDE: f64 = 2.5;
/// Numbers of one column stand so near to each other, in heights.
const IN_LINE: f64 = 1.2;
/// How many faults of one column are named.
const NAMED: usize = 3;

/// A number and the weekdays that the word beside it may mean.
struct Pair<'a> {
    line: &'a Line,
    number: u8,
    weekdays: Vec<u8>,
}

/// Checks the columns of days on pages of months and of several months.
pub fn check(book: &Book, findings: &mut Findings) {
    for (i, sheet) in book.sheets.iter().enumerate() {
        let Some(period @ (Period::Month(_) | Period::Months(..))) = sheet.period() else { continue };
        for column in columns(pairs(book, sheet)).into_iter().filter(|column| column.len() >= LEAST) {
            let Some(month) = month(sheet, &column, period) else { continue };
            let faults: Vec<String> = column.iter().filter_map(|pair| fault(book, month, pair)).collect();
            // A column that is wrong throughout may be of another month than it seems, unless the page is of one month.
            if faults.is_empty() || !matches!(period, Period::Month(_)) && faults.len() * 2 > column.len() {
                continue;
            }
            let first = column[0].line.area;
            let last = column[column.len() - 1].line.area;
            let area = Rect { h: last.bottom() - first.y, ..first };
            let (month, more) = (month.said(book.words), faults.len().saturating_sub(NAMED));
            let more = if more > 0 { format!("; and {more} more") } else { String::new() };
            let faults = faults[..faults.len().min(NAMED)].join("; ");
            found!(findings, "date-grid-wrong", book.at(i).rect(area), "in the list of {month}, {faults}{more}");
        }
    }
}

/// The numbers of a page that have the name of a weekday at their right, and stand in no grid of a month.
fn pairs<'a>(book: &Book, sheet: &'a Sheet) -> Vec<Pair<'a>> {
    let months = sheet.grids.iter().filter(|grid| parts(grid).is_some());
    let taken: BTreeSet<usize> =
        months.flat_map(|grid| &grid.rows).flat_map(|row| row.cells.iter().map(|cell| cell.line)).collect();
    let days = sheet.lines.iter().enumerate().filter(|(i, _)| !taken.contains(i));
    days.filter_map(|(_, line)| {
        let number = line.number.filter(|n| *n <= 31)?;
        let area = line.area;
        let beside = sheet.lines.iter().filter(|other| {
            let gap = other.area.x - area.right();
            let level = (other.area.centre().y - area.centre().y).abs() <= 0.6 * area.h;
            level && (-0.1 * area.h..=BESIDE * area.h).contains(&gap)
        });
        let nearest = beside.min_by(|a, b| a.area.x.total_cmp(&b.area.x))?;
        let weekdays = book.words.heads_of(&nearest.text);
        (!weekdays.is_empty()).then_some(Pair { line, number, weekdays })
    })
    .collect()
}

/// Pairs one below the other.
fn columns(mut pairs: Vec<Pair>) -> Vec<Vec<Pair>> {
    pairs.sort_by(|a, b| a.line.area.centre().x.total_cmp(&b.line.area.centre().x));
    let mut out: Vec<Vec<Pair>> = Vec::new();
    for pair in pairs {
        let near = |column: &Vec<Pair>| {
            column.last().is_some_and(|last| {
                (pair.line.area.centre().x - last.line.area.centre().x).abs() <= IN_LINE * pair.line.area.h
            })
        };
        match out.last_mut().filter(|column| near(column)) {
            Some(column) => column.push(pair),
            None => out.push(vec![pair]),
        }
    }
    for column in &mut out {
        column.sort_by(|a, b| a.line.area.y.total_cmp(&b.line.area.y));
    }
    out
}

/// The month of a column: that of the page, or the one whose name stands over it.
fn month(sheet: &Sheet, column: &[Pair], period: Period) -> Option<Month> {
    let (first, last) = match period {
        Period::Month(month) => return Some(month),
        Period::Months(first, last) => (first, last),
        _ => return None,
    };
    let top = column[0].line.area;
    let over = sheet.lines.iter().filter_map(|line| {
        let (number, year) = line.reading?.month_only()?;
        let (gap, aside) = (top.y - line.area.bottom(), line.area.centre().x - top.centre().x);
        (0.0..6.0 * top.h).contains(&gap).then_some((gap + aside.abs(), number, year))
    });
    let (_, number, year) = over.min_by(|a, b| a.0.total_cmp(&b.0))?;
    let months = (0..=last.since(first)).map(|n| first.plus(n));
    let mut fit = months.filter(|month| month.number() == number && year.is_none_or(|year| year == month.year()));
    // Of a name that comes twice in the page's months nothing is concluded.
    fit.next().filter(|_| fit.next().is_none())
}

fn fault(book: &Book, month: Month, pair: &Pair) -> Option<String> {
    let (words, number) = (book.words, pair.number);
    let Some(day) = month.day(number) else {
        return Some(format!("there is a {number}, and {} has {} days", month.said(words), month.last().number()));
    };
    let wrong = !pair.weekdays.contains(&day.weekday());
    wrong.then(|| {
        let said: Vec<&str> = pair.weekdays.iter().map(|day| words.weekday(*day)).collect();
        format!("{number} stands beside {} and is a {}", said.join(" or "), words.weekday(day.weekday()))
    })
}
