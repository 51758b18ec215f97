//! What dated pages say. Dates are held against the calendars of 2026 and 2027 that `cal` of util-linux prints.

use base::model::dated::{DatedKind, DatedPage};
use calendar::data::{Look, PageData, Words};
use calendar::events::Source;
use calendar::{Agenda, Event, EventSource, Kind, Names, PageSet, Place, Planner, Settings, Span, Weekday, When};

fn source(name: &str, events: &[(&str, &str, Option<&str>)]) -> Source {
    let events = events.iter().map(|(on, name, kind)| {
        let rule = on.parse().expect("a rule");
        let when = calendar::events::ByRule::new(rule, None, None, None).expect("a rule");
        let written_at = EventSource { file: "list.csv".into(), line: 1, column: 1 };
        Event { name: (*name).into(), kind: kind.map(Into::into), written_at, when: When::Rule(when) }
    });
    Source { name: name.into(), events: events.collect(), ..Source::default() }
}

/// All pages of a planner with every kind of page, one companion a day.
fn pages(first: &str, months: i64, start: Weekday, tag: &str) -> (Planner, Vec<DatedPage>) {
    let span = Span::new(first.parse().expect("a month"), months).expect("a span");
    let mut sets: Vec<PageSet> = Kind::ALL.iter().copied().map(PageSet::of).collect();
    sets[4].companions = 1;
    let planner = Planner::new(Settings::plain(span, start), sets).expect("the sets differ");
    let names = Names::new(tag).expect("a language");
    let lists = [
        source("Holidays", &[("easter", "Easter Sunday", Some("public holiday"))]),
        source("Birthdays", &[("03-28", "Ada", None)]),
    ];
    let agenda = Agenda::new(planner.span(), &lists);
    let look = |name: &str, on: &[Kind]| Look { name: Some(name.into()), on: on.to_vec(), ..Look::default() };
    let looks = [look("Holidays", Kind::ALL), look("Birthdays", &[Kind::Week, Kind::Day])];
    let mut companions = vec![Vec::new(); 5];
    companions[4].push("Notes".to_owned());
    let words = Words::of(&base::model::words::Words::of("en"));
    let data = PageData::new(&planner, &names, &agenda, &looks, &words, &companions);
    let pages = (0..planner.pages().len()).map(|id| data.page(id)).collect();
    (planner, pages)
}

fn page<'a>(pages: &'a [DatedPage], place: &str) -> &'a DatedPage {
    pages.iter().find(|page| page.place == place).unwrap_or_else(|| panic!("there is no {place}"))
}

#[test]
fn headings_say_the_period() {
    let (_, british) = pages("2027-01", 12, Weekday::Monday, "en-GB");
    let said = |pages: &[DatedPage], place: &str| {
        let page = page(pages, place);
        format!("{} | {}", page.heading, page.beside)
    };
    assert_eq!(said(&british, "year/2027"), "2027 | January – December");
    assert_eq!(said(&british, "quarter/2027-Q1"), "Quarter 1 | January – March 2027");
    assert_eq!(said(&british, "month/2027-03"), "March | 2027");
    assert_eq!(said(&british, "week/2027-W09"), "Week 9 | 1 – 7 March 2027");
    assert_eq!(said(&british, "day/2027-03-14"), "Sunday | 14 March 2027");
    let (_, american) = pages("2026-08", 12, Weekday::Sunday, "en-US");
    assert_eq!(said(&american, "year/2026-08"), "2026/27 | August 2026 – July 2027");
    assert_eq!(said(&american, "week/2027-02-28"), "Week 10 | February 28 – March 6, 2027");
    assert_eq!(said(&american, "day/2027-03-14"), "Sunday | March 14, 2027");
}

