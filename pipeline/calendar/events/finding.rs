//! What is worth telling the designer of an event that could be read.

use super::EventSource;
use jiff::civil::Date;

/// Something about an event or a list that the designer should know.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// Where it is written; of a whole list, its first entry.
    pub written_at: EventSource,
    /// The name of the event, or of the list.
    pub name: String,
    /// What is wrong.
    pub trouble: Trouble,
}

/// What can be wrong with an event that could be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// A rule that gives no date in any year of the span: `5th monday of february`.
    NeverHappens,
    /// A single date outside of the span.
    OutsideSpan(Date),
    /// A list whose last entry lies before the span or leaves more than half a year at its end bare.
    ListEnds(Date),
    /// A list whose first entry lies after the span or leaves more than half a year at its start bare.
    ListBegins(Date),
    /// A recurrence that RFC 5545 does not have: RSCALE, SKIP (RFC 7529), EXRULE, a change of all later entries. What
    /// of the entry could be read is kept.
    NotUnderstood(String),
    /// A recurrence that was left after so many steps; later entries are missing.
    TooManySteps(usize),
    /// A timed entry without a zone: taken as written.
    WithoutZone,
    /// A timed entry in a zone, in a list for which no zone is said: taken as written, in that zone.
    ZoneUnsaid(String),
    /// A timed entry in a zone that the tz database does not have: taken as written.
    ZoneUnknown(String),
    /// A yearly event of 29 February that does not say what it does in common years: left out in those.
    LeapUnsaid,
}

impl Finding {
    /// What is wrong, in a sentence.
    pub fn what(&self) -> String {
        let name = &self.name;
        match &self.trouble {
            Trouble::NeverHappens => format!("`{name}` does not happen in any year of the planner"),
            Trouble::OutsideSpan(date) => format!("`{name}` is on {date}, outside of the planner"),
            Trouble::ListEnds(date) => format!("the list `{name}` ends on {date}, long before the planner does"),
            Trouble::ListBegins(date) => format!("the list `{name}` begins on {date}, long after the planner does"),
            Trouble::NotUnderstood(what) => {
                format!("`{name}` has {what}, which is not understood: its other dates are kept")
            }
            Trouble::TooManySteps(steps) => {
                format!("`{name}` recurs more often than {steps} times: what comes later is missing")
            }
            Trouble::WithoutZone => format!("`{name}` has a time without a zone: it is taken as written"),
            Trouble::ZoneUnsaid(zone) => {
                format!("`{name}` has a time of the zone {zone}, and the list does not say a zone")
            }
            Trouble::ZoneUnknown(zone) => {
                format!("`{name}` has a time of `{zone}`, a zone that is not known: it is taken as written")
            }
            Trouble::LeapUnsaid => format!(
                "`{name}` is on 29 February and does not say what it does in common years: it is left out in those"
            ),
        }
    }

    /// How to mend it.
    pub fn help(&self) -> &'static str {
        match &self.trouble {
            Trouble::NeverHappens => "change the rule, as to `last monday of february`, or take it out",
            Trouble::OutsideSpan(_) => "correct the year, write it as a yearly date (`03-14`), or take it out",
            Trouble::ListEnds(_) | Trouble::ListBegins(_) => "get the list for the planner's months",
            Trouble::NotUnderstood(_) => "write the dates that are missing as events of their own",
            Trouble::TooManySteps(_) => "end the recurrence (UNTIL), or make it rarer",
            Trouble::WithoutZone | Trouble::ZoneUnknown(_) => {
                "export the list with a zone of the tz database, as `Europe/Lisbon`"
            }
            Trouble::ZoneUnsaid(_) => {
                "write zone = \"Europe/Lisbon\" (yours) to the list: times are then brought to it"
            }
            Trouble::LeapUnsaid => "write leap = \"28 february\", \"1 march\" or \"skip\"",
        }
    }
}
