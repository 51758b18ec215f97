//! A planned PDF against the bytes: pages, sizes, labels, outline, title, language, and every single link.

use super::super::catalogue::{Findings, found};
use super::super::links::words;
use super::super::pages::{shown_size, sides};
use base::model::facts::{Inspected, Leads, LinkFacts, PdfFacts};
use base::model::geometry::Rect;
use base::model::pdf_plan::{Entry, LabelRun, LabelStyle, Link, PdfPlan, Target};
use base::model::units::trim_number;
use base::model::{Product, Where};

/// How far a tap area may lie off its planned place, in points: writers round to fewer digits than planners reckon with.
const SLACK: f64 = 0.1;

/// Checks a PDF.
pub fn check(file: &Inspected, facts: &PdfFacts, plan: &PdfPlan, product: &Product, findings: &mut Findings) {
    let at = || Where::file(&file.path);
    let (has, planned) = (facts.pages.len(), plan.pages.len());
    if has != planned {
        found!(findings, "page-count-off-plan", at(), "the file has {has} pages, {planned} were planned");
    }
    sizes(file, facts, product, findings);
    for (i, page) in facts.pages.iter().enumerate() {
        let label = label(&plan.labels, i);
        if page.label != label {
            let [is, was] = [&page.label, &label].map(|l| l.as_deref().unwrap_or("none").to_owned());
            let at = Where::page(&file.path, i + 1);
            found!(
                findings,
                "page-label-off-plan",
                at,
                "the page's label is \u{201c}{is}\u{201d}, planned was \u{201c}{was}\u{201d}"
            );
        }
    }
    outline(file, facts, plan, findings);
    if facts.title.as_deref() != Some(plan.title.as_str()) {
        let is = facts.title.as_deref().unwrap_or("missing");
        found!(
            findings,
            "title-off-plan",
            at(),
            "the title is \u{201c}{is}\u{201d}, planned was \u{201c}{}\u{201d}",
            plan.title
        );
    }
    if facts.language.as_deref() != Some(product.language.as_str()) {
        let is = facts.language.as_deref().unwrap_or("missing");
        let was = &product.language;
        found!(
            findings,
            "language-off-plan",
            at(),
            "the language is \u{201c}{is}\u{201d}, planned was \u{201c}{was}\u{201d}"
        );
    }
    for (i, (page, planned)) in facts.pages.iter().zip(&plan.pages).enumerate() {
        links(&page.links, &planned.links, plan, &Where::page(&file.path, i + 1), findings);
    }
}

/// Every page has the product's size, whatever the file: pages are copied from one into another.
fn sizes(file: &Inspected, facts: &PdfFacts, product: &Product, findings: &mut Findings) {
    let wanted = product.page.size;
    for (i, page) in facts.pages.iter().enumerate() {
        let [w, h] = sides(page);
        if (w - wanted.w).abs() > SLACK || (h - wanted.h).abs() > SLACK {
            let [ww, wh] = [wanted.w, wanted.h].map(|v| trim_number(v, 2));
            found!(
                findings,
                "page-size-off-plan",
                Where::page(&file.path, i + 1),
                "the page is {}, the product's is {ww} \u{d7} {wh} pt",
                shown_size(page)
            );
        }
    }
}

/// The label that the runs give a page.
pub fn label(runs: &[LabelRun], page: usize) -> Option<String> {
    let run = runs.iter().filter(|r| r.page <= page).max_by_key(|r| r.page)?;
    let n = page - run.page + 1;
    let number = match run.style {
        LabelStyle::Decimal => n.to_string(),
        LabelStyle::Roman => roman(n),
        LabelStyle::None => String::new(),
    };
    Some(format!("{}{number}", run.prefix))
}

/// Small Roman numerals, written here anew: the reader has its own, and the two must agree.
fn roman(n: usize) -> String {
    const DIGITS: [[&str; 10]; 3] = [
        ["", "i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix"],
        ["", "x", "xx", "xxx", "xl", "l", "lx", "lxx", "lxxx", "xc"],
        ["", "c", "cc", "ccc", "cd", "d", "dc", "dcc", "dccc", "cm"],
    ];
    format!("{}{}{}{}", "m".repeat(n / 1000), DIGITS[2][n / 100 % 10], DIGITS[1][n / 10 % 10], DIGITS[0][n % 10])
}

