//! Findings of the checks that came and went.

use base::model::Finding;
use base::model::difference::{Checks, Told};
use std::collections::BTreeMap;

/// Tells findings of two versions apart. The same finding may stand on another page and count other things, so that
/// check, file and words without numbers say which is which.
pub fn compare(old: &[Finding], new: &[Finding]) -> Checks {
    let key = |f: &Finding| {
        let words: String = f.message.chars().filter(|c| !c.is_ascii_digit()).collect();
        (f.check.clone(), f.place.file.clone(), words)
    };
    let mut left: BTreeMap<_, Vec<&Finding>> = BTreeMap::new();
    for finding in old.iter().rev() {
        left.entry(key(finding)).or_default().push(finding);
    }
    let mut checks = Checks::default();
    for finding in new {
        if left.get_mut(&key(finding)).and_then(Vec::pop).is_none() {
            checks.new.push(told(finding));
        }
    }
    checks.mended = left.into_values().flatten().map(told).collect();
    for list in [&mut checks.mended, &mut checks.new] {
        list.sort_by(|a, b| (&a.check, &a.file, a.page, &a.message).cmp(&(&b.check, &b.file, b.page, &b.message)));
    }
    checks
}

fn told(f: &Finding) -> Told {
    Told {
        check: f.check.clone().into_owned(),
        severity: f.severity.name().to_owned(),
        file: f.place.file.clone(),
        page: f.place.page,
        message: f.message.clone(),
    }
}
