//! Dates in texts: what a text says where it is a date and nothing else, and whole dates within longer ones.

use super::day::{Day, Month, Period};
use super::tokens::{Token, tokens};
use super::words::Words;

/// Texts that are longer are not a date and nothing else.
const LONG: usize = 80;

/// One end of a range, or all of a date.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Part {
    /// Weekday, 0 for Monday.
    pub weekday: Option<u8>,
    /// Number of the day.
    pub day: Option<u8>,
    /// Number of the month.
    pub month: Option<u8>,
    /// Year.
    pub year: Option<i32>,
}

/// What a text says that is a date and nothing else.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Reading {
    /// The date, or where a range begins.
    pub from: Part,
    /// Where a range ends.
    pub to: Option<Part>,
    /// Number of a week.
    pub week: Option<u8>,
    /// Number of a quarter.
    pub quarter: Option<u8>,
    /// Whether it is a week by its first day.
    pub week_from: bool,
}

/// A date within a text: a weekday if one stands beside it, and day, month and year.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spotted {
    /// Weekday, 0 for Monday.
    pub weekday: Option<u8>,
    /// Number of the day.
    pub day: u8,
    /// Number of the month.
    pub month: u8,
    /// Year.
    pub year: i32,
}

/// Reads a text that is a date and nothing else.
pub fn whole(text: &str, words: &Words) -> Option<Reading> {
    if text.len() > LONG {
        return None;
    }
    let tokens = tokens(text, words, true);
    if tokens.is_empty() || tokens.contains(&Token::Other) {
        return None;
    }
    let mut reading = Reading::default();
    let mut parts = vec![Part::default()];
    for token in tokens {
        let part = parts.last_mut()?;
        match token {
            Token::Weekday(n) => set(&mut part.weekday, n)?,
            Token::Month(n) => set(&mut part.month, n)?,
            Token::Number(n) => set(&mut part.day, n)?,
            Token::Year(n) => set(&mut part.year, n)?,
            Token::Week(n) => set(&mut reading.week, n)?,
            Token::Quarter(n) => set(&mut reading.quarter, n)?,
            Token::WeekFrom => reading.week_from = true,
            // A dash after a name or a number of a week only parts it from the date; else there is a range.
            Token::Dash if *part == Part::default() || part.alone() => {}
            Token::Dash => parts.push(Part::default()),
            Token::Other => return None,
        }
    }
    parts.retain(|part| *part != Part::default());
    let (from, to) = match parts[..] {
        [] => (Part::default(), None),
        [one] => (one, None),
        [from, to] => (from, Some(to)),
        _ => return None,
    };
    (reading.from, reading.to) = (from, to);
    reading.filled()
}

/// All whole dates within a text.
pub fn spotted(text: &str, words: &Words) -> Vec<Spotted> {
    let tokens = tokens(text, words, false);
    let mut out = Vec::new();
    for (i, three) in tokens.windows(3).enumerate() {
        let (day, month, year) = match *three {
            [Token::Number(day), Token::Month(month), Token::Year(year)]
            | [Token::Month(month), Token::Number(day), Token::Year(year)] => (day, month, year),
            _ => continue,
        };
        // A number before a month may be the end of a range, whose weekday stands before its beginning.
        let before = i.checked_sub(1).map(|i| tokens[i]);
        let weekday = if let Some(Token::Weekday(weekday)) = before { Some(weekday) } else { None };
        out.push(Spotted { weekday, day, month, year });
    }
    out
}

/// The years that a text names, and what it says if it is a date and nothing else.
pub fn years(text: &str, words: &Words) -> Vec<i32> {
    let year = |token| if let Token::Year(year) = token { Some(year) } else { None };
    tokens(text, words, false).into_iter().filter_map(year).collect()
}

fn set<T: PartialEq>(field: &mut Option<T>, value: T) -> Option<()> {
    match field {
        Some(_) => None,
        None => {
            *field = Some(value);
            Some(())
        }
    }
}

