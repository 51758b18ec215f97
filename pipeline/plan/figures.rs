//! What the guide shows of the product: pages of its own, and on each the tap areas of which a step speaks. Pages and tap areas
//! are those of the plan, so a mark never lies beside what it means.

use base::model::drawing::{Drawing, Picture, Shape};
use base::model::finished::FinishedPlan;
use base::model::pdf_plan::PdfPlan;
use base::model::plan::Make;
use base::model::{Item, Kind, Link, Mm, Place, Point, Product, Rect, Size, Target};
use draw::{Fonts, flat};
use std::sync::Arc;

/// What a guide calls its pictures of pages: a name with this before it.
pub const PREFIX: &str = "page:";

/// Pixels of pictures on a page that is put into the guide as it is drawn; one with more of them is shown as pixels.
const MOST_PIXELS: u64 = 250_000;

/// An upright page so wide has room for four small ones beside a text in which something is seen.
const WIDE: Mm = Mm(120.0);

/// The picture of what is in the folder.
pub const FILES: &str = "files";

/// A picture of pages of the product.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Its name, without the prefix.
    pub name: String,
    /// The size of the whole in points, as large as the pages are.
    pub size: Size,
    /// Its pages.
    pub panes: Vec<Pane>,
}

/// A page in a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Pane {
    /// Where it stands, in points of the whole.
    pub at: Rect,
    /// How large the page is.
    pub page: Size,
    /// The page.
    pub content: Content,
    /// Tap areas in points of the page, each with the step that speaks of it; 0 where none of several does.
    pub marks: Vec<(Rect, usize)>,
    /// Tap areas that the numbers of those should leave free, as what they point at is mostly there.
    pub taps: Vec<Rect>,
}

/// A page as it is shown small.
#[derive(Clone, Debug, PartialEq)]
pub enum Content {
    /// As it is drawn, as large as the page is.
    Drawn(Drawing),
    /// Of a file that is still to be built: its path, and which page, from 0.
    Built(String, usize),
    /// As pixels.
    Pixels(Arc<Picture>),
}

/// The pictures that can be had of a product, from what is planned of it. Pages that hold art or a finished file's content are
/// named only: their pixels come from the built file.
pub fn figures(product: &Product, items: &[Item], fonts: &Fonts) -> Vec<Figure> {
    let of = |kind: Kind| items.iter().find(|item| item.kind == kind);
    let mut out = Vec::new();
    if let Some(book) = of(Kind::Notebook).and_then(|item| Book::of(item, fonts)) {
        let shown: [(&str, Option<Shown>); 5] = [
            ("cover", Some((0, Vec::new()))),
            ("links", book.links()),
            ("day", book.day()),
            ("index", book.index()),
            ("templates", book.templates(product)),
        ];
        for (name, shown) in shown {
            out.extend(shown.and_then(|(page, marks)| book.figure(name, page, marks)));
        }
    }
    out.extend(of(Kind::Covers).and_then(|item| covers(product, &Book::of(item, fonts)?)));
    let whole = upright_files(&out, product.page.right_to_left);
    out.extend(whole);
    out
}

/// What is in the folder of a notebook with upright pages, in a square: the cover, a page, another cover, and another page.
fn upright_files(figures: &[Figure], right_to_left: bool) -> Option<Figure> {
    let panes = |name: &str| figures.iter().find(|figure| figure.name == name).map(|figure| figure.panes.as_slice());
    let cover = panes("cover")?.first()?;
    let size = cover.page;
    if size.is_landscape() || size.w < WIDE.pt() {
        return None;
    }
    let last = panes("index").or_else(|| panes("templates")).or_else(|| panes("day"))?;
    let all = [cover, panes("links")?.first()?, panes("covers")?.last()?, last.first()?];
    if all.iter().any(|pane| pane.page != size) {
        return None;
    }
    let panes = all.iter().enumerate().map(|(i, pane)| {
        let at = square(i, 2, size, right_to_left);
        Pane { at, marks: Vec::new(), taps: Vec::new(), ..(*pane).clone() }
    });
    let gap = gap(size);
    let whole = Size::new(2.0 * size.w + gap, 2.0 * size.h + gap);
    Some(Figure { name: FILES.to_owned(), size: whole, panes: panes.collect() })
}

