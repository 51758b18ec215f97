//! Markdown to blocks: what is to be set, without any measure yet.

use base::model::Fault;
use pulldown_cmark::{Alignment, CodeBlockKind, Event, Options, Parser, Tag, TagEnd};

/// A part of a text.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading, level 1 to 6.
    Heading(u8, Vec<Span>),
    /// A paragraph.
    Paragraph(Vec<Span>),
    /// A list: the first number of an ordered one, whether its items stand apart, its items.
    List(Option<u64>, bool, Vec<Vec<Block>>),
    /// A quotation.
    Quote(Vec<Block>),
    /// A rule across the text.
    Rule,
    /// A table: where each column is aligned, its head, its rows.
    Table(Vec<Side>, Vec<Vec<Span>>, Vec<Vec<Vec<Span>>>),
    /// A picture: its name, its caption.
    Picture(String, String),
    /// Lines that stand as they are.
    Lines(Vec<String>),
}

/// Where the text of a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// At the left.
    Left,
    /// In the middle.
    Centre,
    /// At the right.
    Right,
}

/// A run of text in one text_style.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Span {
    /// The text; `\n` is a forced line end.
    pub text: String,
    /// Bold.
    pub bold: bool,
    /// Italic.
    pub italic: bool,
    /// Set as something to type or a file's name.
    pub code: bool,
    /// The address that it leads to.
    pub link: Option<String>,
}

/// Reads Markdown. What this room cannot set (HTML, pictures from the web) is a fault.
pub fn blocks(markdown: &str) -> Result<Vec<Block>, Vec<Fault>> {
    let options = Options::ENABLE_TABLES | Options::ENABLE_SMART_PUNCTUATION;
    let mut reader = Reader { events: Parser::new_ext(markdown, options), faults: Vec::new() };
    let blocks = reader.blocks(None);
    if reader.faults.is_empty() { Ok(blocks) } else { Err(reader.faults) }
}

struct Reader<'m> {
    events: Parser<'m>,
    faults: Vec<Fault>,
}

