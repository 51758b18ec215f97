//! The findings, for people and for other programs.

use base::model::finding::{Check, Finding, Severity, Where};
use base::model::units::trim_number;
use judge::validate::{counts, find};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::time::Duration;

/// How many different messages of one check are shown for one file; the rest is counted.
const SHOWN: usize = 3;
/// How many pages are named before the rest is counted.
const PAGES: usize = 12;

/// The report for people: by file, worst first; what is wrong, where, why a buyer would notice, how to mend it; and a
/// line that counts.
pub fn people(findings: &[Finding], colour: bool, took: Option<Duration>) -> String {
    let paint = Paint(colour);
    let mut out = String::new();
    for Block { files, groups } in blocks(by_file(findings)) {
        let (file, also) = (files[0], &files[1..]);
        let _ = writeln!(out, "{}", paint.bold(if file.is_empty() { "(no file)" } else { file }));
        if !also.is_empty() {
            let _ = writeln!(out, "and just so {}", also.join(", "));
        }
        for group in &groups {
            check(&mut out, group, &paint);
        }
        out.push('\n');
    }
    out.push_str(&summary(findings, took));
    out.push('\n');
    out
}

/// The line that counts, with the time that it took if that is known.
pub fn summary(findings: &[Finding], took: Option<Duration>) -> String {
    let (errors, warnings, notes) = counts(findings);
    let mut line = if findings.is_empty() {
        "Nothing found".to_owned()
    } else {
        let files = by_file(findings).len();
        format!(
            "{}, {} and {} in {}",
            plural(errors, "error"),
            plural(warnings, "warning"),
            plural(notes, "note"),
            plural(files, "file")
        )
    };
    if let Some(took) = took {
        let _ = write!(line, ", in {:.2} s", took.as_secs_f64());
    }
    line.push('.');
    line
}

/// What is not looked for, and why: a line for each check that a manifest switches off.
pub fn off(checks: &[(String, String)]) -> String {
    checks.iter().map(|(check, reason)| format!("{check} is switched off in the manifest: {reason}\n")).collect()
}

/// The report for other programs, version 1.
pub fn json(findings: &[Finding]) -> Value {
    let (errors, warnings, notes) = counts(findings);
    json!({
        "findings": findings.iter().map(one_json).collect::<Vec<_>>(),
        "errors": errors,
        "warnings": warnings,
        "notes": notes,
    })
}

/// What a check looks for, why a buyer would notice, and how to mend what it finds.
pub fn explain(check: &Check) -> String {
    let elsewhere = if check.elsewhere == check.severity {
        String::new()
    } else {
        format!(" ({} in files made elsewhere)", check.elsewhere.name())
    };
    format!(
        "{}\n  {}{elsewhere}, {}\n\n  looks for: {}\n  why:       {}\n  mend:      {}\n",
        check.name,
        check.severity.name(),
        check.family.name(),
        check.looks_for,
        check.why,
        check.mend
    )
}

fn one_json(finding: &Finding) -> Value {
    let place = &finding.place;
    let mut value = json!({
        "check": finding.check,
        "severity": finding.severity.name(),
        "family": finding.family.name(),
        "file": place.file,
        "page": place.page,
        "entry": place.entry,
        "message": finding.message,
        "help": finding.help,
    });
    if let Some(rect) = place.rect {
        value["rect"] = json!([rect.x, rect.y, rect.w, rect.h].map(|v| (v * 1000.0).round() / 1000.0));
    }
    if let Some((x, y)) = place.pixel {
        value["pixel"] = json!([x, y]);
    }
    if let Some(span) = &place.span {
        value["line"] = json!(span.line);
        value["column"] = json!(span.column);
    }
    if let Some(reason) = &finding.lowered {
        value["lowered"] = json!(reason);
    }
    value
}

