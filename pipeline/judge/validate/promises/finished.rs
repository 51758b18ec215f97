//! A finished file against what came out of it: all that was in it is still there, all that was laid over it is there
//! too, and nothing else.

use super::super::catalogue::{Findings, found};
use super::document;
use base::model::facts::{Inspected, Leads, LinkFacts, PdfFacts};
use base::model::finished::FinishedPlan;
use base::model::pdf_plan::Link;
use base::model::{Product, Where};

/// Numbers of boxes and places may be off by this much, in points: writers round.
const SLACK: f64 = 0.05;

/// Checks a finished PDF.
pub fn check(file: &Inspected, facts: &PdfFacts, plan: &FinishedPlan, product: &Product, findings: &mut Findings) {
    let at = || Where::file(&file.path);
    let from = &plan.from;
    if plan.is_untouched() {
        if plan.source.sha256().to_string() != file.sha256 {
            found!(
                findings,
                "finished-file-changed",
                at(),
                "{from} was to be taken byte for byte, and is another file"
            );
        }
        return;
    }
    let (has, planned) = (facts.pages.len(), plan.over.pages.len());
    if has != planned {
        found!(findings, "page-count-off-plan", at(), "the file has {has} pages, {planned} were planned");
    }
    for (i, (is, was)) in facts.pages.iter().zip(&plan.facts.pages).enumerate() {
        let at = || Where::page(&file.path, i + 1);
        let near = |a: [f64; 4], b: [f64; 4]| a.iter().zip(b).all(|(a, b)| (a - b).abs() <= SLACK);
        let same = near(is.media_box, was.media_box) && near(is.crop_box, was.crop_box);
        if !same || is.rotate != was.rotate || (is.user_unit - was.user_unit).abs() > 1e-6 {
            found!(findings, "finished-file-changed", at(), "the page's boxes or its turning are not those of {from}");
        }
        let marks = |p: &base::model::facts::PageFacts| p.drawn.map_or(0, |d| d.marks);
        if marks(is) < marks(was) {
            let (is, was) = (marks(is), marks(was));
            found!(findings, "finished-file-changed", at(), "the page draws {is} marks, in {from} it draws {was}");
        }
        if is.other_annotations.len() < was.other_annotations.len() {
            let (is, was) = (is.other_annotations.len(), was.other_annotations.len());
            found!(
                findings,
                "finished-file-changed",
                at(),
                "the page has {is} notes and fields, in {from} it has {was}"
            );
        }
        own_links(&is.links, &was.links, &at(), from, findings);
        if let (Some(page), Some(sheet)) = (plan.over.pages.get(i), plan.sheets.get(i)) {
            let laid: Vec<Link> =
                page.links.iter().map(|l| Link { rect: sheet.unturned(l.rect), ..l.clone() }).collect();
            let rest = is.links.get(was.links.len()..).unwrap_or_default();
            document::links(rest, &laid, &plan.over, &at(), findings);
        }
        let label = match plan.over.labels.as_slice() {
            [] => was.label.clone(),
            runs => document::label(runs, i),
        };
        if is.label != label {
            let [is, was] = [&is.label, &label].map(|l| l.as_deref().unwrap_or("none").to_owned());
            found!(
                findings,
                "page-label-off-plan",
                at(),
                "the page's label is \u{201c}{is}\u{201d}, planned was \u{201c}{was}\u{201d}"
            );
        }
    }
    outline(file, facts, plan, findings);
    let title = plan.facts.title.as_deref().unwrap_or(&plan.over.title);
    if facts.title.as_deref() != Some(title) {
        let is = facts.title.as_deref().unwrap_or("missing");
        found!(
            findings,
            "title-off-plan",
            at(),
            "the title is \u{201c}{is}\u{201d}, planned was \u{201c}{title}\u{201d}"
        );
    }
    let language = plan.facts.language.as_deref().unwrap_or(&product.language);
    if facts.language.as_deref() != Some(language) {
        let is = facts.language.as_deref().unwrap_or("missing");
        found!(
            findings,
            "language-off-plan",
            at(),
            "the language is \u{201c}{is}\u{201d}, planned was \u{201c}{language}\u{201d}"
        );
    }
}

/// The file's own links come first, each where it was and leading where it led.
fn own_links(is: &[LinkFacts], was: &[LinkFacts], at: &Where, from: &str, findings: &mut Findings) {
    let goal = |leads: &Leads| match leads {
        Leads::Page { page, .. } => format!("page {}", page + 1),
        Leads::Uri(address) => address.clone(),
        Leads::Nowhere(_) => "nowhere".to_owned(),
        Leads::Action(kind) => kind.clone(),
    };
    for (n, was) in was.iter().enumerate() {
        let Some(is) = is.get(n) else {
            let gone = goal(&was.leads);
            found!(findings, "finished-file-changed", at.clone(), "a link of {from} to {gone} is gone");
            continue;
        };
        let (a, b) = (is.rect, was.rect);
        let moved = [(a.x, b.x), (a.y, b.y), (a.w, b.w), (a.h, b.h)].iter().any(|(p, q)| (p - q).abs() > SLACK);
        if moved || goal(&is.leads) != goal(&was.leads) {
            let (now, then) = (goal(&is.leads), goal(&was.leads));
            let place = at.clone().rect(b);
            found!(
                findings,
                "finished-file-changed",
                place,
                "a link of {from} to {then} now leads to {now} or was moved"
            );
        }
    }
}

/// The file's own entries, unless they were to go, and then the planned ones.
fn outline(file: &Inspected, facts: &PdfFacts, plan: &FinishedPlan, findings: &mut Findings) {
    let mut planned: Vec<(usize, String, Option<usize>)> = Vec::new();
    if plan.keep_outline {
        let own = plan.facts.outline.iter();
        planned.extend(own.map(|o| (o.depth, o.title.clone(), o.leads.page())));
    }
    let mut flat = Vec::new();
    document::flatten(&plan.over.outline, 0, &mut flat);
    planned.extend(flat.into_iter().map(|(depth, e)| (depth, e.title.clone(), Some(e.page))));
    let found: Vec<_> = facts.outline.iter().map(|o| (o.depth, o.title.clone(), o.leads.page())).collect();
    if found.len() != planned.len() {
        let (is, was) = (found.len(), planned.len());
        found!(
            findings,
            "outline-off-plan",
            Where::file(&file.path),
            "the outline has {is} entries, {was} were planned"
        );
        return;
    }
    for (is, was) in found.iter().zip(&planned).filter(|(is, was)| is != was) {
        let page = |p: Option<usize>| p.map_or("nowhere".to_owned(), |p| format!("to page {}", p + 1));
        found!(
            findings,
            "outline-off-plan",
            Where::file(&file.path),
            "the outline entry \u{201c}{}\u{201d} leads {}; planned was \u{201c}{}\u{201d} {}",
            is.1,
            page(is.2),
            was.1,
            page(was.2)
        );
    }
}
