//! Launch plans: what is to be done by when, what of it is done, what is late.
//!
//! The day that counts as today is told to this room, and nothing of it reaches a bundle.

mod ics;

pub use ics::calendar;

use base::model::launch::{Launch, Sign};
use base::model::product::Date;
use jiff::ToSpan;
use jiff::civil;
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt::Write;

/// The name of the launch itself among its steps.
pub const LAUNCH: &str = "launch";

/// What lies there of a version.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Seen {
    /// Whether it is built.
    pub built: bool,
    /// A file that is otherwise since then, if one is.
    pub changed: Option<String>,
    /// Errors and warnings of the build.
    pub findings: (usize, usize),
    /// Listing pictures of the bundle.
    pub pictures: usize,
    /// The day on which it was released, where it is sealed.
    pub issued: Option<String>,
    /// Whether buyers have an earlier version.
    pub followed: bool,
    /// Steps that the designer has ticked off, each with the day.
    pub ticked: BTreeMap<String, String>,
}

/// How a step stands today.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "is", content = "days")]
pub enum Standing {
    /// It is done.
    Done,
    /// Its day was so many days ago.
    Late(i32),
    /// Its day is today.
    Today,
    /// Its day is in so many days.
    Ahead(i32),
}

/// A step of a plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Row {
    /// Its name; `launch` for the launch itself.
    pub name: String,
    /// What is to be done.
    pub title: String,
    /// Its day, as YYYY-MM-DD.
    pub day: String,
    /// How it stands.
    pub standing: Standing,
    /// What shows that it is done, or why it does not count as done; empty where only the designer knows.
    pub because: String,
}

/// The plan of a launch.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Plan {
    /// The product's slug.
    pub product: String,
    /// Its name.
    pub name: String,
    /// Who sells it.
    pub shop: String,
    /// The version that is launched.
    pub version: String,
    /// The day of the launch, as YYYY-MM-DD.
    pub on: String,
    /// The steps by day, the launch among them.
    pub steps: Vec<Row>,
    /// What in the manifest does not go with the day.
    pub remarks: Vec<String>,
}

impl Plan {
    /// How many steps are done.
    pub fn done(&self) -> usize {
        self.steps.iter().filter(|row| row.standing == Standing::Done).count()
    }

    /// How many are late.
    pub fn late(&self) -> usize {
        self.steps.iter().filter(|row| matches!(row.standing, Standing::Late(_))).count()
    }
}

/// The steps of a launch with their days, by day.
pub fn steps(launch: &Launch, seen: &Seen, today: Date) -> Vec<Row> {
    let (on, today) = (civil(launch.on), civil(today));
    let mut rows: Vec<(civil::Date, Row)> = Vec::new();
    let mut row = |name: &str, title: &str, days_before: i16, (done, because): (bool, String)| {
        let day = on.saturating_sub(i32::from(days_before).days());
        let left = (day - today).get_days();
        let standing = match left {
            _ if done => Standing::Done,
            0 => Standing::Today,
            left if left < 0 => Standing::Late(-left),
            left => Standing::Ahead(left),
        };
        let (name, title) = (name.to_owned(), title.to_owned());
        rows.push((day, Row { name, title, day: day.to_string(), standing, because }));
    };
    for step in launch.steps.iter().filter(|step| seen.followed || !step.for_past_buyers) {
        let how = match (seen.ticked.get(&step.name), step.shown_by) {
            (Some(day), _) => (true, format!("ticked off on {day}")),
            (None, Some(sign)) => shown(sign, seen),
            (None, None) => (false, String::new()),
        };
        row(&step.name, &step.title, step.days_before, how);
    }
    let (issued, because) = shown(Sign::Issued, seen);
    row(LAUNCH, "Launch", 0, (issued && today >= on, because));
    // The launch itself comes before what else is done on its day.
    rows.sort_by_key(|(day, row)| (*day, row.name != LAUNCH));
    rows.into_iter().map(|(_, row)| row).collect()
}

/// Whether a bundle shows something, and what.
fn shown(sign: Sign, seen: &Seen) -> (bool, String) {
    if let Some(day) = &seen.issued {
        let issued = format!("sealed, released on {day}");
        match sign {
            Sign::Issued | Sign::Built => return (true, issued),
            Sign::Clean | Sign::Pictures if !seen.built => return (true, issued),
            Sign::Clean | Sign::Pictures => {}
        }
    } else if sign == Sign::Issued {
        return (false, "not sealed yet".to_owned());
    }
    if !seen.built {
        return (false, "not built yet".to_owned());
    }
    if let (Some(file), None) = (&seen.changed, &seen.issued) {
        return (false, format!("built, but {file} is otherwise since"));
    }
    match (sign, seen.findings) {
        (Sign::Built | Sign::Issued, _) => (true, "built".to_owned()),
        (Sign::Clean, (0, 0)) => (true, "no errors, no warnings".to_owned()),
        (Sign::Clean, (errors, warnings)) => {
            let told = [(errors, "error"), (warnings, "warning")];
            let told = told.into_iter().filter(|(n, _)| *n > 0).map(|(n, word)| counted(n, word));
            (false, told.collect::<Vec<_>>().join(", "))
        }
        (Sign::Pictures, _) if seen.pictures == 0 => (false, "the bundle has none".to_owned()),
        (Sign::Pictures, _) => (true, counted(seen.pictures, "picture")),
    }
}

