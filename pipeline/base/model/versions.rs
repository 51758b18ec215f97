//! The rule by which the number of a new version follows from what changed: which kinds of change make a major, a minor
//! or a patch version, and from which of them on past buyers are told to download again.

use super::change::{Change, Verdict};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// What a rule speaks of beside the kinds of change: cases of them that weigh otherwise, and what they weigh.
const CASES: [(&str, Verdict); 3] = [
    // A link to nowhere that leads somewhere now, or is gone: nobody loses anything by it.
    (LINK_MENDED, Verdict::Patch),
    // An entry of the outline that is gone while nothing else leads to its place.
    (PLACE_REMOVED, Verdict::Major),
    // Other terms bind buyers from now on: never a mere mending.
    (TERMS_CHANGED, Verdict::Minor),
];

/// A link that led nowhere, mended or taken away.
pub const LINK_MENDED: &str = "link-mended";
/// A place of the outline that is gone.
pub const PLACE_REMOVED: &str = "place-removed";
/// Other licence terms.
pub const TERMS_CHANGED: &str = "terms-changed";

/// The steps of a version number that a rule tells apart, the greatest first.
pub const STEPS: [Verdict; 3] = [Verdict::Major, Verdict::Minor, Verdict::Patch];

/// A rule.
#[derive(Clone, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub struct Rule {
    weights: BTreeMap<&'static str, Verdict>,
    /// The least step for which past buyers are told to download again; `None` for never.
    pub download_again: Option<Verdict>,
    /// Whether the product states it; otherwise it is the usual one.
    pub stated: bool,
    /// Whether a build makes a pack of new and changed pages for people who have the version before.
    pub update_pack: bool,
}

impl Default for Rule {
    fn default() -> Rule {
        let kinds = Change::ALL.iter().map(|kind| (kind.name(), usual(*kind)));
        Rule {
            weights: kinds.chain(CASES).collect(),
            download_again: Some(Verdict::Patch),
            stated: false,
            update_pack: false,
        }
    }
}

/// What a kind of change weighs where no product says otherwise: what older copies have and the new one has not is
/// major, what comes is minor, the rest is a mending (after semver.org, 2.0.0, items 6 to 8).
fn usual(kind: Change) -> Verdict {
    match kind {
        Change::FileRemoved
        | Change::PageRemoved
        | Change::LinkRemoved
        | Change::LinkRetargeted
        | Change::DatesMoved => Verdict::Major,
        Change::FileAdded | Change::PageInserted | Change::PageMoved | Change::LinkAdded => Verdict::Minor,
        Change::FileRenamed
        | Change::FileChanged
        | Change::PageRedrawn
        | Change::TextChanged
        | Change::LinkMoved
        | Change::ImageChanged
        | Change::MetadataChanged
        | Change::StoredDifferently => Verdict::Patch,
    }
}

