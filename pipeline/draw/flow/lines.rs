//! Spans to lines: words with their fonts, broken so that the right edge is as even as a ragged edge can be.
//!
//! Lines are not filled one by one from the top: all ways to break a paragraph are weighed, and the one with the least
//! sum of squared gaps wins, a lone short word at the end counting against it.

use super::parse::Span;
use crate::Fonts;
use crate::breaks::{self, SOFT_HYPHEN};
use base::model::Role;
use std::collections::BTreeSet;
use unicode_bidi::{BidiClass, BidiInfo, Level, bidi_class};

/// How a run of text is dressed.
#[derive(Clone, Debug, PartialEq)]
pub struct TextStyle {
    /// Its font.
    pub role: Role,
    /// Size in points.
    pub size: f64,
    /// On a tinted ground, which is a little wider than the text.
    pub code: bool,
    /// The address that it leads to.
    pub link: Option<String>,
}

impl TextStyle {
    /// How far the ground goes beyond the text on either side.
    pub fn pad(&self) -> f64 {
        if self.code { self.size * 0.16 } else { 0.0 }
    }
}

/// Text in one text_style, at its place in a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// What it says.
    pub text: String,
    /// How it looks.
    pub text_style: TextStyle,
    /// Where its text begins, from the left end of the line.
    pub x: f64,
    /// Width of its text.
    pub width: f64,
}

/// A line: its runs from left to right, and how wide it is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line {
    /// The runs.
    pub runs: Vec<Run>,
    /// Width in points.
    pub width: f64,
}

impl Line {
    /// Its runs where they stand in text that runs from right to left, on a page that is mirrored afterwards. Each is set by
    /// itself, so the order among them is that of the bidirectional algorithm (UAX 9) over the whole line; spaces between
    /// two runs are room alone.
    pub fn backwards(&self, width: impl Fn(&str, &TextStyle) -> f64) -> Vec<Run> {
        let whole: String = self.runs.iter().map(|run| run.text.as_str()).collect();
        let info = BidiInfo::new(&whole, Some(Level::rtl()));
        let (mut parts, mut levels, mut at) = (Vec::new(), Vec::new(), 0);
        for run in &self.runs {
            for piece in pieces(&run.text, self.runs.len() == 1, &info.levels[at..]) {
                let text = &run.text[piece.clone()];
                let core = text.trim_matches(' ');
                let lead = text.len() - text.trim_start_matches(' ').len();
                let mut from = at + piece.start;
                for text in [&text[..lead], core, &text[lead + core.len()..]] {
                    if !text.is_empty() {
                        let first = text.char_indices().find(|(_, c)| is_strong(*c)).map_or(0, |(i, _)| i);
                        levels.push(info.levels[from + first]);
                        parts.push((text, &run.text_style));
                    }
                    from += text.len();
                }
            }
            at += run.text.len();
        }
        let (mut x, mut out) = (0.0, Vec::new());
        for i in BidiInfo::reorder_visual(&levels).into_iter().rev() {
            let (text, text_style) = parts[i];
            let (width, pad) = (width(text, text_style), text_style.pad());
            if text.trim_matches(' ').is_empty() {
                x += width;
                continue;
            }
            // Signs have to know that they stand in text from right to left, where no letter says so: their order turns, and
            // brackets do.
            let turns = || text.chars().nth(1).is_some() || text.contains(['(', ')', '[', ']', '\u{ab}', '\u{bb}']);
            let mark = levels[i].is_rtl() && !text.chars().any(is_strong) && turns();
            let text = if mark { format!("\u{200f}{text}") } else { text.to_owned() };
            out.push(Run { text, text_style: text_style.clone(), x: x + pad, width });
            x += width + 2.0 * pad;
        }
        out
    }
}

fn is_strong(c: char) -> bool {
    matches!(bidi_class(c), BidiClass::L | BidiClass::R | BidiClass::AL)
}

/// The parts of a run that can each be set by themselves: all of it, where it is the whole line and its first letter says the
/// way of that, else every part of one level.
fn pieces(run: &str, alone: bool, levels: &[Level]) -> Vec<std::ops::Range<usize>> {
    let leads = run.char_indices().find(|(_, c)| is_strong(*c)).is_some_and(|(i, _)| levels[i].is_rtl());
    if alone && leads {
        return std::iter::once(0..run.len()).collect();
    }
    let mut out = Vec::new();
    let mut from = 0;
    for part in levels[..run.len()].chunk_by(|a, b| a == b) {
        out.push(from..from + part.len());
        from += part.len();
    }
    out
}

/// A word: pieces without a space between them.
#[derive(Clone, Debug)]
struct Word {
    pieces: Vec<(String, TextStyle)>,
    width: f64,
    /// Width of the space before it; 0 where it follows a forced break inside of a long word.
    space: f64,
    /// Whether a space stands before it (a piece of a long word has none, nor has a character of a script without spaces).
    spaced: bool,
    /// Width of the hyphen that shows where a line ends after it.
    hyphen: f64,
    /// Whether a line ends after it by force.
    ends_line: bool,
}

