//! Dates in sentences: a skeleton of UTS 35 says which fields, the language says how.

use super::{Names, by_pattern, formatted, gregorian, region};
use crate::{Clock, Form, Unread, Weekday, Width};
use icu_datetime::fieldsets::builder::{DateFields, FieldSetBuilder};
use icu_datetime::fieldsets::enums::CompositeDateTimeFieldSet;
use icu_datetime::fieldsets::{self, T};
use icu_datetime::input::Time as IcuTime;
use icu_datetime::options::{Length, YearStyle};
use icu_datetime::preferences::HourCycle;
use icu_datetime::{DateTimeFormatterPreferences, FixedCalendarDateTimeFormatter, NoCalendarFormatter};
use jiff::civil::{Date, Time};

const HELP: &str = "name fields of a date once each, as in \"EEEE d MMMM\", \"MMMM y\" or \"d MMM y\"";

impl Names {
    /// A date by a skeleton of UTS 35: `EEEE d MMMM` names the fields and how long they are, in any order; the order and
    /// the words between are the language's. Fields: `y`, `M` or `L`, `d`, `E` or `c`. Months are `M` (number) to `MMMM`,
    /// weekdays `E` or `EEE` (short) or `EEEE`. A month or a weekday without anything else is written as it stands alone.
    ///
    /// # Errors
    /// When it is no skeleton, or one of which CLDR makes no date.
    pub fn written(&self, date: Date, skeleton: &str) -> Result<String, Unread> {
        let fields = Fields::read(skeleton)?;
        // ICU4X, like the standard, writes a lone month as within a date.
        if let Some(pattern) = fields.alone() {
            return formatted(&self.locale, pattern, date);
        }
        let mut builder = FieldSetBuilder::new();
        builder.date_fields = Some(fields.date_fields(skeleton)?);
        builder.length = Some(fields.length());
        if fields.year > 0 {
            builder.year_style = Some(YearStyle::Full);
        }
        let set = if fields.day == 0 {
            builder.build_calendar_period().map(fieldsets::enums::CompositeDateTimeFieldSet::CalendarPeriod)
        } else {
            builder.build_date().map(fieldsets::enums::CompositeDateTimeFieldSet::Date)
        };
        let set = set.map_err(|error| Unread::new(format!("`{skeleton}` makes no date ({error})"), HELP))?;
        let formatter = FixedCalendarDateTimeFormatter::<icu_calendar::Gregorian, CompositeDateTimeFieldSet>::try_new(
            (&self.locale).into(),
            set,
        )
        .map_err(|error| region::lacking(&self.tag, error))?;
        let midnight = IcuTime::try_new(0, 0, 0, 0).expect("midnight is a time");
        let input = icu_datetime::input::DateTime { date: gregorian(date), time: midnight };
        let written = formatter.format(&input);
        let written = if fields.day == 0 {
            // For a month and its year in Portuguese, the formatter of ICU4X 2.4 loads no digits, and says so by a panic.
            by_pattern(&self.locale, &written.pattern(), date)?
        } else {
            written.to_string()
        };
        // Short forms in figures where a name was asked for (`03/2027` in Portugal): the long one has the name.
        if fields.month == 3 && !self.names_month(&written, date.month()) {
            return self.written(date, &skeleton.replace("MMM", "MMMM"));
        }
        if fields.weekday < 4 || fields.month < 4 {
            return Ok(written);
        }
        let plain: String = skeleton.chars().filter(|c| !matches!(c, 'E' | 'c')).collect();
        Ok(with_weekday(written, self.weekday(Weekday::of(date), Width::Wide), &self.written(date, &plain)?))
    }

    /// Whether a month stands in a text by its name, of any length but a single letter.
    fn names_month(&self, text: &str, month: i8) -> bool {
        let forms =
            [Form::Alone, Form::InDate].into_iter().flat_map(|form| [(Width::Wide, form), (Width::Abbreviated, form)]);
        let mut names = forms.map(|(width, form)| self.month(month, width, form).trim_end_matches('.'));
        names.any(|name| text.contains(name))
    }

    /// A date by a skeleton that is known to be one.
    pub(super) fn long(&self, skeleton: &str, date: Date) -> String {
        self.written(date, skeleton).unwrap_or_else(|_| date.to_string())
    }

