//! Whether licence terms changed. What follows from the version, its date or the program that wrote the text binds nobody
//! otherwise than before, and is no change of terms.

use super::facts::Record;
use super::tree::TreeFile;

/// Months as the terms write them.
const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// Whether two texts state the same terms.
///
/// With the same program behind both, they do when they differ in nothing but version, date of release, years of the
/// copyright and how lines are broken. A newer program may word the same terms otherwise: then the choices decide that the
/// records keep.
pub fn same(old: &TreeFile, new: &TreeFile, was: &Record, is: &Record) -> bool {
    let (Some(a), Some(b)) = (&old.bytes, &new.bytes) else { return false };
    let (Ok(a), Ok(b)) = (std::str::from_utf8(a), std::str::from_utf8(b)) else { return false };
    if plain(a, was) == plain(b, is) {
        return true;
    }
    let other_program = was.tool.is_some() && is.tool.is_some() && was.tool != is.tool;
    other_program && was.licence.is_some() && was.licence == is.licence
}

/// The words of a text without its version, its date and the years of its copyright.
fn plain(text: &str, record: &Record) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let bare = |word: &str| word.trim_matches([',', '.', ';', ':', '(', ')']).to_lowercase();
    let (mut version, mut released) = (record.version.clone(), record.released.as_deref().and_then(spelled));
    // The heading states both, where no record does.
    if let Some(at) = words.iter().position(|w| w.eq_ignore_ascii_case("version")) {
        let stated = words.get(at + 1).map(|w| bare(w)).filter(|w| is_version(w));
        if stated.is_some() {
            released = released.or_else(|| three(&words, at + 2).filter(is_date));
        }
        version = version.or(stated);
    }
    let iso = record.released.as_deref();
    let mut out = Vec::new();
    let (mut i, mut after_copyright) = (0, false);
    while i < words.len() {
        let word = bare(words[i]);
        if released.is_some() && three(&words, i) == released {
            i += 3;
            continue;
        }
        i += 1;
        let passed = version.as_deref() == Some(word.as_str()) || iso == Some(word.as_str());
        if passed || after_copyright && is_years(&word) {
            continue;
        }
        after_copyright = matches!(word.as_str(), "copyright" | "©" | "c") || word.is_empty() && after_copyright;
        // The marks about a word stay, since "may not" and "may; not" differ.
        out.push(words[i - 1].to_owned());
    }
    out
}

/// Three words from a place on, in small letters and without commas.
fn three(words: &[&str], at: usize) -> Option<[String; 3]> {
    let word = |i: usize| words.get(at + i).map(|w| w.trim_matches([',', '.', ';']).to_lowercase());
    Some([word(0)?, word(1)?, word(2)?])
}

fn is_date(words: &[String; 3]) -> bool {
    let number = |w: &str, most: usize| !w.is_empty() && w.len() <= most && w.bytes().all(|b| b.is_ascii_digit());
    number(&words[0], 2) && MONTHS.contains(&words[1].as_str()) && number(&words[2], 4)
}

/// `2027-01-15` as the terms write it: 15 january 2027.
fn spelled(iso: &str) -> Option<[String; 3]> {
    let mut parts = iso.split('-');
    let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
    let month = MONTHS.get(month.parse::<usize>().ok()?.checked_sub(1)?)?;
    Some([day.trim_start_matches('0').to_owned(), (*month).to_owned(), year.to_owned()])
}

fn is_version(word: &str) -> bool {
    word.contains('.') && word.split('.').all(|part| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit()))
}

/// `2027`, `2026-2027`.
fn is_years(word: &str) -> bool {
    let year = |w: &str| w.len() == 4 && w.bytes().all(|b| b.is_ascii_digit());
    word.split(['-', '–']).all(year)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::diff::leaf;

    fn record(version: &str, released: &str, tool: &str) -> Record {
        let word = |w: &str| Some(w.to_owned()).filter(|w| !w.is_empty());
        Record { version: word(version), released: word(released), tool: word(tool), ..Record::default() }
    }

    fn of(text: &str) -> TreeFile {
        leaf(text.as_bytes().into())
    }

    const OLD: &str = "Peas\nLicence terms for version 1.0.0, 15 January 2026\n\n- up to 25 sold items in\n  all.\n\nCopyright 2026 Fernlea.\n";

    #[test]
    fn version_date_and_wrapping_are_no_terms() {
        let new = "Peas\nLicence terms for version 1.10.0, 3 December 2027\n\n- up to 25 sold\n  items in all.\n\nCopyright 2027 Fernlea.\n";
        for (was, is) in [("", ""), ("2026-01-15", "2027-12-03")] {
            let (was, is) = (record("1.0.0", was, "a 1"), record("1.10.0", is, "a 1"));
            assert!(same(&of(OLD), &of(new), &was, &is));
        }
        // Texts alone state what a record would.
        let none = Record::default();
        assert!(same(&of(OLD), &of(new), &none, &none));
    }

    #[test]
    fn numbers_and_dates_of_the_terms_themselves_count() {
        let (was, is) = (record("1.0.0", "2026-01-15", "a 1"), record("1.0.1", "2026-01-15", "a 1"));
        let new = OLD.replace("1.0.0", "1.0.1");
        assert!(same(&of(OLD), &of(&new), &was, &is));
        for (from, to) in [("25 sold", "26 sold"), ("all.", "all, until 3 May 2027."), ("up to", "not up to")] {
            let changed = new.replace(from, to);
            assert_ne!(changed, new);
            assert!(!same(&of(OLD), &of(&changed), &was, &is), "{to}");
        }
        // A year among the terms is no year of the copyright.
        let dated = "Peas\nLicence terms for version 1.0.0, 15 January 2026\nYou may sell until 2026.\n";
        assert!(!same(&of(dated), &of(&dated.replace("until 2026", "until 2027")), &was, &was));
    }

    #[test]
    fn another_program_may_word_the_same_choices_otherwise() {
        let choices = serde_json::json!({ "small_commercial": 25 });
        let with = |tool: &str, licence: &serde_json::Value| Record {
            licence: Some(licence.clone()),
            ..record("1.0.0", "2026-01-15", tool)
        };
        let new = of(&OLD.replace("up to 25", "no more than 25"));
        assert!(same(&of(OLD), &new, &with("a 1", &choices), &with("a 2", &choices)));
        assert!(!same(&of(OLD), &new, &with("a 1", &choices), &with("a 1", &choices)));
        let others = serde_json::json!({ "small_commercial": 30 });
        assert!(!same(&of(OLD), &new, &with("a 1", &choices), &with("a 2", &others)));
    }
}
