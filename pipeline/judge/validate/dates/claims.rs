//! What a listing claims of dates, against the planners that it sells: how many days, weeks and months, on which day weeks
//! begin, from which month to which, of which year.

use super::book::Book;
use super::day::Month;
use super::phrase;
use super::words::Words;
use crate::validate::catalogue::{Findings, found};
use crate::validate::listing::is_description;
use base::model::artifact::Kind;
use base::model::facts::{Facts, Inspected};
use base::model::{SourceSpan, Where};
use rayon::prelude::*;
use std::collections::BTreeSet;

/// Years so near to those of the planner are those of another edition.
const NEAR: i32 = 8;
/// Words of lines that speak of something else: terms, delivery, the version.
const ELSE: [&str; 14] = [
    "\u{a9}",
    "(c)",
    "copyright",
    "licen",
    "refund",
    "return",
    "within",
    "deliver",
    "version",
    "released",
    "issued",
    "since",
    "founded",
    "update",
];

/// What a planner is, as its pages say.
struct Truth {
    months: (Month, Month),
    days: BTreeSet<usize>,
    weeks: BTreeSet<usize>,
    starts: BTreeSet<u8>,
    /// Whether weeks alone tell of its months: they reach over both ends.
    by_weeks: bool,
}

impl Truth {
    /// Whether it is for the months from the first to the last.
    fn is_for(&self, first: Month, last: Month) -> bool {
        let over = i32::from(self.by_weeks);
        let (begins, ends) = (first.since(self.months.0), self.months.1.since(last));
        (0..=over).contains(&begins) && (0..=over).contains(&ends)
    }

    /// How many months it may be said to be for.
    fn lengths(&self) -> BTreeSet<usize> {
        let most = usize::try_from(self.months.1.since(self.months.0) + 1).unwrap_or(0);
        (most.saturating_sub(if self.by_weeks { 2 } else { 0 })..=most).collect()
    }
}

/// Checks the descriptions and tags among the files against all planners among them.
pub fn check(files: &[Inspected], findings: &mut Findings) {
    let texts: Vec<&Inspected> = files.iter().filter(|f| is_description(f) || f.name() == "tags.txt").collect();
    if texts.is_empty() {
        return;
    }
    let mut seen = BTreeSet::new();
    let notebooks = files.iter().filter(|f| matches!(f.kind, Some(Kind::Notebook) | None) && seen.insert(&f.sha256));
    let notebooks: Vec<&Inspected> = notebooks.collect();
    let truths: Vec<Truth> = notebooks
        .into_par_iter()
        .filter_map(|file| if let Facts::Pdf(facts) = &file.facts { truth(&Book::read(file, facts)?) } else { None })
        .collect();
    let Some(words) = Words::of(None).filter(|_| !truths.is_empty()) else { return };
    for file in texts {
        let Facts::Text(text) = &file.facts else { continue };
        for (n, line) in text.text.lines().enumerate() {
            for (claim, is) in wrong(line, &truths, words) {
                let from = line.find(&claim).unwrap_or(0);
                let column = line[..from].chars().count() + 1;
                let span =
                    SourceSpan { line: n + 1, column, text: line.to_owned(), width: claim.chars().count(), file: None };
                let at = Where::file(&file.path).span(span);
                found!(findings, "list-claims", at, "the listing says \u{201c}{claim}\u{201d}; {is}");
            }
        }
    }
}

fn truth(book: &Book) -> Option<Truth> {
    let (first, last) = book.span()?;
    let headed = |n: Option<super::book::Run>| n.map_or(BTreeSet::new(), |run| BTreeSet::from([run.there.len()]));
    let mut days = headed(book.days());
    // Two days that share a page may be counted as pages too.
    days.insert(book.by_period.keys().filter(|p| matches!(p, super::day::Period::Days(..))).count());
    days.remove(&0);
    let mut weeks = headed(book.weeks());
    let of_weeks = book.weeks().and_then(|run| run.there.first().map(|week| week.first().weekday()));
    if let (Some(start), false) = (of_weeks, weeks.is_empty()) {
        // Those that touch the months.
        let back = i64::from((i16::from(first.weekday()) - i16::from(start)).rem_euclid(7));
        weeks.extend(usize::try_from(last.since(first.plus(-back)) / 7 + 1));
    }
    let heads = book.sheets.iter().flat_map(|sheet| &sheet.grids).map(|grid| grid.weekdays[0]);
    // Templates without dates may begin their weeks otherwise: what most grids do counts.
    let mut counts = [0_usize; 7];
    heads.for_each(|day| counts[usize::from(day)] += 1);
    let most = (0..7_u8).max_by_key(|day| counts[usize::from(*day)]).filter(|day| counts[usize::from(*day)] > 0);
    Some(Truth {
        months: (first.in_month(), last.in_month()),
        days,
        weeks,
        starts: of_weeks.or(most).into_iter().collect(),
        by_weeks: book.days().is_none() && book.months().is_none(),
    })
}

