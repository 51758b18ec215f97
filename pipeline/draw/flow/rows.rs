//! Blocks to rows: everything as high as a whole number of half lines, so that text stands on one grid across columns
//! and pages.

mod figures;
mod lists;
mod tables;

use super::lines::{Line, Setter, TextStyle};
use super::parse::{Block, Span};
use super::{FlowContext, readable};
use crate::Fonts;
use crate::text::{Align, Setting};
use base::colour;
use base::model::drawing::{Path, Picture, Stroke};
use base::model::{Drawing, Fault, Rect, Rgb, Role, Shape};
use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};
use std::rc::Rc;
use std::sync::Arc;

/// A row: the smallest thing that is moved to another column or page. All places are from its own top left.
#[derive(Clone, Debug, Default)]
pub struct Row {
    /// Space above it, left out at the head of a column.
    pub gap: f64,
    /// Its height.
    pub height: f64,
    /// How far its letters reach below it. Most rows have room for that within their height; where another row follows, it
    /// is the gap above that one, and at the foot of a column it must fit as well.
    pub below: f64,
    /// What is drawn.
    pub drawing: Drawing,
    /// Tap areas and addresses.
    pub links: Vec<(Rect, String)>,
    /// What it costs to end a column before it, in lines that one would rather leave empty; `None` forbids it.
    pub break_cost: Option<f64>,
    /// Left edges of the bars of quotations that it stands in.
    pub bars: Vec<f64>,
    /// Whether it is a heading.
    pub heading: bool,
    /// Whether it goes on with what a picture of pages shows.
    pub inside: bool,
    /// The head that is repeated where a column ends before it (of a table).
    pub head: Option<Rc<Row>>,
}

/// Steps of the type scale.
const SCALE: f64 = 1.2;

/// Lines in text sizes: open enough for reading on a screen.
pub const LEADING: f64 = 1.44;

/// Characters of a comfortable line; the measure goes no further (60 to 70 is good, common practice, no source).
const MOST_CHARACTERS: f64 = 70.0;

/// The widest comfortable line of text in this size, in points.
pub fn measure(fonts: &Fonts, size: f64) -> f64 {
    let sample = "the quick brown fox jumps over a lazy dog and sphinx of black quartz";
    fonts.width(Role::Label, sample, size, 0.0) / sample.chars().count() as f64 * MOST_CHARACTERS
}

/// A picture among pictures of pages that is so low, as a share of the column, is as wide as can be: a smaller one would spare nothing.
const LOW: f64 = 0.22;

/// Costs of ending a column before something: nothing before a chapter, most in the middle of a paragraph.
mod cost {
    pub const HEADING: f64 = 0.0;
    pub const BLOCK: f64 = 2.5;
    pub const ITEM: f64 = 3.0;
    pub const LONELY_ITEM: f64 = 10.0;
    /// In a short list where another column may hold all of it.
    pub const SHORT_LIST: f64 = 26.0;
    pub const INSIDE: f64 = 6.0;
}

impl Row {
    /// Whether a column that begins with it tears something apart: what a picture shows, or a list that another may hold whole.
    pub fn is_torn_off(&self) -> bool {
        self.inside || self.break_cost.is_some_and(|own| own >= cost::SHORT_LIST)
    }
}

/// Where a block stands.
#[derive(Clone, Debug, Default)]
struct Place {
    left: f64,
    width: f64,
    italic: bool,
    lists: usize,
    bars: Vec<f64>,
}

/// Spans that were broken into lines already, with the width, the size and what else that hangs on: a text is set several times
/// until it fills its pages well. Looked up only, never gone through.
pub type Kept = RefCell<HashMap<(Vec<Span>, u64, u64, bool, Option<Role>), Vec<Line>>>;

/// Turns blocks into rows.
pub struct Composer<'d, 'a> {
    context: &'d FlowContext<'a>,
    pictures: &'d BTreeMap<String, Arc<Picture>>,
    kept: &'d Kept,
    /// Height of a line of text.
    pub line: f64,
    column: Rect,
    /// Everything that could not be set.
    pub faults: Vec<Fault>,
    rows: Vec<Row>,
}