    /// A time of day, as `7:30 PM` or `19:30`.
    pub fn time(&self, time: Time, clock: Clock) -> String {
        let mut preferences = DateTimeFormatterPreferences::from(&self.locale);
        preferences.hour_cycle = Some(match clock {
            Clock::Twelve => HourCycle::H12,
            Clock::TwentyFour => HourCycle::H23,
        });
        let plain = || format!("{:02}:{:02}", time.hour(), time.minute());
        let Ok(formatter) = NoCalendarFormatter::<T>::try_new(preferences, T::hm()) else { return plain() };
        let input = IcuTime::try_new(time.hour().unsigned_abs(), time.minute().unsigned_abs(), 0, 0);
        input.map_or_else(|_| plain(), |input| formatter.format(&input).to_string())
    }
}

/// A date with its weekday that says no less than the date by itself. CLDR has forms with a weekday that do: in figures though a name
/// was asked for (`domingo, 14/03/2027` in Portugal), without the point of an ordinal (`torsdag 14 mars` in Norway). Where the
/// weekday leads, what it leads is then written as it is by itself.
fn with_weekday(written: String, weekday: &str, date: &str) -> String {
    let Some(rest) = written.strip_prefix(weekday).filter(|rest| !rest.contains(date)) else { return written };
    let (between, said) = rest.split_at(rest.find(char::is_numeric).unwrap_or(rest.len()));
    if said.chars().count() < date.chars().count() { format!("{weekday}{between}{date}") } else { written }
}

/// How often each field's letter stands in a skeleton.
#[derive(Clone, Copy, Default)]
struct Fields {
    year: usize,
    month: usize,
    day: usize,
    weekday: usize,
}

impl Fields {
    fn read(skeleton: &str) -> Result<Fields, Unread> {
        let mut fields = Fields::default();
        let mut last = None;
        for letter in skeleton.chars() {
            let (field, most) = match letter {
                'y' => (&mut fields.year, 4),
                'M' | 'L' => (&mut fields.month, 5),
                'd' => (&mut fields.day, 2),
                'E' | 'c' => (&mut fields.weekday, 6),
                ' ' | ',' | '.' | '-' | '/' => {
                    last = None;
                    continue;
                }
                _ => return Err(Unread::new(format!("`{letter}` in `{skeleton}` is no field of a date"), HELP)),
            };
            if *field > 0 && last != Some(letter) {
                return Err(Unread::new(format!("`{skeleton}` names a field twice"), HELP));
            }
            *field += 1;
            if *field > most {
                return Err(Unread::new(format!("`{skeleton}` has too many `{letter}`"), HELP));
            }
            last = Some(letter);
        }
        if fields.year + fields.month + fields.day + fields.weekday == 0 {
            return Err(Unread::new("a date without a field", HELP));
        }
        Ok(fields)
    }

    /// The pattern for a single month or weekday.
    fn alone(&self) -> Option<&'static str> {
        match (self.year, self.month, self.day, self.weekday) {
            (0, 3, 0, 0) => Some("LLL"),
            (0, 4, 0, 0) => Some("LLLL"),
            (0, 5, 0, 0) => Some("LLLLL"),
            (0, 0, 0, 1..=3) => Some("ccc"),
            (0, 0, 0, 4) => Some("cccc"),
            (0, 0, 0, 5) => Some("ccccc"),
            (0, 0, 0, 6) => Some("cccccc"),
            _ => None,
        }
    }

    fn date_fields(&self, skeleton: &str) -> Result<DateFields, Unread> {
        Ok(match (self.year > 0, self.month > 0, self.day > 0, self.weekday > 0) {
            (false, false, true, false) => DateFields::D,
            (false, true, true, false) => DateFields::MD,
            (true, true, true, false) => DateFields::YMD,
            (false, false, true, true) => DateFields::DE,
            (false, true, true, true) => DateFields::MDE,
            (true, true, true, true) => DateFields::YMDE,
            (false, true, false, false) => DateFields::M,
            (true, true, false, false) => DateFields::YM,
            (true, false, false, false) => DateFields::Y,
            _ => return Err(Unread::new(format!("`{skeleton}` makes no date that CLDR has a form for"), HELP)),
        })
    }

    /// ICU4X has three lengths for the whole; the longest name that is asked for decides.
    fn length(&self) -> Length {
        match (self.month, self.weekday) {
            (4, _) | (_, 4) => Length::Long,
            (3 | 5, _) | (0, _) => Length::Medium,
            _ => Length::Short,
        }
    }
}
