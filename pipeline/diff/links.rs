//! Links of two versions of a page, told apart by place: the page that a link leads to is known by what it is, not by
//! its number, so that a link to the index is the same link when the index has moved.

use crate::model::difference::{Change, Difference, Verdict};
use crate::model::facts::{Leads, LinkFacts, PageFacts};
use std::collections::BTreeMap;

/// How far (in points) two corners may lie apart and still be the same.
const SLACK: f64 = 0.5;

/// What is needed to name places: which old page is which new one.
pub struct Places<'a> {
    /// New page of every old one, by index from 0.
    pub new_of: &'a [Option<usize>],
    /// Pages of the old version.
    pub old: &'a [PageFacts],
    /// Pages of the new version.
    pub new: &'a [PageFacts],
}

/// Compares the links of a pair of pages.
pub fn compare(path: &str, (a, b): (usize, usize), places: &Places, out: &mut Vec<Difference>) {
    let (old, new) = (&places.old[a].links, &places.new[b].links);
    let tell = |kind, weight, message: String| Difference::of(path, kind, weight, message).on(Some(a), Some(b));
    // Same spot, in the order of the file: a table by rounded corner, so that many links cost no more than few.
    let mut spots: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    for (j, link) in new.iter().enumerate().rev() {
        spots.entry(cell(link)).or_default().push(j);
    }
    let mut taken = vec![false; new.len()];
    let mut left = Vec::new();
    for link in old {
        let (x, y) = cell(link);
        let near = (-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (x + dx, y + dy)));
        let there: Vec<usize> = near
            .filter_map(|c| spots.get(&c))
            .flatten()
            .copied()
            .filter(|j| !taken[*j] && same_spot(link, &new[*j]))
            .collect();
        let best = there.iter().copied().find(|j| same_aim(link, &new[*j], places)).or(there.last().copied());
        let Some(j) = best else {
            left.push(link);
            continue;
        };
        taken[j] = true;
        if !same_aim(link, &new[j], places) {
            let mended = matches!(link.leads, Leads::Nowhere(_)) && !matches!(new[j].leads, Leads::Nowhere(_));
            let weight = if mended { Verdict::Patch } else { Verdict::Major };
            let (was, is) = (names(&link.leads, places.old), names(&new[j].leads, places.new));
            out.push(tell(Change::LinkRetargeted, weight, format!("{} led to {was} and leads to {is}", spot(link))));
        }
    }
    for link in left {
        let twin = (0..new.len()).filter(|j| !taken[*j]).find(|j| same_aim(link, &new[*j], places));
        match twin {
            Some(j) => {
                taken[j] = true;
                let (was, is) = (spot(link), spot(&new[j]));
                let to = names(&link.leads, places.old);
                out.push(tell(Change::LinkMoved, Verdict::Patch, format!("the link to {to} moved: {was}, now {is}")));
            }
            None => {
                let message = format!("{} to {} is gone", spot(link), names(&link.leads, places.old));
                out.push(tell(Change::LinkRemoved, Verdict::Major, message));
            }
        }
    }
    for (j, link) in new.iter().enumerate().filter(|(j, _)| !taken[*j]) {
        let weight = if matches!(new[j].leads, Leads::Nowhere(_)) { Verdict::Patch } else { Verdict::Minor };
        out.push(tell(
            Change::LinkAdded,
            weight,
            format!("{} to {} is new", spot(link), names(&link.leads, places.new)),
        ));
    }
}

fn cell(link: &LinkFacts) -> (i64, i64) {
    ((link.rect.x / 4.0).floor() as i64, (link.rect.y / 4.0).floor() as i64)
}

fn same_spot(a: &LinkFacts, b: &LinkFacts) -> bool {
    let (a, b) = (a.rect, b.rect);
    [(a.x, b.x), (a.y, b.y), (a.right(), b.right()), (a.bottom(), b.bottom())]
        .iter()
        .all(|(p, q)| (p - q).abs() <= SLACK)
}

/// Whether two links, or two entries of the outline, lead to the same place.
pub fn same_lead(a: &Leads, b: &Leads, new_of: &[Option<usize>]) -> bool {
    let near = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() <= 1.0,
        (None, None) => true,
        _ => false,
    };
    match (a, b) {
        (Leads::Page { page, left, top }, Leads::Page { page: p, left: l, top: t }) => {
            new_of.get(*page) == Some(&Some(*p)) && near(*left, *l) && near(*top, *t)
        }
        (Leads::Nowhere(_), Leads::Nowhere(_)) => true,
        (a, b) => a == b,
    }
}

fn same_aim(a: &LinkFacts, b: &LinkFacts, places: &Places) -> bool {
    same_lead(&a.leads, &b.leads, places.new_of)
}

fn spot(link: &LinkFacts) -> String {
    let says = link.says.as_deref().filter(|s| !s.trim().is_empty()).map(|s| format!(" \u{201c}{s}\u{201d}"));
    format!("the link{} at {:.0}, {:.0}", says.unwrap_or_default(), link.rect.x, link.rect.y)
}

/// A target in words.
pub fn names(leads: &Leads, pages: &[PageFacts]) -> String {
    match leads {
        Leads::Page { page, .. } => {
            let label = pages.get(*page).and_then(|p| p.label.as_deref()).filter(|l| **l != (page + 1).to_string());
            let label = label.filter(|l| !l.is_empty()).map(|l| format!(" ({l})")).unwrap_or_default();
            format!("page {}{label}", page + 1)
        }
        Leads::Uri(address) => address.clone(),
        Leads::Nowhere(_) => "nowhere".to_owned(),
        Leads::Action(name) => format!("the action {name}"),
    }
}