fn outline(file: &Inspected, facts: &PdfFacts, plan: &PdfPlan, findings: &mut Findings) {
    let mut planned = Vec::new();
    flatten(&plan.outline, 0, &mut planned);
    let at = || Where::file(&file.path);
    if planned.len() != facts.outline.len() {
        let (is, was) = (facts.outline.len(), planned.len());
        found!(findings, "outline-off-plan", at(), "the outline has {is} entries, {was} were planned");
        return;
    }
    for (is, (depth, was)) in facts.outline.iter().zip(planned) {
        let right = is.depth == depth && is.title == was.title && is.leads.page() == Some(was.page);
        if !right {
            let goal = is.leads.page().map_or("nowhere".to_owned(), |p| format!("to page {}", p + 1));
            found!(
                findings,
                "outline-off-plan",
                at(),
                "the outline entry \u{201c}{}\u{201d} leads {goal}; planned was \u{201c}{}\u{201d} to page {}",
                is.title,
                was.title,
                was.page + 1
            );
        }
    }
}

/// Entries with their depth, in reading order.
pub fn flatten<'p>(entries: &'p [Entry], depth: usize, into: &mut Vec<(usize, &'p Entry)>) {
    for entry in entries {
        into.push((depth, entry));
        flatten(&entry.children, depth + 1, into);
    }
}

/// Pairs the links of a page with the planned ones, and says what is missing, too many or led astray.
pub fn links(found: &[LinkFacts], planned: &[Link], plan: &PdfPlan, at: &Where, findings: &mut Findings) {
    let mut taken = vec![false; found.len()];
    for (n, link) in planned.iter().enumerate() {
        // Writers keep the order, so the first look is at the same number; if that fails, everywhere.
        let fits = |i: &usize| !taken[*i] && near(found[*i].rect, link.rect);
        let right = |i: &usize| fits(i) && leads_right(&found[*i], &link.target, plan);
        let same = (n < found.len()).then_some(n);
        let hit = same.filter(right).or_else(|| (0..found.len()).find(right)).or_else(|| (0..found.len()).find(fits));
        let place = at.clone().rect(link.rect);
        let Some(i) = hit else {
            let rect = words(link.rect);
            found!(
                findings,
                "link-missing",
                place,
                "the planned link {rect} to \u{201c}{}\u{201d} is not there",
                link.target
            );
            continue;
        };
        taken[i] = true;
        if !leads_right(&found[i], &link.target, plan) {
            let goal = goal(&found[i].leads);
            let wanted = match &link.target {
                Target::Place(p) => match plan.places.get(p) {
                    Some(page) => format!("\u{201c}{p}\u{201d} on page {}", page + 1),
                    None => format!("\u{201c}{p}\u{201d}, which no page of the file is"),
                },
                Target::Address(a) => format!("\u{201c}{a}\u{201d}"),
            };
            found!(findings, "link-off-plan", place, "the link leads {goal}; planned was {wanted}");
        }
    }
    for (link, _) in found.iter().zip(&taken).filter(|(_, taken)| !**taken) {
        let (rect, goal) = (words(link.rect), goal(&link.leads));
        found!(
            findings,
            "link-not-planned",
            at.clone().rect(link.rect),
            "nobody planned the link {rect}, which leads {goal}"
        );
    }
}

fn near(a: Rect, b: Rect) -> bool {
    [(a.x, b.x), (a.y, b.y), (a.right(), b.right()), (a.bottom(), b.bottom())]
        .iter()
        .all(|(p, q)| (p - q).abs() <= SLACK)
}

fn leads_right(link: &LinkFacts, target: &Target, plan: &PdfPlan) -> bool {
    match (&link.leads, target) {
        (Leads::Page { page, .. }, Target::Place(place)) => plan.places.get(place) == Some(page),
        (Leads::Uri(address), Target::Address(wanted)) => **address == **wanted,
        _ => false,
    }
}

fn goal(leads: &Leads) -> String {
    match leads {
        Leads::Page { page, .. } => format!("to page {}", page + 1),
        Leads::Uri(address) => format!("to \u{201c}{address}\u{201d}"),
        Leads::Nowhere(_) => "nowhere".to_owned(),
        Leads::Action(kind) => format!("to the action {kind}"),
    }
}

#[cfg(test)]
mod tests {
    use super::{LabelRun, LabelStyle, label, roman};

    #[test]
    fn labels_count_from_the_run_in_which_they_are() {
        let run = |page, prefix: &str, style| LabelRun { page, prefix: prefix.to_owned(), style };
        let runs = [run(0, "", LabelStyle::Roman), run(3, "", LabelStyle::Decimal), run(9, "S-", LabelStyle::Decimal)];
        let labels: Vec<_> = [0, 2, 3, 8, 9, 10].map(|p| label(&runs, p).unwrap_or_default()).into();
        assert_eq!(labels, ["i", "iii", "1", "6", "S-1", "S-2"]);
        assert_eq!(label(&[], 3), None);
        assert_eq!(roman(1994), "mcmxciv");
    }
}