impl<'d, 'a> Composer<'d, 'a> {
    /// A composer for columns of this size.
    pub fn new(
        context: &'d FlowContext<'a>,
        pictures: &'d BTreeMap<String, Arc<Picture>>,
        column: Rect,
        kept: &'d Kept,
    ) -> Composer<'d, 'a> {
        let line = context.size * LEADING;
        Composer { context, pictures, kept, line, column, faults: Vec::new(), rows: Vec::new() }
    }

    /// Sets a text.
    pub fn compose(mut self, blocks: &[Block]) -> Result<Vec<Row>, Vec<Fault>> {
        // The measure: as wide as the column, but not wider than a comfortable line.
        let width = self.column.w.min(measure(self.context.fonts, self.context.size));
        let place = Place { width, ..Place::default() };
        self.blocks(blocks, &place);
        if let Some(first) = self.rows.first_mut() {
            first.gap = 0.0;
        }
        if self.faults.is_empty() { Ok(self.rows) } else { Err(self.faults) }
    }

    fn half(&self) -> f64 {
        self.line / 2.0
    }

    /// Distance from the foot of a row up to its last baseline: capitals stand in the middle of a line.
    fn drop(&self) -> f64 {
        (self.line - self.cap(Role::Label, self.context.size)) / 2.0
    }

    fn cap(&self, role: Role, size: f64) -> f64 {
        self.context.fonts.metrics(role).cap * size
    }

    fn halves(&self, height: f64) -> f64 {
        // A hair of rounding must not cost half a line.
        ((height / self.half()) - 1e-6).ceil().max(1.0) * self.half()
    }

    fn blocks(&mut self, blocks: &[Block], place: &Place) {
        let (mut announced, mut after_list, mut next) = (false, false, 0);
        while let Some(block) = blocks.get(next) {
            let from = self.rows.len();
            let figure = self.figure_of(&blocks[next..], place);
            next += 1;
            let mut last = block;
            match &figure {
                Some((figure, text)) => {
                    self.figure(figure, text, place);
                    last = &blocks[next + text.len() - 1];
                    next += text.len();
                }
                None => self.block(block, place),
            }
            let Some(first) = self.rows.get_mut(from) else { continue };
            // A line that announces what follows stays with it.
            if announced {
                first.break_cost = None;
            }
            if after_list && matches!(block, Block::Paragraph(_)) && place.lists == 0 {
                first.gap = self.line;
            }
            announced = match last {
                Block::Heading(..) => true,
                Block::Paragraph(spans) => {
                    // So does what stands between a picture and its steps.
                    announced && !self.context.figures.is_empty()
                        || spans.last().is_some_and(|s| s.text.trim_end().ends_with(':'))
                }
                _ => false,
            };
            after_list = matches!(last, Block::List(..));
        }
    }

    fn block(&mut self, block: &Block, place: &Place) {
        // Beside pictures of pages, what is not read in lines is as wide as text and picture are together.
        let lines = !matches!(block, Block::Rule | Block::Table(..) | Block::Picture(..));
        let wide = Place { width: self.column.w, ..Place::default() };
        let place = if lines || self.context.figures.is_empty() || place.left > 0.0 { place } else { &wide };
        match block {
            Block::Heading(level, spans) => self.heading(*level, spans, place),
            Block::Paragraph(spans) => {
                // The title of a text stands a little apart; a heading close to what it heads.
                let title = self.rows.last().is_some_and(|r| r.heading && r.height > 1.9 * self.line);
                self.paragraph(spans, place, if title { self.line } else { self.half() });
            }
            Block::List(first, apart, items) => self.list(*first, *apart, items, place),
            Block::Quote(inner) => {
                let mut inside = place.clone();
                let step = self.context.size * 1.3;
                inside.bars.push(place.left);
                inside.left += step;
                inside.width -= step;
                inside.italic = true;
                self.blocks(inner, &inside);
            }
            Block::Rule => {
                let mut row = self.row(place, self.half(), self.line);
                let y = self.half();
                let pen = Stroke::new(0.6, self.context.style.rule);
                row.drawing.line(place.left, y, place.left + place.width, y, pen);
                self.rows.push(row);
            }
            Block::Table(sides, head, rows) => self.table(sides, head, rows, place),
            Block::Picture(name, caption) => self.picture(name, caption, place),
            Block::Lines(lines) => {
                for (i, text) in lines.iter().enumerate() {
                    let span = Span { text: text.clone(), code: true, ..Span::default() };
                    self.paragraph(&[span], place, if i == 0 { self.half() } else { 0.0 });
                }
            }
        }
    }

