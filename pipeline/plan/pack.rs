//! The notes of an update pack: a first page that says how to use it, and a note before each group of pages that says
//! where they go. The copied pages themselves stay as they are, so they are planned as empty places.
//!
//! A note of its own, and not one on the page: whatever were laid on the page would have to be removed by whoever writes on
//! it, a strip above it would give it another size than all others, and an annotation is kept by one reader app, printed by
//! the next and lost by a third.

mod words;

use base::model::drawing::{Path, Role};
use base::model::look::Manner;
use base::model::pack::{Book, CopiedPage, Named, Spot};
use base::model::pdf_plan::{Entry, LabelRun, LabelStyle, PdfPlan};
use base::model::product::Style;
use base::model::{Drawing, Fault, Link, Mm, Page, Place, Rect, Rgb, Size, Target};
use draw::Fonts;
use draw::Pen;
use draw::built_in;
use draw::flow;
use draw::flow::{FlowContext, FlowPage};
use draw::text::{Align, Line, Setting};
use std::collections::{BTreeMap, BTreeSet};
pub use words::Words;

/// Addresses in the notes that stand for pages of the pack. The name is one of those that never exist (RFC 2606).
const HERE: &str = "https://page.invalid/";

/// What is planned of a pack: the notes, and which pages are copied to where.
pub struct PackPlan {
    /// The document, with empty pages where the copied ones go.
    pub pdf: PdfPlan,
    /// The copied pages.
    pub copied: Vec<CopiedPage>,
}

/// Plans the pack of a book whose pages have this size. `version` is the number of the new version, where it has one.
///
/// # Errors
/// A page that is too small for any text.
pub fn pack(
    book: &Book,
    version: Option<&str>,
    size: Size,
    (style, fonts): (&Style, &Fonts),
) -> Result<PackPlan, Vec<Fault>> {
    let words = Words::on_paper(book.language.as_deref(), fonts);
    let right_to_left = words.is_right_to_left();
    let setter = Setter { right_to_left, ..Setter::new(size, style, fonts) };
    let title = words.title(&book.title, version);
    let groups = book.runs.len();
    let places: Vec<String> = book.runs.iter().map(|run| words.spot(&run.spot, run.pages.len(), &setter)).collect();
    let links = |spot: usize| format!("{HERE}{}", spot + 1);
    let front = setter.lay(&words.front(book, &setter.plain(&title), &places, &links, &setter))?;
    let mut pages = Vec::new();
    let mut labels = Vec::new();
    let mut outline = vec![Entry { title: words.how_to().to_owned(), page: 0, children: Vec::new(), open: false }];
    let mut copied = Vec::new();
    let mut known: BTreeMap<Place, usize> = BTreeMap::from([(Place::Page(1), 0)]);
    labels.push(LabelRun { page: 0, prefix: words.note_label(0), style: LabelStyle::None });
    for page in front {
        pages.push(setter.page(page, &title, false, &places));
    }
    for (n, (run, place)) in book.runs.iter().zip(&places).enumerate() {
        let slip = words.slip((n + 1, groups), run, place, &setter);
        known.insert(Place::Page(n + 2), pages.len());
        labels.push(LabelRun { page: pages.len(), prefix: words.note_label(n + 1), style: LabelStyle::None });
        let mut entry =
            Entry { title: words.entry(place, &run.pages[0]), page: pages.len(), children: Vec::new(), open: true };
        for page in setter.lay(&slip)? {
            pages.push(setter.page(page, &title, true, &places));
        }
        for page in &run.pages {
            copied.push(CopiedPage { to: pages.len(), from: page.page });
            // What the page is called in the new version.
            let label = page.label.clone().unwrap_or_else(|| (page.page + 1).to_string());
            labels.push(LabelRun { page: pages.len(), prefix: label, style: LabelStyle::None });
            entry.children.push(Entry {
                title: words.called(page),
                page: pages.len(),
                children: Vec::new(),
                open: false,
            });
            pages.push(Page::default());
        }
        outline.push(entry);
    }
    let pdf = PdfPlan { title, size, forms: Vec::new(), pages, outline, labels, places: known, right_to_left };
    Ok(PackPlan { pdf, copied })
}

/// The style of the notes: quiet, and the same whatever the product looks like.
pub fn style() -> Style {
    let face = |name| built_in::font(name).into_iter().collect();
    let fonts = BTreeMap::from([
        (Role::Heading, face("LibertinusSerif-Semibold")),
        (Role::HeadingItalic, face("LibertinusSerif-Italic")),
        (Role::Label, face("NotoSans-Regular")),
        (Role::LabelBold, face("NotoSans-Bold")),
        (Role::LabelItalic, face("NotoSans-Italic")),
    ]);
    Style {
        fonts,
        ink: Rgb::new(0x2c, 0x2b, 0x31),
        rule: Rgb::new(0xb4, 0xb2, 0xb8),
        paper: Rgb::WHITE,
        desk: Rgb::new(0xec, 0xeb, 0xee),
        accent: Rgb::new(0x2b, 0x5d, 0x73),
        corner: Mm(2.5),
        manner: Manner::default(),
    }
}

