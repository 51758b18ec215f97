//! What a manifest chooses by a word or a number: weeks, neighbours, order, clock.

use crate::Unread;
use base::keys::{Described, Shape};

crate::words::words! {
    /// How weeks are numbered.
    WeekScheme, "way to number weeks" {
        /// ISO 8601: weeks from Monday, week 1 holds the first Thursday of the year.
        Iso = "iso",
        /// Week 1 is the one in which 1 January lies.
        JanuaryFirst = "january-first",
        /// Week 1 is the one in which the planner begins.
        FromStart = "from-start",
        /// Weeks have no numbers.
        None = "none",
    }
}

crate::words::words! {
    /// How days of the months before and after are shown in the grid of a month.
    Neighbours, "way to show the days of neighbour months" {
        /// In light figures that lead to their page where there is one.
        Light = "light",
        /// Not at all.
        Blank = "blank",
    }
}

crate::words::words! {
    /// The order of dated pages.
    Order, "order of pages" {
        /// A month, its weeks, their days, then the next month.
        ByMonth = "by-month",
        /// All pages of the first set, then all of the second.
        ByKind = "by-kind",
    }
}

/// Hours of a day: 12 with day periods, or 24.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
#[serde(try_from = "i64", into = "i64")]
pub enum Clock {
    /// 1 to 12, twice.
    Twelve,
    /// 0 to 23.
    TwentyFour,
}

impl Described for Clock {
    fn shape() -> Shape {
        Shape::Numbers(&[12, 24])
    }
}

impl TryFrom<i64> for Clock {
    type Error = Unread;

    fn try_from(hours: i64) -> Result<Clock, Unread> {
        match hours {
            12 => Ok(Clock::Twelve),
            24 => Ok(Clock::TwentyFour),
            _ => Err(Unread::new(format!("no clock has {hours} hours"), "valid here: 12, 24")),
        }
    }
}

impl From<Clock> for i64 {
    fn from(clock: Clock) -> i64 {
        match clock {
            Clock::Twelve => 12,
            Clock::TwentyFour => 24,
        }
    }
}

crate::words::words! {
    /// The kinds of dated pages, from coarse to fine.
    Kind, "kind of dated page" {
        /// A run of up to twelve months.
        Year = "year",
        /// A quarter of a calendar year.
        Quarter = "quarter",
        /// A month.
        Month = "month",
        /// Seven days.
        Week = "week",
        /// A day.
        Day = "day",
    }
}

impl Kind {
    /// This kind and all coarser ones, the nearest first.
    pub fn and_coarser(self) -> impl Iterator<Item = Kind> {
        Kind::ALL.iter().rev().copied().filter(move |kind| *kind <= self)
    }

    /// All coarser kinds, the nearest first.
    pub fn coarser(self) -> impl Iterator<Item = Kind> {
        self.and_coarser().skip(1)
    }
}
