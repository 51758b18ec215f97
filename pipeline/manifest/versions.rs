//! `[versions]`: which kinds of change make a major, a minor or a patch version, and when past buyers are told to
//! download again.

use super::raw;
use super::source::{Source, suggest};
use base::model::change::Verdict;
use base::model::versions::{Rule, STEPS};
use std::collections::BTreeMap;

/// Resolves the rule; what the table does not name keeps its usual weight.
pub fn resolve(source: &mut Source, raw: Option<&raw::Versions>) -> Rule {
    let Some(raw) = raw else { return Rule::default() };
    let mut rule = Rule::default();
    let says = raw.download_again.is_some() || [&raw.major, &raw.minor, &raw.patch].iter().any(|list| !list.is_empty());
    // Who only asks for a pack keeps the usual rule.
    rule.stated = says || !raw.update_pack;
    let mut told: BTreeMap<&str, Verdict> = BTreeMap::new();
    for (step, list) in STEPS.into_iter().zip([&raw.major, &raw.minor, &raw.patch]) {
        for word in list {
            let name = word.get_ref().as_str();
            if !rule.set(name, step) {
                let help = suggest(name, Rule::names());
                source.fault(word.span(), format!("there is no kind of change `{name}`"), Some(help));
            } else if let Some(first) = told.insert(name, step) {
                let (message, help) = if first == step {
                    (format!("`{name}` stands here twice"), "take one of them away".to_owned())
                } else {
                    let both = format!("`{name}` cannot make both a {} and a {} version", first.name(), step.name());
                    (both, "name it in one of the lists only".to_owned())
                };
                source.fault(word.span(), message, Some(help));
            }
        }
    }
    rule.update_pack = raw.update_pack;
    match &raw.download_again {
        None => {}
        Some(raw::DownloadAgain::Never) => rule.download_again = None,
        Some(raw::DownloadAgain::Patch) => rule.download_again = Some(Verdict::Patch),
        Some(raw::DownloadAgain::Minor) => rule.download_again = Some(Verdict::Minor),
        Some(raw::DownloadAgain::Major) => rule.download_again = Some(Verdict::Major),
    }
    rule
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (Rule, Vec<String>) {
        let mut source = Source::new("product.toml", text);
        let tables = source.tables();
        let raw: Option<raw::Manifest> = tables.and_then(|tables| source.typed(&tables));
        let rule = resolve(&mut source, raw.as_ref().and_then(|raw| raw.versions.as_ref()));
        let told = source.into_faults().into_iter().map(|f| {
            let place = f.span.map(|s| format!("{}:{} ", s.line, s.column)).unwrap_or_default();
            format!("{place}{} | {}", f.message, f.help.unwrap_or_default())
        });
        (rule, told.collect())
    }

    #[test]
    fn what_is_not_named_keeps_its_weight() {
        let (rule, faults) = read("[versions]\nminor = [\"page-redrawn\"]\ndownload-again = \"minor\"\n");
        assert!(faults.is_empty() && rule.stated, "{faults:?}");
        assert_eq!(rule.weight("page-redrawn"), Verdict::Minor);
        assert_eq!(rule.weight("page-removed"), Verdict::Major);
        assert_eq!(rule.download_again, Some(Verdict::Minor));
        assert_eq!(read("name = \"x\"").0, Rule::default());
    }

    #[test]
    fn every_fault_has_its_place() {
        let text = "[versions]\nmajor = [\"page-moved\", \"page-remove\"]\npatch = [\"page-moved\"]\n\
                    download-again = \"often\"\nmicro = []\n";
        let told = read(text).1;
        let begins = |n: usize, words: &str| told.get(n).is_some_and(|line| line.starts_with(words));
        assert_eq!(told.len(), 4, "{told:#?}");
        assert!(begins(0, "2:24 there is no kind of change `page-remove` | did you mean `page-removed`"), "{told:#?}");
        assert!(begins(1, "3:10 `page-moved` cannot make both a major and a patch version"), "{told:#?}");
        assert!(begins(2, "4:18 unknown value `often`"), "{told:#?}");
        assert!(begins(3, "5:1 unknown key `micro`"), "{told:#?}");
    }
}
