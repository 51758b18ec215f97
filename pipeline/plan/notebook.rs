//! The notebook as a whole: the order of its pages, its forms, outline and labels.

use super::chrome::{Chrome, State};
use super::frame::Frame;
use super::{front, overview, words};
use crate::draw::{Fonts, Pen, cover};
use crate::model::drawing::Shape;
use crate::model::plan::{Entry, LabelRun, LabelStyle, PdfPlan};
use crate::model::product::{Notebook, Product, Template};
use crate::model::{Drawing, Fault, Link, Mm, Page, Place, Point, Rect, Target};
use crate::rulings::{self, Desk};
use std::collections::BTreeMap;

/// Everything that the pages are built with.
pub struct Builder<'a> {
    pub product: &'a Product,
    pub notebook: &'a Notebook,
    pub fonts: &'a Fonts,
    pub frame: &'a Frame,
    pub chrome: &'a Chrome<'a>,
    pub pen: Pen,
    /// Drawings stored once: the chrome by state, then templates, then their small pictures.
    pub forms: Vec<Drawing>,
    links: BTreeMap<usize, Vec<Link>>,
    states: BTreeMap<(usize, bool), usize>,
    pages: Vec<Page>,
}

/// Plans the notebook.
pub fn plan(product: &Product, notebook: &Notebook, fonts: &Fonts) -> Result<PdfPlan, Vec<Fault>> {
    let frame = Frame::new(&product.page, product.style.corner, notebook.sections.len());
    let chrome = Chrome { frame: &frame, product, notebook, fonts, words: &words::ENGLISH };
    let mut b = Builder {
        product,
        notebook,
        fonts,
        frame: &frame,
        chrome: &chrome,
        pen: Pen::new(&product.style),
        forms: Vec::new(),
        links: BTreeMap::new(),
        states: BTreeMap::new(),
        pages: Vec::new(),
    };
    let front = State { passed: 0, inside: false };
    let back = State { passed: notebook.sections.len(), inside: false };
    b.cover();
    let welcome = front::welcome(&b)?;
    for (i, (drawing, links)) in welcome.into_iter().enumerate() {
        b.page(front, drawing, links, (i == 0).then_some(Place::Welcome));
    }
    let (drawing, links) = front::index(&b);
    b.page(front, drawing, links, Some(Place::Index));
    let templates = b.template_forms();
    let first_section = b.pages.len();
    let mut sections = Vec::new();
    for (i, section) in notebook.sections.iter().enumerate() {
        let state = State { passed: i, inside: true };
        sections.push(entry(&chrome.section_title(i, &section.name), b.pages.len()));
        let (drawing, links) = front::divider(&b, i);
        b.page(state, drawing, links, Some(Place::Section(i + 1)));
        let leaves = section.pages.iter().flat_map(|(t, n)| std::iter::repeat_n(*t, *n));
        for (k, template) in leaves.enumerate() {
            b.page(state, whole(templates[template]), Vec::new(), Some(Place::Leaf(i + 1, k + 1)));
        }
    }
    let first_overview = b.pages.len();
    for (i, (drawing, links)) in overview::pages(&mut b).into_iter().enumerate() {
        b.page(back, drawing, links, (i == 0).then_some(Place::Templates));
    }
    let first_template = b.pages.len();
    for (template, form) in notebook.templates.iter().zip(&templates) {
        b.page(back, whole(*form), Vec::new(), Some(Place::Template(template.slug.clone())));
    }
    let mut outline = vec![entry(words::ENGLISH.cover, 0), entry(words::ENGLISH.welcome, 1)];
    let places = places(&b.pages);
    outline.push(entry(words::ENGLISH.index, places.get(&Place::Index).copied().unwrap_or(0)));
    outline.push(Entry { children: sections, ..entry(words::ENGLISH.sections, first_section) });
    let children = notebook.templates.iter().enumerate().map(|(i, t)| entry(&t.name, first_template + i)).collect();
    outline.push(Entry { children, ..entry(words::ENGLISH.templates, first_overview) });
    let run = |page, prefix: &str, style| LabelRun { page, prefix: prefix.to_owned(), style };
    Ok(PdfPlan {
        title: notebook.title.clone(),
        size: product.page.size,
        labels: vec![
            run(0, "", LabelStyle::Roman),
            run(first_section, "", LabelStyle::Decimal),
            run(first_overview, "T-", LabelStyle::Decimal),
        ],
        outline,
        places,
        forms: b.forms,
        pages: b.pages,
    })
}

