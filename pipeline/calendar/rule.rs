//! Rules for dates: `2027-03-14`, `03-14`, `2nd monday of may`, `last friday of november`, `easter-47`.

use crate::days::plus_days;
use crate::days::read_date;
use crate::{Unread, Weekday, easter, orthodox_easter};
use base::keys::{Described, Shape};
use jiff::civil::Date;
use std::fmt;
use std::str::FromStr;

crate::words::words! {
    /// What a yearly event of 29 February does in a common year.
    Leap, "way to treat 29 February" {
        /// It does not happen, as RFC 5545 has it.
        Skip = "skip",
        /// It happens on 28 February.
        February28 = "28 february",
        /// It happens on 1 March.
        March1 = "1 march",
    }
}

/// When something happens. All but a date happen every year.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Rule {
    /// Once.
    Date(Date),
    /// Each year on a day of a month.
    Yearly {
        /// 1 to 12.
        month: i8,
        /// 1 to 31; a day that the month has at least in leap years.
        day: i8,
    },
    /// Each year on the nth weekday of a month, moved by some days.
    Nth {
        /// 1 to 5, or -1 for the last.
        nth: i8,
        /// The weekday.
        weekday: Weekday,
        /// 1 to 12.
        month: i8,
        /// Days after it, or before it.
        days: i16,
    },
    /// Each year so many days after Easter Sunday, or before it.
    Easter {
        /// That of the orthodox churches.
        orthodox: bool,
        /// Days after it, or before it.
        days: i16,
    },
}

impl Described for Rule {
    fn shape() -> Shape {
        Shape::Text
    }
}

/// English names of months, as rules are written in.
const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];
const NTH: [(&str, &str, i8); 6] = [
    ("1st", "first", 1),
    ("2nd", "second", 2),
    ("3rd", "third", 3),
    ("4th", "fourth", 4),
    ("5th", "fifth", 5),
    ("last", "last", -1),
];
const HELP: &str = "write a date as \"2027-03-14\", a yearly one as \"03-14\", or a rule as \"2nd monday of may\", \
                    \"last friday of november\", \"easter-47\" or \"orthodox-easter+1\"";
/// Days by which a rule may be moved.
const FAR: i16 = 200;

impl Rule {
    /// The date in a year, if there is one. What 29 February does in a common year is `leap`.
    pub fn in_year(&self, year: i16, leap: Leap) -> Option<Date> {
        match *self {
            Rule::Date(date) => (date.year() == year).then_some(date),
            Rule::Yearly { month, day } => match Date::new(year, month, day) {
                Ok(date) => Some(date),
                Err(_) if leap == Leap::February28 => Date::new(year, 2, 28).ok(),
                Err(_) if leap == Leap::March1 => Date::new(year, 3, 1).ok(),
                Err(_) => None,
            },
            Rule::Nth { nth, weekday, month, days } => {
                let base = Date::new(year, month, 1).ok()?.nth_weekday_of_month(nth, weekday.into()).ok()?;
                Some(plus_days(base, i32::from(days)))
            }
            Rule::Easter { orthodox, days } => {
                let base = if orthodox { orthodox_easter(year) } else { easter(year) }?;
                Some(plus_days(base, i32::from(days)))
            }
        }
    }

    /// All dates from one day to another, in order, with the year that the rule was asked for.
    pub fn between(&self, first: Date, last: Date, leap: Leap) -> Vec<(i16, Date)> {
        // A moved date may lie in the year after or before that of its feast.
        let years = first.year().saturating_sub(1)..=last.year().saturating_add(1);
        years
            .filter_map(|year| Some((year, self.in_year(year, leap)?)))
            .filter(|(_, date)| first <= *date && *date <= last)
            .collect()
    }

    /// Whether it is a yearly event of 29 February.
    pub fn is_leap_day(&self) -> bool {
        matches!(self, Rule::Yearly { month: 2, day: 29 })
    }

    /// Whether it happens once only.
    pub fn is_once(&self) -> bool {
        matches!(self, Rule::Date(_))
    }
}

/// As it is written in the manifest.
impl fmt::Display for Rule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let days = match *self {
            Rule::Date(date) => return write!(f, "{date}"),
            Rule::Yearly { month, day } => return write!(f, "{month:02}-{day:02}"),
            Rule::Nth { nth, weekday, month, days } => {
                let word = NTH.iter().find(|(_, _, number)| *number == nth).map_or("", |(word, _, _)| word);
                let month = MONTHS.get(usize::from(month.unsigned_abs()).wrapping_sub(1)).unwrap_or(&"");
                write!(f, "{word} {weekday} of {month}")?;
                days
            }
            Rule::Easter { orthodox, days } => {
                f.write_str(if orthodox { "orthodox-easter" } else { "easter" })?;
                days
            }
        };
        if days == 0 { Ok(()) } else { write!(f, "{days:+}") }
    }
}

