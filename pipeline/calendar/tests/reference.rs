//! The calendar against what others say: Python's calendar and datetime, Babel, dateutil, and tables of ISO 8601 and
//! Easter. `tests/fixtures/SOURCES.md` says where each comes from.

mod fixtures;

use calendar::names::Direction;
use calendar::{Clock, Form, Kind, Leap, Month, MonthGrid, Names, Rule, Settings, Week, WeekScheme, Weekday, Width};
use calendar::{easter, orthodox_easter};
use fixtures::*;

fn settings(first: &str, start: &str, scheme: WeekScheme) -> Settings {
    Settings { week_numbers: scheme, ..Settings::plain(span(first, 12), start.parse().expect("a weekday")) }
}

#[test]
fn grids_have_the_rows_and_days_of_python() {
    let rows = table("calendar/grids.csv");
    assert_eq!(rows.len(), 3 * 12 * 12);
    for row in rows {
        let [start, month, count, first, last, days] = &row[..] else { panic!("{row:?}") };
        let settings = settings(month, start, WeekScheme::None);
        let grid = MonthGrid::fit(fixtures::month(month), &settings);
        assert_eq!(grid.rows.len().to_string(), *count, "{row:?}");
        assert_eq!(grid.rows[0].cells[0].date, date(first), "{row:?}");
        assert_eq!(grid.rows.last().map(|row| row.cells[6].date), Some(date(last)), "{row:?}");
        let cells: Vec<_> = grid.rows.iter().flat_map(|row| row.cells).collect();
        assert_eq!(cells.iter().filter(|cell| cell.inside).count().to_string(), *days, "{row:?}");
        assert!(cells.windows(2).all(|pair| pair[0].date.tomorrow().ok() == Some(pair[1].date)), "{row:?}");
        assert_eq!(MonthGrid::six(fixtures::month(month), &settings).rows.len(), 6);
    }
}

#[test]
fn weeks_have_the_numbers_of_isocalendar_and_cldr() {
    let rows = table("calendar/weeks.csv");
    assert!(rows.len() > 1800);
    for row in rows {
        let [start, first, iso, cldr] = &row[..] else { panic!("{row:?}") };
        let week = Week::from(date(first));
        let number = |scheme| {
            let number = week.number(&settings(&first[..7], start, scheme)).expect("a number");
            format!("{}-{}", number.year, number.number)
        };
        if !iso.is_empty() {
            assert_eq!(number(WeekScheme::Iso), *iso, "{row:?}");
        }
        if !cldr.is_empty() {
            assert_eq!(number(WeekScheme::JanuaryFirst), *cldr, "{row:?}");
        }
    }
}

#[test]
fn iso_weeks_of_two_centuries() {
    for row in table("refs/iso_week_dates.csv") {
        let day = date(&row[0]);
        assert_eq!(Weekday::of(day).to_string(), row[1].to_lowercase());
        let monday = Week::of(day, Weekday::Monday);
        let number = monday.number(&settings("2024-01", "monday", WeekScheme::Iso)).expect("a number");
        assert_eq!((number.year.to_string(), number.number.to_string()), (row[3].clone(), row[4].clone()), "{row:?}");
        // A week into which 1 January falls is the first of that year; the table counts within the year of the day.
        let sunday = Week::of(day, Weekday::Sunday);
        if sunday.last_day().year() == day.year() {
            let number = sunday.number(&settings("2024-01", "sunday", WeekScheme::JanuaryFirst)).expect("a number");
            assert_eq!((number.year, number.number.to_string()), (day.year(), row[7].clone()), "{row:?}");
        }
    }
    for row in table("refs/iso_years.csv") {
        let (year, weeks): (i16, usize) = (row[0].parse().expect("a year"), row[1].parse().expect("a number"));
        let (first, last) = (date(&row[4]), date(&row[5]));
        let iso = settings("2024-01", "monday", WeekScheme::Iso);
        let number =
            |day| Week::of(day, Weekday::Monday).number(&iso).map(|number| (number.year, usize::from(number.number)));
        assert_eq!(number(first), Some((year, 1)), "{row:?}");
        assert_eq!(number(last), Some((year, weeks)), "{row:?}");
    }
}

#[test]
fn easter_of_both_churches() {
    let rows = table("refs/easter.csv");
    assert_eq!(rows.len(), 71);
    for row in rows {
        let year = row[0].parse().expect("a year");
        assert_eq!(easter(year), Some(date(&row[1])));
        assert_eq!(orthodox_easter(year), Some(date(&row[2])));
    }
}

