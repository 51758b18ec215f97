//! Links as a whole: can every page be reached and left, do the tabs agree, how many taps does a way take.

mod reach;

use super::catalogue::{Findings, found};
use super::links::words;
use super::screen::px_per_point;
use base::model::Where;
use base::model::facts::{Inspected, PdfFacts};
use std::collections::BTreeMap;

pub use reach::Planned;

/// A file is a linked notebook when at least this share of its pages has a link to another page.
const LINKED: f64 = 0.5;
/// A tap area that stands at one place on at least this many pages is a tab.
const TAB_PAGES: usize = 4;
/// An area that is smaller than this both ways, in CSS pixels, is no tab (WCAG 2.2, 2.5.8: the least target): days of small months
/// come to lie on each other from page to page by chance.
const LEAST_TAB: f64 = 24.0;
/// Of them, this share must lead to one page before the others count as led astray.
const AGREE: f64 = 0.8;
/// The most steps of the search for ways; larger files get no figures.
const MAX_STEPS: usize = 60_000_000;

/// How far it is from page to page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taps {
    /// The most taps that any way takes.
    pub greatest: usize,
    /// The mean over all pairs of pages with a way between them.
    pub mean: f64,
    /// Pairs of pages without a way.
    pub apart: usize,
}

/// Checks the links of a file as a whole. Of a planned notebook, the plan says where its index is.
pub fn check(file: &Inspected, facts: &PdfFacts, plan: Option<Planned>, findings: &mut Findings) {
    let ways = ways(facts);
    if is_linked(&ways) {
        reach::check(file, facts, &ways, plan, findings);
        tabs(file, facts, findings);
    }
}

/// Where one gets from each page with one tap: page indices, sorted, each once.
fn ways(facts: &PdfFacts) -> Vec<Vec<usize>> {
    let count = facts.pages.len();
    let from = |(i, page): (usize, &base::model::facts::PageFacts)| {
        let mut to: Vec<usize> =
            page.links.iter().filter_map(|l| l.leads.page()).filter(|p| *p < count && *p != i).collect();
        to.sort_unstable();
        to.dedup();
        to
    };
    facts.pages.iter().enumerate().map(from).collect()
}

fn is_linked(ways: &[Vec<usize>]) -> bool {
    ways.len() > 2 && ways.iter().filter(|to| !to.is_empty()).count() as f64 >= LINKED * ways.len() as f64
}

/// The pages that are reached from a page by any number of taps.
fn flood(ways: &[Vec<usize>], from: usize) -> Vec<bool> {
    let mut reached = vec![false; ways.len()];
    reached[from] = true;
    let mut open = vec![from];
    while let Some(at) = open.pop() {
        for to in &ways[at] {
            if !reached[*to] {
                reached[*to] = true;
                open.push(*to);
            }
        }
    }
    reached
}

/// Tap areas at one place on many pages that nearly all lead to one page: the few others have gone astray.
fn tabs(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    let mut places: BTreeMap<[i64; 4], Vec<(usize, usize)>> = BTreeMap::new();
    for (i, page) in facts.pages.iter().enumerate() {
        let px = px_per_point(page.size);
        for link in page.links.iter().filter(|link| link.rect.w.max(link.rect.h) * px >= LEAST_TAB) {
            let key = [link.rect.x, link.rect.y, link.rect.w, link.rect.h].map(|v| v.round() as i64);
            if let Some(to) = link.leads.page() {
                places.entry(key).or_default().push((i, to));
            }
        }
    }
    for (key, uses) in places.into_iter().filter(|(_, uses)| uses.len() >= TAB_PAGES) {
        let mut targets: BTreeMap<usize, usize> = BTreeMap::new();
        for (_, to) in &uses {
            *targets.entry(*to).or_default() += 1;
        }
        let Some((usual, times)) = targets.into_iter().max_by_key(|(to, times)| (*times, usize::MAX - to)) else {
            continue;
        };
        if times == uses.len() || (times as f64) < AGREE * uses.len() as f64 {
            continue;
        }
        let [x, y, w, h] = key.map(|v| v as f64);
        let rect = base::model::geometry::Rect::new(x, y, w, h);
        for (page, to) in uses.into_iter().filter(|(_, to)| *to != usual) {
            let (area, to, usual) = (words(rect), to + 1, usual + 1);
            found!(
                findings,
                "tabs-disagree",
                Where::page(&file.path, page + 1).rect(rect),
                "the tap area {area} leads to page {to}, but on {times} other pages to page {usual}"
            );
        }
    }
}

