//! What the manifest says: the tables `[calendar]`, `[[calendar.list]]`, `[[calendar.event]]`, as they are written.

use crate::{Clock, Leap, Month, Neighbours, Order, Rule, WeekScheme, Weekday};
use crate::{Kind, events, lists};
use serde::{Deserialize, Serialize};

/// `[calendar]`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct CalendarTable {
    /// The first month; there is none by default.
    pub first: Option<Month>,
    /// How many months, 1 to 24; 12 when unsaid.
    pub months: Option<i64>,
    /// The day on which weeks begin; by the region of the language when unsaid.
    pub first_day: Option<Weekday>,
    /// How weeks are numbered; `iso` for weeks from Monday, else `january-first`, when unsaid.
    pub week_numbers: Option<WeekScheme>,
    /// The days of the weekend; by the region of the language when unsaid.
    pub weekend: Option<Vec<Weekday>>,
    /// 12 or 24 hours; by the region of the language when unsaid.
    pub clock: Option<Clock>,
    /// The order of pages; by month when unsaid.
    pub order: Option<Order>,
    /// Days of other months in a grid; light when unsaid.
    pub neighbours: Option<Neighbours>,
    /// Lists of holidays and events.
    #[serde(default)]
    pub list: Vec<ListTable>,
    /// Single events.
    #[serde(default)]
    pub event: Vec<EventTable>,
}

/// `[[calendar.list]]`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct ListTable {
    /// The heading in legend and listing.
    pub name: String,
    /// The file, CSV or `.ics`, below the product's folder.
    pub file: String,
    /// The time zone to which timed entries are brought, as `Europe/Lisbon`.
    pub zone: Option<lists::Zone>,
    /// The kinds of pages on which the entries are shown; all when unsaid.
    pub on: Option<Vec<Kind>>,
    /// The colour of the mark.
    pub mark: Option<String>,
    /// Whether all of its entries are holidays; else those are whose kind ends in `holiday`.
    #[serde(default)]
    pub holidays: bool,
    /// What yearly entries of 29 February do in common years, where the entry does not say.
    pub leap: Option<Leap>,
}

/// `[[calendar.event]]`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct EventTable {
    /// What it is called; `{years}` stands for the count of years since `since`.
    pub name: String,
    /// A date or a rule.
    pub on: Rule,
    /// The last day, for an event of one date that lasts longer.
    pub until: Option<Rule>,
    /// The year from which an anniversary counts.
    pub since: Option<i16>,
    /// What 29 February does in common years.
    pub leap: Option<Leap>,
    /// A kind of the designer's own, as `birthday`.
    pub kind: Option<String>,
    /// The colour of the mark.
    pub mark: Option<String>,
}

impl EventTable {
    /// The event that the table describes; `written_at` says where it is written.
    ///
    /// # Errors
    /// When `until` is no single date, or lies before the first day.
    pub fn event(&self, written_at: events::EventSource) -> Result<crate::Event, crate::Unread> {
        let when = events::ByRule::new(self.on, self.until, self.leap, self.since)?;
        Ok(crate::Event { name: self.name.clone(), kind: self.kind.clone(), written_at, when: crate::When::Rule(when) })
    }
}
