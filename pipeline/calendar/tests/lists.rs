//! Lists: what they give, held against recurring-ical-events, and what is said of those that are wrong.

mod fixtures;

use calendar::events::Source;
use calendar::{Agenda, Trouble, read_csv, read_ics};
use fixtures::*;
use std::time::{Duration, Instant};

fn agenda(read: calendar::Read, zone: Option<&str>) -> Agenda {
    assert_eq!(read.faults, []);
    let zone = zone.map(|zone| zone.parse().expect("a zone"));
    let source = Source { name: "List".into(), events: read.events, zone, leap: None, is_list: true };
    Agenda::new(&span("2026-08", 12), &[source])
}

fn calendar_of(events: &str) -> String {
    format!("BEGIN:VCALENDAR\r\n{}END:VCALENDAR\r\n", events.replace('\n', "\r\n"))
}

fn event(lines: &str) -> String {
    calendar_of(&format!("BEGIN:VEVENT\nUID:1\nSUMMARY:Rehearsal\n{lines}\nEND:VEVENT\n"))
}

fn troubles(ics: &str) -> Vec<Trouble> {
    let agenda = agenda(read_ics(ics.as_bytes(), "x.ics"), Some("Europe/Lisbon"));
    agenda.findings.into_iter().map(|finding| finding.trouble).collect()
}

fn faults(read: &calendar::Read) -> Vec<String> {
    read.faults
        .iter()
        .map(|fault| format!("{}:{} {}", fault.written_at.line, fault.written_at.column, fault.what))
        .collect()
}

#[test]
fn calendars_give_the_dates_of_recurring_ical_events() {
    let expected = table("calendar/occurrences.csv");
    for file in ["rehearsals.ics", "seasons.ics", "tour.ics"] {
        let agenda = agenda(read_ics(&bytes(&format!("calendar/ics/{file}")), file), Some("Europe/Lisbon"));
        let clock =
            |time: Option<jiff::civil::Time>| time.map_or(String::new(), |time| time.strftime("%H:%M").to_string());
        let mut ours: Vec<Vec<String>> = agenda
            .occurrences
            .iter()
            .map(|each| {
                let end = if each.start.is_some() { clock(each.end) } else { each.last.to_string() };
                vec![file.to_owned(), each.first.to_string(), clock(each.start), end, each.name.clone()]
            })
            .collect();
        let mut theirs: Vec<_> = expected.iter().filter(|row| row[0] == file).cloned().collect();
        ours.sort();
        theirs.sort();
        assert!(theirs.len() > 10);
        assert_eq!(ours, theirs, "{file}");
    }
}

#[test]
fn each_day_knows_what_happens_on_it() {
    let agenda = agenda(read_ics(&bytes("calendar/ics/seasons.ics"), "seasons.ics"), None);
    let on = |day| agenda.on(date(day)).map(|each| each.name.as_str()).collect::<Vec<_>>();
    assert_eq!(on("2027-07-18"), [""; 0]);
    assert_eq!(on("2027-07-19"), ["Singing week at the lake"]);
    assert_eq!(on("2027-07-25"), ["Singing week at the lake"]);
    assert_eq!(on("2027-07-26"), [""; 0]);
    assert_eq!(on("2027-05-31"), ["Board", "Last workday"]);
}

#[test]
fn a_csv_list_in_full() {
    let text = "\u{feff}Date;Name;Kind;Until;Leap;Since\r\n\
                # school holidays\r\n\
                \r\n\
                2026-10-19;Autumn break;holiday;2026-10-30;;\r\n\
                02-29;\"Ada; {years} years\";birthday;;28 february;1996\r\n\
                2nd monday of may;Open house;;;;\r\n\
                easter-47;Carnival;;;;\r\n";
    let agenda = agenda(read_csv(text.as_bytes(), "x.csv"), None);
    let found: Vec<String> = agenda
        .occurrences
        .iter()
        .map(|each| format!("{}–{} {} {:?}", each.first, each.last, each.name, each.years))
        .collect();
    assert_eq!(
        found,
        [
            "2026-10-19–2026-10-30 Autumn break None",
            "2027-02-09–2027-02-09 Carnival None",
            "2027-02-28–2027-02-28 Ada; 31 years Some(31)",
            "2027-05-10–2027-05-10 Open house None",
        ]
    );
    assert_eq!(agenda.findings, []);
}

