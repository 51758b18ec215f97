//! Two PDFs, page by page: which page is which, what is drawn otherwise, where links lead.

use super::align::{self, Alignment};
use super::links::{self, Named, Places};
use super::{DiffOptions, dated, document, pixels, png, shots, text};
use base::model::Blob;
use base::model::change::Change;
use base::model::difference::Difference;
use base::model::facts::{PageFacts, PdfFacts};
use inspect::Reader;
use inspect::pdf::drawing::{Drawer, Unopened};
use inspect::pdf::fingerprint::{Digest, PageFingerprint};
use inspect::pdf::look::Look;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Pixels a point when pages are compared by eye.
const SCALE: f64 = 1.0;
/// A channel may differ by so much, of 255, before a pixel counts as changed.
const SLACK: u8 = 2;

/// So many redrawn pages of a file get pictures, where pictures are wanted.
const SHOWN: usize = 60;
/// And so many of those that came, and of those that went.
const SHOWN_ALONE: usize = 12;

/// One version of the file.
pub struct Side<'a> {
    /// What was read from it.
    pub facts: &'a PdfFacts,
    /// Its bytes.
    pub bytes: &'a Blob,
}

/// An open version with what is known of its pages.
struct Version<'a> {
    facts: &'a PdfFacts,
    opened: Unopened,
    fingerprints: Arc<Vec<PageFingerprint>>,
    looks: BTreeMap<usize, Look>,
}