fn entry(title: &str, page: usize) -> Entry {
    Entry { title: title.to_owned(), page, children: Vec::new() }
}

fn places(pages: &[Page]) -> BTreeMap<Place, usize> {
    pages.iter().enumerate().filter_map(|(i, p)| Some((p.place.clone()?, i))).collect()
}

/// A form at its own size.
fn whole(form: usize) -> Drawing {
    Drawing { shapes: vec![Shape::Form { form, at: Point::default(), scale: 1.0 }] }
}

impl Builder<'_> {
    fn cover(&mut self) {
        let (size, corner) = (self.product.page.size, self.product.style.corner.pt());
        let drawing =
            cover::draw(&self.notebook.cover, &self.product.style, size, self.product.page.spread, corner, self.fonts);
        // The lower third opens the book; the label above it stays free for writing.
        let rect = Rect::new(size.w * 0.1, size.h * 0.68, size.w * 0.8, size.h * 0.28);
        let says = format!("{} {}", words::ENGLISH.go_to, words::ENGLISH.index);
        let links = vec![Link { rect, target: Target::Place(Place::Index), says }];
        self.pages.push(Page { place: Some(Place::Cover), drawing, links });
    }

    /// Adds a page: the chrome of its state below, its own drawing and links on top.
    fn page(&mut self, state: State, drawing: Drawing, links: Vec<Link>, place: Option<Place>) {
        let form = match self.states.get(&(state.passed, state.inside)) {
            Some(form) => *form,
            None => {
                self.forms.push(self.chrome.draw(state));
                let form = self.forms.len() - 1;
                self.links.insert(form, self.chrome.links(state));
                self.states.insert((state.passed, state.inside), form);
                form
            }
        };
        let mut all = whole(form);
        all.extend(drawing);
        let mut taps = self.links.get(&form).cloned().unwrap_or_default();
        taps.extend(links);
        self.pages.push(Page { place, drawing: all, links: taps });
    }

    /// What a template draws, with this pen.
    pub fn template(&self, template: &Template, pen: Pen) -> Drawing {
        let corner = self.frame.corner.min(6.0);
        let desk = |areas| Desk { areas, pen, fonts: self.fonts, corner };
        let draw = |name: &str, with: &toml::Table, areas: Vec<Rect>| {
            // The manifest has checked name and parameters; without a ruling the page stays blank.
            rulings::find(name).and_then(|r| r.draw(with, &desk(areas))).unwrap_or_default()
        };
        match &template.beside {
            None => draw(&template.ruling, &template.with, self.frame.areas.clone()),
            Some((beside, with)) => {
                // A gap of one pitch keeps both halves on one baseline grid.
                let pitch = rulings::find(&template.ruling).and_then(|r| r.pitch(&template.with));
                let (first, second) = rulings::halves(&self.frame.areas, pitch.unwrap_or_else(|| Mm(7.1).pt()));
                let mut d = draw(&template.ruling, &template.with, first);
                d.extend(draw(beside, with, second));
                d
            }
        }
    }

    fn template_forms(&mut self) -> Vec<usize> {
        let drawings: Vec<Drawing> = self.notebook.templates.iter().map(|t| self.template(t, self.pen)).collect();
        drawings
            .into_iter()
            .map(|d| {
                self.forms.push(d);
                self.forms.len() - 1
            })
            .collect()
    }
}
