//! Years of another edition that were left standing.

use super::book::Book;
use super::phrase::years;
use crate::validate::catalogue::{Findings, found};
use std::collections::BTreeMap;

/// Years so near to those of the planner are those of another edition; others are history.
const NEAR: i32 = 8;
/// Dates so many days before or after the planner are neighbours in a grid or a range.
const NEIGHBOURS: i64 = 62;
/// What stands beside the year of a right, which is that of the making.
const RIGHTS: [&str; 4] = ["\u{a9}", "(c)", "copyright", "licen"];

/// Checks the texts of all pages and the file's name against the span of the planner.
pub fn check(book: &Book, findings: &mut Findings) {
    let Some((first, last)) = book.span() else { return };
    let span = first.year()..=last.year();
    let odd = |year: &i32| !span.contains(year) && (span.start() - NEAR..=span.end() + NEAR).contains(year);
    // The same text on many pages is one finding.
    let mut told: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    for (i, sheet) in book.sheets.iter().enumerate() {
        for line in &sheet.lines {
            if line.text.len() < 4 || !years(&line.text, book.words).iter().any(odd) {
                continue;
            }
            let lower = line.text.to_lowercase();
            let near = line.reading.and_then(|r| r.period()).is_some_and(|period| {
                let whole_year = period.last().since(period.first()) > 300;
                !whole_year && period.last().since(first) >= -NEIGHBOURS && last.since(period.first()) >= -NEIGHBOURS
            });
            if !near && !RIGHTS.iter().any(|right| lower.contains(right)) {
                told.entry(&line.text).or_insert((i, 0)).1 += 1;
            }
        }
    }
    let said = |year: i32, to: i32| if year == to { year.to_string() } else { format!("{year} and {to}") };
    let of = said(*span.start(), *span.end());
    for (text, (page, times)) in told {
        let on = if times > 1 { format!(" ({times} times)") } else { String::new() };
        found!(findings, "year-left-over", book.at(page), "\u{201c}{text}\u{201d}{on}, in a planner for {of}");
    }
    let name = book.file().file;
    let name = name.rsplit('/').next().unwrap_or(&name);
    let in_name = years(&name.replace(['_', '-', '.'], " "), book.words);
    if !in_name.is_empty() && in_name.iter().all(odd) {
        found!(
            findings,
            "year-left-over",
            book.file(),
            "the file is called \u{201c}{name}\u{201d}, and is a planner for {of}"
        );
    }
}
