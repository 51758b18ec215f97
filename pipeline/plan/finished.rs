//! A finished notebook: what is laid over its pages. Everything is planned on the page as a reader sees it, turned and
//! cropped; only the writer knows how the page lies in its file.

use super::chrome::Chrome;
use super::frame::Frame;
use super::labels::TabFace;
use base::colour;
use base::model::art::Measure;
use base::model::drawing::{Path, Shape, Stroke, Turn};
use base::model::finished::{Finished, FinishedPlan, PageView, Side};
use base::model::pdf_plan::{Entry, PdfPlan};
use base::model::product::{Coil, Notebook, PageSetup, Product};
use base::model::words::Words;
use base::model::{Drawing, Fault, Link, Mm, Page, Place, Point, Rect, Size, Target};
use draw::Fonts;
use std::collections::BTreeMap;

/// How deep a tab is that is not open, against the open one.
const CLOSED: f64 = 0.8;

/// Plans what is laid over a finished notebook.
///
/// # Errors
/// A tap area that lies off its page.
pub fn plan(
    product: &Product,
    notebook: &Notebook,
    finished: &Finished,
    fonts: &Fonts,
) -> Result<FinishedPlan, Vec<Fault>> {
    let sheets: Vec<PageView> = finished.facts.pages.iter().map(PageView::of).collect();
    let mut forms =
        Forms { product, notebook, finished, fonts, frames: Vec::new(), known: BTreeMap::new(), list: Vec::new() };
    let mut pages = Vec::with_capacity(sheets.len());
    for (i, sheet) in sheets.iter().enumerate() {
        let mut page = Page::default();
        if finished.tabs.pages.has(i) && !notebook.sections.is_empty() {
            forms.tabs(&mut page, i, sheet.shown());
        }
        pages.push(page);
    }
    let faults = listed(&product.words, finished, &sheets, &mut pages);
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut places = finished.places.clone();
    places.extend((0..sheets.len()).map(|i| (Place::Page(i + 1), i)));
    // The forms are written on sheets that hold the largest page.
    let most = |of: fn(Size) -> f64| sheets.iter().map(|s| of(s.shown())).fold(3.0, f64::max);
    let own = finished.facts.title.clone().filter(|t| !t.trim().is_empty());
    let over = PdfPlan {
        title: own.unwrap_or_else(|| notebook.title.clone()),
        size: Size::new(most(|s| s.w), most(|s| s.h)),
        forms: forms.list,
        pages,
        outline: outline(&product.words, notebook, finished),
        labels: finished.labels.clone(),
        places,
        right_to_left: false,
    };
    Ok(FinishedPlan {
        from: finished.file.clone(),
        source: finished.bytes.clone(),
        facts: finished.facts.clone(),
        sheets,
        over,
        keep_outline: finished.keep_outline,
        rewrite: finished.rewrite,
    })
}

/// What is added to the outline: what the manifest lists, or else the sections where the file has no outline.
fn outline(words: &Words, notebook: &Notebook, finished: &Finished) -> Vec<Entry> {
    if !finished.outline.is_empty() || finished.keep_outline && !finished.facts.outline.is_empty() {
        return finished.outline.clone();
    }
    let sections = notebook.sections.iter().zip(&finished.starts).enumerate();
    sections
        .map(|(i, (s, (page, _)))| Entry {
            title: title(words, i, &s.name),
            page: *page,
            children: Vec::new(),
            open: false,
        })
        .collect()
}

/// Name of a section, or its number where it has none.
fn title(words: &Words, index: usize, name: &str) -> String {
    if name.is_empty() { words.section_number(index) } else { name.to_owned() }
}

/// Lays the tap areas of the manifest over the pages.
fn listed(words: &Words, finished: &Finished, sheets: &[PageView], pages: &mut [Page]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for link in &finished.links {
        let says = if link.says.is_empty() {
            match &link.to {
                Target::Address(address) => address.to_string(),
                Target::Place(Place::Page(n)) => format!("{} {} {n}", words.go_to, words.page),
                Target::Place(place) => format!("{} {place}", words.go_to),
            }
        } else {
            link.says.clone()
        };
        for (i, (sheet, page)) in sheets.iter().zip(&mut *pages).enumerate().filter(|(i, _)| link.pages.has(*i)) {
            let rect = placed(link.at, sheet.shown());
            if !Rect::page(sheet.shown()).contains(rect, 0.5) {
                let size = sheet.shown();
                let mut fault = Fault::new(format!(
                    "this tap area lies off page {} of {}, which is {} × {} as it is seen",
                    i + 1,
                    finished.file,
                    Mm::from(base::model::Pt(size.w)),
                    Mm::from(base::model::Pt(size.h))
                ))
                .in_file("product.toml")
                .help("measures are taken from the top left corner of the page as a reader shows it");
                fault.span = link.span.clone();
                faults.push(fault);
                break;
            }
            page.links.push(Link { rect, target: link.to.clone(), says: says.as_str().into() });
        }
    }
    faults
}

fn placed(at: [Measure; 4], page: Size) -> Rect {
    let length = |m: Measure, whole: f64| match m {
        Measure::Mm(v) => Mm(v).pt(),
        Measure::Percent(v) => whole * v / 100.0,
        // The manifest refuses pixels: a PDF page has none. Taken as points they lie where one would look for them.
        Measure::Px(v) => v,
    };
    let [x, y, w, h] = at;
    Rect::new(length(x, page.w), length(y, page.h), length(w, page.w), length(h, page.h))
}

