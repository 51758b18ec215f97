//! The grids of months: each number once, each under its weekday.

use super::book::{Book, Sheet};
use super::day::{Month, Period};
use super::grid::{Cell, Grid};
use super::grid_days::{faults, largest, months, parts};
use crate::validate::catalogue::{Findings, found};

/// How many faults of one grid are named.
const NAMED: usize = 3;

/// Checks every grid of every page.
pub fn check(book: &Book, findings: &mut Findings) {
    for (i, sheet) in book.sheets.iter().enumerate() {
        let largest = largest(sheet);
        for (n, grid) in sheet.grids.iter().enumerate() {
            let area = sheet.lines[grid.heads[0]].area;
            let at = || book.at(i).rect(base::model::Rect { w: grid.spans[1] - grid.spans[0] + area.w, ..area });
            match parts(grid) {
                Some(parts) => {
                    let months = months(book, sheet, grid, largest == Some(n));
                    let faults: Vec<(Month, Vec<String>)> =
                        months.iter().map(|m| (*m, faults(book, *m, grid, &parts))).collect();
                    // Where the year is not said, any that fits will do.
                    if faults.is_empty() || faults.iter().any(|(_, faults)| faults.is_empty()) {
                        continue;
                    }
                    let Some((month, faults)) = faults.into_iter().min_by_key(|(_, faults)| faults.len()) else {
                        continue;
                    };
                    let month = month.said(book.words);
                    found!(findings, "date-grid-wrong", at(), "in {month}, {}", several(&faults));
                }
                None => {
                    let faults = strip(book, sheet, grid);
                    if !faults.is_empty() {
                        found!(findings, "date-grid-wrong", at(), "{}", several(&faults));
                    }
                }
            }
        }
    }
}

fn several(faults: &[String]) -> String {
    let more = faults.len().saturating_sub(NAMED);
    let named = faults.iter().take(NAMED).cloned().collect::<Vec<_>>().join("; ");
    if more == 0 { named } else { format!("{named}; and {more} more") }
}

/// What is wrong with one row of days under weekdays on the page of a week.
fn strip(book: &Book, sheet: &Sheet, grid: &Grid) -> Vec<String> {
    let (Some(Period::Week(first, last)), [row]) = (sheet.period(), &grid.rows[..]) else { return Vec::new() };
    if row.cells.len() < 5 || last.since(first) < 4 {
        return Vec::new();
    }
    let words = book.words;
    let mut out = Vec::new();
    let days: Vec<_> = (0..=last.since(first)).map(|n| first.plus(n)).collect();
    // Numbers of something else, as hours, stand there in no order of the week.
    let known = |cell: &&Cell| days.iter().any(|day| day.number() == cell.number);
    if row.cells.iter().filter(known).count() * 2 < row.cells.len() {
        return out;
    }
    for cell in &row.cells {
        let weekday = grid.weekdays[cell.column];
        let name = words.weekday(weekday);
        match days.iter().find(|day| day.weekday() == weekday) {
            Some(day) if day.number() != cell.number => {
                out.push(format!("{} stands under {name}, which is {}", cell.number, day.said(words)));
            }
            _ => {}
        }
    }
    out
}
