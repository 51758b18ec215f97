//! Texts: where they begin and end, and what they say.

use super::super::glyphs::Metrics;
use super::super::resources::Known;
use super::extent::{Box4, Matrix};
use super::sketch::{MAX_MARKS, Sketch, Text};
use super::{State, mark};
use base::model::facts::{PageFacts, TextShown};
use base::model::geometry::Rect;
use base::model::units::Rgb;
use hayro_syntax::object::{MaybeRef, Object};

/// Height of capitals in ems, near enough for any usual font.
const CAPITALS: f64 = 0.7;

/// A line under way.
struct Line<'m> {
    metrics: &'m Metrics,
    state: State,
    /// How far the pen has come.
    pen: f64,
    /// Where the first and the last glyph that is no space begin and end.
    ink: Option<(f64, f64)>,
    text: String,
    codes: u64,
    missing: u64,
}

impl Line<'_> {
    fn string(&mut self, bytes: &[u8]) {
        if self.metrics.two_byte {
            for pair in bytes.chunks_exact(2) {
                self.code(u32::from(pair[0]) << 8 | u32::from(pair[1]));
            }
        } else {
            for byte in bytes {
                self.code((*byte).into());
            }
        }
    }

    fn code(&mut self, code: u32) {
        let state = self.state;
        self.codes += 1;
        self.missing += u64::from(state.numbers_glyphs && code == 0);
        let before = self.text.len();
        self.metrics.tell(code, &mut self.text);
        let space = self.text[before..].chars().all(char::is_whitespace) && self.text.len() > before;
        let end = self.pen + self.metrics.width(code) * state.size * state.stretch;
        if !space {
            self.ink = Some((self.ink.map_or(self.pen, |(start, _)| start), end));
        }
        let word = if code == 32 && !self.metrics.two_byte { state.word_gap } else { 0.0 };
        self.pen = end + (state.letter_gap + word) * state.stretch;
    }
}

/// Notes a shown text, and gives the place after it.
pub fn show(sketch: &mut Sketch, state: &State, known: &Known, text: Matrix, shown: &Object) -> Matrix {
    let unknown = Metrics::default();
    let metrics = state.font.and_then(|font| known.metrics.get(font)).unwrap_or(&unknown);
    let mut line = Line { metrics, state: *state, pen: 0.0, ink: None, text: String::new(), codes: 0, missing: 0 };
    match shown {
        Object::String(s) => line.string(s.as_bytes()),
        Object::Array(parts) => {
            for part in parts.raw_iter() {
                match part {
                    MaybeRef::NotRef(Object::String(s)) => line.string(s.as_bytes()),
                    MaybeRef::NotRef(Object::Number(n)) => {
                        line.pen -= n.as_f64() / 1000.0 * state.size * state.stretch;
                    }
                    _ => {}
                }
            }
        }
        _ => {}
    }
    if line.codes == 0 {
        return text;
    }
    sketch.drawn.glyphs += line.codes;
    if let Some(font) = state.font {
        sketch.fonts.insert(font);
        if line.missing > 0 {
            sketch.miss(font, line.missing);
        }
    }
    let whole = text.then(state.matrix);
    let (size, low) = (state.size, state.rise);
    let extent = Box4 { x0: 0.0, y0: low - 0.2 * size, x1: line.pen, y1: low + size };
    mark(sketch, state, whole.apply_box(extent));
    if let (Some((start, end)), false) = (line.ink, state.unseen) {
        let area = whole.apply_box(Box4 { x0: start, y0: low, x1: end, y1: low + CAPITALS * size });
        let seen = state.clip.map_or(area, |c| c.intersection(area));
        if seen.area() > 0.0 {
            let level = whole.is_level() && size > 0.0;
            let (colour, above) = (state.fill(), sketch.grounds.len());
            sketch.text(Text { area, text: line.text.trim().into(), exact: metrics.exact, level, colour, above });
        }
    }
    Matrix([1.0, 0.0, 0.0, 1.0, line.pen, 0.0]).then(text)
}

/// Pages on which more pairs of texts and grounds would have to be held together are left alone.
const MAX_PAIRS: usize = 2_000_000;

/// Puts the texts of a page among its facts, each with the colour of what lies beneath it.
pub fn place(sketch: Sketch, facts: &mut PageFacts) {
    let [x0, _, _, y1] = facts.crop_box;
    let Sketch { texts, grounds, .. } = sketch;
    let known = texts.len() * grounds.len() <= MAX_PAIRS && grounds.len() < MAX_MARKS;
    // The last ground that a text touches counts, if the whole of the text lies on it; paper is white.
    let beneath = |text: &Text| {
        let laid = &grounds[..text.above.min(grounds.len())];
        match laid.iter().rev().find(|(area, _)| area.intersection(text.area).area() > 0.0) {
            Some((area, colour)) => colour.filter(|_| area.grown(0.5).union(text.area) == area.grown(0.5)),
            None => Some(Rgb::WHITE),
        }
    };
    let shown = |t: Text| TextShown {
        area: Rect::new(t.area.x0 - x0, y1 - t.area.y1, t.area.x1 - t.area.x0, t.area.y1 - t.area.y0),
        exact: t.exact,
        level: t.level,
        colours: t.colour.filter(|_| known).and_then(|colour| Some((colour, beneath(&t)?))),
        text: t.text,
    };
    facts.texts = texts.into_iter().map(shown).collect();
}
