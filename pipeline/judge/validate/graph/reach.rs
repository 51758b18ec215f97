//! Can every page of a linked notebook be reached by taps, and does a way of taps lead back from it?
//!
//! A file is judged when it was planned with an index, or when it looks as if it was made to be tapped through: on half
//! of its pages a link within the file stands at one and the same place. Pages that a book merely refers to are not
//! expected to be reached.

use super::flood;
use crate::validate::catalogue::{Findings, found};
use base::model::Where;
use base::model::facts::{Inspected, PdfFacts};
use std::collections::{BTreeMap, BTreeSet};

/// This share of the pages has a link at the same place in a file that was made to be tapped through.
const FURNISHED: f64 = 0.5;
/// Pages to which nearly as many others lead as to the one with the most are homes as well as that one.
const NEARLY: f64 = 0.9;
/// More swipes than this to a page, and nobody looks for it (our own measure).
const SWIPES: usize = 10;
/// Where all but this share of the pages is reached by taps, the others were forgotten; where more are not, the file is
/// meant to be swiped through from its dividers.
const FORGOTTEN: f64 = 0.2;

/// What is known of a planned notebook.
pub struct Planned {
    /// The index.
    pub home: usize,
    /// Pages that have a name of their own and should be reached by taps.
    pub named: BTreeSet<usize>,
}

/// Checks the ways of taps in a file.
pub fn check(file: &Inspected, facts: &PdfFacts, ways: &[Vec<usize>], plan: Option<Planned>, findings: &mut Findings) {
    let planned = plan.is_some();
    let known = plan.or_else(|| {
        let named = facts.outline.iter().filter_map(|e| e.leads.page()).collect();
        guessed_home(facts, ways).map(|home| Planned { home, named })
    });
    let Some(Planned { home, named }) = known.filter(|known| known.home < ways.len()) else { return };
    let mut there = flood(ways, home);
    // A page that stands in the file twice is reached when it is reached at its first place.
    for (i, first) in facts.pages.iter().enumerate().filter_map(|(i, page)| Some((i, page.again?))) {
        there[i] |= there.get(first) == Some(&true);
    }
    let home_again = flood(&back(ways), home);
    for i in (0..ways.len()).filter(|i| !home_again[*i]) {
        let at = Where::page(&file.path, i + 1);
        found!(findings, "page-without-way-home", at, "no way of taps leads from this page to page {}", home + 1);
    }
    let lost = there.iter().filter(|reached| !**reached).count();
    let forgotten = !planned && lost as f64 <= FORGOTTEN * ways.len() as f64;
    // Cover and welcome page are read on the way in, before the first page that a tap leads to.
    let first = (1..ways.len()).find(|i| there[*i]).unwrap_or(0);
    let (mut last, mut behind_lost) = (first, false);
    for (i, reached) in there.iter().enumerate().skip(first) {
        if *reached {
            (last, behind_lost) = (i, false);
            continue;
        }
        // How many pages in a row no tap leads to: a run that is too long is told as a whole, not from where it begins to be.
        let run = there[last + 1..].iter().take_while(|reached| !**reached).count();
        let at = Where::page(&file.path, i + 1);
        let far = i - last > SWIPES;
        let long = run > SWIPES;
        // What follows a page out of reach is out of reach as well.
        behind_lost |= named.contains(&i) || far && forgotten;
        if behind_lost {
            found!(findings, "page-out-of-reach", at, "no way of taps leads from page {} to this page", home + 1);
        } else if long || !planned {
            found!(
                findings,
                "page-only-swiped-to",
                at,
                "no tap leads to this page, only swiping on from those before it"
            );
        }
    }
}

/// Where one comes from to each page.
fn back(ways: &[Vec<usize>]) -> Vec<Vec<usize>> {
    let mut back: Vec<Vec<usize>> = vec![Vec::new(); ways.len()];
    for (i, to) in ways.iter().enumerate() {
        for t in to {
            back[*t].push(i);
        }
    }
    back
}