/// How many taps the ways between pages take; `None` for a file that is no linked notebook, or too large to reckon.
pub fn taps(facts: &PdfFacts) -> Option<Taps> {
    let ways = ways(facts);
    if !is_linked(&ways) {
        return None;
    }
    // Pages with the same targets have the same distances to all others, so each set of targets is searched from once.
    let mut groups: BTreeMap<&[usize], Vec<usize>> = BTreeMap::new();
    for (i, to) in ways.iter().enumerate() {
        groups.entry(to).or_default().push(i);
    }
    let edges: usize = ways.iter().map(Vec::len).sum();
    if steps(groups.len(), edges, ways.len()) > MAX_STEPS {
        return None;
    }
    let (mut greatest, mut sum, mut pairs) = (0, 0, 0);
    for (to, members) in groups {
        let distance = distances(&ways, to);
        for member in members {
            for (goal, taps) in distance.iter().enumerate().filter(|(goal, _)| *goal != member) {
                if let Some(taps) = taps {
                    greatest = greatest.max(*taps);
                    sum += taps;
                    pairs += 1;
                } else {
                    debug_assert!(goal < ways.len());
                }
            }
        }
    }
    let all = ways.len() * (ways.len() - 1);
    Some(Taps { greatest, mean: sum as f64 / pairs.max(1) as f64, apart: all - pairs })
}

/// The most steps that a search from so many sets of targets takes, each of which may go along every link to every page.
fn steps(searches: usize, links: usize, pages: usize) -> usize {
    searches.saturating_mul(links + pages)
}

/// Taps from a page with these targets to every page.
fn distances(ways: &[Vec<usize>], first: &[usize]) -> Vec<Option<usize>> {
    let mut distance = vec![None; ways.len()];
    let mut ring: Vec<usize> = first.to_vec();
    let mut taps = 0;
    while !ring.is_empty() {
        taps += 1;
        let mut next = Vec::new();
        for at in ring {
            if distance[at].is_none() {
                distance[at] = Some(taps);
                next.extend(ways[at].iter().copied().filter(|to| distance[*to].is_none()));
            }
        }
        ring = next;
    }
    distance
}

#[cfg(test)]
mod tests {
    use super::*;
    use base::model::facts::{Facts, Leads, LinkFacts, PageFacts};
    use base::model::geometry::{Rect, Size};
    use std::borrow::Cow;

    pub(super) fn file(ways: &[&[usize]]) -> PdfFacts {
        let link =
            |to: &usize| LinkFacts { leads: Leads::Page { page: *to, left: None, top: None }, ..LinkFacts::default() };
        let page = |to: &&[usize]| PageFacts { links: to.iter().map(link).collect(), ..PageFacts::default() };
        PdfFacts { pages: ways.iter().map(page).collect(), ..PdfFacts::default() }
    }

    #[test]
    fn a_ring_takes_as_many_taps_as_it_has_pages() {
        let taps = taps(&file(&[&[1], &[2], &[3], &[0]])).expect("the ring is linked");
        assert_eq!((taps.greatest, taps.mean, taps.apart), (3, 2.0, 0));
    }

    #[test]
    fn a_star_takes_two() {
        let taps = taps(&file(&[&[1, 2, 3], &[0], &[0], &[0]])).expect("the star is linked");
        // Six ways of one tap, six of two.
        assert_eq!((taps.greatest, taps.mean), (2, 1.5));
    }

    /// What is said of five pages of such a size, of which the last has its tap area lead elsewhere than the others.
    fn said_of_tabs(size: Size, side: f64) -> Vec<(Cow<'static, str>, String)> {
        let link = |to: usize| LinkFacts {
            rect: Rect::new(10.0, 20.0, side, side / 2.0),
            leads: Leads::Page { page: to, left: None, top: None },
            ..LinkFacts::default()
        };
        let page = |i: usize| PageFacts { size, links: vec![link(usize::from(i == 4))], ..PageFacts::default() };
        let facts = PdfFacts { pages: (0..5).map(page).collect(), ..PdfFacts::default() };
        let of = Inspected {
            path: "log.pdf".into(),
            kind: None,
            size: 0,
            sha256: String::new(),
            facts: Facts::Unreadable(String::new()),
        };
        let mut findings = Findings::default();
        tabs(&of, &facts, &mut findings);
        findings.list.into_iter().map(|finding| (finding.check, finding.message.to_string())).collect()
    }

    /// 24 pixels on a screen whose longer side has 1,180, whatever the page's size in points.
    #[test]
    fn a_tab_is_at_least_as_large_as_a_target() {
        for long in [300.0, 842.0, 3000.0] {
            let least = 24.0 * long / 1180.0;
            for size in [Size::new(long, long * 0.7), Size::new(long * 0.7, long)] {
                let said = said_of_tabs(size, least * 1.01);
                let [(check, message)] = &said[..] else { panic!("{size:?}: {said:?}") };
                assert_eq!(check, "tabs-disagree", "{size:?}");
                // Pages are counted from 1.
                let where_to = "leads to page 2, but on 4 other pages to page 1";
                assert!(message.ends_with(where_to), "{message}");
                assert_eq!(said_of_tabs(size, least * 0.99), [], "{size:?}");
            }
        }
    }

    #[test]
    fn each_search_may_go_along_every_link_to_every_page() {
        assert_eq!(steps(1_000, 22_000, 1_000), 23_000_000);
        assert_eq!(steps(usize::MAX, 2, 2), usize::MAX);
    }

    #[test]
    fn ways_that_do_not_exist_are_counted() {
        let taps = taps(&file(&[&[1], &[0], &[0]])).expect("it is linked");
        assert_eq!(taps.apart, 2);
    }
}
