//! What pages draw: how much of it, where, in which fonts, and how large the pictures come out.
//!
//! Only as much of a content stream is understood as the checks need: the transformation, the extent of paths, where
//! text begins, which fonts and pictures are used. A form is worked through once, whatever the number of its uses.

mod extent;
mod objects;
mod paint;
mod sketch;
mod state;
mod tabs;
mod text;

use super::resources::{Key, Known};
use super::unpack::{self, Fault, Unpacked};
use base::model::facts::{FontFacts, ImageFacts, PageFacts};
use base::model::held_once::HeldOnce;
use extent::{Box4, Matrix, Path};
use hayro_syntax::content::UntypedIter;
use hayro_syntax::object::{Dict, MaybeRef, Object, ObjectIdentifier};
use hayro_syntax::page::{Page, Resources};
use hayro_syntax::xref::XRef;
use sketch::Sketch;
use state::State;
use std::collections::{BTreeSet, HashMap};
use std::rc::Rc;

/// The most operators of all streams together that are looked at; beyond, pages stay uncounted.
const MAX_OPERATORS: u64 = 40_000_000;

/// Works through the pages and completes the facts of pages, links, fonts and pictures.
pub fn read(
    pages: &[&Page],
    facts: &mut [PageFacts],
    known: &Known,
    fonts: &mut [FontFacts],
    images: &mut [ImageFacts],
) {
    let mut reader = Reader { known, forms: HashMap::new(), left: MAX_OPERATORS };
    let mut used: BTreeSet<usize> = BTreeSet::new();
    let (mut complete, mut held) = (true, HeldOnce::default());
    for (page, facts) in pages.iter().zip(facts) {
        let unpacked = unpack::contents(page);
        facts.broken.extend(told("its drawing instructions are", &unpacked));
        facts.gaps = unpacked.fault.is_some();
        let bytes = unpacked.bytes.as_deref();
        let Some(sketch) = bytes.and_then(|b| reader.stream(b, page.resources(), page.xref(), 0)) else {
            complete = false;
            continue;
        };
        facts.drawn = Some(sketch.drawn);
        used.extend(&sketch.fonts);
        for (font, missing) in &sketch.missing {
            fonts[*font].missing_glyphs += missing;
        }
        objects::place(&sketch, facts, images);
        objects::damage(&sketch, facts, images);
        tabs::under_links(&sketch, facts, images);
        text::place(sketch, facts);
        facts.texts.iter_mut().for_each(|shown| held.take(&mut shown.text));
        facts.texts.shrink_to_fit();
    }
    for (i, font) in fonts.iter_mut().enumerate() {
        // What could not be looked through may use any font.
        font.used = !complete || used.contains(&i);
    }
}

/// What must be remembered between pages.
struct Reader<'k> {
    known: &'k Known,
    /// Forms already worked through; `None` while one is being worked through, and for what is no stream.
    forms: HashMap<ObjectIdentifier, Option<Rc<Sketch>>>,
    left: u64,
}

