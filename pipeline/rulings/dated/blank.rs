//! A page whose date is not said: weekdays have names, days have no numbers, nothing leads anywhere.

use base::model::calendar::WEEKDAYS;
use base::model::dated::{DatedKind, DatedPage, DayCell, HourName, MonthData, WeekData, WeekRow, WeekdayName};

/// The page. Its months have six rows.
pub fn page(kind: DatedKind) -> DatedPage {
    let months = match kind {
        DatedKind::Year => 12,
        DatedKind::Quarter => 3,
        DatedKind::Month | DatedKind::Week | DatedKind::Day => 1,
    };
    let weekdays = WEEKDAYS.iter().enumerate().map(|(i, name)| WeekdayName {
        name: (*name).to_owned(),
        short: name[..3].to_owned(),
        narrow: name[..1].to_owned(),
        weekend: i > 4,
    });
    DatedPage {
        kind,
        place: String::new(),
        nth: 1,
        heading: String::new(),
        beside: String::new(),
        beside_short: String::new(),
        days: if kind == DatedKind::Day { vec![day(0)] } else { Vec::new() },
        month: month(),
        months: vec![month(); months],
        small: Vec::new(),
        week: Some(WeekData { number: None, year: None, range: String::new(), days: (0..7).map(day).collect() }),
        weekdays: weekdays.collect(),
        week_word: None,
        hours: (0..24).map(|hour| HourName { hour, name: hour.to_string() }).collect(),
        previous: None,
        next: None,
        up: None,
        companions: Vec::new(),
        legend: Vec::new(),
    }
}

fn month() -> MonthData {
    let row = WeekRow { number: None, place: None, days: (0..7).map(day).collect() };
    MonthData {
        iso: String::new(),
        number: 1,
        year: String::new(),
        name: String::new(),
        in_date: String::new(),
        short: String::new(),
        narrow: String::new(),
        with_year: String::new(),
        days: 31,
        rows: vec![row; 6],
        place: None,
        inside: true,
    }
}

fn day(weekday: usize) -> DayCell {
    DayCell {
        day: 1,
        iso: String::new(),
        number: String::new(),
        beside: None,
        begins_beside: None,
        day_and_month: String::new(),
        place: None,
        inside: true,
        shown: false,
        weekday,
        weekend: weekday > 4,
        holiday: None,
        events: Vec::new(),
    }
}
