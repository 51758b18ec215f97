//! What of a new version goes into a pack for people who write in an older one: which pages, and where each goes.
//!
//! A page on which only what stands on most pages is otherwise (tabs, ways home) stays out: whoever put it in the place
//! of a page that is written on would lose the writing for the colour of a tab.

use super::Compared;
use super::names::is_for_buyers;
use super::tree::Tree;
use base::model::Kind;
use base::model::change::Change;
use base::model::difference::{Comparison, Difference, FileChange};
use base::model::facts::{Facts, Leads, LinkFacts, PdfFacts};
use base::model::geometry::Rect;
use base::model::pack::{Book, Named, Pack, Run, Spot};
use inspect::Reader;
use std::collections::{BTreeMap, BTreeSet};

/// Documents with fewer pages have nothing that stands on most of them.
const FEW: usize = 6;
/// Tap areas so near to each other are one strip, in points.
const NEAR: f64 = 26.0;
/// A drawn tab may reach so far over its tap area, in points.
const OVER: f64 = 9.0;

/// What goes into the pack, by a comparison of two trees.
pub fn pack(compared: &Compared, old: &Tree, new: &Tree, reader: &dyn Reader) -> Pack {
    let found = &compared.found;
    let bundles = !found.kinds.is_empty();
    let mut pack = Pack::default();
    for file in found.files.iter().filter(|f| is_for_buyers(&f.path) && !(bundles && f.path.starts_with("upload/"))) {
        let kind = found.kinds.get(&file.path).copied();
        if file.sha256_new.is_none() {
            pack.gone.push(file.path.clone());
            continue;
        }
        if file.sha256_new == file.sha256_old {
            continue;
        }
        let pages = matches!(kind, Some(Kind::Notebook)) || !bundles;
        let pairs = compared.pairs.get(&file.path).filter(|_| pages);
        match pairs.and_then(|pairs| book(found, file, pairs, (old, new), reader)) {
            Some(book) => pack.books.push(book),
            None if is_taken(file, kind, found) => pack.whole.push(file.path.clone()),
            None => {}
        }
    }
    pack
}

/// Whether a file is taken over whole.
fn is_taken(file: &FileChange, kind: Option<Kind>, found: &Comparison) -> bool {
    // A file that is only stored otherwise, and a guide that only names another version, give nobody anything.
    let stored = |d: &Difference| d.kind == Change::StoredDifferently || d.kind == Change::FileRenamed;
    let mut told = found.differences.iter().filter(|d| d.path == file.path).peekable();
    let changed = told.peek().is_none() || told.any(|d| !stored(d));
    changed
        && match kind {
            Some(Kind::Covers | Kind::Sticker | Kind::Sheet | Kind::Guide | Kind::Licence | Kind::Notebook) => true,
            Some(_) => false,
            None => !file.path.to_ascii_lowercase().ends_with(".zip"),
        }
}

fn book(
    found: &Comparison,
    file: &FileChange,
    pairs: &[(usize, usize)],
    (old, new): (&Tree, &Tree),
    reader: &dyn Reader,
) -> Option<Book> {
    let read = |tree: &Tree, path: &str| match reader.facts(path, tree.get(path)?.bytes.as_ref()?) {
        Facts::Pdf(pdf) => Some(pdf),
        _ => None,
    };
    let a = read(old, file.path_old.as_ref().unwrap_or(&file.path))?;
    let b = read(new, &file.path)?;
    let versions = Versions::of(&a, &b, pairs);
    let told: Vec<&Difference> = found.differences.iter().filter(|d| d.path == file.path).collect();
    let mut groups: BTreeMap<usize, Vec<&Difference>> = BTreeMap::new();
    for d in &told {
        if let Some(page) = d.page_new.filter(|_| concerns_a_page(d.kind)) {
            groups.entry(page - 1).or_default().push(d);
        }
    }
    let (edges, wanted): (Vec<_>, Vec<_>) =
        groups.into_iter().partition(|(page, group)| versions.only_edges(*page, group));
    let wanted: BTreeSet<usize> = wanted.into_iter().map(|(page, _)| page).collect();
    let on_page = |d: &&Difference, kind: Change| d.kind == kind;
    let moved = told.iter().filter(|d| on_page(d, Change::PageMoved)).filter_map(|d| {
        let (from, to) = (d.page_old? - 1, d.page_new? - 1);
        Some((named(&a, from), versions.before(to).map(|page| named(&a, page))))
    });
    let removed = told.iter().filter(|d| on_page(d, Change::PageRemoved)).filter_map(|d| d.page_old);
    let leads = |page: usize, to: &dyn Fn(usize) -> bool| {
        b.pages[page].links.iter().filter_map(|l| l.leads.page()).filter(|p| to(*p)).count()
    };
    let fresh = |page: usize| wanted.contains(&page) && !versions.old_of.contains_key(&page);
    Some(Book {
        path: file.path.clone(),
        title: b.title.clone().unwrap_or_else(|| super::names::name(&file.path).to_owned()),
        language: b.language.clone(),
        runs: versions.runs(&wanted),
        moved: moved.collect(),
        removed: removed.map(|page| named(&a, page - 1)).collect(),
        edges: edges.len(),
        other_dates: told.iter().any(|d| d.kind == Change::DatesMoved),
        outline: told.iter().any(|d| d.kind == Change::MetadataChanged && d.message.contains("outline")),
        cut: wanted.iter().map(|page| leads(*page, &|to| !wanted.contains(&to))).sum(),
        leading_in: (0..b.pages.len()).filter(|p| !wanted.contains(p) && leads(*p, &fresh) > 0).count(),
    })
}