#[test]
fn rules_give_the_dates_of_dateutil() {
    let span = (date("2024-01-01"), date("2035-12-31"));
    for row in table("calendar/rules.csv") {
        let rule: Rule = row[0].parse().unwrap_or_else(|error| panic!("{}: {error}", row[0]));
        let dates: Vec<String> =
            rule.between(span.0, span.1, Leap::Skip).iter().map(|(_, date)| date.to_string()).collect();
        assert_eq!(dates.join(" "), row[1], "{}", row[0]);
    }
}

#[test]
fn names_are_those_of_babel() {
    let table: serde_json::Value = serde_json::from_slice(&bytes("calendar/names.json")).expect("the fixture is JSON");
    let table = table.as_object().expect("a table");
    assert!(table.len() >= 31);
    for (tag, row) in table {
        let names = Names::new(tag).unwrap_or_else(|error| panic!("{tag}: {error}"));
        let three = [Width::Wide, Width::Abbreviated, Width::Narrow];
        for (key, form) in [("months", Form::Alone), ("in_date", Form::InDate)] {
            let ours: Vec<Vec<&str>> =
                three.iter().map(|width| (1..=12).map(|number| names.month(number, *width, form)).collect()).collect();
            assert_eq!(serde_json::json!(ours), row[key], "{tag} {key}");
        }
        let ours: Vec<Vec<&str>> = Width::ALL
            .iter()
            .map(|width| Weekday::ALL.iter().map(|day| names.weekday(*day, *width)).collect())
            .collect();
        assert_eq!(serde_json::json!(ours), row["days"], "{tag} days");
        assert_eq!(serde_json::json!(names.first_day() as u8), row["first_day"], "{tag}");
        let ends = [names.weekend().first(), names.weekend().last()].map(|day| day.map(|day| *day as u8));
        assert_eq!(serde_json::json!(ends), row["weekend"], "{tag}");
        let direction = if names.direction() == Direction::RightToLeft { "rtl" } else { "ltr" };
        assert_eq!(row["direction"], direction, "{tag}");
        assert_eq!(row["clock"], i64::from(names.clock()), "{tag}");
    }
}

/// Languages whose dates ECMA-402 writes as parts of a sentence or with a word more, and pages as a heading: Danish with `den` before
/// the day, Finnish `perjantaina` (on a Friday), Persian with the sound that joins a month to its year; and Thai, whose years
/// pages tell apart from those of the Buddhist era. Hindi and Vietnamese differ by the comma before the year.
const OTHERWISE: [&str; 6] = ["da-DK", "fi-FI", "fa-IR", "th-TH", "hi-IN", "vi-VN"];

