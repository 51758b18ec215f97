//! An event of a calendar, and its dates in a span.

use super::super::Zone;
use super::moment::{Moment, TimeKind, moved};
use super::recur::{Limits, Recurrence};
use crate::Trouble;
use crate::days::plus_days;
use jiff::SignedDuration;
use jiff::civil::{Date, DateTime, Time};
use std::collections::{BTreeMap, BTreeSet};

/// An event of a calendar: when it first happens, how long, how it recurs.
#[derive(Clone, Debug, PartialEq)]
pub struct Appointment {
    start: Moment,
    length: Length,
    pub(super) rules: Vec<Recurrence>,
    /// Single dates beside the rules, each with a length of its own if it has one.
    pub(super) added: Vec<(DateTime, Option<Length>)>,
    left_out: BTreeSet<DateTime>,
    days_left_out: BTreeSet<Date>,
    /// What was not understood.
    pub(super) notes: Vec<String>,
}

/// How long an event lasts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Length {
    days: i32,
    seconds: i64,
}

impl From<(i32, i64)> for Length {
    fn from((days, seconds): (i32, i64)) -> Length {
        Length { days, seconds }
    }
}

/// One time at which an event happens.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stretch {
    /// The first day.
    pub first: Date,
    /// When it begins, for a timed one.
    pub start: Option<Time>,
    /// The last day.
    pub last: Date,
    /// When it ends, for a timed one that lasts.
    pub end: Option<Time>,
}

/// The dates of an event in a span.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Between {
    /// In order.
    pub times: Vec<Stretch>,
    /// What is worth telling.
    pub troubles: Vec<Trouble>,
    /// The first and the last day of all its dates, also outside of the span; none when it never ends.
    pub reach: Option<(Date, Date)>,
}

impl Appointment {
    pub(super) fn new(start: Moment, length: Length) -> Appointment {
        let (added, left_out, days_left_out) = (Vec::new(), BTreeSet::new(), BTreeSet::new());
        Appointment { start, length, rules: Vec::new(), added, left_out, days_left_out, notes: Vec::new() }
    }

    /// Whether it has more than one date by a rule or a list of dates.
    pub fn recurs(&self) -> bool {
        !self.rules.is_empty() || !self.added.is_empty()
    }

    pub(super) fn leave_out(&mut self, moment: &Moment) {
        if moment.of == TimeKind::Day && self.start.of != TimeKind::Day {
            self.days_left_out.insert(moment.wall.date());
        } else {
            self.left_out.insert(moment.wall_in(&self.start.of));
        }
    }

    /// Takes the date of a change out. Whether the changed date is to be added: not if the event does not have it.
    pub(super) fn change(&mut self, change: &Change) -> bool {
        if change.later_too {
            self.notes.push(format!("a change of all dates from {} on (RANGE=THISANDFUTURE)", change.of.wall.date()));
        }
        self.leave_out(&change.of);
        true
    }

    /// Its dates that touch the days from `first` to `last`, timed ones brought to a zone.
    pub fn between(&self, first: Date, last: Date, zone: Option<&Zone>) -> Between {
        let mut found = Between::default();
        for note in &self.notes {
            found.troubles.push(Trouble::NotUnderstood(note.clone()));
        }
        let (starts, reach) = self.starts(first, last, &mut found.troubles);
        found.reach = reach;
        found.times = starts
            .into_iter()
            .filter(|(wall, _)| !self.left_out.contains(wall) && !self.days_left_out.contains(&wall.date()))
            .map(|(wall, length)| self.stretch(wall, length, zone))
            .filter(|each| each.first <= last && each.last >= first)
            .collect();
        found.times.sort();
        if !found.times.is_empty() {
            found.troubles.extend(self.zone_trouble(zone));
        } else if !self.recurs() {
            found.troubles.push(Trouble::OutsideSpan(self.stretch(self.start.wall, self.length, zone).first));
        }
        found
    }

    /// When it begins, by its own wall clock, as far as it touches the days; and how far all of it reaches.
    #[allow(clippy::type_complexity)]
    fn starts(
        &self,
        first: Date,
        last: Date,
        troubles: &mut Vec<Trouble>,
    ) -> (BTreeMap<DateTime, Length>, Option<(Date, Date)>) {
        let mut starts = BTreeMap::new();
        // A day and more at each side for what zones move.
        let longest =
            self.added.iter().filter_map(|(_, length)| *length).chain([self.length]).map(Length::whole_days).max();
        let from = plus_days(first, -2 - longest.unwrap_or(0)).to_datetime(Time::midnight());
        let to = plus_days(last, 2).to_datetime(Time::midnight());
        let (mut latest, mut endless, mut any) = (self.start.wall, false, false);
        for rule in &self.rules {
            let limits = Limits::default();
            let found = rule.walls(self.start.wall, from, to, limits);
            any |= found.last.is_some();
            endless |= found.endless;
            latest = latest.max(found.last.unwrap_or(latest));
            if found.stopped {
                troubles.push(Trouble::TooManySteps(limits.steps));
            }
            starts.extend(found.walls.into_iter().map(|wall| (wall, self.length)));
        }
        for (wall, length) in &self.added {
            any = true;
            latest = latest.max(*wall);
            starts.insert(*wall, length.unwrap_or(self.length));
        }
        // The start is the first date (RFC 5545, 3.8.5.3), also where the rule alone would not give it.
        starts.insert(self.start.wall, self.length);
        if !self.rules.is_empty() && !any && !troubles.iter().any(|each| matches!(each, Trouble::TooManySteps(_))) {
            troubles.push(Trouble::NeverHappens);
        }
        let reach = (self.start.wall.date(), self.stretch(latest, self.length, None).last);
        (starts, (!endless).then_some(reach))
    }

    fn stretch(&self, wall: DateTime, length: Length, zone: Option<&Zone>) -> Stretch {
        if self.start.of == TimeKind::Day {
            let first = wall.date();
            return Stretch { first, last: plus_days(first, length.days.max(1) - 1), start: None, end: None };
        }
        let seconds = i64::from(length.days) * 86_400 + length.seconds;
        let end = wall.saturating_add(SignedDuration::from_secs(seconds));
        let (start, end) = match (&self.start.of, zone) {
            (TimeKind::In(own), Some(zone)) => (moved(wall, own, zone), moved(end, own, zone)),
            _ => (wall, end),
        };
        // What ends at midnight is not on the next day.
        let ends_before = end > start && end.time() == Time::midnight();
        let last = if ends_before { plus_days(end.date(), -1) } else { end.date() };
        Stretch {
            first: start.date(),
            last: last.max(start.date()),
            start: Some(start.time()),
            end: (end > start).then_some(end.time()),
        }
    }

    fn zone_trouble(&self, zone: Option<&Zone>) -> Option<Trouble> {
        match (&self.start.of, zone) {
            (TimeKind::Floating, _) => Some(Trouble::WithoutZone),
            (TimeKind::Unknown(name), _) => Some(Trouble::ZoneUnknown(name.clone())),
            (TimeKind::In(own), None) => Some(Trouble::ZoneUnsaid(own.name().to_owned())),
            _ => None,
        }
    }
}

impl Length {
    fn whole_days(self) -> i32 {
        self.days + i32::try_from(self.seconds / 86_400).unwrap_or(0) + 1
    }
}

/// A changed date of an event that recurs.
pub(super) struct Change {
    pub name: String,
    pub category: Option<String>,
    /// The date as the recurrence has it.
    pub of: Moment,
    /// When it happens now; none when it was called off.
    pub now: Option<Appointment>,
    /// Whether all later dates are meant too.
    pub later_too: bool,
}
