//! From a line of text to glyphs in the order in which they stand on the page: directions (UAX 9), then scripts,
//! then fonts, then the shaping of each piece.

use super::characters::is_seen;
use base::model::drawing::Role;
use base::model::look::Figures;
use rustybuzz::Feature;
use rustybuzz::ttf_parser::{Face, Tag};
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::ops::Range;
use unicode_bidi::BidiInfo;
use unicode_normalization::char::is_combining_mark;
use unicode_script::{Script, UnicodeScript};

/// A shaped glyph; distances in em.
#[derive(Clone, Debug, PartialEq)]
pub struct Glyph {
    /// Which of the fonts, by its number among them.
    pub font: usize,
    /// Glyph index in the font file.
    pub id: u16,
    /// How far the pen moves on.
    pub advance: f64,
    /// Where the glyph is drawn, to the right of the pen.
    pub dx: f64,
    /// Where the glyph is drawn, above the baseline.
    pub dy: f64,
    /// The bytes of the text that it stands for.
    pub cluster: Range<usize>,
    /// Whether it is a letter of a script whose letters join, so that tracking leaves it alone.
    pub joined: bool,
    /// Whether it stands in a run from right to left.
    pub backwards: bool,
}

impl Glyph {
    /// What a glyph of this text says to who reads it off the page. Readers of PDF take the characters of a run from right
    /// to left in the order in which they stand and turn them round one by one, so that those of a ligature stand so too.
    pub fn says(&self, text: &str) -> String {
        let chars = text[self.cluster.clone()].chars();
        if self.backwards { chars.rev().collect() } else { chars.collect() }
    }

    /// Whether it stands for characters that leave no mark and take no room, as one for the direction: it is not written. A
    /// shaper takes the glyph of the space for them, which would then be read as such a character everywhere.
    pub fn is_hidden(&self, text: &str) -> bool {
        let mut chars = text[self.cluster.clone()].chars();
        self.advance == 0.0 && chars.all(|c| !is_seen(c) && !c.is_whitespace() && !c.is_control())
    }

    /// How far the pen moves on in a line with this tracking, in em.
    pub fn tracked(&self, tracking: f64) -> f64 {
        self.advance + if self.joined { 0.0 } else { tracking }
    }
}

/// A piece of a line that runs one way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// Its bytes in the text.
    pub range: Range<usize>,
    /// Which way it runs; `None` where the line knows one direction alone, so that the script decides.
    pub backwards: Option<bool>,
}

/// The runs of a line by the Unicode Bidirectional Algorithm, from left to right as they stand. The first strong
/// character says which way the line runs as a whole (rules P2 and P3).
pub fn runs(text: &str) -> Vec<Run> {
    let whole = || vec![Run { range: 0..text.len(), backwards: None }];
    if text.is_ascii() {
        return whole();
    }
    let info = BidiInfo::new(text, None);
    // A number of Arabic digits alone stands in no run from right to left, and still not as its script would have it.
    if info.levels.iter().all(|level| level.number() == 0) {
        return whole();
    }
    let mut out = Vec::new();
    for paragraph in &info.paragraphs {
        let (levels, runs) = info.visual_runs(paragraph, paragraph.range.clone());
        out.extend(runs.into_iter().map(|range| Run { backwards: Some(levels[range.start].is_rtl()), range }));
    }
    out
}

/// Where the script changes in a piece of text, with what belongs to every script staying with what is before it.
pub fn by_script(text: &str, range: Range<usize>) -> Vec<Range<usize>> {
    let (mut out, mut from, mut script) = (Vec::new(), range.start, None);
    for (at, c) in text[range.clone()].char_indices() {
        let here = c.script();
        if matches!(here, Script::Common | Script::Inherited | Script::Unknown) {
            continue;
        }
        if script.is_some_and(|before| before != here) {
            out.push(from..range.start + at);
            from = range.start + at;
        }
        script = Some(here);
    }
    out.push(from..range.end);
    out
}

