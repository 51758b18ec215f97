//! The plan of periods: every dated page of a product, in order, and where each leads.
//!
//! A day page stands once for each day that its set has; a week page once for each week that touches the span, also
//! where it crosses the end of a month, quarter or year. A week is filed under the month of its fourth day; where that
//! lies outside of the span, under the month at that end.

mod links;
mod order;
mod outline;

pub use links::Around;
pub use outline::Entry;

use crate::days::plus_days;
use crate::week::Week;
use crate::{DayChoice, DayPage, Kind, PageSet, Period, Place, Settings, Span, Unread, Weekday};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// The index of a page among all dated pages of a planner, in their order.
pub type PageId = usize;

/// A dated page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Page {
    /// The index of its set, in the order of the manifest.
    pub set: usize,
    /// Its place.
    pub place: Place,
    /// Its first day; within the period, but perhaps outside of the span.
    pub first: Date,
    /// Its last day. For a day page that a weekend shares, the last day of the weekend.
    pub last: Date,
}

impl Page {
    /// The kind of its period.
    pub fn kind(&self) -> Kind {
        self.place.period.kind()
    }

    /// Whether a day is on it.
    pub fn covers(&self, date: Date) -> bool {
        self.first <= date && date <= self.last
    }
}

/// All dated pages of a product.
#[derive(Clone, Debug)]
pub struct Planner {
    settings: Settings,
    sets: Vec<PageSet>,
    pages: Vec<Page>,
    /// For each set, the pages (without companions) in order of time, by their first day.
    by_set: Vec<BTreeMap<Date, PageId>>,
}

impl Planner {
    /// Plans all pages.
    ///
    /// # Errors
    /// The index of each set that cannot be told from another, or asks for what its kind has not.
    pub fn new(settings: Settings, sets: Vec<PageSet>) -> Result<Planner, Vec<(usize, Unread)>> {
        PageSet::check(&sets)?;
        let pages = order::pages(&settings, &sets);
        let mut by_set = vec![BTreeMap::new(); sets.len()];
        for (id, page) in pages.iter().enumerate().filter(|(_, page)| page.place.page == 1) {
            by_set[page.set].insert(page.first, id);
        }
        Ok(Planner { settings, sets, pages, by_set })
    }

    /// The settings.
    pub fn settings(&self) -> &Settings {
        &self.settings
    }

    /// The months.
    pub fn span(&self) -> &Span {
        &self.settings.span
    }

    /// The sets, in the order of the manifest.
    pub fn sets(&self) -> &[PageSet] {
        &self.sets
    }

    /// All pages, in order.
    pub fn pages(&self) -> &[Page] {
        &self.pages
    }

    /// How many periods of a kind have a page of their own in the span: 12 months, 53 weeks, 365 days.
    pub fn count(&self, kind: Kind) -> usize {
        let lengths =
            self.sets.iter().zip(&self.by_set).filter(|(set, _)| set.kind == kind).map(|(_, pages)| pages.len());
        lengths.max().unwrap_or(0)
    }

    /// Each week that touches the span, in order, whether or not it has a page.
    pub fn weeks(&self) -> impl Iterator<Item = Week> + use<> {
        Week::all(&self.settings.span, self.settings.first_day)
    }

    /// The page of a place.
    ///
    /// A week that does not begin on the planner's first weekday stands for the week in which its fourth day lies, so
    /// that `week/2027-W09` finds its page in a variant with weeks from Sunday too. Each day of a joined weekend
    /// finds the page that both share.
    pub fn find(&self, place: &Place) -> Option<PageId> {
        let set = self.sets.iter().position(|set| set.kind == place.period.kind() && set.name == place.set)?;
        let date = match place.period {
            Period::Week(week) => week.filed(&self.settings.span),
            period => period.filed(&self.settings.span),
        };
        let id = self.in_set(set, date)?;
        let same = match place.period {
            Period::Week(week) => self.weeks_own(week) == Week::from(self.pages[id].first) && self.touches(week),
            Period::Day(day) => self.pages[id].covers(day),
            period => self.pages[id].place.period == period,
        };
        (same && place.page >= 1 && place.page <= 1 + self.sets[set].companions)
            .then(|| id + usize::from(place.page - 1))
    }

    /// The page, itself no companion, on which a day is in a set.
    pub fn in_set(&self, set: usize, date: Date) -> Option<PageId> {
        let (_, id) = self.by_set.get(set)?.range(..=date).next_back()?;
        self.pages[*id].covers(date).then_some(*id)
    }

    /// The week of the planner that a week stands for: itself, or the one in which its fourth day lies.
    fn weeks_own(&self, week: Week) -> Week {
        if Weekday::of(week.first_day()) == self.settings.first_day {
            week
        } else {
            Week::of(week.middle(), self.settings.first_day)
        }
    }

    fn touches(&self, week: Week) -> bool {
        let own = self.weeks_own(week);
        own.first_day() <= self.settings.span.last_day() && own.last_day() >= self.settings.span.first_day()
    }
}

/// The first and last day of each page of a set, with its period, in order of time.
fn periods(settings: &Settings, set: &PageSet) -> Vec<(Period, Date, Date)> {
    let span = &settings.span;
    let whole = |period: Period| {
        let (first, last) = period.days();
        (period, first, last)
    };
    match set.kind {
        // A year of a planner ends with the planner.
        Kind::Year => span
            .years()
            .map(|first| {
                let (first_day, last_day) = Period::Year(first).days();
                (Period::Year(first), first_day, span.nearest(last_day))
            })
            .collect(),
        Kind::Quarter => {
            let mut quarters: Vec<_> = span.months().map(|month| whole(Period::quarter(month))).collect();
            quarters.dedup();
            quarters
        }
        Kind::Month => span.months().map(|month| whole(Period::Month(month))).collect(),
        Kind::Week => Week::all(span, settings.first_day).map(|week| whole(Period::Week(week))).collect(),
        Kind::Day => days(settings, &set.weekdays),
    }
}

fn days(settings: &Settings, choice: &DayChoice) -> Vec<(Period, Date, Date)> {
    let span = &settings.span;
    let mut pages: Vec<(Period, Date, Date)> = Vec::with_capacity(span.day_count());
    for date in span.days() {
        let taken = match choice {
            DayChoice::All | DayChoice::Joined => true,
            DayChoice::Workdays => !settings.is_weekend(date),
            DayChoice::Only(days) => days.contains(&Weekday::of(date)),
            DayChoice::Shared(pages) => pages.iter().any(|page| page.days().any(|day| day == Weekday::of(date))),
        };
        if !taken {
            continue;
        }
        let shares = |last: Date| match choice {
            DayChoice::Joined => settings.is_weekend(date) && settings.is_weekend(last),
            DayChoice::Shared(pages) => pages.contains(&DayPage::of(Weekday::of(last), true)),
            DayChoice::All | DayChoice::Workdays | DayChoice::Only(_) => false,
        };
        match pages.last_mut() {
            Some((_, _, last)) if plus_days(*last, 1) == date && shares(*last) => *last = date,
            _ => pages.push((Period::Day(date), date, date)),
        }
    }
    pages
}
