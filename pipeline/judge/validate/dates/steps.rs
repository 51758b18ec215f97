//! Previous and next: what leads to the neighbour on most pages of a kind must do so on all of them.

use super::book::{Book, Run};
use super::day::Period;
use super::heading::within;
use crate::validate::catalogue::{Findings, found};
use base::model::Rect;
use base::model::facts::LinkFacts;
use std::collections::{BTreeMap, BTreeSet};

/// So many pages must have a step at one place, and this share of them must agree, before the others have gone astray.
const AGREE: (usize, f64) = (4, 0.75);

/// A tap area at a place, and where it leads.
struct Tap<'a> {
    page: usize,
    /// Which of the run's periods the page is of.
    own: usize,
    /// Which of the run's periods it leads to; `None` where it leads elsewhere.
    goal: Option<usize>,
    link: &'a LinkFacts,
}

/// Checks the steps between days, weeks and months.
pub fn check(book: &Book, findings: &mut Findings) {
    for run in [book.days(), book.weeks(), book.months()].into_iter().flatten() {
        steps(book, &run, findings);
    }
}

fn steps(book: &Book, run: &Run, findings: &mut Findings) {
    // Pages of the run: two days on one page are one step.
    let like = |p: &Period| run.there.first().is_some_and(|first| first.is_like(*p));
    let order: BTreeMap<Period, usize> =
        book.by_period.keys().filter(|p| like(p)).enumerate().map(|(i, p)| (*p, i)).collect();
    let place = |page: usize| book.sheets.get(page)?.period().and_then(|p| order.get(&p)).copied();
    let mut places: BTreeMap<[i64; 3], Vec<Tap>> = BTreeMap::new();
    for (page, sheet) in book.sheets.iter().enumerate() {
        let Some(own) = place(page) else { continue };
        // Of tap areas at one place of a page, as a corner that two of them share, one is looked at.
        let mut seen = BTreeSet::new();
        // What stands in a grid leads to its own day or week, and is no step.
        let in_grid: Vec<_> = sheet
            .grids
            .iter()
            .flat_map(|grid| &grid.rows)
            .flat_map(|row| row.cells.iter().map(|c| c.line).chain(row.week.map(|(_, line)| line)))
            .map(|line| sheet.lines[line].area.centre())
            .collect();
        for link in &sheet.facts.links {
            if in_grid.iter().any(|at| within(link.rect, at.x, at.y)) {
                continue;
            }
            let Some(goal) = link.leads.page() else { continue };
            for key in keys(link.rect).into_iter().filter(|key| seen.insert(*key)) {
                places.entry(key).or_default().push(Tap { page, own, goal: place(goal), link });
            }
        }
    }
    let mut told: BTreeSet<(usize, [i64; 4])> = BTreeSet::new();
    for taps in places.into_values().filter(|taps| taps.len() >= AGREE.0) {
        for step in [1_i64, -1] {
            let leads = |tap: &Tap| tap.goal.is_some_and(|goal| goal as i64 - tap.own as i64 == step);
            let right = taps.iter().filter(|tap| leads(tap)).count();
            if right < AGREE.0 || (right as f64) < AGREE.1 * taps.len() as f64 {
                continue;
            }
            for tap in taps.iter().filter(|tap| !leads(tap)) {
                astray(book, &order, tap, step, &mut told, findings);
            }
        }
    }
}

fn astray(
    book: &Book,
    order: &BTreeMap<Period, usize>,
    tap: &Tap,
    step: i64,
    told: &mut BTreeSet<(usize, [i64; 4])>,
    findings: &mut Findings,
) {
    // At the ends there is nothing to lead to, and a step may lead up or to the other end.
    let Some(meant) = usize::try_from(tap.own as i64 + step).ok().filter(|to| *to < order.len()) else { return };
    let area = tap.link.rect;
    let corner = [area.x, area.y, area.w, area.h].map(|v| v.round() as i64);
    if !told.insert((tap.page, corner)) {
        return;
    }
    let said = |place: usize| order.keys().nth(place).map_or_else(String::new, |p| p.said(book.words));
    let page = tap.link.leads.page().map_or(0, |page| page + 1);
    let there = book.sheets.get(page.saturating_sub(1)).and_then(|s| s.period()).map(|p| p.said(book.words));
    let there = there.map_or_else(|| format!("page {page}"), |there| format!("page {page}, headed {there}"));
    let way = if step > 0 { "next" } else { "previous" };
    found!(
        findings,
        "date-steps-broken",
        book.at(tap.page).rect(area),
        "the step to the {way} page of {} leads to {there}, and not to {}",
        said(tap.own),
        said(meant)
    );
}

/// Where a tap area lies: by its left edge, middle or right edge, as its width may follow its words.
fn keys(area: Rect) -> [[i64; 3]; 3] {
    let step = |v: f64| (v / 2.0).round() as i64;
    [[0, step(area.x), step(area.y)], [1, step(area.centre().x), step(area.y)], [2, step(area.right()), step(area.y)]]
}