fn counted(n: usize, word: &str) -> String {
    format!("{n} {word}{}", if n == 1 { "" } else { "s" })
}

/// A date in the library's own type. What is no day of the calendar is read by nobody: manifest and command line refuse it.
fn civil(date: Date) -> civil::Date {
    let read = |part: u8| i8::try_from(part).unwrap_or(1);
    let year = i16::try_from(date.year).unwrap_or(civil::Date::MAX.year());
    civil::Date::new(year, read(date.month), read(date.day)).unwrap_or(civil::Date::MAX)
}

/// The plans as Markdown: a list with boxes to tick for each.
pub fn markdown(plans: &[Plan], today: Date) -> String {
    let mut out = String::new();
    for plan in plans {
        if !out.is_empty() {
            out.push('\n');
        }
        // Writing to a text does not fail.
        let _ = writeln!(out, "# {} {}: launch on {}\n", plain(&plan.name), plan.version, plan.on);
        let late = if plan.late() > 0 { format!(", {} late", plan.late()) } else { String::new() };
        let _ = writeln!(out, "As of {today}: {} of {} done{late}.\n", plan.done(), plan.steps.len());
        for row in &plan.steps {
            let (tick, standing) = match row.standing {
                Standing::Done => ('x', String::new()),
                Standing::Late(days) => (' ', format!(" **late by {}**", counted(days.unsigned_abs() as usize, "day"))),
                Standing::Today => (' ', " **today**".to_owned()),
                Standing::Ahead(days) => (' ', format!(" in {}", counted(days.unsigned_abs() as usize, "day"))),
            };
            let because = if row.because.is_empty() { String::new() } else { format!(" ({})", plain(&row.because)) };
            let _ = writeln!(out, "- [{tick}] {} {}{standing}{because}", row.day, plain(&row.title));
        }
        for remark in &plan.remarks {
            let _ = writeln!(out, "\n{}", plain(remark));
        }
    }
    out
}

/// A text in which Markdown (CommonMark 0.31, 2.4) finds no mark.
fn plain(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        if "\\`*_[]<>#&~|".contains(c) {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use base::model::launch::usual;

    fn rows(seen: &Seen, today: Date) -> Vec<(String, Standing)> {
        let launch = Launch { on: Date { year: 2028, month: 3, day: 1 }, steps: usual() };
        steps(&launch, seen, today).into_iter().map(|row| (row.day + " " + &row.name, row.standing)).collect()
    }

    /// 2028 is a leap year (Gregorian calendar): the day before 1 March is 29 February.
    #[test]
    fn days_are_counted_over_a_leap_day() {
        let today = Date { year: 2028, month: 2, day: 29 };
        let rows = rows(&Seen::default(), today);
        let of = |name: &str| rows.iter().find(|(row, _)| row.ends_with(name)).cloned();
        assert_eq!(of(" upload"), Some(("2028-02-27 upload".to_owned(), Standing::Late(2))));
        assert_eq!(of(" launch"), Some(("2028-03-01 launch".to_owned(), Standing::Ahead(1))));
        assert_eq!(of(" art"), Some(("2028-02-02 art".to_owned(), Standing::Late(27))));
        assert_eq!(of(" past-buyers"), None);
    }

    #[test]
    fn a_bundle_that_is_behind_its_files_shows_nothing() {
        let today = Date { year: 2028, month: 1, day: 1 };
        let done = |seen: &Seen| {
            let rows = rows(seen, today);
            rows.into_iter()
                .filter(|(_, s)| *s == Standing::Done)
                .map(|(row, _)| row[11..].to_owned())
                .collect::<Vec<_>>()
        };
        let built = Seen { built: true, pictures: 3, ..Seen::default() };
        assert_eq!(done(&built), ["art", "checks", "pictures"]);
        assert_eq!(done(&Seen { findings: (0, 2), ..built.clone() }), ["art", "pictures"]);
        assert!(done(&Seen { changed: Some("product.toml".into()), ..built.clone() }).is_empty());
        let sealed = Seen { issued: Some("2027-12-30".into()), ..built };
        assert_eq!(done(&sealed), ["art", "checks", "proof", "pictures", "tablet", "upload"]);
    }
}
