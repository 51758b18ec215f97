//! Dates in words, made once for a planner: a date's text costs a look into CLDR, and a planner says each many times.

use super::Words;
use crate::days::plus_days;
use crate::second::SecondDays;
use crate::{Clock, Form, Month, Names, Period, Settings, WeekNumber, Weekday, Width};
use jiff::civil::{Date, Time};
use std::collections::BTreeMap;

/// Days before and after the span of which a grid may show something: two months and a row.
const MARGIN: i32 = 75;

/// The texts of a planner.
pub(super) struct Texts<'a> {
    names: &'a Names,
    words: &'a Words,
    days: BTreeMap<Date, DayText>,
    months: BTreeMap<Month, String>,
    numbers: Vec<String>,
    /// The hours of a day.
    pub hours: Vec<String>,
}

/// What is said of a day.
struct DayText {
    /// "14 March".
    in_month: String,
    /// "14 March 2027".
    in_year: String,
    /// "14 Mar".
    short: String,
    /// "14 Mar 2027".
    short_in_year: String,
    /// In the second calendar: "5"; "1 Ram." where a month begins.
    beside: Option<String>,
    begins_beside: Option<String>,
    /// In the second calendar: "5 Shawwal 1448".
    whole_beside: Option<String>,
}

impl<'a> Texts<'a> {
    pub fn new(names: &'a Names, words: &'a Words, settings: &Settings) -> Texts<'a> {
        let span = &settings.span;
        let (first, last) = (plus_days(span.first_day(), -MARGIN), plus_days(span.last_day(), MARGIN));
        let written = |date: Date, fields| plain(&names.written(date, fields).unwrap_or_else(|_| date.to_string()));
        let second = settings.beside.and_then(|second| SecondDays::new(second, names).ok());
        let text = |date| DayText {
            in_month: written(date, "d MMMM"),
            in_year: written(date, "d MMMM y"),
            short: written(date, "d MMM"),
            short_in_year: written(date, "d MMM y"),
            whole_beside: second.as_ref().and_then(|second| second.whole(date)).map(|text| plain(&text)),
            beside: second.as_ref().and_then(|second| second.figure(date)),
            begins_beside: second.as_ref().and_then(|second| second.begins(date)).map(|text| plain(&text)),
        };
        let months = (-3..=i32::try_from(span.len()).unwrap_or(24) + 2).map(|n| span.first().plus(n));
        Texts {
            names,
            words,
            days: crate::span::days(first, last).map(|date| (date, text(date))).collect(),
            months: months.map(|month| (month, plain(&names.month_and_year(month)))).collect(),
            numbers: (0..=54).map(|number| names.number(number)).collect(),
            hours: (0..24).map(|hour| hour_name(names, settings.clock, hour)).collect(),
        }
    }

    /// A number up to 54.
    pub fn number(&self, number: u8) -> String {
        let known = self.numbers.get(usize::from(number)).cloned();
        known.unwrap_or_else(|| self.names.number(i64::from(number)))
    }

    pub fn year(&self, year: i16) -> String {
        self.names.number(i64::from(year))
    }

    /// The day in the second calendar, where there is one: "5"; and "1 Ram." where a month of it begins.
    pub fn beside(&self, date: Date) -> (Option<String>, Option<String>) {
        let day = self.days.get(&date);
        day.map_or_else(Default::default, |text| (text.beside.clone(), text.begins_beside.clone()))
    }

    /// "14 March 2027", and beside it "5 Shawwal 1448" where there is a second calendar.
    pub fn in_both(&self, date: Date) -> String {
        let beside = self.days.get(&date).and_then(|text| text.whole_beside.as_deref());
        beside.map_or_else(|| self.in_year(date), |beside| format!("{} · {beside}", self.in_year(date)))
    }

    /// "14 March".
    pub fn in_month(&self, date: Date) -> String {
        self.days.get(&date).map_or_else(|| date.to_string(), |text| text.in_month.clone())
    }

    /// "14 March 2027".
    pub fn in_year(&self, date: Date) -> String {
        self.days.get(&date).map_or_else(|| date.to_string(), |text| text.in_year.clone())
    }

    /// "March 2027".
    pub fn month_and_year(&self, month: Month) -> String {
        self.months.get(&month).cloned().unwrap_or_else(|| plain(&self.names.month_and_year(month)))
    }

    /// "March".
    pub fn month(&self, month: Month) -> String {
        self.names.month(month.number(), Width::Wide, Form::Alone).to_owned()
    }

    /// "Sunday".
    pub fn weekday(&self, date: Date, width: Width) -> String {
        self.names.weekday(Weekday::of(date), width).to_owned()
    }

    /// "Week 9".
    pub fn week(&self, number: WeekNumber) -> String {
        base::model::words::Words::numbered(&self.words.week, &self.number(number.number))
    }

    /// "Quarter 1".
    pub fn quarter(&self, first: Month) -> String {
        base::model::words::Words::numbered(&self.words.quarter, &self.number(first.quarter().unsigned_abs()))
    }

    /// "2027", "2026/27": the calendar years of a run of months.
    pub fn years(&self, first: Month, last: Month) -> String {
        if first.year() == last.year() {
            return self.year(first.year());
        }
        format!("{}/{}", self.year(first.year()), self.names.padded(i64::from(last.year() % 100), 2))
    }

    /// "1 – 7 March 2027".
    pub fn days_with_year(&self, first: Date, last: Date) -> String {
        joined(&self.in_year(first), &self.in_year(last))
    }

    /// "1 – 7 Mar 2027", "28 Dec – 3 Jan 2027": the year of the first day is that of the last, or the one before.
    pub fn days_short(&self, first: Date, last: Date) -> String {
        let text = |date: Date, of: fn(&DayText) -> &String| {
            self.days.get(&date).map_or_else(|| date.to_string(), |text| of(text).clone())
        };
        let from = text(first, if first.year() == last.year() { |t| &t.short_in_year } else { |t| &t.short });
        joined(&from, &text(last, |t| &t.short_in_year))
    }

    /// "Jan – Mar 2027".
    pub fn months_short(&self, first: Month, last: Month) -> String {
        let text = |month: Month| {
            let name = self.names.written(month.first_day(), "MMM y");
            plain(&name.unwrap_or_else(|_| self.month_and_year(month)))
        };
        joined(&text(first), &text(last))
    }

    /// "1 – 7 March".
    pub fn days_alone(&self, first: Date, last: Date) -> String {
        joined(&self.in_month(first), &self.in_month(last))
    }

    /// "January – March 2027".
    pub fn months_with_year(&self, first: Month, last: Month) -> String {
        joined(&self.month_and_year(first), &self.month_and_year(last))
    }

    pub fn time(&self, time: Time, clock: Clock) -> String {
        plain(&self.names.time(time, clock))
    }

    /// What a period is called beside an arrow: "2027", "Quarter 1", "March", "Week 12", "Sun 14".
    pub fn short(&self, period: Period, last: Date, settings: &Settings) -> String {
        let (first_day, last_day) = period.days();
        match period {
            Period::Year(first) => self.years(first, Month::of(settings.span.nearest(last_day))),
            Period::Quarter(first) => self.quarter(first),
            Period::Month(month) => self.month(month),
            Period::Week(week) => match week.number(settings) {
                Some(number) => self.week(number),
                None => self.days_alone(first_day, last_day),
            },
            Period::Day(date) if date == last => {
                format!("{} {}", self.weekday(date, Width::Abbreviated), self.number(date.day().unsigned_abs()))
            }
            Period::Day(date) => self.days_alone(date, last),
        }
    }
}