impl Reader<'_> {
    /// Blocks up to the end of the tag that they stand in; loose text (a tight list's) becomes a paragraph.
    fn blocks(&mut self, until: Option<TagEnd>) -> Vec<Block> {
        let (mut out, mut loose) = (Vec::new(), Inline::default());
        while let Some(event) = self.events.next() {
            match event {
                Event::End(end) if Some(end) == until => break,
                Event::Start(tag) if is_block(&tag) => {
                    loose.finish(&mut out, Block::Paragraph);
                    self.block(tag, &mut out);
                }
                Event::Rule => {
                    loose.finish(&mut out, Block::Paragraph);
                    out.push(Block::Rule);
                }
                other => self.inline(other, &mut loose, &mut out),
            }
        }
        loose.finish(&mut out, Block::Paragraph);
        out
    }

    fn block(&mut self, tag: Tag, out: &mut Vec<Block>) {
        let end = tag.to_end();
        match tag {
            Tag::Paragraph => self.run(end, out, Block::Paragraph),
            Tag::Heading { level, .. } => self.run(end, out, |spans| Block::Heading(level as u8, spans)),
            Tag::BlockQuote(_) => {
                let inner = self.blocks(Some(end));
                out.push(Block::Quote(inner));
            }
            Tag::List(first) => {
                let mut items = Vec::new();
                while let Some(event) = self.events.next() {
                    match event {
                        Event::End(e) if e == end => break,
                        Event::Start(Tag::Item) => items.push(self.blocks(Some(TagEnd::Item))),
                        _ => {}
                    }
                }
                let apart = items.iter().any(|i| i.iter().filter(|b| matches!(b, Block::Paragraph(_))).count() > 1);
                out.push(Block::List(first, apart, items));
            }
            Tag::CodeBlock(CodeBlockKind::Indented | CodeBlockKind::Fenced(_)) => {
                let mut text = String::new();
                for event in self.events.by_ref() {
                    match event {
                        Event::End(e) if e == end => break,
                        Event::Text(t) => text.push_str(&t),
                        _ => {}
                    }
                }
                out.push(Block::Lines(text.lines().map(str::to_owned).collect()));
            }
            Tag::Table(columns) => {
                let sides = columns
                    .into_iter()
                    .map(|a| match a {
                        Alignment::Right => Side::Right,
                        Alignment::Center => Side::Centre,
                        Alignment::None | Alignment::Left => Side::Left,
                    })
                    .collect();
                self.table(end, sides, out);
            }
            Tag::HtmlBlock => {
                let mut html = String::new();
                for event in self.events.by_ref() {
                    match event {
                        Event::End(TagEnd::HtmlBlock) => break,
                        Event::Html(t) => html.push_str(&t),
                        _ => {}
                    }
                }
                self.html(&html);
            }
            _ => {}
        }
    }

    /// A block that is one run of text; pictures in it become blocks after it.
    fn run(&mut self, until: TagEnd, out: &mut Vec<Block>, make: impl Fn(Vec<Span>) -> Block) {
        let mut line = Inline::default();
        while let Some(event) = self.events.next() {
            match event {
                Event::End(end) if end == until => break,
                other => {
                    let before = out.len();
                    let mut pictures = Vec::new();
                    self.inline(other, &mut line, &mut pictures);
                    if !pictures.is_empty() {
                        line.finish(out, &make);
                        out.append(&mut pictures);
                    }
                    debug_assert!(out.len() >= before);
                }
            }
        }
        line.finish(out, make);
    }

    fn table(&mut self, until: TagEnd, sides: Vec<Side>, out: &mut Vec<Block>) {
        let (mut head, mut rows, mut row, mut in_head) = (Vec::new(), Vec::new(), Vec::new(), false);
        while let Some(event) = self.events.next() {
            match event {
                Event::End(end) if end == until => break,
                Event::Start(Tag::TableHead) => in_head = true,
                Event::Start(Tag::TableRow) => in_head = false,
                Event::Start(Tag::TableCell) => {
                    let mut cell = Vec::new();
                    self.run(TagEnd::TableCell, &mut cell, Block::Paragraph);
                    let spans = cell.into_iter().find_map(|b| if let Block::Paragraph(s) = b { Some(s) } else { None });
                    row.push(spans.unwrap_or_default());
                }
                Event::End(TagEnd::TableHead | TagEnd::TableRow) => {
                    let done = std::mem::take(&mut row);
                    if in_head { head = done } else { rows.push(done) }
                }
                _ => {}
            }
        }
        out.push(Block::Table(sides, head, rows));
    }

    fn inline(&mut self, event: Event, line: &mut Inline, out: &mut Vec<Block>) {
        match event {
            Event::Text(t) => line.push(&t, false),
            Event::Code(t) => line.push(&t, true),
            Event::SoftBreak => line.push(" ", false),
            Event::HardBreak => line.push("\n", false),
            Event::Start(Tag::Strong) => line.bold += 1,
            Event::End(TagEnd::Strong) => line.bold = line.bold.saturating_sub(1),
            Event::Start(Tag::Emphasis) => line.italic += 1,
            Event::End(TagEnd::Emphasis) => line.italic = line.italic.saturating_sub(1),
            Event::Start(Tag::Link { link_type, dest_url, .. }) => {
                let mail = link_type == pulldown_cmark::LinkType::Email && !dest_url.starts_with("mailto:");
                let address = if mail { format!("mailto:{dest_url}") } else { dest_url.into_string() };
                if !["https:", "http:", "mailto:"].iter().any(|s| address.starts_with(s)) {
                    self.faults.push(
                        Fault::new(format!("the link to “{address}” leads to no address"))
                            .help("give the whole address, beginning with https:// or mailto:"),
                    );
                }
                line.link = Some(address);
            }
            Event::End(TagEnd::Link) => line.link = None,
            Event::Start(Tag::Image { dest_url, title, .. }) => {
                line.finish(out, Block::Paragraph);
                // The text in the brackets says what the picture shows to those who do not see it.
                for event in self.events.by_ref() {
                    if matches!(event, Event::End(TagEnd::Image)) {
                        break;
                    }
                }
                out.push(Block::Picture(dest_url.into_string(), title.into_string()));
            }
            Event::InlineHtml(t) | Event::Html(t) => self.html(&t),
            _ => {}
        }
    }

    fn html(&mut self, html: &str) {
        let html = html.trim();
        // A comment is nothing to set.
        if html.is_empty() || (html.starts_with("<!--") && html.ends_with("-->")) {
            return;
        }
        let shown: String = html.chars().take(40).collect();
        self.faults.push(
            Fault::new(format!("“{shown}” is HTML, which is not set here"))
                .help("write it in Markdown, or put a backslash before the < if it is meant as text"),
        );
    }
}

fn is_block(tag: &Tag) -> bool {
    !matches!(tag, Tag::Strong | Tag::Emphasis | Tag::Link { .. } | Tag::Image { .. } | Tag::Strikethrough)
}

/// A run of text being read.
#[derive(Default)]
struct Inline {
    spans: Vec<Span>,
    bold: u32,
    italic: u32,
    link: Option<String>,
}

impl Inline {
    fn push(&mut self, text: &str, code: bool) {
        let span =
            Span { text: text.to_owned(), bold: self.bold > 0, italic: self.italic > 0, code, link: self.link.clone() };
        match self.spans.last_mut() {
            Some(last)
                if last.bold == span.bold
                    && last.italic == span.italic
                    && last.code == span.code
                    && last.link == span.link =>
            {
                last.text.push_str(text);
            }
            _ => self.spans.push(span),
        }
    }

    /// Makes a block of what was read, if that is more than space.
    fn finish(&mut self, out: &mut Vec<Block>, make: impl Fn(Vec<Span>) -> Block) {
        let spans = std::mem::take(&mut self.spans);
        if spans.iter().any(|s| !s.text.trim().is_empty()) {
            out.push(make(spans));
        }
    }
}