#[test]
fn steps_lead_where_their_names_say() {
    let (_, pages) = pages("2027-01", 12, Weekday::Monday, "en-GB");
    let day = page(&pages, "day/2027-03-14");
    let steps = [&day.previous, &day.next, &day.up].map(|step| {
        let step = step.as_ref().expect("there is one");
        format!("{} {}", step.name, step.place)
    });
    assert_eq!(steps, ["Sat 13 day/2027-03-13", "Mon 15 day/2027-03-15", "Week 10 week/2027-W10"]);
    assert_eq!(day.companions[0].name, "Notes");
    assert_eq!(day.companions[0].place, "day/2027-03-14/2");
    let notes = page(&pages, "day/2027-03-14/2");
    assert_eq!(notes.companions[0].place, "day/2027-03-14");
    assert_eq!(notes.companions[0].name, "Sun 14");
    assert_eq!(page(&pages, "year/2027").up, None);
    assert_eq!(page(&pages, "day/2027-01-01").previous, None);
    assert_eq!(page(&pages, "day/2027-12-31").next, None);
}

#[test]
fn grids_hold_the_days_that_the_month_has() {
    let (planner, pages) = pages("2027-01", 12, Weekday::Monday, "en-GB");
    // February 2027 begins on a Monday and has 28 days: four rows. May and August need six.
    for (month, rows, start) in [("2027-02", 4, 0), ("2027-03", 5, 0), ("2027-05", 6, 5), ("2027-08", 6, 6)] {
        let month = &page(&pages, &format!("month/{month}")).month;
        assert_eq!(month.rows.len(), rows, "{}", month.iso);
        let first = month.rows[0].days.iter().position(|cell| cell.inside);
        assert_eq!(first, Some(start), "{}", month.iso);
    }
    for said in &pages {
        let months = said.months.iter().chain(&said.small);
        for month in months {
            let shown: Vec<u8> = month.rows.iter().flat_map(|r| &r.days).filter(|c| c.shown).map(|c| c.day).collect();
            assert_eq!(shown, (1..=month.days).collect::<Vec<u8>>(), "{} on {}", month.iso, said.place);
            for cell in month.rows.iter().flat_map(|row| &row.days) {
                let Some(place) = &cell.place else { continue };
                assert!(cell.shown && planner.find(&place.parse::<Place>().expect("a place")).is_some());
                assert_eq!(place.strip_prefix("day/"), Some(cell.iso.as_str()));
            }
        }
        // A page does not lead to itself, and outside of the span nothing leads anywhere.
        assert!(said.days.iter().all(|cell| cell.place.is_none() || said.nth > 1 && cell.place.is_some()));
    }
    let january = &page(&pages, "week/2026-W53").week.as_ref().expect("a week").days;
    assert_eq!(january.iter().filter(|cell| cell.place.is_none() && !cell.inside).count(), 4);
}

#[test]
fn events_stand_where_their_list_says() {
    let (_, pages) = pages("2027-01", 12, Weekday::Monday, "en-GB");
    let names = |place: &str| -> Vec<String> {
        let page = page(&pages, place);
        let cells = match page.kind {
            DatedKind::Day => &page.days,
            DatedKind::Week => &page.week.as_ref().expect("a week").days,
            _ => &page.month.rows[3].days,
        };
        cells.iter().flat_map(|cell| &cell.events).map(|event| event.name.clone()).collect()
    };
    // Easter 2027 is 28 March.
    assert_eq!(names("day/2027-03-28"), ["Easter Sunday", "Ada"]);
    assert_eq!(names("week/2027-W12"), ["Easter Sunday", "Ada"]);
    assert_eq!(names("month/2027-03"), ["Easter Sunday"]);
    let day = page(&pages, "day/2027-03-28");
    assert_eq!(day.days[0].holiday.as_deref(), Some("Easter Sunday"));
    assert_eq!(day.legend.iter().map(|entry| entry.name.as_str()).collect::<Vec<_>>(), ["Holidays", "Birthdays"]);
}

#[test]
fn hours_are_those_of_the_clock() {
    let (_, pages) = pages("2027-01", 1, Weekday::Monday, "en-GB");
    let hours = &pages[0].hours;
    assert_eq!((hours.len(), hours[7].name.as_str(), hours[14].name.as_str()), (24, "07:00", "14:00"));
}