/// Findings by file; the file with the worst finding first, files of equal rank by name.
fn by_file(findings: &[Finding]) -> Vec<(&str, Vec<&Finding>)> {
    let mut files: BTreeMap<&str, Vec<&Finding>> = BTreeMap::new();
    for finding in findings {
        files.entry(finding.place.file.as_str()).or_default().push(finding);
    }
    let mut files: Vec<_> = files.into_iter().collect();
    files.sort_by_key(|(_, list)| list.iter().map(|f| f.severity).min());
    files
}

/// Findings that are told together: the files that have them, and a group for each check.
struct Block<'f> {
    files: Vec<&'f str>,
    groups: Vec<Vec<&'f Finding>>,
}

/// What is the same in files of variants is told once: eight times the same tells nothing more. What only some of them have
/// stands in a block of its own.
fn blocks<'f>(files: Vec<(&'f str, Vec<&'f Finding>)>) -> Vec<Block<'f>> {
    let variants: BTreeSet<&str> = files.iter().filter_map(|(file, _)| variant_of(file)).collect();
    let folder = |file: &'f str| {
        let inner = &file[file.find("contents/")? + "contents/".len()..];
        inner.split_once('/').map(|(folder, _)| folder).filter(|f| variants.contains(f))
    };
    let common =
        |file: &'f str| folder(file).map(|v| file.replace(&format!("/{v}/"), "/").replace(&format!("-{v}."), "."));
    let said = |list: &[&Finding]| {
        list.iter()
            .map(|f| (f.severity, f.check.to_string(), f.place.page, f.place.entry.clone(), f.message.clone()))
            .collect::<Vec<_>>()
    };
    let mut alike: Vec<Block> = Vec::new();
    for (file, list) in files {
        let name = common(file);
        for group in by_check(&list) {
            let twin = alike.iter_mut().find(|b| {
                name.is_some() && common(b.files[0]) == name && b.files[0] != file && said(&b.groups[0]) == said(&group)
            });
            match twin {
                Some(block) => block.files.push(file),
                None => alike.push(Block { files: vec![file], groups: vec![group] }),
            }
        }
    }
    let mut out: Vec<Block> = Vec::new();
    for block in alike {
        match out.iter_mut().find(|b| b.files == block.files) {
            Some(same) => same.groups.extend(block.groups),
            None => out.push(block),
        }
    }
    // The worst stays in front.
    out.sort_by_key(|b| b.groups.iter().flatten().map(|f| f.severity).min());
    out
}

/// The variant that a file names twice, by its folder and at its end: `contents/moss/plot-moss.pdf`.
fn variant_of(file: &str) -> Option<&str> {
    let inner = &file[file.find("contents/")? + "contents/".len()..];
    let (folder, name) = inner.split_once('/')?;
    name.rsplit_once('.').filter(|(stem, _)| stem.ends_with(&format!("-{folder}"))).map(|_| folder)
}

/// Findings of one file by severity and check.
fn by_check<'f>(list: &[&'f Finding]) -> Vec<Vec<&'f Finding>> {
    let mut groups: BTreeMap<(Severity, &str), Vec<&Finding>> = BTreeMap::new();
    for finding in list {
        groups.entry((finding.severity, &finding.check)).or_default().push(finding);
    }
    groups.into_values().collect()
}

/// All findings of one check in one file.
fn check(out: &mut String, group: &[&Finding], paint: &Paint) {
    let first = group[0];
    let times = if group.len() > 1 { format!(", {} times", group.len()) } else { String::new() };
    let _ = writeln!(out, "  {} {}{times}", paint.severity(first.severity), paint.bold(&first.check));
    let mut messages: Vec<(&str, Vec<&Where>)> = Vec::new();
    let mut index: BTreeMap<&str, usize> = BTreeMap::new();
    for finding in group {
        let at = *index.entry(&finding.message).or_insert_with(|| {
            messages.push((&finding.message, Vec::new()));
            messages.len() - 1
        });
        messages[at].1.push(&finding.place);
    }
    for (message, places) in messages.iter().take(SHOWN) {
        let _ = writeln!(out, "    {}{message}", places_in_words(places, message));
    }
    if messages.len() > SHOWN {
        let rest: Vec<&Where> = messages[SHOWN..].iter().flat_map(|(_, places)| places.iter().copied()).collect();
        let _ = writeln!(out, "    {}{} more of this kind", places_in_words(&rest, ""), rest.len());
    }
    if let Some(known) = find(&first.check) {
        let _ = writeln!(out, "    why:  {}", known.why);
    }
    let _ = writeln!(out, "    mend: {}", first.help);
    if let Some(reason) = &first.lowered {
        let _ = writeln!(out, "    lowered in the manifest: {reason}");
    }
}

