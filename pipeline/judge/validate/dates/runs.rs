//! Pages that are missing, and periods that have more pages than their like.

use super::book::{Book, Run};
use super::day::Period;
use crate::validate::catalogue::{Findings, found};
use std::collections::BTreeMap;

/// Checks days, weeks and months.
pub fn check(book: &Book, findings: &mut Findings) {
    for run in [book.days(), book.weeks(), book.months()].into_iter().flatten() {
        missing(book, &run, findings);
        twice(book, &run, findings);
    }
}

fn missing(book: &Book, run: &Run, findings: &mut Findings) {
    let words = book.words;
    let kind = |n: usize| match (run.there.first(), n) {
        (Some(Period::Days(..)), 1) => "day",
        (Some(Period::Days(..)), _) => "days",
        (Some(Period::Week(..)), 1) => "week",
        (Some(Period::Week(..)), _) => "weeks",
        (_, 1) => "month",
        _ => "months",
    };
    let mut at = 0;
    while at < run.missing.len() {
        // Days that follow each other are one finding.
        let joined = |two: &[Period]| two[1].first().since(two[0].last()) == 1;
        let more = run.missing[at..].windows(2).take_while(|two| joined(two)).count();
        let (first, last) = (run.missing[at], run.missing[at + more]);
        let (n, there) = (more + 1, run.there.len());
        let what = if more == 0 {
            format!("{} has no page, and {there} other {} have one", first.said(words), kind(there))
        } else {
            format!(
                "{n} {} from {} to {} have no page, and {there} others have one",
                kind(n),
                first.first().said(words),
                last.last().said(words)
            )
        };
        found!(findings, "date-missing", book.file(), "{what}");
        at += more + 1;
    }
}

fn twice(book: &Book, run: &Run, findings: &mut Findings) {
    // Two days that share a page are looked up by either.
    let mut pages: BTreeMap<Period, Vec<usize>> = BTreeMap::new();
    for (period, at) in &book.by_period {
        match period {
            Period::Days(first, last) => {
                pages.entry(Period::Days(*first, *first)).or_default().extend(at);
                if first != last {
                    pages.entry(Period::Days(*last, *last)).or_default().extend(at);
                }
            }
            _ => pages.entry(*period).or_default().extend(at),
        }
    }
    let of = |period: &Period| pages.get(period).map_or(0, Vec::len);
    // Companions are usual; days of one weekday have equally many pages, as a set may leave out some weekdays.
    let like = |a: &Period, b: &Period| !matches!(a, Period::Days(..)) || a.first().weekday() == b.first().weekday();
    for period in &run.there {
        let mut times: BTreeMap<usize, usize> = BTreeMap::new();
        for other in run.there.iter().filter(|other| like(period, other)) {
            *times.entry(of(other)).or_default() += 1;
        }
        let usual = times.into_iter().max_by_key(|(pages, times)| (*times, *pages)).map_or(1, |(pages, _)| pages);
        let Some(at) = pages.get(period).filter(|at| at.len() > usual) else { continue };
        let mut at = at.clone();
        at.sort_unstable();
        let numbers: Vec<String> = at.iter().map(|page| (page + 1).to_string()).collect();
        let (last, said) = (at[at.len() - 1], period.said(book.words));
        let usually = if usual == 1 { "one".to_owned() } else { usual.to_string() };
        found!(
            findings,
            "date-twice",
            book.at(last),
            "{} pages are headed {said} ({}), where others of its kind have {usually}",
            at.len(),
            numbers.join(", ")
        );
    }
}
