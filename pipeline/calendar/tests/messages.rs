//! What a designer is told of values that cannot be taken; places, labels and outline as they are written.

mod fixtures;

use calendar::table::CalendarTable;
use calendar::{Kind, Names, Order, PageSet, Place, Planner, Rule, Settings, Weekday};
use fixtures::*;

fn settings(text: &str) -> Result<Settings, String> {
    let table: CalendarTable = toml::from_str(text).map_err(|error| error.message().to_owned())?;
    let names = Names::new("en-US").expect("a language");
    Settings::resolve(&table, &names)
        .map_err(|faults| faults.iter().map(ToString::to_string).collect::<Vec<_>>().join(" | "))
}

#[test]
fn values_of_the_calendar_table() {
    let settings = |text: &str| settings(text).expect_err(text);
    assert_eq!(
        settings("first = \"2027-13\""),
        "2027 has no month 13; months are 01 to 12, as in \"2027-01\" for January 2027"
    );
    assert_eq!(
        settings("first = \"2027-01\"\nfirst-day = \"mondey\""),
        "`mondey` is no day of the week; did you mean `monday`?"
    );
    assert_eq!(
        settings("first = \"2027-01\"\nweek-numbers = \"iso\"\nfirst-day = \"sunday\""),
        "week-numbers: ISO week numbers are for weeks from Monday, and these begin on sunday; \
         write first-day = \"monday\", or week-numbers = \"january-first\", \"from-start\" or \"none\""
    );
    assert_eq!(
        settings("first = \"2027-01\"\nmonths = 25\nweekend = [\"sunday\", \"sunday\"]"),
        "weekend: sunday is named twice; name each day once | \
         months: a planner of 25 months cannot be made; months is 1 to 24; make a second product for the time after that"
    );
    assert_eq!(settings("first = \"2027-01\"\nclock = 13"), "no clock has 13 hours; valid here: 12, 24");
    assert!(settings("first = \"2027-01\"\nweeknumbers = \"iso\"").starts_with("unknown field `weeknumbers`"));
    assert!(settings("first = 2027").contains("a month such as 2027-01 in quotes"), "{}", settings("first = 2027"));
}

#[test]
fn what_is_unsaid_follows_the_region() {
    let american = settings("first = \"2027-01\"").expect("settings");
    assert_eq!(american.first_day, Weekday::Sunday);
    assert_eq!(american.week_numbers, calendar::WeekScheme::JanuaryFirst);
    assert_eq!(american.span.len(), 12);
    assert_eq!((american.clock, american.order), (calendar::Clock::Twelve, Order::ByMonth));
    let table: CalendarTable = toml::from_str("first = \"2027-01\"").expect("a table");
    let german = Settings::resolve(&table, &Names::new("de").expect("a language")).expect("settings");
    assert_eq!((german.first_day, german.week_numbers), (Weekday::Monday, calendar::WeekScheme::Iso));
}

#[test]
fn rules_and_places_that_are_none() {
    let rule = |text: &str| text.parse::<Rule>().expect_err(text).to_string();
    assert_eq!(rule("eastr"), "`eastr` is no date and no rule for one; did you mean `easter`?");
    assert_eq!(rule("2nd mundy of may"), "`mundy` is no day of the week; did you mean `monday`?");
    assert_eq!(rule("2nd monday of mai"), "`mai` is no month; did you mean `may`?");
    assert_eq!(rule("6th monday of may"), "`6th` is no place in a month; valid here: 1st, 2nd, 3rd, 4th, 5th, last");
    assert_eq!(rule("02-30"), "`02-30`: february never has a day 30; give a day that the month has");
    assert_eq!(rule("2027-13-01"), "2027 has no month 13; months are 01 to 12, as in \"2027-01\" for January 2027");
    assert!(rule("easter-400").starts_with("`easter-400` is moved too far"));
    for text in
        ["2027-03-14", "03-14", "2nd monday of may", "last friday of november+1", "easter-47", "orthodox-easter+1"]
    {
        assert_eq!(text.parse::<Rule>().map(|rule| rule.to_string()).as_deref(), Ok(text));
    }
    let place = |text: &str| text.parse::<Place>().expect_err(text).to_string();
    assert_eq!(place("dya/2027-03-14"), "`dya` is no kind of dated page; did you mean `day`?");
    assert_eq!(
        place("week/2027-W53x"),
        "`2027-W53x` is no week; write the ISO week with two digits as in week/2027-W09, or its first day as in week/2027-02-28"
    );
    assert_eq!(place("week/2027-W53"), "2027 has no week 53; the last week of 2027 is 2027-W52");
    assert!(place("day/2027-03-14/1").starts_with("`1` is no page behind day/2027-03-14"));
    assert!(place("day").contains("without a date"));
    for text in [
        "year/2027",
        "year/2026-08",
        "quarter/2027-Q1",
        "month/2027-03",
        "week/2027-W09",
        "week/2027-02-28",
        "day/2027-03-14",
        "day/2027-03-14/2",
        "week/2027-W09/2",
        "day/2027-03-14/gratitude",
        "day/2027-03-14/gratitude/2",
    ] {
        assert_eq!(text.parse::<Place>().map(|place| place.to_string()).as_deref(), Ok(text));
    }
    assert_eq!("week/2027-03-01".parse::<Place>().map(|place| place.to_string()).as_deref(), Ok("week/2027-W09"));
}

