//! Names and numerals: large enough to be read, clear of lines and of each other, and told apart where they are short.

use super::super::TABLE;
use super::{FONTS, all_papers, composed, context, drawn, is_phone, level_strokes, reach, runs};
use base::model::drawing::{Shape, TextRun};
use base::model::look::Rules;
use base::model::words::Words;
use base::model::words::templates::LANGUAGES;
use base::model::{Drawing, Mm};
use draw::ruling::find;
use std::collections::BTreeSet;

/// How wide a line of text is.
fn width(run: &TextRun) -> f64 {
    FONTS.width(run.role, &run.text, run.size, run.tracking)
}

/// Pages that write more where more is asked for.
const SAYING_MORE: [(&str, &str); 5] = [
    ("year", "layout = 'days'"),
    ("checklist", "title = 'A list'"),
    ("two-column-list", "labels = ['One', 'Two']"),
    ("chart", "labels = ['One', 'Two', 'Three']"),
    ("day", "clock = 12"),
];

/// Pages of parts have type of their own.
#[test]
fn type_has_a_floor() {
    let plain = TABLE.iter().map(|entry| (entry.name, "")).filter(|(name, _)| !composed(name));
    for (name, with) in plain.chain(SAYING_MORE) {
        for (size, papers) in all_papers() {
            let least = if is_phone(size) { 6.5 } else { 7.0 };
            for run in runs(&drawn(name, with, papers)) {
                assert!(run.size >= least - 1e-9, "{name} on {size:?} mm: {:?} in {:.2} pt", run.text, run.size);
            }
        }
    }
}

/// What a field is for is said on every page, whole.
#[test]
fn labels_are_whole() {
    let pages: [(&str, &[&str]); 7] = [
        ("titled", &["Title", "Date"]),
        ("cue-notes", &["Topic", "Date", "Cues", "Notes", "Summary"]),
        ("day", &["Date"]),
        ("week", &["Week", "Focus", "Wednesday", "Notes"]),
        ("open-week", &["Week", "Focus", "Notes"]),
        ("month", &["Month", "Focus"]),
        ("mood-year", &["Bright", "Good", "Even", "Low", "Hard"]),
    ];
    for (name, said) in pages {
        for (size, papers) in all_papers() {
            let d = drawn(name, "", papers);
            for word in said {
                assert!(runs(&d).iter().any(|run| run.text == *word), "{name} on {size:?} mm lacks {word}");
            }
            assert!(d.cuts.is_empty(), "{name} on {size:?} mm: {:?}", d.cuts);
        }
    }
}

/// The same in every language whose letters the test's fonts have: a field or a column is as wide as its label needs.
#[test]
fn labels_are_whole_in_every_language() {
    for language in LANGUAGES.into_iter().filter(|l| !["ar", "he", "ja"].contains(l)) {
        let w = Words::of(language);
        let notes = ("notes", &w.notes);
        let pages = [
            ("titled", vec![("title", &w.heading), ("date", &w.date)]),
            (
                "cue-notes",
                vec![("topic", &w.topic), ("date", &w.date), ("cues", &w.cues), notes, ("summary", &w.summary)],
            ),
            ("week", vec![("week", &w.week), ("focus", &w.focus), notes]),
            ("open-week", vec![("week", &w.week), ("focus", &w.focus), notes]),
            ("month", vec![("month", &w.month), ("focus", &w.focus), notes]),
        ];
        for (name, labels) in pages {
            let with: Vec<String> = labels.iter().map(|(key, word)| format!("{key} = {word:?}")).collect();
            // Two papers of a phone side by side are no page that people buy.
            for (size, papers) in all_papers().into_iter().filter(|(size, all)| !is_phone(*size) || all.len() == 1) {
                let d = drawn(name, &with.join("\n"), papers);
                assert!(d.cuts.is_empty(), "{name} in {language} on {size:?} mm: {:?}", d.cuts);
            }
        }
    }
}

