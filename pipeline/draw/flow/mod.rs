//! Running text: Markdown set on pages, for the guide and the welcome page.
//!
//! The text goes the way of a composing room: `parse` reads it, `lines` breaks it, `rows` gives every line its place
//! on a grid of half lines, `columns` says where columns end, and `pour` here fills one after the other, with no heading at the
//! foot of one and no single line of a paragraph at the foot or the head.

mod columns;
mod lines;
mod parse;
mod rows;

use super::Fonts;
use base::colour;
use base::model::drawing::{Path, Picture};
use base::model::product::Style;
use base::model::{Drawing, Fault, Point, Rect, Rgb, Shape, Size};
use rows::{Composer, Row};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What the text is set on.
pub struct FlowContext<'a> {
    /// The columns of every page, in the order in which they are read; text is as wide as the narrowest.
    pub frames: Vec<Rect>,
    /// The product's fonts.
    pub fonts: &'a Fonts,
    /// The product's style.
    pub style: &'a Style,
    /// Size of the text in points; everything else follows from it.
    pub size: f64,
    /// Whether the columns of the last page end at one height, and that page holds half a column at least if that can be had.
    pub even: bool,
    /// The digits for the numbers of lists, 0 to 9.
    pub digits: &'a str,
    /// Whether the text runs from right to left. It is drawn for a page that is mirrored afterwards.
    pub right_to_left: bool,
    /// Pictures of pages, by what the text calls them.
    pub figures: BTreeMap<String, FlowFigure>,
    /// What other pictures of pages could be had, for messages.
    pub known_figures: Vec<String>,
    /// How large those are, as a share of the most that they may be.
    pub picture_share: f64,
    /// How many pages a text with pictures of pages is set on if that can be had at all.
    pub most_pages: Option<usize>,
}

/// A picture of pages, each of which is a form of the document.
#[derive(Clone, Debug, PartialEq)]
pub struct FlowFigure {
    /// Its size in its own points.
    pub size: Size,
    /// How wide it must be to stand beside text: so that one sees what it shows.
    pub least: f64,
    /// How much larger it is than it would be otherwise, as a share.
    pub enlarged: f64,
    /// Its pages.
    pub parts: Vec<FlowPart>,
}

/// A form in a picture of pages.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlowPart {
    /// Its number.
    pub form: usize,
    /// Where its corner lies in the picture.
    pub at: Point,
    /// Its scale there.
    pub scale: f64,
}

/// The forms of a picture that is so wide, from its top left corner.
fn figure_shapes(figure: &FlowFigure, at: Point, width: f64) -> Vec<Shape> {
    let scale = width / figure.size.w.max(1.0);
    let place = |part: &FlowPart| Shape::Form {
        form: part.form,
        at: Point::new(at.x + scale * part.at.x, at.y + scale * part.at.y),
        scale: scale * part.scale,
    };
    figure.parts.iter().map(place).collect()
}

/// A page of text.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FlowPage {
    /// What is drawn, in page space.
    pub drawing: Drawing,
    /// Tap areas and the addresses that they lead to.
    pub links: Vec<(Rect, String)>,
}

