//! Events: what they are called, when they happen, and what happens in a span.

mod agenda;
mod finding;

pub use agenda::{Agenda, Occurrence, Source};
pub use finding::{Finding, Trouble};

use crate::lists::Appointment;
use crate::{Leap, Rule, Unread};
use jiff::civil::Date;
use std::fmt;

/// Where an event is written.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EventSource {
    /// The file, as the manifest names it.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
    /// The column in characters, from 1.
    pub column: usize,
}

impl fmt::Display for EventSource {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}", self.file, self.line, self.column)
    }
}

/// Something that happens.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// What it is called; `{years}` stands for the count of years of an anniversary.
    pub name: String,
    /// A kind, by the designer or the list.
    pub kind: Option<String>,
    /// Where it is written.
    pub written_at: EventSource,
    /// When it happens.
    pub when: When,
}

/// When an event happens.
#[derive(Clone, Debug, PartialEq)]
pub enum When {
    /// By a date or rule of the manifest or of a CSV list.
    Rule(ByRule),
    /// As an `.ics` list has it.
    Appointment(Box<Appointment>),
}

/// A date or rule, with what belongs to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ByRule {
    /// The date or rule.
    pub rule: Rule,
    /// The last day of an event of one date that lasts longer.
    pub until: Option<Date>,
    /// What 29 February does in common years; unsaid is a finding.
    pub leap: Option<Leap>,
    /// The year from which an anniversary counts; it does not happen before.
    pub since: Option<i16>,
}

/// Days that one event may last.
const LONG: i32 = 800;

impl ByRule {
    /// A rule with what belongs to it.
    ///
    /// # Errors
    /// When `until` is no single date, stands with a rule, or lies before the first day or more than 800 days after it.
    pub fn new(rule: Rule, until: Option<Rule>, leap: Option<Leap>, since: Option<i16>) -> Result<ByRule, Unread> {
        let until = match (rule, until) {
            (_, None) => None,
            (Rule::Date(first), Some(Rule::Date(last))) if last < first => {
                return Err(Unread::new(
                    format!("it ends on {last}, before it begins on {first}"),
                    "give a last day that is not before the first",
                ));
            }
            (Rule::Date(first), Some(Rule::Date(last))) if crate::days::days_between(first, last) > LONG => {
                return Err(Unread::new(
                    format!("it lasts from {first} to {last}"),
                    format!("an event lasts at most {LONG} days"),
                ));
            }
            (Rule::Date(_), Some(Rule::Date(last))) => Some(last),
            (_, Some(until)) => {
                return Err(Unread::new(
                    format!("`until` = `{until}` stands with `{rule}`"),
                    "a last day belongs to a single date, and both are written as in 2027-03-14",
                ));
            }
        };
        Ok(ByRule { rule, until, leap, since })
    }
}
