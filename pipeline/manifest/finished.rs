//! A notebook that comes as a finished PDF, with the tabs, tap areas, outline entries and page labels that are to be
//! laid over it.

mod read;

pub use read::{Read, read, take_size};

use super::{Context, notebook, raw};
use base::model::Rgb;
use base::model::art::Measure;
use base::model::fault::suggest;
use base::model::finished::{Finished, OverLink, Pages, Side, Tabs};
use base::model::look::Material;
use base::model::pdf_plan::{Entry, LabelRun, LabelStyle, Place, Target};
use base::model::product::{Cover, CoverDesign, FrontArt, Notebook, PageSetup, Section, Style};
use base::model::structure::Parts;
use base::model::units::trim_number;
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;
use toml::Spanned;

/// Keys that only a finished file has, in a manifest without one.
pub fn lonely(cx: &mut Context, raw: &raw::Notebook) {
    let spans = [
        ("rewrite", raw.rewrite.as_ref().map(Spanned::span)),
        ("tabs", raw.tabs.as_ref().map(Spanned::span)),
        ("link", raw.link.as_ref().map(Spanned::span)),
        ("places", raw.places.as_ref().map(Spanned::span)),
        ("outline", raw.outline.as_ref().map(Spanned::span)),
        ("keep-outline", raw.keep_outline.as_ref().map(Spanned::span)),
        ("labels", raw.labels.as_ref().map(Spanned::span)),
    ];
    let pages = raw.section.iter().flat_map(|s| {
        let s = s.get_ref();
        [
            ("page", s.page.as_ref().filter(|_| s.art.is_none()).map(Spanned::span)),
            ("last-page", s.last_page.as_ref().map(Spanned::span)),
        ]
    });
    for (name, span) in spans.into_iter().chain(pages) {
        if let Some(span) = span {
            let help = "add file = \"exports/….pdf\" under [notebook], or take it out".to_owned();
            cx.source.fault(span, format!("`{name}` is for a notebook that comes as a finished PDF"), Some(help));
        }
    }
}

/// Keys of a drawn notebook beside a finished file.
fn crowded(cx: &mut Context, raw: &raw::Notebook, file: Range<usize>) {
    let tables = [
        ("cover", raw.cover.is_some()),
        ("index", raw.index.is_some()),
        ("overview", raw.overview.is_some()),
        ("divider", raw.divider.is_some()),
    ];
    let help = || Some("take it out, or take `file` out to have the pages drawn".to_owned());
    for (name, _) in tables.into_iter().filter(|(_, there)| *there) {
        cx.source.fault(file.clone(), format!("a finished PDF is taken as it is: `{name}` has no place in it"), help());
    }
    let mut blame = |name: &str, span: Range<usize>| {
        cx.source.fault(span, format!("a finished PDF is taken as it is: `{name}` has no place in it"), help());
    };
    if let Some(welcome) = &raw.welcome {
        blame("welcome", welcome.span());
    }
    for (key, span) in super::structure::spans(raw) {
        blame(key, span);
    }
    if let Some(template) = raw.template.first() {
        blame("template", template.span());
    }
    if let Some(set) = raw.dated.first() {
        blame("dated", set.span());
    }
    for section in &raw.section {
        if let Some(pages) = section.get_ref().pages.first() {
            blame("pages", pages.span());
        }
        if let Some(within) = section.get_ref().section.first() {
            blame("section.section", within.span());
        }
        if let Some(art) = &section.get_ref().art {
            blame("art", art.span());
        }
    }
}

