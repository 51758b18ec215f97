//! Margins, as the bytes show them: pages whose content lies a little off the place that it has on others, and pages whose
//! left margin is not quite the right one.

use crate::validate::catalogue::{Findings, found};
use base::model::Where;
use base::model::facts::{Inspected, PageFacts, PdfFacts};
use base::model::geometry::Rect;
use base::model::units::trim_number;
use std::collections::BTreeMap;

/// Contents that differ by less are of one size; places that differ by less are one place.
const SAME: f64 = 0.5;
/// Contents that lie further off than this were meant to; so were margins that differ by more.
const MEANT: f64 = 14.0;
/// At least this many pages, and this share of those of one content, make a place the usual one.
const USUAL: (usize, f64) = (4, 0.75);
/// Margins that differ by less, in points or as a share of the wider one, look alike (our own measure).
const ALIKE: (f64, f64) = (2.0, 0.08);
/// What takes less of the page's width is a picture on it, and no content with margins.
const WIDE: f64 = 0.6;
/// What comes closer to an edge runs out of the page, as art does, and keeps no margin.
const NO_MARGIN: f64 = 8.0;
/// Where this share of the pages has the margins of others the other way round, they are the pages of bound sheets.
const MIRRORED: f64 = 0.25;

/// Checks the margins of a PDF.
pub fn check(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    moved(file, facts, findings);
    sides(file, facts, findings);
}

/// Pages whose left and right margins differ by a little, as by a slip.
fn sides(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    let margins: Vec<Option<[f64; 2]>> = facts.pages.iter().map(slipped).collect();
    let mirrored = |[left, right]: [f64; 2]| {
        let other = |m: &[f64; 2]| (m[0] - right).abs() <= ALIKE.0 && (m[1] - left).abs() <= ALIKE.0;
        margins.iter().flatten().filter(|m| other(m)).count() as f64 >= MIRRORED * facts.pages.len() as f64
    };
    for (i, [left, right]) in margins.iter().enumerate().filter_map(|(i, m)| m.map(|m| (i, m))) {
        if mirrored([left, right]) {
            continue;
        }
        let at = Where::page(&file.path, i + 1);
        let [left, right] = [left, right].map(|v| trim_number(v, 1));
        found!(findings, "side-margins-differ", at, "the left margin is {left} pt wide and the right one {right} pt");
    }
}

/// The left and the right margin of a page where they differ by no more than a slip.
fn slipped(page: &PageFacts) -> Option<[f64; 2]> {
    let content = page.content.filter(|c| c.w >= WIDE * page.size.w)?;
    // Lines of text end where their words end.
    let ragged = |text: &Rect| text.right() > content.right() - 1.0 || text.x < content.x + 1.0;
    if page.texts.iter().any(|t| ragged(&t.area)) {
        return None;
    }
    // Tabs take a strip of the page on the side on which they stand; the margin may be meant with it or without.
    let tabs = || page.links.iter().map(|l| l.tab.unwrap_or(l.rect));
    let strip_left = tabs().map(|t| t.right()).filter(|x| *x <= content.x + 1.0).fold(0.0, f64::max);
    let strip_right = tabs().map(|t| t.x).filter(|x| *x >= content.right() - 1.0).fold(page.size.w, f64::min);
    let lefts = [content.x, content.x - strip_left];
    let rights = [page.size.w - content.right(), strip_right - content.right()];
    let alike = |l: f64, r: f64| (l - r).abs() <= ALIKE.0.max(ALIKE.1 * l.max(r));
    if lefts.iter().any(|l| rights.iter().any(|r| alike(*l, *r))) {
        return None;
    }
    let nearest = lefts.iter().flat_map(|l| rights.iter().map(move |r| [*l, *r]));
    nearest
        .min_by(|a, b| (a[0] - a[1]).abs().total_cmp(&(b[0] - b[1]).abs()))
        .filter(|[l, r]| l.min(*r) >= NO_MARGIN && (l - r).abs() <= MEANT)
}

/// Pages whose content has the same size as that of others, but lies a little off its place.
fn moved(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    let mut alike: BTreeMap<[i64; 4], Vec<(usize, Rect)>> = BTreeMap::new();
    for (i, page) in facts.pages.iter().enumerate() {
        let Some(content) = page.content.filter(|c| c.w > 0.0 && c.h > 0.0) else { continue };
        let key = [page.size.w, page.size.h, content.w, content.h].map(|v| (v / SAME).round() as i64);
        alike.entry(key).or_default().push((i, content));
    }
    for pages in alike.into_values().filter(|pages| pages.len() >= USUAL.0) {
        let near = |a: Rect, b: Rect| (a.x - b.x).abs() <= SAME && (a.y - b.y).abs() <= SAME;
        let mut places: BTreeMap<[i64; 2], (usize, Rect)> = BTreeMap::new();
        for (_, content) in &pages {
            let key = [content.x, content.y].map(|v| (v / SAME).round() as i64);
            places.entry(key).or_insert((0, *content)).0 += 1;
        }
        let Some((_, usual)) = places.into_values().max_by_key(|(times, _)| *times) else { continue };
        let times = pages.iter().filter(|(_, c)| near(*c, usual)).count();
        if times < USUAL.0 || (times as f64) < USUAL.1 * pages.len() as f64 {
            continue;
        }
        for (i, content) in pages.iter().filter(|(_, c)| !near(*c, usual)) {
            let (dx, dy) = (content.x - usual.x, content.y - usual.y);
            if dx.abs().max(dy.abs()) > MEANT {
                continue;
            }
            let [dx, dy] = [dx, dy].map(|d| trim_number(d, 1));
            found!(
                findings,
                "margins-uneven",
                Where::page(&file.path, i + 1).rect(*content),
                "the content lies {dx} to the right of and {dy} below its place on {times} pages with the same content"
            );
        }
    }
}