impl Word {
    fn blank(space: f64, spaced: bool) -> Word {
        Word { pieces: Vec::new(), width: 0.0, space, spaced, hyphen: 0.0, ends_line: false }
    }
}

/// The words of a paragraph as they are read.
struct Words {
    words: Vec<Word>,
    word: Word,
}

impl Words {
    /// Ends the word, if there is one; `space` is what stands before the next.
    fn end(&mut self, space: f64, spaced: bool) {
        if !self.word.pieces.is_empty() {
            self.words.push(std::mem::replace(&mut self.word, Word::blank(space, spaced)));
        }
    }

    /// Ends the line, if it is an empty one too.
    fn end_line(&mut self, space: f64) {
        self.word.ends_line = true;
        self.words.push(std::mem::replace(&mut self.word, Word::blank(space, true)));
    }
}

/// How wide a text is, in points.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Extent {
    /// The widest part of a word that is cut wherever it may be.
    pub part: f64,
    /// The widest word.
    pub word: f64,
    /// All of it in one line.
    pub all: f64,
}

impl Extent {
    /// The larger of both, in each respect.
    #[must_use]
    pub fn most(self, other: Extent) -> Extent {
        let [part, word, all] =
            [(self.part, other.part), (self.word, other.word), (self.all, other.all)].map(|(a, b)| a.max(b));
        Extent { part, word, all }
    }
}

/// How text is set: `text_style` gives each span its font and size.
pub struct Setter<'f, D: Fn(&Span) -> TextStyle> {
    /// The fonts.
    pub fonts: &'f Fonts,
    /// The text_style of a span.
    pub text_style: D,
}