/// The claims of a line that are true of no planner, and what is so.
fn wrong(line: &str, truths: &[Truth], words: &Words) -> Vec<(String, String)> {
    let lower = line.to_lowercase();
    if ELSE.iter().any(|word| lower.contains(word)) {
        return Vec::new();
    }
    let mut out = Vec::new();
    let tokens: Vec<(usize, &str)> = tokens(line);
    let word = |i: usize| tokens.get(i).map_or("", |(_, word)| *word).to_lowercase();
    let said = |from: usize, to: usize| {
        let end = tokens[to].0 + tokens[to].1.len();
        line[tokens[from].0..end].to_owned()
    };
    for i in 0..tokens.len() {
        // "365 days", "53 weekly pages".
        let number = word(i).replace(',', "").parse::<usize>().ok();
        let counted = |noun: &str, pages: &str| {
            let after = word(i + 1);
            (after == noun).then_some(i + 1).or((after == pages && word(i + 2) == "pages").then_some(i + 2))
        };
        if let Some(number) = number {
            // Smaller numbers are of something else: "3 days of rain".
            let kinds = [("days", "daily", 28), ("weeks", "weekly", 4), ("months", "monthly", 2)];
            for (kind, (noun, pages, _)) in kinds.into_iter().enumerate().filter(|(_, k)| number >= k.2) {
                let Some(to) = counted(noun, pages) else { continue };
                let is: BTreeSet<usize> = truths
                    .iter()
                    .flat_map(|truth| match kind {
                        0 => truth.days.clone(),
                        1 => truth.weeks.clone(),
                        _ => truth.lengths(),
                    })
                    .collect();
                if !is.is_empty() && !is.contains(&number) {
                    let is: Vec<String> = is.iter().map(usize::to_string).collect();
                    out.push((said(i, to), format!("the pages are for {} {noun}", is.join(" or "))));
                }
            }
        }
        // "Monday start", "starts on Monday", "weeks begin on Monday".
        if let Some(day) = words.weekday_of(&word(i)) {
            let before = word(i.wrapping_sub(1));
            let verb = if before == "on" { word(i.wrapping_sub(2)) } else { before };
            let begins = ["start", "starts", "begin", "begins", "starting", "beginning"];
            let stands = ["start", "starts"].contains(&word(i + 1).as_str());
            let known: BTreeSet<u8> = truths.iter().flat_map(|truth| truth.starts.iter().copied()).collect();
            if (stands || begins.contains(&verb.as_str())) && !known.is_empty() && !known.contains(&day) {
                let is: Vec<&str> = known.iter().map(|day| words.weekday(*day)).collect();
                let to = if stands { i + 1 } else { i };
                out.push((said(i, to), format!("weeks begin on {}", is.join(" or "))));
            }
        }
        // "January to December 2027", "August 2026 to July 2027".
        if let Some((to, first, last)) = range(&tokens, i, words)
            && !truths.iter().any(|truth| truth.is_for(first, last))
        {
            out.push((said(i, to), format!("the months are {}", spans(truths, words))));
        }
    }
    let in_ranges: Vec<String> = out.iter().map(|(claim, _)| claim.clone()).collect();
    let years = truths.iter().flat_map(|t| t.months.0.year()..=t.months.1.year()).collect::<BTreeSet<i32>>();
    let (Some(first), Some(last)) = (years.first(), years.last()) else { return out };
    for year in phrase::years(line, words).into_iter().collect::<BTreeSet<i32>>() {
        let text = year.to_string();
        let near = (first - NEAR..=last + NEAR).contains(&year);
        if near
            && !years.contains(&year)
            && line.contains(&text)
            && !in_ranges.iter().any(|claim| claim.contains(&text))
        {
            out.push((text, format!("the planner is for {}", spans(truths, words))));
        }
    }
    out
}

fn spans(truths: &[Truth], words: &Words) -> String {
    let said = |(first, last): (Month, Month)| match first == last {
        true => first.said(words),
        false => format!("{} to {}", first.said(words), last.said(words)),
    };
    let all: BTreeSet<(Month, Month)> = truths.iter().map(|truth| truth.months).collect();
    all.into_iter().map(said).collect::<Vec<_>>().join(" or ")
}

/// Words of a line with where they stand: letters and digits, commas within numbers.
fn tokens(line: &str) -> Vec<(usize, &str)> {
    let inside = |c: char| c.is_alphanumeric();
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(from) = line[at..].find(inside).map(|i| at + i) {
        let rest = &line[from..];
        let mut end = rest.find(|c| !inside(c)).unwrap_or(rest.len());
        // A comma between digits belongs to the number.
        while rest[end..].starts_with(',')
            && rest[end + 1..].starts_with(|c: char| c.is_ascii_digit())
            && rest[..end].ends_with(|c: char| c.is_ascii_digit())
        {
            let more = &rest[end + 1..];
            end += 1 + more.find(|c| !inside(c)).unwrap_or(more.len());
        }
        out.push((from, &rest[..end]));
        at = from + end;
    }
    out
}

/// A range of months that begins with a token: its last token, its first and its last month.
fn range(tokens: &[(usize, &str)], i: usize, words: &Words) -> Option<(usize, Month, Month)> {
    let month = |i: usize| tokens.get(i).and_then(|(_, word)| words.month_of(&word.to_lowercase()));
    let year = |i: usize| {
        let text = tokens.get(i).map(|(_, word)| *word).filter(|word| word.len() == 4)?;
        text.parse::<i32>().ok().filter(|year| (1900..2200).contains(year))
    };
    let first = month(i)?;
    let first_year = year(i + 1);
    let mut at = i + 1 + usize::from(first_year.is_some());
    // A dash between them is no token.
    at += usize::from(
        tokens.get(at).is_some_and(|(_, word)| ["to", "until", "through"].contains(&word.to_lowercase().as_str())),
    );
    let last = month(at)?;
    let last_year = year(at + 1)?;
    let first_year = first_year.unwrap_or(last_year - i32::from(first > last));
    Some((at + 1, Month::new(first_year, first), Month::new(last_year, last)))
}
