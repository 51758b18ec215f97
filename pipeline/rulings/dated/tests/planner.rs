//! Pages of an invented choir's planner, filled by the calendar.

use base::model::Rgb;
use base::model::dated::{DatedKind, DatedPage, DayCell, DayEvent};
use calendar::data::{Look, PageData, Words};
use calendar::events::Source;
use calendar::{Agenda, DayChoice, Kind, Names, PageSet, Planner, Settings, Span, Weekday, lists};

/// Public holidays and other days, as CSV.
const HOLIDAYS: &str = "date,name,kind,until
2027-01-01,New Year's Day,public holiday,
easter-2,Good Friday,public holiday,
easter+1,Easter Monday,public holiday,
1st monday of may,Early May bank holiday,public holiday,
last monday of august,Summer bank holiday,public holiday,
12-25,Christmas Day,public holiday,
12-26,Boxing Day,public holiday,
2027-03-26,School holidays,,2027-04-11
2027-10-25,Half term,,2027-10-29
";

/// Rehearsals and concerts, as RFC 5545 has them.
const REHEARSALS: &str = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Fernlea Chamber Choir//EN\r\n\
BEGIN:VEVENT\r\nUID:1@fernlea.example\r\nDTSTAMP:20260601T000000Z\r\nDTSTART:20260903T193000\r\n\
RRULE:FREQ=WEEKLY;BYDAY=TH\r\nSUMMARY:Rehearsal\r\nEND:VEVENT\r\n\
BEGIN:VEVENT\r\nUID:2@fernlea.example\r\nDTSTAMP:20260601T000000Z\r\nDTSTART:20270320T180000\r\n\
SUMMARY:Spring concert in the old chapel\r\nEND:VEVENT\r\n\
BEGIN:VEVENT\r\nUID:3@fernlea.example\r\nDTSTAMP:20260601T000000Z\r\nDTSTART:20270318T090000\r\n\
SUMMARY:Dentist\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n";

/// The kinds of dated pages.
pub struct Kinds;

impl Kinds {
    /// All of them.
    pub const ALL: [DatedKind; 5] =
        [DatedKind::Year, DatedKind::Quarter, DatedKind::Month, DatedKind::Week, DatedKind::Day];
}

/// All pages of a planner with every kind of page, one companion a day.
pub fn pages(first: &str, months: i64, start: Weekday, tag: &str) -> Vec<DatedPage> {
    let mut sets: Vec<PageSet> = Kind::ALL.iter().copied().map(PageSet::of).collect();
    sets[4].companions = 1;
    made(first, months, start, tag, sets)
}

/// The pages of days of March 2027, of which a weekend shares one.
pub fn joined() -> Vec<DatedPage> {
    let set = PageSet { weekdays: DayChoice::Joined, ..PageSet::of(Kind::Day) };
    made("2027-03", 1, Weekday::Monday, "en-GB", vec![set])
}

fn made(first: &str, months: i64, start: Weekday, tag: &str, sets: Vec<PageSet>) -> Vec<DatedPage> {
    let span = Span::new(first.parse().unwrap(), months).unwrap();
    let count = sets.len();
    let planner = Planner::new(Settings::plain(span, start), sets).unwrap();
    let names = Names::new(tag).unwrap();
    let source = |name: &str, read: lists::Read| {
        assert_eq!(read.faults, []);
        Source { name: name.into(), events: read.events, is_list: true, ..Source::default() }
    };
    let lists = [
        source("Holidays", lists::read_csv(HOLIDAYS.as_bytes(), "holidays.csv")),
        source("Choir", lists::read_ics(REHEARSALS.as_bytes(), "choir.ics")),
    ];
    let agenda = Agenda::new(planner.span(), &lists);
    let look = |name: &str, colour| Look {
        name: Some(name.into()),
        colour: Some(colour),
        on: Kind::ALL.to_vec(),
        ..Look::default()
    };
    let looks = [look("Holidays", Rgb::new(0xb8, 0x56, 0x4f)), look("Choir", Rgb::new(0x3d, 0x6f, 0x8e))];
    let mut companions = vec![Vec::new(); count];
    companions[count - 1].push("Notes".to_owned());
    let words = Words::of(&base::model::words::Words::of("en"));
    let data = PageData::new(&planner, &names, &agenda, &looks, &words, &companions);
    (0..planner.pages().len()).map(|id| data.page(id)).collect()
}

/// The same pages with only so many errands on one day, and nothing else on it.
pub fn crowded(pages: &[DatedPage], iso: &str, count: usize) -> Vec<DatedPage> {
    let errand = |i: usize| DayEvent {
        name: format!("Errand {i}"),
        time: None,
        minutes: None,
        holiday: false,
        colour: None,
        list: None,
        from_before: false,
        goes_on: false,
    };
    let fill = |day: &mut DayCell| {
        if day.iso == iso {
            day.events = (0..count).map(errand).collect();
            day.holiday = None;
        }
    };
    let mut pages = pages.to_vec();
    for page in &mut pages {
        page.days.iter_mut().for_each(fill);
        page.week.iter_mut().flat_map(|w| &mut w.days).for_each(fill);
        for month in page.months.iter_mut().chain(&mut page.small).chain([&mut page.month]) {
            month.rows.iter_mut().flat_map(|r| &mut r.days).for_each(fill);
        }
    }
    pages
}