/// Whether a change is one of what a page shows or of where it leads.
fn concerns_a_page(kind: Change) -> bool {
    matches!(
        kind,
        Change::PageInserted
            | Change::PageRedrawn
            | Change::TextChanged
            | Change::ImageChanged
            | Change::LinkAdded
            | Change::LinkRemoved
            | Change::LinkRetargeted
            | Change::LinkMoved
    )
}

/// A page with what its document calls it.
fn named(pdf: &PdfFacts, page: usize) -> Named {
    let label = pdf.pages[page].label.clone().filter(|label| *label != (page + 1).to_string() && !label.is_empty());
    // The last entry at or before the page, and of those above it the nearest of each depth.
    let before = |at: usize| pdf.outline[..=at].iter();
    let mut best: Option<(usize, usize)> = None;
    for (i, entry) in pdf.outline.iter().enumerate() {
        if let Some(leads) = entry.leads.page().filter(|p| *p <= page)
            && best.is_none_or(|(known, _)| leads >= known)
        {
            best = Some((leads, i));
        }
    }
    let mut titles = Vec::new();
    if let Some((_, at)) = best {
        let mut depth = pdf.outline[at].depth + 1;
        for entry in before(at).rev() {
            if entry.depth < depth {
                titles.insert(0, entry.title.clone());
                depth = entry.depth;
            }
        }
    }
    titles.dedup();
    Named { page, label, titles }
}

/// Both versions, and which page is which.
struct Versions<'a> {
    old: &'a PdfFacts,
    new: &'a PdfFacts,
    old_of: BTreeMap<usize, usize>,
    new_of: BTreeMap<usize, usize>,
    /// What stands on most pages: links of the one and of the other version, and the strips that their tap areas make.
    edges: [BTreeSet<Mark>; 2],
    strips: Vec<Rect>,
}

/// A link as it stands on many pages: where it leads, how high it stands and how high it is.
type Mark = (String, i64, i64);

fn mark(link: &LinkFacts) -> Mark {
    let aim = match &link.leads {
        Leads::Page { page, .. } => page.to_string(),
        Leads::Uri(uri) => uri.clone(),
        Leads::Nowhere(why) | Leads::Action(why) => why.clone(),
    };
    (aim, link.rect.y.round() as i64, link.rect.h.round() as i64)
}

