//! How the notebook is put together: its parts and their order, and the pages that its sections begin with.

use super::source::suggest;
use super::{Context, art, placed, raw, slug};
use base::model::Rgb;
use base::model::product::{Section, SectionWithin, Template};
use base::model::structure::{Leaf, Part, Parts};
use std::collections::BTreeSet;
use std::ops::Range;
use toml::Spanned;

/// Most pages that a section may begin with; beyond that the file is no notebook any more.
const MOST_PAGES: u32 = 5_000;

/// The keys of this subject that are there, with their places.
pub fn spans(raw: &raw::Notebook) -> Vec<(&'static str, Range<usize>)> {
    let all = [
        ("parts", raw.parts.as_ref().map(Spanned::span)),
        ("dividers", raw.dividers.as_ref().map(Spanned::span)),
        ("foot", raw.foot.as_ref().map(Spanned::span)),
        ("marks", raw.marks.as_ref().map(Spanned::span)),
        ("decorated", raw.decorated.as_ref().map(Spanned::span)),
    ];
    all.into_iter().filter_map(|(key, span)| Some((key, span?))).collect()
}

/// The parts of the notebook.
pub fn parts(cx: &mut Context, raw: &raw::Notebook, templates: &[Template], sections: &[Section]) -> Parts {
    let on = |key: &Option<Spanned<bool>>| key.as_ref().is_none_or(|k| *k.get_ref());
    let usual = Parts::default();
    let mut order = raw.parts.as_ref().map_or(usual.order, |list| order(cx, list));
    // Where nothing is offered there is nothing to look over.
    if !templates.iter().any(|t| t.offered) {
        order.retain(|part| !matches!(part, Part::Overview | Part::Templates));
    }
    let parts = Parts { order, dividers: on(&raw.dividers), foot: on(&raw.foot), marks: on(&raw.marks) };
    if let (false, Some(span)) = (parts.dividers, raw.dividers.as_ref().map(Spanned::span)) {
        undivided(cx, raw, sections, span);
    }
    if let (true, Some(list)) = (sections.is_empty(), &raw.parts)
        && !parts.has(Part::Index)
        && !parts.has(Part::Overview)
    {
        let help =
            "add \"index\": without sections there is nothing else for the coil and the cover to lead to".to_owned();
        cx.source.fault(list.span(), "a planner without sections has its index", Some(help));
    }
    let left_out = [
        (Part::Welcome, "welcome", raw.welcome.as_ref().map(Spanned::span)),
        (Part::Index, "index", raw.index.as_ref().and_then(|a| a.art.as_ref()).map(Spanned::span)),
        (Part::Overview, "overview", raw.overview.as_ref().and_then(|a| a.art.as_ref()).map(Spanned::span)),
    ];
    for (part, key, span) in left_out {
        if let (false, Some(span)) = (parts.has(part), span) {
            let help = format!("add \"{key}\" to parts, or take this out");
            cx.source.fault(span, format!("the notebook has no {key}: `parts` leaves it out"), Some(help));
        }
    }
    parts
}

fn order(cx: &mut Context, list: &Spanned<Vec<Spanned<raw::PartName>>>) -> Vec<Part> {
    let mut out: Vec<Part> = Vec::new();
    for name in list.get_ref() {
        let part = match name.get_ref() {
            raw::PartName::Cover => Part::Cover,
            raw::PartName::Welcome => Part::Welcome,
            raw::PartName::Index => Part::Index,
            raw::PartName::Sections => Part::Sections,
            raw::PartName::Overview => Part::Overview,
            raw::PartName::Templates => Part::Templates,
        };
        if out.contains(&part) {
            cx.source.fault(name.span(), "a notebook has each part once", Some("take the second out".into()));
            continue;
        }
        out.push(part);
    }
    let all = "parts = [\"cover\", \"welcome\", \"index\", \"sections\", \"overview\", \"templates\"]";
    if !out.contains(&Part::Sections) {
        let help = format!("add \"sections\" where they belong; all parts in the usual order: {all}");
        cx.source.fault(list.span(), "a notebook without sections has nothing to turn to", Some(help));
        out.push(Part::Sections);
    }
    if out.contains(&Part::Overview) && !out.contains(&Part::Templates) {
        let help = format!("add \"templates\", or take \"overview\" out; all parts in the usual order: {all}");
        cx.source.fault(list.span(), "the overview shows templates that have no pages", Some(help));
    }
    out
}