/// Resolves a notebook that comes as a finished file.
pub fn resolve(
    cx: &mut Context,
    raw: &raw::Notebook,
    read: Option<Read>,
    page: &PageSetup,
    style: &Option<Style>,
    raw_style: &raw::Style,
) -> Option<Notebook> {
    crowded(cx, raw, raw.file.as_ref().map_or(0..0, Spanned::span));
    let read = read?;
    let count = read.facts.pages.len();
    let mut book = Book { cx, file: &read.file, count };
    let starts = book.sections(raw);
    let places = book.places(raw, &starts);
    let tabs = book.tabs(raw, page);
    if !tabs.drawn {
        book.no_icons(raw);
    }
    let links = book.links(raw, &places);
    let outline = raw.outline.as_ref().map_or(Vec::new(), |o| book.outline(o.get_ref()));
    let labels = book.labels(raw);
    let colours = notebook::colours(raw, raw.section.len(), style, raw_style);
    let sections = raw
        .section
        .iter()
        .zip(colours)
        .map(|(s, colour)| Section {
            name: s.get_ref().name.trim().to_owned(),
            colour,
            icon: notebook::icon(cx, s.get_ref().icon.as_ref()),
            pages: Vec::new(),
            within: Vec::new(),
            art: None,
        })
        .collect();
    let own = read.facts.title.clone().filter(|t| !t.trim().is_empty());
    let given = raw.title.as_ref().map(|t| t.get_ref().clone());
    let title = given.or(own).unwrap_or_else(|| cx.name.to_owned());
    Some(Notebook {
        title: title.clone(),
        cover: no_cover(title),
        welcome: String::new(),
        art: FrontArt::default(),
        sections,
        templates: Vec::new(),
        dated: None,
        parts: Parts::default(),
        finished: Some(Arc::new(Finished {
            file: read.file,
            bytes: read.bytes,
            facts: read.facts,
            rewrite: raw.rewrite.as_ref().is_some_and(|r| *r.get_ref()),
            tabs,
            starts,
            places,
            links,
            outline,
            keep_outline: raw.keep_outline.as_ref().is_none_or(|k| *k.get_ref()),
            labels,
        })),
    })
}

/// The file has its own cover: this one is never drawn.
fn no_cover(name: String) -> Cover {
    let (colour, second) = (Rgb::WHITE, Rgb::WHITE);
    Cover {
        name,
        design: CoverDesign::Flat,
        colour,
        second,
        material: Material::Plain,
        finish: Default::default(),
        label: false,
        line: String::new(),
    }
}

struct Book<'c, 'a, 't> {
    cx: &'c mut Context<'a, 't>,
    file: &'c str,
    count: usize,
}