/// The numeral of an hour stands at the top of its slot, with air to the line above, whatever a look does to rules.
#[test]
fn numerals_of_hours_stand_clear_of_the_line_above() {
    for (size, papers) in all_papers() {
        for with in ["", "from = 8\nto = 20", "from = 0\nto = 23\nclock = 12"] {
            let d = drawn("day", with, papers.clone());
            let lines = level_strokes(&d);
            let hours = |run: &&TextRun| run.text.starts_with(|c: char| c.is_ascii_digit());
            for run in runs(&d).into_iter().filter(hours) {
                let top = reach(&Shape::Text(run.clone())).0[0].y;
                // Dots of a dotted rule are nearly as wide as a strong line.
                let above = |([from, to, y], _): &&([f64; 3], _)| {
                    *from < run.at.x + width(run) && *to > run.at.x && *y - 1e-6 <= run.at.y
                };
                let line = lines.iter().filter(above).map(|(line, _)| line[2]).fold(f64::MIN, f64::max);
                let air = (top - line - 0.5) / Mm(1.0).pt();
                assert!(air >= 0.6, "{} on {size:?} mm, {with:?}: {air:.2} mm", run.text);
            }
        }
    }
}

/// Lines of half hours are broken, lighter and thinner than those of the hours, and stay so in every manner of rules.
#[test]
fn half_hours_are_the_fainter_ones() {
    let papers = vec![base::model::Rect::new(40.0, 50.0, Mm(167.0).pt(), Mm(261.0).pt())];
    let on = context(papers.clone(), None);
    let halves = |d: &Drawing| {
        let all = level_strokes(d);
        all.into_iter().filter(|(_, stroke)| stroke.dash.is_some()).collect::<Vec<_>>()
    };
    let plain = drawn("day", "", papers);
    assert_eq!(halves(&plain).len(), 17);
    assert!(halves(&plain).iter().all(|(_, stroke)| stroke.width < on.pen.weight && stroke.colour != on.pen.rule));
    for manner in [Rules::Dotted, Rules::Dashed, Rules::Paired] {
        let mut d = find(TABLE, "day").unwrap().draw(&toml::Table::new(), &on).unwrap();
        draw::rules::redraw(&mut d, manner, &on.pen);
        assert_eq!(halves(&d), halves(&plain), "{manner:?}");
    }
}

/// The names of the days over a month keep apart, and are shortened together.
#[test]
fn days_over_a_month_keep_apart() {
    let days = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];
    for (size, papers) in all_papers() {
        let d = drawn("month", "", papers);
        let all = runs(&d);
        let names: Vec<&TextRun> =
            all.into_iter().filter(|run| days.iter().any(|d| d.starts_with(&run.text))).collect();
        assert_eq!(names.len(), 7, "{size:?}: {names:?}");
        for pair in names.windows(2) {
            let gap = (pair[1].at.x - pair[0].at.x - width(pair[0])) / Mm(1.0).pt();
            assert!(gap >= 2.0 - 1e-6, "{size:?}: {gap:.2} mm between {:?} and {:?}", pair[0].text, pair[1].text);
        }
        let whole = names.iter().filter(|run| days.contains(&run.text.as_str())).count();
        assert!(whole == 7 || whole == 0, "{size:?}: {whole} whole");
        assert!(names.iter().all(|run| (run.size - names[0].size).abs() < 1e-9), "{size:?}");
    }
}

/// Months that are shortened are told apart, or all of them are initials in the order of the year.
#[test]
fn months_are_told_apart_or_initials() {
    let english = super::super::params::named(&base::model::calendar::MONTHS);
    let french = "janvier février mars avril mai juin juillet août septembre octobre novembre décembre";
    let french: Vec<String> = french.split(' ').map(str::to_owned).collect();
    for months in [&english, &french] {
        let list = format!("{months:?}");
        for (name, with) in [
            ("mood-year", format!("key = ['+', '-']\nmonths = {list}")),
            ("year", format!("layout = 'days'\nlabels = {list}")),
        ] {
            for (size, papers) in all_papers() {
                let d = drawn(name, &with, papers);
                let said: Vec<String> = runs(&d).into_iter().map(|run| run.text.clone()).collect();
                let said: Vec<String> =
                    said.into_iter().filter(|text| months.iter().any(|month| month.starts_with(text))).collect();
                let initials: Vec<String> = months.iter().map(|month| month.chars().take(1).collect()).collect();
                let apart = said.iter().collect::<BTreeSet<_>>().len() == 12;
                assert!(said.len() == 12 && (apart || said == initials), "{name} on {size:?} mm: {said:?}");
            }
        }
    }
}
