//! A bundle against its own papers: the list of checksums and the record that lie beside the files.

use super::catalogue::{Findings, found};
use crate::model::Where;
use crate::model::artifact::Kind;
use crate::model::facts::{Facts, Inspected};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// Name of the list of checksums.
const SUMS: &str = "SHA256SUMS";
/// Name of the record.
const RECORD: &str = "bundle.json";

/// Checks every list of checksums and every record among the files.
pub fn check(files: &[Inspected], findings: &mut Findings) {
    for file in files {
        let Facts::Text(text) = &file.facts else { continue };
        match file.name() {
            SUMS => sums(file, &text.text, files, findings),
            RECORD => record(file, &text.text, files, findings),
            _ => {}
        }
    }
}

/// Gives the files of a bundle the kinds that its record states, so that a built bundle is checked as what it is.
pub fn with_kinds(mut files: Vec<Inspected>) -> Vec<Inspected> {
    let mut kinds: BTreeMap<String, Kind> = BTreeMap::new();
    for file in &files {
        let (Facts::Text(text), RECORD) = (&file.facts, file.name()) else { continue };
        for (path, entry) in entries(&text.text).unwrap_or_default() {
            if let Some(kind) = entry.get("kind").and_then(|k| serde_json::from_value(k.clone()).ok()) {
                kinds.insert(beside(file, &path), kind);
            }
        }
    }
    for file in &mut files {
        file.kind = file.kind.or_else(|| kinds.get(&file.path).copied());
    }
    files
}

/// The path of a file that is named relative to `list`.
fn beside(list: &Inspected, path: &str) -> String {
    match list.path.rsplit_once('/') {
        Some((folder, _)) => format!("{folder}/{path}"),
        None => path.to_owned(),
    }
}

fn sums(list: &Inspected, text: &str, files: &[Inspected], findings: &mut Findings) {
    let by_path: BTreeMap<&str, &Inspected> = files.iter().map(|f| (f.path.as_str(), f)).collect();
    let mut listed = BTreeSet::from([list.path.clone()]);
    let at = || Where::file(&list.path);
    for (n, line) in text.lines().enumerate().filter(|(_, line)| !line.is_empty()) {
        let parts = line.split_once([' ', '\t']).map(|(sum, rest)| (sum, rest.trim_start().trim_start_matches('*')));
        let Some((sum, name)) = parts.filter(|(sum, name)| sum.len() == 64 && !name.is_empty()) else {
            found!(findings, "sums-wrong", at(), "line {} is no checksum with a name", n + 1);
            continue;
        };
        let path = beside(list, name);
        match by_path.get(path.as_str()) {
            None => found!(findings, "sums-incomplete", at(), "the list names {name}, which is not there"),
            Some(file) if !file.sha256.eq_ignore_ascii_case(sum) => {
                found!(
                    findings,
                    "sums-wrong",
                    Where::file(&file.path),
                    "the checksum in {SUMS} is not the one of {name}"
                );
            }
            Some(_) => {}
        }
        listed.insert(path);
    }
    let folder = beside(list, "");
    for file in files.iter().filter(|f| f.path.starts_with(&folder) && !listed.contains(&f.path)) {
        found!(findings, "sums-incomplete", Where::file(&file.path), "the file is not in {SUMS}");
    }
}

fn record(list: &Inspected, text: &str, files: &[Inspected], findings: &mut Findings) {
    let at = || Where::file(&list.path);
    let Some(entries) = entries(text) else {
        found!(findings, "record-wrong", at(), "the record has no list of files");
        return;
    };
    let by_path: BTreeMap<&str, &Inspected> = files.iter().map(|f| (f.path.as_str(), f)).collect();
    if !findings.planned {
        packed(&entries, list, &by_path, findings);
    }
    for (name, entry) in entries {
        let Some(file) = by_path.get(beside(list, &name).as_str()) else {
            found!(findings, "record-wrong", at(), "the record names {name}, which is not there");
            continue;
        };
        let stated = entry.get("sha256").and_then(Value::as_str);
        if stated.is_some_and(|sum| !sum.eq_ignore_ascii_case(&file.sha256)) {
            found!(
                findings,
                "record-wrong",
                Where::file(&file.path),
                "the checksum in {RECORD} is not the one of {name}"
            );
        }
    }
}

/// The entries of the archives to upload are files that the record names.
fn packed(
    entries: &[(String, Value)],
    list: &Inspected,
    by_path: &BTreeMap<&str, &Inspected>,
    findings: &mut Findings,
) {
    let of = |entry: &Value, key: &str| entry.get(key).and_then(Value::as_str).map(str::to_owned);
    let known: BTreeSet<String> = entries.iter().filter_map(|(_, entry)| of(entry, "sha256")).collect();
    for (name, _) in entries.iter().filter(|(_, entry)| of(entry, "kind").as_deref() == Some("upload")) {
        let Some(file) = by_path.get(beside(list, name).as_str()) else { continue };
        let Facts::Zip(zip) = &file.facts else { continue };
        for entry in zip.entries.iter().filter(|e| e.sound && !e.folder && !known.contains(&e.sha256)) {
            let at = Where::entry(&file.path, &entry.name);
            found!(findings, "entry-not-recorded", at, "the entry's bytes are none of the files that {RECORD} names");
        }
    }
}

/// The record's files: path and entry.
fn entries(text: &str) -> Option<Vec<(String, Value)>> {
    let record: Value = serde_json::from_str(text).ok()?;
    let files = record.get("files")?.as_array()?;
    Some(files.iter().filter_map(|f| Some((f.get("path")?.as_str()?.to_owned(), f.clone()))).collect())
}
