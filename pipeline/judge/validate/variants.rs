//! Variants side by side: a choice that changes no file is none.

use super::catalogue::{Findings, found};
use base::model::Where;
use base::model::facts::Inspected;
use base::model::variant::{self, Variant};
use std::collections::BTreeSet;

/// The file that a finding blames: the manifest has the choices.
const MANIFEST: &str = "product.toml";

/// Checks that every two variants that differ in one choice differ in a file.
pub fn check(files: &[Inspected], variants: &[Variant], findings: &mut Findings) {
    let own: Vec<BTreeSet<(String, &str)>> = (0..variants.len())
        .map(|v| {
            let mine = files.iter().filter(|f| variant::of(variants, variant::inside(&f.path)) == Some(v));
            mine.map(|f| (variant::common(variants, variant::inside(&f.path)), f.sha256.as_str())).collect()
        })
        .collect();
    // Rows with two choices, and for each pair of variants that differ in these alone whether they are the same.
    let mut pairs: Vec<([String; 3], [usize; 2], bool)> = Vec::new();
    for (i, one) in variants.iter().enumerate() {
        for (j, other) in variants.iter().enumerate().skip(i + 1) {
            let differ: Vec<_> = one.choices.iter().zip(&other.choices).filter(|(a, b)| a.name != b.name).collect();
            if let [(a, b)] = differ.as_slice() {
                let names = [a.row.clone(), a.name.clone(), b.name.clone()];
                pairs.push((names, [i, j], own[i] == own[j]));
            }
        }
    }
    let mut told: BTreeSet<&[String; 3]> = BTreeSet::new();
    for (names, [i, j], same) in &pairs {
        let [row, a, b] = names;
        if !same {
            continue;
        }
        let at = Where::file(MANIFEST);
        if pairs.iter().filter(|(other, ..)| other == names).all(|(.., same)| *same) {
            if told.insert(names) {
                found!(
                    findings,
                    "variant-changes-nothing",
                    at,
                    "`{a}` and `{b}` of [variants.{row}] come out the same, file for file"
                );
            }
        } else {
            let (one, other) = (&variants[*i].title, &variants[*j].title);
            found!(
                findings,
                "variant-changes-nothing",
                at,
                "the variants \u{201c}{one}\u{201d} and \u{201c}{other}\u{201d} come out the same, file for file"
            );
        }
    }
}
