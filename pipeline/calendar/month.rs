//! A month of a year, written `2027-03`.

use crate::Unread;
use base::keys::{Described, Shape};
use jiff::ToSpan;
use jiff::civil::Date;
use std::fmt;
use std::str::FromStr;

/// A month of a year, between 1900 and 2199. Held as its first day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Month(Date);

/// The years that a planner may be for.
pub(crate) const YEARS: std::ops::RangeInclusive<i16> = 1900..=2199;

impl Month {
    /// The month of a year, counted from 1.
    ///
    /// # Errors
    /// When there is no such month, or the year lies outside of 1900 to 2199.
    pub fn new(year: i16, month: i8) -> Result<Month, Unread> {
        if !(1..=12).contains(&month) {
            return Err(Unread::new(
                format!("{year} has no month {month}"),
                "months are 01 to 12, as in \"2027-01\" for January 2027",
            ));
        }
        match Date::new(year, month, 1) {
            Ok(date) if YEARS.contains(&year) => Ok(Month(date)),
            _ => Err(Unread::new(
                format!("the year {year} is out of range"),
                format!("planners are for the years {} to {}", YEARS.start(), YEARS.end()),
            )),
        }
    }

    /// The month in which a day lies.
    pub fn of(date: Date) -> Month {
        Month(date.first_of_month())
    }

    /// The year.
    pub fn year(self) -> i16 {
        self.0.year()
    }

    /// The month of the year, 1 to 12.
    pub fn number(self) -> i8 {
        self.0.month()
    }

    /// The quarter of the year, 1 to 4.
    pub fn quarter(self) -> i8 {
        (self.number() - 1) / 3 + 1
    }

    /// The first day.
    pub fn first_day(self) -> Date {
        self.0
    }

    /// The last day.
    pub fn last_day(self) -> Date {
        self.0.last_of_month()
    }

    /// How many days it has, 28 to 31.
    pub fn days(self) -> i8 {
        self.0.days_in_month()
    }

    /// The month so many months later, or earlier for a negative number.
    pub fn plus(self, months: i32) -> Month {
        Month(self.0.saturating_add(months.months()))
    }

    /// How many months lie between an earlier month and this one: 1 from January to February.
    pub fn since(self, earlier: Month) -> i32 {
        (i32::from(self.year()) - i32::from(earlier.year())) * 12 + i32::from(self.number())
            - i32::from(earlier.number())
    }
}

impl Described for Month {
    fn shape() -> Shape {
        Shape::Form("a month such as 2027-01", "^[0-9]{4}-(0[1-9]|1[0-2])$")
    }
}

impl fmt::Display for Month {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}", self.year(), self.number())
    }
}

impl FromStr for Month {
    type Err = Unread;

    fn from_str(text: &str) -> Result<Month, Unread> {
        let odd = || {
            Unread::new(
                format!("`{text}` is no month"),
                "write the year, a hyphen and two digits, as in \"2027-01\" for January 2027",
            )
        };
        let (year, month) = text.split_once('-').ok_or_else(odd)?;
        let digits = |part: &str, count: usize| part.len() == count && part.bytes().all(|byte| byte.is_ascii_digit());
        if !digits(year, 4) || !digits(month, 2) {
            return Err(odd());
        }
        Month::new(year.parse().map_err(|_| odd())?, month.parse().map_err(|_| odd())?)
    }
}

crate::words::as_text!(Month, "month such as 2027-01");
