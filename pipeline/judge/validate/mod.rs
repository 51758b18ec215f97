//! Findings: facts held against the check catalogue, and, where there is a plan, against every promise of the plan.
//!
//! A check that can be made of any file, whoever made it, lives in the file of its family. What only a plan can say (this
//! tab leads to that page) lives in `promises`. Nothing here reads bytes; facts come from `inspect`.

mod archive;
mod art;
mod bundle;
pub mod catalogue;
mod dates;
mod digits;
mod document;
mod fonts;
pub mod graph;
mod images;
pub mod kept;
mod kin;
mod language;
mod licences;
mod limits;
mod links;
mod listing;
mod look;
mod names;
mod pages;
mod pictures;
mod planned;
mod printed;
mod promises;
mod screen;
mod stickers;
mod tongues;
mod variants;
mod versions;

pub use bundle::with_kinds;
pub use catalogue::{CATALOGUE, find};
pub use look::drawn;
pub use versions::version;

use base::model::assets::Use;
use base::model::facts::{Facts, Inspected};
use base::model::finding::{Finding, Severity};
use base::model::pack;
use base::model::plan::{About, Make};
use base::model::product::Lowered;
use base::model::{Item, Place, Plan, Product};
use catalogue::{Findings, found};
use std::collections::{BTreeMap, BTreeSet};

/// A product, or a variant of it, and what was planned of it.
pub type Promised<'a> = (&'a Product, &'a Plan);

/// Checks the files. With a product and its plan, or those of every variant with the leading one first, every promise of
/// the plans is held against the files as well, and the manifest's own lowering of checks is applied. Worst first, then by
/// file and page.
pub fn judge(files: &[Inspected], against: &[Promised]) -> Vec<Finding> {
    let mut findings = Findings { planned: !against.is_empty(), ..Findings::default() };
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    for file in files {
        // The same bytes at a second place, such as a file that is uploaded as it lies loose, say nothing new.
        if !seen.insert(&file.sha256) {
            continue;
        }
        let planned = planned(file, against);
        let item = planned.map(|(_, item)| item);
        // What stands in a file that came finished was made elsewhere.
        findings.planned = !against.is_empty() && !item.is_some_and(|item| matches!(item.make, Make::Finished(_)));
        check_file(file, planned, &mut findings);
        findings.planned = !against.is_empty();
    }
    names::check(files, &mut findings);
    pages::together(files, &mut findings);
    images::pictures(files, &bundle::variants(files, against), &mut findings);
    variants::check(files, &bundle::variants(files, against), &mut findings);
    bundle::check(files, &mut findings);
    listing::check(files, against, &mut findings);
    dates::check_claims(files, &mut findings);
    // Limits and listing are those of the product as a whole.
    match against.first() {
        Some((product, plan)) => {
            limits::planned(files, product, plan, &mut findings);
            pictures::check(plan, &mut findings);
            promises::packed(files, against, &mut findings);
        }
        None => limits::found(files, &mut findings),
    }
    for (product, plan) in against {
        promises::check(files, product, plan, &mut findings);
        look::check(product, plan, &mut findings);
        // The ledger is one, but a variant may do with a file what another does not.
        licences::check(product, &mut findings);
        stickers::sources(files, product, plan, &mut findings);
        art::check(plan, &mut findings);
        kin::check(product, &mut findings);
    }
    let mut list = findings.list;
    match against.first() {
        Some((product, _)) => {
            permitted(&mut list, against);
            known_glyphs(&mut list, against);
            lower(&mut list, &product.lowered);
        }
        None => list = kept::told(list, files),
    }
    sort(&mut list);
    list
}