/// What must be so where no dividers stand: every tab has a page to lead to, and no art is without its page.
fn undivided(cx: &mut Context, raw: &raw::Notebook, sections: &[Section], span: Range<usize>) {
    let help = |what: &str| Some(format!("add {what}, or take dividers = false out"));
    for (i, section) in sections.iter().enumerate().filter(|(_, s)| s.pages.is_empty()) {
        let written = raw.section.get(i);
        let name = if section.name.is_empty() { format!("{}", i + 1) } else { format!("“{}”", section.name) };
        let message = format!("section {name} has neither a divider nor pages: its tab has nowhere to lead");
        let place = written.map_or(span.clone(), Spanned::span);
        cx.source.fault(place, message, help("pages = [{ template = \"…\" }]"));
    }
    for (section, written) in sections.iter().zip(&raw.section) {
        let inner = section.runs().into_iter().skip(1).zip(&written.get_ref().section);
        for (_, inner) in inner.filter(|(pages, _)| pages.is_empty()) {
            let message =
                "a section within a section that has neither a divider nor pages: its tab has nowhere to lead";
            cx.source.fault(inner.span(), message, help("pages = [{ template = \"…\" }]"));
        }
    }
    let own = raw.section.iter().filter_map(|s| s.get_ref().art.as_ref());
    for art in raw.divider.iter().filter_map(|d| d.art.as_ref()).chain(own) {
        let help = Some("take it out, or take dividers = false out".to_owned());
        cx.source.fault(art.span(), "art for dividers that there are none of", help);
    }
}

/// Most sections within a section: more tabs do not fit along the top of a page.
const MOST_WITHIN: usize = 12;

/// The pages that a section begins with, and the sections within it that share them out.
pub fn leaves(
    cx: &mut Context,
    notebook: &raw::Notebook,
    section: &raw::Section,
    templates: &[Template],
    colour: Rgb,
) -> (Vec<Leaf>, Vec<SectionWithin>) {
    let mut seen = BTreeSet::new();
    let mut of = |cx: &mut Context, list: &[Spanned<raw::SectionPages>]| -> Vec<Leaf> {
        list.iter().flat_map(|entry| entry_of(cx, notebook, entry, templates, &mut seen)).collect()
    };
    let mut pages = of(cx, &section.pages);
    if let Some(extra) = section.section.get(MOST_WITHIN) {
        let help = format!("keep at most {MOST_WITHIN}: more tabs do not fit along the top of a page");
        let message = format!("{} sections within one are too many", section.section.len());
        cx.source.fault(extra.span(), message, Some(help));
    }
    let mut within = Vec::new();
    for inner in section.section.iter().map(Spanned::get_ref) {
        let colour = inner.colour.map_or(colour, |c| c.0);
        within.push(SectionWithin { name: inner.name.trim().to_owned(), colour, first: pages.len() });
        pages.extend(of(cx, &inner.pages));
    }
    (pages, within)
}

fn entry_of(
    cx: &mut Context,
    notebook: &raw::Notebook,
    raw: &Spanned<raw::SectionPages>,
    templates: &[Template],
    seen: &mut BTreeSet<String>,
) -> Vec<Leaf> {
    let keys = raw.get_ref();
    let Some(template) = &keys.template else {
        cx.source.fault(raw.span(), "which template?", Some("write { template = \"…\", count = 3 }".into()));
        return Vec::new();
    };
    let count = keys.count.as_ref();
    if let Some(c) = count.filter(|c| *c.get_ref() == 0 || *c.get_ref() > MOST_PAGES) {
        cx.source.fault(c.span(), format!("a section takes 1 to {MOST_PAGES} pages of a template"), None);
    }
    let found = templates.iter().position(|t| t.slug == *template.get_ref() || t.name == *template.get_ref());
    if found.is_none() {
        let help = suggest(template.get_ref(), templates.iter().map(|t| t.slug.as_str()));
        cx.source.fault(template.span(), format!("no template is called `{}`", template.get_ref()), Some(help));
    }
    let name = keys.name.as_ref().map_or("", |n| n.get_ref().trim()).to_owned();
    let called = slug(&name);
    if let Some(span) = keys.name.as_ref().map(Spanned::span).filter(|_| !name.is_empty()) {
        if let Some(c) = count.filter(|c| *c.get_ref() > 1) {
            let help = "take `count` out, and write an entry for each page that has a name".to_owned();
            cx.source.fault(c.span(), format!("“{name}” is the name of one page"), Some(help));
        }
        if called.is_empty() || called.chars().all(|c| c.is_ascii_digit()) {
            let help = "give it a name with a Latin letter in it: links call it page/…".to_owned();
            cx.source.fault(span, format!("“{name}” has no letters that a place can be named by"), Some(help));
        } else if !seen.insert(called.clone()) {
            let help = "give one of the two another name: links could not tell them apart".to_owned();
            cx.source.fault(span, format!("two pages of this section are called `{called}`"), Some(help));
        }
    }
    let stickers = placed::resolve(cx, notebook, &keys.stickers);
    let Some(template) = found else { return Vec::new() };
    let leaf = Leaf { template, name, slug: called, data: art::data(&keys.data), stickers };
    // A number that is out of range has been told; it makes no pages.
    vec![leaf; count.map_or(1, |c| *c.get_ref()).min(MOST_PAGES) as usize]
}