impl Part {
    /// Whether it is a weekday and nothing else.
    fn alone(&self) -> bool {
        self.weekday.is_some() && *self == Part { weekday: self.weekday, ..Part::default() }
    }

    fn in_month(&self) -> Option<Month> {
        Some(Month::new(self.year?, self.month?))
    }

    fn on(&self) -> Option<Day> {
        self.in_month()?.day(self.day?)
    }
}

impl Reading {
    /// The ends of a range lend each other what only one of them says.
    fn filled(mut self) -> Option<Reading> {
        let Some(mut to) = self.to else { return Some(self) };
        let from = &mut self.from;
        to.year =
            to.year.or(from.year.filter(|_| to.month.is_none() || from.month.is_none() || to.month >= from.month));
        to.year = to.year.or(from.year.map(|year| year + 1));
        if to.day.is_some() && to.month.is_none() {
            to.month = from.month;
        }
        if from.day.is_some() && from.month.is_none() {
            from.month = to.month;
        }
        if from.year.is_none() {
            let turns = matches!((from.month, to.month), (Some(a), Some(b)) if a > b);
            from.year = to.year.map(|year| year - i32::from(turns));
        }
        self.to = Some(to);
        Some(self)
    }

    /// Whether it says anything beyond a bare number.
    pub fn names_something(&self) -> bool {
        let Part { weekday, month, year, .. } = self.from;
        weekday.is_some() || month.is_some() || year.is_some() || self.week.is_some() || self.quarter.is_some()
    }

    /// Whether it is a month with or without its year, and nothing else.
    pub fn month_only(&self) -> Option<(u8, Option<i32>)> {
        let plain = self.to.is_none() && self.week.is_none() && self.quarter.is_none();
        let Part { weekday: None, day: None, month: Some(month), year } = self.from else { return None };
        plain.then_some((month, year))
    }

    /// Takes from another reading what this one lacks; `None` where they contradict each other.
    pub fn with(self, other: Reading) -> Option<Reading> {
        fn either<T: PartialEq + Copy>(a: Option<T>, b: Option<T>) -> Option<Option<T>> {
            match (a, b) {
                (Some(a), Some(b)) if a != b => None,
                _ => Some(a.or(b)),
            }
        }
        if self.to.is_some() && other.to.is_some() && self != other {
            return None;
        }
        let (a, b) = (self.from, other.from);
        Some(Reading {
            from: Part {
                weekday: either(a.weekday, b.weekday)?,
                day: either(a.day, b.day)?,
                month: either(a.month, b.month)?,
                year: either(a.year, b.year)?,
            },
            to: self.to.or(other.to),
            week: either(self.week, other.week)?,
            quarter: either(self.quarter, other.quarter)?,
            week_from: self.week_from || other.week_from,
        })
    }

    /// The same with its years filled in, where it has none: `of` knows them by the month.
    pub fn in_years(mut self, of: impl Fn(u8) -> Option<i32>) -> Reading {
        if self.from.year.is_none() {
            self.from.year = self.from.month.and_then(&of);
        }
        if let Some(to) = &mut self.to
            && to.year.is_none()
        {
            to.year = to.month.and_then(of);
        }
        self
    }

