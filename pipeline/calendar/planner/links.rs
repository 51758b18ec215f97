//! Where a dated page leads.

use super::{PageId, Planner};
use crate::week::Week;
use crate::{Kind, Month, Period};
use jiff::civil::Date;

/// The steps from a page to the pages around it.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Around {
    /// The page before it in its set; none at the start. Of a companion, the same companion of the period before.
    pub previous: Option<PageId>,
    /// The page after it in its set; none at the end.
    pub next: Option<PageId>,
    /// The page of the next coarser kind that there is. Of a companion too.
    pub up: Option<PageId>,
    /// Of a companion: the page that it stands behind.
    pub back: Option<PageId>,
    /// The companions of its period, itself left out.
    pub companions: Vec<PageId>,
}

impl Planner {
    /// The steps from a page. An index that no page has gives none.
    pub fn around(&self, id: PageId) -> Around {
        let Some(page) = self.pages.get(id) else { return Around::default() };
        let shift = usize::from(page.place.page) - 1;
        let main = id - shift;
        let set = &self.by_set[page.set];
        Around {
            previous: set.range(..page.first).next_back().map(|(_, id)| id + shift),
            next: set.range(page.first..).nth(1).map(|(_, id)| id + shift),
            up: self.up(main),
            back: (shift > 0).then_some(main),
            companions: (main + 1..=main + usize::from(self.sets[page.set].companions))
                .filter(|each| *each != id)
                .collect(),
        }
    }

    /// The page of the same period in the next set of this kind, in the order of the manifest and round to the first; none
    /// where no other set has one. A companion has none.
    pub fn of_next_set(&self, id: PageId) -> Option<PageId> {
        let page = self.pages.get(id).filter(|page| page.place.page == 1)?;
        let count = self.sets.len();
        let others = (1..count).map(|step| (page.set + step) % count);
        let date = page.place.period.filed(self.span());
        others.filter(|set| self.sets[*set].kind == page.kind()).find_map(|set| self.in_set(set, date))
    }

    /// The page of the next coarser kind that holds the day by which this one is filed.
    fn up(&self, main: PageId) -> Option<PageId> {
        let page = &self.pages[main];
        let date = page.place.period.filed(self.span());
        page.kind().coarser().find_map(|kind| self.at(kind, date, Some(page.set)))
    }

    /// The page of a kind on which a day is. Where several sets have one, that of the set with the same name as the set
    /// `like`, else the first.
    pub fn at(&self, kind: Kind, date: Date, like: Option<usize>) -> Option<PageId> {
        let name = like.and_then(|set| self.sets.get(set)).map(|set| &set.name);
        let sets = || self.sets.iter().enumerate().filter(move |(_, set)| set.kind == kind);
        let same = sets().filter(|(_, set)| Some(&set.name) == name);
        same.chain(sets()).find_map(|(set, _)| self.in_set(set, date))
    }

    /// Where a link on a page leads that means a period: to its page, else to the page of the next coarser kind that
    /// holds it. None where that is the page on which the link is, and where the period lies outside of the span.
    pub fn lead(&self, from: PageId, period: Period) -> Option<PageId> {
        let page = self.pages.get(from)?;
        let main = from - (usize::from(page.place.page) - 1);
        let date = match period {
            Period::Week(week) if !self.touches(week) => return None,
            Period::Week(week) => self.weeks_own(week).filed(self.span()),
            Period::Day(day) if !self.span().contains(day) => return None,
            Period::Month(month) if !self.span().contains(month.first_day()) => return None,
            _ => period.filed(self.span()),
        };
        let to = period.kind().and_coarser().find_map(|kind| self.at(kind, date, Some(page.set)))?;
        (to != main).then_some(to)
    }

    /// The page on which a period is, and only that: none where it has no page of its own.
    pub fn own(&self, period: Period) -> Option<PageId> {
        let set = self.at(period.kind(), period.filed(self.span()), None)?;
        self.find(&crate::Place { set: self.pages[set].place.set.clone(), ..crate::Place::of(period) })
    }

    /// Where the tab of a month leads: to its page, else to the next coarser one, else to the first page filed under it.
    pub fn tab(&self, month: Month) -> Option<PageId> {
        if !self.span().contains(month.first_day()) {
            return None;
        }
        let kinds = [Kind::Month, Kind::Quarter, Kind::Year];
        let coarse = kinds.iter().find_map(|kind| self.at(*kind, month.first_day(), None));
        coarse.or_else(|| self.pages.iter().position(|page| self.month_of(page.place.period) == month))
    }

    /// The month whose tab is open on a page: that under which it is filed. Years and quarters open none.
    pub fn open_month(&self, id: PageId) -> Option<Month> {
        let page = self.pages.get(id)?;
        (page.kind() >= Kind::Month).then(|| self.month_of(page.place.period))
    }

    /// The month under which a period is filed.
    pub fn month_of(&self, period: Period) -> Month {
        Month::of(period.filed(self.span()))
    }

    /// The periods to which the contents of a page lead, in order of time: of a year its months and days, of a quarter
    /// its months, of a month its weeks and days, of a week its days. Days outside of the span are left out.
    pub fn contents(&self, id: PageId) -> Vec<Period> {
        let Some(page) = self.pages.get(id) else { return Vec::new() };
        let days = || self.span().days().filter(|day| page.covers(*day)).map(Period::Day);
        let months = || self.span().months().filter(|month| page.covers(month.first_day())).map(Period::Month);
        match page.place.period {
            Period::Year(_) => months().chain(days()).collect(),
            Period::Quarter(_) => months().collect(),
            Period::Month(month) => {
                let weeks = self.weeks().filter(|week| week.days().iter().any(|day| Month::of(*day) == month));
                weeks.map(Period::Week).chain(days()).collect()
            }
            Period::Week(_) => days().collect(),
            Period::Day(_) => Vec::new(),
        }
    }

    /// The week of the planner in which a day lies.
    pub fn week_of(&self, date: Date) -> Week {
        Week::of(date, self.settings.first_day)
    }
}