/// An hour without its minutes where it has a day period beside it: "2 PM"; else "14:00".
fn hour_name(names: &Names, clock: Clock, hour: i8) -> String {
    let time = Time::new(hour, 0, 0, 0).unwrap_or(Time::midnight());
    let written = plain(&names.time(time, clock));
    let minutes = format!(":{}", names.padded(0, 2));
    match clock {
        Clock::Twelve if written.contains(&minutes) => written.replace(&minutes, ""),
        _ => written,
    }
}

/// Without the narrow spaces of CLDR, which few fonts have.
fn plain(text: &str) -> String {
    text.replace(['\u{202f}', '\u{2009}'], "\u{a0}")
}

/// Two dates as a range; what both begin or end with is said once: "1 – 7 March 2027".
pub(super) fn joined(from: &str, to: &str) -> String {
    if from == to {
        return from.to_owned();
    }
    let (a, b) = (pieces(from), pieces(to));
    let most = a.len().min(b.len());
    let before = (0..most).take_while(|i| a[*i] == b[*i]).count();
    let after = (0..most - before).take_while(|i| a[a.len() - 1 - i] == b[b.len() - 1 - i]).count();
    // A separator alone, as the space in "29 March", belongs to what stands beside it.
    let middle = |parts: &[&str]| parts[before..parts.len() - after].concat().trim().to_owned();
    let lead: String = a[..before].concat();
    let tail: String = a[a.len() - after..].concat();
    format!("{lead}{} – {}{tail}", middle(&a), middle(&b))
}

/// Runs of digits, of letters and of all else.
fn pieces(text: &str) -> Vec<&str> {
    let class = |c: char| {
        if c.is_numeric() {
            0
        } else if c.is_alphabetic() {
            1
        } else {
            2
        }
    };
    let mut out = Vec::new();
    let mut start = 0;
    let mut last = None;
    for (at, c) in text.char_indices() {
        if last.is_some_and(|last| last != class(c)) {
            out.push(&text[start..at]);
            start = at;
        }
        last = Some(class(c));
    }
    out.push(&text[start..]);
    out
}

#[cfg(test)]
mod tests {
    use super::joined;

    #[test]
    fn a_range_says_what_is_common_once() {
        assert_eq!(joined("1 March 2027", "7 March 2027"), "1 – 7 March 2027");
        assert_eq!(joined("March 1, 2027", "March 7, 2027"), "March 1 – 7, 2027");
        assert_eq!(joined("March 29, 2027", "April 4, 2027"), "March 29 – April 4, 2027");
        assert_eq!(joined("December 28, 2026", "January 3, 2027"), "December 28, 2026 – January 3, 2027");
        assert_eq!(joined("29 de marzo de 2027", "4 de abril de 2027"), "29 de marzo – 4 de abril de 2027");
        assert_eq!(joined("March 10", "March 16"), "March 10 – 16");
        assert_eq!(joined("2027年3月1日", "2027年3月7日"), "2027年3月1 – 7日");
        assert_eq!(joined("May 2027", "May 2027"), "May 2027");
    }
}