/// Headings of days and months, in every language, as ECMA-402 (`Intl.DateTimeFormat` of Node) writes them.
#[test]
fn long_dates_are_those_of_ecma_402() {
    let table: serde_json::Value = serde_json::from_slice(&bytes("calendar/dates.json")).expect("the fixture is JSON");
    let table = table.as_object().expect("a table");
    assert!(table.len() >= 31);
    let mut wrong = Vec::new();
    for (tag, forms) in table {
        let names = Names::new(tag).unwrap_or_else(|error| panic!("{tag}: {error}"));
        for (form, days) in forms.as_object().expect("a table of forms") {
            for (day, theirs) in days.as_object().expect("a table of days") {
                let ours = match form.as_str() {
                    "full" => names.full_date(date(day)),
                    "without_year" => names.day_and_month(date(day)),
                    _ => names.month_and_year(Month::of(date(day))),
                };
                // Node has the narrow space where CLDR has the one that does not break.
                let spaced = |text: &str| text.replace(['\u{a0}', '\u{202f}'], " ");
                if spaced(&ours) != spaced(theirs.as_str().expect("a text")) {
                    wrong.push(format!("{tag} {form} {day}: {ours}, and Node {theirs}"));
                }
            }
        }
    }
    let told = |tag: &str| wrong.iter().any(|line| line.starts_with(tag));
    assert!(OTHERWISE.iter().all(|tag| told(tag)), "what is told of a language does not hold");
    wrong.retain(|line| !OTHERWISE.iter().any(|tag| line.starts_with(tag)));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Every form of a date that pages use is written in every language, with its year in the language's digits and its month by name.
#[test]
fn every_date_is_written_in_every_language() {
    let table: serde_json::Value = serde_json::from_slice(&bytes("calendar/names.json")).expect("the fixture is JSON");
    let tags = table.as_object().expect("a table").keys().map(String::as_str);
    for tag in tags.chain(["pt", "pt-BR", "pt-PT", "pt-MZ", "es-MX", "fr-CA", "en-US", "zh-Hant", "sr-Latn"]) {
        let names = Names::new(tag).unwrap_or_else(|error| panic!("{tag}: {error}"));
        let day = date("2027-03-14");
        for skeleton in
            ["y", "yMMMM", "MMM y", "d MMMM", "d MMMM y", "d MMM", "d MMM y", "EEEE d MMMM", "EEEE d MMMM y"]
        {
            let written = names.written(day, skeleton).unwrap_or_else(|error| panic!("{tag} {skeleton}: {error}"));
            let has = |part: &str| written.contains(part);
            assert!(!skeleton.contains('y') || has(&names.number(2027)), "{tag} {skeleton}: {written}");
            assert!(!skeleton.contains('d') || has(&names.number(14)), "{tag} {skeleton}: {written}");
            // Chinese and Japanese count months.
            let named = skeleton.contains("MMM");
            let forms =
                [Form::Alone, Form::InDate].map(|form| [Width::Wide, Width::Abbreviated].map(|width| (form, width)));
            let said =
                forms.iter().flatten().any(|(form, width)| has(names.month(3, *width, *form).trim_end_matches('.')))
                    || has(&format!("{}月", names.number(3)));
            assert!(!named || said, "{tag} {skeleton}: {written}");
        }
    }
}

#[test]
fn extensions_of_the_tag_count() {
    let names = |tag| Names::new(tag).unwrap_or_else(|error| panic!("{tag}: {error}"));
    assert_eq!(names("en").first_day(), Weekday::Sunday, "likely subtags: en is en-US");
    assert_eq!(names("en-GB").first_day(), Weekday::Monday);
    assert_eq!(names("en-u-fw-sat").first_day(), Weekday::Saturday);
    assert_eq!(names("de").first_day(), Weekday::Monday);
    assert_eq!(names("en").clock(), Clock::Twelve);
    assert_eq!(names("en-u-hc-h23").clock(), Clock::TwentyFour);
    assert_eq!(names("ar-EG").number(2027), "٢٠٢٧");
    assert_eq!(names("ar-EG-u-nu-latn").number(2027), "2027");
    assert_eq!(names("hi-u-nu-deva").padded(7, 2), "०७");
    assert_eq!(names("th-u-ca-buddhist").written(date("2027-03-14"), "y").as_deref(), Ok("2027"));
}

/// From memory of the languages: the heading is a nominative, the date a genitive.
#[test]
fn headings_stand_alone_and_dates_do_not() {
    let greek = Names::new("el").expect("a language");
    assert_eq!(greek.written(date("2027-03-14"), "MMMM").as_deref(), Ok("Μάρτιος"));
    assert_eq!(greek.written(date("2027-03-14"), "d MMMM").as_deref(), Ok("14 Μαρτίου"));
    let english = Names::new("en-US").expect("a language");
    assert_eq!(english.full_date(date("2027-03-14")), "Sunday, March 14, 2027");
    assert_eq!(english.day_and_month(date("2027-03-14")), "Sunday, March 14");
    assert_eq!(english.month_and_year(month("2027-03")), "March 2027");
    assert_eq!(english.written(date("2027-03-14"), "EEE d MMM").as_deref(), Ok("Sun, Mar 14"));
    let noon = jiff::civil::time(19, 30, 0, 0);
    assert_eq!(english.time(noon, Clock::TwentyFour), "19:30");
    assert_eq!(english.time(noon, Clock::Twelve).replace('\u{202f}', " "), "7:30 PM");
}

/// Years with odd numbers of weeks and days; common knowledge of calendars, counted by hand.
#[test]
fn years_with_odd_counts() {
    let count = |first, months, start, kind| planner(first, months, start, Kind::ALL).count(kind);
    assert_eq!(count("2026-01", 12, Weekday::Monday, Kind::Week), 53);
    assert_eq!(count("2027-01", 12, Weekday::Monday, Kind::Week), 53);
    assert_eq!(count("2028-01", 12, Weekday::Sunday, Kind::Week), 54);
    assert_eq!(count("2024-01", 12, Weekday::Monday, Kind::Day), 366);
    assert_eq!(count("2026-08", 15, Weekday::Monday, Kind::Month), 15);
    assert_eq!(count("2026-08", 15, Weekday::Monday, Kind::Year), 2);
    assert_eq!(count("2027-01", 12, Weekday::Monday, Kind::Quarter), 4);
    assert_eq!(count("2026-08", 12, Weekday::Monday, Kind::Quarter), 5);
}
