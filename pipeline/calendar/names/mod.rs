//! What a language calls months, days and numbers, and what its region is used to. All of it is CLDR, by way of ICU4X.
//!
//! Always the Gregorian calendar, whatever the region's own is (Thailand, Iran). Headings take the stand-alone form of a
//! month, sentences with a day the form within a date: Greek Μάρτιος, but 14 Μαρτίου. Numbers in grids are plain numbers;
//! what a language writes for "the 14th" as a date (Czech `14.`, Japanese `14日`) is another thing.

mod region;
mod written;

pub use region::{Direction, prints_on_letter, right_to_left, shortest_tag};

use crate::{Clock, Month, Unread, Weekday};
use icu_calendar::{Date as IcuDate, Gregorian};
use icu_datetime::fieldsets::enums::DateFieldSet;
use icu_datetime::pattern::{DateTimePattern, FixedCalendarDateTimeNames};
use icu_decimal::DecimalFormatter;
use icu_decimal::input::Decimal;
use icu_decimal::options::{DecimalFormatterOptions, GroupingStrategy};
use icu_locale::Locale;
use jiff::civil::Date;
use writeable::TryWriteable;

/// How long a name is, from long to short.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Width {
    /// `January`, `Thursday`.
    Wide,
    /// `Jan`, `Thu`.
    Abbreviated,
    /// `Th`; months have no such form and take the abbreviated one.
    Short,
    /// `J`, `T`; not one letter in every language, and not different for every day.
    Narrow,
}

impl Width {
    /// All widths, from long to short.
    pub const ALL: [Width; 4] = [Width::Wide, Width::Abbreviated, Width::Short, Width::Narrow];
}

/// In what a month's name stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Form {
    /// Alone, as a heading.
    Alone,
    /// In a date, beside a day; a genitive in many languages.
    InDate,
}

/// The names, digits and habits of a language and its region.
#[derive(Clone, Debug)]
pub struct Names {
    tag: String,
    locale: Locale,
    /// By width, then by month; alone and within a date.
    months: [[[String; 12]; 4]; 2],
    /// By width, then by day from Monday.
    weekdays: [[String; 7]; 4],
    numbers: DecimalFormatter,
    direction: Direction,
    first_day: Weekday,
    weekend: Vec<Weekday>,
    clock: Clock,
}

impl Names {
    /// The names of a language, by its BCP 47 tag with extensions: `pt-BR`, `ar-EG-u-nu-latn`, `en-u-fw-sun`.
    ///
    /// # Errors
    /// When it is no such tag, or CLDR has no names for the language.
    pub fn new(tag: &str) -> Result<Names, Unread> {
        let locale = region::locale(tag)?;
        let months = [
            month_names(&locale, ["LLLL", "LLL", "LLL", "LLLLL"])?,
            month_names(&locale, ["MMMM", "MMM", "MMM", "MMMMM"])?,
        ];
        if months[0][0][0] == "M01" {
            return Err(Unread::new(
                format!("no names of months are known in the language `{tag}`"),
                "write a language of CLDR by its tag, as \"en\", \"pt-BR\" or \"zh-Hant\"",
            ));
        }
        let weekdays = weekday_names(&locale, ["cccc", "ccc", "cccccc", "ccccc"])?;
        let mut options = DecimalFormatterOptions::default();
        options.grouping_strategy = Some(GroupingStrategy::Never);
        let numbers =
            DecimalFormatter::try_new((&locale).into(), options).map_err(|error| region::lacking(tag, error))?;
        let week = region::week(tag, &locale)?;
        let mut names = Names {
            tag: tag.to_owned(),
            direction: region::direction(&locale),
            months,
            weekdays,
            numbers,
            first_day: week.0,
            weekend: week.1,
            clock: Clock::TwentyFour,
            locale,
        };
        names.clock = region::clock(&names)?;
        Ok(names)
    }

    /// The language as ICU4X takes it.
    pub(crate) fn locale(&self) -> &Locale {
        &self.locale
    }

    /// The tag, as it was given.
    pub fn tag(&self) -> &str {
        &self.tag
    }

    /// The name of a month of the year, 1 to 12.
    ///
    /// # Panics
    /// When the month is not 1 to 12.
    pub fn month(&self, number: i8, width: Width, form: Form) -> &str {
        &self.months[form as usize][width as usize][usize::from(number.unsigned_abs()) - 1]
    }