/// Sets a text on as many pages as it takes. What cannot be set is a fault: a character that the fonts lack, a word
/// or a row that fits nowhere, a picture that is not there, HTML.
pub fn layout(
    markdown: &str,
    pictures: &BTreeMap<String, Arc<Picture>>,
    context: &FlowContext,
) -> Result<Vec<FlowPage>, Vec<Fault>> {
    let width = context.frames.iter().map(|f| f.w).fold(f64::INFINITY, f64::min);
    let height = context.frames.iter().map(|f| f.h).fold(f64::INFINITY, f64::min);
    if context.frames.is_empty() || width < context.size * 4.0 || height < context.size * 4.0 {
        return Err(vec![
            Fault::new("the page leaves no room for text").help("make the page larger or its margins smaller"),
        ]);
    }
    let blocks = parse::blocks(markdown)?;
    let kept = rows::Kept::default();
    let set_with = |way: Way, enlarged: &Enlarged| -> Result<Set, Vec<Fault>> {
        let frames = context.frames.iter().map(|f| Rect { h: f.h * way.high, ..*f }).collect();
        let (size, picture_share) = (context.size * way.text, way.pictures);
        let (mut figures, known_figures) = (context.figures.clone(), context.known_figures.clone());
        for (name, by) in enlarged {
            if let Some(figure) = figures.get_mut(name) {
                figure.enlarged = *by;
            }
        }
        let context = FlowContext { frames, size, figures, known_figures, picture_share, ..*context };
        let rows = Composer::new(&context, pictures, Rect::new(0.0, 0.0, width, height), &kept).compose(&blocks)?;
        // The last chapter may begin a page.
        let chapters = rows.iter().rposition(|row| row.heading && row.break_cost.is_some());
        let (before, rows) = rows.split_at(chapters.filter(|_| way.last_alone).unwrap_or(0));
        let mut whole = pour(before, &context, Ends::Full)?;
        let set = pour(rows, &context, Ends::Full)?;
        let set = match () {
            () if way.balanced => balanced(rows, &context, set),
            () if context.even => evened(rows, &context, set),
            () => set,
        };
        whole.left.extend(set.left);
        whole.fills.extend(set.fills);
        let pages = whole.pages.into_iter().chain(set.pages).collect();
        Ok(Set { pages, torn: whole.torn + set.torn, way, ..whole })
    };
    let set = |way: Way| set_with(way, &Enlarged::new());
    let first = set(Way { pictures: context.picture_share, ..Way::PLAIN })?;
    let few = |set: &Set| ends_with_few_lines(&set.pages, context);
    if !context.figures.is_empty() {
        return Ok(grown(best_set(first, &set, context), &set_with, context).pages);
    }
    if !few(&first) {
        let set = if context.even { fuller(first, &set) } else { first };
        return Ok(set.pages);
    }
    // A last page of a few lines: the text is set a little smaller, or the columns end a little higher.
    let smaller = SMALLER.into_iter().map(|text| Way { text, ..Way::PLAIN });
    let shorter = (1..=6).map(|i| Way { high: 1.0 - 0.05 * f64::from(i), ..Way::PLAIN });
    let better = smaller.chain(shorter).filter_map(|way| set(way).ok());
    Ok(better.into_iter().find(|set| !few(set)).unwrap_or(first).pages)
}

/// A way to set a text.
#[derive(Clone, Copy, Debug)]
struct Way {
    /// Size of the text, as a share of the asked one.
    text: f64,
    /// How high columns are, as a share of the frames.
    high: f64,
    /// Size of pictures of pages, as a share of the largest.
    pictures: f64,
    /// Whether the last chapter begins a page.
    last_alone: bool,
    /// Whether pages are filled alike, and not each as far as it can be.
    balanced: bool,
}

impl Way {
    /// As it is asked for.
    const PLAIN: Way = Way { text: 1.0, high: 1.0, pictures: 1.0, last_alone: false, balanced: false };
}

/// A text with pictures is set with larger and smaller ones: few pages that are as full as can be, the last one too. Where one stays
/// rather empty, they are filled alike.
fn best_set(first: Set, set: &dyn Fn(Way) -> Tried, context: &FlowContext) -> Set {
    let cost = |set: &Set, smaller: f64| {
        let few = if ends_with_few_lines(&set.pages, context) { 1.2 } else { 0.0 };
        let gaps: f64 = set.left.iter().map(|left| left * left).sum();
        let empty = 8.0 * (set.too_empty() + set.last_too_empty());
        let gaps = gaps * 2.5 / context.frames.len() as f64;
        let beyond = context.most_pages.map_or(0, |most| set.pages.len().saturating_sub(most));
        set.pages.len() as f64 + 9.0 * beyond as f64 + few + 0.7 * set.torn as f64 + gaps + smaller + empty
    };
    let tried = |way: Way| {
        let set = set(way).ok()?;
        Some((cost(&set, (1.0 - way.pictures) * 2.8 + (1.0 - way.text) * 3.0), set))
    };
    let better = |a: (f64, Set), b: (f64, Set)| if b.0 < a.0 { b } else { a };
    let first = (cost(&first, 0.0), first);
    let pictures = |pictures: f64| Way { pictures, ..Way::PLAIN };
    let mut best = PICTURES.into_iter().filter_map(|share| tried(pictures(share))).fold(first, better);
    if ends_with_few_lines(&best.1.pages, context) {
        let alone = [1.0].into_iter().chain(PICTURES).map(|share| Way { last_alone: true, ..pictures(share) });
        let shares = || PICTURES.into_iter().step_by(2);
        let all = SMALLER.into_iter().flat_map(|text| shares().map(move |share| Way { text, ..pictures(share) }));
        best = alone.chain(all).filter_map(tried).fold(best, better);
    }
    let too_many = context.most_pages.is_some_and(|most| best.1.pages.len() > most);
    if !too_many && best.1.too_empty() + best.1.last_too_empty() <= 0.0 {
        return best.1;
    }
    let shares = || [1.0].into_iter().chain(PICTURES).chain(SMALL_PICTURES);
    let sizes = [1.0].into_iter().chain(SMALLER.into_iter().skip(1).step_by(2));
    let alike = |text: f64| shares().map(move |share| Way { text, balanced: true, ..pictures(share) });
    sizes.flat_map(alike).filter_map(tried).fold(best, better).1
}

