//! The months that a planner is for.

use crate::days::{days_between, plus_days};
use crate::{Month, Unread};
use jiff::civil::Date;

/// A run of 1 to 24 months.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Span {
    first: Month,
    months: u8,
}

impl Span {
    /// A run of months.
    ///
    /// # Errors
    /// When it is not 1 to 24 months long.
    pub fn new(first: Month, months: i64) -> Result<Span, Unread> {
        match u8::try_from(months) {
            Ok(months @ 1..=24) => Ok(Span { first, months }),
            _ => Err(Unread::new(
                format!("a planner of {months} months cannot be made"),
                "months is 1 to 24; make a second product for the time after that",
            )),
        }
    }

    /// The first month.
    pub fn first(&self) -> Month {
        self.first
    }

    /// The last month.
    pub fn last(&self) -> Month {
        self.first.plus(i32::from(self.months) - 1)
    }

    /// How many months, 1 to 24.
    pub fn len(&self) -> usize {
        usize::from(self.months)
    }

    /// Never: a span has at least one month.
    pub fn is_empty(&self) -> bool {
        false
    }

    /// The first day.
    pub fn first_day(&self) -> Date {
        self.first.first_day()
    }

    /// The last day.
    pub fn last_day(&self) -> Date {
        self.last().last_day()
    }

    /// Whether a day lies within.
    pub fn contains(&self, date: Date) -> bool {
        self.first_day() <= date && date <= self.last_day()
    }

    /// The day itself if it lies within, else the end that is nearest to it.
    pub fn nearest(&self, date: Date) -> Date {
        date.max(self.first_day()).min(self.last_day())
    }

    /// All months, in order.
    pub fn months(&self) -> impl Iterator<Item = Month> + use<> {
        let first = self.first;
        (0..i32::from(self.months)).map(move |index| first.plus(index))
    }

    /// How many days, 28 to 731.
    pub fn day_count(&self) -> usize {
        usize::try_from(days_between(self.first_day(), self.last_day()) + 1).unwrap_or(0)
    }

    /// All days, in order.
    pub fn days(&self) -> impl Iterator<Item = Date> + use<> {
        days(self.first_day(), self.last_day())
    }

    /// The first months of its years: runs of twelve months from the first month on, the last of which may be shorter.
    /// A calendar year has one, a school year has one, 15 months have two.
    pub fn years(&self) -> impl Iterator<Item = Month> + use<> {
        self.months().step_by(12)
    }

    /// The calendar years that it touches.
    pub fn calendar_years(&self) -> std::ops::RangeInclusive<i16> {
        self.first.year()..=self.last().year()
    }
}

/// All days from one to another.
pub(crate) fn days(first: Date, last: Date) -> impl Iterator<Item = Date> {
    std::iter::successors(Some(first), |day| Some(plus_days(*day, 1)).filter(|next| next > day))
        .take_while(move |day| *day <= last)
}