/// The page from which everything is to be reached in a file of which nothing is known: of those to which the most pages
/// lead, the first that leads on.
fn guessed_home(facts: &PdfFacts, ways: &[Vec<usize>]) -> Option<usize> {
    if ways.len() < 3 || !furnished(facts) {
        return None;
    }
    let into: Vec<usize> = back(ways).iter().map(Vec::len).collect();
    let most = into.iter().copied().max()? as f64;
    (0..ways.len()).find(|i| into[*i] as f64 >= NEARLY * most && !ways[*i].is_empty())
}

/// Whether a link within the file stands at the same place on many of its pages.
fn furnished(facts: &PdfFacts) -> bool {
    let mut places: BTreeMap<[i64; 4], usize> = BTreeMap::new();
    for page in &facts.pages {
        let local = page.links.iter().filter(|l| l.leads.page().is_some());
        let mut here: Vec<[i64; 4]> =
            local.map(|l| [l.rect.x, l.rect.y, l.rect.w, l.rect.h].map(|v| v.round() as i64)).collect();
        here.sort_unstable();
        here.dedup();
        for place in here {
            *places.entry(place).or_default() += 1;
        }
    }
    places.values().any(|pages| *pages as f64 >= FURNISHED * facts.pages.len() as f64)
}

#[cfg(test)]
mod tests {
    use super::super::tests::file;
    use super::*;
    use crate::validate::graph::ways;
    use base::model::Finding;
    use base::model::facts::Facts;

    /// Checks and pages (from 1) that are told of a file with these ways.
    fn told(to: &[&[usize]], plan: Option<Planned>) -> Vec<(&'static str, usize)> {
        let facts = file(to);
        let of = Inspected {
            path: "a.pdf".into(),
            kind: None,
            size: 1,
            sha256: String::new(),
            facts: Facts::Unreadable(String::new()),
        };
        let mut findings = Findings { planned: plan.is_some(), ..Findings::default() };
        check(&of, &facts, &ways(&facts), plan, &mut findings);
        findings
            .list
            .iter()
            .map(|f: &Finding| (crate::validate::find(&f.check).expect("there is one").name, f.place.page.unwrap_or(0)))
            .collect()
    }

    fn plan(home: usize, named: &[usize]) -> Option<Planned> {
        Some(Planned { home, named: named.iter().copied().collect() })
    }

    #[test]
    fn cover_and_welcome_are_read_on_the_way_in() {
        // Cover, welcome, index, two sections.
        let ways: [&[usize]; 5] = [&[2], &[2], &[3, 4], &[2], &[2]];
        assert_eq!(told(&ways, plan(2, &[0, 1, 2, 3, 4])), []);
        assert_eq!(told(&ways, None), []);
        let stuck: [&[usize]; 5] = [&[2], &[], &[3, 4], &[2], &[2]];
        assert_eq!(told(&stuck, plan(2, &[0, 1, 2, 3, 4])), [("page-without-way-home", 2)]);
    }

    #[test]
    fn a_named_page_out_of_reach_takes_what_follows_it_along() {
        let ways: [&[usize]; 6] = [&[1, 2], &[0], &[0], &[0], &[0], &[0]];
        assert_eq!(told(&ways, plan(0, &[0, 1, 2, 4])), [("page-out-of-reach", 5), ("page-out-of-reach", 6)]);
        let found = told(&ways, None);
        assert_eq!(found, [4, 5, 6].map(|page| ("page-only-swiped-to", page)));
    }

    #[test]
    fn a_planned_section_may_be_swiped_through_as_far_as_anybody_does() {
        let home: &[usize] = &[1];
        let mut ways: Vec<&[usize]> = vec![&[0]; 14];
        ways[0] = home;
        // A run that is too long is told from its first page on: all of it is what the designer has to link to.
        let all: Vec<_> = (3..=14).map(|page| ("page-only-swiped-to", page)).collect();
        assert_eq!(told(&ways, plan(0, &[0, 1])), all);
        assert_eq!(told(&ways[..12], plan(0, &[0, 1])), []);
    }
}