/// How much larger pictures of pages are, by their names.
type Enlarged = BTreeMap<String, f64>;

/// What setting a text in some way comes to.
type Tried = Result<Set, Vec<Fault>>;

/// How much larger they are where their page has room, as shares.
const LARGER: [f64; 4] = [1.4, 1.3, 1.2, 1.1];

/// A page that is filled less than so far has room for larger pictures, as a share.
const ROOMY: f64 = 0.9;

/// The same text with larger pictures on the pages that have room for them, all of a page alike; nothing goes to another page for
/// it. The last page ends where it ends.
fn grown(best: Set, set: &dyn Fn(Way, &Enlarged) -> Tried, context: &FlowContext) -> Set {
    let (way, places) = (best.way, pages_of_figures(&best.pages, context));
    let (mut best, mut enlarged) = (best, Enlarged::new());
    for page in 0..best.pages.len().saturating_sub(1) {
        let own: Vec<&String> = places.iter().filter(|(_, at)| **at == page).map(|(name, _)| name).collect();
        if own.is_empty() || best.fills[page] > ROOMY {
            continue;
        }
        for by in LARGER {
            let mut wanted = enlarged.clone();
            wanted.extend(own.iter().map(|name| ((*name).clone(), by)));
            let Ok(tried) = set(way, &wanted) else { continue };
            let filled = tried.fills.len() == best.fills.len()
                && tried.fills.iter().zip(&best.fills).enumerate().all(|(i, (new, old))| match i == page {
                    true => *new > old + 1e-6,
                    false => (new - old).abs() < 1e-6,
                });
            if filled && tried.torn <= best.torn && pages_of_figures(&tried.pages, context) == places {
                (best, enlarged) = (tried, wanted);
                break;
            }
        }
    }
    best
}

/// On which page each picture of pages stands.
fn pages_of_figures(pages: &[FlowPage], context: &FlowContext) -> BTreeMap<String, usize> {
    let page_of = |figure: &FlowFigure| {
        let first = figure.parts.first()?.form;
        let is = |shape: &Shape| matches!(shape, Shape::Form { form, .. } if *form == first);
        pages.iter().position(|page| page.drawing.shapes.iter().any(is))
    };
    context.figures.iter().filter_map(|(name, figure)| Some((name.clone(), page_of(figure)?))).collect()
}

/// A text whose pictures leave pages rather empty: filled alike, a little smaller if need be.
fn fuller(first: Set, set: &dyn Fn(Way) -> Tried) -> Set {
    if first.too_empty() <= 0.0 {
        return first;
    }
    let better = |a: Set, b: Set| {
        let fuller = b.pages.len() <= a.pages.len() && b.too_empty() + b.last_too_empty() < a.too_empty();
        if fuller { b } else { a }
    };
    let ways = [1.0].into_iter().chain(SMALLER).map(|text| Way { text, balanced: true, ..Way::PLAIN });
    ways.filter_map(|way| set(way).ok()).fold(first, better)
}

/// Sizes of pictures, as shares of the largest.
const PICTURES: [f64; 5] = [0.95, 0.9, 0.85, 0.8, 0.75];

/// Still smaller ones, where pages stay rather empty with those.
const SMALL_PICTURES: [f64; 2] = [0.7, 0.65];

/// A page that is filled less than so far looks unfinished, and so does a last one that is less than the second, as shares.
const FULL: (f64, f64) = (0.72, 0.27);

/// Pages; how much of each column that is not the last is left empty, as a share.
struct Set {
    pages: Vec<FlowPage>,
    left: Vec<f64>,
    /// How far each page is filled, as a share.
    fills: Vec<f64>,
    /// Columns that begin within what a picture shows, or within a short list.
    torn: usize,
    /// How it is set.
    way: Way,
}

