//! Weeks and the numbers that they have.

use crate::days::{days_between, plus_days};
use crate::{Settings, Span, WeekScheme, Weekday};
use jiff::civil::Date;

/// Seven days, held as the first of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Week(Date);

/// The number of a week within its year. For weeks counted from the start of the span, `year` is that of the span.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WeekNumber {
    /// The year to which the number belongs; not always that of the week's days.
    pub year: i16,
    /// The number, from 1.
    pub number: u8,
}

impl Week {
    /// The week that begins on a day.
    pub fn from(first: Date) -> Week {
        Week(first)
    }

    /// The week in which a day lies, when weeks begin on `first_day`.
    pub fn of(date: Date, first_day: Weekday) -> Week {
        Week(plus_days(date, -i32::from(Weekday::of(date).since(first_day))))
    }

    /// The first day.
    pub fn first_day(self) -> Date {
        self.0
    }

    /// The seventh day.
    pub fn last_day(self) -> Date {
        plus_days(self.0, 6)
    }

    /// The fourth day: it decides to which month and year the week belongs (ISO 8601: Thursday).
    pub fn middle(self) -> Date {
        plus_days(self.0, 3)
    }

    /// All seven days.
    pub fn days(self) -> [Date; 7] {
        [0, 1, 2, 3, 4, 5, 6].map(|index| plus_days(self.0, index))
    }

    /// The week after this one.
    pub fn next(self) -> Week {
        Week(plus_days(self.0, 7))
    }

    /// The day by which the week is filed in a span: the fourth, or the end of the span that is nearest to it.
    pub fn filed(self, span: &Span) -> Date {
        span.nearest(self.middle())
    }

    /// Each week that touches a span, once, in order.
    pub fn all(span: &Span, first_day: Weekday) -> impl Iterator<Item = Week> + use<> {
        let last = span.last_day();
        std::iter::successors(Some(Week::of(span.first_day(), first_day)), |week| Some(week.next()))
            .take_while(move |week| week.0 <= last)
    }

    /// The number of the week.
    ///
    /// - `iso`: ISO 8601, for weeks from Monday; week 1 holds the first Thursday of the year.
    /// - `january-first`: week 1 is the one in which 1 January lies, whatever its first day (CLDR with one minimal day).
    ///   The last days of December may therefore lie in week 1 of the next year.
    /// - `from-start`: week 1 is the one in which the first day of the span lies.
    /// - `none`: no number.
    pub fn number(self, settings: &Settings) -> Option<WeekNumber> {
        match settings.week_numbers {
            WeekScheme::Iso => {
                let iso = self.middle().iso_week_date();
                Some(WeekNumber { year: iso.year(), number: iso.week().unsigned_abs() })
            }
            WeekScheme::JanuaryFirst => {
                let year = self.last_day().year();
                Date::new(year, 1, 1).ok().map(|january| self.counted(year, january, settings.first_day))
            }
            WeekScheme::FromStart => {
                Some(self.counted(settings.span.first().year(), settings.span.first_day(), settings.first_day))
            }
            WeekScheme::None => None,
        }
    }

    fn counted(self, year: i16, start: Date, first_day: Weekday) -> WeekNumber {
        let weeks = days_between(Week::of(start, first_day).0, self.0) / 7;
        WeekNumber { year, number: u8::try_from(weeks + 1).unwrap_or(0) }
    }
}
