//! The version number, held against what changed since the version that buyers have.

use super::catalogue::{Findings, found};
use super::{lower, sort};
use base::model::difference::Since;
use base::model::product::Lowered;
use base::model::{Finding, Where};
use std::collections::BTreeMap;

/// Adds to the findings what there is to say of the version number. `lowered` are the checks that the manifest lowers.
pub fn version(findings: &mut Vec<Finding>, lowered: &BTreeMap<String, Lowered>, since: &Since) {
    let mut list = Findings { planned: true, ..Findings::default() };
    if let Some(numbers) = since.found.numbers.as_ref().filter(|n| !n.enough) {
        let whose = if since.issued { ", which buyers have" } else { "" };
        let why = match since.found.decisive.as_slice() {
            [] => String::new(),
            some => format!(": {}", some.join(", ")),
        };
        found!(
            list,
            "version-too-low",
            Where::file("product.toml"),
            "after {}{whose}, what changed asks for {} at least{why}; the manifest says {}",
            numbers.old,
            numbers.needed,
            numbers.new
        );
    }
    lower(&mut list.list, lowered);
    findings.extend(list.list);
    sort(findings);
}

#[cfg(test)]
pub mod tests {
    use super::*;
    use base::model::change::Verdict;
    use base::model::difference::{Checks, Comparison, Numbers};
    use base::model::versions::{Rule, at_least, next_version};

    /// The check that only two versions together can make speak.
    pub const CHECK: &str = "version-too-low";

    fn since(new: &str, verdict: Verdict) -> Since {
        let needed = next_version("1.2.0", verdict).unwrap_or_default();
        let numbers = Numbers { old: "1.2.0".into(), new: new.into(), enough: at_least(new, &needed), needed };
        let found = Comparison {
            same: false,
            verdict,
            download_again: true,
            differences: Vec::new(),
            files: Vec::new(),
            facts: Vec::new(),
            checks: Checks::default(),
            numbers: Some(numbers),
            rule: Rule::default(),
            decisive: vec!["2 pages gone".into()],
            product: None,
            released: None,
            language: None,
            kinds: Default::default(),
            variants: Default::default(),
        };
        Since { version: "1.2.0".into(), released: None, issued: true, line: "2 pages gone".into(), found }
    }

    #[test]
    fn a_number_that_is_too_low_is_told_and_one_that_is_enough_is_not() {
        let mut product = sample::product();
        for (new, verdict, told) in [
            ("1.2.1", Verdict::Patch, false),
            ("1.2.1", Verdict::Minor, true),
            ("1.3.0", Verdict::Minor, false),
            ("1.9.0", Verdict::Major, true),
            ("2.0.0", Verdict::Major, false),
        ] {
            let mut findings = Vec::new();
            version(&mut findings, &product.lowered, &since(new, verdict));
            let checks: Vec<&str> = findings.iter().map(|f| &*f.check).collect();
            assert_eq!(checks, if told { vec![CHECK] } else { Vec::new() }, "{new} {verdict:?}");
        }
        let mut findings = Vec::new();
        product.lowered.insert(CHECK.into(), Lowered { to: None, reason: "nobody has 1.2.0 yet".into() });
        version(&mut findings, &product.lowered, &since("1.2.1", Verdict::Major));
        assert!(findings.is_empty());
    }
}