    /// The period that it is, where it says enough for one.
    pub fn period(&self) -> Option<Period> {
        if let Some(quarter) = self.quarter {
            let first = Month::new(self.from.year?, 1).plus(3 * (i32::from(quarter) - 1));
            return Some(Period::Months(first, first.plus(2)));
        }
        let Some(to) = self.to else {
            return match self.from {
                Part { day: Some(_), .. } => {
                    let day = self.from.on()?;
                    Some(if self.week_from { Period::Week(day, day.plus(6)) } else { Period::Days(day, day) })
                }
                Part { month: Some(_), .. } if self.week.is_none() => self.from.in_month().map(Period::Month),
                Part { year: Some(year), .. } if self.week.is_none() => {
                    Some(Period::Months(Month::new(year, 1), Month::new(year, 12)))
                }
                _ => None,
            };
        };
        match (self.from.on(), to.on()) {
            (Some(first), Some(last)) => match last.since(first) {
                1 => Some(Period::Days(first, last)),
                2..=6 => Some(Period::Week(first, last)),
                _ => None,
            },
            (None, None) if self.from.day.is_none() && to.day.is_none() => {
                let edge = |part: &Part, month| Some(Month::new(part.year?, part.month.unwrap_or(month)));
                let (first, last) = (edge(&self.from, 1)?, edge(&to, 12)?);
                (first < last).then_some(Period::Months(first, last))
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::words::ENGLISH;
    use super::*;

    fn said(text: &str) -> Option<String> {
        whole(text, &ENGLISH)?.period().map(|period| period.said(&ENGLISH))
    }

    #[test]
    fn dates_are_read_as_they_are_written() {
        for text in [
            "14 March 2027",
            "Sunday, 14 March 2027",
            "Sunday, March 14th, 2027",
            "Sun 14 Mar 2027",
            "2027-03-14",
            "SUNDAY \u{b7} 14 MARCH 2027",
            "Sunday \u{2014} March 14, 2027",
        ] {
            assert_eq!(said(text).as_deref(), Some("14 March 2027"), "{text}");
        }
        for (text, period) in [
            ("March 2027", "March 2027"),
            ("2027", "2027"),
            ("Quarter 2 \u{b7} 2027", "April 2027 \u{2013} June 2027"),
            ("Q4 2027", "October 2027 \u{2013} December 2027"),
            ("1 \u{2013} 7 March 2027", "1 March 2027 \u{2013} 7 March 2027"),
            ("March 1 - 7, 2027", "1 March 2027 \u{2013} 7 March 2027"),
            ("29 March \u{2013} 4 April 2027", "29 March 2027 \u{2013} 4 April 2027"),
            ("28 December \u{2013} 3 January 2027", "28 December 2026 \u{2013} 3 January 2027"),
            ("28 December 2026 \u{2013} 3 January 2027", "28 December 2026 \u{2013} 3 January 2027"),
            ("Week 9: 1 \u{2013} 7 March 2027", "1 March 2027 \u{2013} 7 March 2027"),
            ("Week 9", "none"),
            ("Week 9, 1 \u{2013} 7 March 2027", "1 March 2027 \u{2013} 7 March 2027"),
            ("Week of 1 March 2027", "1 March 2027 \u{2013} 7 March 2027"),
            ("August 2026 \u{2013} July 2027", "August 2026 \u{2013} July 2027"),
            ("2026/27", "January 2026 \u{2013} December 2027"),
            ("Sat 13 \u{2013} Sun 14 March 2027", "13 March 2027 \u{2013} 14 March 2027"),
        ] {
            assert_eq!(said(text).as_deref().unwrap_or("none"), period, "{text}");
        }
    }

    #[test]
    fn other_texts_are_none() {
        for text in ["", "14:00", "Notes", "May I", "7 beds", "12.5", "$14", "A4", "14 15", "Week", "50 %", "1/2", "+2"]
        {
            assert_eq!(whole(text, &ENGLISH), None, "{text}");
        }
    }

    #[test]
    fn dates_are_spotted_within_sentences() {
        let found = spotted(
            "On Friday, 12 March 2027 we sow; on 31 April 2027 nobody does. Saturdays: March 14, 2027.",
            &ENGLISH,
        );
        let days: Vec<_> = found.iter().map(|s| (s.weekday, s.day, s.month, s.year)).collect();
        assert_eq!(days, [(Some(4), 12, 3, 2027), (None, 31, 4, 2027), (None, 14, 3, 2027)]);
    }
}