/// Which tabs hang on the left, and which one is open.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct State {
    passed: usize,
    inside: bool,
}

/// The tabs by state and page size, each drawn once.
struct Forms<'a> {
    product: &'a Product,
    notebook: &'a Notebook,
    finished: &'a Finished,
    fonts: &'a Fonts,
    frames: Vec<Frame>,
    known: BTreeMap<(usize, State), usize>,
    list: Vec<Drawing>,
}

impl Forms<'_> {
    /// Lays the tabs over a page.
    fn tabs(&mut self, page: &mut Page, index: usize, size: Size) {
        let state = self.state(index);
        let frame = self.frame(size);
        if self.finished.tabs.drawn {
            let form = match self.known.get(&(frame, state)) {
                Some(form) => *form,
                None => {
                    self.list.push(self.draw(&self.frames[frame], state));
                    self.known.insert((frame, state), self.list.len() - 1);
                    self.list.len() - 1
                }
            };
            page.drawing.push(Shape::Form { form, at: Point::new(0.0, 0.0), scale: 1.0 });
        }
        let frame = &self.frames[frame];
        for (i, section) in self.notebook.sections.iter().enumerate() {
            let tab = frame.tabs[i];
            let half = frame.tab_gap / 2.0;
            let rect = self.sided(frame, Rect::new(tab.x, tab.y - half, tab.w, tab.h + 2.0 * half), i, state);
            let says = format!("{} {}", self.product.words.go_to, title(&self.product.words, i, &section.name));
            page.links.push(Link { rect, target: Target::Place(Place::Section(i + 1)), says: says.into() });
        }
    }

    fn state(&self, page: usize) -> State {
        let starts = &self.finished.starts;
        let begun = starts.iter().filter(|(first, _)| *first <= page).count();
        let inside = begun > 0 && starts[begun - 1].1.is_none_or(|last| page <= last);
        State { passed: begun - usize::from(inside), inside }
    }

    /// The frame for pages of a size: tabs at the very edge, from below the toolbar down.
    fn frame(&mut self, size: Size) -> usize {
        let same = |f: &Frame| (f.page.w - size.w).abs() < 0.01 && (f.page.h - size.h).abs() < 0.01;
        if let Some(known) = self.frames.iter().position(same) {
            return known;
        }
        // The pages are the designer's own, as they were drawn.
        let right_to_left = false;
        let page = PageSetup { size, spread: false, coil: Coil::None, right_to_left, ..self.product.page.clone() };
        let mut frame = Frame::new(&page, self.product.style.corner, self.notebook.sections.len());
        let sheet = frame.sheet();
        let outer = frame.tabs.first().map_or(sheet.right(), |t| t.right() + Mm(0.9).pt());
        let depth = self.finished.tabs.depth.map_or(outer - sheet.right(), Mm::pt);
        for tab in &mut frame.tabs {
            (tab.x, tab.w) = (outer - depth, depth);
        }
        let more = depth - (outer - sheet.right());
        for paper in &mut frame.papers {
            *paper = Rect::new(paper.x + more, paper.y, (paper.w - 2.0 * more).max(0.0), paper.h);
        }
        self.frames.push(frame);
        self.frames.len() - 1
    }

    fn is_left(&self, tab: usize, state: State) -> bool {
        match self.finished.tabs.side {
            Side::Right => false,
            Side::Left => true,
            Side::Turning => tab < state.passed,
        }
    }

    /// A rectangle on the right, on the side that the tab is on.
    fn sided(&self, frame: &Frame, rect: Rect, tab: usize, state: State) -> Rect {
        if self.is_left(tab, state) { frame.mirrored(rect) } else { rect }
    }

    fn draw(&self, frame: &Frame, state: State) -> Drawing {
        let style = &self.product.style;
        let (product, notebook, fonts) = (self.product, self.notebook, self.fonts);
        let words = &product.words;
        let labels = Chrome { frame, product, notebook, fonts, words, months: &[], grain: None }.section_labels();
        let mut d = Drawing::new();
        for (i, section) in notebook.sections.iter().enumerate() {
            let current = state.inside && i == state.passed;
            let whole = frame.tabs[i];
            let reach = if current { whole.w } else { whole.w * CLOSED };
            let right = Rect::new(whole.right() - reach, whole.y, reach, whole.h);
            let left = self.is_left(i, state);
            let shape = self.sided(frame, right, i, state);
            let r = (whole.w * 0.3).min(whole.h * 0.3).min(frame.corner.max(1.5));
            // Top left, top right, bottom right, bottom left: the inner corners are round, the page's edge is straight.
            let corners = if left { [0.0, r, r, 0.0] } else { [r, 0.0, 0.0, r] };
            let fill = if current { section.colour } else { colour::mix(section.colour, style.paper, 0.16) };
            let edge = Stroke::new(0.5, colour::mix(section.colour, style.ink, 0.18));
            d.fill_stroke(Path::rounded_each(shape, corners), fill, edge);
            let turn = if left { Turn::Up } else { Turn::Down };
            labels.draw(&mut d, fonts, style, TabFace { index: i, face: shape, ground: fill, turn, current });
        }
        d
    }
}
