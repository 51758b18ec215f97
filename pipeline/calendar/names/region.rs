//! What follows from the region: first weekday, weekend, clock, direction of writing.

use super::Names;
use crate::{Clock, Unread, Weekday};
use icu_calendar::types::Weekday as IcuWeekday;
use icu_calendar::week::WeekInformation;
use icu_datetime::NoCalendarFormatter;
use icu_datetime::fieldsets::T;
use icu_datetime::input::Time;
use icu_locale::{Locale, LocaleDirectionality, LocaleExpander};

/// Which way a language is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Direction {
    /// From left to right.
    LeftToRight,
    /// From right to left.
    RightToLeft,
}

/// Reads a BCP 47 tag.
pub(super) fn locale(tag: &str) -> Result<Locale, Unread> {
    let help = "write its BCP 47 tag, as \"en\", \"pt-BR\" or \"ar-EG-u-nu-latn\"";
    if tag.contains('_') {
        return Err(Unread::new(
            format!("`{tag}` is no tag of a language"),
            format!("write \"{}\"", tag.replace('_', "-")),
        ));
    }
    let locale = Locale::try_from_str(tag).map_err(|_| {
        Unread::new(format!("`{}` is no tag of a language", tag.chars().take(40).collect::<String>()), help)
    })?;
    if locale.id.language.is_unknown() {
        return Err(Unread::new(format!("`{tag}` names no language"), help));
    }
    Ok(locale)
}

/// The fault for data that ICU4X does not have.
pub(super) fn lacking(tag: &str, error: impl std::fmt::Display) -> Unread {
    Unread::new(
        format!("names of the language `{tag}` cannot be had ({error})"),
        "take a language and extensions that CLDR has, as \"en\" or \"ar-EG-u-nu-latn\"",
    )
}

/// First weekday and weekend.
pub(super) fn week(tag: &str, locale: &Locale) -> Result<(Weekday, Vec<Weekday>), Unread> {
    let week = WeekInformation::try_new(locale.into()).map_err(|error| lacking(tag, error))?;
    let mut weekend: Vec<Weekday> = week.weekend().map(weekday).collect();
    weekend.sort();
    Ok((weekday(week.first_weekday), weekend))
}

fn weekday(day: IcuWeekday) -> Weekday {
    match day {
        IcuWeekday::Monday => Weekday::Monday,
        IcuWeekday::Tuesday => Weekday::Tuesday,
        IcuWeekday::Wednesday => Weekday::Wednesday,
        IcuWeekday::Thursday => Weekday::Thursday,
        IcuWeekday::Friday => Weekday::Friday,
        IcuWeekday::Saturday => Weekday::Saturday,
        IcuWeekday::Sunday => Weekday::Sunday,
    }
}

/// The direction of the language's script, also where the tag does not name it.
pub(super) fn direction(locale: &Locale) -> Direction {
    if LocaleDirectionality::new_extended().is_right_to_left(&locale.id) {
        Direction::RightToLeft
    } else {
        Direction::LeftToRight
    }
}

/// Whether a language is written from right to left; one that cannot be read is not.
pub fn right_to_left(tag: &str) -> bool {
    locale(tag).is_ok_and(|locale| direction(&locale) == Direction::RightToLeft)
}

/// Whether 13 o'clock is written with a 13. ICU4X does not tell the hour cycle of a region, but writes by it.
pub(super) fn clock(names: &Names) -> Result<Clock, Unread> {
    let formatter = NoCalendarFormatter::<T>::try_new((&names.locale).into(), T::hm())
        .map_err(|error| lacking(&names.tag, error))?;
    let time = Time::try_new(13, 0, 0, 0).expect("13:00 is a time");
    let written = formatter.format(&time).to_string();
    Ok(if written.contains(&names.number(13)) { Clock::TwentyFour } else { Clock::Twelve })
}

/// A language tag without what is likely anyway (UTS 35, likely subtags): `de` for `de-DE` and for `de`, `pt-PT` for `pt-PT`. One
/// that cannot be read stays as it is.
pub fn shortest_tag(tag: &str) -> String {
    let Ok(locale) = locale(tag) else { return tag.to_owned() };
    let mut id = locale.id;
    LocaleExpander::new_extended().minimize(&mut id);
    id.to_string()
}

/// Regions whose printers hold Letter: CLDR, supplemental measurement data, `paperSize` (from memory of release 47; ICU4X has no such
/// data). All others have A4.
const LETTER: [&str; 14] = ["BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"];

/// Whether one prints on Letter where a language is at home; without a region, where it is most spoken. One that cannot be read
/// has A4.
pub fn prints_on_letter(tag: &str) -> bool {
    let Ok(locale) = locale(tag) else { return false };
    let mut id = locale.id;
    LocaleExpander::new_extended().maximize(&mut id);
    id.region.is_some_and(|region| LETTER.contains(&region.as_str()))
}
