//! Which pages a picture shows: those that the manifest names, else the ones that the layout likes best.

use super::PictureContext;
use base::model::facts::{Facts, Leads, PdfFacts};
use base::model::pdf_plan::{PdfPlan, Place};
use base::model::plan::Make;
use base::model::shot::{PageRef, Shot, ShotLayout, Which};
use base::model::{Fault, Kind};
use draw::shots;
use std::collections::BTreeMap;

/// The plan of the notebook.
pub fn plan<'a>(context: &PictureContext<'a>) -> Option<&'a PdfPlan> {
    context.plan.items.iter().find_map(|item| match (&item.make, item.kind) {
        (Make::Pdf(pdf), Kind::Notebook) => Some(&**pdf),
        _ => None,
    })
}

/// The notebook as read.
pub fn read<'a>(context: &PictureContext<'a>) -> Option<&'a PdfFacts> {
    context.inspected.iter().find(|i| i.kind == Some(Kind::Notebook)).and_then(|i| match &i.facts {
        Facts::Pdf(pdf) => Some(&**pdf),
        _ => None,
    })
}

/// Every place by name, with its page from 0.
pub fn places(context: &PictureContext) -> BTreeMap<String, usize> {
    plan(context).into_iter().flat_map(|p| &p.places).map(|(place, page)| (place.to_string(), *page)).collect()
}

/// The templates in their order, by name.
pub fn templates(context: &PictureContext) -> Vec<(String, usize)> {
    let (Some(plan), Some(notebook)) = (plan(context), &context.product.notebook) else { return Vec::new() };
    let of = |slug: &str| plan.places.get(&Place::Template(slug.into())).copied();
    notebook.offered().filter_map(|(_, t)| Some((t.name.clone(), of(&t.slug)?))).collect()
}

/// Pages of a picture, from 0.
pub fn pages(context: &PictureContext, shot: &Shot) -> Result<Vec<usize>, Vec<Fault>> {
    if !shot.pages.is_empty() {
        return named(context, &shot.pages);
    }
    let ShotLayout::BuiltIn(name) = &shot.layout else { return Ok(Vec::new()) };
    let wanted = shots::find(name).map_or(&[][..], |l| l.pages);
    let (Some(plan), Some(notebook)) = (plan(context), &context.product.notebook) else { return Ok(Vec::new()) };
    let mut out = Vec::new();
    // Sections of which none has pages of its own show less than whatever else there is.
    let empty = notebook.sections.iter().all(|s| s.pages.is_empty() && s.art.is_none());
    let mut last = Vec::new();
    for place in wanted {
        match *place {
            "template/*" => out.extend(liveliest(context)),
            // A section with pages of its own behind it shows more than an empty one; the third has passed tabs.
            "section/*" => {
                let mut all: Vec<usize> = (0..notebook.sections.len()).collect();
                all.sort_by_key(|i| (notebook.sections[*i].pages.is_empty(), (*i as i64 - 2).abs()));
                let to = if empty { &mut last } else { &mut out };
                to.extend(all.iter().filter_map(|i| plan.places.get(&Place::Section(i + 1))));
            }
            "dated/*" => out.extend(dated(context, None)),
            "year/*" => out.extend(dated(context, Some("year"))),
            "first-month" => out.extend(first_month(plan)),
            place => out.extend(places(context).get(place)),
        }
    }
    out.append(&mut last);
    // What a layout likes best may be left out of the notebook: then a page from within it.
    if out.is_empty() && !wanted.is_empty() {
        let places = places(context);
        let within = places.get("section/1").or(places.get("index")).copied();
        out.extend(within.or(plan.pages.len().checked_sub(1).map(|last| last.min(1))));
    }
    Ok(out)
}

/// Dated pages that belong together, as the figures of the listing name them; all, or those of a kind.
pub fn dated(context: &PictureContext, kind: Option<&str>) -> Vec<usize> {
    let places = places(context);
    let shown = context.facts["dated"]["kinds"].as_array().map(Vec::as_slice).unwrap_or_default();
    let wanted = shown.iter().filter(|shown| kind.is_none_or(|kind| shown["kind"] == kind));
    wanted.filter_map(|shown| places.get(shown["place"].as_str()?)).copied().collect()
}

/// The page of the first month of a planner, from 0: the tabs of all others stand beside it.
fn first_month(plan: &PdfPlan) -> Option<usize> {
    let is_month = |place: &Place| match place {
        Place::Dated(place) => {
            place.split_once('/').is_some_and(|(kind, period)| kind == "month" && !period.contains('/'))
        }
        _ => false,
    };
    plan.places.iter().filter(|(place, _)| is_month(place)).map(|(_, page)| *page).min()
}

/// How many pages of its kind there are of a dated page: `12 months`. Nothing is said of other pages, and of those behind.
pub fn said_of(context: &PictureContext, page: usize) -> Option<String> {
    let place = plan(context)?.places.iter().find(|(_, at)| **at == page).map(|(place, _)| place)?;
    let Place::Dated(place) = place else { return None };
    let (kind, period) = place.split_once('/')?;
    let behind = period.rsplit_once('/').is_some_and(|(_, last)| last.starts_with(|c: char| c.is_ascii_digit()));
    let shown = context.facts["dated"]["kinds"].as_array()?.iter().find(|shown| shown["kind"] == kind)?;
    (!behind).then(|| shown["said"].as_str().map(str::to_owned)).flatten()
}

