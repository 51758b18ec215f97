//! File names that arrive on every system: of the files themselves and of the entries of archives.

use super::catalogue::{Findings, found};
use base::model::Where;
use base::model::facts::{Facts, Inspected};
use std::collections::BTreeMap;
use unicode_normalization::UnicodeNormalization;

/// Names that Windows keeps for devices, with any ending and in any case (Microsoft, "Naming Files, Paths, and
/// Namespaces").
const DEVICES: [&str; 28] = [
    "CON",
    "PRN",
    "AUX",
    "NUL",
    "COM1",
    "COM2",
    "COM3",
    "COM4",
    "COM5",
    "COM6",
    "COM7",
    "COM8",
    "COM9",
    "LPT1",
    "LPT2",
    "LPT3",
    "LPT4",
    "LPT5",
    "LPT6",
    "LPT7",
    "LPT8",
    "LPT9",
    "COM\u{b9}",
    "COM\u{b2}",
    "COM\u{b3}",
    "LPT\u{b9}",
    "LPT\u{b2}",
    "LPT\u{b3}",
];
/// The longest path that fits under a usual download folder: 259 characters less 60 for the folder
/// (the limit by Microsoft, the allowance common practice, no source).
const LONGEST: usize = 199;

/// Checks all names, and whether any two clash.
pub fn check(files: &[Inspected], findings: &mut Findings) {
    // Clashes only matter among names that lie together: all files of a bundle, or all entries of an archive.
    clashes(files.iter().map(|f| (f.path.as_str(), Where::file(&f.path))), findings);
    let archives: Vec<String> =
        files.iter().filter(|f| matches!(f.facts, Facts::Zip(_))).map(|f| format!("{}/", f.path)).collect();
    for file in files {
        // What was taken out of an archive was looked at as its entry.
        if archives.iter().any(|archive| file.path.starts_with(archive)) {
            continue;
        }
        // The folders above a file given on the command line are not part of what a buyer gets.
        let name = file.name();
        check_path(name, || Where::file(&file.path), findings);
        if let Facts::Zip(zip) = &file.facts {
            let at = |entry: &str| Where::entry(&file.path, entry);
            for entry in &zip.entries {
                check_path(&entry.name, || at(&entry.name), findings);
            }
            clashes(zip.entries.iter().map(|e| (e.name.as_str(), at(&e.name))), findings);
        }
    }
}

/// Checks a name or a path.
fn check_path(path: &str, at: impl Fn() -> Where, findings: &mut Findings) {
    for part in path.split(['/', '\\']).filter(|p| !p.is_empty() && *p != "." && *p != "..") {
        if let Some(bad) = part.chars().find(|c| is_forbidden(*c)) {
            let bad = bad.escape_default();
            found!(
                findings,
                "name-illegal",
                at(),
                "the name \u{201c}{}\u{201d} holds the character {bad}",
                shown(part)
            );
        } else if part.ends_with(['.', ' ']) {
            found!(findings, "name-illegal", at(), "the name \u{201c}{part}\u{201d} ends with a dot or a space");
        } else if let Some(device) = device(part) {
            found!(findings, "name-reserved", at(), "the name \u{201c}{part}\u{201d} is kept for the device {device}");
        } else if !is_portable(part) {
            let bad: String = part.chars().filter(|c| !is_portable_char(*c)).take(5).collect();
            if bad.is_empty() {
                found!(findings, "name-not-portable", at(), "the name \u{201c}{part}\u{201d} begins with a hyphen");
            } else {
                found!(
                    findings,
                    "name-not-portable",
                    at(),
                    "the name \u{201c}{part}\u{201d} holds \u{201c}{bad}\u{201d}, which is outside the portable set"
                );
            }
        }
    }
    let length = path.encode_utf16().count();
    if length > LONGEST {
        found!(findings, "path-too-long", at(), "the path is {length} characters long, more than {LONGEST}");
    }
}

/// Names that fall together when case is ignored and accents are composed.
fn clashes<'a>(names: impl Iterator<Item = (&'a str, Where)>, findings: &mut Findings) {
    let mut seen: BTreeMap<String, &str> = BTreeMap::new();
    for (name, at) in names {
        match seen.get(&folded(name)) {
            Some(first) => {
                found!(
                    findings,
                    "names-clash",
                    at,
                    "the names \u{201c}{first}\u{201d} and \u{201c}{name}\u{201d} are the same to some systems"
                );
            }
            None => {
                seen.insert(folded(name), name);
            }
        }
    }
}

/// The form in which case and composition no longer count.
pub fn folded(name: &str) -> String {
    name.nfc().flat_map(char::to_lowercase).nfc().collect()
}

fn is_forbidden(c: char) -> bool {
    matches!(c, '<' | '>' | ':' | '"' | '|' | '?' | '*') || c.is_control()
}

/// The POSIX portable filename character set (IEEE Std 1003.1, 3.282).
fn is_portable_char(c: char) -> bool {
    c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | '_')
}

/// Whether a name is portable: only portable characters, and no hyphen in front.
pub fn is_portable(name: &str) -> bool {
    !name.starts_with('-') && name.chars().all(is_portable_char)
}

/// The device that a name means, if it means one.
pub fn device(name: &str) -> Option<&'static str> {
    let base = name.split('.').next().unwrap_or(name).trim_end_matches(' ');
    DEVICES.into_iter().find(|d| d.to_lowercase() == base.to_lowercase())
}

fn shown(name: &str) -> String {
    name.chars().map(|c| if c.is_control() { '\u{fffd}' } else { c }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every rule of the table, as Microsoft and POSIX publish them.
    #[test]
    fn the_published_rules() {
        let mut devices = 0;
        for line in include_str!("../../../tests/fixtures/refs/windows_reserved.csv").lines().skip(1) {
            let (item, rule) = if let Some(rest) = line.strip_prefix('"') {
                rest.split_once("\",").unwrap_or((rest, ""))
            } else {
                line.split_once(',').unwrap_or((line, ""))
            };
            if rule.contains("reserved device") {
                devices += 1;
                for name in [item.to_owned(), item.to_lowercase(), format!("{item}.txt"), format!("{item}.tar.gz")] {
                    assert_eq!(device(&name), DEVICES.into_iter().find(|d| *d == item), "{name}");
                }
                assert_eq!(device(&format!("{item}x")), None);
            } else if rule == "forbidden character" && !matches!(item, "/" | "\\") {
                let c = item.chars().last().unwrap_or('/');
                assert!(is_forbidden(c) && !is_portable_char(c), "{item}");
            }
        }
        assert_eq!(devices, DEVICES.len());
        assert!((0..0x20).filter_map(char::from_u32).all(is_forbidden));
        let portable: Vec<char> = (0..128u8).map(char::from).filter(|c| is_portable_char(*c)).collect();
        assert_eq!(portable.len(), 26 + 26 + 10 + 3);
        assert!(is_portable("start-here.txt") && !is_portable("-start.txt") && !is_portable("to do.txt"));
    }

    #[test]
    fn names_that_fall_together() {
        // An e with an acute accent, composed and not (Unicode Standard Annex 15).
        assert_eq!(folded("Caf\u{e9}"), folded("cafe\u{301}"));
        assert_ne!(folded("cafe"), folded("caf\u{e9}"));
    }
}