impl<'a> Version<'a> {
    fn open(side: &Side<'a>, reader: &dyn Reader) -> Option<Version<'a>> {
        let (opened, fingerprints) = (Unopened::new(side.bytes.clone()), reader.fingerprints(side.bytes));
        if fingerprints.is_empty() && opened.get().is_none() {
            return None;
        }
        (fingerprints.len() == side.facts.pages.len()).then_some(Version {
            facts: side.facts,
            opened,
            fingerprints,
            looks: BTreeMap::new(),
        })
    }

    /// What pages come to that are drawn by other means; few or many of them at once.
    fn look(&mut self, pages: &[usize]) {
        let Some(opened) = self.opened.get().filter(|_| !pages.is_empty()) else { return };
        let chunk = pages.len().div_ceil(rayon::current_num_threads()).max(16);
        let found: Vec<_> = pages.par_chunks(chunk).flat_map_iter(|part| opened.looks(part)).collect();
        for (page, look) in pages.iter().zip(found) {
            self.looks.insert(*page, look.unwrap_or_default());
        }
    }

    /// The name of a page's drawing: that of its look where it was looked at, else its print.
    fn digest(&self, page: usize) -> Digest {
        self.looks.get(&page).and_then(|l| l.digest).unwrap_or(self.fingerprints[page].digest)
    }

    fn heading(&self, page: usize) -> String {
        self.called(page).map(|name| format!(" (\u{201c}{name}\u{201d})")).unwrap_or_default()
    }

    /// What a page is called: its entry in the outline, or its first words.
    fn called(&self, page: usize) -> Option<String> {
        let title = self.facts.outline.iter().find(|o| o.leads.page() == Some(page)).map(|o| o.title.clone());
        let first = || self.looks.get(&page).and_then(|l| l.lines.first()).map(|l| l.chars().take(60).collect());
        title.or_else(first).filter(|name| !name.is_empty())
    }

    /// The entry of the outline that a page belongs to: its own, or the nearest before it.
    fn section(&self, page: usize) -> Option<String> {
        let before = self.facts.outline.iter().filter_map(|o| Some((o.leads.page()?, o))).filter(|(p, _)| *p <= page);
        // Of several on one page the first is the outermost; the last says most.
        before.max_by_key(|(p, _)| *p).map(|(_, o)| o.title.clone())
    }
}

/// What a comparison of two PDFs gives beside the differences.
pub struct Seen {
    /// Pages (from 1, of the new version) that look the same and are drawn by other means.
    pub alike: Vec<usize>,
    /// Which old page is which new one, by index from 0, in the order of the new version.
    pub pairs: Vec<(usize, usize)>,
    /// Where the one is a planner's edition for other months: which pages of both are dated, by index from 0. Of these nothing
    /// else is told.
    pub dated: Option<[Vec<bool>; 2]>,
    /// How many redrawn pages were not drawn, since no more were asked for.
    pub undrawn: usize,
}

/// Compares two PDFs; `None` if the two could not be opened for it.
pub fn compare(
    path: &str,
    old: &Side,
    new: &Side,
    (options, reader): (DiffOptions, &dyn Reader),
    out: &mut Vec<Difference>,
) -> Option<Seen> {
    let (a, b) = rayon::join(|| Version::open(old, reader), || Version::open(new, reader));
    let (mut a, mut b) = (a?, b?);
    let planners = dated::pair(a.facts, b.facts);
    let edition = planners.as_ref().and_then(|paired| paired.edition.as_ref());
    let passed = match (&planners, edition) {
        (Some(paired), Some(_)) => [&paired.old[..], &paired.new[..]],
        _ => [&[][..], &[]],
    };
    if !options.quick {
        look_where_needed(&mut a, &mut b, passed);
    }
    let digests = |v: &Version| (0..v.fingerprints.len()).map(|p| v.digest(p)).collect::<Vec<Digest>>();
    let (old_prints, new_prints) = (digests(&a), digests(&b));
    let likeness = |i: usize, j: usize| likeness(&a, i, &b, j);
    let mut alignment = match &planners {
        Some(paired) => {
            let rest = align::some([(&old_prints, &paired.old), (&new_prints, &paired.new)], likeness);
            paired.join(rest, |i, j| old_prints[i] == new_prints[j])
        }
        None => align::align(&old_prints, &new_prints, likeness),
    };
    let mut new_of = vec![None; old_prints.len()];
    for (i, j) in alignment.pairs() {
        new_of[i] = Some(j);
    }
    if let Some(edition) = edition {
        let mut told = Difference::of(path, Change::DatesMoved, edition.message.as_str());
        told.name = Some(edition.figures.clone());
        out.push(told);
        alignment.leave_out(passed);
    }
    pages(path, &alignment, &a, &b, &old_prints, &new_prints, out);
    if options.pictures {
        alone(&a, &b, out);
    }
    let drawers = || (a.opened.drawer(), b.opened.drawer());
    let redrawn: Vec<Vec<Difference>> = alignment
        .redrawn
        .par_iter()
        .enumerate()
        .map_init(drawers, |drawers, (n, pages)| {
            // What a page comes to is known for each; drawing it takes the longest.
            let drawn = options.drawn.saturating_sub(n);
            redrawn(
                path,
                (&a, &b),
                drawers,
                *pages,
                DiffOptions { pictures: options.pictures && n < SHOWN, drawn, ..options },
            )
        })
        .collect();
    let redrawn: Vec<Difference> = redrawn.into_iter().flatten().collect();
    let (alike, redrawn): (Vec<_>, Vec<_>) = redrawn.into_iter().partition(|d| d.kind == Change::StoredDifferently);
    out.extend(redrawn);
    let alike: Vec<usize> = alike.iter().filter_map(|d| d.page_new).collect();
    let places = Places { new_of: &new_of, old: Named::of(a.facts), new: Named::of(b.facts) };
    let sized: BTreeMap<(usize, usize), usize> = out
        .iter()
        .enumerate()
        .filter(|(_, d)| d.kind == Change::PageRedrawn)
        .filter_map(|(n, d)| Some(((d.page_old? - 1, d.page_new? - 1), n)))
        .collect();
    let redrawn: BTreeSet<(usize, usize)> = alignment.redrawn.iter().copied().collect();
    for (i, j) in alignment.pairs() {
        if let Some(told) = boxes(&a.facts.pages[i], &b.facts.pages[j]) {
            // A page that is drawn otherwise as well is told of once.
            match sized.get(&(i, j)) {
                Some(n) => out[*n].message = format!("{}; {told}", out[*n].message),
                None => out.push(Difference::of(path, Change::PageRedrawn, told).on(Some(i), Some(j))),
            }
        }
        links::compare(path, (i, j), redrawn.contains(&(i, j)), &places, out);
    }
    document::compare(path, (a.facts, b.facts), passed, &places, out);
    for difference in out.iter_mut().filter(|d| d.kind != Change::DatesMoved) {
        difference.name = match (difference.page_old, difference.page_new) {
            (_, Some(page)) => b.section(page - 1),
            (Some(page), None) => a.section(page - 1),
            (None, None) => None,
        };
    }
    let dated = edition.is_some().then(|| passed.map(<[bool]>::to_vec));
    let undrawn = alignment.redrawn.len().saturating_sub(options.drawn);
    Some(Seen { alike, pairs: alignment.pairs(), dated, undrawn })
}

/// Looks at the pages whose fingerprints the other side does not have, but for those that are `passed`.
fn look_where_needed(a: &mut Version, b: &mut Version, [old_passed, new_passed]: [&[bool]; 2]) {
    let set = |v: &Version| v.fingerprints.iter().map(|p| p.digest).collect::<BTreeSet<Digest>>();
    let (old, new) = (set(a), set(b));
    let missing = |v: &Version, there: &BTreeSet<Digest>, passed: &[bool]| -> Vec<usize> {
        let wanted = |p: &usize| !there.contains(&v.fingerprints[*p].digest) && passed.get(*p) != Some(&true);
        (0..v.fingerprints.len()).filter(wanted).collect()
    };
    let (from_a, from_b) = (missing(a, &new, old_passed), missing(b, &old, new_passed));
    a.look(&from_a);
    b.look(&from_b);
}

/// How alike two pages are, from 0 to 1: by what they draw, by their words, by how they are made.
fn likeness(a: &Version, i: usize, b: &Version, j: usize) -> f64 {
    let (p, q) = (&a.fingerprints[i], &b.fingerprints[j]);
    let (mut sum, mut weights) = (0.5 * shared(&p.sketch, &q.sketch), 0.5);
    let both: u32 = p.operators.iter().zip(&q.operators).map(|(x, y)| (*x).min(*y)).sum();
    let all: u32 = p.operators.iter().zip(&q.operators).map(|(x, y)| (*x).max(*y)).sum();
    sum += 0.2 * f64::from(both) / f64::from(all.max(1));
    weights += 0.2;
    if let (Some(x), Some(y)) = (a.looks.get(&i), b.looks.get(&j))
        && !(x.lines.is_empty() && y.lines.is_empty())
    {
        let lines = |l: &Look| {
            let mut hashes: Vec<u64> = l.lines.iter().map(|t| crate::diff::hash(t)).collect();
            hashes.sort_unstable();
            hashes.dedup();
            hashes
        };
        sum += 0.3 * shared(&lines(x), &lines(y));
        weights += 0.3;
    }
    sum / weights
}

/// The share of two sorted lists that is in both.
pub fn shared(a: &[u64], b: &[u64]) -> f64 {
    let (mut i, mut j, mut both) = (0, 0, 0usize);
    while i < a.len() && j < b.len() {
        match a[i].cmp(&b[j]) {
            std::cmp::Ordering::Less => i += 1,
            std::cmp::Ordering::Greater => j += 1,
            std::cmp::Ordering::Equal => {
                both += 1;
                (i, j) = (i + 1, j + 1);
            }
        }
    }
    both as f64 / (a.len() + b.len() - both).max(1) as f64
}

/// Pages that came, went and moved.
fn pages(
    path: &str,
    alignment: &Alignment,
    a: &Version,
    b: &Version,
    old: &[Digest],
    new: &[Digest],
    out: &mut Vec<Difference>,
) {
    let first = |digests: &[Digest]| {
        let mut first = BTreeMap::new();
        for (i, digest) in digests.iter().enumerate().rev() {
            first.insert(*digest, i);
        }
        first
    };
    let (in_old, in_new) = (first(old), first(new));
    for i in &alignment.removed {
        let copy = in_new.get(&old[*i]).map(|j| format!("; it was a copy of what is page {} now", j + 1));
        let message = format!("page {}{} is gone{}", i + 1, a.heading(*i), copy.unwrap_or_default());
        out.push(Difference::of(path, Change::PageRemoved, message).on(Some(*i), None));
    }
    for j in &alignment.inserted {
        let copy = in_old.get(&new[*j]).map(|i| format!("; it is a copy of what was page {}", i + 1));
        let message = format!("page {}{} is new{}", j + 1, b.heading(*j), copy.unwrap_or_default());
        out.push(Difference::of(path, Change::PageInserted, message).on(None, Some(*j)));
    }
    for (i, j) in &alignment.moved {
        let message = format!("page {}{} moved to page {}", i + 1, a.heading(*i), j + 1);
        out.push(Difference::of(path, Change::PageMoved, message).on(Some(*i), Some(*j)));
    }
}

/// Pictures of pages that came and went.
fn alone(a: &Version, b: &Version, out: &mut [Difference]) {
    for kind in [Change::PageRemoved, Change::PageInserted] {
        out.iter_mut().filter(|d| d.kind == kind).take(SHOWN_ALONE).par_bridge().for_each(|d| {
            let old = d.page_old.and_then(|p| Some((a.opened.get()?, p - 1)));
            d.shot = shots::of_pages(old, d.page_new.and_then(|p| Some((b.opened.get()?, p - 1))), SLACK);
        });
    }
}

/// A page that is drawn otherwise: its words, its pictures, and how much of it looks different.
fn redrawn(
    path: &str,
    (a, b): (&Version, &Version),
    (of_a, of_b): &(Drawer, Drawer),
    (i, j): (usize, usize),
    options: DiffOptions,
) -> Vec<Difference> {
    let tell = |kind, message: String| Difference::of(path, kind, message).on(Some(i), Some(j));
    if options.quick {
        return vec![tell(Change::PageRedrawn, "the page is drawn otherwise".to_owned())];
    }
    let mut out = Vec::new();
    let (mut complete, mut words) = (false, false);
    if let (Some(x), Some(y)) = (a.looks.get(&i), b.looks.get(&j)) {
        complete = x.complete && y.complete;
        if let Some(message) = text::lines(&borrowed(&x.lines), &borrowed(&y.lines)) {
            words = true;
            let figures = text::only_figures(&borrowed(&x.lines), &borrowed(&y.lines));
            let mut told = tell(Change::TextChanged, message);
            told.figures = figures;
            out.push(told);
        }
    }
    let (p, q) = (&a.fingerprints[i].images, &b.fingerprints[j].images);
    if p != q {
        let (gone, come) = (p.difference(q).count(), q.difference(p).count());
        out.push(tell(Change::ImageChanged, format!("pictures on the page: {gone} gone, {come} new")));
    }
    let why = |file: &Unopened, page: usize| file.get().and_then(|pdf| pdf.too_much(page));
    let seen = |message: &str| tell(Change::PageRedrawn, message.to_owned());
    if options.drawn == 0 {
        out.push(seen("the page is drawn otherwise"));
        return out;
    }
    let mut found = match (of_a.pixels(i, |_| SCALE), of_b.pixels(j, |_| SCALE)) {
        (Some(x), Some(y)) if (x.width, x.height) == (y.width, y.height) => {
            match pixels::compare(&x.rgba, &y.rgba, x.width, SLACK) {
                Some(found) => {
                    let [left, top, width, height] = png::rounded(found.bounds, x.scale);
                    let share = found.share();
                    let mut difference = seen(&format!(
                        "{share} of the page looks different, within {width} \u{d7} {height} points at {left}, {top}"
                    ));
                    difference.boxes = found.boxes.iter().map(|b| png::rounded(*b, x.scale)).collect();
                    difference
                }
                // Words may change where nothing is seen of them, and what cannot be drawn cannot be vouched for.
                None if words => return out,
                None if complete => {
                    out.push(tell(
                        Change::StoredDifferently,
                        "the page looks the same; it is stored otherwise".to_owned(),
                    ));
                    return out;
                }
                None => seen("the page is drawn otherwise; parts of it could not be looked at"),
            }
        }
        (Some(_), Some(_)) => seen("the page is drawn otherwise"),
        _ => match (why(&a.opened, i), why(&b.opened, j)) {
            (_, Some(why)) => seen(&format!("the page is drawn otherwise; it was not looked at: it takes {why}")),
            (Some(why), None) => seen(&format!("the page is drawn otherwise; it was not looked at: it took {why}")),
            (None, None) => seen("the page is drawn otherwise; it could not be looked at"),
        },
    };
    if options.pictures {
        found.shot = shots::of_pages(a.opened.get().map(|pdf| (pdf, i)), b.opened.get().map(|pdf| (pdf, j)), SLACK);
    }
    out.push(found);
    out
}

/// Boxes, turn and marks of a page, in words; `None` if they are what they were.
fn boxes(a: &PageFacts, b: &PageFacts) -> Option<String> {
    let mut told = Vec::new();
    let far = |a: f64, b: f64| (a - b).abs() > 0.01;
    let differ = |a: &[f64; 4], b: &[f64; 4]| a.iter().zip(b).any(|(x, y)| far(*x, *y));
    if far(a.size.w, b.size.w) || far(a.size.h, b.size.h) {
        told.push(format!(
            "it was {:.1} \u{d7} {:.1} points and is {:.1} \u{d7} {:.1}",
            a.size.w, a.size.h, b.size.w, b.size.h
        ));
    } else if differ(&a.crop_box, &b.crop_box) {
        told.push("its box shows another part of the drawing".to_owned());
    } else if differ(&a.media_box, &b.media_box) {
        told.push("its outer box (MediaBox) is another; what is shown of the page is the same".to_owned());
    }
    let turn = |page: &PageFacts| page.rotate.rem_euclid(360);
    match (turn(a), turn(b)) {
        (was, is) if was == is => {}
        (0, is) => told.push(format!("it is turned by {is} degrees now")),
        (was, 0) => told.push(format!("it was turned by {was} degrees and stands upright now")),
        (was, is) => told.push(format!("it was turned by {was} degrees and is by {is}")),
    }
    if far(a.user_unit, b.user_unit) {
        told.push(format!("its unit was {} and is {}", a.user_unit, b.user_unit));
    }
    if a.other_annotations != b.other_annotations {
        told.push("its notes and marks (annotations that are no links) differ".to_owned());
    }
    (!told.is_empty()).then(|| told.join("; "))
}

fn borrowed(lines: &[String]) -> Vec<&str> {
    lines.iter().map(String::as_str).collect()
}