#[test]
fn sets_that_cannot_be_told_apart() {
    let settings = Settings::plain(span("2027-01", 1), Weekday::Monday);
    let weekdays = calendar::DayChoice::Workdays;
    let sets = vec![PageSet::of(Kind::Day), PageSet::of(Kind::Day), PageSet { weekdays, ..PageSet::of(Kind::Week) }];
    let faults = Planner::new(settings, sets).expect_err("two are alike");
    let faults: Vec<String> = faults.iter().map(|(index, fault)| format!("{index} {}", fault.what)).collect();
    assert_eq!(faults, ["1 two sets of day pages have no name", "2 weekdays stands with week pages"]);
    let name = "Gratitude & Joy".parse::<calendar::SetName>().expect_err("no name").to_string();
    assert!(name.ends_with("as in \"gratitude-joy\""), "{name}");
}

#[test]
fn order_by_month_places_labels_and_outline() {
    let planner = planner("2027-02", 1, Weekday::Monday, Kind::ALL);
    let places = places(&planner);
    assert_eq!(
        places[..6],
        ["year/2027-02", "quarter/2027-Q1", "month/2027-02", "week/2027-W05", "day/2027-02-01", "day/2027-02-02"]
    );
    assert_eq!(places[11], "week/2027-W06");
    assert_eq!(planner.label(3), "W05");
    assert_eq!(planner.label(4), "2027-02-01");
    let outline = planner.outline();
    assert_eq!(outline.len(), 1);
    assert_eq!((outline[0].open, outline[0].below[0].open, outline[0].below[0].below.len()), (true, false, 4));
    // A week of the other weekday's variant is found by its fourth day.
    assert_eq!(planner.find(&"week/2027-02-07".parse().expect("a place")), Some(11));
    assert_eq!(planner.find(&"week/2027-W09".parse().expect("a place")), None);
}

#[test]
fn two_days_on_a_page() {
    let words = ["monday+tuesday", "wednesday+thursday", "friday", "saturday+sunday"];
    let pages = words.map(|word| word.parse().expect("a page of days"));
    let weekdays = calendar::DayChoice::Shared(pages.into_iter().collect());
    let sets = vec![PageSet { weekdays, ..PageSet::of(Kind::Day) }];
    // 1 March 2027 is a Monday, 31 March a Wednesday (Python: date.weekday).
    let planner = Planner::new(Settings::plain(span("2027-03", 1), Weekday::Monday), sets).expect("one set");
    let at = |text: &str| planner.find(&text.parse().expect("a place"));
    assert_eq!(at("day/2027-03-01"), at("day/2027-03-02"));
    assert_ne!(at("day/2027-03-02"), at("day/2027-03-03"));
    assert_ne!(at("day/2027-03-05"), at("day/2027-03-06"));
    assert_eq!(at("day/2027-03-06"), at("day/2027-03-07"));
    assert_eq!(planner.count(Kind::Day), 4 * 4 + 2);
}

#[test]
fn a_weekend_on_one_page() {
    let weekdays = calendar::DayChoice::Joined;
    let sets = vec![PageSet::of(Kind::Week), PageSet { weekdays, companions: 1, ..PageSet::of(Kind::Day) }];
    let planner = Planner::new(Settings::plain(span("2027-05", 1), Weekday::Sunday), sets).expect("the sets differ");
    let at = |text: &str| planner.find(&text.parse().expect("a place"));
    assert_eq!(at("day/2027-05-08"), at("day/2027-05-09"));
    assert_eq!(at("day/2027-05-08/2"), at("day/2027-05-08").map(|id| id + 1));
    assert_eq!(at("day/2027-05-08/3"), None);
    assert_eq!(planner.count(Kind::Day), 26);
}