impl Reader<'_> {
    /// Works through a content stream; `None` when the budget is spent.
    fn stream<'a>(&mut self, bytes: &[u8], resources: &Resources<'a>, xref: &'a XRef, depth: usize) -> Option<Sketch> {
        let mut sketch = Sketch::default();
        let mut state = State::START;
        let mut saved: Vec<State> = Vec::new();
        let mut path = Path::EMPTY;
        let mut text = Matrix::IDENTITY;
        let mut line = Matrix::IDENTITY;
        let mut leading = 0.0;
        let mut instructions = UntypedIter::new(bytes);
        while let Some(instruction) = instructions.next() {
            self.left = self.left.checked_sub(1)?;
            sketch.drawn.operators += 1;
            let operator: &[u8] = instruction.operator;
            let mut n = [0.0; 6];
            let mut given = 0;
            for object in instruction.operands() {
                if let (Object::Number(v), true) = (object, given < 6) {
                    n[given] = v.as_f64();
                    given += 1;
                }
            }
            let last = || instruction.operands().last();
            match operator {
                b"q" if saved.len() < 1024 => saved.push(state),
                b"Q" => state = saved.pop().unwrap_or(state),
                b"cm" => state.matrix = Matrix(n).then(state.matrix),
                b"w" => state.line_width = n[0],
                b"m" | b"l" | b"c" | b"v" | b"y" => {
                    if operator == b"m" {
                        path.lift();
                    }
                    for pair in n[..given & !1].chunks_exact(2) {
                        let (x, y) = state.matrix.apply(pair[0], pair[1]);
                        path.add(x, y);
                    }
                }
                b"re" => {
                    let box4 = Box4 {
                        x0: n[0].min(n[0] + n[2]),
                        y0: n[1].min(n[1] + n[3]),
                        x1: n[0].max(n[0] + n[2]),
                        y1: n[1].max(n[1] + n[3]),
                    };
                    let there = state.matrix.apply_box(box4);
                    path.rectangle(there);
                }
                b"W" | b"W*" => path.clips = true,
                b"f" | b"F" | b"f*" | b"B" | b"B*" | b"b" | b"b*" | b"S" | b"s" | b"n" => {
                    if operator != b"n" && path.extent.x0.is_finite() {
                        let (w, h) = state.matrix.lengths();
                        let pen = if operator[0] == b'f' || operator[0] == b'F' { 0.0 } else { state.line_width / 2.0 };
                        mark(&mut sketch, &state, path.extent.grown(pen * w.max(h)));
                        path.lift();
                        if !matches!(operator, b"S" | b"s") {
                            let colour = state.fill().filter(|_| path.is_solid());
                            sketch.ground(state.clip.map_or(path.extent, |c| c.intersection(path.extent)), colour);
                        }
                        for part in &path.parts {
                            sketch.shape(state.clip.map_or(*part, |c| c.intersection(*part)));
                        }
                    }
                    if path.clips {
                        state.clip = Some(state.clip.map_or(path.extent, |c| c.intersection(path.extent)));
                    }
                    path = Path::EMPTY;
                }
                b"sh" => {
                    let extent = state.clip.unwrap_or(Box4::NOTHING);
                    mark(&mut sketch, &state, extent);
                    sketch.ground(extent, None);
                }
                b"BI" => {
                    sketch.ground(state.matrix.unit_square(), None);
                    sketch.drawn.images += 1;
                    mark(&mut sketch, &state, state.matrix.unit_square());
                    Self::written(&mut sketch, last(), xref);
                }
                b"Do" => {
                    if let Some(Object::Name(name)) = last() {
                        self.use_object(&mut sketch, &state, resources, name, xref, depth)?;
                    }
                }
                b"BT" => (text, line) = (Matrix::IDENTITY, Matrix::IDENTITY),
                b"Tf" => {
                    state.size = n[0];
                    if let Some(Object::Name(name)) = instruction.operands().next() {
                        let key = resources.fonts.get_raw::<Object>(&name[..]).and_then(|raw| Key::of(&raw));
                        let found = key.and_then(|key| self.known.fonts.get(&key));
                        state.font = found.map(|(font, _)| *font);
                        state.numbers_glyphs = found.is_some_and(|(_, numbers)| *numbers);
                    }
                }
                b"TL" => leading = n[0],
                b"Tc" => state.letter_gap = n[0],
                b"Tw" => state.word_gap = n[0],
                b"Tz" => state.stretch = n[0] / 100.0,
                b"Ts" => state.rise = n[0],
                b"Tr" => state.unseen = n[0] == 3.0 || n[0] == 7.0,
                b"Tm" => (text, line) = (Matrix(n), Matrix(n)),
                b"Td" | b"TD" | b"T*" => {
                    if operator == b"TD" {
                        leading = -n[1];
                    }
                    let (x, y) = if operator == b"T*" { (0.0, -leading) } else { (n[0], n[1]) };
                    line = Matrix([1.0, 0.0, 0.0, 1.0, x, y]).then(line);
                    text = line;
                }
                b"Tj" | b"TJ" | b"'" | b"\"" => {
                    if operator == b"\"" && given >= 2 {
                        (state.word_gap, state.letter_gap) = (n[0], n[1]);
                    }
                    if operator == b"'" || operator == b"\"" {
                        line = Matrix([1.0, 0.0, 0.0, 1.0, 0.0, -leading]).then(line);
                        text = line;
                    }
                    if let Some(shown) = last() {
                        text = text::show(&mut sketch, &state, self.known, text, shown);
                    }
                }
                _ => {
                    let name = match last() {
                        Some(Object::Name(name)) => Some(name),
                        _ => None,
                    };
                    if let Some(name) = &name {
                        let used = within(operator, name, resources);
                        self.use_within(&mut sketch, used, resources, xref, depth)?;
                    }
                    paint::operator(
                        operator,
                        (&n, given),
                        name.as_ref().map(|n| &n[..]),
                        resources,
                        &mut state,
                        &mut sketch,
                    );
                }
            }
        }
        Some(sketch)
    }
}

/// The pattern or the mask that an operator names.
fn within<'a>(operator: &[u8], name: &[u8], resources: &Resources<'a>) -> Option<MaybeRef<Object<'a>>> {
    match operator {
        b"scn" | b"SCN" => resources.patterns.get_raw::<Object>(name),
        b"gs" => resources.ext_g_states.get::<Dict>(name)?.get::<Dict>("SMask")?.get_raw::<Object>("G"),
        _ => None,
    }
}

/// What is wrong with instructions, in words.
fn told(whose: &str, unpacked: &Unpacked) -> Option<String> {
    let how = match (unpacked.fault?, &unpacked.bytes) {
        (_, None) => "damaged: they do not unpack".to_owned(),
        (Fault::Short, Some(bytes)) => format!("cut short after {} bytes", bytes.len()),
        (Fault::Damaged, Some(bytes)) => format!("damaged after {} bytes", bytes.len()),
    };
    Some(format!("{whose} {how}"))
}

/// Notes a mark, as far as the clip lets it show.
fn mark(sketch: &mut Sketch, state: &State, extent: Box4) {
    sketch.mark(state.clip.map_or(extent, |c| c.intersection(extent)));
}