#[test]
fn faults_of_a_csv_list_have_line_and_column() {
    let mut text = String::from("date,name,kind\n");
    for day in 1..=38 {
        text.push_str(&format!("2027-01-{:02},Day {day},\n", day.min(31)));
    }
    text.push_str("2027-02-30,Nonsense,\n\"2027-03-01\",\"a, b\",\n14.03.2027,Points,\n2nd mondey of may,Odd,\n2027-04-01,,\n2027-04-02,a,b,c\n");
    let read = read_csv(text.as_bytes(), "dates/x.csv");
    assert_eq!(
        faults(&read),
        [
            "40:1 `2027-02-30` is no date: 2027-02 has 28 days",
            "42:1 `14.03.2027` is no date and no rule for one",
            "43:1 `mondey` is no day of the week",
            "44:12 the line has no name",
            "45:16 the line has 4 columns, the heading 3",
        ]
    );
    assert_eq!(read.faults[2].help, "did you mean `monday`?");
    assert_eq!(read.events.len(), 39);
    assert_eq!(read.faults[0].written_at.to_string(), "dates/x.csv:40:1");
    assert_eq!(
        faults(&read_csv(b"day,nam\n", "x")),
        ["1:1 `day` is no column of a list", "1:5 `nam` is no column of a list"]
    );
    assert_eq!(faults(&read_csv(b"name\nx\n", "x")), ["1:1 the list has no column `date`"]);
    assert_eq!(faults(&read_csv(b"", "x")), ["1:1 the list is empty"]);
    assert_eq!(faults(&read_csv(b"date,name\n2027-01-01,caf\xe9\n", "x")), ["2:15 a character that is not UTF-8"]);
}

#[test]
fn faults_of_a_calendar_have_line_and_column() {
    let one = |lines: &str| faults(&read_ics(event(lines).as_bytes(), "x.ics"));
    assert_eq!(one("DTSTART;VALUE=DATE:20270230"), ["5:20 `20270230` in DTSTART is no date"]);
    assert_eq!(one("DTSTART:20270301T250000"), ["5:9 `20270301T250000` in DTSTART is no date"]);
    assert_eq!(one("LOCATION:here"), ["2:1 the event `Rehearsal` has no DTSTART"]);
    assert_eq!(
        one("DTSTART;VALUE=DATE:20270301\nDTEND;VALUE=DATE:20270201"),
        ["6:18 the event `Rehearsal` ends before it begins, or more than 800 days after"]
    );
    let wrong = one("DTSTART;VALUE=DATE:20270301\nRRULE:FREQ=OFTEN");
    assert!(wrong.len() == 1 && wrong[0].starts_with("6:7 `FREQ=OFTEN` is no recurrence"), "{wrong:?}");
    assert_eq!(
        one("DTSTART;VALUE=DATE:20270301\nSUMMARY no colon"),
        ["6:8 no colon before the value in `SUMMARY no colon`"]
    );
    let unended = "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nDTSTART:20270301T100000\r\n";
    assert_eq!(faults(&read_ics(unended.as_bytes(), "x")), ["2:1 VEVENT is not ended"]);
    assert_eq!(faults(&read_ics(b"date,name\n", "x")), ["1:1 the file is no calendar"]);
    assert_eq!(faults(&read_ics(b"", "x")), ["1:1 the file is no calendar"]);
    // What is wrong with one event leaves the others.
    let both = calendar_of(
        "BEGIN:VEVENT\nDTSTART:x\nEND:VEVENT\nBEGIN:VEVENT\nSUMMARY:B\nDTSTART:20270301T100000\nEND:VEVENT\n",
    );
    let read = read_ics(both.as_bytes(), "x");
    assert_eq!((read.events.len(), faults(&read)), (1, vec!["3:9 `x` in DTSTART is no date".to_owned()]));
}

/// The library cuts the parts of a recurrence between bytes: a character of several bytes, at any place, is refused before.
#[test]
fn odd_characters_in_a_recurrence() {
    let rule = "FREQ=MONTHLY;BYDAY=1WE,-2FR;BYMONTH=3;WKST=MO;COUNT=20";
    for odd in ["\u{202e}", "ä", "😀", "\u{301}"] {
        for at in 0..=rule.len() {
            let harmed = format!("{}{odd}{}", &rule[..at], &rule[at..]);
            let read = read_ics(event(&format!("DTSTART;VALUE=DATE:20270301\nRRULE:{harmed}")).as_bytes(), "x.ics");
            let told = faults(&read);
            assert!(told.len() == 1 && told[0].contains("with the character U+"), "{harmed}: {told:?}");
        }
    }
}

#[test]
fn findings_of_a_calendar() {
    let day = "DTSTART;VALUE=DATE:20270301\n";
    assert_eq!(
        troubles(&event("DTSTART;VALUE=DATE:20190301\nRRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30")),
        [Trouble::NeverHappens]
    );
    let outside = troubles(&event("DTSTART;VALUE=DATE:20190301"));
    assert_eq!(outside, [Trouble::OutsideSpan(date("2019-03-01")), Trouble::ListEnds(date("2019-03-01"))]);
    for (rule, part) in
        [("RSCALE=GREGORIAN;FREQ=YEARLY;SKIP=FORWARD", "RSCALE"), ("FREQ=MONTHLY;SKIP=BACKWARD", "SKIP")]
    {
        let found = troubles(&event(&format!("{day}RRULE:{rule}")));
        assert!(matches!(&found[0], Trouble::NotUnderstood(what) if what.contains(part)), "{found:?}");
    }
    assert_eq!(troubles(&event(&format!("{day}RRULE:FREQ=SECONDLY")))[0], Trouble::TooManySteps(10_000));
    assert_eq!(troubles(&event("DTSTART:20270301T193000\nRRULE:FREQ=WEEKLY")), [Trouble::WithoutZone]);
    let unknown = troubles(&event("DTSTART;TZID=Middle/Nowhere:20270301T193000\nRRULE:FREQ=WEEKLY"));
    assert_eq!(unknown, [Trouble::ZoneUnknown("Middle/Nowhere".into())]);
    let unsaid = event("DTSTART;TZID=Europe/Lisbon:20270301T193000\nRRULE:FREQ=WEEKLY");
    let agenda = agenda(read_ics(unsaid.as_bytes(), "x"), None);
    assert_eq!(agenda.findings[0].trouble, Trouble::ZoneUnsaid("Europe/Lisbon".into()));
}

