//! Dates and times as a calendar writes them (RFC 5545, 3.3.4 to 3.3.6).

use super::super::{Zone, short};
use super::lines::Line;
use crate::Unread;
use jiff::civil::{Date, DateTime, Time};

/// To what a time belongs.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum TimeKind {
    /// A day without a time.
    Day,
    /// A time wherever the reader is.
    Floating,
    /// A time of a zone.
    In(Zone),
    /// A time of a zone that is not known.
    Unknown(String),
}

/// A date, or a date with a time.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Moment {
    /// As it is written; midnight for a day.
    pub wall: DateTime,
    /// To what it belongs.
    pub of: TimeKind,
}

/// The years in which a calendar's dates may lie.
const YEARS: std::ops::RangeInclusive<i16> = 1583..=2400;

impl Moment {
    /// The time on the wall of what another moment belongs to.
    pub fn wall_in(&self, of: &TimeKind) -> DateTime {
        match (&self.of, of) {
            (TimeKind::In(from), TimeKind::In(to)) if from != to => moved(self.wall, from, to),
            _ => self.wall,
        }
    }
}

/// A time of one zone as another has it. A time that a change of clocks leaves out or has twice is taken as RFC 5545 has
/// it: with the offset before the change, and the first of two.
pub(super) fn moved(wall: DateTime, from: &Zone, to: &Zone) -> DateTime {
    wall.to_zoned_datetime(from.zone()).map_or(wall, |zoned| zoned.with_time_zone(to.zone()).datetime())
}

/// Reads the dates of a line: one, or several with commas between.
pub(super) fn moments(line: &Line) -> Result<Vec<Moment>, Unread> {
    line.value.split(',').map(|value| moment(value.trim(), line)).collect()
}

/// Reads a single date of a line.
pub(super) fn moment(value: &str, line: &Line) -> Result<Moment, Unread> {
    let odd = |why: &str| {
        let (what, name) = (short(value), &line.name);
        Unread::new(format!("`{what}` in {name} is no date{why}"), "write 20270314 with VALUE=DATE, or 20270314T193000")
    };
    let (date, time) = match value.split_once(['T', 't']) {
        Some((date, time)) => (date, Some(time)),
        None => (value, None),
    };
    let date = read_date(date).ok_or_else(|| odd(""))?;
    if !YEARS.contains(&date.year()) {
        return Err(odd(&format!(" between {} and {}", YEARS.start(), YEARS.end())));
    }
    let Some(time) = time else {
        return Ok(Moment { wall: date.to_datetime(Time::midnight()), of: TimeKind::Day });
    };
    let (time, utc) = match time.strip_suffix(['Z', 'z']) {
        Some(time) => (time, true),
        None => (time, false),
    };
    let time = read_time(time).ok_or_else(|| odd(""))?;
    let of = match line.parameter("TZID") {
        _ if utc => TimeKind::In(Zone::utc()),
        Some(id) => Zone::meant(id).map_or_else(|| TimeKind::Unknown(short(id)), TimeKind::In),
        None => TimeKind::Floating,
    };
    Ok(Moment { wall: date.to_datetime(time), of })
}

fn read_date(text: &str) -> Option<Date> {
    let digits = text.len() == 8 && text.bytes().all(|byte| byte.is_ascii_digit());
    let part = |range: std::ops::Range<usize>| text.get(range)?.parse::<i16>().ok();
    if !digits {
        return None;
    }
    Date::new(part(0..4)?, i8::try_from(part(4..6)?).ok()?, i8::try_from(part(6..8)?).ok()?).ok()
}

fn read_time(text: &str) -> Option<Time> {
    let digits = matches!(text.len(), 4 | 6) && text.bytes().all(|byte| byte.is_ascii_digit());
    let part = |range: std::ops::Range<usize>| text.get(range)?.parse::<i8>().ok();
    if !digits {
        return None;
    }
    let second = if text.len() == 6 { part(4..6)? } else { 0 };
    // A leap second is the second before it (RFC 5545, 3.3.12).
    Time::new(part(0..2)?, part(2..4)?, second.min(if second == 60 { 59 } else { second }), 0).ok()
}

/// Reads a length of time (RFC 5545, 3.3.6) in days and seconds: `P2D`, `PT1H30M`, `P1W`. None when it is none, or is
/// longer than 800 days or negative.
pub(super) fn duration(text: &str) -> Option<(i32, i64)> {
    let rest = text.strip_prefix('+').unwrap_or(text).strip_prefix('P')?;
    let (mut days, mut seconds, mut number, mut in_time, mut any) = (0i64, 0i64, None::<i64>, false, false);
    for letter in rest.chars() {
        match letter {
            '0'..='9' => {
                let digit = i64::from(letter.to_digit(10)?);
                number = Some(number.unwrap_or(0).checked_mul(10)?.checked_add(digit).filter(|n| *n < 100_000_000)?);
            }
            'T' if !in_time && number.is_none() => in_time = true,
            _ => {
                let count = number.take()?;
                match (letter, in_time) {
                    ('W', false) => days += count * 7,
                    ('D', false) => days += count,
                    ('H', true) => seconds += count * 3600,
                    ('M', true) => seconds += count * 60,
                    ('S', true) => seconds += count,
                    _ => return None,
                }
                any = true;
            }
        }
    }
    let whole = days.checked_add(seconds / 86_400)?;
    (any && number.is_none() && whole <= 800).then_some((i32::try_from(days).ok()?, seconds))
}
