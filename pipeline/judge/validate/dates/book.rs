//! A file as a planner: its pages with their lines, grids and headings, and the years that its months are in.

use super::day::{Day, Month, Period};
use super::grid::{Grid, grids};
use super::heading::{self, Heading};
use super::lines::{Line, lines};
use super::words::Words;
use base::model::Where;
use base::model::facts::{Inspected, PageFacts, PdfFacts};
use std::collections::{BTreeMap, BTreeSet};

/// So many pages headed by days, weeks or months that follow each other make a planner.
const RUN: [usize; 3] = [7, 4, 3];
/// Days of fewer weekdays make one only beside months.
const WEEKDAYS: usize = 5;
/// So many of those between the first and the last must be there.
const FULL: f64 = 0.8;

/// A page as read for dates.
pub struct Sheet<'a> {
    /// What was read of it.
    pub facts: &'a PageFacts,
    /// Its texts.
    pub lines: Vec<Line>,
    /// Its grids.
    pub grids: Vec<Grid>,
    /// What it is headed by.
    pub heading: Option<Heading>,
}

/// A file as read for dates.
pub struct Book<'a> {
    /// Its path.
    path: &'a str,
    /// The words of its language.
    pub words: &'static Words,
    /// Its pages.
    pub sheets: Vec<Sheet<'a>>,
    /// The years in which months stand with their year.
    pub years: BTreeSet<i32>,
    /// Pages by what they are headed by.
    pub by_period: BTreeMap<Period, Vec<usize>>,
}

/// A run of periods of one kind, as far as the file has pages for them.
pub struct Run {
    /// The periods that have a page, in order.
    pub there: Vec<Period>,
    /// Those between the first and the last that have none.
    pub missing: Vec<Period>,
}

