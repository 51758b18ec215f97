//! Digits that stand the wrong way round in lines that run from right to left, as where a whole line was turned round with
//! the numbers in it. Read from the finished file alone: what stands on the page against what the file says of itself.

use super::catalogue::{Findings, found};
use super::dates;
use base::model::Where;
use base::model::facts::{Inspected, PdfFacts};
use std::collections::BTreeSet;

/// Years of dates.
const YEARS: std::ops::RangeInclusive<u32> = 1900..=2199;

/// Checks a PDF.
pub fn check(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    let says = facts.pages.iter().flat_map(|p| &p.links).filter_map(|l| l.says.as_deref());
    let titles = facts.outline.iter().map(|o| o.title.as_str());
    let own = facts.title.iter().chain(&facts.title_info).map(String::as_str);
    let logical: BTreeSet<Text> = titles.chain(own).chain(says).filter(|t| runs_back(t)).map(Text::of).collect();
    let mut told = BTreeSet::new();
    for (i, page) in facts.pages.iter().enumerate() {
        for (area, shown) in dates::shown(page) {
            if !runs_back(&shown) {
                continue;
            }
            let text = Text::of(&shown);
            let turned = text.turned();
            let meant = if turned.digits == text.digits {
                None
            } else if logical.iter().any(|l| *l == turned) && !logical.contains(&text) {
                Some(turned.digits.join(", "))
            } else {
                text.date_turned()
            };
            let Some(meant) = meant else { continue };
            if told.insert(shown.clone()) {
                let at = Where::page(&file.path, i + 1).rect(area);
                let digits = text.digits.join(", ");
                found!(
                    findings,
                    "digits-reversed",
                    at,
                    "\u{201c}{shown}\u{201d} shows {digits} where {meant} is meant"
                );
            }
        }
    }
}

/// Whether a text has letters of scripts that are written from right to left: Hebrew to Arabic Extended-A, and the forms that
/// old fonts have (Unicode 16, from memory).
fn runs_back(text: &str) -> bool {
    text.chars().any(|c| is_back(c) && c.is_alphabetic())
}

fn is_back(c: char) -> bool {
    matches!(c, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{fefc}')
}

/// What of a text is the same in the order of reading and in that of standing: its letters, and its numbers.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Text {
    /// Sorted, of every script.
    letters: Vec<char>,
    /// Runs of digits from their first to their last, sorted.
    digits: Vec<String>,
}

impl Text {
    fn of(text: &str) -> Text {
        let mut letters: Vec<char> = text.chars().filter(|c| c.is_alphabetic()).collect();
        letters.sort_unstable();
        let runs = text.split(|c: char| !c.is_numeric()).filter(|run| !run.is_empty());
        let mut digits: Vec<String> = runs.map(str::to_owned).collect();
        digits.sort();
        Text { letters, digits }
    }

    fn turned(&self) -> Text {
        let mut digits: Vec<String> = self.digits.iter().map(|run| run.chars().rev().collect()).collect();
        digits.sort();
        Text { letters: self.letters.clone(), digits }
    }

    /// The numbers of a date that is one only with all its digits turned: a day and a year that none is as it stands.
    fn date_turned(&self) -> Option<String> {
        let [a, b] = self.digits.as_slice() else { return None };
        let (day, year) = if a.chars().count() < b.chars().count() { (a, b) } else { (b, a) };
        let value = |run: &str| run.chars().try_fold(0, |n: u32, c| Some(n * 10 + digit(c)?));
        let turned = |run: &str| run.chars().rev().collect::<String>();
        let is_date = |day: &str, year: &str| {
            value(day).is_some_and(|d| (1..=31).contains(&d)) && value(year).is_some_and(|y| YEARS.contains(&y))
        };
        let shape = day.chars().count() <= 2 && year.chars().count() == 4;
        let (back, then) = (turned(day), turned(year));
        (shape && !value(year).is_some_and(|y| YEARS.contains(&y)) && is_date(&back, &then))
            .then(|| format!("{back}, {then}"))
    }
}

/// The value of a digit: European, Arabic-Indic or Extended Arabic-Indic.
fn digit(c: char) -> Option<u32> {
    let from = |zero: char| u32::from(c).checked_sub(u32::from(zero)).filter(|v| *v < 10);
    from('0').or_else(|| from('\u{660}')).or_else(|| from('\u{6f0}'))
}