/// Where, in words, with a colon after it: `page 3: `, `on 212 pages (1-8, 12, …): `, or nothing for a whole file. A place
/// on the page is named where it is one, and where the message does not name it.
fn places_in_words(places: &[&Where], message: &str) -> String {
    let entries: Vec<&str> = places.iter().filter_map(|p| p.entry.as_deref()).collect();
    let mut pages: Vec<usize> = places.iter().filter_map(|p| p.page).collect();
    pages.sort_unstable();
    pages.dedup();
    let on = on_page(places, message);
    match (pages.as_slice(), entries.as_slice()) {
        ([], []) => place_in_file(places[0]),
        ([page], _) => format!("page {page}{on}: "),
        ([], [entry]) => format!("{entry}: "),
        ([], [first, rest @ ..]) => format!("{first} and {}: ", plural(rest.len(), "more entry")),
        (pages, _) => format!("on {} pages ({}){on}: ", pages.len(), runs(pages)),
    }
}

/// The one place on the page that all of these have: `, 940 pt from the left and 104 from the top`.
fn on_page(places: &[&Where], message: &str) -> String {
    let Some(rect) = places.first().and_then(|p| p.rect) else { return String::new() };
    let [x, y] = [rect.x, rect.y].map(|v| trim_number(v, 1));
    if message.is_empty() || message.contains(&format!(" at {x}, {y}")) || places.iter().any(|p| p.rect != Some(rect)) {
        return String::new();
    }
    format!(", {x} pt from the left and {y} from the top")
}

fn place_in_file(place: &Where) -> String {
    match (&place.span, place.pixel) {
        (Some(span), _) => format!("line {}, column {}: ", span.line, span.column),
        (None, Some((x, y))) => format!("pixel {x}, {y}: "),
        _ => String::new(),
    }
}

/// Pages as runs: `1-8, 12, 14`.
fn runs(pages: &[usize]) -> String {
    let mut parts: Vec<String> = Vec::new();
    let mut i = 0;
    while i < pages.len() {
        let mut j = i;
        while j + 1 < pages.len() && pages[j + 1] == pages[j] + 1 {
            j += 1;
        }
        if parts.len() == PAGES {
            parts.push("\u{2026}".to_owned());
            break;
        }
        parts.push(if i == j { pages[i].to_string() } else { format!("{}-{}", pages[i], pages[j]) });
        i = j + 1;
    }
    parts.join(", ")
}

/// A number and its noun.
pub fn plural(n: usize, word: &str) -> String {
    match (n, word.strip_suffix('y')) {
        (1, _) => format!("1 {word}"),
        (_, Some(stem)) => format!("{n} {stem}ies"),
        _ => format!("{n} {word}s"),
    }
}

/// Colours of a terminal, or none.
struct Paint(bool);

impl Paint {
    fn with(&self, code: &str, text: &str) -> String {
        if self.0 { format!("\x1b[{code}m{text}\x1b[0m") } else { text.to_owned() }
    }

    fn bold(&self, text: &str) -> String {
        self.with("1", text)
    }

