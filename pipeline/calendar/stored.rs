//! What a product stores of its calendar, read back into the calendar's types.

use crate::data::Look;
use crate::{
    Agenda, Clock, DayChoice, DayPage, Kind, Month, Neighbours, Occurrence, Order, PageSet, Planner, Settings, Span,
    Unread, Weekday,
};
use base::model::dated::DatedKind;
use base::model::planner::{Dated, DatedSet, DaysWanted, EventList, Happening};
use base::model::weekday;
use jiff::civil::{Date, Time};

/// The planner of a product.
///
/// # Errors
/// When the product holds what no manifest could have said.
pub fn planner(dated: &Dated) -> Result<Planner, Unread> {
    let sets = dated.sets.iter().map(set).collect::<Result<Vec<_>, _>>()?;
    Planner::new(settings(dated)?, sets).map_err(|faults| {
        faults.into_iter().next().map_or_else(|| Unread::new("no planner", "name its sets"), |(_, unread)| unread)
    })
}

/// What holds for all dated pages of a product.
///
/// # Errors
/// When the product holds what no manifest could have said.
pub fn settings(dated: &Dated) -> Result<Settings, Unread> {
    let first = Month::new(dated.first.0, dated.first.1)?;
    Ok(Settings {
        span: Span::new(first, i64::from(dated.months))?,
        first_day: from_day(dated.first_day),
        week_numbers: dated.week_numbers.parse()?,
        weekend: dated.weekend.iter().copied().map(from_day).collect(),
        clock: Clock::try_from(i64::from(dated.hours))?,
        order: if dated.by_kind { Order::ByKind } else { Order::ByMonth },
        neighbours: if dated.blank_neighbours { Neighbours::Blank } else { Neighbours::Light },
        beside: dated.beside.as_deref().map(str::parse).transpose()?,
    })
}

fn set(set: &DatedSet) -> Result<PageSet, Unread> {
    Ok(PageSet {
        kind: from_kind(set.kind),
        name: set.name.as_deref().map(str::parse).transpose()?,
        companions: u16::try_from(set.companions.len()).unwrap_or(u16::MAX),
        weekdays: match &set.days {
            DaysWanted::All => DayChoice::All,
            DaysWanted::Workdays => DayChoice::Workdays,
            DaysWanted::Joined => DayChoice::Joined,
            DaysWanted::Only(days) => DayChoice::Only(days.iter().copied().map(from_day).collect()),
            DaysWanted::Shared(pages) => DayChoice::Shared(
                pages.iter().map(|(day, with_next)| DayPage::of(from_day(*day), *with_next)).collect(),
            ),
        },
    })
}

/// The agenda of a product.
pub fn agenda(happenings: &[Happening]) -> Agenda {
    let time = |(hour, minute): (i8, i8)| Time::new(hour, minute, 0, 0).ok();
    let date = |(year, month, day): (i16, i8, i8)| Date::new(year, month, day).unwrap_or(Date::MIN);
    Agenda::of(happenings.iter().map(|each| Occurrence {
        name: each.name.clone(),
        kind: each.kind.clone(),
        first: date(each.first),
        last: date(each.last),
        start: each.start.and_then(time),
        end: None,
        years: None,
        source: each.list,
        event: each.event,
    }))
}

/// The occurrences of an agenda, as a product stores them.
pub fn happenings(agenda: &Agenda) -> Vec<Happening> {
    let date = |date: Date| (date.year(), date.month(), date.day());
    let all = agenda.occurrences.iter().map(|each| Happening {
        name: each.name.clone(),
        kind: each.kind.clone(),
        first: date(each.first),
        last: date(each.last),
        start: each.start.map(|time| (time.hour(), time.minute())),
        list: each.source,
        event: each.event,
    });
    all.collect()
}

/// How the events of a product's lists are shown.
pub fn looks(lists: &[EventList]) -> Vec<Look> {
    let look = |list: &EventList| Look {
        name: list.name.clone(),
        colour: list.colour,
        each: list.each.clone(),
        on: list.on.iter().copied().map(from_kind).collect(),
        holidays: list.holidays,
    };
    lists.iter().map(look).collect()
}

/// A kind of the hand-over types.
pub fn from_kind(kind: DatedKind) -> Kind {
    match kind {
        DatedKind::Year => Kind::Year,
        DatedKind::Quarter => Kind::Quarter,
        DatedKind::Month => Kind::Month,
        DatedKind::Week => Kind::Week,
        DatedKind::Day => Kind::Day,
    }
}

/// A weekday of the hand-over types.
fn from_day(day: weekday::Weekday) -> Weekday {
    Weekday::ALL[day as usize]
}

/// A weekday as the hand-over types have it.
pub fn to_day(day: Weekday) -> weekday::Weekday {
    match day {
        Weekday::Monday => weekday::Weekday::Monday,
        Weekday::Tuesday => weekday::Weekday::Tuesday,
        Weekday::Wednesday => weekday::Weekday::Wednesday,
        Weekday::Thursday => weekday::Weekday::Thursday,
        Weekday::Friday => weekday::Weekday::Friday,
        Weekday::Saturday => weekday::Weekday::Saturday,
        Weekday::Sunday => weekday::Weekday::Sunday,
    }
}