    /// The name of a weekday, as it stands alone.
    pub fn weekday(&self, day: Weekday, width: Width) -> &str {
        &self.weekdays[width as usize][day as usize]
    }

    /// The digits of the language, 0 to 9.
    pub fn digits(&self) -> String {
        (0..10).map(|n| self.number(n)).collect()
    }

    /// A number in the digits of the language, without separators.
    pub fn number(&self, number: i64) -> String {
        self.numbers.format(&Decimal::from(number)).to_string()
    }

    /// A number in the digits of the language, filled up with zeros to so many of them.
    pub fn padded(&self, number: i64, digits: u8) -> String {
        let mut padded = Decimal::from(number);
        padded.pad_start(i16::from(digits));
        self.numbers.format(&padded).to_string()
    }

    /// Month and year as a heading: `March 2027`, `2027年3月`.
    pub fn month_and_year(&self, month: Month) -> String {
        self.long("yMMMM", month.first_day())
    }

    /// A date in full: `Sunday, March 14, 2027`.
    pub fn full_date(&self, date: Date) -> String {
        self.long("yMMMMEEEEd", date)
    }

    /// A date with its weekday and without its year: `Sunday, March 14`.
    pub fn day_and_month(&self, date: Date) -> String {
        self.long("MMMMEEEEd", date)
    }

    /// Which way the language is written.
    pub fn direction(&self) -> Direction {
        self.direction
    }

    /// The day on which weeks begin, by region; without a region, by that in which the language is most spoken.
    pub fn first_day(&self) -> Weekday {
        self.first_day
    }

    /// The days of the weekend by region, from Monday on.
    pub fn weekend(&self) -> &[Weekday] {
        &self.weekend
    }

    /// Whether the region counts to 12 or to 24 hours.
    pub fn clock(&self) -> Clock {
        self.clock
    }
}

fn month_names(locale: &Locale, widths: [&str; 4]) -> Result<[[String; 12]; 4], Unread> {
    let mut names: [[String; 12]; 4] = Default::default();
    for (pattern, row) in widths.iter().zip(&mut names) {
        for (month, name) in (1i8..).zip(row) {
            *name = formatted(locale, pattern, Date::constant(2027, month, 1))?;
        }
    }
    Ok(names)
}

fn weekday_names(locale: &Locale, widths: [&str; 4]) -> Result<[[String; 7]; 4], Unread> {
    let mut names: [[String; 7]; 4] = Default::default();
    for (pattern, row) in widths.iter().zip(&mut names) {
        // 1 to 7 March 2027 are Monday to Sunday.
        for (day, name) in (1i8..).zip(row) {
            *name = formatted(locale, pattern, Date::constant(2027, 3, day))?;
        }
    }
    Ok(names)
}

/// A date by a pattern of UTS 35, as it stands.
fn formatted(locale: &Locale, pattern: &str, date: Date) -> Result<String, Unread> {
    let lacking = |why: String| region::lacking(&locale.to_string(), why);
    let pattern: DateTimePattern = pattern.parse().map_err(|error| lacking(format!("{error:?}")))?;
    by_pattern(locale, &pattern, date)
}

/// A date by a pattern of the language's own.
fn by_pattern(locale: &Locale, pattern: &DateTimePattern, date: Date) -> Result<String, Unread> {
    let lacking = |why: String| region::lacking(&locale.to_string(), why);
    let mut names = FixedCalendarDateTimeNames::<Gregorian, DateFieldSet>::try_new(locale.into())
        .map_err(|error| lacking(format!("{error}")))?;
    names.include_decimal_formatter().map_err(|error| lacking(format!("{error}")))?;
    let formatter = names.include_for_pattern(pattern).map_err(|error| lacking(format!("{error}")))?;
    let date = gregorian(date);
    match formatter.format(&date).try_write_to_string() {
        Ok(text) => Ok(text.into_owned()),
        Err((error, _)) => Err(lacking(format!("{error:?}"))),
    }
}

/// A date as ICU4X has it.
fn gregorian(date: Date) -> IcuDate<Gregorian> {
    IcuDate::try_new_gregorian(i32::from(date.year()), date.month().unsigned_abs(), date.day().unsigned_abs())
        .expect("every date of jiff is a Gregorian date")
}