impl FromStr for Rule {
    type Err = Unread;

    fn from_str(text: &str) -> Result<Rule, Unread> {
        let plain = text.trim().to_lowercase();
        if plain.len() > 80 {
            return Err(Unread::new("a text of that length is no rule for a date", HELP));
        }
        let digits = |count: usize| plain.len() >= count && plain.bytes().take(count).all(|byte| byte.is_ascii_digit());
        if digits(4) {
            return read_date(&plain).map(Rule::Date);
        }
        if digits(2) && plain.as_bytes().get(2) == Some(&b'-') {
            return yearly(&plain);
        }
        let (base, days) = moved(&plain)?;
        match base {
            "easter" => return Ok(Rule::Easter { orthodox: false, days }),
            "orthodox-easter" | "orthodox easter" => return Ok(Rule::Easter { orthodox: true, days }),
            _ => {}
        }
        nth(text, base, days)
    }
}

crate::words::as_text!(Rule, "date or rule for one");

/// Reads `03-14`.
fn yearly(text: &str) -> Result<Rule, Unread> {
    let odd =
        || Unread::new(format!("`{text}` is no day of the year"), "write month and day, as in \"03-14\" for 14 March");
    let (month, day) = text.split_once('-').ok_or_else(odd)?;
    if day.len() != 2 || !day.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(odd());
    }
    let (month, day): (i8, i8) = (month.parse().map_err(|_| odd())?, day.parse().map_err(|_| odd())?);
    if !(1..=12).contains(&month) {
        return Err(Unread::new(
            format!("`{text}`: no year has a month {month}"),
            "write the month first, as in \"03-14\" for 14 March",
        ));
    }
    // 2000 was a leap year.
    if Date::new(2000, month, day).is_err() {
        let name = MONTHS[usize::from(month.unsigned_abs()) - 1];
        return Err(Unread::new(format!("`{text}`: {name} never has a day {day}"), "give a day that the month has"));
    }
    Ok(Rule::Yearly { month, day })
}

/// Splits the days by which a rule is moved from its end: `easter-47`.
fn moved(text: &str) -> Result<(&str, i16), Unread> {
    let number = text.trim_end_matches(|c: char| c.is_ascii_digit());
    let sign = number.trim_end();
    if number.len() == text.len() || !sign.ends_with(['+', '-']) {
        return Ok((text, 0));
    }
    let (base, sign) = sign.split_at(sign.len() - 1);
    match text[number.len()..].parse::<i16>() {
        Ok(days) if days <= FAR => Ok((base.trim_end(), if sign == "-" { -days } else { days })),
        _ => Err(Unread::new(
            format!("`{text}` is moved too far"),
            format!("a rule may be moved by up to {FAR} days; take a day of the year instead, as \"03-14\""),
        )),
    }
}

/// Reads `2nd monday of may`.
fn nth(whole: &str, base: &str, days: i16) -> Result<Rule, Unread> {
    let parts: Vec<&str> = base.split_whitespace().collect();
    let [nth, weekday, of, month] = parts[..] else {
        let near = crate::unread::nearest(base, ["easter", "orthodox-easter"]);
        let help = near.map_or_else(|| HELP.to_owned(), |word| format!("did you mean `{word}`?"));
        return Err(Unread::new(format!("`{whole}` is no date and no rule for one"), help));
    };
    let Some((_, _, nth)) = NTH.iter().find(|(short, long, _)| nth == *short || nth == *long) else {
        // The nearest word would be any of them.
        let valid: Vec<&str> = NTH.iter().map(|(short, _, _)| *short).collect();
        return Err(Unread::new(
            format!("`{nth}` is no place in a month"),
            format!("valid here: {}", valid.join(", ")),
        ));
    };
    let weekday: Weekday = weekday.parse()?;
    if of != "of" {
        return Err(Unread::new(format!("`{of}` stands where `of` is meant in `{whole}`"), HELP));
    }
    let Some(month) = (1i8..).zip(MONTHS).find(|(_, name)| month == *name).map(|(number, _)| number) else {
        return Err(Unread::word("month", month, MONTHS));
    };
    Ok(Rule::Nth { nth: *nth, weekday, month, days })
}
