//! What a dated page says: its date, names, days and events, in words and figures that are ready to set.
//!
//! The calendar makes it, drawings and templates use it: no drawing computes a date. It serialises to what a drawing of
//! the designer's own gets as the data of its template. Places are those of [`super::Place`] as they are written
//! (`day/2027-03-14`); where a page that is meant does not exist, they name the next coarser one, and are `None` where
//! there is none.

use super::Rgb;
use borsh::BorshSerialize;
use serde::Serialize;

/// The kinds of dated pages.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, BorshSerialize)]
#[serde(rename_all = "kebab-case")]
pub enum DatedKind {
    /// All months of a calendar year that lie in the span.
    Year,
    /// Three months.
    Quarter,
    /// A month.
    Month,
    /// Seven days.
    Week,
    /// A day; two that share a page where weekends are joined.
    Day,
}

/// A way to another page: what it is called, and its place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, BorshSerialize)]
pub struct Step {
    /// Short, as it stands beside an arrow ("March", "Week 12", "Sun 14").
    pub name: String,
    /// Where it leads.
    pub place: String,
}

/// A weekday, in the order of the product's week.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, BorshSerialize)]
pub struct WeekdayName {
    /// "Monday".
    pub name: String,
    /// "Mon".
    pub short: String,
    /// "M".
    pub narrow: String,
    /// Whether it is of the weekend.
    pub weekend: bool,
}

/// What happens on a day.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, BorshSerialize)]
pub struct DayEvent {
    /// What it is called; a count of years is part of it.
    pub name: String,
    /// When it begins, as the product's clock writes it; `None` for whole days.
    pub time: Option<String>,
    /// The same in minutes from midnight.
    pub minutes: Option<u16>,
    /// Whether it is a holiday.
    pub holiday: bool,
    /// The colour of its list.
    pub colour: Option<Rgb>,
    /// Which of the product's lists it is from, for the legend.
    pub list: Option<String>,
    /// Whether it goes on from the day before.
    pub from_before: bool,
    /// Whether it goes on the day after.
    pub goes_on: bool,
}

/// A day in a grid, a week or a heading.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, BorshSerialize)]
pub struct DayCell {
    /// The day of the month, from 1.
    pub day: u8,
    /// ISO 8601: "2027-03-14".
    pub iso: String,
    /// The day of the month in the digits of the language.
    pub number: String,
    /// The number of the day in the second calendar, where there is one.
    pub beside: Option<String>,
    /// The same with the name of the month that begins on it: "1 Ram."; for drawings that have room.
    pub begins_beside: Option<String>,
    /// "14 March", as the language writes day and month.
    pub day_and_month: String,
    /// Where a tap on it leads; `None` where no page is meant for it.
    pub place: Option<String>,
    /// Whether it is of the month that is drawn (always in a week), and of the planner's span.
    pub inside: bool,
    /// Whether it is drawn at all: the days of neighbour months may be left blank.
    pub shown: bool,
    /// Its weekday, as an index into the weekdays of the page.
    pub weekday: usize,
    /// Whether it is of the weekend.
    pub weekend: bool,
    /// The name of the first holiday on it.
    pub holiday: Option<String>,
    /// What happens on it, holidays first.
    pub events: Vec<DayEvent>,
}

/// A row of a month's grid.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, BorshSerialize)]
pub struct WeekRow {
    /// The number of the week in the digits of the language; `None` without week numbers.
    pub number: Option<String>,
    /// Where a tap on the number leads.
    pub place: Option<String>,
    /// Seven days.
    pub days: Vec<DayCell>,
}

/// A month, large or small.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, BorshSerialize)]
pub struct MonthData {
    /// "2027-03".
    pub iso: String,
    /// 1 to 12.
    pub number: u8,
    /// "2027", in the digits of the language.
    pub year: String,
    /// On its own: "March".
    pub name: String,
    /// In a date, where the language has another form for it: "marca".
    pub in_date: String,
    /// "Mar".
    pub short: String,
    /// "M".
    pub narrow: String,
    /// "March 2027".
    pub with_year: String,
    /// How many days it has.
    pub days: u8,
    /// Its weeks: 4 to 6 rows, or always 6.
    pub rows: Vec<WeekRow>,
    /// Where a tap on its name leads.
    pub place: Option<String>,
    /// Whether it is of the planner's span.
    pub inside: bool,
}

impl MonthData {
    /// Where the month as a whole leads: to its own place, or to that of its first day that has one.
    pub fn leads(&self) -> Option<&str> {
        let days = || self.rows.iter().flat_map(|week| &week.days).filter(|day| day.inside);
        self.place.as_deref().or_else(|| days().find_map(DayCell::leads))
    }
}

/// A week.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, BorshSerialize)]
pub struct WeekData {
    /// "9", in the digits of the language; `None` without week numbers.
    pub number: Option<String>,
    /// The year that the number belongs to.
    pub year: Option<String>,
    /// "1 – 7 March 2027".
    pub range: String,
    /// Seven days.
    pub days: Vec<DayCell>,
}

/// An hour of the day.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, BorshSerialize)]
pub struct HourName {
    /// 0 to 23.
    pub hour: u8,
    /// "14:00", "2 pm".
    pub name: String,
}

/// A list of the legend.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, BorshSerialize)]
pub struct LegendEntry {
    /// Its heading.
    pub name: String,
    /// Its colour.
    pub colour: Option<Rgb>,
}

/// All that a dated page says.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, BorshSerialize)]
pub struct DatedPage {
    /// What kind of page it is.
    pub kind: DatedKind,
    /// Its own place, for drawings that link further pages of their own.
    pub place: String,
    /// Which page of its period it is, from 1: 1 is the period's own, the rest are companions.
    pub nth: usize,
    /// The heading: "2027", "Quarter 1", "March", "Week 9", "Sunday".
    pub heading: String,
    /// What stands beside it, smaller: "2027", "1 – 7 March 2027", "14 March 2027".
    pub beside: String,
    /// The same where there is little room: "1 – 7 Mar 2027", "14 Mar 2027".
    pub beside_short: String,
    /// The day or days of a day page (two where weekends are joined); else empty.
    pub days: Vec<DayCell>,
    /// The month of a month page; the month that a week or day is filed under. The large grid: days of other months are
    /// shown where the product wants them.
    pub month: MonthData,
    /// The months of a year or quarter; the own one of a month, week or day. Small grids: days of other months are not
    /// shown.
    pub months: Vec<MonthData>,
    /// Small months for pages with room: the own one and the next; of a month the one before and the one after.
    pub small: Vec<MonthData>,
    /// The week of a week page; the week that a day lies in.
    pub week: Option<WeekData>,
    /// The weekdays, in the order of the product's week.
    pub weekdays: Vec<WeekdayName>,
    /// The word that stands over week numbers, short ("W"); `None` without week numbers.
    pub week_word: Option<String>,
    /// 24 hours as the product's clock writes them.
    pub hours: Vec<HourName>,
    /// The page of its kind before it.
    pub previous: Option<Step>,
    /// The page of its kind after it.
    pub next: Option<Step>,
    /// One step up: day to week, week to month, and so on.
    pub up: Option<Step>,
    /// Its companions by name, or from a companion the way back.
    pub companions: Vec<Step>,
    /// The lists whose events stand on it.
    pub legend: Vec<LegendEntry>,
}

impl DayCell {
    /// Where the day's page is, if its number leads anywhere from this grid.
    pub fn leads(&self) -> Option<&str> {
        self.place.as_deref().filter(|_| self.shown)
    }
}
