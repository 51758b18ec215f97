//! Single texts: a weekday beside a date that falls on another one, dates that no calendar has, names that are cut.

use super::book::{Book, Sheet};
use super::day::{Day, Month, Period};
use super::heading::Heading;
use super::phrase::{Spotted, spotted};
use crate::validate::catalogue::{Findings, found};

/// The fewest letters of a name that is cut.
const STEM: usize = 3;

/// Checks every text of every page.
pub fn check(book: &Book, findings: &mut Findings) {
    for (i, sheet) in book.sheets.iter().enumerate() {
        for line in &sheet.lines {
            let at = || book.at(i).rect(line.area);
            for date in spotted(&line.text, book.words) {
                if let Some(wrong) = wrong(book, date) {
                    found!(findings, "date-weekday-wrong", at(), "\u{201c}{}\u{201d}: {wrong}", line.text);
                }
            }
            if let Some(name) = cut(book, &line.text) {
                let text = &line.text;
                found!(
                    findings,
                    "date-name-cut",
                    at(),
                    "\u{201c}{text}\u{201d} is the beginning of \u{201c}{name}\u{201d}"
                );
            }
        }
        if let Some(heading) = &sheet.heading {
            beside(book, i, heading, findings);
        }
        in_period(book, i, sheet, findings);
    }
}

/// What is wrong with a date in a text.
fn wrong(book: &Book, date: Spotted) -> Option<String> {
    let words = book.words;
    let month = Month::new(date.year, date.month);
    let Some(day) = month.day(date.day) else {
        return Some(format!("{} has {} days", month.said(words), month.last().number()));
    };
    let said = date.weekday.filter(|weekday| *weekday != day.weekday())?;
    Some(format!("{} is a {}, no {}", day.said(words), words.weekday(day.weekday()), words.weekday(said)))
}

/// A heading whose weekday stands apart from its date.
fn beside(book: &Book, page: usize, heading: &Heading, findings: &mut Findings) {
    let (Some(Period::Days(first, last)), Some(weekday)) = (heading.period, heading.weekday) else { return };
    if first != last || first.weekday() == weekday {
        return;
    }
    let words = book.words;
    let (said, is) = (words.weekday(weekday), words.weekday(first.weekday()));
    let at = book.at(page).rect(heading.area);
    found!(
        findings,
        "date-weekday-wrong",
        at,
        "the page is headed \u{201c}{said}\u{201d}, and {} is a {is}",
        first.said(words)
    );
}

/// Texts such as "Mon 1" on a page that is headed by a week or a month: which day they mean, the page says.
fn in_period(book: &Book, page: usize, sheet: &Sheet, findings: &mut Findings) {
    let Some(period @ (Period::Week(..) | Period::Month(_))) = sheet.period() else { return };
    let links = &sheet.facts.links;
    for line in &sheet.lines {
        let Some(reading) = line.reading.filter(|r| r.to.is_none() && r.week.is_none() && r.from.year.is_none()) else {
            continue;
        };
        let (Some(weekday), Some(number)) = (reading.from.weekday, reading.from.day) else { continue };
        let at = line.area.centre();
        // Steps to the page before and after name days of other periods.
        let leads_out = links.iter().filter(|l| super::heading::within(l.rect, at.x, at.y)).any(|l| {
            let goal = l.leads.page().and_then(|goal| book.sheets.get(goal)?.period());
            goal.is_none_or(|goal| !goal.meets(period))
        });
        let mut days = (0..=period.last().since(period.first())).map(|n| period.first().plus(n));
        let fits = |day: &Day| day.number() == number && reading.from.month.is_none_or(|m| m == day.month());
        let Some(day) = days.find(fits).filter(|_| !leads_out) else { continue };
        if day.weekday() != weekday {
            let is = book.words.weekday(day.weekday());
            let at = book.at(page).rect(line.area);
            let (text, day) = (&line.text, day.said(book.words));
            found!(findings, "date-weekday-wrong", at, "\u{201c}{text}\u{201d}: {day} is a {is}");
        }
    }
}

/// The name of a month or weekday of which a text is the beginning, followed by an ellipsis.
fn cut(book: &Book, text: &str) -> Option<&'static str> {
    let first = text.split_whitespace().next()?;
    let stem = first.strip_suffix('\u{2026}').or_else(|| first.strip_suffix("..."))?.to_lowercase();
    let begins = |name: &&'static str| {
        stem.chars().count() >= STEM && name.len() > stem.len() && name.to_lowercase().starts_with(&stem)
    };
    let words = book.words;
    words.months.iter().chain(&words.weekdays).map(|(name, _)| *name).find(begins)
}
