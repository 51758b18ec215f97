//! What changed, for people and for other programs.

use base::model::change::Verdict;

use base::model::difference::{Comparison, Difference, Since};
use base::model::units::byte_size;
use base::model::versions::Rule;
use serde_json::{Value, json};
use std::fmt::Write;

/// How many changes of one kind are shown for a file before the rest is counted.
const SHOWN: usize = 5;

/// The report for other programs, version 1.
pub fn json(found: &Comparison) -> Value {
    json!({
        "same": found.same,
        "verdict": found.verdict,
        "download_again": found.download_again,
        "differences": found.differences,
        "files": found.files,
        "facts": found.facts,
        "checks": found.checks,
        "numbers": found.numbers,
        "rule": rule(&found.rule),
        "language": found.language,
    })
}

/// The rule by which it was judged, and whether the new version states it.
fn rule(rule: &Rule) -> Value {
    let mut value = rule.to_json();
    value["stated"] = rule.stated.into();
    value
}

/// The report for people: a short tree, folded, and what it comes to.
pub fn people(found: &Comparison) -> String {
    if found.same {
        return "Nothing changed.\n".to_owned();
    }
    let mut out = String::new();
    let files = found.differences.chunk_by(|a, b| a.path == b.path);
    let (copies, files): (Vec<_>, Vec<_>) = files.partition(|list| list.iter().all(Difference::is_copy));
    for file in files {
        let _ = writeln!(out, "{}{}", file[0].path, sizes(found, &file[0].path));
        // One kind after the other, each in the order of the pages.
        let mut list: Vec<&Difference> = file.iter().collect();
        list.sort_by_key(|d| d.kind);
        for kind in list.chunk_by(|a, b| a.kind == b.kind) {
            for difference in kind.iter().take(SHOWN) {
                let page = page(difference);
                let message = difference.message.replace('\n', "\n        ");
                let _ = writeln!(out, "  {:<19} {page}{message}", difference.kind.name());
            }
            if kind.len() > SHOWN {
                let _ = writeln!(out, "  {:<19} … and {} more of these", "", kind.len() - SHOWN);
            }
        }
    }
    match copies.len() {
        0 => {}
        1 => {
            let _ = writeln!(out, "{} {}", copies[0][0].path, copies[0][0].message);
        }
        n => {
            let _ = writeln!(out, "{n} files in archives and uploads changed as the loose ones above did");
        }
    }
    if !found.facts.is_empty() {
        out.push('\n');
    }
    for fact in &found.facts {
        let word = |n: Option<u64>| n.map_or("none".to_owned(), |n| n.to_string());
        let _ = writeln!(out, "  {}: {} → {}", fact.what, word(fact.old), word(fact.new));
    }
    for (word, list) in [("new", &found.checks.new), ("mended", &found.checks.mended)] {
        if !list.is_empty() {
            let _ = writeln!(out, "\nFindings {word}: {}", list.len());
        }
        for told in list.iter().take(SHOWN) {
            let page = told.page.map(|p| format!(", page {p}")).unwrap_or_default();
            let _ = writeln!(out, "  {:<19} {}{page}: {}", told.check, told.file, told.message);
        }
        if list.len() > SHOWN {
            let _ = writeln!(out, "  {:<19} … and {} more of these", "", list.len() - SHOWN);
        }
    }
    let n = found.differences.len();
    let _ = writeln!(out, "\n{n} {}. {}", if n == 1 { "change" } else { "changes" }, advice(found));
    let whose = if found.rule.stated { "the rule that the product states" } else { "the usual rule" };
    if !found.decisive.is_empty() {
        let _ = writeln!(out, "By {whose}, because of: {}.", found.decisive.join(", "));
    }
    if let Some(numbers) = &found.numbers {
        let word = if numbers.enough { "which is enough" } else { "which is too low" };
        let _ = writeln!(
            out,
            "After {} this asks for {} at least; it is {}, {word}.",
            numbers.old, numbers.needed, numbers.new
        );
    }
    out
}

/// How large a file was and is, where it lies by itself.
fn sizes(found: &Comparison, path: &str) -> String {
    match found.files.iter().find(|f| f.path == path).map(|f| (f.size_old, f.size_new)) {
        Some((Some(a), Some(b))) if a != b => format!("  ({}, before {})", byte_size(b), byte_size(a)),
        Some((_, Some(one)) | (Some(one), None)) => format!("  ({})", byte_size(one)),
        _ => String::new(),
    }
}

/// What changed since an earlier version, and what that asks of the number, in one line.
pub fn since(since: &Since) -> String {
    let whose = if since.issued { ", which buyers have" } else { "" };
    let step = match &since.found.numbers {
        _ if since.found.same => String::new(),
        Some(n) if n.enough => format!(" (a {} change: {} or higher)", since.found.verdict.name(), n.needed),
        Some(n) => format!(" (a {} change: {} is too low, {} is needed)", since.found.verdict.name(), n.new, n.needed),
        None => String::new(),
    };
    format!("since {}{whose}: {}{step}", since.version, since.line)
}

/// What the version number must become, and whether to download again.
fn advice(found: &Comparison) -> String {
    let number = match found.verdict {
        Verdict::Major if found.rule.stated => "A major version.",
        Verdict::Minor if found.rule.stated => "A minor version.",
        Verdict::Patch if found.rule.stated => "A patch.",
        Verdict::Major => "A major version: something that older copies have is gone or leads elsewhere.",
        Verdict::Minor => "A minor version: something was added or moved, nothing is lost.",
        Verdict::Patch | Verdict::Same => "A patch: nothing was added and nothing is lost.",
    };
    let again = if found.download_again {
        "Past buyers should download again."
    } else {
        "Past buyers need not download again."
    };
    format!("{number} {again}")
}

fn page(difference: &Difference) -> String {
    match (difference.page_old, difference.page_new) {
        (Some(a), Some(b)) if a != b => format!("page {b} (was {a}): "),
        (_, Some(page)) | (Some(page), None) if !difference.message.starts_with("page ") => format!("page {page}: "),
        _ => String::new(),
    }
}