impl Rule {
    /// All that a rule can speak of.
    pub fn names() -> impl Iterator<Item = &'static str> {
        Change::ALL.iter().map(|kind| kind.name()).chain(CASES.iter().map(|(name, _)| *name))
    }

    /// Lets something weigh so much; `false` if there is no such thing.
    pub fn set(&mut self, name: &str, step: Verdict) -> bool {
        let Some(known) = Rule::names().find(|n| *n == name) else { return false };
        self.weights.insert(known, step);
        true
    }

    /// What a kind of change, or a case of one, weighs.
    pub fn weight(&self, name: &str) -> Verdict {
        self.weights.get(name).copied().unwrap_or(Verdict::Patch)
    }

    /// Whether a change of this weight is worth a download to past buyers.
    pub fn is_worth_a_download(&self, weight: Verdict) -> bool {
        self.download_again.is_some_and(|least| weight >= least)
    }

    /// What makes each step, as the record and the report for other programs write it.
    pub fn to_json(&self) -> Value {
        let of = |step: Verdict| Rule::names().filter(|n| self.weight(n) == step).collect::<Vec<_>>();
        let mut out: Map<String, Value> = STEPS.iter().map(|step| (step.name().to_owned(), json!(of(*step)))).collect();
        out.insert("download_again".into(), json!(self.download_again.map_or("never", Verdict::name)));
        Value::Object(out)
    }

    /// The rule that a record states; `None` if it states none. What a later version of this program may have put
    /// into it is passed over.
    pub fn from_json(value: &Value) -> Option<Rule> {
        let table = value.as_object()?;
        let mut rule = Rule { stated: true, ..Rule::default() };
        for step in STEPS {
            let names = table.get(step.name()).and_then(Value::as_array).map(Vec::as_slice).unwrap_or_default();
            for name in names.iter().filter_map(Value::as_str) {
                rule.set(name, step);
            }
        }
        rule.download_again = match table.get("download_again").and_then(Value::as_str) {
            Some("never") => None,
            Some(word) => STEPS.into_iter().find(|step| step.name() == word).or(rule.download_again),
            None => rule.download_again,
        };
        Some(rule)
    }
}

/// The three numbers of a version; missing ones are 0, and what follows a hyphen or a plus does not count.
pub fn order(version: &str) -> Option<[u64; 3]> {
    let mut out = [0; 3];
    let bare = version.split(['-', '+']).next().unwrap_or(version);
    for (i, part) in bare.split('.').enumerate() {
        *out.get_mut(i)? = part.parse().ok()?;
    }
    Some(out)
}

/// The version number that a change asks for (semver.org, 2.0.0, items 6 to 8); `None` if `old` is no such number.
pub fn next_version(old: &str, verdict: Verdict) -> Option<String> {
    let [major, minor, patch] = order(old)?;
    Some(match verdict {
        Verdict::Same => old.to_owned(),
        Verdict::Patch => format!("{major}.{minor}.{}", patch + 1),
        Verdict::Minor => format!("{major}.{}.0", minor + 1),
        Verdict::Major => format!("{}.0.0", major + 1),
    })
}

/// Whether one version number is at least another.
pub fn at_least(version: &str, needed: &str) -> bool {
    match (order(version), order(needed)) {
        (Some(a), Some(b)) => a >= b,
        _ => version == needed,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn numbers_go_up_by_what_changed() {
        let next = |verdict| next_version("1.4.2", verdict).unwrap_or_default();
        assert_eq!(next(Verdict::Same), "1.4.2");
        assert_eq!(next(Verdict::Patch), "1.4.3");
        assert_eq!(next(Verdict::Minor), "1.5.0");
        assert_eq!(next(Verdict::Major), "2.0.0");
        assert_eq!(next_version("spring", Verdict::Minor), None);
        assert!(at_least("1.10", "1.9.9") && !at_least("1.4.2", "1.4.3"));
    }

    #[test]
    fn a_rule_is_read_as_it_was_written() {
        let mut rule = Rule { download_again: None, stated: true, ..Rule::default() };
        assert!(rule.set("page-moved", Verdict::Major) && rule.set(LINK_MENDED, Verdict::Minor));
        assert!(!rule.set("page-tickled", Verdict::Major));
        assert_eq!(Rule::from_json(&rule.to_json()).unwrap(), rule);
        assert_eq!(Rule::from_json(&Value::Null), None);
        let later = json!({ "major": ["page-folded", 3], "download_again": "sometimes" });
        assert_eq!(Rule::from_json(&later).unwrap(), Rule { stated: true, ..Rule::default() });
    }

    #[test]
    fn everything_has_a_weight() {
        let rule = Rule::default();
        assert!(Rule::names().all(|name| rule.weights.contains_key(name)));
        assert_eq!(rule.weight("page-removed"), Verdict::Major);
        assert!(rule.is_worth_a_download(Verdict::Patch) && !rule.is_worth_a_download(Verdict::Same));
    }
}