/// What can be said of a file by itself.
fn check_file(file: &Inspected, planned: Option<(&Product, &Item)>, findings: &mut Findings) {
    match &file.facts {
        Facts::Pdf(facts) => {
            document::check(file, facts, findings);
            pages::check(file, facts, findings);
            links::check(file, facts, findings);
            // What an update pack copies is no book: its pages lead home once they lie in the buyer's.
            if !file.path.contains(pack::FOLDER) {
                graph::check(file, facts, planned.and_then(|(product, item)| planned::index(product, item)), findings);
            }
            fonts::check(file, facts, findings);
            images::check(file, facts, findings);
            printed::check(file, facts, findings);
            dates::check(file, facts, planned.and_then(|(_, item)| places(item)), findings);
            digits::check(file, facts, findings);
            language::check(file, facts, findings);
            look::shown::check(file, facts, findings);
        }
        Facts::Png(facts) => stickers::check(file, facts, findings),
        Facts::Zip(facts) => archive::check(file, facts, findings),
        Facts::Text(text) => {
            if let Some(code) = &text.code {
                found!(
                    findings,
                    "text-not-utf-8",
                    base::model::Where::file(&file.path),
                    "the text is written in {code}"
                );
            }
        }
        Facts::Picture(_) => {}
        Facts::Unreadable(why) => {
            let place = base::model::Where::file(&file.path);
            found!(findings, "file-unreadable", place, "the file cannot be read: {why}");
        }
    }
}

/// How a file was planned.
fn planned<'a>(file: &Inspected, against: &[Promised<'a>]) -> Option<(&'a Product, &'a Item)> {
    let of = |(product, plan): &Promised<'a>| {
        let item = plan.items.iter().find(|item| item.path == file.path)?;
        Some((*product, item))
    };
    against.iter().find_map(of)
}

/// Where the places of a planned file are.
fn places(item: &Item) -> Option<&BTreeMap<Place, usize>> {
    match &item.make {
        Make::Pdf(pdf) => Some(&pdf.places),
        Make::Finished(finished) => Some(&finished.over.places),
        _ => None,
    }
}

/// What a font says of its own embedding counts for less where the ledger notes that the maker gave the right to it.
fn permitted(list: &mut [Finding], against: &[Promised]) {
    let mut receipts = Vec::new();
    let fonts =
        against.iter().flat_map(|(product, _)| product.style.fonts.values().flatten().map(move |f| (product, f)));
    for (product, font) in fonts.filter(|(_, f)| !f.built_in) {
        match product.assets.entry_of(&font.from).filter(|a| a.allows(Use::Embed)) {
            Some(asset) => receipts.push(asset.right_in_words()),
            // The name in the file does not tell which font it was: one without the right, and all are told.
            None => return,
        }
    }
    receipts.dedup();
    for finding in list.iter_mut().filter(|f| f.check.starts_with("font-embedding-")) {
        finding.severity = Severity::Note;
        finding.lowered = Some(format!("the ledger notes the right to embed it: {}", receipts.join(", ")));
    }
}

/// Where the plan names text and character, the file that counts glyphs says nothing new.
fn known_glyphs(list: &mut Vec<Finding>, against: &[Promised]) {
    let told = |(_, plan): &Promised| plan.remarks.iter().any(|r| r.about == About::GlyphMissing);
    if !against.iter().any(told) {
        return;
    }
    let of_plan = |f: &Finding| against.iter().any(|(_, p)| p.remarks.iter().any(|r| r.message == f.message));
    list.retain(|f| f.check != "font-glyph-missing" || of_plan(f));
}

/// Applies the severities that the manifest gives, with its reasons. A check that is switched off speaks no more.
fn lower(list: &mut Vec<Finding>, lowered: &BTreeMap<String, Lowered>) {
    list.retain_mut(|finding| match lowered.get(&*finding.check) {
        None => true,
        Some(lowered) => {
            finding.lowered = Some(lowered.reason.clone());
            if let Some(to) = lowered.to {
                finding.severity = to.max(finding.severity);
            }
            lowered.to.is_some()
        }
    });
}

/// Worst first, then by file, page, entry, check and place; equal findings stay once.
fn sort(list: &mut Vec<Finding>) {
    list.sort_by(|a, b| {
        let (p, q) = (&a.place, &b.place);
        a.severity
            .cmp(&b.severity)
            .then_with(|| p.file.cmp(&q.file))
            .then_with(|| p.page.cmp(&q.page))
            .then_with(|| p.entry.cmp(&q.entry))
            .then_with(|| a.check.cmp(&b.check))
            .then_with(|| a.message.cmp(&b.message))
    });
    list.dedup();
}

/// How many findings there are of each severity: errors, warnings, notes.
pub fn counts(findings: &[Finding]) -> (usize, usize, usize) {
    let of = |severity| findings.iter().filter(|f| f.severity == severity).count();
    (of(Severity::Error), of(Severity::Warning), of(Severity::Note))
}

#[cfg(test)]
mod tests;