/// Whether the letters of a text join, so that no space may be put between them (CSS Text 3, "cursive scripts").
fn joins(text: &str) -> bool {
    use Script::{Arabic, Hanifi_Rohingya, Mandaic, Mongolian, Nko, Phags_Pa, Syriac};
    let cursive = [Arabic, Hanifi_Rohingya, Mandaic, Mongolian, Nko, Phags_Pa, Syriac];
    text.chars().any(|c| cursive.contains(&c.script()))
}

/// A font that is asked for a character.
pub struct Asked<'a> {
    /// Its number, for the glyphs.
    pub number: usize,
    /// Its file.
    pub bytes: &'a [u8],
    /// Font units in an em.
    pub units: f64,
    /// Which of its figures are wished for among words.
    pub figures: Option<Figures>,
    /// Whether its own are of the old style.
    pub oldstyle: bool,
}

/// The feature of OpenType that gives a font's figures of a kind.
pub const fn of_figures(figures: Figures) -> [u8; 4] {
    match figures {
        Figures::Lining => *b"lnum",
        Figures::Oldstyle => *b"onum",
    }
}

/// The feature of OpenType that gives small capitals for small letters.
pub const SMALL_CAPITALS: [u8; 4] = *b"smcp";

/// The glyphs of a text in one font alone, with a feature asked for or without; `None` where the font cannot be read.
pub fn set_alone(bytes: &[u8], text: &str, tag: Option<[u8; 4]>) -> Option<Vec<u16>> {
    let face = rustybuzz::Face::from_slice(bytes, 0)?;
    let mut buffer = rustybuzz::UnicodeBuffer::new();
    buffer.push_str(text);
    buffer.guess_segment_properties();
    let asked: Vec<Feature> = tag.iter().map(|tag| Feature::new(Tag::from_bytes(tag), 1, ..)).collect();
    let shaped = rustybuzz::shape(&face, &asked, buffer);
    // A font has at most 65,535 glyphs (OpenType `maxp`).
    Some(shaped.glyph_infos().iter().map(|info| info.glyph_id as u16).collect())
}

/// What is asked of a font beyond what it does by itself, where it has it. Figures of grids and lists stand below each other and
/// are of one width; figures without a letter are as high as capitals; those among words are as the style wishes.
fn features(role: Role, text: &str, figures: Option<Figures>) -> Vec<[u8; 4]> {
    let words = text.chars().any(char::is_alphabetic);
    // Of two features for figures one alone is asked for: there are fonts in which they undo each other.
    let kind = match figures.filter(|_| words) {
        Some(figures) => Some(of_figures(figures)),
        None if role.stands_in_columns() => Some(*b"tnum"),
        None => (!words).then_some(*b"lnum"),
    };
    let small = (role == Role::SmallCapitals && words).then_some(SMALL_CAPITALS);
    kind.into_iter().chain(small).collect()
}

/// The glyphs of a line, from left to right. Every character is set in the first font that has it; marks stay with their
/// letter, and spaces with what is before them. What no font has is left to the first. The role says which figures are asked
/// for, and whether small capitals are.
pub fn shape(chain: &[Asked], text: &str, role: Role) -> Vec<Glyph> {
    let wished = |asked: &Asked| -> Vec<Feature> {
        let mut tags = features(role, text, asked.figures);
        // In grids, figures of the old style are as unlike in height as they are in width.
        let grid = role.stands_in_columns() && tags == [*b"tnum"] && !text.chars().any(char::is_alphabetic);
        tags.extend((grid && asked.oldstyle).then_some(*b"lnum"));
        let tags = tags.into_iter();
        tags.map(|tag| Feature::new(Tag::from_bytes(&tag), 1, ..)).collect()
    };
    let faces: Vec<_> = chain.iter().map(|a| Face::parse(a.bytes, 0).ok()).collect();
    let mut ready: BTreeMap<usize, rustybuzz::Face> = BTreeMap::new();
    let mut out = Vec::new();
    for run in runs(text) {
        let mut pieces: Vec<(usize, Range<usize>)> =
            by_script(text, run.range).into_iter().flat_map(|piece| by_font(text, piece, &faces)).collect();
        if run.backwards == Some(true) {
            pieces.reverse();
        }
        for (font, piece) in pieces {
            let asked = &chain[font];
            let face = match ready.entry(font) {
                Entry::Occupied(face) => face.into_mut(),
                Entry::Vacant(free) => {
                    let Some(face) = rustybuzz::Face::from_slice(asked.bytes, 0) else { continue };
                    free.insert(face)
                }
            };
            shape_piece(face, asked, &wished(asked), text, piece, run.backwards, &mut out);
        }
    }
    out
}