impl Set {
    /// By how much pages before the last one are too empty, in all.
    fn too_empty(&self) -> f64 {
        let before = self.fills.split_last().map(|(_, before)| before).unwrap_or_default();
        before.iter().map(|fill| (FULL.0 - fill).max(0.0)).sum()
    }

    /// By how much the last one of several is.
    fn last_too_empty(&self) -> f64 {
        let last = self.fills.last().filter(|_| self.fills.len() > 1);
        last.map_or(0.0, |fill| (FULL.1 - fill).max(0.0))
    }
}

/// Sizes of text, as shares of the asked one, that may spare a last page of a few lines.
const SMALLER: [f64; 6] = [0.988, 0.976, 0.964, 0.952, 0.94, 0.928];

/// The same pages with the columns of the last one as low as its rows allow.
fn evened(rows: &[Row], context: &FlowContext, set: Set) -> Set {
    let Some(last) = set.pages.len().checked_sub(1).filter(|_| context.frames.len() > 1) else { return set };
    let at = |hundredths: i32| {
        let lower = pour(rows, context, Ends::Lower(last, f64::from(hundredths) / 100.0)).ok()?;
        (lower.pages.len() == last + 1 && lower.torn <= set.torn).then_some(lower)
    };
    // The lowest by steps, then the lowest within that step.
    let Some(step) = (1..20).map(|i| 5 * i).find(|i| at(*i).is_some()) else { return set };
    match (step - 4..=step).find_map(at) {
        // What the columns of the last page leave is no gap.
        Some(even) => Set { left: set.left, ..even },
        None => set,
    }
}

/// The same rows on no more pages, filled alike.
fn balanced(rows: &[Row], context: &FlowContext, set: Set) -> Set {
    let (each, pages) = (context.frames.len(), set.pages.len());
    let heights: Vec<f64> = context.frames.iter().map(|f| f.h).cycle().take(each * pages).collect();
    let ends = columns::balanced(rows, &heights, each);
    let Some(mut alike) = ends.and_then(|ends| pour(rows, context, Ends::Before(&ends)).ok()) else { return set };
    // What the columns of the last page leave is no gap.
    alike.left.truncate(each * alike.pages.len().saturating_sub(1));
    alike
}

/// Whether the last page of several holds less than a third of a column; of even columns, less than a half in all.
fn ends_with_few_lines(pages: &[FlowPage], context: &FlowContext) -> bool {
    let (Some(last), Some(frame)) = (pages.last().filter(|_| pages.len() > 1), context.frames.first()) else {
        return false;
    };
    // Even columns share what one would hold.
    let (right, share) = match context.even {
        // Beside whole sections with pictures, what is short looks shorter.
        true => (f64::INFINITY, if context.figures.is_empty() { 0.5 } else { 0.7 } / context.frames.len() as f64),
        false => (frame.right(), 0.33),
    };
    last.drawing.shapes.iter().all(|shape| match shape {
        Shape::Text(run) => run.at.x < right && run.at.y - frame.y < frame.h * share,
        Shape::Picture { .. } | Shape::Art { .. } | Shape::Form { .. } => false,
        Shape::Path { .. } | Shape::Graded { .. } | Shape::GradedText { .. } | Shape::Tiled { .. } => true,
        Shape::Dots { .. } => true,
    })
}

/// The widest comfortable line of text in this size, in points.
pub fn measure(fonts: &Fonts, size: f64) -> f64 {
    rows::measure(fonts, size)
}

/// Where columns end.
#[derive(Clone, Copy)]
enum Ends<'e> {
    /// Where they are full.
    Full,
    /// Likewise, but on the page that is counted from 0 columns are only so high, as a share.
    Lower(usize, f64),
    /// Before these rows, column by column.
    Before(&'e [usize]),
}

