//! Periods: what a dated page is about.

use crate::days::read_date;
use crate::week::Week;
use crate::{Kind, Month, Span, Unread};
use jiff::civil::{Date, ISOWeekDate, Weekday};
use std::fmt;

/// A period of time that a page can be about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Period {
    /// Up to twelve months, held as the first of them.
    Year(Month),
    /// A quarter of a calendar year, held as its first month.
    Quarter(Month),
    /// A month.
    Month(Month),
    /// Seven days.
    Week(Week),
    /// A day.
    Day(Date),
}

impl Period {
    /// The quarter in which a month lies.
    pub fn quarter(month: Month) -> Period {
        Period::Quarter(month.plus(-i32::from((month.number() - 1) % 3)))
    }

    /// The kind.
    pub fn kind(&self) -> Kind {
        match self {
            Period::Year(_) => Kind::Year,
            Period::Quarter(_) => Kind::Quarter,
            Period::Month(_) => Kind::Month,
            Period::Week(_) => Kind::Week,
            Period::Day(_) => Kind::Day,
        }
    }

    /// The first and the last day, whatever the span.
    pub fn days(&self) -> (Date, Date) {
        match self {
            Period::Year(first) => (first.first_day(), first.plus(11).last_day()),
            Period::Quarter(first) => (first.first_day(), first.plus(2).last_day()),
            Period::Month(month) => (month.first_day(), month.last_day()),
            Period::Week(week) => (week.first_day(), week.last_day()),
            Period::Day(date) => (*date, *date),
        }
    }

    /// Whether a day lies in it.
    pub fn contains(&self, date: Date) -> bool {
        let (first, last) = self.days();
        first <= date && date <= last
    }

    /// The day by which it is filed under a coarser period: a week by its fourth day, all else by its first, and always
    /// within the span.
    pub fn filed(&self, span: &Span) -> Date {
        match self {
            Period::Week(week) => week.filed(span),
            _ => span.nearest(self.days().0),
        }
    }

    /// Reads the part of a place behind its kind: `2027`, `2027-Q1`, `2027-03`, `2027-W09`, `2027-02-28`.
    ///
    /// # Errors
    /// When it is no period of that kind, or none that exists.
    pub fn read(kind: Kind, text: &str) -> Result<Period, Unread> {
        match kind {
            Kind::Year => read_year(text),
            Kind::Quarter => read_quarter(text),
            Kind::Month => text.parse().map(Period::Month),
            Kind::Week => read_week(text),
            Kind::Day => read_date(text).map(Period::Day),
        }
    }
}

/// As in places and page labels: `2027` (`2026-08` where the year does not begin in January), `2027-Q1`, `2027-03`,
/// `2027-W09` (the first day where weeks do not begin on Monday), `2027-03-14`.
impl fmt::Display for Period {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Period::Year(first) if first.number() == 1 => write!(f, "{:04}", first.year()),
            Period::Year(month) | Period::Month(month) => write!(f, "{month}"),
            Period::Quarter(first) => write!(f, "{:04}-Q{}", first.year(), first.quarter()),
            Period::Week(week) if week.first_day().weekday() == Weekday::Monday => {
                let iso = week.first_day().iso_week_date();
                write!(f, "{:04}-W{:02}", iso.year(), iso.week())
            }
            Period::Week(week) => write!(f, "{}", week.first_day()),
            Period::Day(date) => write!(f, "{date}"),
        }
    }
}

fn read_year(text: &str) -> Result<Period, Unread> {
    let whole = if text.len() == 4 { format!("{text}-01") } else { text.to_owned() };
    whole.parse().map(Period::Year).map_err(|_| {
        Unread::new(
            format!("`{text}` is no year"),
            "write four digits as in year/2027, or its first month as in year/2026-08",
        )
    })
}

fn read_quarter(text: &str) -> Result<Period, Unread> {
    let odd = || Unread::new(format!("`{text}` is no quarter"), "write quarter/2027-Q1 to quarter/2027-Q4");
    let (year, number) = text.split_once("-Q").ok_or_else(odd)?;
    let number: i8 = match number {
        "1" => 1,
        "2" => 2,
        "3" => 3,
        "4" => 4,
        _ => return Err(odd()),
    };
    let january: Month = format!("{year}-01").parse().map_err(|_| odd())?;
    Ok(Period::Quarter(january.plus(i32::from(number - 1) * 3)))
}

fn read_week(text: &str) -> Result<Period, Unread> {
    let Some((year, number)) = text.split_once("-W") else {
        return read_date(text).map(|date| Period::Week(Week::from(date)));
    };
    let odd = || {
        Unread::new(
            format!("`{text}` is no week"),
            "write the ISO week with two digits as in week/2027-W09, or its first day as in week/2027-02-28",
        )
    };
    let digits = |part: &str, count: usize| part.len() == count && part.bytes().all(|byte| byte.is_ascii_digit());
    if !digits(year, 4) || !digits(number, 2) {
        return Err(odd());
    }
    let (year, number): (i16, i8) = (year.parse().map_err(|_| odd())?, number.parse().map_err(|_| odd())?);
    match ISOWeekDate::new(year, number, Weekday::Monday) {
        Ok(monday) => Ok(Period::Week(Week::from(monday.date()))),
        Err(_) if number == 53 => {
            Err(Unread::new(format!("{year} has no week 53"), format!("the last week of {year} is {year}-W52")))
        }
        Err(_) => Err(odd()),
    }
}
