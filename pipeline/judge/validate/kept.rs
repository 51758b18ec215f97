//! What a build found, kept in the record of its bundle, so that a later look at the same files says the same.
//!
//! Much can only be found with the plan at hand: which link was meant to lead where, whose a file is, what a drawing was to
//! show. Without it a file is judged as one made elsewhere. So a bundle that still lies there as it was built is told of as
//! the build told; what a second look finds to be an error is told as well. Where a file is not what was built, or another
//! version of the program looks, everything is judged anew.

use super::bundle::beside;
use super::find;
use base::model::facts::{Facts, Inspected};
use base::model::product::Lowered;
use base::model::{Finding, Severity, Where};
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// Name of the record.
const RECORD: &str = "bundle.json";

/// A finding as it is kept.
#[derive(Serialize, Deserialize)]
struct Kept {
    check: String,
    severity: Severity,
    #[serde(flatten)]
    place: Where,
    message: String,
    help: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    lowered: Option<String>,
}

/// Findings as the record keeps them.
pub fn to_json(findings: &[Finding]) -> Value {
    let keep = |f: &Finding| Kept {
        check: f.check.to_string(),
        severity: f.severity,
        place: f.place.clone(),
        message: f.message.clone(),
        help: f.help.clone(),
        lowered: f.lowered.clone(),
    };
    // Text, numbers and lists can always be written.
    serde_json::to_value(findings.iter().map(keep).collect::<Vec<_>>()).unwrap_or_default()
}

/// Checks that the manifest lowers, as the record keeps them: what else lies beside a bundle may make a check speak later.
pub fn lowered_to_json(lowered: &BTreeMap<String, Lowered>) -> Value {
    let keep = |l: &Lowered| json!({ "to": l.to, "reason": l.reason });
    lowered.iter().map(|(check, l)| (check.clone(), keep(l))).collect()
}

/// The same as a record has them; none where it keeps none.
pub fn lowered(record: &Value) -> BTreeMap<String, Lowered> {
    let alive = |(check, kept): (&String, &Value)| {
        let to = serde_json::from_value(kept["to"].clone()).ok()?;
        Some((check.clone(), Lowered { to, reason: kept["reason"].as_str()?.to_owned() }))
    };
    record["lowered"].as_object().into_iter().flatten().filter_map(alive).collect()
}

/// Puts what builds found in the place of what a look without their plans says of the same files.
pub fn told(list: Vec<Finding>, files: &[Inspected]) -> Vec<Finding> {
    let mut list = list;
    for record in files.iter().filter(|f| f.name() == RECORD) {
        let Some(Whole { paths, findings }) = whole(record, files) else { continue };
        let known: BTreeSet<(&str, &str, Option<usize>)> =
            findings.iter().map(|f| (f.check.as_ref(), f.place.file.as_str(), f.place.page)).collect();
        let stays = |f: &Finding| {
            let of_build = paths.contains(f.place.file.as_str());
            let new = !known.contains(&(f.check.as_ref(), f.place.file.as_str(), f.place.page));
            !of_build || f.severity == Severity::Error && new
        };
        list.retain(stays);
        list.extend(findings);
    }
    list
}

/// A bundle that lies there as it was built.
struct Whole {
    /// Its files.
    paths: BTreeSet<String>,
    /// What the build found.
    findings: Vec<Finding>,
}

fn whole(record: &Inspected, files: &[Inspected]) -> Option<Whole> {
    let Facts::Text(text) = &record.facts else { return None };
    let value: Value = serde_json::from_str(&text.text).ok()?;
    if value["tool"].as_str() != Some(concat!("sheafwright ", env!("CARGO_PKG_VERSION"))) {
        return None;
    }
    let kept: Vec<Kept> = serde_json::from_value(value.get("findings")?.clone()).ok()?;
    let there: BTreeMap<&str, &str> = files.iter().map(|f| (f.path.as_str(), f.sha256.as_str())).collect();
    let mut paths = BTreeSet::from([record.path.clone()]);
    for file in value["files"].as_array()? {
        let path = beside(record, file["path"].as_str()?);
        if there.get(path.as_str()).copied() != file["sha256"].as_str() {
            return None;
        }
        paths.insert(path);
    }
    let alive = |k: Kept| {
        let check = find(&k.check)?;
        let mut place = k.place;
        let inside = beside(record, &place.file);
        if paths.contains(&inside) {
            place.file = inside;
        }
        let finding =
            Finding { severity: k.severity, lowered: k.lowered, help: k.help, ..Finding::of(check, place, k.message) };
        Some(finding)
    };
    let findings: Option<Vec<Finding>> = kept.into_iter().map(alive).collect();
    Some(Whole { findings: findings?, paths })
}
