//! Days counted and read.

use crate::{Month, Unread};
use jiff::ToSpan;
use jiff::civil::Date;

/// The date so many days later, or earlier.
pub(crate) fn plus_days(date: Date, days: i32) -> Date {
    date.saturating_add(days.days())
}

/// How many days from one date to another.
pub(crate) fn days_between(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}

/// Reads a date such as `2027-03-14`.
pub(crate) fn read_date(text: &str) -> Result<Date, Unread> {
    let odd =
        || Unread::new(format!("`{text}` is no date"), "write year, month and day with hyphens, as in 2027-03-14");
    let month: Month = text.get(..7).ok_or_else(odd)?.parse().map_err(|unread| match text.len() {
        10 => unread,
        _ => odd(),
    })?;
    let day = text.get(7..).and_then(|rest| rest.strip_prefix('-')).filter(|day| day.len() == 2).ok_or_else(odd)?;
    if !day.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(odd());
    }
    let day: i8 = day.parse().map_err(|_| odd())?;
    Date::new(month.year(), month.number(), day).map_err(|_| {
        Unread::new(format!("`{text}` is no date: {month} has {} days", month.days()), "give a day that the month has")
    })
}