#[test]
fn zones_as_calendar_programs_write_them() {
    for id in ["Europe/Berlin", "W. Europe Standard Time", "/calendar.example/2027/Europe/Berlin"] {
        let ics = event(&format!("DTSTART;TZID={id}:20270615T200000"));
        let agenda = agenda(read_ics(ics.as_bytes(), "x"), Some("Europe/Lisbon"));
        assert_eq!(agenda.occurrences[0].start, Some(jiff::civil::time(19, 0, 0, 0)), "{id}");
    }
}

#[test]
fn findings_of_rules() {
    let list = |line: &str| {
        let read = read_csv(format!("date,name\n{line}\n").as_bytes(), "x.csv");
        agenda(read, None).findings.into_iter().map(|finding| finding.trouble).collect::<Vec<_>>()
    };
    assert_eq!(list("5th monday of february,x"), [Trouble::NeverHappens]);
    assert_eq!(list("02-29,x"), [Trouble::LeapUnsaid]);
    assert_eq!(list("2025-03-01,x"), [Trouble::OutsideSpan(date("2025-03-01")), Trouble::ListEnds(date("2025-03-01"))]);
    assert_eq!(list("2026-09-01,x"), [Trouble::ListEnds(date("2026-09-01"))]);
    assert_eq!(list("2027-06-01,x"), [Trouble::ListBegins(date("2027-06-01"))]);
    assert_eq!(list("2026-09-01,x\n2027-06-01,y"), []);
    assert_eq!(list("03-14,x"), []);
}

/// Hostile calendars end soon and do not bring the program down.
#[test]
fn hostile_calendars() {
    let start = Instant::now();
    let deep = "BEGIN:VEVENT\r\n".repeat(200_000) + &"END:VEVENT\r\n".repeat(200_000);
    assert_eq!(read_ics(deep.as_bytes(), "x").events.len(), 0);
    let wide = format!("BEGIN:VCALENDAR\r\n{}", "X".repeat(5_000_000));
    assert_eq!(read_ics(wide.as_bytes(), "x").faults.len(), 1);
    let all = |count: usize| (0..count).map(|n| n.to_string()).collect::<Vec<_>>().join(",");
    for rule in [
        format!("FREQ=YEARLY;BYDAY=MO,TU,WE,TH,FR,SA,SU;BYHOUR={};BYMINUTE={};BYSECOND={}", all(24), all(60), all(60)),
        format!("FREQ=YEARLY;BYDAY=MO,TU;BYHOUR={};BYMINUTE=0,15,30,45;BYSETPOS=-1", all(24)),
        "FREQ=SECONDLY;BYMONTH=2;BYMONTHDAY=30".into(),
        "FREQ=MINUTELY;INTERVAL=65535;BYMONTH=1;BYMONTHDAY=1;BYHOUR=3;BYMINUTE=7".into(),
        "FREQ=SECONDLY;COUNT=4000000000".into(),
        "FREQ=DAILY;COUNT=0".into(),
        "FREQ=DAILY;INTERVAL=0".into(),
        "FREQ=YEARLY;INTERVAL=65535".into(),
        "FREQ=MONTHLY;BYMONTHDAY=31;BYMONTH=2,4,6".into(),
        "FREQ=YEARLY;BYWEEKNO=53;BYDAY=MO;UNTIL=15830101".into(),
        "FREQ=DAILY;FREQ=DAILY".into(),
        "UNTIL=20270101".into(),
        ";;;".into(),
    ] {
        for first in ["DTSTART:15830101T000000Z", "DTSTART;VALUE=DATE:20270101", "DTSTART:24001231T235959"] {
            let ics = event(&format!("{first}\nRRULE:{rule}"));
            let read = read_ics(ics.as_bytes(), "x");
            let source = Source { events: read.events, ..Source::default() };
            let agenda = Agenda::new(&span("2026-08", 24), &[source]);
            assert!(agenda.occurrences.len() <= 10_000, "{rule}");
        }
    }
    assert!(start.elapsed() < Duration::from_secs(120), "{:?}", start.elapsed());
}
