//! The way of pictures that move: which pages are shown one after another. Where a page has a link to the next one, a dot shows
//! the tap. The ways are those of the finished file.

use super::{PictureContext, Sketch, choose};
use base::model::Fault;
use base::model::pdf_plan::Place;
use base::model::shot::Shot;
use rayon::prelude::*;
use serde_json::json;

/// How far a tap has spread at each of its steps, and for how many milliseconds that stands: the dot comes, is loaded, spreads.
pub type Spread = [(f64, u32)];

/// A moment: its page, and how far a tap has spread, if there is one.
#[derive(Clone, Copy)]
pub struct Moment {
    /// The page's index.
    pub page: usize,
    /// Where a tap is, as shares of the page, and how far it has spread.
    pub tap: Option<(f64, f64, f64)>,
    /// In milliseconds.
    pub delay: u32,
}

/// The pages that a picture names, or those of a way that suits the notebook.
///
/// # Errors
/// A page that is not there, a notebook without pages.
pub fn pages(context: &PictureContext, shot: &Shot, short: bool) -> Result<Vec<usize>, Vec<Fault>> {
    let pages = if shot.pages.is_empty() { walk(context, short) } else { choose::named(context, &shot.pages)? };
    if pages.is_empty() {
        return Err(vec![Fault::new(format!("the picture `{}` has no pages to flip through", shot.name))]);
    }
    Ok(pages)
}

/// Lays moments out, a page of which stands for so many milliseconds.
///
/// # Errors
/// A layout that cannot be filled.
pub fn sketch(
    context: &PictureContext,
    shot: &Shot,
    mut moments: Vec<Moment>,
    pause: u32,
) -> Result<Sketch, Vec<Fault>> {
    for moment in moments.iter_mut().filter(|m| m.tap.is_none()) {
        moment.delay = pause;
    }
    let filled: Vec<Result<String, Vec<Fault>>> = moments
        .par_iter()
        .map(|m| {
            let step = match m.tap {
                Some((x, y, grow)) => json!({ "dot": true, "x": x, "y": y, "grow": grow }),
                None => json!({ "dot": false }),
            };
            context.filled(shot, &[m.page], &step)
        })
        .collect();
    let frames = filled.into_iter().collect::<Result<_, _>>()?;
    Ok(Sketch { frames, moments })
}

/// A way through the notebook that taps lead along: cover, index, the dated pages from the year to a day, a section and a page of it, another section by its
/// tab, the overview and a template, and home. A `short` one through a notebook with dates has neither year nor week, and no other section.
fn walk(context: &PictureContext, short: bool) -> Vec<usize> {
    let Some(plan) = choose::plan(context) else { return Vec::new() };
    let page = |place: Place| plan.places.get(&place).copied();
    let sections = context.product.notebook.as_ref().map_or(&[][..], |n| &n.sections);
    let filled: Vec<usize> = (0..sections.len()).filter(|i| !sections[*i].pages.is_empty()).collect();
    let first = filled.first().copied().unwrap_or(0);
    let other = filled.iter().rev().find(|i| **i != first).copied().unwrap_or(sections.len() / 2);
    let template = choose::templates(context).get(2).map(|t| t.1);
    let dated = |kind: &str| choose::dated(context, Some(kind)).first().copied();
    let short = short && dated("day").or(dated("month")).is_some();
    let unless_short = |page: Option<usize>| page.filter(|_| !short);
    let wanted = [
        page(Place::Cover),
        page(Place::Index),
        unless_short(dated("year")),
        dated("month"),
        unless_short(dated("week")),
        dated("day"),
        page(Place::Section(first + 1)),
        page(Place::Leaf(first + 1, 1)),
        unless_short(page(Place::Section(other + 1))),
        unless_short(page(Place::Leaf(other + 1, 1))),
        page(Place::Templates),
        template,
        page(Place::Index),
    ];
    let mut out: Vec<usize> = wanted.into_iter().flatten().collect();
    out.dedup();
    out
}

/// The pages, which are not told yet how long they stand, and the taps between them.
pub fn moments(context: &PictureContext, pages: &[usize], spread: &Spread) -> Vec<Moment> {
    let mut out = Vec::new();
    for (i, page) in pages.iter().enumerate() {
        out.push(Moment { page: *page, tap: None, delay: 0 });
        let Some(next) = pages.get(i + 1) else { continue };
        if let Some((x, y)) = choose::tap(context, *page, *next) {
            out.extend(spread.iter().map(|(grow, delay)| Moment {
                page: *page,
                tap: Some((x, y, *grow)),
                delay: *delay,
            }));
        }
    }
    out
}
