//! The dates of a planner: which pages it has, where they lead, what they are called and what happens on them.
//!
//! ```text
//! [calendar]             table      what the designer wrote       →  Settings (span, week, scheme, order …)
//! [[notebook.dated]]     sets       page sets                     →  PageSet
//! language               names      CLDR names, digits, defaults  →  Names
//!                        planner    settings + sets               →  Planner: pages, places, links, labels, outline
//! lists, single events   lists      CSV and .ics, bytes in        →  Event + Fault
//!                        events     events + span                 →  Agenda: occurrences + findings
//!                        data       planner + names + agenda      →  DatedPage: what each page says
//! ```
//!
//! This crate is pure: it reads no file, no clock, no environment and no time zone of the machine. Civil dates are those
//! of `jiff`; there is no date arithmetic of our own. Names, digits, first weekday and weekend come from CLDR by way of
//! ICU4X. The checks that hold a finished file against the calendar must not use this crate, so that they are a second
//! opinion; they compute with `icu_calendar`.

mod choices;
pub mod data;
mod day_page;
mod days;
mod easter;
pub mod events;
mod grid;
pub mod lists;
mod month;
pub mod names;
mod period;
mod place;
pub mod planner;
mod rule;
mod second;
mod sets;
mod settings;
mod span;
pub mod stored;
pub mod table;
mod unread;
mod week;
mod weekday;
mod words;

pub use choices::{Clock, Kind, Neighbours, Order, WeekScheme};
pub use day_page::DayPage;
pub use easter::{easter, orthodox_easter};
pub use events::{Agenda, Event, EventSource, Finding, Occurrence, Trouble, When};
pub use grid::{Cell, MonthGrid};
pub use lists::{Fault, Read, read_csv, read_ics};
pub use month::Month;
pub use names::{Direction, Form, Names, Width, prints_on_letter, right_to_left, shortest_tag};
pub use period::Period;
pub use place::Place;
pub use planner::{Page, PageId, Planner};
pub use rule::{Leap, Rule};
pub use second::SecondCalendar;
pub use sets::{DayChoice, PageSet, SetName};
pub use settings::{SettingFault, Settings};
pub use span::Span;
pub use unread::Unread;
pub use week::{Week, WeekNumber};
pub use weekday::Weekday;

/// The civil date that this crate's types stand on.
pub use jiff::civil::Date;
