//! Where dates lead: the tap on a number or a date must open the page of that day, or of a period that holds it.

use super::book::{Book, Sheet};
use super::day::Period;
use super::grid_days::{days, largest, parts, sound};
use super::heading::within;
use crate::validate::catalogue::{Findings, found};
use std::collections::BTreeMap;

/// Pages on which more pairs of links and texts would have to be held together are left alone.
const MAX_PAIRS: usize = 4_000_000;

/// Checks every link that lies over one date and no other.
pub fn check(book: &Book, findings: &mut Findings) {
    for (i, sheet) in book.sheets.iter().enumerate() {
        if sheet.lines.len() * sheet.facts.links.len() > MAX_PAIRS {
            continue;
        }
        let named = named(book, sheet);
        for link in &sheet.facts.links {
            let Some(goal) = link.leads.page().and_then(|page| book.sheets.get(page)) else { continue };
            let Some(there) = goal.period() else { continue };
            let mut under = named.iter().filter(|(line, _)| {
                let at = sheet.lines[**line].area.centre();
                within(link.rect, at.x, at.y)
            });
            let (Some((line, meant)), None) = (under.next(), under.next()) else { continue };
            if !meant.meets(there) {
                let (meant, there) = (meant.said(book.words), there.said(book.words));
                let text = &sheet.lines[*line].text;
                let page = link.leads.page().map_or(0, |page| page + 1);
                found!(
                    findings,
                    "date-link-astray",
                    book.at(i).rect(link.rect),
                    "\u{201c}{text}\u{201d} is {meant}, and its tap leads to page {page}, headed {there}"
                );
            }
        }
    }
}

/// What the lines of a page name: numbers of grids, and whole dates.
pub fn named(book: &Book, sheet: &Sheet) -> BTreeMap<usize, Period> {
    let mut out: BTreeMap<usize, Period> = BTreeMap::new();
    for (i, line) in sheet.lines.iter().enumerate() {
        let Some(reading) = line.reading else { continue };
        // "Mon 1" on the page of a week is the day of that week; without its weekday it may be an hour.
        let of_week = || {
            let Some(Period::Week(first, last)) = sheet.period() else { return None };
            let (Some(weekday), Some(number), None) = (reading.from.weekday, reading.from.day, reading.to) else {
                return None;
            };
            let mut days = (0..=last.since(first)).map(|n| first.plus(n));
            days.find(|day| day.number() == number && day.weekday() == weekday).map(|day| Period::Days(day, day))
        };
        out.extend(reading.period().or_else(of_week).map(|period| (i, period)));
    }
    let largest = largest(sheet);
    for (n, grid) in sheet.grids.iter().enumerate() {
        if parts(grid).is_none() {
            // One row of days on the page of a week.
            if let (Some(Period::Week(first, last)), [row]) = (sheet.period(), &grid.rows[..]) {
                for cell in &row.cells {
                    let day = (0..=last.since(first)).map(|n| first.plus(n)).find(|d| d.number() == cell.number);
                    out.extend(day.map(|day| (cell.line, Period::Days(day, day))));
                }
            }
            continue;
        }
        let Some((month, parts)) = sound(book, sheet, grid, largest == Some(n)) else { continue };
        out.extend(days(month, &parts).into_iter().map(|(line, day)| (line, Period::Days(day, day))));
        for row in &grid.rows {
            // A number behind the row may belong to the small month that stands there. All seven days, where the row shows
            // only those of its month: the number stands for the whole week.
            if let (Some((_, line)), Some(first)) = (row.week, row.cells.first())
                && sheet.lines[line].area.centre().x < sheet.lines[first.line].area.centre().x
                && let Some(Period::Days(day, _)) = out.get(&first.line).copied()
            {
                let begins = day.plus(-(first.column as i64));
                out.insert(line, Period::Week(begins, begins.plus(6)));
            }
        }
    }
    out
}
