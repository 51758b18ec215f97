//! What happens in a span, in order, and what is worth telling about it.

use super::{ByRule, Event, EventSource, Finding, Trouble, When};
use crate::days::{days_between, plus_days};
use crate::lists::Zone;
use crate::{Leap, Span};
use jiff::civil::{Date, Time};

/// Events that belong together: a list, or the single events of the manifest.
#[derive(Clone, Debug, Default)]
pub struct Source {
    /// Its name.
    pub name: String,
    /// Its events.
    pub events: Vec<Event>,
    /// The zone to which timed entries are brought.
    pub zone: Option<Zone>,
    /// What 29 February does where an event does not say it.
    pub leap: Option<Leap>,
    /// Whether it is a list, which can end before the planner does.
    pub is_list: bool,
}

/// An event at one of its dates.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Occurrence {
    /// What it is called, the count of years filled in.
    pub name: String,
    /// Its kind.
    pub kind: Option<String>,
    /// Its first day.
    pub first: Date,
    /// Its last day.
    pub last: Date,
    /// When it begins, for a timed one.
    pub start: Option<Time>,
    /// When it ends, for a timed one.
    pub end: Option<Time>,
    /// Of an anniversary: the count of years, 0 in the year itself.
    pub years: Option<i16>,
    /// The index of its source.
    pub source: usize,
    /// The index of its event in the source.
    pub event: usize,
}

impl Occurrence {
    /// Whether it happens on a day.
    pub fn is_on(&self, date: Date) -> bool {
        self.first <= date && date <= self.last
    }
}

/// All that happens in a span.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Agenda {
    /// By first day, then all-day ones before timed ones, then in the order of the sources.
    pub occurrences: Vec<Occurrence>,
    /// What is worth telling.
    pub findings: Vec<Finding>,
    /// The longest of them, in days.
    longest: i32,
}

/// Days at an end of a span that a list may leave bare.
const BARE: i32 = 184;

impl Agenda {
    /// Works out what happens in a span.
    pub fn new(span: &Span, sources: &[Source]) -> Agenda {
        let mut agenda = Agenda::default();
        for (index, source) in sources.iter().enumerate() {
            let mut reach = Reach::default();
            for (event, about) in source.events.iter().enumerate() {
                let mut gather =
                    Gather { span, source, about, agenda: &mut agenda, reach: &mut reach, ids: (index, event) };
                match &about.when {
                    When::Rule(rule) => gather.by_rule(rule),
                    When::Appointment(appointment) => gather.appointment(appointment),
                }
            }
            if source.is_list {
                agenda.findings.extend(reach.findings(span, source));
            }
        }
        agenda.order();
        agenda
    }

    /// An agenda of occurrences that are known already.
    pub fn of(occurrences: impl Iterator<Item = Occurrence>) -> Agenda {
        let mut agenda = Agenda { occurrences: occurrences.collect(), ..Agenda::default() };
        agenda.order();
        agenda
    }

    fn order(&mut self) {
        self.occurrences.sort_by_key(|each| (each.first, each.start, each.source, each.event));
        self.longest = self.occurrences.iter().map(|each| days_between(each.first, each.last)).max().unwrap_or(0);
    }

    /// What happens on a day, in order.
    pub fn on(&self, date: Date) -> impl Iterator<Item = &Occurrence> {
        let from = plus_days(date, -self.longest);
        let start = self.occurrences.partition_point(|each| each.first < from);
        let end = self.occurrences.partition_point(|each| each.first <= date);
        self.occurrences[start..end.max(start)].iter().filter(move |each| each.is_on(date))
    }
}

struct Gather<'a> {
    span: &'a Span,
    source: &'a Source,
    about: &'a Event,
    agenda: &'a mut Agenda,
    reach: &'a mut Reach,
    ids: (usize, usize),
}

impl Gather<'_> {
    fn find(&mut self, trouble: Trouble) {
        self.agenda.findings.push(Finding {
            written_at: self.about.written_at.clone(),
            name: self.about.name.clone(),
            trouble,
        });
    }

    fn happen(&mut self, days: (Date, Date), times: (Option<Time>, Option<Time>), years: Option<i16>) {
        let count = years.map_or_else(|| "{years}".to_owned(), |years| years.to_string());
        self.agenda.occurrences.push(Occurrence {
            name: self.about.name.replace("{years}", &count),
            kind: self.about.kind.clone(),
            first: days.0,
            last: days.1,
            start: times.0,
            end: times.1,
            years,
            source: self.ids.0,
            event: self.ids.1,
        });
    }

    fn by_rule(&mut self, when: &ByRule) {
        let said = when.leap.or(self.source.leap);
        let leap = said.unwrap_or(Leap::Skip);
        let (first, last) = (self.span.first_day(), self.span.last_day());
        if let crate::Rule::Date(date) = when.rule {
            let until = when.until.unwrap_or(date);
            self.reach.dated(&self.about.written_at, date, until);
            if until < first || date > last {
                return self.find(Trouble::OutsideSpan(date));
            }
            let years = when.since.map(|since| date.year().saturating_sub(since));
            return self.happen((date, until), (None, None), years);
        }
        self.reach.endless = true;
        let since = |year: i16| when.since.is_none_or(|since| since <= year);
        for (year, date) in when.rule.between(first, last, leap) {
            if since(year) {
                self.happen((date, date), (None, None), when.since.map(|since| year.saturating_sub(since)));
            }
        }
        let common = |year: &i16| Date::new(*year, 2, 29).is_err();
        if when.rule.is_leap_day() && said.is_none() && self.span.calendar_years().any(|year| common(&year)) {
            return self.find(Trouble::LeapUnsaid);
        }
        // A rule that happens in the planner's years, but not in its months, is no mistake.
        if !self.span.calendar_years().any(|year| since(year) && when.rule.in_year(year, leap).is_some()) {
            self.find(Trouble::NeverHappens);
        }
    }

    fn appointment(&mut self, appointment: &crate::lists::Appointment) {
        let found = appointment.between(self.span.first_day(), self.span.last_day(), self.source.zone.as_ref());
        for each in found.times {
            self.happen((each.first, each.last), (each.start, each.end), None);
        }
        for trouble in found.troubles {
            self.find(trouble);
        }
        match found.reach {
            Some((first, last)) => self.reach.dated(&self.about.written_at, first, last),
            None => self.reach.endless = true,
        }
    }
}

/// From when to when the dated entries of a list reach.
#[derive(Default)]
struct Reach {
    written_at: Option<EventSource>,
    first: Option<Date>,
    last: Option<Date>,
    endless: bool,
}

impl Reach {
    fn dated(&mut self, written_at: &EventSource, first: Date, last: Date) {
        self.written_at.get_or_insert_with(|| written_at.clone());
        self.first = Some(self.first.map_or(first, |old| old.min(first)));
        self.last = Some(self.last.map_or(last, |old| old.max(last)));
    }

    /// A list that has rules without end never ends.
    fn findings(self, span: &Span, source: &Source) -> Vec<Finding> {
        let (Some(written_at), Some(first), Some(last), false) = (self.written_at, self.first, self.last, self.endless)
        else {
            return Vec::new();
        };
        let finding = |trouble| Finding { written_at: written_at.clone(), name: source.name.clone(), trouble };
        let mut findings = Vec::new();
        if last < span.first_day() || days_between(last, span.last_day()) > BARE {
            findings.push(finding(Trouble::ListEnds(last)));
        }
        if first > span.last_day() || days_between(span.first_day(), first) > BARE {
            findings.push(finding(Trouble::ListBegins(first)));
        }
        findings
    }
}