impl<'a> Book<'a> {
    /// Reads a file; `None` where its language has no table of words.
    pub fn read(file: &'a Inspected, facts: &'a PdfFacts) -> Option<Book<'a>> {
        let words = Words::of(facts.language.as_deref())?;
        let sheet = |page: &'a PageFacts| {
            let lines = lines(page, words);
            let grids = grids(&lines, words);
            let heading = heading::find(page, &lines, &grids);
            Sheet { facts: page, lines, grids, heading }
        };
        let sheets: Vec<Sheet> = facts.pages.iter().map(sheet).collect();
        let mut book = Book { path: &file.path, words, sheets, years: BTreeSet::new(), by_period: BTreeMap::new() };
        book.fill_years();
        for (i, sheet) in book.sheets.iter().enumerate() {
            if let Some(period) = sheet.period() {
                book.by_period.entry(period).or_default().push(i);
            }
        }
        Some(book)
    }

    /// Headings without a year get the one that their month has elsewhere in the file, where it is but one.
    fn fill_years(&mut self) {
        let mut of_month: BTreeMap<u8, BTreeSet<i32>> = BTreeMap::new();
        for sheet in &self.sheets {
            let titles = sheet.grids.iter().filter_map(|g| sheet.lines.get(g.title?)?.reading);
            for (month, year) in titles.filter_map(|r| r.month_only()) {
                of_month.entry(month).or_default().extend(year);
            }
            let Some(period) = sheet.period() else { continue };
            match period {
                Period::Months(first, last) if last.since(first) < 24 => {
                    for step in 0..=last.since(first) {
                        let month = first.plus(step);
                        of_month.entry(month.number()).or_default().insert(month.year());
                    }
                }
                Period::Months(..) => {}
                _ => {
                    for month in [period.first().in_month(), period.last().in_month()] {
                        of_month.entry(month.number()).or_default().insert(month.year());
                    }
                }
            }
        }
        self.years = of_month.values().flatten().copied().collect();
        let only = |month: u8| match of_month.get(&month) {
            Some(years) if years.len() == 1 => years.first().copied(),
            _ => None,
        };
        for heading in self.sheets.iter_mut().filter_map(|s| s.heading.as_mut()).filter(|h| h.period.is_none()) {
            heading.period = heading.reading.in_years(only).period();
        }
    }

    /// A page of the file, by its index.
    pub fn at(&self, page: usize) -> Where {
        Where::page(self.path, page + 1)
    }

    /// The file.
    pub fn file(&self) -> Where {
        Where::file(self.path)
    }

    /// The days that have pages, if they make a run; a weekday without any page is none of its days.
    pub fn days(&self) -> Option<Run> {
        let mut there: BTreeSet<Day> = BTreeSet::new();
        for period in self.by_period.keys() {
            if let Period::Days(first, last) = period {
                there.extend([*first, *last]);
            }
        }
        let weekdays: BTreeSet<u8> = there.iter().map(|day| day.weekday()).collect();
        // Dates of one weekday, as of meetings, are no planner by themselves.
        if weekdays.len() < WEEKDAYS && self.months().is_none() {
            return None;
        }
        let (first, last) = (*there.first()?, *there.last()?);
        let (from, to) = self.edges(first, last);
        let fits = |from: Day, to: Day| {
            let all = (0..=to.since(from)).map(|n| from.plus(n)).filter(|day| weekdays.contains(&day.weekday()));
            run(all.map(|day| Period::Days(day, day)).collect(), |p| there.contains(&p.first()), RUN[0])
        };
        fits(from, to).or_else(|| fits(first, last))
    }

    /// The weeks that have pages, if they make a run of one length and one first weekday.
    pub fn weeks(&self) -> Option<Run> {
        let there: BTreeSet<Period> =
            self.by_period.keys().filter(|p| matches!(p, Period::Week(..))).copied().collect();
        let (first, last) = (there.first()?.first(), there.last()?.first());
        let length = there.first()?.last().since(first);
        let weeks = (0..=last.since(first) / 7).map(|n| first.plus(7 * n));
        run(weeks.map(|day| Period::Week(day, day.plus(length))).collect(), |p| there.contains(p), RUN[1])
    }

    /// The months that have pages, if they make a run.
    pub fn months(&self) -> Option<Run> {
        let month = |p: &Period| if let Period::Month(month) = p { Some(*month) } else { None };
        let there: BTreeSet<Month> = self.by_period.keys().filter_map(month).collect();
        let (first, last) = (*there.first()?, *there.last()?);
        let all = (0..=last.since(first)).map(|n| Period::Month(first.plus(n))).collect();
        run(all, |p| month(p).is_some_and(|m| there.contains(&m)), RUN[2])
    }

    /// Where the months of the file begin and end, if they do so around these days; else the days themselves.
    fn edges(&self, first: Day, last: Day) -> (Day, Day) {
        match self.months() {
            Some(run) => {
                let ends = run.there.first().zip(run.there.last());
                ends.map_or((first, last), |(a, b)| (first.min(a.first()), last.max(b.last())))
            }
            None => (first, last),
        }
    }

    /// The first and the last day that the file is for, where it is a planner.
    pub fn span(&self) -> Option<(Day, Day)> {
        let runs = [self.days(), self.months(), self.weeks()];
        // The edges of weeks lie outside of the months that they touch.
        let run = runs.into_iter().flatten().next()?;
        let (first, last) = (run.there.first()?.first(), run.there.last()?.last());
        Some(self.edges(first, last))
    }
}

/// The periods of which most are there.
fn run(all: Vec<Period>, is_there: impl Fn(&Period) -> bool, least: usize) -> Option<Run> {
    let whole = all.len();
    let (there, missing): (Vec<Period>, Vec<Period>) = all.into_iter().partition(is_there);
    let full = there.len() as f64 >= FULL * whole as f64;
    (full && there.len() >= least).then_some(Run { there, missing })
}

impl Sheet<'_> {
    /// What it is headed by.
    pub fn period(&self) -> Option<Period> {
        self.heading.as_ref().and_then(|h| h.period)
    }
}
