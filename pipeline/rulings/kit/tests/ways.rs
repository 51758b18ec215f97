//! What gives way on small pages, and that nothing with a name is lost by it.

use super::super::super::TABLE;
use super::super::super::tests::{NARROW_PHONE, composed, level_lines};
use super::{SMALL, area, drawn, texts};
use base::model::Mm;
use base::model::words::templates::LANGUAGES;

/// Everything with a name that stands on a large page stands on a small one: days, meals, months, columns, boxes, sections. What
/// is short of room is set more densely, or its name is cut.
#[test]
fn nothing_with_a_name_is_left_out() {
    for entry in TABLE.iter().filter(|e| e.name != "parts" && composed(e.name)) {
        let large = texts(&drawn(entry.name, "", vec![area(180.0, 260.0)]));
        for (w, h) in SMALL {
            let d = drawn(entry.name, "", vec![area(w, h)]);
            assert!(d.cuts.is_empty(), "{} on {w} x {h} mm: {:?}", entry.name, d.cuts);
            let said: Vec<String> = texts(&d).into_iter().map(|(text, _)| text).collect();
            // What stands on two lines, and sentences that are broken elsewhere.
            let joined = format!(" {} ", said.join(" "));
            for (name, _) in &large {
                let stands = joined.contains(&format!(" {name} ")) || said.iter().any(|text| name.starts_with(text));
                assert!(stands, "{} on {w} x {h} mm lacks {name}: {said:?}", entry.name);
            }
        }
    }
}

/// The lowest page that a phone has, in mm.
const LOW_PHONE: (f64, f64) = (50.0, 90.0);

/// Days stand in one form on a page: whole wherever they stand, or cut alike, however long the words beside them are.
#[test]
fn names_that_tables_share_are_shown_alike() {
    let mut cut = 0;
    for language in ["en", "es", "fr", "pl"] {
        for entry in TABLE.iter().filter(|e| e.name != "parts" && composed(e.name)) {
            for (w, h) in SMALL.into_iter().chain([LOW_PHONE]) {
                let d = drawn(entry.name, &format!("language = '{language}'"), vec![area(w, h)]);
                let said: Vec<String> = texts(&d).into_iter().map(|(text, _)| text).collect();
                let has = |text: &str| said.iter().any(|said| said == text);
                for (whole, short) in [("Tuesday", "Tue"), ("Wednesday", "Wed"), ("Saturday", "Sat")] {
                    let both = has(whole) && has(short);
                    assert!(!both, "{} in {language} on {w} x {h} mm: {said:?}", entry.name);
                    cut += usize::from(has(short));
                }
            }
        }
    }
    assert!(cut > 0);
}

/// The days of a week stand on every small page that has them, however long their names and the words beside them are.
#[test]
fn no_long_day_is_lost_on_a_phone() {
    let weeks = [
        ("es", "lunes martes miércoles jueves viernes sábado domingo"),
        ("de", "Montag Dienstag Mittwoch Donnerstag Freitag Samstag Sonntag"),
        ("pl", "poniedziałek wtorek środa czwartek piątek sobota niedziela"),
        ("pt", "segunda-feira terça-feira quarta-feira quinta-feira sexta-feira sábado domingo"),
        ("sv", "maanantai tiistai keskiviikko torstai perjantai lauantai sunnuntai"),
    ];
    for (language, days) in weeks {
        let days: Vec<&str> = days.split(' ').collect();
        for name in ["sleep-and-water", "meal-plan", "cleaning-rota"] {
            for (w, h) in SMALL.into_iter().chain([LOW_PHONE]) {
                let d = drawn(name, &format!("language = '{language}'\ndays = {days:?}"), vec![area(w, h)]);
                assert!(d.cuts.is_empty(), "{name} in {language} on {w} x {h} mm: {:?}", d.cuts);
                let said = texts(&d);
                for day in &days {
                    let stands = said.iter().any(|(text, _)| !text.is_empty() && day.starts_with(text.as_str()));
                    assert!(stands, "{name} in {language} on {w} x {h} mm lacks {day}: {said:?}");
                }
            }
        }
    }
}

/// Where two tables with the same days have no height, the columns of both stand beside each other, all of them.
#[test]
fn tables_of_the_same_days_become_one_on_a_low_page() {
    let said = |h: f64| texts(&drawn("sleep-and-water", "", vec![area(LOW_PHONE.0, h)]));
    let days = |said: &[(String, f64)]| said.iter().filter(|(text, _)| text == "Tue" || text == "Tuesday").count();
    let (high, low) = (said(NARROW_PHONE.1), said(LOW_PHONE.1));
    assert_eq!([days(&high), days(&low)], [2, 1]);
    let words = |said: &[(String, f64)]| -> usize {
        let own = ["Week", "bed", "Up", "asleep", "water", "Notes"];
        own.iter().filter(|word| said.iter().any(|(text, _)| text.contains(**word))).count()
    };
    assert_eq!([words(&high), words(&low)], [6, 6], "{low:?}");
}

/// The same in every language whose letters the test's fonts have: whatever is long there, nothing goes.
#[test]
fn nothing_is_left_out_in_any_language() {
    for language in LANGUAGES.into_iter().filter(|l| !["ar", "he", "ja"].contains(l)) {
        for entry in TABLE.iter().filter(|e| e.name != "parts" && composed(e.name)) {
            for (w, h) in SMALL.into_iter().chain([LOW_PHONE]) {
                let d = drawn(entry.name, &format!("language = '{language}'"), vec![area(w, h)]);
                let gone: Vec<&str> = d.cuts.iter().filter(|c| c.shown.is_empty()).map(|c| c.whole.as_str()).collect();
                assert!(gone.is_empty(), "{} in {language} on {w} x {h} mm: {gone:?}", entry.name);
            }
        }
    }
}

/// A distance of lines that is asked for is kept, however little there is room for.
#[test]
fn a_distance_that_is_asked_for_does_not_give_way() {
    for (w, h) in SMALL {
        let lines = level_lines(&drawn("birthdays", "pitch = 9", vec![area(w, h)]));
        let mut at: Vec<f64> = lines.iter().map(|l| l[2]).collect();
        at.sort_by(f64::total_cmp);
        let gaps = at.windows(2).map(|pair| pair[1] - pair[0]).filter(|gap| *gap > 1e-6);
        assert!(gaps.fold(f64::MAX, f64::min) >= Mm(9.0).pt() - 1e-6, "on {w} x {h} mm");
    }
}