impl<D: Fn(&Span) -> TextStyle> Setter<'_, D> {
    /// Breaks spans into lines at most `measure` wide. A word that is wider is cut after a mark that addresses and
    /// file names have; what is still wider comes back in the second list.
    pub fn lines(&self, spans: &[Span], measure: f64) -> (Vec<Line>, Vec<String>) {
        let mut too_wide = Vec::new();
        let mut lines = Vec::new();
        let mut paragraph = Vec::new();
        for word in self.words(spans) {
            let ends = word.ends_line;
            if !word.pieces.is_empty() {
                self.cut(word, measure, &mut paragraph, &mut too_wide);
            }
            if ends {
                lines.extend(self.fill(&paragraph, measure));
                paragraph.clear();
            }
        }
        lines.extend(self.fill(&paragraph, measure));
        (lines, too_wide)
    }

    /// How wide it is by its words: for tables.
    pub fn extent(&self, spans: &[Span]) -> Extent {
        let words = self.words(spans);
        let part = |(text, style): &(String, TextStyle)| {
            let widths = self.parts(text, style, 0.0).into_iter().map(|part| self.width(part, style));
            widths.fold(0.0, f64::max) + 2.0 * style.pad()
        };
        Extent {
            part: words.iter().flat_map(|w| &w.pieces).map(part).fold(0.0, f64::max),
            word: words.iter().map(|w| w.width).fold(0.0, f64::max),
            all: words.iter().enumerate().map(|(i, w)| w.width + if i > 0 { w.space } else { 0.0 }).sum(),
        }
    }

    fn width(&self, text: &str, text_style: &TextStyle) -> f64 {
        self.fonts.width(text_style.role, text, text_style.size, 0.0)
    }

    fn words(&self, spans: &[Span]) -> Vec<Word> {
        let whole: String = spans.iter().map(|span| span.text.as_str()).collect();
        // Where a line may end between two words without a space, and where one may at a space.
        let ends = breaks::ends(&whole);
        let bare: BTreeSet<usize> =
            breaks::pieces(&whole).iter().filter(|p| !p.inside && !p.spaced).map(|p| p.from).collect();
        let mut setting = Words { words: Vec::new(), word: Word::blank(0.0, false) };
        let mut at = 0;
        for span in spans {
            let text_style = (self.text_style)(span);
            let mut text = String::new();
            let mut chars = span.text.chars().peekable();
            while let Some(c) = chars.next() {
                if bare.contains(&at) {
                    self.put(&mut text, &mut setting.word, &text_style);
                    setting.end(0.0, false);
                }
                at += c.len_utf8();
                if !breaks::is_space(c) {
                    text.push(c);
                    continue;
                }
                let space = self.width(" ", &text_style);
                if c == '\n' {
                    self.put(&mut text, &mut setting.word, &text_style);
                    setting.end_line(space);
                } else if ends.binary_search(&at).is_ok() {
                    self.put(&mut text, &mut setting.word, &text_style);
                    setting.end(space, true);
                } else if !text.ends_with(' ') && chars.peek().is_some_and(|next| !breaks::is_space(*next)) {
                    // A space that no line may end at, as before a mark that belongs to what stands before it.
                    text.push(' ');
                }
            }
            self.put(&mut text, &mut setting.word, &text_style);
        }
        if !setting.word.pieces.is_empty() {
            setting.words.push(setting.word);
        }
        setting.words
    }

    /// Adds a text to a word.
    fn put(&self, text: &mut String, word: &mut Word, text_style: &TextStyle) {
        if !text.is_empty() {
            let text = std::mem::take(text);
            word.width += self.width(&text, text_style) + 2.0 * text_style.pad();
            word.hyphen = if text.ends_with(SOFT_HYPHEN) { self.width("-", text_style) } else { 0.0 };
            word.pieces.push((text, text_style.clone()));
        }
    }

    /// Puts a word into the paragraph, cut where it is wider than the measure: where UAX 14 allows it, and then, as at once
    /// in addresses and names of files, after their marks.
    fn cut(&self, word: Word, measure: f64, out: &mut Vec<Word>, too_wide: &mut Vec<String>) {
        if word.width <= measure {
            out.push(word);
            return;
        }
        let mut first = true;
        for (text, text_style) in &word.pieces {
            for part in self.parts(text, text_style, measure) {
                let width = self.width(part, text_style) + 2.0 * text_style.pad();
                if width > measure {
                    too_wide.push(part.to_owned());
                }
                out.push(Word {
                    pieces: vec![(part.to_owned(), text_style.clone())],
                    width,
                    space: if first { word.space } else { 0.0 },
                    spaced: first && word.spaced,
                    hyphen: 0.0,
                    ends_line: false,
                });
                first = false;
            }
        }
    }

    fn parts<'t>(&self, text: &'t str, text_style: &TextStyle, measure: f64) -> Vec<&'t str> {
        let marks = |part: &'t str| part.split_inclusive(['/', '-', '.', '_', '?', '&', '=', '@', '–', '—']);
        if text_style.code || text_style.link.is_some() {
            return marks(text).collect();
        }
        let mut from = 0;
        let allowed = breaks::ends(text).into_iter().map(|end| &text[std::mem::replace(&mut from, end)..end]);
        let wide = |part: &str| self.width(part, text_style) > measure;
        allowed.flat_map(|part| if wide(part) { marks(part).collect() } else { vec![part] }).collect()
    }

    /// Chooses the breaks of a paragraph.
    fn fill(&self, words: &[Word], measure: f64) -> Vec<Line> {
        if words.is_empty() {
            return Vec::new();
        }
        let n = words.len();
        // best[i]: the least cost of setting the words from i on, and where its first line ends.
        let mut best = vec![(f64::INFINITY, n); n + 1];
        best[n] = (0.0, n);
        for from in (0..n).rev() {
            let mut width = 0.0;
            for to in from..n {
                width += words[to].width + if to > from { words[to].space } else { 0.0 };
                // With the hyphen that would show here.
                let full = width + words[to].hyphen;
                if full > measure && to > from {
                    if width > measure {
                        break;
                    }
                    continue;
                }
                let gap = ((measure - full) / measure).max(0.0);
                let last = to + 1 == n;
                // The last line may be short, but not so short that it looks like a slip.
                let own = match last {
                    true if from > 0 && width < measure * 0.18 => 0.12,
                    true => 0.0,
                    false => gap * gap + 0.002,
                };
                let cost = own + best[to + 1].0;
                if cost < best[from].0 {
                    best[from] = (cost, to + 1);
                }
            }
        }
        let (mut lines, mut from) = (Vec::new(), 0);
        while from < n {
            let to = best[from].1;
            lines.push(self.line(&words[from..to]));
            from = to;
        }
        lines
    }

    /// Joins words of one text_style to runs, spaces included, so that they are shaped and found as whole text.
    fn line(&self, words: &[Word]) -> Line {
        let mut parts: Vec<(String, TextStyle)> = Vec::new();
        for (i, word) in words.iter().enumerate() {
            for (j, (text, text_style)) in word.pieces.iter().enumerate() {
                let ends_line = i + 1 == words.len() && j + 1 == word.pieces.len();
                let hyphen = if ends_line && text.ends_with(SOFT_HYPHEN) { "-" } else { "" };
                let text = &(text.replace(SOFT_HYPHEN, "") + hyphen);
                let spaced = i > 0 && j == 0 && word.spaced;
                match parts.last_mut() {
                    Some((run, last)) if last == text_style => {
                        if spaced {
                            run.push(' ');
                        }
                        run.push_str(text);
                    }
                    Some((run, last)) if spaced && last.link.is_none() && !last.code => {
                        // The space belongs to what stands before it, unless that is a link or a file's name.
                        run.push(' ');
                        parts.push((text.clone(), text_style.clone()));
                    }
                    Some(_) if spaced && text_style.link.is_none() && !text_style.code => {
                        parts.push((format!(" {text}"), text_style.clone()));
                    }
                    Some((_, last)) if spaced => {
                        let plain = TextStyle { code: false, link: None, ..last.clone() };
                        parts.push((" ".to_owned(), plain));
                        parts.push((text.clone(), text_style.clone()));
                    }
                    _ => parts.push((text.clone(), text_style.clone())),
                }
            }
        }
        let mut line = Line::default();
        for (text, text_style) in parts {
            let (width, pad) = (self.width(&text, &text_style), text_style.pad());
            line.runs.push(Run { text, text_style, x: line.width + pad, width });
            line.width += width + 2.0 * pad;
        }
        line
    }
}
