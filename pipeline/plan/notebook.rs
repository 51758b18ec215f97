//! The notebook as a whole: the order of its pages, its forms, outline and labels.

use super::art::ArtLoader;
use super::builder::Builder;
use super::chrome::{Chrome, State};
use super::frame::{Frame, MonthRoom};
use super::leaves::Forms;
use super::places::Places;
use super::sheets::Placed;
use super::{dated, front, leaves, mirror, overview};
use base::model::pdf_plan::{Entry, LabelRun, LabelStyle, PdfPlan};
use base::model::product::{Notebook, Product};
use base::model::structure::Part;
use base::model::{Fault, Page, Place};
use draw::paper::Laid;
use draw::ruling::Rulings;
use draw::{Fonts, Pen};
use std::collections::BTreeMap;

/// Plans the notebook.
pub fn plan(
    product: &Product,
    notebook: &Notebook,
    fonts: &Fonts,
    (rulings, placed): (Rulings, &Placed),
    loader: &mut ArtLoader,
) -> Result<PdfPlan, Vec<Fault>> {
    let calendar = dated::Calendar::new(product, notebook)?;
    let months = calendar.as_ref().map_or(Vec::new(), dated::Calendar::tabs);
    let room = MonthRoom { count: months.len(), edge: notebook.dated.as_ref().and_then(|dated| dated.tabs.edge) };
    let within = notebook.sections.iter().any(|s| !s.within.is_empty());
    let frame = Frame::with_rows(&product.page, product.style.corner, notebook.sections.len(), room, within);
    if frame.within.is_some_and(|row| row.crowded) {
        let help = "take coil = \"top\" out, or put the months on the side with notebook.months.edge = \"side\"";
        let message = "the coil and a row of tabs leave no edge to the tabs of sections within sections";
        return Err(vec![Fault::new(message).in_file(super::MANIFEST).help(help)]);
    }
    let grain = Laid::new(product.style.manner.grain, product.style.paper);
    let (words, grain) = (&product.words, grain.as_ref());
    let chrome = Chrome { frame: &frame, product, notebook, fonts, words, months: &months, grain };
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
        placed,
        laid: BTreeMap::new(),
        states: BTreeMap::new(),
        pages: Vec::new(),
    };
    let (mut outline, mut labels) = (Vec::new(), Vec::new());
    let mut forms = None;
    let mut labelled_behind = false;
    let run = |page, prefix: &str, style| LabelRun { page, prefix: prefix.to_owned(), style };
    for part in &notebook.parts.order {
        let behind = notebook.parts.is_behind(*part);
        let back = State { months: months.len(), passed: notebook.sections.len(), ..State::default() };
        let state = if behind { back } else { State::default() };
        let first = b.pages.len();
        match labels.len() {
            0 if *part != Part::Sections => labels.push(run(first, "", LabelStyle::Roman)),
            _ if behind && !outline.is_empty() && !labelled_behind => {
                labelled_behind = true;
                labels.push(run(first, "T-", LabelStyle::Decimal));
            }
            _ => {}
        }
        match part {
            Part::Cover => {
                b.cover();
                outline.push(entry(&product.words.cover, first));
            }
            Part::Welcome => {
                if let Some(art) = &notebook.art.welcome {
                    b.art(state, art, &data, &known, Some(Place::Welcome));
                } else {
                    for (i, (drawing, links)) in front::welcome(&b)?.into_iter().enumerate() {
                        b.page(state, drawing, links, (i == 0).then_some(Place::Welcome));
                    }
                }
                outline.push(entry(&product.words.welcome, first));
            }
            Part::Index => {
                if let Some(art) = &notebook.art.index {
                    b.art(state, art, &data, &known, Some(Place::Index));
                } else {
                    let (drawing, links) = front::index(&b, calendar.as_ref());
                    b.page(state, drawing, links, Some(Place::Index));
                }
                outline.push(entry(&product.words.index, first));
            }
            Part::Sections => {
                let forms = forms.get_or_insert_with(|| lay(&mut b));
                // Dated pages stand before the sections.
                if let Some(calendar) = &calendar {
                    dated::pages(&mut b, calendar);
                    labels.extend(calendar.labels(first));
                    outline.extend(calendar.outline(first));
                }
                let first = b.pages.len();
                let children = sections(&mut b, forms, months.len());
                if !children.is_empty() {
                    labels.extend(leaves::labels(first, &notebook.sections, notebook.parts.dividers));
                    outline.push(Entry { children, ..entry(&product.words.sections, first) });
                }
            }
            Part::Overview => {
                forms.get_or_insert_with(|| lay(&mut b));
                if let Some(art) = &notebook.art.overview {
                    b.art(state, art, &data, &known, Some(Place::Templates));
                } else {
                    for (i, (drawing, links)) in overview::pages(&mut b).into_iter().enumerate() {
                        b.page(state, drawing, links, Some(overview::place(i)));
                    }
                }
                outline.push(entry(&product.words.templates, first));
            }
            Part::Templates => {
                let forms = forms.get_or_insert_with(|| lay(&mut b));
                let mut children = Vec::new();
                for (i, template) in notebook.offered() {
                    children.push(entry(&template.name, b.pages.len()));
                    b.template_page(state, template, forms.whole[i], Place::Template(template.slug.as_str().into()));
                }
                // Below the overview, where that comes right before.
                match outline.last_mut().filter(|last: &&mut Entry| last.title == product.words.templates) {
                    Some(overview) => overview.children = children,
                    None => outline.push(Entry { children, ..entry(&product.words.template_pages, first) }),
                }
            }
        }
    }
    let pdf = PdfPlan {
        title: notebook.title.clone(),
        size: product.page.size,
        labels,
        outline,
        places: places(&b.pages, notebook),
        forms: b.forms,
        pages: b.pages,
        right_to_left: false,
    };
    Ok(mirror::document(pdf, product, fonts))
}

