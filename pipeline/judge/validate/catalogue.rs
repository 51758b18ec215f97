//! The catalogue: every check that there is, in one table, sorted by name.
//!
//! The rows stand in a file a family, and are put together and sorted while the program is compiled; a name that is there
//! twice ends the compilation. A finding can only be made of a check that stands here: [`named`] runs while compiling as
//! well. The explanations on the command line, the table in the handbook and the rules of the reports are all drawn from
//! this table.

mod archive;
mod dates;
mod file;
mod fonts;
mod images;
mod licences;
mod links;
mod listing;
mod lists;
mod look;
mod names;
mod pages;
mod stickers;

use base::model::finding::{Family, Severity};
use base::model::{Check, Finding, Where};

/// The rows of every family.
const FAMILIES: &[&[Check]] = &[
    links::ROWS,
    pages::ROWS,
    file::ROWS,
    fonts::ROWS,
    images::ROWS,
    stickers::ROWS,
    names::ROWS,
    archive::ROWS,
    listing::ROWS,
    lists::ROWS,
    licences::ROWS,
    look::ROWS,
    dates::ROWS,
];

/// Every check, sorted by name.
pub static CATALOGUE: &[Check] = &sorted::<{ count() }>();

const fn count() -> usize {
    let (mut rows, mut family) = (0, 0);
    while family < FAMILIES.len() {
        rows += FAMILIES[family].len();
        family += 1;
    }
    rows
}

/// All rows, each put in its place among those before it.
const fn sorted<const N: usize>() -> [Check; N] {
    let mut table = [FAMILIES[0][0]; N];
    let (mut rows, mut family) = (0, 0);
    while family < FAMILIES.len() {
        let mut i = 0;
        while i < FAMILIES[family].len() {
            let row = FAMILIES[family][i];
            let mut at = rows;
            while at > 0 && before(row.name.as_bytes(), table[at - 1].name.as_bytes()) {
                table[at] = table[at - 1];
                at -= 1;
            }
            table[at] = row;
            rows += 1;
            i += 1;
        }
        family += 1;
    }
    table
}

/// Whether `a` stands before `b`. Equal names are refused.
const fn before(a: &[u8], b: &[u8]) -> bool {
    let mut i = 0;
    while i < a.len() && i < b.len() {
        if a[i] != b[i] {
            return a[i] < b[i];
        }
        i += 1;
    }
    assert!(a.len() != b.len(), "two checks have the same name");
    a.len() < b.len()
}

/// A row of the table.
const fn row(
    name: &'static str,
    (severity, elsewhere): (Severity, Severity),
    family: Family,
    looks_for: &'static str,
    why: &'static str,
    mend: &'static str,
) -> Check {
    Check { name, severity, elsewhere, family, looks_for, why, mend }
}

/// The check of this name; meant for constants, where a wrong name does not compile.
pub const fn named(name: &str) -> &'static Check {
    let mut i = 0;
    while i < CATALOGUE.len() {
        if same(CATALOGUE[i].name.as_bytes(), name.as_bytes()) {
            return &CATALOGUE[i];
        }
        i += 1;
    }
    panic!("no check of this name stands in the catalogue")
}

const fn same(a: &[u8], b: &[u8]) -> bool {
    if a.len() != b.len() {
        return false;
    }
    let mut i = 0;
    while i < a.len() {
        if a[i] != b[i] {
            return false;
        }
        i += 1;
    }
    true
}

/// The check of this name, if there is one.
pub fn find(name: &str) -> Option<&'static Check> {
    CATALOGUE.binary_search_by(|check| check.name.cmp(name)).ok().map(|i| &CATALOGUE[i])
}

/// Where findings are gathered.
#[derive(Debug, Default)]
pub struct Findings {
    /// What was found so far.
    pub list: Vec<Finding>,
    /// Whether the file at hand was planned here; decides which of a check's two severities counts.
    pub planned: bool,
}

impl Findings {
    /// Adds a finding of `check`.
    pub fn add(&mut self, check: &'static Check, place: Where, message: String) {
        let mut finding = Finding::of(check, place, message);
        if !self.planned {
            finding.severity = check.elsewhere;
        }
        self.list.push(finding);
    }
}

/// Adds a finding: `found!(findings, "link-to-nowhere", place, "the link …")`. The name is looked up while compiling.
macro_rules! found {
    ($findings:expr, $name:literal, $place:expr, $($message:tt)+) => {{
        const CHECK: &::base::model::Check = $crate::validate::catalogue::named($name);
        $findings.add(CHECK, $place, format!($($message)+));
    }};
}
pub(crate) use found;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sorted_and_complete() {
        assert!(CATALOGUE.is_sorted_by(|a, b| a.name < b.name), "sort the table by name, each name once");
        for check in CATALOGUE {
            let name = check.name;
            assert!(name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'), "{name}");
            for sentence in [check.looks_for, check.why, check.mend] {
                assert!(sentence.ends_with('.') && sentence.len() > 12, "{name}: {sentence}");
                assert!(sentence.starts_with(|c: char| c.is_uppercase()), "{name}: {sentence}");
            }
            assert!(check.elsewhere >= check.severity, "{name} may not be worse in a file made elsewhere");
            assert_eq!(find(name).map(|c| c.name), Some(name));
        }
    }
}