/// Pages that show most come first: the designer's own drawings among them, then those with most drawn on them, but no two of
/// the same ruling side by side.
fn liveliest(context: &PictureContext) -> Vec<usize> {
    ranked(context).into_iter().map(|(_, page)| page).collect()
}

/// How many templates are shown on one picture at most.
const SHOWN: usize = 9;
/// The same of level pages on a wide picture, which three rows of them with their names would leave half empty.
const SHOWN_LEVEL: usize = 6;
/// So much wider than high is a wide picture.
const WIDE: f64 = 1.15;

/// The templates that a picture of them shows, in their order, and how many more there are: those that the picture names
/// (`pages`, from 0), else all if they can be seen well together, else those that show most.
pub fn best(context: &PictureContext, shot: &Shot, pages: &[usize]) -> (Vec<(String, usize)>, usize) {
    let all = templates(context);
    let level =
        all.first().and_then(|(_, page)| context.open_files.pages.get(*page)).is_some_and(|size| size.is_landscape());
    let wide = f64::from(shot.width) >= WIDE * f64::from(shot.height);
    let most = if level && wide { SHOWN_LEVEL } else { SHOWN };
    let chosen: Vec<usize> = match shot.pages.is_empty() {
        false => pages.to_vec(),
        true if all.len() <= most + 3 => return (all, 0),
        true => ranked(context).into_iter().take(most).map(|(_, page)| page).collect(),
    };
    let shown: Vec<_> = all.iter().filter(|(_, page)| chosen.contains(page)).cloned().collect();
    if shown.is_empty() { (all, 0) } else { (shown.clone(), all.len() - shown.len()) }
}

/// Pages of templates by what they show: every ruling once before any comes again.
fn ranked(context: &PictureContext) -> Vec<((usize, usize), usize)> {
    let Some(notebook) = &context.product.notebook else { return Vec::new() };
    let of = |slug: &str| plan(context).is_some_and(|p| p.places.contains_key(&Place::Template(slug.into())));
    // The order in which rulings please on a picture; those that are not named come last, in their own order.
    const LIKED: [&str; 10] =
        ["month", "week", "habits", "storyboard", "year", "hexagons", "day", "cue-notes", "checklist", "chart"];
    let offered: Vec<_> = notebook.offered().filter(|(_, t)| of(&t.slug)).map(|(_, t)| t).collect();
    let mut met: BTreeMap<&str, usize> = BTreeMap::new();
    let mut list: Vec<((usize, usize), usize)> = Vec::new();
    for (template, (_, page)) in offered.into_iter().zip(templates(context)) {
        let again = met.entry(&template.ruling).or_default();
        let rank = match &template.art {
            Some(_) => 0,
            None if template.ruling == "blank" => usize::MAX,
            None => 1 + LIKED.iter().position(|l| *l == template.ruling).unwrap_or(LIKED.len()),
        };
        let turn = if template.art.is_some() { 0 } else { *again };
        *again += 1;
        list.push(((turn, rank), page));
    }
    list.sort();
    list
}

/// Pages that the manifest names.
pub fn named(context: &PictureContext, list: &[PageRef]) -> Result<Vec<usize>, Vec<Fault>> {
    let places = places(context);
    let count = context.open_files.pages.len();
    let (mut out, mut faults) = (Vec::new(), Vec::new());
    for page in list {
        let about = |message: String| Fault::new(message).in_file("product.toml").at(page.span.clone());
        match &page.which {
            Which::Number(n) if *n <= count => out.push(n - 1),
            Which::Number(n) => {
                faults.push(about(format!("there is no page {n}")).help(format!("the notebook has {count} pages")));
            }
            Which::Place(place) => match places.get(place) {
                Some(i) => out.push(*i),
                None => faults.push(about(format!("there is no place `{place}`")).help(near(place, &places))),
            },
        }
    }
    if faults.is_empty() { Ok(out) } else { Err(faults) }
}

fn near(place: &str, places: &BTreeMap<String, usize>) -> String {
    let best = places.keys().min_by_key(|p| strsim::damerau_levenshtein(p, place));
    match best {
        Some(p) if strsim::damerau_levenshtein(p, place) <= 4 => format!("did you mean `{p}`?"),
        _ => format!("places are: {}", places.keys().take(12).cloned().collect::<Vec<_>>().join(", ")),
    }
}

/// The link on a page (from 0) that leads to another: where it lies, in parts of the page. A tab at the edge is taken
/// before anything else.
pub fn tap(context: &PictureContext, from: usize, to: usize) -> Option<(f64, f64)> {
    let page = read(context)?.pages.get(from)?;
    let leads = |l: &&base::model::facts::LinkFacts| matches!(l.leads, Leads::Page { page, .. } if page == to);
    let edge = |x: f64| x.min(page.size.w - x);
    let all = page.links.iter().filter(leads).map(|l| l.rect.centre());
    all.min_by(|a, b| edge(a.x).total_cmp(&edge(b.x))).map(|c| (c.x / page.size.w, c.y / page.size.h))
}