    fn severity(&self, severity: Severity) -> String {
        let code = match severity {
            Severity::Error => "1;31",
            Severity::Warning => "33",
            Severity::Note => "36",
        };
        self.with(code, severity.name())
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use base::model::finding::Family;
    use judge::validate::CATALOGUE;

    fn on(page: usize, message: &str) -> Finding {
        Finding::of(find("link-to-nowhere").unwrap(), Where::page("a.pdf", page), message)
    }

    #[test]
    fn equal_findings_are_folded() {
        let findings: Vec<Finding> = (1..=212).map(|p| on(p, "gone")).collect();
        let text = people(&findings, false, Some(Duration::from_millis(1250)));
        assert!(text.contains("on 212 pages (1-212): gone"), "{text}");
        assert!(text.contains("error link-to-nowhere, 212 times"), "{text}");
        assert!(text.ends_with("212 errors, 0 warnings and 0 notes in 1 file, in 1.25 s.\n"), "{text}");
        assert_eq!(text.matches("why:").count(), 1);
    }

    #[test]
    fn a_place_on_the_page_is_told_where_it_is_one() {
        let rect = base::model::Rect::new(940.0, 104.5, 64.0, 64.0);
        let at = |page, message: &str| {
            let place = Where::page("a.pdf", page).rect(rect);
            Finding::of(find("link-to-nowhere").unwrap(), place, message)
        };
        let text = people(&[at(2, "gone"), at(3, "gone"), at(4, "lost at 940, 104.5")], false, None);
        assert!(text.contains("on 2 pages (2-3), 940 pt from the left and 104.5 from the top: gone"), "{text}");
        assert!(text.contains("page 4: lost"), "{text}");
    }

    #[test]
    fn many_kinds_are_counted_and_not_listed() {
        let findings: Vec<Finding> = (1..=9).map(|p| on(p, &format!("gone {p}"))).collect();
        let text = people(&findings, true, None);
        assert!(text.contains("on 6 pages (4-9): 6 more of this kind"), "{text}");
        assert!(text.contains("\x1b[1;31merror\x1b[0m"), "{text}");
    }

    /// The whole catalogue as a table in Markdown, by family, as the handbook shows it.
    fn catalogue() -> String {
        let mut out = String::new();
        for family in Family::ALL {
            let rows: Vec<&Check> = CATALOGUE.iter().filter(|c| c.family == family).collect();
            if rows.is_empty() {
                continue;
            }
            let _ = write!(
                out,
                "### {}\n\n| check | severity | elsewhere | looks for |\n|---|---|---|---|\n",
                family.name()
            );
            for c in rows {
                let _ = writeln!(
                    out,
                    "| `{}` | {} | {} | {} |",
                    c.name,
                    c.severity.name(),
                    c.elsewhere.name(),
                    c.looks_for
                );
            }
            out.push('\n');
        }
        out
    }

    /// The handbook's table of checks is this program's; `SHEAFWRIGHT_BLESS=1` writes it anew.
    #[test]
    fn the_handbook_has_the_table_of_checks() {
        const MARKS: [&str; 2] = ["<!-- checks: written by the program -->\n", "<!-- end of checks -->\n"];
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md");
        let text = std::fs::read_to_string(&path).unwrap();
        let (before, rest) = text.split_once(MARKS[0]).unwrap();
        let (table, after) = rest.split_once(MARKS[1]).unwrap();
        if std::env::var_os("SHEAFWRIGHT_BLESS").is_some() {
            std::fs::write(&path, format!("{before}{}{}{}{after}", MARKS[0], catalogue(), MARKS[1])).unwrap();
        } else {
            assert!(table == catalogue(), "run this test with SHEAFWRIGHT_BLESS=1, and read what changed");
        }
    }

    #[test]
    fn the_shape_for_programs_stays() {
        let value = json(&[on(3, "gone")]);
        assert_eq!(value["errors"], 1);
        let finding = &value["findings"][0];
        for key in ["check", "severity", "family", "file", "page", "entry", "message", "help"] {
            assert!(finding.get(key).is_some(), "{key}");
        }
        assert_eq!((finding["page"].as_u64(), finding["entry"].is_null()), (Some(3), true));
    }
}