impl Book<'_, '_, '_> {
    /// Icons stand on tabs that are drawn here; in a file that comes with its own there is no place for them.
    fn no_icons(&mut self, raw: &raw::Notebook) {
        for icon in raw.section.iter().filter_map(|s| s.get_ref().icon.as_ref()) {
            let help = "take it out, or let the tabs be drawn: take draw = false out of `tabs`".to_owned();
            let message = "an icon stands on the tab of its section, and no tabs are drawn on this file";
            self.cx.source.fault(icon.span(), message, Some(help));
        }
    }

    /// A page as written, from 0.
    fn page(&mut self, written: &Spanned<u32>) -> Option<usize> {
        let n = *written.get_ref() as usize;
        if (1..=self.count).contains(&n) {
            return Some(n - 1);
        }
        let (file, count) = (self.file, self.count);
        let help = format!("its pages are 1 to {count}, the first one is 1 whatever is printed on it");
        self.cx.source.fault(written.span(), format!("{file:?} has no page {n}"), Some(help));
        None
    }

    fn pages(&mut self, written: Option<&Spanned<raw::PageList>>) -> Pages {
        let Some(written) = written else { return Pages::all() };
        let runs = &written.get_ref().0;
        let beyond = runs.iter().flat_map(|(a, b)| [Some(*a), *b]).flatten().find(|n| *n >= self.count);
        if let Some(n) = beyond {
            let (file, count) = (self.file, self.count);
            let help = format!("its pages are 1 to {count}; \"20-\" means up to the last one");
            self.cx.source.fault(written.span(), format!("{file:?} has no page {}", n + 1), Some(help));
        }
        Pages(runs.clone())
    }

    /// First and last pages of the sections, which stand in the order of their pages.
    fn sections(&mut self, raw: &raw::Notebook) -> Vec<(usize, Option<usize>)> {
        if let Some(extra) = raw.section.get(notebook::MOST_SECTIONS) {
            let most = notebook::MOST_SECTIONS;
            let help = format!("keep at most {most}: more tabs do not fit on the page edge");
            self.cx.source.fault(extra.span(), format!("{} sections are too many", raw.section.len()), Some(help));
        }
        let mut out: Vec<(usize, Option<usize>)> = Vec::new();
        for section in &raw.section {
            let Some(written) = &section.get_ref().page else {
                let help = "add page = 12: the page of the file that its tab leads to".to_owned();
                self.cx.source.fault(section.span(), "on which page does this section begin?", Some(help));
                continue;
            };
            let Some(first) = self.page(written) else { continue };
            let before = out.last().copied();
            if let Some((earlier, last)) = before
                && first <= last.unwrap_or(earlier)
            {
                let help = "list the sections in the order of their pages, each with pages of its own".to_owned();
                let message = format!("page {} belongs to the section before it", first + 1);
                self.cx.source.fault(written.span(), message, Some(help));
            }
            let last = section.get_ref().last_page.as_ref().and_then(|w| Some((self.page(w)?, w.span())));
            if let Some((last, span)) = last.clone().filter(|(last, _)| *last < first) {
                let message = format!("the last page, {}, lies before the first, {}", last + 1, first + 1);
                self.cx.source.fault(span, message, None);
            }
            out.push((first, last.map(|(last, _)| last)));
        }
        out
    }

    /// Pages that have a name: sections, and what the table of places lists.
    fn places(&mut self, raw: &raw::Notebook, starts: &[(usize, Option<usize>)]) -> BTreeMap<Place, usize> {
        let mut out: BTreeMap<Place, usize> =
            starts.iter().enumerate().map(|(i, (first, _))| (Place::Section(i + 1), *first)).collect();
        for (name, written) in raw.places.iter().flat_map(|p| p.get_ref()) {
            let place = match name.as_str() {
                "cover" => Some(Place::Cover),
                "welcome" => Some(Place::Welcome),
                "index" => Some(Place::Index),
                "templates" => Some(Place::Templates),
                other => other.strip_prefix("template/").filter(|s| !s.is_empty()).map(|s| Place::Template(s.into())),
            };
            let page = self.page(written);
            match place {
                Some(place) => out.extend(page.map(|page| (place, page))),
                None => {
                    let known = ["cover", "welcome", "index", "templates", "template/…"];
                    let help = format!("places are {}; other pages are led to as page/12", known.join(", "));
                    self.cx.source.fault(written.span(), format!("there is no place `{name}`"), Some(help));
                }
            }
        }
        out
    }

    fn tabs(&mut self, raw: &raw::Notebook, page: &PageSetup) -> Tabs {
        // Two papers side by side are a bound book: passed tabs go over to the left.
        let usual = if page.spread { Side::Turning } else { Side::Right };
        let Some(written) = &raw.tabs else {
            return Tabs { side: usual, depth: None, drawn: true, pages: Pages::all() };
        };
        if raw.section.is_empty() {
            let help = "add [[notebook.section]] with name and page for each tab".to_owned();
            self.cx.source.fault(written.span(), "there are no sections that tabs could lead to", Some(help));
        }
        let tabs = written.get_ref();
        let least = page.size.w.min(page.size.h);
        let depth = tabs.depth.as_ref().map(|d| (d.get_ref().0, d.span()));
        if let Some((depth, span)) = depth.clone().filter(|(d, _)| d.0 < 2.0 || d.pt() > least / 4.0) {
            let most = trim_number(least / 4.0 / base::model::units::PT_PER_MM, 0);
            self.cx.source.fault(span, format!("tabs of {depth} do not work"), Some(format!("from 2 mm to {most} mm")));
        }
        Tabs {
            side: match tabs.side {
                Some(raw::SideName::Right) => Side::Right,
                Some(raw::SideName::Left) => Side::Left,
                Some(raw::SideName::Turning) => Side::Turning,
                None => usual,
            },
            depth: depth.map(|(d, _)| d),
            drawn: tabs.draw.unwrap_or(true),
            pages: self.pages(tabs.pages.as_ref()),
        }
    }

    fn links(&mut self, raw: &raw::Notebook, places: &BTreeMap<Place, usize>) -> Vec<OverLink> {
        let Some(list) = &raw.link else { return Vec::new() };
        list.get_ref().iter().filter_map(|link| self.link(link, places)).collect()
    }

    fn link(&mut self, written: &Spanned<raw::OverLink>, places: &BTreeMap<Place, usize>) -> Option<OverLink> {
        let link = written.get_ref();
        let pages = self.pages(link.pages.as_ref());
        let example = || {
            Some(
                "write [[notebook.link]] with pages = 3, to = \"page/12\" and at = [10, 5, \"40 mm\", \"12 mm\"]"
                    .to_owned(),
            )
        };
        let Some(to) = &link.to else {
            self.cx.source.fault(written.span(), "where does this tap area lead?", example());
            return None;
        };
        let sides: Option<[Measure; 4]> =
            link.at.as_ref().and_then(|a| a.get_ref().iter().map(|s| s.0).collect::<Vec<_>>().try_into().ok());
        let Some(at) = sides else {
            let span = link.at.as_ref().map_or(written.span(), Spanned::span);
            self.cx.source.fault(span, "a tap area has four numbers: left, top, width and height", example());
            return None;
        };
        let span = link.at.as_ref().map_or(written.span(), Spanned::span);
        if at.iter().any(|m| matches!(m, Measure::Px(_))) {
            let help = "give it in mm, pt or % of the page, or as \"264 px at 264 dpi\"".to_owned();
            self.cx.source.fault(span.clone(), "the pages of a PDF have no pixels", Some(help));
        }
        let empty = |m: Measure| {
            let (Measure::Mm(v) | Measure::Px(v) | Measure::Percent(v)) = m;
            v <= 0.0
        };
        if empty(at[2]) || empty(at[3]) {
            self.cx.source.fault(span, "this tap area has no width or no height", example());
        }
        let target = self.target(to, places)?;
        let says = link.says.clone().unwrap_or_default();
        Some(OverLink { pages, at, to: target, says, span: Some(self.cx.source.span(to.span())) })
    }

    fn target(&mut self, to: &Spanned<String>, places: &BTreeMap<Place, usize>) -> Option<Target> {
        let name = to.get_ref().trim().trim_start_matches("link:");
        if name.contains(':') {
            let sound = (name.starts_with("https://") && name.len() > 10 || name.starts_with("mailto:"))
                && !name.chars().any(char::is_whitespace);
            if !sound {
                let help = "give the whole address, beginning with https://".to_owned();
                let message = format!("`{name}` is not an address that a notebook may lead to");
                self.cx.source.fault(to.span(), message, Some(help));
            }
            return sound.then(|| Target::Address(name.into()));
        }
        if let Some(number) = name.strip_prefix("page/") {
            let page = number.parse::<usize>().ok().filter(|n| (1..=self.count).contains(n));
            if page.is_none() {
                let (file, count) = (self.file, self.count);
                let help = format!("its pages are page/1 to page/{count}");
                self.cx.source.fault(to.span(), format!("{file:?} has no `{name}`"), Some(help));
            }
            return page.map(|n| Target::Place(Place::Page(n)));
        }
        let found = places.keys().find(|p| p.to_string() == name);
        if found.is_none() {
            let names: Vec<String> = places.keys().map(ToString::to_string).collect();
            let near = suggest(name, names.iter().map(String::as_str).chain(["page/1"]));
            let help = format!("{near}; [notebook.places] gives pages names: index = 3");
            self.cx.source.fault(to.span(), format!("`{name}` is no place of this notebook"), Some(help));
        }
        found.cloned().map(Target::Place)
    }

    fn outline(&mut self, entries: &[Spanned<raw::OutlineEntry>]) -> Vec<Entry> {
        let mut out = Vec::new();
        for written in entries {
            let entry = written.get_ref();
            let children = self.outline(&entry.entries);
            let page = entry.page.as_ref().and_then(|p| self.page(p));
            let (Some(title), Some(_)) = (&entry.title, &entry.page) else {
                let help = "write { title = \"…\", page = 12 }".to_owned();
                self.cx.source.fault(written.span(), "an entry of the outline has a title and a page", Some(help));
                continue;
            };
            out.extend(page.map(|page| Entry {
                title: title.get_ref().trim().to_owned(),
                page,
                children,
                open: false,
            }));
        }
        out
    }

    fn labels(&mut self, raw: &raw::Notebook) -> Vec<LabelRun> {
        let mut out: Vec<LabelRun> = Vec::new();
        for written in raw.labels.iter().flat_map(|l| l.get_ref()) {
            let run = written.get_ref();
            let page = match &run.from {
                Some(from) => self.page(from),
                None => Some(0),
            };
            let Some(page) = page else { continue };
            let style = match run.style {
                Some(raw::LabelName::Decimal) | None => LabelStyle::Decimal,
                Some(raw::LabelName::Roman) => LabelStyle::Roman,
                Some(raw::LabelName::None) => LabelStyle::None,
            };
            let first = out.is_empty();
            if first && page > 0 || out.last().is_some_and(|before| before.page >= page) {
                let help = "the first run begins at from = 1, each later one at a later page".to_owned();
                let span = run.from.as_ref().map_or(written.span(), Spanned::span);
                self.cx.source.fault(span, "page labels are runs from the first page on, in order", Some(help));
            }
            out.push(LabelRun { page, prefix: run.prefix.clone(), style });
        }
        out
    }
}
