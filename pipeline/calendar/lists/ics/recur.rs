//! Recurrences (RFC 5545, 3.3.10), worked out by the `rrule` library on the wall clock of the event.
//!
//! The library is given wall times as if they were UTC, so that it needs no zone and a rehearsal at 19:30 stays at 19:30
//! when the clocks change. What it would take too long or too much memory for is refused or ended here.

use super::super::short;
use super::lines::Line;
use super::moment::{Moment, TimeKind, moment};
use crate::Unread;
use jiff::civil::{DateTime, Time};
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use rrule::RRuleSet;

/// How far a recurrence is followed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Dates that are looked at, from the first that can touch the span; from the first of all where they are counted.
    pub steps: usize,
}

impl Default for Limits {
    fn default() -> Limits {
        Limits { steps: 10_000 }
    }
}

/// A recurrence that was read.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Recurrence {
    /// Its parts, without UNTIL.
    parts: String,
    /// Seconds after which it repeats itself, for those that can begin later without change.
    period: Option<i64>,
    counted: bool,
    until: Option<DateTime>,
}

/// Why a recurrence is not taken.
pub(super) enum Refused {
    /// It is no recurrence.
    Wrong(Unread),
    /// It is one of another standard.
    NotUnderstood(String),
}

/// The dates of a recurrence in a window.
#[derive(Debug, Default)]
pub(super) struct Walls {
    pub walls: Vec<DateTime>,
    /// The last date that was seen; none when it has no date at all.
    pub last: Option<DateTime>,
    pub stopped: bool,
    pub endless: bool,
}

/// Times of day that one recurrence may have; the library keeps all of a year's in memory.
const TIMES: usize = 144;
const HELP: &str = "export the calendar anew, or write the dates as events of their own";

impl Recurrence {
    /// Reads the value of an RRULE.
    pub fn read(value: &str, start: &Moment) -> Result<Recurrence, Refused> {
        let wrong = |what: String| Refused::Wrong(Unread::new(what, HELP));
        if value.len() > 2_000 {
            return Err(wrong("a recurrence of more than 2,000 characters".into()));
        }
        // RFC 5545 knows nothing else in a recurrence, and the library cuts its parts between bytes.
        if let Some(odd) = value.chars().find(|c| !matches!(c, ' '..='~')) {
            return Err(wrong(format!("a recurrence with the character U+{:04X} in it", u32::from(odd))));
        }
        let upper = value.trim().to_ascii_uppercase();
        let (mut parts, mut until, mut counted, mut interval, mut unit) = (Vec::new(), None, false, 1i64, None);
        let mut times = 1usize;
        for part in upper.split(';').filter(|part| !part.is_empty()) {
            let (key, given) =
                part.split_once('=').ok_or_else(|| wrong(format!("`{}` is no part of a recurrence", short(part))))?;
            match key {
                "RSCALE" | "SKIP" => return Err(Refused::NotUnderstood(format!("a recurrence with {key} (RFC 7529)"))),
                "UNTIL" => {
                    until = Some(read_until(given, start).map_err(Refused::Wrong)?);
                    continue;
                }
                "COUNT" => counted = true,
                "INTERVAL" => interval = given.parse::<u16>().map_or(1, i64::from).max(1),
                "FREQ" => unit = seconds(given),
                "BYHOUR" | "BYMINUTE" | "BYSECOND" => times = times.saturating_mul(given.split(',').count()),
                _ => {}
            }
            parts.push(part);
        }
        if times > TIMES {
            return Err(Refused::NotUnderstood(format!("a recurrence of more than {TIMES} times a day")));
        }
        let period = unit.filter(|_| !counted).map(|unit| unit * interval);
        let recurrence = Recurrence { parts: parts.join(";"), period, counted, until };
        // The library says now what is wrong, while there is a line to blame.
        match recurrence.set(start.wall) {
            Ok(_) => Ok(recurrence),
            Err(why) => Err(wrong(format!("`{}` is no recurrence ({why})", short(value)))),
        }
    }

    fn set(&self, start: DateTime) -> Result<RRuleSet, String> {
        let text = format!("DTSTART:{}Z\nRRULE:{}", start.strftime("%Y%m%dT%H%M%S"), self.parts);
        text.parse::<RRuleSet>().map(RRuleSet::limit).map_err(|error| short(&error.to_string()))
    }

    /// The dates from `from` to `to`.
    pub fn walls(&self, start: DateTime, from: DateTime, to: DateTime, limits: Limits) -> Walls {
        let mut found = Walls { endless: !self.counted && self.until.is_none(), ..Walls::default() };
        let Ok(set) = self.set(self.later(start, from)) else { return found };
        let mut dates = set.into_iter();
        for step in 0.. {
            if step == limits.steps {
                found.stopped = true;
                break;
            }
            let Some(date) = dates.next() else {
                // A recurrence without end that ends was left by the library.
                found.stopped = found.endless && found.last.is_some();
                break;
            };
            let Ok(wall) = Timestamp::from_second(date.timestamp()).map(|time| TimeZone::UTC.to_datetime(time)) else {
                break;
            };
            if self.until.is_some_and(|until| wall > until) {
                break;
            }
            found.last = Some(wall);
            if wall >= to {
                break;
            }
            if wall >= from {
                found.walls.push(wall);
            }
        }
        // It went on after what was looked at.
        if let (Some(until), Some(_)) = (self.until, found.last) {
            found.last = Some(until);
        }
        found
    }

    /// A later start that gives the same dates from `from` on: whole periods are passed over.
    fn later(&self, start: DateTime, from: DateTime) -> DateTime {
        let gap = from.duration_since(start).as_secs();
        match self.period {
            Some(period) if gap > period => {
                start.saturating_add(SignedDuration::from_secs((gap / period - 1).max(0) * period))
            }
            _ => start,
        }
    }
}

/// The length of what a recurrence counts in, where that is always the same.
fn seconds(frequency: &str) -> Option<i64> {
    match frequency {
        "WEEKLY" => Some(604_800),
        "DAILY" => Some(86_400),
        "HOURLY" => Some(3_600),
        "MINUTELY" => Some(60),
        "SECONDLY" => Some(1),
        _ => None,
    }
}

/// The last moment of a recurrence, by the wall clock of its start. A day counts whole.
fn read_until(given: &str, start: &Moment) -> Result<DateTime, Unread> {
    let line = Line { line: 0, name: "UNTIL".into(), parameters: Vec::new(), value: String::new(), value_column: 0 };
    let until = moment(given, &line)?;
    Ok(if until.of == TimeKind::Day || start.of == TimeKind::Day {
        until.wall.date().to_datetime(Time::constant(23, 59, 59, 0))
    } else {
        until.wall_in(&start.of)
    })
}
