//! There and back, and what is told on the way.
#![allow(clippy::unwrap_used)]

use super::*;
use proptest::prelude::*;

const CHOIR: &str = r#"# A choir's year.
name = "Choir Season 2026/27" # what buyers see
slug = 'choir-2026-27'
version = "3.0.0"
released = 2026-05-02
issued = true # out since May
language = "en-GB"

[calendar]
first = "2026-08" # the season
months = 12
first-day = "monday"

[[calendar.list]]
name = "Rehearsals"
file = "dates/rehearsals.csv"

[[calendar.event]]
name = "Founded"
on = "03-14"

[[calendar.event]]
name = "Concert"
on = "2027-03-14"

[listing]
title = "Choir Planner 2026/27"
tags = ["choir planner 2026", "choir since 1998", "singing"]
text = "From August 2026 to July 2027."
"#;

fn files(all: &[(&str, &str)]) -> BTreeMap<String, Vec<u8>> {
    all.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec())).collect()
}

fn choir() -> BTreeMap<String, Vec<u8>> {
    files(&[
        (
            "art/cover-2026.svg",
            "<svg width=\"2026\">\n<text>Season 2026/27</text>\n<rect id=\"link:day/2027-03-14\"/></svg>",
        ),
        ("dates/rehearsals.csv", "date,name\n2026-09-01,First rehearsal\n2027-06-29,Last rehearsal\n"),
        ("words/welcome.md", "Welcome to 2027.\nFounded in 1998.\n"),
    ])
}

fn told(redated: &Redated) -> String {
    let edits = redated.edits.iter().map(|e| match &e.after {
        Some(after) => format!("edit {}: {} {} -> {after}", e.line, e.key, e.before),
        None => format!("edit {}: {} taken out: {}", e.line, e.key, e.before),
    });
    let eye = redated.eye.iter().map(|e| {
        let line = e.line.map_or(String::new(), |line| format!(":{line}"));
        format!("eye {}{line}: {}; {}", e.file, e.what, e.help)
    });
    let calendar = redated.calendar.iter().map(|line| format!("calendar: {line}"));
    edits.chain(eye).chain(calendar).collect::<Vec<_>>().join("\n")
}

#[test]
fn all_is_told() {
    let redated = redate(CHOIR, "2027-08", &choir()).unwrap();
    insta::assert_snapshot!("told", told(&redated));
    insta::assert_snapshot!("manifest", redated.manifest);
}

#[test]
fn faults_say_where_and_how() {
    let of = |manifest: &str, to: &str| {
        let faults = redate(manifest, to, &BTreeMap::new()).unwrap_err();
        faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    };
    let cases = [
        of("name = \"Beds\"\n", "2028-01"),
        of("name = Beds\n", "2028-01"),
        of("[calendar]\nmonths = 12\n", "2028-01"),
        of("[calendar]\nfirst = 2027\n", "2028-01"),
        of("[calendar]\nfirst = \"2027-13\"\n", "2028-01"),
        of("[calendar]\nfirst = \"2027-01\"\nmonths = 25\n", "2028-01"),
        of("[calendar]\nfirst = \"2027-01\"\n", "2028"),
        of("[calendar]\nfirst = \"2027-01\"\n", "2027-01"),
    ];
    insta::assert_snapshot!("faults", cases.join("\n\n"));
}

#[test]
fn a_version_that_is_not_issued_comes_back_whole() {
    let first = CHOIR.replace("issued = true # out since May\n", "");
    let there = redate(&first, "2027-08", &choir()).unwrap();
    assert_ne!(there.manifest, first);
    assert_eq!(redate(&there.manifest, "2026-08", &choir()).unwrap().manifest, first);
}

/// A manifest with texts at random around what is edited: other keys, comments, quotes, ends of lines.
fn manifest() -> impl Strategy<Value = (String, Month, i64)> {
    let words = "[ -~&&[^\"'\\\\0-9#]]{0,12}";
    let quote = prop_oneof![Just('"'), Just('\'')];
    (1990_i16..2090, 1_i8..=12, 1_i64..=24, words, words, quote, 1_u64..50, any::<[bool; 5]>()).prop_map(
        |(year, month, months, a, b, q, main, [in_name, in_slug, crlf, far, dotted])| {
            let first = Month::new(year, month).unwrap();
            let name = if in_name { format!("{a}{year}{b}") } else { format!("{a}{b}") };
            let slug = if in_slug { format!("beds-{year}") } else { "beds".to_owned() };
            let tag = if far { "since 1894" } else { "beds" };
            let calendar = if dotted {
                format!("calendar.first = {q}{first}{q} # {b}\ncalendar.months = {months}\n")
            } else {
                String::new()
            };
            let table = if dotted {
                String::new()
            } else {
                format!("\n[calendar] # {a}\n  first={q}{first}{q}\nmonths = {months} # {year}\n")
            };
            let text = format!(
                "# {a} {year}\nname = {q}{name}{q}\nslug   = {q}{slug}{q}# {b}\nversion = \"{main}.0.0\"\n{calendar}{table}\n\
                 [listing]\ntags = [\n  \"{tag}\", # {year}\n]\n"
            );
            (if crlf { text.replace('\n', "\r\n") } else { text }, first, months)
        },
    )
}

proptest! {
    #[test]
    fn there_and_back_is_where_one_was((first, month, _) in manifest(), step in 1_i32..=60) {
        let to = month.plus(step);
        let there = redate(&first, &to.to_string(), &BTreeMap::new()).unwrap();
        let back = redate(&there.manifest, &month.to_string(), &BTreeMap::new()).unwrap();
        prop_assert_eq!(back.manifest, first);
    }

    #[test]
    fn what_is_edited_is_listed((first, month, _) in manifest(), step in 1_i32..=60) {
        let there = redate(&first, &month.plus(step).to_string(), &BTreeMap::new()).unwrap();
        let mut again = first;
        for edit in there.edits.iter().rev() {
            let after = edit.after.clone().unwrap_or_default();
            let begin: usize = again.split_inclusive('\n').take(edit.line - 1).map(str::len).sum();
            let at = begin + again[begin..].find(&edit.before).unwrap();
            again.replace_range(at..at + edit.before.len(), &after);
        }
        prop_assert_eq!(again, there.manifest);
    }
}
