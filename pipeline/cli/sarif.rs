//! The findings in SARIF 2.1.0 (OASIS Standard, 27 March 2020), which editors and build servers show by themselves.

use base::model::finding::{Check, Finding, Severity};
use judge::validate::CATALOGUE;
use serde_json::{Value, json};

/// The report; the whole catalogue is its rules.
pub fn sarif(findings: &[Finding]) -> Value {
    json!({
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": {
                "name": env!("CARGO_PKG_NAME"),
                "semanticVersion": env!("CARGO_PKG_VERSION"),
                "rules": CATALOGUE.iter().map(rule).collect::<Vec<_>>(),
            }},
            "results": findings.iter().map(result).collect::<Vec<_>>(),
            "columnKind": "unicodeCodePoints",
        }],
    })
}

fn rule(check: &Check) -> Value {
    json!({
        "id": check.name,
        "shortDescription": { "text": check.looks_for },
        "fullDescription": { "text": check.why },
        "help": { "text": check.mend },
        "defaultConfiguration": { "level": check.severity.name() },
        "properties": { "tags": [check.family.name()] },
    })
}

fn result(finding: &Finding) -> Value {
    let place = &finding.place;
    let mut physical = json!({ "artifactLocation": { "uri": uri(&place.file) } });
    if let Some(span) = &place.span {
        physical["region"] = json!({
            "startLine": span.line,
            "startColumn": span.column,
            "endColumn": span.column + span.width,
        });
    }
    let mut location = json!({ "physicalLocation": physical });
    // SARIF knows lines and bytes; pages and entries are places of their own kind.
    let logical: Vec<Value> = [
        place.page.map(|page| json!({ "name": page.to_string(), "kind": "page" })),
        place.entry.as_ref().map(|entry| json!({ "name": entry, "kind": "entry" })),
    ]
    .into_iter()
    .flatten()
    .collect();
    if !logical.is_empty() {
        location["logicalLocations"] = json!(logical);
    }
    // Every finding is made of a check of the catalogue, so that its index is always found.
    let index = CATALOGUE.binary_search_by(|c| c.name.cmp(&finding.check)).unwrap_or_default();
    let mut result = json!({
        "ruleId": finding.check,
        "ruleIndex": index,
        "level": level(finding.severity),
        "message": { "text": format!("{}. {}", finding.message, finding.help) },
        "locations": [location],
    });
    if let Some(reason) = &finding.lowered {
        result["properties"] = json!({ "lowered": reason });
    }
    result
}

fn level(severity: Severity) -> &'static str {
    severity.name()
}

/// A path as a relative reference (RFC 3986): whatever is neither unreserved nor a slash is escaped.
fn uri(path: &str) -> String {
    let mut out = String::with_capacity(path.len());
    for byte in path.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => out.push(char::from(byte)),
            _ => out.push_str(&format!("%{byte:02X}")),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use base::model::finding::Where;
    use judge::validate::find;

    #[test]
    fn a_result_points_at_its_rule_and_place() {
        let place = Where::page("my notes/gr\u{fc}n.pdf", 3);
        let report = sarif(&[Finding::of(find("link-to-nowhere").unwrap(), place, "gone")]);
        let run = &report["runs"][0];
        let result = &run["results"][0];
        let index = result["ruleIndex"].as_u64().unwrap() as usize;
        assert_eq!(run["tool"]["driver"]["rules"][index]["id"], "link-to-nowhere");
        let location = &result["locations"][0];
        assert_eq!(location["physicalLocation"]["artifactLocation"]["uri"], "my%20notes/gr%C3%BCn.pdf");
        assert_eq!(location["logicalLocations"][0]["name"], "3");
    }
}
