//! What happens on days: names that are cut in their cells, and counts of what did not fit.

use super::book::{Book, Sheet};
use super::day::{Day, Period};
use super::grid_days::{days, largest, sound};
use super::heading::within;
use crate::validate::catalogue::{Findings, found};
use base::model::Rect;

/// Checks the cells of the largest grid of each page.
pub fn check(book: &Book, findings: &mut Findings) {
    for (i, sheet) in book.sheets.iter().enumerate() {
        let cells = cells(book, sheet);
        if cells.is_empty() {
            continue;
        }
        for line in &sheet.lines {
            let text = line.text.trim();
            let count = text.strip_prefix('+').map(|n| n.trim_start_matches(' ').trim_end_matches(" more"));
            let count = count.and_then(|n| n.parse::<usize>().ok());
            let cut = text.ends_with('\u{2026}') || text.ends_with("...");
            if count.is_none() && !cut {
                continue;
            }
            let at = line.area.centre();
            let Some((_, day)) = cells.iter().find(|(cell, _)| within(*cell, at.x, at.y)) else { continue };
            let place = || book.at(i).rect(line.area);
            let day_said = day.said(book.words);
            if count.is_none() {
                found!(findings, "event-cut", place(), "\u{201c}{text}\u{201d} on {day_said} is cut short");
                continue;
            }
            // The smallest area counts: that of a whole row or month may lie beneath it.
            let over = sheet.facts.links.iter().filter(|l| l.leads.page().is_some() && within(l.rect, at.x, at.y));
            let link = over.min_by(|a, b| (a.rect.w * a.rect.h).total_cmp(&(b.rect.w * b.rect.h)));
            let leads = link.and_then(|l| book.sheets.get(l.leads.page()?)?.period());
            let own = Period::Days(*day, *day);
            match (link, leads) {
                (None, _) => {
                    found!(findings, "event-crowd", place(), "\u{201c}{text}\u{201d} on {day_said} leads nowhere");
                }
                (Some(_), Some(there)) if !there.meets(own) => {
                    let there = there.said(book.words);
                    found!(
                        findings,
                        "event-crowd",
                        place(),
                        "\u{201c}{text}\u{201d} on {day_said} leads to a page headed {there}"
                    );
                }
                _ => {}
            }
        }
    }
}

/// The cells of the page's largest grid of a month, and their days.
fn cells(book: &Book, sheet: &Sheet) -> Vec<(Rect, Day)> {
    let Some(n) = largest(sheet) else { return Vec::new() };
    let grid = &sheet.grids[n];
    let Some((month, parts)) = sound(book, sheet, grid, true) else { return Vec::new() };
    let days = days(month, &parts);
    let feet: Vec<f64> =
        grid.rows.iter().filter_map(|r| r.cells.first()).map(|c| sheet.lines[c.line].area.bottom()).collect();
    let step = feet.windows(2).map(|two| two[1] - two[0]).fold(f64::MAX, f64::min);
    let mut out = Vec::new();
    for row in &grid.rows {
        for cell in &row.cells {
            let area = sheet.lines[cell.line].area;
            // Where in its cell a number stands is not known: the cell begins with it, or ends with it.
            let left = grid.spans[0] - grid.pitch / 2.0 + cell.column as f64 * grid.pitch;
            let rect = Rect::new(left, area.y - 0.2 * step, grid.pitch, step);
            out.extend(days.iter().find(|(line, _)| *line == cell.line).map(|(_, day)| (rect, *day)));
        }
    }
    out
}
