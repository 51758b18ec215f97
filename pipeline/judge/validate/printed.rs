//! The numbers that are printed on pages against the labels that the reader app shows for them.

use super::catalogue::{Findings, found};
use base::model::Where;
use base::model::facts::{Inspected, PageFacts, PdfFacts};
use std::collections::BTreeMap;

/// Page numbers stand within this share of the page's height from its top or bottom edge.
const EDGE: f64 = 0.12;
/// They are no higher than this share of the page (our own measure, no source).
const HEIGHT: f64 = 0.035;
/// So many pages must count on, and this share of the pages that have a number there, before it is taken for theirs.
const COUNTED: (usize, f64) = (4, 0.8);

/// A number near a page's edge.
struct Number {
    page: usize,
    value: i64,
    /// Left edge, middle or right edge in steps, and the foot: what stays the same from page to page.
    places: [[i64; 3]; 3],
}

/// Checks a file that has labels.
pub fn check(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    if facts.pages.iter().all(|p| p.label.is_none()) {
        return;
    }
    let numbers: Vec<Number> = facts.pages.iter().enumerate().flat_map(|(i, page)| near_edges(i, page)).collect();
    let mut told: BTreeMap<usize, i64> = BTreeMap::new();
    let mut places: BTreeMap<[i64; 3], Vec<&Number>> = BTreeMap::new();
    for number in &numbers {
        for place in number.places {
            places.entry(place).or_default().push(number);
        }
    }
    for at in places.into_values().filter(|at| at.len() >= COUNTED.0) {
        // Numbers that run with the pages have one distance to the page's place in the file, whatever they begin with.
        let mut distances: BTreeMap<i64, usize> = BTreeMap::new();
        for number in &at {
            *distances.entry(number.value - number.page as i64).or_default() += 1;
        }
        let Some((distance, times)) = distances.into_iter().max_by_key(|(_, times)| *times) else { continue };
        if times < COUNTED.0 || (times as f64) < COUNTED.1 * at.len() as f64 {
            continue;
        }
        for number in at.into_iter().filter(|n| n.value - n.page as i64 == distance) {
            told.entry(number.page).or_insert(number.value);
        }
    }
    for (page, printed) in told {
        let Some(label) = facts.pages[page].label.as_deref() else { continue };
        if value(label.trim_start_matches(|c: char| !c.is_ascii_digit())).or_else(|| value(label)) != Some(printed) {
            found!(
                findings,
                "page-label-not-printed",
                Where::page(&file.path, page + 1),
                "the page prints the number {printed}, its label is \u{201c}{label}\u{201d}"
            );
        }
    }
}

/// Texts near the top or bottom edge that are a number and nothing else.
fn near_edges(page: usize, facts: &PageFacts) -> Vec<Number> {
    let (w, h) = (facts.size.w.max(1.0), facts.size.h.max(1.0));
    let near = |y: f64| y < EDGE * h || y > (1.0 - EDGE) * h;
    let small = facts.texts.iter().filter(|t| t.level && t.area.h <= HEIGHT * h && near(t.area.centre().y));
    small
        .filter_map(|text| {
            let bare = text.text.trim_matches(|c: char| !c.is_alphanumeric());
            let bare = ["Page ", "page ", "p. "].iter().find_map(|word| bare.strip_prefix(word)).unwrap_or(bare);
            let step = |v: f64, of: f64| (v / of * 100.0).round() as i64;
            let foot = step(text.area.bottom(), h);
            let (left, middle, right) = (text.area.x, text.area.centre().x, text.area.right());
            let places = [[0, step(left, w), foot], [1, step(middle, w), foot], [2, step(right, w), foot]];
            Some(Number { page, value: value(bare)?, places })
        })
        .collect()
}

/// A number in figures, or in small or large Roman numerals.
fn value(text: &str) -> Option<i64> {
    if text.is_empty() || text.len() > 7 {
        return None;
    }
    if text.bytes().all(|b| b.is_ascii_digit()) {
        return text.parse().ok();
    }
    let digit = |c: char| match c.to_ascii_lowercase() {
        'i' => Some(1),
        'v' => Some(5),
        'x' => Some(10),
        'l' => Some(50),
        'c' => Some(100),
        _ => None,
    };
    let digits: Vec<i64> = text.chars().map(digit).collect::<Option<_>>()?;
    let mut sum = 0;
    for (i, d) in digits.iter().enumerate() {
        sum += if digits.get(i + 1).is_some_and(|next| next > d) { -d } else { *d };
    }
    Some(sum)
}

#[cfg(test)]
mod tests {
    use super::value;

    #[test]
    fn numbers_are_read_in_figures_and_letters() {
        assert_eq!(["7", "014", "iv", "XXIX", "xc"].map(value), [7, 14, 4, 29, 90].map(Some));
        assert_eq!(["", "bed", "12a"].map(value), [None; 3]);
    }
}