/// What lies between pages that stand side by side.
fn gap(size: Size) -> f64 {
    size.w.min(size.h) * 0.07
}

/// Where one of several pages stands that are set in rows.
fn square(i: usize, columns: usize, size: Size, right_to_left: bool) -> Rect {
    // Rows begin where the language does.
    let column = if right_to_left { columns - 1 - i % columns } else { i % columns };
    let (x, y) = (column as f64 * (size.w + gap(size)), (i / columns) as f64 * (size.h + gap(size)));
    Rect::new(x, y, size.w, size.h)
}

/// A page, and what of it is marked.
type Shown = (usize, Vec<(Rect, usize)>);

/// A PDF of the plan.
struct Book<'a> {
    path: &'a str,
    pdf: &'a PdfPlan,
    finished: Option<&'a FinishedPlan>,
    fonts: &'a Fonts,
}

impl<'a> Book<'a> {
    fn of(item: &'a Item, fonts: &'a Fonts) -> Option<Book<'a>> {
        let (pdf, finished) = match &item.make {
            Make::Pdf(pdf) => (&**pdf, None),
            Make::Finished(plan) => (&plan.over, Some(&**plan)),
            Make::Sticker(_) | Make::Picture(_) | Make::Text(_) => return None,
        };
        Some(Book { path: &item.path, pdf, finished, fonts })
    }

    fn size(&self, page: usize) -> Option<Size> {
        match self.finished {
            Some(plan) => plan.sheets.get(page).map(base::model::finished::PageView::shown),
            None => Some(self.pdf.size),
        }
    }

    /// The tap areas of a page that lead to other pages, with those pages.
    fn taps(&self, page: usize) -> Vec<(Rect, usize)> {
        let own = self.pdf.pages.get(page).into_iter().flat_map(|page| &page.links);
        let led = |link: &Link| match &link.target {
            Target::Place(place) => Some((link.rect, *self.pdf.places.get(place)?)),
            Target::Address(_) => None,
        };
        let mut out: Vec<(Rect, usize)> = own.filter_map(led).collect();
        if let Some((plan, facts)) = self.finished.and_then(|plan| Some((plan, plan.facts.pages.get(page)?))) {
            // What a reader found lies in the page's own space: it is marked where the page is seen as it lies.
            let sheet = plan.sheets.get(page).filter(|sheet| sheet.turn == 0);
            let seen = |r: Rect, unit: f64| Rect::new(r.x * unit, r.y * unit, r.w * unit, r.h * unit);
            let found = facts.links.iter().filter_map(|link| Some((seen(link.rect, sheet?.unit), link.leads.page()?)));
            out.extend(found);
        }
        out.retain(|(rect, to)| *to != page && rect.w > 1.0 && rect.h > 1.0);
        out
    }

    /// How far a tap area is from the nearest edge of its page.
    fn off_edge(&self, page: usize, rect: Rect) -> f64 {
        let size = self.size(page).unwrap_or(self.pdf.size);
        rect.x.min(rect.y).min(size.w - rect.right()).min(size.h - rect.bottom())
    }

    /// The tap areas of a page that lead to places of a kind.
    fn taps_to(&self, page: usize, is: impl Fn(&Place) -> bool) -> Vec<(Rect, usize)> {
        let led = |to: &usize| self.pdf.places.iter().any(|(place, at)| at == to && is(place));
        self.taps(page).into_iter().filter(|(_, to)| led(to)).collect()
    }

    /// The tabs among tap areas: those that hang nearest to an edge, in their order.
    fn tabs(&self, page: usize, mut taps: Vec<(Rect, usize)>) -> Vec<(Rect, usize)> {
        let least = taps.iter().map(|(rect, _)| self.off_edge(page, *rect)).fold(f64::INFINITY, f64::min);
        let side = self.size(page).map_or(0.0, |size| size.w.min(size.h));
        taps.retain(|(rect, _)| self.off_edge(page, *rect) <= least + side * 0.01);
        taps
    }

    /// A page with tabs, one of them marked.
    fn links(&self) -> Option<Shown> {
        let count = self.pdf.pages.len();
        if self.finished.is_some() {
            let page =
                (0..count).find(|page| self.taps(*page).len() > 1).or((0..count).find(|p| !self.taps(*p).is_empty()))?;
            let taps = self.pdf.pages[page].links.iter().any(|l| matches!(l.target, Target::Place(_)));
            let all = if taps { self.tabs(page, self.taps(page)) } else { self.taps(page) };
            return Some((page, vec![(all.get(all.len() / 2)?.0, 2)]));
        }
        let at = |place: Place| self.pdf.places.get(&place).copied();
        let written = [at(Place::Leaf(1, 1)), at(Place::Leaf(2, 1)), at(Place::Section(1)), at(Place::Section(2))];
        let template =
            self.pdf.places.iter().find(|(place, _)| matches!(place, Place::Template(_))).map(|(_, page)| *page);
        let dated = self.dated("week/").into_iter().chain(self.dated("day/")).chain(self.dated("month/"));
        let first = written.into_iter().flatten().chain(dated.take(1)).chain(template);
        let pages: Vec<usize> = first.chain(at(Place::Index)).chain(0..count.min(40)).collect();
        let tabbed = |page: &&usize| !self.page_tabs(**page).is_empty();
        // A page that is drawn by the tool is shown sharper than one with art.
        let plain = pages.iter().find(|page| tabbed(page) && self.is_plain(**page));
        let page = *plain.or_else(|| pages.iter().find(tabbed))?;
        let tabs = self.page_tabs(page);
        Some((page, vec![(tabs.get(tabs.len() / 2)?.0, 2)]))
    }

    /// The tabs of sections and months on a page.
    fn page_tabs(&self, page: usize) -> Vec<(Rect, usize)> {
        let tab = |place: &Place| match place {
            Place::Section(_) => true,
            Place::Dated(place) => place.starts_with("month/"),
            _ => false,
        };
        self.tabs(page, self.taps_to(page, tab))
    }

    /// Pages of dates of one kind, in their order.
    fn dated(&self, kind: &str) -> Vec<usize> {
        let mut pages: Vec<usize> = self
            .pdf
            .places
            .iter()
            .filter(|(place, _)| matches!(place, Place::Dated(at) if at.starts_with(kind)))
            .map(|(_, page)| *page)
            .collect();
        pages.sort_unstable();
        pages
    }

    /// A month: its tab, the number of a day in its middle, the arrow to the next one.
    fn day(&self) -> Option<Shown> {
        let months = self.dated("month/");
        let days = |page: usize| {
            let to = |kind: &str| self.taps_to(page, |place| matches!(place, Place::Dated(at) if at.starts_with(kind)));
            let days = to("day/");
            if days.is_empty() { to("week/") } else { days }
        };
        let lists = |page: &&usize| days(**page).len() > 3;
        let at = months.iter().skip(1).find(lists).or_else(|| months.iter().find(lists));
        let Some(&page) = at else { return self.links_to_months() };
        let days = days(page);
        let mut marks = Vec::new();
        let to_months = self.taps_to(page, |place| matches!(place, Place::Dated(at) if at.starts_with("month/")));
        let tabs = self.tabs(page, to_months.clone());
        // The page shown is that of the month itself, whose tab is open and need not be a link.
        let own =
            self.pdf.pages[page].links.iter().find(|link| self.leads_to(link, page) && self.is_tab(link, page, &tabs));
        let next = tabs.iter().find(|(_, to)| *to > page).or(tabs.last());
        marks.extend(own.map(|link| link.rect).or(next.map(|(rect, _)| *rect)).map(|rect| (rect, 1)));
        marks.push((days[days.len() * 2 / 5].0, 2));
        let arrow = to_months.iter().find(|(rect, to)| {
            let head = self.pdf.size.h * 0.2;
            *to > page && rect.y < head && !tabs.iter().any(|(tab, _)| tab == rect)
        });
        marks.extend(arrow.map(|(rect, _)| (*rect, 3)));
        Some((page, marks))
    }

    fn leads_to(&self, link: &Link, page: usize) -> bool {
        matches!(&link.target, Target::Place(place) if self.pdf.places.get(place) == Some(&page))
    }

    /// Whether a link hangs where the tabs of its page do.
    fn is_tab(&self, link: &Link, page: usize, tabs: &[(Rect, usize)]) -> bool {
        let most = tabs.iter().map(|(rect, _)| self.off_edge(page, *rect)).fold(f64::NEG_INFINITY, f64::max);
        self.off_edge(page, link.rect) <= most + 1.0
    }

    /// Without pages of months: the first page that leads to days.
    fn links_to_months(&self) -> Option<Shown> {
        let to_day =
            |place: &Place| matches!(place, Place::Dated(at) if at.starts_with("day/") || at.starts_with("week/"));
        let pages = 0..self.pdf.pages.len().min(60);
        let (page, taps) = pages.map(|page| (page, self.taps_to(page, to_day))).find(|(_, taps)| taps.len() > 3)?;
        Some((page, vec![(taps[taps.len() / 2].0, 2)]))
    }

    /// The index, one of its entries marked.
    fn index(&self) -> Option<Shown> {
        let page = *self.pdf.places.get(&Place::Index)?;
        let sections = self.taps_to(page, |place| matches!(place, Place::Section(_)));
        let tabs = self.tabs(page, sections.clone());
        // What leads to a section and hangs at no edge.
        let mut entries: Vec<_> = sections.iter().filter(|tap| !tabs.contains(tap)).collect();
        if entries.is_empty() {
            entries = sections.iter().collect();
        }
        let second = entries.iter().map(|(_, to)| *to).filter(|to| *to > page).min()?;
        // Number and box lead there: the first of them is the number.
        let entry = entries.iter().find(|(_, to)| *to > second).or(entries.first())?;
        Some((page, vec![(entry.0, 3)]))
    }

    /// The overview with one of its pages marked, or the page of a template.
    fn templates(&self, product: &Product) -> Option<Shown> {
        let pages =
            || self.pdf.places.iter().filter(|(place, _)| matches!(place, Place::Template(_))).map(|(_, page)| *page);
        let Some(page) = self.pdf.places.get(&Place::Templates).copied() else {
            return pages().min().filter(|_| product.notebook.is_some()).map(|page| (page, Vec::new()));
        };
        let small = self.taps_to(page, |place| matches!(place, Place::Template(_)));
        Some((page, small.get(1).or(small.first()).map(|(rect, _)| (*rect, 1)).into_iter().collect()))
    }

    /// Whether a page can be put into the guide as it is drawn.
    fn is_plain(&self, page: usize) -> bool {
        let Some(page) = self.pdf.pages.get(page).filter(|_| self.finished.is_none()) else { return false };
        let mut pictures = Vec::new();
        let plain = plain(&page.drawing, &self.pdf.forms, &mut pictures, 0);
        let pixels: u64 = pictures.iter().map(|p| u64::from(p.width) * u64::from(p.height)).sum();
        plain && pixels <= MOST_PIXELS
    }

    fn content(&self, page: usize) -> Content {
        match self.pdf.pages.get(page).filter(|_| self.is_plain(page)) {
            Some(page) => Content::Drawn(flat::flat(&page.drawing, &self.pdf.forms, self.fonts, Point::default(), 1.0)),
            None => Content::Built(self.path.to_owned(), page),
        }
    }

    /// A picture of one page.
    fn figure(&self, name: &str, page: usize, marks: Vec<(Rect, usize)>) -> Option<Figure> {
        let size = self.size(page)?;
        let taps =
            if marks.is_empty() { Vec::new() } else { self.taps(page).into_iter().map(|(rect, _)| rect).collect() };
        let pane = Pane { at: Rect::page(size), page: size, content: self.content(page), marks, taps };
        Some(Figure { name: name.to_owned(), size, panes: vec![pane] })
    }
}

