//! Days and periods, reckoned with `icu_calendar`: a second opinion on a planner whose dates another library reckoned.

use super::words::Words;
use icu_calendar::types::RataDie;
use icu_calendar::{Date, Iso};

/// A day of the Gregorian calendar, held as its number in a continuous count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day(i64);

impl Day {
    /// The day of a year, month (1 to 12) and number, if there is one.
    pub fn new(year: i32, month: u8, number: u8) -> Option<Day> {
        Date::try_new_iso(year, month, number).ok().map(|date| Day(date.to_rata_die().to_i64_date()))
    }

    fn date(self) -> Date<Iso> {
        Date::from_rata_die(RataDie::new(self.0), Iso)
    }

    /// Its year.
    pub fn year(self) -> i32 {
        self.date().year().extended_year()
    }

    /// Its month, from 1.
    pub fn month(self) -> u8 {
        self.date().month().number()
    }

    /// Its number within the month, from 1.
    pub fn number(self) -> u8 {
        self.date().day_of_month().0
    }

    /// Its number within the year, from 1.
    pub fn of_year(self) -> u16 {
        self.date().day_of_year().0
    }

    /// The number of its ISO 8601 week.
    pub fn iso_week(self) -> u8 {
        self.date().week_of_year().week_number
    }

    /// Its weekday: 0 is Monday.
    pub fn weekday(self) -> u8 {
        self.date().weekday() as u8 - 1
    }

    /// The day so many days later.
    pub fn plus(self, days: i64) -> Day {
        Day(self.0 + days)
    }

    /// How many days it is after another.
    pub fn since(self, other: Day) -> i64 {
        self.0 - other.0
    }

    /// Its month.
    pub fn in_month(self) -> Month {
        Month::new(self.year(), self.month())
    }

    /// In words: `14 March 2027`.
    pub fn said(self, words: &Words) -> String {
        format!("{} {} {}", self.number(), words.month(self.month()), self.year())
    }
}

/// A month, held as how many lie before it since year 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Month(i32);

impl Month {
    /// A month by its year and its number, from 1.
    pub fn new(year: i32, number: u8) -> Month {
        Month(year * 12 + i32::from(number) - 1)
    }

    /// Its year.
    pub fn year(self) -> i32 {
        self.0.div_euclid(12)
    }

    /// Its number, from 1.
    pub fn number(self) -> u8 {
        self.0.rem_euclid(12) as u8 + 1
    }

    /// The month so many months later.
    pub fn plus(self, months: i32) -> Month {
        Month(self.0 + months)
    }

    /// How many months it is after another.
    pub fn since(self, other: Month) -> i32 {
        self.0 - other.0
    }

    /// Its day of this number, if it has one.
    pub fn day(self, number: u8) -> Option<Day> {
        Day::new(self.year(), self.number(), number)
    }

    /// Its first day.
    pub fn first(self) -> Day {
        // Every month has a first day; years are read with four digits.
        self.day(1).unwrap_or(Day(0))
    }

    /// Its last day.
    pub fn last(self) -> Day {
        self.plus(1).first().plus(-1)
    }

    /// In words: `March 2027`.
    pub fn said(self, words: &Words) -> String {
        format!("{} {}", words.month(self.number()), self.year())
    }
}

/// What a page is headed by, or what a text names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Period {
    /// A day, or two that share a page.
    Days(Day, Day),
    /// Seven days, or the working days of a week: the first and the last.
    Week(Day, Day),
    /// A month.
    Month(Month),
    /// Several months: a quarter, a year, a school year.
    Months(Month, Month),
}

impl Period {
    /// Its first day.
    pub fn first(self) -> Day {
        match self {
            Period::Days(first, _) | Period::Week(first, _) => first,
            Period::Month(month) | Period::Months(month, _) => month.first(),
        }
    }

    /// Its last day.
    pub fn last(self) -> Day {
        match self {
            Period::Days(_, last) | Period::Week(_, last) => last,
            Period::Month(month) | Period::Months(_, month) => month.last(),
        }
    }

    /// Whether it shares a day with another.
    pub fn meets(self, other: Period) -> bool {
        self.first() <= other.last() && other.first() <= self.last()
    }

    /// Whether both are of one kind.
    pub fn is_like(self, other: Period) -> bool {
        std::mem::discriminant(&self) == std::mem::discriminant(&other)
    }

    /// In words.
    pub fn said(self, words: &Words) -> String {
        match self {
            Period::Days(first, last) if first == last => first.said(words),
            Period::Days(first, last) | Period::Week(first, last) => {
                format!("{} \u{2013} {}", first.said(words), last.said(words))
            }
            Period::Month(month) => month.said(words),
            Period::Months(first, last)
                if first.number() == 1 && last.number() == 12 && first.year() == last.year() =>
            {
                first.year().to_string()
            }
            Period::Months(first, last) => format!("{} \u{2013} {}", first.said(words), last.said(words)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::validate::dates::words::ENGLISH;

    /// From the ISO calendar of Python 3 (`datetime.date.isocalendar`).
    #[test]
    fn days_are_those_of_the_calendar() {
        let day = |y, m, d| Day::new(y, m, d).map(|day| (day.weekday(), day.iso_week(), day.of_year()));
        assert_eq!(day(2027, 3, 14), Some((6, 10, 73)));
        assert_eq!(day(2024, 2, 29), Some((3, 9, 60)));
        assert_eq!(day(2027, 1, 1), Some((4, 53, 1)));
        assert_eq!([day(2027, 2, 29), day(2100, 2, 29), day(2027, 4, 31), day(2027, 13, 1)], [None; 4]);
    }

    #[test]
    fn months_run_over_years() {
        let december = Month::new(2026, 12);
        assert_eq!(december.plus(1), Month::new(2027, 1));
        assert_eq!(december.last().said(&ENGLISH), "31 December 2026");
        assert_eq!(Month::new(2028, 2).last().number(), 29);
    }
}