/// Where the font changes in a piece of text, with the number of the font in the chain.
pub fn by_font(text: &str, range: Range<usize>, faces: &[Option<Face>]) -> Vec<(usize, Range<usize>)> {
    let has = |n: usize, c: char| faces[n].as_ref().is_some_and(|face| face.glyph_index(c).is_some());
    let mut out: Vec<(usize, Range<usize>)> = Vec::new();
    let mut rest = text[range.clone()].char_indices().peekable();
    while let Some((at, c)) = rest.next() {
        let (from, mut to, mut letter) = (range.start + at, range.start + at + c.len_utf8(), vec![c]);
        // What makes no mark by itself, as a joiner, goes with its letter too.
        while let Some((next, m)) =
            rest.next_if(|(_, m)| is_combining_mark(*m) || !m.is_whitespace() && !m.is_control() && !is_seen(*m))
        {
            to = range.start + next + m.len_utf8();
            letter.push(m);
        }
        let before = out.last().map(|(font, _)| *font);
        let font = if !is_seen(c) {
            // A part of a family for one script may have no space.
            let same = before.filter(|n| !c.is_whitespace() || has(*n, c));
            same.or_else(|| (0..faces.len()).find(|n| has(*n, c))).or(before).unwrap_or(0)
        } else {
            let whole = |n: &usize| letter.iter().all(|c| !is_seen(*c) || has(*n, *c));
            let all = || 0..faces.len();
            all().find(whole).or_else(|| all().find(|n| has(*n, c))).unwrap_or(0)
        };
        match out.last_mut() {
            Some((last, piece)) if *last == font => piece.end = to,
            _ => out.push((font, from..to)),
        }
    }
    out
}

fn shape_piece(
    face: &rustybuzz::Face,
    asked: &Asked,
    features: &[Feature],
    text: &str,
    piece: Range<usize>,
    backwards: Option<bool>,
    out: &mut Vec<Glyph>,
) {
    let units = asked.units;
    let mut buffer = rustybuzz::UnicodeBuffer::new();
    buffer.push_str(&text[piece.clone()]);
    if let Some(backwards) = backwards {
        use rustybuzz::Direction::{LeftToRight, RightToLeft};
        buffer.set_direction(if backwards { RightToLeft } else { LeftToRight });
        if backwards {
            // A mark stands before its letter then, and each glyph says its own characters.
            buffer.set_cluster_level(rustybuzz::BufferClusterLevel::Characters);
        }
    }
    buffer.guess_segment_properties();
    let letterless = text[piece.clone()].chars().all(|c| matches!(c.script(), Script::Common | Script::Inherited));
    if letterless && text.is_ascii() {
        // Figures are of no script, and for none most fonts have no features.
        buffer.set_script(rustybuzz::script::LATIN);
    }
    let shaped = rustybuzz::shape(face, features, buffer);
    let (infos, places) = (shaped.glyph_infos(), shaped.glyph_positions());
    let mut starts: Vec<usize> = infos.iter().map(|i| i.cluster as usize).collect();
    starts.sort_unstable();
    starts.dedup();
    let joined = joins(&text[piece.clone()]);
    out.extend(infos.iter().zip(places).map(|(info, place)| {
        let from = info.cluster as usize;
        let to = starts.iter().copied().find(|s| *s > from).unwrap_or(piece.len());
        Glyph {
            font: asked.number,
            // A font has at most 65,535 glyphs (OpenType `maxp`).
            id: info.glyph_id as u16,
            advance: f64::from(place.x_advance) / units,
            dx: f64::from(place.x_offset) / units,
            dy: f64::from(place.y_offset) / units,
            cluster: piece.start + from..piece.start + to,
            joined,
            backwards: backwards == Some(true),
        }
    }));
}

#[cfg(test)]
mod tests;