/// Lays the templates' art, and gives the forms of all templates.
fn lay(b: &mut Builder) -> Forms {
    b.lay_templates();
    Forms::new(b.template_forms())
}

/// Adds the sections, each with its divider and the pages behind it; gives their entries of the outline.
fn sections(b: &mut Builder, forms: &mut Forms, months: usize) -> Vec<Entry> {
    let notebook = b.notebook;
    let mut entries = Vec::new();
    for (i, section) in notebook.sections.iter().enumerate() {
        let state = State { months, passed: i, inside: true, ..State::default() };
        let first = b.pages.len();
        if let (Some(art), true) = (&section.art, notebook.parts.dividers) {
            let data = b.section_data(i);
            b.art(state, art, &data, &b.places.of_section(i + 1), Some(Place::Section(i + 1)));
        } else if notebook.parts.dividers {
            let (drawing, links) = front::divider(b, i, None);
            b.full_page(state, drawing, links, Some(Place::Section(i + 1)));
        }
        let mut children = Vec::new();
        for (run, pages) in section.runs().into_iter().enumerate() {
            let within = run.checked_sub(1);
            let state = State { within, ..state };
            let begun = b.pages.len();
            if let (Some(w), true) = (within, notebook.parts.dividers) {
                let (drawing, links) = front::divider(b, i, Some(w));
                b.full_page(state, drawing, links, Some(Place::Within(i + 1, w + 1)));
            }
            let mut named = Vec::new();
            let from = within.map_or(0, |w| section.within[w].first);
            for (k, leaf) in pages.iter().enumerate() {
                if !leaf.name.is_empty() {
                    named.push(entry(&leaf.name, b.pages.len()));
                }
                leaves::add(b, forms, state, (i, from + k), leaf);
            }
            match within {
                None => children.extend(named),
                Some(w) => children.push(Entry { children: named, ..entry(&b.chrome.title_within(i, w), begun) }),
            }
        }
        entries.push(Entry { children, ..entry(&b.chrome.section_title(i, &section.name), first) });
    }
    entries
}

fn entry(title: &str, page: usize) -> Entry {
    Entry { title: title.to_owned(), page, children: Vec::new(), open: false }
}

/// Where each place begins. Without dividers, a section begins with its first page.
fn places(pages: &[Page], notebook: &Notebook) -> BTreeMap<Place, usize> {
    let mut all: BTreeMap<Place, usize> =
        pages.iter().enumerate().filter_map(|(i, p)| Some((p.place.clone()?, i))).collect();
    for section in (1..=notebook.sections.len()).filter(|_| !notebook.parts.dividers) {
        if let Some(page) = all.get(&Place::Leaf(section, 1)).copied() {
            all.insert(Place::Section(section), page);
        }
        for (n, within) in notebook.sections[section - 1].within.iter().enumerate() {
            if let Some(page) = all.get(&Place::Leaf(section, within.first + 1)).copied() {
                all.insert(Place::Within(section, n + 1), page);
            }
        }
    }
    all
}