/// How texts are set on the notes of a pack.
struct Setter<'a> {
    size: Size,
    style: &'a Style,
    fonts: &'a Fonts,
    frame: Rect,
    text: f64,
    right_to_left: bool,
    /// Characters that the fonts lack, out of names that come from elsewhere.
    lacking: std::cell::RefCell<BTreeSet<char>>,
}

impl<'a> Setter<'a> {
    fn new(size: Size, style: &'a Style, fonts: &'a Fonts) -> Setter<'a> {
        let least = size.w.min(size.h);
        let scale = (least / Mm(180.0).pt()).clamp(0.55, 1.5);
        let margin = (least * 0.09).clamp(Mm(6.0).pt(), Mm(24.0).pt());
        let inner = Rect::page(size).inset_each(margin, margin * 1.2, margin, margin * 1.2);
        let text = (11.0 * scale).max(6.8);
        let wide = flow::measure(fonts, text).min(inner.w);
        let frame = Rect { x: inner.x + (inner.w - wide) / 2.0, w: wide, ..inner };
        Setter { size, style, fonts, frame, text, right_to_left: false, lacking: std::cell::RefCell::default() }
    }

    /// A text from elsewhere as Markdown that says just that, without characters that no font here has.
    fn plain(&self, text: &str) -> String {
        let roles = [Role::Heading, Role::Label, Role::LabelBold];
        let mut lacking = self.lacking.borrow_mut();
        for role in roles {
            lacking.extend(self.fonts.missing(role, text));
        }
        let mut out = String::new();
        for c in text.chars().map(|c| if c.is_control() { ' ' } else { c }) {
            if lacking.contains(&c) {
                out.push('\u{b7}');
                continue;
            }
            if c.is_ascii_punctuation() {
                out.push('\\');
            }
            out.push(c);
        }
        out
    }

    fn lay(&self, markdown: &str) -> Result<Vec<FlowPage>, Vec<Fault>> {
        let (frames, size) = (vec![self.frame], self.text);
        let (fonts, style) = (self.fonts, self.style);
        let context = FlowContext {
            frames,
            fonts,
            style,
            size,
            even: false,
            digits: base::model::words::DIGITS,
            right_to_left: self.right_to_left,
            figures: BTreeMap::new(),
            known_figures: Vec::new(),
            picture_share: 1.0,
            most_pages: None,
        };
        flow::layout(markdown, &BTreeMap::new(), &context)
    }

    /// A note on its page; with a bar along its upper edge where it stands before pages, so that it is told from them among
    /// small pictures.
    fn page(&self, page: FlowPage, title: &str, bar: bool, places: &[String]) -> Page {
        let mut drawing = Drawing::new();
        drawing.fill(Path::rect(Rect::page(self.size)), self.style.paper);
        if bar {
            let high = self.frame.y * 0.28;
            drawing.fill(Path::rect(Rect::new(0.0, 0.0, self.size.w, high)), self.style.accent);
        }
        drawing.extend(page.drawing);
        let foot = Rect::new(self.frame.x, self.frame.bottom(), self.frame.w, self.size.h - self.frame.bottom());
        let line = Setting::new(Role::Label, (self.text * 0.68).max(5.0), Pen::new(self.style).quiet);
        let title: String = title.chars().filter(|c| !self.lacking.borrow().contains(c)).collect();
        let (x, align) = if self.right_to_left { (foot.right(), Align::Right) } else { (foot.x, Align::Left) };
        line.draw_kept(&mut drawing, self.fonts, &title, Line { room: foot.w, x, y: foot.y + foot.h / 2.0, align });
        let links = page.links.into_iter().filter_map(|(rect, address)| {
            let n = address.strip_prefix(HERE)?.parse::<usize>().ok()?;
            let says = n.checked_sub(1).map_or(title.as_str(), |group| &places[group]);
            let says: String = says.chars().filter(|c| *c != '\\').collect();
            Some(Link { rect, target: Target::Place(Place::Page(n + 1)), says: says.into() })
        });
        Page { place: None, drawing, links: links.collect() }
    }
}

/// A page's number as people count, and its label where that says something else.
fn number(page: &Named) -> (usize, Option<&str>) {
    (page.page + 1, page.label.as_deref())
}

/// The two ends of a spot that is a place of pages.
fn ends(spot: &Spot) -> Option<(&Named, &Named)> {
    match spot {
        Spot::InPlaceOf(from, to) => Some((from, to)),
        Spot::After(_) | Spot::Front => None,
    }
}
