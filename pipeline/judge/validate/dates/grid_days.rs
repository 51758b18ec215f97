//! Which days the numbers of a grid are.

use super::book::{Book, Sheet};
use super::day::{Day, Month, Period};
use super::grid::{Cell, Grid};

/// A grid with fewer numbers of one month is no grid of a month.
const LEAST: usize = 20;

/// The cells of a grid, told apart by their months.
pub struct Parts {
    /// Days of the month before.
    pub before: Vec<Cell>,
    /// Days of the month itself.
    pub own: Vec<Cell>,
    /// Days of the month after.
    pub after: Vec<Cell>,
}

/// Tells the days of a month's grid from those of its neighbours; `None` where it is no grid of a month.
pub fn parts(grid: &Grid) -> Option<Parts> {
    let cells: Vec<Cell> = grid.rows.iter().flat_map(|row| row.cells.iter().copied()).collect();
    // Days of the month before are high numbers in the first row.
    let begin = cells.iter().position(|c| c.number <= 15)?;
    let one_row = grid.rows.first().map_or(0, |row| row.cells.len());
    if begin > one_row {
        return None;
    }
    let turned = |i: &usize| cells[*i].number <= 14 && cells[*i].number + 14 < cells[*i - 1].number;
    let end = (begin + LEAST..cells.len()).find(turned).unwrap_or(cells.len());
    let (before, rest) = cells.split_at(begin);
    let (own, after) = rest.split_at(end - begin);
    (own.len() >= LEAST).then(|| Parts { before: before.to_vec(), own: own.to_vec(), after: after.to_vec() })
}

/// The months that a grid may be of by its title and by its page: one where the year is known. The largest grid on the page
/// of a month may be of that month whatever stands above it: the name beside an arrow is nearer to it than the heading.
pub fn months(book: &Book, sheet: &Sheet, grid: &Grid, largest: bool) -> Vec<Month> {
    let mut months = titled(book, sheet, grid);
    if let (true, Some(Period::Month(month))) = (largest, sheet.period())
        && !months.contains(&month)
    {
        months.insert(0, month);
    }
    months
}

fn titled(book: &Book, sheet: &Sheet, grid: &Grid) -> Vec<Month> {
    let title = grid.title.and_then(|line| sheet.lines[line].reading).and_then(|r| r.month_only());
    let period = sheet.period();
    let Some((number, year)) = title else { return Vec::new() };
    if let Some(year) = year {
        return vec![Month::new(year, number)];
    }
    let all = |years: &mut dyn Iterator<Item = i32>| years.map(|y| Month::new(y, number)).collect::<Vec<_>>();
    if let Some(period) = period {
        // The month of this name that lies within the page's period or, of small months beside, next to it.
        let (first, last) = (period.first().in_month(), period.last().in_month());
        let near = all(&mut (first.year() - 1..=last.year() + 1));
        let away = |m: &Month| (first.since(*m)).max(m.since(last)).max(0);
        let least = near.iter().map(away).min().unwrap_or(0);
        let inside: Vec<Month> = near.into_iter().filter(|m| away(m) == least).collect();
        if least <= 3 {
            return inside;
        }
    }
    all(&mut book.years.iter().copied())
}

/// The day that each number of a grid is, by its line.
pub fn days(month: Month, parts: &Parts) -> Vec<(usize, Day)> {
    let of = |month: Month, cells: &[Cell]| -> Vec<(usize, Day)> {
        cells.iter().filter_map(|c| Some((c.line, month.day(c.number)?))).collect()
    };
    [of(month.plus(-1), &parts.before), of(month, &parts.own), of(month.plus(1), &parts.after)].concat()
}

/// The grid of a page with the widest columns, if no other is as wide.
pub fn largest(sheet: &Sheet) -> Option<usize> {
    // Small ones come first.
    let last = sheet.grids.len().checked_sub(1)?;
    let alone = last == 0 || sheet.grids[last - 1].pitch < 0.9 * sheet.grids[last].pitch;
    alone.then_some(last)
}

/// What is wrong with the grid of a month.
pub fn faults(book: &Book, month: Month, grid: &Grid, parts: &Parts) -> Vec<String> {
    let words = book.words;
    let mut out = Vec::new();
    let under = |cell: &Cell, of: Month, out: &mut Vec<String>| match of.day(cell.number) {
        None => out.push(format!("there is a {}, and {} has {} days", cell.number, of.said(words), of.last().number())),
        Some(day) if day.weekday() != grid.weekdays[cell.column] => {
            let (said, is) = (words.weekday(grid.weekdays[cell.column]), words.weekday(day.weekday()));
            out.push(format!("{} stands under {said} and is a {is}", cell.number));
        }
        Some(_) => {}
    };
    for number in 1..=month.last().number() {
        match parts.own.iter().filter(|c| c.number == number).count() {
            0 => out.push(format!("{number} is missing")),
            1 => {}
            n => out.push(format!("{number} is there {n} times")),
        }
    }
    for (cells, of) in [(&parts.own, month), (&parts.before, month.plus(-1)), (&parts.after, month.plus(1))] {
        for cell in cells.iter() {
            under(cell, of, &mut out);
        }
    }
    out
}

/// The month and the days of a grid that is of one month and has no fault; of others nothing is concluded.
pub fn sound(book: &Book, sheet: &Sheet, grid: &Grid, largest: bool) -> Option<(Month, Parts)> {
    let parts = parts(grid)?;
    let fit: Vec<Month> = months(book, sheet, grid, largest)
        .into_iter()
        .filter(|month| faults(book, *month, grid, &parts).is_empty())
        .collect();
    let [month] = fit[..] else { return None };
    Some((month, parts))
}
