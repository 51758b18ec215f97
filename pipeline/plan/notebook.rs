//! The notebook as a whole: the order of its pages, its forms, outline and labels.

use super::art::ArtLoader;
use super::builder::Builder;
use super::chrome::{Chrome, State};
use super::frame::{Frame, MonthRoom};
use super::places::Places;
use super::{dated, front, overview, words};
use base::model::pdf_plan::{Entry, LabelRun, LabelStyle, PdfPlan};
use base::model::product::{Notebook, Product};
use base::model::{Fault, Page, Place};
use draw::ruling::Rulings;
use draw::{Fonts, Pen};
use std::collections::BTreeMap;

/// Plans the notebook.
pub fn plan(
    product: &Product,
    notebook: &Notebook,
    fonts: &Fonts,
    rulings: Rulings,
    loader: &mut ArtLoader,
) -> Result<PdfPlan, Vec<Fault>> {
    let calendar = dated::Calendar::new(product, notebook)?;
    let months = calendar.as_ref().map_or(Vec::new(), dated::Calendar::tabs);
    let room = MonthRoom { count: months.len(), edge: notebook.dated.as_ref().and_then(|dated| dated.tabs.edge) };
    let frame = Frame::with_months(&product.page, product.style.corner, notebook.sections.len(), room);
    let chrome = Chrome { frame: &frame, product, notebook, fonts, words: &words::ENGLISH, months: &months };
    let dated = calendar.as_ref().map_or_else(BTreeMap::new, |calendar| calendar.known().collect());
    let known = Places::new(&chrome, notebook, dated);
    let data = loader.data();
    let mut b = Builder {
        product,
        notebook,
        fonts,
        rulings,
        frame: &frame,
        chrome: &chrome,
        pen: Pen::new(&product.style),
        forms: Vec::new(),
        loader,
        places: &known,
        laid: BTreeMap::new(),
        states: BTreeMap::new(),
        pages: Vec::new(),
    };
    let front = State::default();
    let back = State { months: months.len(), passed: notebook.sections.len(), ..front };
    b.cover();
    if let Some(art) = &notebook.art.welcome {
        b.art(front, art, &data, &known, Some(Place::Welcome));
    } else {
        let welcome = front::welcome(&b)?;
        for (i, (drawing, links)) in welcome.into_iter().enumerate() {
            b.page(front, drawing, links, (i == 0).then_some(Place::Welcome));
        }
    }
    if let Some(art) = &notebook.art.index {
        b.art(front, art, &data, &known, Some(Place::Index));
    } else {
        let (drawing, links) = front::index(&b, calendar.as_ref());
        b.page(front, drawing, links, Some(Place::Index));
    }
    b.lay_templates();
    let templates = b.template_forms();
    let first_dated = b.pages.len();
    if let Some(calendar) = &calendar {
        dated::pages(&mut b, calendar);
    }
    let first_section = b.pages.len();
    let mut sections = Vec::new();
    for (i, section) in notebook.sections.iter().enumerate() {
        let state = State { months: months.len(), passed: i, inside: true, ..front };
        sections.push(entry(&chrome.section_title(i, &section.name), b.pages.len()));
        if let Some(art) = &section.art {
            let data = b.section_data(i);
            b.art(state, art, &data, &known.of_section(i + 1), Some(Place::Section(i + 1)));
        } else {
            let (drawing, links) = front::divider(&b, i);
            b.page(state, drawing, links, Some(Place::Section(i + 1)));
        }
        let leaves = section.pages.iter().flat_map(|(t, n)| std::iter::repeat_n(*t, *n));
        for (k, template) in leaves.enumerate() {
            b.template_page(state, &notebook.templates[template], templates[template], Place::Leaf(i + 1, k + 1));
        }
    }
    let first_overview = b.pages.len();
    if let Some(art) = &notebook.art.overview {
        b.art(back, art, &data, &known, Some(Place::Templates));
    } else {
        for (i, (drawing, links)) in overview::pages(&mut b).into_iter().enumerate() {
            b.page(back, drawing, links, Some(overview::place(i)));
        }
    }
    let first_template = b.pages.len();
    for (template, form) in notebook.templates.iter().zip(&templates) {
        b.template_page(back, template, *form, Place::Template(template.slug.clone()));
    }
    let mut outline = vec![entry(words::ENGLISH.cover, 0), entry(words::ENGLISH.welcome, 1)];
    let places = places(&b.pages);
    outline.push(entry(words::ENGLISH.index, places.get(&Place::Index).copied().unwrap_or(0)));
    outline.extend(calendar.iter().flat_map(|calendar| calendar.outline(first_dated)));
    if !sections.is_empty() {
        outline.push(Entry { children: sections, ..entry(words::ENGLISH.sections, first_section) });
    }
    let children = notebook.templates.iter().enumerate().map(|(i, t)| entry(&t.name, first_template + i)).collect();
    outline.push(Entry { children, ..entry(words::ENGLISH.templates, first_overview) });
    let run = |page, prefix: &str, style| LabelRun { page, prefix: prefix.to_owned(), style };
    let mut labels = vec![run(0, "", LabelStyle::Roman)];
    labels.extend(calendar.iter().flat_map(|calendar| calendar.labels(first_dated)));
    if !notebook.sections.is_empty() {
        labels.push(run(first_section, "", LabelStyle::Decimal));
    }
    labels.push(run(first_overview, "T-", LabelStyle::Decimal));
    Ok(PdfPlan {
        title: notebook.title.clone(),
        size: product.page.size,
        labels,
        outline,
        places,
        forms: b.forms,
        pages: b.pages,
    })
}

fn entry(title: &str, page: usize) -> Entry {
    Entry { title: title.to_owned(), page, children: Vec::new(), open: false }
}

fn places(pages: &[Page]) -> BTreeMap<Place, usize> {
    pages.iter().enumerate().filter_map(|(i, p)| Some((p.place.clone()?, i))).collect()
}
