//! What the manifest says: the tables `[calendar]`, `[[calendar.list]]`, `[[calendar.event]]`, as they are written.

use crate::{Clock, Leap, Month, Neighbours, Order, Rule, SecondCalendar, WeekScheme, Weekday};
use crate::{Kind, events, lists};
use base::keys::Described;
use serde::{Deserialize, Serialize};

/// The months of a dated planner, and what happens in them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, Described)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct CalendarTable {
    /// The first month.
    /// Default: it must be given.
    /// Example: `first = "2027-01"`
    pub first: Option<Month>,
    /// How many months the planner has.
    /// Range: 1 to 24 months. Default: 12.
    /// Example: `months = 6`
    pub months: Option<i64>,
    /// The day on which weeks begin.
    /// Default: by the region of the language.
    pub first_day: Option<Weekday>,
    /// How weeks are numbered. `iso` is for weeks from Monday.
    /// Default: "iso" for weeks from Monday, else "january-first".
    /// Example: `week-numbers = "january-first"`
    pub week_numbers: Option<WeekScheme>,
    /// The days of the weekend, at most six.
    /// Default: by the region of the language.
    /// Example: `weekend = ["friday", "saturday"]`
    pub weekend: Option<Vec<Weekday>>,
    /// How the hours of a day are counted.
    /// Default: by the region of the language.
    /// Example: `clock = 24`
    pub clock: Option<Clock>,
    /// The order of the dated pages.
    /// Default: "by-month".
    pub order: Option<Order>,
    /// Days of other months in the grid of a month.
    /// Default: "light".
    pub neighbours: Option<Neighbours>,
    /// A second calendar: its days stand in small figures in the grid of a month, and its date beside that of a day.
    /// Default: none.
    /// Example: `beside = "hebrew"`
    pub beside: Option<SecondCalendar>,
    /// Lists of holidays and events, each a file of the product.
    /// Default: none.
    /// Example: `list = [{ name = "Rehearsals", file = "dates/rehearsals.csv" }]`
    #[serde(default)]
    pub list: Vec<ListTable>,
    /// Single events.
    /// Default: none.
    /// Example: `event = [{ name = "Fair", on = "last saturday of january" }]`
    #[serde(default)]
    pub event: Vec<EventTable>,
}

/// A list of dates.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, Described)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct ListTable {
    /// The heading in legend and listing.
    /// Default: it must be given.
    /// Example: `name = "Rehearsals"`
    pub name: String,
    /// The file in the product's folder: an `.ics` calendar (RFC 5545), or CSV with the columns date and name, and if wanted until, kind, since, leap.
    /// Default: it must be given.
    /// Example: `file = "dates/rehearsals.csv"`
    pub file: String,
    /// The time zone to which timed entries are brought, by its name in the tz database.
    /// Default: none; then an entry with a time is a finding.
    /// Example: `zone = "Europe/Lisbon"`
    pub zone: Option<lists::Zone>,
    /// The kinds of pages on which the entries are shown.
    /// Default: all.
    /// Example: `on = ["month", "week"]`
    pub on: Option<Vec<Kind>>,
    /// The colour of the mark.
    /// Default: the accent.
    /// Example: `mark = "#5a6fa8"`
    pub mark: Option<String>,
    /// Whether all of its entries are holidays.
    /// Default: false: those are whose kind ends in `holiday`.
    #[serde(default)]
    pub holidays: bool,
    /// What yearly entries of 29 February do in common years, where the entry does not say.
    /// Default: "skip", with a finding.
    pub leap: Option<Leap>,
}

/// A single event.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, Described)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct EventTable {
    /// What it is called; `{years}` stands for the count of years since `since`.
    /// Default: it must be given.
    /// Example: `name = "Fair"`
    pub name: String,
    /// When it happens: a date, a day of each year as `03-14`, a rule as `2nd monday of may`, `last saturday of january`, `easter-47` or `orthodox-easter+1`.
    /// Default: it must be given.
    /// Example: `on = "2nd monday of may"`
    pub on: Rule,
    /// The last day, for an event of one date that lasts longer.
    /// Default: it lasts a day.
    /// Example: `on = "2027-03-14"`
    /// `until = "2027-03-16"`
    pub until: Option<Rule>,
    /// The year from which an anniversary counts.
    /// Default: years are not counted.
    /// Example: `on = "03-14"`
    /// `since = 1987`
    pub since: Option<i16>,
    /// What 29 February does in common years.
    /// Default: "skip", with a finding.
    /// Example: `on = "02-29"`
    /// `leap = "1 march"`
    pub leap: Option<Leap>,
    /// A kind of your own, as `birthday`; one that ends in `holiday` makes a holiday.
    /// Default: none.
    /// Example: `kind = "bank-holiday"`
    pub kind: Option<String>,
    /// The colour of the mark.
    /// Default: the accent.
    /// Example: `mark = "#5a6fa8"`
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