/// Fills the columns with rows.
fn pour(rows: &[Row], context: &FlowContext, ends: Ends) -> Result<Set, Vec<Fault>> {
    let (mut pages, mut faults, mut left) = (Vec::new(), Vec::new(), Vec::new());
    let mut fills: Vec<f64> = Vec::new();
    let mut torn = 0;
    let (mut from, mut column) = (0, 0);
    while from < rows.len() {
        let frame = context.frames[column % context.frames.len()];
        if column % context.frames.len() == 0 {
            pages.push(FlowPage::default());
            fills.push(0.0);
        }
        let head = columns::head(rows, from);
        let taken = head.map_or(0.0, |h| h.height);
        let full = |share: f64| columns::fitting(rows, from, frame.h * share - taken, context.size * rows::LEADING);
        let to = match ends {
            Ends::Lower(page, share) if page + 1 == pages.len() => full(share),
            Ends::Before(all) => all.get(column).copied().unwrap_or(from),
            Ends::Full | Ends::Lower(..) => full(1.0),
        };
        column += 1;
        if to == from {
            faults.push(
                Fault::new("a row of a table, or a picture, is taller than the page")
                    .help("put less text into the cells, or choose a larger page"),
            );
            from += 1;
            continue;
        }
        let used = columns::height(&rows[from..to]);
        if let Some(fill) = fills.last_mut() {
            *fill += (used + taken) / frame.h / context.frames.len() as f64;
        }
        if to < rows.len() {
            torn += usize::from(rows[to].is_torn_off());
            left.push(((frame.h - used) / frame.h).max(0.0));
        }
        // `pages` has one since the first column.
        if let Some(page) = pages.last_mut() {
            let mut y = frame.y;
            if let Some(head) = head {
                set(page, head, frame.x, y);
                y += head.height;
            }
            let mut bars: Vec<Rect> = Vec::new();
            for (i, row) in rows[from..to].iter().enumerate() {
                let top = if i == 0 { y } else { y + row.gap };
                let bottom = top + row.height;
                for left in &row.bars {
                    // One bar through all rows of a quotation, and the gaps between them.
                    match bars.iter_mut().find(|b| b.x == frame.x + left && (b.bottom() - y).abs() < 1e-6) {
                        Some(bar) => bar.h = bottom - bar.y,
                        None => bars.push(Rect::new(frame.x + left, top, context.size * 0.18, bottom - top)),
                    }
                }
                set(page, row, frame.x, top);
                y = bottom;
            }
            let accent = readable(context.style.accent, context.style.paper, context.style.ink, 1.8);
            for bar in bars {
                page.drawing.fill(Path::rect(bar), accent);
            }
        }
        from = to;
    }
    if faults.is_empty() { Ok(Set { pages, left, fills, torn, way: Way::PLAIN }) } else { Err(faults) }
}

/// Puts a row on a page.
fn set(page: &mut FlowPage, row: &Row, x: f64, y: f64) {
    page.drawing.shapes.extend(row.drawing.shapes.iter().map(|s| moved(s, x, y)));
    page.links.extend(row.links.iter().map(|(r, a)| (Rect::new(r.x + x, r.y + y, r.w, r.h), a.clone())));
}

/// A shape moved to the right and down.
fn moved(shape: &Shape, x: f64, y: f64) -> Shape {
    let by = |p: Point| Point::new(p.x + x, p.y + y);
    let mut shape = shape.clone();
    match &mut shape {
        Shape::Path { path, .. } | Shape::Tiled { path, .. } => *path = path.moved(by),
        Shape::Graded { path, grade } => {
            *path = path.moved(by);
            (grade.from, grade.to) = (by(grade.from), by(grade.to));
        }
        Shape::GradedText { run, grade } => {
            run.at = by(run.at);
            (grade.from, grade.to) = (by(grade.from), by(grade.to));
        }
        Shape::Dots { at, .. } => at.iter_mut().for_each(|p| *p = by(*p)),
        Shape::Text(run) => run.at = by(run.at),
        Shape::Picture { at, .. } => *at = Rect::new(at.x + x, at.y + y, at.w, at.h),
        Shape::Art { at, clip, .. } => {
            for r in [at, clip] {
                *r = Rect::new(r.x + x, r.y + y, r.w, r.h);
            }
        }
        Shape::Form { at, .. } => *at = by(*at),
    }
    shape
}

/// A colour that stands out enough on the paper: moved towards the ink until it does.
fn readable(colour: Rgb, paper: Rgb, ink: Rgb, ratio: f64) -> Rgb {
    let mixed = |t: f64| colour::mix(colour, ink, t);
    (0..=20).map(|i| mixed(f64::from(i) / 20.0)).find(|c| colour::contrast(*c, paper) >= ratio).unwrap_or(ink)
}

#[cfg(test)]
mod figure_tests;
#[cfg(test)]
mod tests;
