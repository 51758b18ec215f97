//! The annotations of a page: links with their tap areas, and the names of all others.

use super::destinations::Resolver;
use super::{integer, items, number, text, value};
use base::model::facts::{LinkFacts, PageFacts};
use base::model::geometry::Rect;
use base::model::held_once::HeldOnce;
use hayro_syntax::object::{Array, Dict, Name, Object};
use hayro_syntax::page::Page;
use hayro_syntax::xref::XRef;
use std::sync::Arc;

/// The most annotations of one page that are looked at.
const MAX_ANNOTATIONS: usize = 100_000;

/// How far quadrilaterals may reach over the rectangle, in points: writers round to different digits.
const OVERHANG: f64 = 1.0;

/// Reads the annotations of `page` into `facts`; `held` has what was said on other pages.
pub fn read<'a>(page: &Page<'a>, resolver: &Resolver<'a>, held: &mut HeldOnce, facts: &mut PageFacts) {
    let Some(annotations) = page.raw().get::<Array>("Annots") else { return };
    let shown = page.intersected_crop_box();
    for object in items(&annotations, resolver.xref()).take(MAX_ANNOTATIONS) {
        let Object::Dict(dict) = object else { continue };
        match dict.get::<Name>("Subtype") {
            Some(kind) if kind.as_ref() == b"Link" => {
                let mut link = link(&dict, resolver, shown.x0, shown.y1);
                if let Some(says) = &mut link.says {
                    held.take(says);
                }
                facts.links.push(link);
            }
            Some(kind) => facts.other_annotations.push(String::from_utf8_lossy(&kind).into_owned()),
            None => facts.other_annotations.push(String::new()),
        }
    }
    facts.links.shrink_to_fit();
}

/// Reads a link. `left` and `top` are the page's shown corner in PDF space.
fn link<'a>(dict: &Dict<'a>, resolver: &Resolver<'a>, left: f64, top: f64) -> LinkFacts {
    let corners = four(dict, resolver.xref());
    let [x0, y0, x1, y1] = corners.unwrap_or_default();
    let aim = resolver.aim(dict);
    LinkFacts {
        rect: Rect::new(x0.min(x1) - left, top - y0.max(y1), (x1 - x0).abs(), (y1 - y0).abs()),
        reversed: corners.is_none() || x1 < x0 || y1 < y0,
        leads: aim.leads,
        form: aim.form,
        has_dest: value(dict, "Dest").is_some(),
        has_action: value(dict, "A").is_some(),
        says: text(dict, "Contents").map(Arc::from),
        flags: integer(dict, "F").unwrap_or(0),
        border: border(dict, resolver.xref()),
        zoom: aim.zoom,
        over_marks: None,
        quads: corners.and_then(|c| quads(dict, resolver.xref(), c)).map(String::into_boxed_str),
        tab: None,
        shows: None,
        view: aim.view,
    }
}

/// The four numbers of `Rect`, in the order in which they are stored.
fn four<'a>(dict: &Dict<'a>, xref: &'a XRef) -> Option<[f64; 4]> {
    let array = dict.get::<Array>("Rect")?;
    let mut corners = [0.0; 4];
    let mut found = items(&array, xref);
    for corner in &mut corners {
        match found.next() {
            Some(Object::Number(n)) if n.as_f64().is_finite() => *corner = n.as_f64(),
            _ => return None,
        }
    }
    Some(corners)
}

/// The border width: 1 unless `Border`, `BS` or an empty colour says otherwise (ISO 32000-1, 12.5.2 and 12.5.4).
fn border<'a>(dict: &Dict<'a>, xref: &'a XRef) -> f64 {
    if dict.get::<Array>("C").is_some_and(|c| c.raw_iter().next().is_none()) {
        return 0.0;
    }
    if let Some(style) = dict.get::<Dict>("BS") {
        return number(&style, "W").unwrap_or(1.0);
    }
    let Some(border) = dict.get::<Array>("Border") else { return 1.0 };
    match items(&border, xref).nth(2) {
        Some(Object::Number(n)) => n.as_f64(),
        _ => 1.0,
    }
}

/// What is wrong with the `QuadPoints`: they narrow the tap area to parts of the rectangle, and must lie within it, or
/// else a reader takes no notice of them (ISO 32000-1, table 173).
fn quads<'a>(dict: &Dict<'a>, xref: &'a XRef, [x0, y0, x1, y1]: [f64; 4]) -> Option<String> {
    let array = dict.get::<Array>("QuadPoints")?;
    let numbers: Vec<f64> = items(&array, xref).filter_map(Object::into_number).map(|n| n.as_f64()).collect();
    if numbers.is_empty() || !numbers.len().is_multiple_of(8) {
        return Some(format!("there are {} numbers, which make no whole quadrilaterals", numbers.len()));
    }
    let outside = |v: f64, a: f64, b: f64| v < a.min(b) - OVERHANG || v > a.max(b) + OVERHANG;
    let stray = numbers
        .chunks_exact(8)
        .filter(|quad| quad.chunks_exact(2).any(|point| outside(point[0], x0, x1) || outside(point[1], y0, y1)));
    match stray.count() {
        0 => None,
        stray => Some(format!("{stray} of {} quadrilaterals reach outside the rectangle", numbers.len() / 8)),
    }
}