/// Whether a drawing holds nothing but lines, texts and pictures; notes those, each once: a grain lies on a board in many tiles.
fn plain<'d>(drawing: &'d Drawing, forms: &'d [Drawing], pictures: &mut Vec<&'d Arc<Picture>>, depth: usize) -> bool {
    depth < 6
        && drawing.shapes.iter().all(|shape| match shape {
            Shape::Art { .. } => false,
            Shape::Picture { picture, .. } => {
                if !pictures.iter().any(|known| Arc::ptr_eq(known, picture)) {
                    pictures.push(picture);
                }
                true
            }
            Shape::Form { form, .. } => forms.get(*form).is_some_and(|inner| plain(inner, forms, pictures, depth + 1)),
            Shape::Path { .. } | Shape::Graded { .. } | Shape::GradedText { .. } | Shape::Tiled { .. } => true,
            Shape::Dots { .. } | Shape::Text(_) => true,
        })
}

/// Some of the covers that can take the place of the notebook's own: four in a square, two or three in a row.
fn covers(product: &Product, book: &Book) -> Option<Figure> {
    let own = usize::from(product.notebook.as_ref().is_some_and(|n| n.finished.is_none()));
    let count = book.pdf.pages.len();
    // The notebook's own cover stands before the others, and is shown where it fills the square.
    let pages: Vec<usize> = match count.checked_sub(own)? {
        0 => return None,
        3 if own > 0 => (0..4).collect(),
        others => (own..own + others.min(4)).collect(),
    };
    let size = book.pdf.size;
    let gap = gap(size);
    let columns = match pages.len() {
        4 => 2,
        _ if size.is_landscape() => 1,
        n => n.min(3),
    };
    let rows = pages.len().div_ceil(columns);
    let pane = |(i, page): (usize, &usize)| {
        let at = square(i, columns, size, product.page.right_to_left);
        Pane { at, page: size, content: book.content(*page), marks: Vec::new(), taps: Vec::new() }
    };
    let across = columns as f64 * (size.w + gap) - gap;
    let down = rows as f64 * (size.h + gap) - gap;
    let panes = pages.iter().enumerate().map(pane).collect();
    Some(Figure { name: "covers".to_owned(), size: Size::new(across, down), panes })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figure(name: &str, size: Size, count: usize) -> Figure {
        let pane = |i: usize| Pane {
            at: Rect::page(size),
            page: size,
            content: Content::Built(format!("{name}.pdf"), i),
            marks: vec![(Rect::new(1.0, 1.0, 5.0, 5.0), 1)],
            taps: Vec::new(),
        };
        Figure { name: name.to_owned(), size, panes: (0..count).map(pane).collect() }
    }

    fn all(size: Size) -> Vec<Figure> {
        let shown = [("cover", 1), ("links", 1), ("index", 1), ("covers", 3)];
        shown.into_iter().map(|(name, count)| figure(name, size, count)).collect()
    }

    /// Four pages side by side in the order of the language, without marks.
    #[test]
    fn upright_pages_show_what_is_in_the_folder() {
        for size in [Size::new(420.0, 595.0), Size::new(595.0, 842.0), Size::new(612.0, 792.0)] {
            for right_to_left in [false, true] {
                let whole = upright_files(&all(size), right_to_left).expect("there is room");
                let names = ["cover", "links", "covers", "index"];
                assert_eq!(whole.panes.len(), names.len());
                for (pane, name) in whole.panes.iter().zip(names) {
                    let Content::Built(path, page) = &pane.content else { panic!("not of {name}") };
                    assert_eq!((path.as_str(), *page), (&*format!("{name}.pdf"), if name == "covers" { 2 } else { 0 }));
                    assert!(Rect::page(whole.size).contains(pane.at, 1e-6) && pane.marks.is_empty());
                    let mut others = whole.panes.iter().filter(|other| *other != pane);
                    assert!(others.all(|other| !other.at.overlaps(pane.at)));
                }
                let ahead = whole.panes[0].at.x < whole.panes[1].at.x;
                assert_eq!(ahead, !right_to_left);
            }
        }
    }

    #[test]
    fn narrow_and_level_pages_and_those_with_little_to_show_do_not() {
        for size in [Size::new(212.6, 425.2), Size::new(298.0, 420.0), Size::new(680.0, 510.0)] {
            assert_eq!(upright_files(&all(size), false), None);
        }
        let figures = all(Size::new(420.0, 595.0));
        for left_out in 0..figures.len() {
            let rest: Vec<Figure> =
                figures.iter().enumerate().filter(|(i, _)| *i != left_out).map(|(_, f)| f.clone()).collect();
            assert_eq!(upright_files(&rest, false), None, "without {}", figures[left_out].name);
        }
    }
}