    fn row(&self, place: &Place, gap: f64, height: f64) -> Row {
        Row { gap, height, break_cost: Some(cost::BLOCK), bars: place.bars.clone(), ..Row::default() }
    }

    /// Rows of a paragraph: a column neither begins with its last line nor ends with its first.
    fn paragraph(&mut self, spans: &[Span], place: &Place, gap: f64) {
        let size = self.context.size;
        let lines = self.lines(spans, place, place.width, size, None);
        let (line, drop, n) = (self.line, self.drop(), lines.len());
        for (i, l) in lines.iter().enumerate() {
            let mut row = self.row(place, if i == 0 { gap } else { 0.0 }, line);
            row.break_cost = match i {
                0 => Some(cost::BLOCK),
                _ => (i >= 2 && i + 1 < n).then_some(cost::INSIDE),
            };
            self.draw(&mut row, l, place.left, line - drop, line);
            self.rows.push(row);
        }
    }

    fn heading(&mut self, level: u8, spans: &[Span], place: &Place) {
        // Sizes by the scale, and the space above in half lines.
        let (steps, above) = match level {
            1 => (5, 4.0),
            2 => (3, 3.0),
            3 => (1, 2.0),
            _ => (0, 2.0),
        };
        let size = self.context.size * SCALE.powi(steps);
        let lines = self.lines(spans, place, place.width, size, Some(Role::Heading));
        let drop = self.drop();
        let height = self.halves(drop + self.cap(Role::Heading, size) * 1.3);
        for (i, l) in lines.iter().enumerate() {
            let mut row = self.row(place, if i == 0 { above * self.half() } else { 0.0 }, height);
            // Beside pictures of pages, what is a part of a chapter rather follows on it.
            let part = level > 2 && !self.context.figures.is_empty();
            row.break_cost = (i == 0).then_some(if part { cost::BLOCK } else { cost::HEADING });
            row.heading = true;
            row.below = (self.context.fonts.metrics(Role::Heading).descent * size - drop).max(0.0);
            self.draw(&mut row, l, place.left, height - drop, height);
            self.rows.push(row);
        }
    }

    fn picture(&mut self, name: &str, caption: &str, place: &Place) {
        let Some(picture) = self.pictures.get(name).cloned() else {
            let known = self.pictures.keys().chain(&self.context.known_figures);
            let known: Vec<&str> = known.map(String::as_str).collect();
            let help = if known.is_empty() {
                "no picture is at hand: check the path".to_owned()
            } else {
                format!("at hand are {}", known.join(", "))
            };
            self.faults.push(Fault::new(format!("the picture “{name}” is not there")).help(help));
            return;
        };
        let ratio = f64::from(picture.height.max(1)) / f64::from(picture.width.max(1));
        // As wide as the text, unless it would then take more than seven tenths of the column.
        let w = place.width.min(self.column.h * 0.7 / ratio);
        // Among pictures of pages it may be a little smaller, as they are.
        let guide = !self.context.figures.is_empty();
        let w = if guide && w * ratio > self.column.h * LOW { w * self.context.picture_share.max(0.8) } else { w };
        let at = Rect::new(place.left, 0.0, w, w * ratio);
        // Pictures that follow each other belong together.
        let follows = |row: &Row| matches!(row.drawing.shapes.as_slice(), [Shape::Picture { .. }]);
        let close = !self.context.figures.is_empty() && self.rows.last().is_some_and(follows);
        let mut row = self.row(place, if close { self.half() } else { self.line }, self.halves(at.h));
        row.drawing.push(Shape::Picture { picture, at, turn: 0.0 });
        self.rows.push(row);
        if !caption.is_empty() {
            let from = self.rows.len();
            let span = Span { text: caption.to_owned(), italic: true, ..Span::default() };
            self.paragraph(&[span], place, 0.0);
            if let Some(row) = self.rows.get_mut(from) {
                row.break_cost = None;
            }
        }
    }

