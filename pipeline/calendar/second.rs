//! A second calendar beside the Gregorian one: its days in small figures. CLDR's calendars, by way of ICU4X.

use crate::{Names, Unread};
use icu_calendar::{AnyCalendar, AnyCalendarKind, Date as IcuDate};
use icu_datetime::fieldsets::{MD, YMD};
use icu_datetime::{DateTimeFormatter, DateTimeFormatterPreferences};
use icu_locale::preferences::extensions::unicode::keywords::{CalendarAlgorithm, HijriCalendarAlgorithm};
use jiff::civil::Date;

crate::words::words! {
    /// A calendar whose days stand beside those of the Gregorian one.
    SecondCalendar, "second calendar" {
        /// The Islamic calendar as Saudi Arabia has it (Umm al-Qura).
        HijriUmmAlQura = "hijri-umm-al-qura",
        /// The Jewish calendar.
        Hebrew = "hebrew",
        /// The traditional calendar of China.
        Chinese = "chinese",
    }
}

/// Days of a second calendar in the words of a language.
pub struct SecondDays<'n> {
    calendar: AnyCalendar,
    names: &'n Names,
    first: DateTimeFormatter<MD>,
    whole: DateTimeFormatter<YMD>,
}

impl<'n> SecondDays<'n> {
    /// A second calendar in a language.
    ///
    /// # Errors
    /// When CLDR has no names for it there.
    pub fn new(second: SecondCalendar, names: &'n Names) -> Result<SecondDays<'n>, Unread> {
        let (kind, algorithm) = match second {
            SecondCalendar::HijriUmmAlQura => {
                let algorithm = CalendarAlgorithm::Hijri(Some(HijriCalendarAlgorithm::Umalqura));
                (AnyCalendarKind::HijriUmmAlQura, algorithm)
            }
            SecondCalendar::Hebrew => (AnyCalendarKind::Hebrew, CalendarAlgorithm::Hebrew),
            SecondCalendar::Chinese => (AnyCalendarKind::Chinese, CalendarAlgorithm::Chinese),
        };
        let mut preferences = DateTimeFormatterPreferences::from(names.locale());
        preferences.calendar_algorithm = Some(algorithm);
        let lacking = |error: &dyn std::fmt::Display| {
            let what = format!("the days of the calendar `{second}` have no names in `{}` ({error})", names.tag());
            Unread::new(what, "leave `beside` out, or take another of the calendars")
        };
        let first = DateTimeFormatter::try_new(preferences, MD::medium()).map_err(|error| lacking(&error))?;
        let whole = DateTimeFormatter::try_new(preferences, YMD::long()).map_err(|error| lacking(&error))?;
        Ok(SecondDays { calendar: AnyCalendar::new(kind), names, first, whole })
    }

    fn date(&self, date: Date) -> Option<IcuDate<AnyCalendar>> {
        let (month, day) = (date.month().unsigned_abs(), date.day().unsigned_abs());
        let iso = IcuDate::try_new_iso(i32::from(date.year()), month, day).ok()?;
        Some(iso.to_calendar(self.calendar.clone()))
    }

    /// The number of a day in its month, in the digits of the language: `29`.
    pub fn figure(&self, date: Date) -> Option<String> {
        Some(self.names.number(i64::from(self.date(date)?.day_of_month().0)))
    }

    /// The name of the month that begins on a day, with the number: `1 Shaw.`.
    pub fn begins(&self, date: Date) -> Option<String> {
        let date = self.date(date).filter(|date| date.day_of_month().0 == 1)?;
        Some(self.first.format(&date).to_string())
    }

    /// The whole date: `5 Shawwal 1448 AH`.
    pub fn whole(&self, date: Date) -> Option<String> {
        Some(self.whole.format(&self.date(date)?).to_string())
    }
}
