//! What a planned page promised by its place: that it says its date.

use super::book::Book;
use super::day::{Day, Month, Period};
use super::words::Words;
use crate::validate::catalogue::{Findings, found};
use base::model::pdf_plan::Place;
use std::collections::BTreeMap;

/// Checks every page that was planned for a date. Companions say theirs as they like.
pub fn check(book: &Book, places: &BTreeMap<Place, usize>, findings: &mut Findings) {
    for (place, page) in places {
        let Place::Dated(name) = place else { continue };
        let (Some(meant), Some(sheet)) = (period(name), book.sheets.get(*page)) else { continue };
        let says = |line: &super::lines::Line| line.reading.and_then(|r| r.period()).is_some_and(|p| is(p, meant));
        if sheet.period().is_some_and(|period| is(period, meant)) || sheet.lines.iter().any(says) {
            continue;
        }
        let words = book.words;
        match sheet.period() {
            Some(other) if other.is_like(meant) => {
                let (meant, other) = (meant.said(words), other.said(words));
                found!(
                    findings,
                    "date-heading-off-plan",
                    book.at(*page),
                    "the page was planned for {meant} ({place}), and is headed {other}"
                );
            }
            _ if !in_pieces(words, sheet.lines.iter().map(|line| line.text.as_str()), meant) => {
                let meant = meant.said(words);
                found!(
                    findings,
                    "date-heading-off-plan",
                    book.at(*page),
                    "the page was planned for {meant} ({place}), and does not say so"
                );
            }
            _ => {}
        }
    }
}

/// Whether what a page says is the period that was meant: of years, the first is enough.
fn is(said: Period, meant: Period) -> bool {
    match (said, meant) {
        (Period::Days(first, last), Period::Days(day, _)) => first <= day && day <= last,
        (Period::Months(from, to), Period::Months(first, _)) if to.since(from) > 2 => {
            from.year() == first.year() || from <= first && first <= to
        }
        _ => said == meant || said.is_like(meant) && said.first() == meant.first(),
    }
}

/// Whether the pieces of a date stand on the page apart from each other, as a drawing of the designer's own may have them:
/// the number and the month of a day, the name of a month, the number of a year.
fn in_pieces<'a>(words: &Words, texts: impl Iterator<Item = &'a str>, meant: Period) -> bool {
    let (first, month) = (meant.first(), meant.first().month());
    let year = first.year().to_string();
    let (mut number, mut name) = (false, false);
    for word in texts.flat_map(|text| text.split(|c: char| !c.is_alphanumeric())) {
        number |= match meant {
            Period::Days(..) | Period::Week(..) => word.parse() == Ok(first.number()),
            Period::Month(_) => true,
            Period::Months(..) => word == year,
        };
        name |= words.month_of(&word.to_lowercase()) == Some(month) || matches!(meant, Period::Months(..));
    }
    number && name
}

/// The period of a place; `None` of companions, and of what is no date.
fn period(place: &str) -> Option<Period> {
    let mut parts = place.split('/');
    let (kind, when, page) = (parts.next()?, parts.next()?, parts.next());
    if page.is_some_and(|page| page.parse::<usize>().is_ok()) || parts.next().is_some() {
        return None;
    }
    let (year, rest) = when.split_once('-').unwrap_or((when, ""));
    let year: i32 = year.parse().ok()?;
    let day = || {
        let (month, day) = rest.split_once('-')?;
        Day::new(year, month.parse().ok()?, day.parse().ok()?)
    };
    Some(match kind {
        "day" => Period::Days(day()?, day()?),
        "week" => {
            let first = match rest.strip_prefix('W') {
                // Week 1 of ISO 8601 holds 4 January.
                Some(number) => {
                    let fourth = Day::new(year, 1, 4)?;
                    fourth.plus(7 * (number.parse::<i64>().ok()? - 1) - i64::from(fourth.weekday()))
                }
                None => day()?,
            };
            Period::Week(first, first.plus(6))
        }
        "month" => Period::Month(Month::new(year, rest.parse().ok()?)),
        "quarter" => {
            let first = Month::new(year, 1).plus(3 * (rest.strip_prefix('Q')?.parse::<i32>().ok()? - 1));
            Period::Months(first, first.plus(2))
        }
        "year" => {
            let first = if rest.is_empty() { Month::new(year, 1) } else { Month::new(year, rest.parse().ok()?) };
            Period::Months(first, first.plus(11))
        }
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::super::words::ENGLISH;
    use super::*;

    #[test]
    fn places_are_read() {
        let said = |place: &str| period(place).map(|p| p.said(&ENGLISH));
        assert_eq!(said("day/2027-03-14").as_deref(), Some("14 March 2027"));
        assert_eq!(said("day/2027-03-14/gratitude").as_deref(), Some("14 March 2027"));
        assert_eq!(said("week/2027-W09").as_deref(), Some("1 March 2027 \u{2013} 7 March 2027"));
        assert_eq!(said("week/2027-02-28").as_deref(), Some("28 February 2027 \u{2013} 6 March 2027"));
        assert_eq!(said("quarter/2027-Q2").as_deref(), Some("April 2027 \u{2013} June 2027"));
        assert_eq!(said("year/2026-08").as_deref(), Some("August 2026 \u{2013} July 2027"));
        assert_eq!([said("day/2027-03-14/2"), said("template/beds"), said("day/2027-02-30")], [None, None, None]);
    }
}
