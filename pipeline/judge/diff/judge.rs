//! What the changes come to: how much each weighs, what the version number must become, whether to download again.

use super::facts::Record;
use super::names::{is_for_buyers, is_licence};
use base::model::change::{Change, Verdict};
use base::model::difference::{Checks, Comparison, Count, Difference, Numbers};
use base::model::versions::{TERMS_CHANGED, at_least, next_version};
use std::collections::BTreeSet;

/// Orders the differences and judges them. `same_terms` are licences of which only the version changed.
pub fn finish(
    mut differences: Vec<Difference>,
    facts: Vec<Count>,
    same_terms: &BTreeSet<String>,
    (old, new): (&Record, &Record),
) -> Comparison {
    for difference in differences.iter_mut().filter(|d| is_licence(&d.path) && !same_terms.contains(&d.path)) {
        if matches!(difference.kind, Change::TextChanged | Change::PageRedrawn | Change::FileChanged) {
            difference.case = TERMS_CHANGED;
            difference.message = format!("the licence terms changed: {}", difference.message);
        }
    }
    let rule = new.rule.clone().unwrap_or_default();
    for difference in &mut differences {
        // What buyers never get can break nothing that they have.
        let for_buyers = is_for_buyers(&difference.path) && !difference.is_copy();
        difference.weight = if for_buyers { rule.weight(difference.case) } else { Verdict::Patch };
    }
    differences.sort_by(|a, b| {
        let key =
            |d: &Difference| (!is_licence(&d.path), d.path.clone(), d.page_new.or(d.page_old).unwrap_or(0), d.kind);
        key(a).cmp(&key(b))
    });
    let verdict = differences.iter().map(|d| d.weight).max().unwrap_or(Verdict::Same);
    let gains = |d: &Difference| d.kind != Change::StoredDifferently && is_for_buyers(&d.path);
    let download_again = differences.iter().any(|d| gains(d) && rule.is_worth_a_download(d.weight));
    Comparison {
        same: differences.is_empty(),
        verdict,
        download_again,
        files: Vec::new(),
        facts,
        checks: Checks::default(),
        numbers: numbers(old, new, verdict),
        decisive: decisive(&differences, verdict),
        differences,
        rule,
        product: new.name.clone(),
        released: new.released.clone(),
        language: None,
        kinds: old.kinds.iter().chain(&new.kinds).map(|(path, kind)| (path.clone(), *kind)).collect(),
        variants: {
            let mut all = new.variants.clone();
            all.extend(old.variants.iter().filter(|v| !new.variants.iter().any(|n| n.name == v.name)).cloned());
            all
        },
    }
}

/// The changes that made the verdict what it is, counted by kind.
fn decisive(differences: &[Difference], verdict: Verdict) -> Vec<String> {
    let mut kinds: Vec<(Change, bool)> = differences
        .iter()
        .filter(|d| d.weight == verdict && !d.is_copy() && is_for_buyers(&d.path))
        .map(|d| (d.kind, d.case == TERMS_CHANGED))
        .collect();
    kinds.sort_unstable();
    let word = |k: &[(Change, bool)]| match k[0] {
        (_, true) => "other licence terms".to_owned(),
        (kind, _) => format!("{} {}", k.len(), kind.words(k.len())),
    };
    let mut words: Vec<String> = kinds.chunk_by(|a, b| a == b).map(word).collect();
    words.dedup();
    words
}

/// What is said where nothing changed for buyers.
pub const NOTHING: &str = "nothing that buyers get";

/// What changed of what buyers get, in one line.
pub fn line(found: &Comparison) -> String {
    let told = found.differences.iter().filter(|d| is_for_buyers(&d.path) && !d.is_copy());
    let mut kinds: Vec<Change> = told.map(|d| d.kind).collect();
    kinds.sort_unstable();
    if kinds.is_empty() {
        return NOTHING.to_owned();
    }
    let counts: Vec<String> =
        kinds.chunk_by(|a, b| a == b).map(|k| format!("{} {}", k.len(), k[0].words(k.len()))).collect();
    counts.join(", ")
}

/// The version numbers, and what the new one must be at least.
fn numbers(old: &Record, new: &Record, verdict: Verdict) -> Option<Numbers> {
    let (old, new) = (old.version.clone()?, new.version.clone()?);
    let needed = next_version(&old, verdict)?;
    Some(Numbers { enough: at_least(&new, &needed), old, new, needed })
}