impl<'a> Versions<'a> {
    fn of(old: &'a PdfFacts, new: &'a PdfFacts, pairs: &[(usize, usize)]) -> Versions<'a> {
        let edges = [on_most_pages(old), on_most_pages(new)];
        let areas = [old, new].into_iter().zip(&edges).flat_map(|(pdf, edges)| {
            let links = pdf.pages.iter().flat_map(|page| &page.links);
            links.filter(|link| edges.contains(&mark(link))).map(|link| link.rect)
        });
        let strips = strips(areas.collect());
        let old_of = pairs.iter().map(|(i, j)| (*j, *i)).collect();
        Versions { old, new, old_of, new_of: pairs.iter().copied().collect(), edges, strips }
    }

    /// The old page after which a page of the new version stands.
    fn before(&self, page: usize) -> Option<usize> {
        (0..page).rev().find_map(|p| self.old_of.get(&p).copied())
    }

    /// Whether nothing is otherwise on a page but what stands on most pages.
    fn only_edges(&self, page: usize, group: &[&Difference]) -> bool {
        let Some(was) = self.old_of.get(&page).copied() else { return false };
        let (x, y) = (&self.old.pages[was], &self.new.pages[page]);
        let inside = |r: &Rect| self.strips.iter().any(|strip| strip.contains(*r, OVER));
        let texts = |pdf: &'a PdfFacts, page: usize| {
            let outside = pdf.pages[page].texts.iter().filter(|t| !inside(&t.area));
            let mut all: Vec<&str> = outside.map(|t| &*t.text).collect();
            all.sort_unstable();
            all
        };
        let same_box = |a: &[f64; 4], b: &[f64; 4]| a.iter().zip(b).all(|(a, b)| (a - b).abs() < 0.01);
        let drawn = |d: &&Difference| match d.kind {
            Change::PageRedrawn => {
                let area = |b: &[u32; 4]| Rect::new(b[0].into(), b[1].into(), b[2].into(), b[3].into());
                !d.boxes.is_empty() && d.boxes.iter().all(|b| inside(&area(b)))
            }
            Change::ImageChanged | Change::PageInserted => false,
            _ => true,
        };
        group.iter().all(drawn)
            && same_box(&x.crop_box, &y.crop_box)
            && texts(self.old, was) == texts(self.new, page)
            && self.links(was, 0) == self.links(page, 1)
    }

    /// The links of a page that do not stand on most pages, with their targets as pages of the new version.
    fn links(&self, page: usize, side: usize) -> Vec<(String, [i64; 4])> {
        let pdf = [self.old, self.new][side];
        let own = pdf.pages[page].links.iter().filter(|link| !self.edges[side].contains(&mark(link)));
        let mut all: Vec<(String, [i64; 4])> = own
            .map(|link| {
                let aim = match (&link.leads, side) {
                    (Leads::Page { page, .. }, 0) => {
                        self.new_of.get(page).map_or_else(|| "a page that is gone".to_owned(), ToString::to_string)
                    }
                    _ => mark(link).0,
                };
                let r = link.rect;
                (aim, [r.x, r.y, r.w, r.h].map(|v| v.round() as i64))
            })
            .collect();
        all.sort();
        all
    }

    /// Pages that are wanted, put together as they go to one spot.
    fn runs(&self, wanted: &BTreeSet<usize>) -> Vec<Run> {
        let mut runs: Vec<(Option<usize>, Run)> = Vec::new();
        let mut last = None;
        for page in wanted {
            let was = self.old_of.get(page).copied();
            let follows = last.is_some_and(|p: usize| p + 1 == *page);
            last = Some(*page);
            if let (true, Some((end, run))) = (follows, runs.last_mut()) {
                let goes_on = match (&mut run.spot, was, *end) {
                    (Spot::InPlaceOf(_, to), Some(was), Some(before)) if was == before + 1 => {
                        *to = named(self.old, was);
                        true
                    }
                    (Spot::After(_) | Spot::Front, None, _) => true,
                    _ => false,
                };
                if goes_on {
                    *end = was;
                    run.pages.push(named(self.new, *page));
                    continue;
                }
            }
            let spot = match was {
                Some(was) => Spot::InPlaceOf(named(self.old, was), named(self.old, was)),
                None => self.before(*page).map_or(Spot::Front, |p| Spot::After(named(self.old, p))),
            };
            runs.push((was, Run { spot, pages: vec![named(self.new, *page)] }));
        }
        runs.into_iter().map(|(_, run)| run).collect()
    }
}

/// Links that stand on at least half of the pages of a document, on whichever side.
fn on_most_pages(pdf: &PdfFacts) -> BTreeSet<Mark> {
    let mut counts: BTreeMap<Mark, usize> = BTreeMap::new();
    for page in &pdf.pages {
        for mark in page.links.iter().map(mark).collect::<BTreeSet<Mark>>() {
            *counts.entry(mark).or_default() += 1;
        }
    }
    let many = |n: usize| pdf.pages.len() >= FEW && n * 2 >= pdf.pages.len();
    counts.into_iter().filter(|(_, n)| many(*n)).map(|(mark, _)| mark).collect()
}

/// Areas that stand above each other or in a row, near to each other, as one strip each.
fn strips(areas: Vec<Rect>) -> Vec<Rect> {
    let rounded = |r: &Rect| [r.x, r.y, r.w, r.h].map(|v| (v * 2.0).round() as i64);
    let once: BTreeMap<[i64; 4], Rect> = areas.iter().map(|r| (rounded(r), *r)).collect();
    let mut all: Vec<Rect> = once.into_values().collect();
    loop {
        let pair = (0..all.len()).find_map(|i| {
            let joins = |j: &usize| {
                let (a, b) = (&all[i], &all[*j]);
                let column = (a.x - b.x).abs() < 2.0 && (a.w - b.w).abs() < 2.0;
                let row = (a.y - b.y).abs() < 2.0 && (a.h - b.h).abs() < 2.0;
                (column && gap(a.y, a.h, b.y, b.h) < NEAR) || (row && gap(a.x, a.w, b.x, b.w) < NEAR)
            };
            ((i + 1)..all.len()).find(joins).map(|j| (i, j))
        });
        let Some((i, j)) = pair else { return all };
        let other = all.remove(j);
        let (x, y) = (all[i].x.min(other.x), all[i].y.min(other.y));
        let (right, bottom) = (all[i].right().max(other.right()), all[i].bottom().max(other.bottom()));
        all[i] = Rect::new(x, y, right - x, bottom - y);
    }
}

/// What lies between two spans.
fn gap(a: f64, width_a: f64, b: f64, width_b: f64) -> f64 {
    a.max(b) - (a + width_a).min(b + width_b)
}
