//! A bundle against its own papers: the list of checksums and the record that lie beside the files.

use super::Promised;
use super::catalogue::{Findings, found};
use base::model::artifact::Kind;
use base::model::facts::{Facts, Inspected};
use base::model::product::Limits;
use base::model::{Variant, Where};
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

/// What the record of a bundle says beside its list of files.
pub struct Record {
    /// The folder that it lies in, with the slash behind it; empty for the top.
    pub folder: String,
    /// The version of the product; empty if it is not stated.
    pub version: String,
    /// The shop's limits, if it states them.
    pub limits: Option<Limits>,
    /// Names of sections, if it states them.
    pub sections: Option<Vec<String>>,
    /// Names of templates, likewise.
    pub templates: Option<Vec<String>>,
    /// Names of sections and of templates of each variant, where these differ.
    pub each: Vec<(Vec<String>, Vec<String>)>,
    /// The variants that the product comes in.
    pub variants: Vec<Variant>,
    /// The members of a set.
    pub members: Vec<Member>,
}

/// A member of a set: its folder and name, and the variants that it comes in.
#[derive(Clone, Default, serde::Deserialize)]
pub struct Member {
    /// Its name in folders.
    pub product: String,
    /// Its name for people.
    pub name: String,
    /// Its variants.
    #[serde(default)]
    pub variants: Vec<Variant>,
}

/// The records among the files.
pub fn records(files: &[Inspected]) -> Vec<Record> {
    let read = |file: &Inspected| {
        let (Facts::Text(text), RECORD) = (&file.facts, file.name()) else { return None };
        let value: Value = serde_json::from_str(&text.text).ok()?;
        let each = |names: &Value| {
            let of = |key: &str| serde_json::from_value(names[key].clone()).unwrap_or_default();
            (of("sections"), of("templates"))
        };
        let names = |key: &str| serde_json::from_value(value["names"][key].clone()).ok();
        Some(Record {
            folder: beside(file, ""),
            version: value["version"].as_str().unwrap_or_default().to_owned(),
            limits: serde_json::from_value(value["limits"].clone()).ok(),
            sections: names("sections"),
            templates: names("templates"),
            each: value["names"]["each"].as_array().into_iter().flatten().map(each).collect(),
            variants: serde_json::from_value(value["variants"].clone()).unwrap_or_default(),
            members: serde_json::from_value(value["members"].clone()).unwrap_or_default(),
        })
    };
    files.iter().filter_map(read).collect()
}

/// The variants that these files come in, as planned or as their record says.
pub fn variants(files: &[Inspected], against: &[Promised]) -> Vec<Variant> {
    match against.first() {
        Some((product, _)) => product.variants.all.clone(),
        None => records(files).into_iter().flat_map(|r| r.variants).collect(),
    }
}

/// The members of a set, as planned or as its record says; none for anything else.
pub fn members(files: &[Inspected], against: &[Promised]) -> Vec<Member> {
    let planned = |member: &base::model::kin::Member| {
        let lead = member.lead();
        Member { product: lead.slug.clone(), name: lead.name.clone(), variants: lead.variants.all.clone() }
    };
    match against.first() {
        Some((product, _)) => product.members.iter().map(planned).collect(),
        None => records(files).into_iter().flat_map(|r| r.members).collect(),
    }
}

/// The folders of the loose files: those of variants, or of the members of a set.
pub fn folders(files: &[Inspected], against: &[Promised]) -> Vec<Variant> {
    let of = |m: Member| Variant { name: m.product, title: m.name, choices: Vec::new() };
    let members = members(files, against);
    if members.is_empty() { variants(files, against) } else { members.into_iter().map(of).collect() }
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

/// Digests by path: of the files themselves, and of the entries of archives, as far as they were unpacked.
fn digests(files: &[Inspected]) -> BTreeMap<String, &str> {
    let mut all: BTreeMap<String, &str> = BTreeMap::new();
    for file in files {
        if let Facts::Zip(zip) = &file.facts {
            let sound = zip.entries.iter().filter(|e| e.sound && !e.folder);
            all.extend(sound.map(|e| (format!("{}/{}", file.path, e.name), e.sha256.as_str())));
        }
    }
    all.extend(files.iter().map(|f| (f.path.clone(), f.sha256.as_str())));
    all
}

/// The archives below a folder: what lies in them is not what lies in the folder.
fn archives<'f>(files: &'f [Inspected], folder: &str) -> Vec<&'f str> {
    let inside = files.iter().filter(|f| matches!(f.facts, Facts::Zip(_)) && f.path.starts_with(folder));
    inside.map(|f| f.path.as_str()).collect()
}

/// The path of a file that is named relative to `list`.
pub fn beside(list: &Inspected, path: &str) -> String {
    match list.path.rsplit_once('/') {
        Some((folder, _)) => format!("{folder}/{path}"),
        None => path.to_owned(),
    }
}

fn sums(list: &Inspected, text: &str, files: &[Inspected], findings: &mut Findings) {
    let there = digests(files);
    let mut listed = BTreeSet::from([list.path.clone()]);
    let at = || Where::file(&list.path);
    for (n, line) in text.lines().enumerate().filter(|(_, line)| !line.is_empty()) {
        let parts = line.split_once([' ', '\t']).map(|(sum, rest)| (sum, rest.trim_start().trim_start_matches('*')));
        let Some((sum, name)) = parts.filter(|(sum, name)| sum.len() == 64 && !name.is_empty()) else {
            found!(findings, "sums-wrong", at(), "line {} is no checksum with a name", n + 1);
            continue;
        };
        let path = beside(list, name);
        match there.get(&path) {
            None => found!(findings, "sums-incomplete", at(), "the list names {name}, which is not there"),
            Some(is) if !is.eq_ignore_ascii_case(sum) => {
                found!(findings, "sums-wrong", Where::file(&path), "the checksum in {SUMS} is not the one of {name}");
            }
            Some(_) => {}
        }
        listed.insert(path);
    }
    let folder = beside(list, "");
    let archives = archives(files, &folder);
    let packed = |path: &str| archives.iter().any(|a| path.strip_prefix(a).is_some_and(|rest| rest.starts_with('/')));
    for path in there.keys().filter(|path| path.starts_with(&folder) && !listed.contains(*path) && !packed(path)) {
        found!(findings, "sums-incomplete", Where::file(path), "the file is not in {SUMS}");
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
    let there = digests(files);
    for (name, entry) in entries {
        let path = beside(list, &name);
        let Some(is) = there.get(&path) else {
            found!(findings, "record-wrong", at(), "the record names {name}, which is not there");
            continue;
        };
        let stated = entry.get("sha256").and_then(Value::as_str);
        if stated.is_some_and(|sum| !sum.eq_ignore_ascii_case(is)) {
            found!(findings, "record-wrong", Where::file(&path), "the checksum in {RECORD} is not the one of {name}");
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