    /// How spans are dressed in a place.
    fn text_style(&self, place: &Place, size: f64, role: Option<Role>) -> impl Fn(&Span) -> TextStyle + use<> {
        let italic = place.italic;
        move |span| {
            let plain = match (span.bold, span.italic != italic) {
                (true, _) => Role::LabelBold,
                (false, true) => Role::LabelItalic,
                (false, false) => Role::Label,
            };
            let role = match role {
                Some(Role::Heading) if span.italic => Role::HeadingItalic,
                Some(role) => role,
                None => plain,
            };
            TextStyle { role, size, code: span.code, link: span.link.clone() }
        }
    }

    fn lines(&mut self, spans: &[Span], place: &Place, width: f64, size: f64, role: Option<Role>) -> Vec<Line> {
        let key = (spans.to_vec(), width.to_bits(), size.to_bits(), place.italic, role);
        if let Some(known) = self.kept.borrow().get(&key) {
            return known.clone();
        }
        let faults = self.faults.len();
        let lines = self.broken(spans, place, width, size, role);
        if self.faults.len() == faults {
            self.kept.borrow_mut().insert(key, lines.clone());
        }
        lines
    }

    fn broken(&mut self, spans: &[Span], place: &Place, width: f64, size: f64, role: Option<Role>) -> Vec<Line> {
        let text_style = self.text_style(place, size, role);
        for span in spans {
            let role = text_style(span).role;
            let asked: Vec<&str> = self.context.fonts.files(role).map(|f| f.from.as_str()).collect();
            for c in self.context.fonts.missing(role, &span.text) {
                let fault =
                    Fault::new(format!("none of the fonts has “{c}” (U+{:04X}): {}", u32::from(c), asked.join(", ")))
                        .help("leave the character out, or give the product a font that has it");
                if !self.faults.contains(&fault) {
                    self.faults.push(fault);
                }
            }
        }
        let (lines, too_wide) = Setter { fonts: self.context.fonts, text_style }.lines(spans, width);
        for word in too_wide {
            self.faults.push(
                Fault::new(format!("“{word}” is too long for a line of this page"))
                    .help("use a shorter word, or put spaces into it"),
            );
        }
        lines
    }

    fn draw(&self, row: &mut Row, line: &Line, x: f64, baseline: f64, height: f64) {
        self.draw_at(row, line, x, baseline, height);
    }

    fn wide(&self, text: &str, like: &TextStyle) -> f64 {
        self.context.fonts.width(like.role, text, like.size, 0.0)
    }

    /// Draws a line of text at a baseline, with the ground of file names and the underline and tap area of links.
    fn draw_at(&self, row: &mut Row, line: &Line, x: f64, baseline: f64, height: f64) {
        let style = self.context.style;
        let tint = colour::mix(style.paper, style.ink, 0.075);
        let link_ink = readable(style.accent, style.paper, style.ink, 4.5);
        let placed = if self.context.right_to_left {
            line.backwards(|text, like| self.wide(text, like))
        } else {
            line.runs.clone()
        };
        for run in &placed {
            let colour: Rgb = if run.text_style.link.is_some() { link_ink } else { style.ink };
            let (left, size) = (x + run.x, run.text_style.size);
            if run.text_style.code {
                let (up, down) = (self.cap(run.text_style.role, size) + size * 0.2, size * 0.27);
                let ground = Rect::new(
                    left - run.text_style.pad(),
                    baseline - up,
                    run.width + 2.0 * run.text_style.pad(),
                    up + down,
                );
                row.drawing.fill(Path::rounded(ground, size * 0.2), tint);
            }
            Setting::new(run.text_style.role, size, colour).draw(
                &mut row.drawing,
                self.context.fonts,
                &run.text,
                left,
                baseline,
                Align::Left,
            );
            if let Some(address) = &run.text_style.link {
                let y = baseline + size * 0.16;
                row.drawing.line(left, y, left + run.width, y, Stroke::new(size * 0.05, link_ink));
                let top = baseline + self.drop() - self.line.min(height);
                row.links.push((Rect::new(left, top, run.width, self.line.min(height)), address.clone()));
            }
        }
    }
}
