//! An event as it stands in a file, put together line by line.

use super::super::short;
use super::appointment::{Appointment, Change, Length};
use super::lines::{Line, Odd, unescaped};
use super::moment::{Moment, TimeKind, duration, moment, moments};
use super::recur::{Recurrence, Refused};
use crate::Unread;

/// What an event of a file is.
pub(super) enum Kind {
    /// An event of its own.
    Whole { name: String, category: Option<String>, appointment: Appointment },
    /// A changed date of an event that recurs.
    Change(Change),
    /// An event that was called off.
    Cancelled,
}

/// The lines of an event.
pub(super) struct Draft {
    /// Where it begins.
    pub line: usize,
    uid: Option<String>,
    name: Option<String>,
    category: Option<String>,
    cancelled: bool,
    start: Option<Moment>,
    end: Option<(Moment, Line)>,
    length: Option<(i32, i64)>,
    rules: Vec<Line>,
    added: Vec<(Moment, Option<(i32, i64)>)>,
    left_out: Vec<Moment>,
    change: Option<(Moment, bool)>,
    notes: Vec<String>,
    /// A line could not be read: the event cannot be trusted, and its fault is told already.
    broken: bool,
}

/// Dates that one event may add or leave out.
const MANY: usize = 20_000;

impl Draft {
    pub fn at(line: usize) -> Draft {
        Draft {
            line,
            uid: None,
            name: None,
            category: None,
            cancelled: false,
            start: None,
            end: None,
            length: None,
            rules: Vec::new(),
            added: Vec::new(),
            left_out: Vec::new(),
            change: None,
            notes: Vec::new(),
            broken: false,
        }
    }

    /// Takes a line of the event.
    pub fn take(&mut self, line: &Line) -> Result<(), Unread> {
        let taken = self.read(line);
        self.broken |= taken.is_err();
        taken
    }

    fn read(&mut self, line: &Line) -> Result<(), Unread> {
        match line.name.as_str() {
            "UID" => self.uid = Some(line.value.trim().to_owned()),
            "SUMMARY" => self.name = Some(unescaped(&line.value)),
            "CATEGORIES" => self.category = self.category.take().or_else(|| category(&line.value)),
            "STATUS" => self.cancelled = line.value.trim().eq_ignore_ascii_case("CANCELLED"),
            "DTSTART" => self.start = Some(moment(line.value.trim(), line)?),
            "DTEND" => self.end = Some((moment(line.value.trim(), line)?, line.clone())),
            "DURATION" => {
                let read = duration(line.value.trim());
                self.length = Some(read.ok_or_else(|| no_length(&line.value))?);
            }
            "RRULE" => self.rules.push(line.clone()),
            "EXRULE" => self.notes.push("an EXRULE (RFC 2445)".into()),
            "RDATE" => {
                for value in line.value.split(',').map(str::trim) {
                    let read = match value.split_once('/') {
                        None => (moment(value, line)?, None),
                        Some((start, end)) => {
                            let start = moment(start, line)?;
                            let length = match duration(end) {
                                Some(length) => length,
                                None => between(&start, &moment(end, line)?).ok_or_else(|| no_length(value))?,
                            };
                            (start, Some(length))
                        }
                    };
                    self.added.push(read);
                }
            }
            "EXDATE" => self.left_out.extend(moments(line)?),
            "RECURRENCE-ID" => {
                let later = line.parameter("RANGE").is_some_and(|range| range.eq_ignore_ascii_case("THISANDFUTURE"));
                self.change = Some((moment(line.value.trim(), line)?, later));
            }
            _ => {}
        }
        if self.added.len() > MANY || self.left_out.len() > MANY {
            self.added.truncate(MANY);
            self.left_out.truncate(MANY);
            return Err(Unread::new(
                format!("more than {MANY} single dates in one event"),
                "write a recurrence (RRULE) instead",
            ));
        }
        Ok(())
    }

    /// The event, or why it is none. One whose fault is told already is passed over as if it were called off.
    pub fn finish(self) -> Result<(Option<String>, Kind), Odd> {
        if self.broken {
            return Ok((None, Kind::Cancelled));
        }
        let line = self.line;
        let odd = |line, column, unread: Unread| Odd { line, column, what: unread.what, help: unread.help };
        let name = self.name.filter(|name| !name.is_empty()).unwrap_or_else(|| "(no name)".into());
        if let (true, Some((of, later_too))) = (self.cancelled, &self.change) {
            let change = Change { name, category: None, of: of.clone(), now: None, later_too: *later_too };
            return Ok((self.uid, Kind::Change(change)));
        }
        if self.cancelled {
            return Ok((self.uid, Kind::Cancelled));
        }
        let Some(start) = self.start else {
            let what = format!("the event `{}` has no DTSTART", short(&name));
            return Err(odd(line, 1, Unread::new(what, "give it a date: DTSTART;VALUE=DATE:20270314")));
        };
        let length = match (&self.end, self.length) {
            (Some((end, at)), _) => between(&start, end).ok_or_else(|| {
                let what = format!("the event `{}` ends before it begins, or more than 800 days after", short(&name));
                odd(
                    at.line,
                    at.value_column,
                    Unread::new(what, "correct DTEND: it is the day after the last, or the time of the end"),
                )
            })?,
            (None, Some(length)) => length,
            (None, None) => (0, 0),
        };
        let mut appointment = Appointment::new(start.clone(), Length::from(length));
        appointment.notes = self.notes;
        for at in &self.rules {
            match Recurrence::read(&at.value, &start) {
                Ok(rule) => appointment.rules.push(rule),
                Err(Refused::NotUnderstood(what)) => appointment.notes.push(what),
                Err(Refused::Wrong(unread)) => return Err(odd(at.line, at.value_column, unread)),
            }
        }
        for (moment, length) in self.added {
            appointment.added.push((moment.wall_in(&start.of), length.map(Length::from)));
        }
        for moment in &self.left_out {
            appointment.leave_out(moment);
        }
        Ok(match self.change {
            None => (self.uid, Kind::Whole { name, category: self.category, appointment }),
            Some((of, later_too)) => {
                let change = Change { name, category: self.category, of, now: Some(appointment), later_too };
                (self.uid, Kind::Change(change))
            }
        })
    }
}

fn category(value: &str) -> Option<String> {
    let first = unescaped(value.split(',').next()?);
    (!first.is_empty()).then_some(first)
}

fn no_length(value: &str) -> Unread {
    Unread::new(format!("`{}` is no length of time up to 800 days", short(value)), "write it as P1D or PT1H30M")
}

/// Days and seconds from a start to an end; none when the end comes first, or after more than 800 days.
fn between(start: &Moment, end: &Moment) -> Option<(i32, i64)> {
    let seconds = end.wall_in(&start.of).duration_since(start.wall).as_secs();
    let days = i32::try_from(seconds.div_euclid(86_400)).ok()?;
    if !(0..=800).contains(&days) {
        return None;
    }
    if start.of == TimeKind::Day { Some((days, 0)) } else { Some((0, seconds)) }
}
