//! What pages draw: how much of it, where, in which fonts, and how large the pictures come out.
//!
//! Only as much of a content stream is understood as the checks need: the transformation, the extent of paths, where
//! text begins, which fonts and pictures are used. A form is worked through once, whatever the number of its uses.

mod extent;
mod paint;
mod sketch;
mod tabs;
mod text;

use super::resources::{Key, Known};
use super::unpack;
use crate::model::facts::{FontFacts, ImageFacts, PageFacts};
use crate::model::units::Rgb;
use extent::{Box4, Matrix, Path};
use hayro_syntax::content::UntypedIter;
use hayro_syntax::object::{Array, Dict, MaybeRef, Object, ObjectIdentifier, Stream};
use hayro_syntax::page::{Page, Resources};
use hayro_syntax::xref::XRef;
use sketch::{MAX_MARKS, Sketch};
use std::collections::{BTreeSet, HashMap};
use std::rc::Rc;

/// The most operators of all streams together that are looked at; beyond, pages stay uncounted.
const MAX_OPERATORS: u64 = 40_000_000;
/// The deepest nesting of forms.
const MAX_DEPTH: usize = 12;

/// Works through the pages and completes the facts of pages, links, fonts and pictures.
pub fn read(
    pages: &[Page],
    facts: &mut [PageFacts],
    known: &Known,
    fonts: &mut [FontFacts],
    images: &mut [ImageFacts],
) {
    let mut reader = Reader { known, forms: HashMap::new(), left: MAX_OPERATORS };
    let mut used: BTreeSet<usize> = BTreeSet::new();
    let mut complete = true;
    for (page, facts) in pages.iter().zip(facts) {
        let Some(sketch) = reader.page(page) else {
            complete = false;
            continue;
        };
        facts.drawn = Some(sketch.drawn);
        used.extend(&sketch.fonts);
        for (font, missing) in &sketch.missing {
            fonts[*font].missing_glyphs += missing;
        }
        place_images(&sketch, facts, images);
        tabs::under_links(&sketch, facts, images);
        text::place(sketch, facts);
    }
    for (i, font) in fonts.iter_mut().enumerate() {
        // What could not be looked through may use any font.
        font.used = !complete || used.contains(&i);
    }
}

/// The size at which pictures come out.
fn place_images(sketch: &Sketch, facts: &PageFacts, images: &mut [ImageFacts]) {
    let [x0, y0, x1, y1] = facts.crop_box;
    let page = Box4 { x0, y0, x1, y1 };
    for (image, matrix) in &sketch.images {
        let image = &mut images[*image];
        let (w, h) = matrix.lengths();
        if w <= 0.0 || h <= 0.0 {
            continue;
        }
        let unit = if facts.user_unit > 0.0 { facts.user_unit } else { 1.0 };
        let dpi = (f64::from(image.width) / w).min(f64::from(image.height) / h) * 72.0 / unit;
        image.dpi = Some(image.dpi.map_or(dpi, |d| d.min(dpi)));
        let cover = matrix.unit_square().intersection(page).area() / page.area().max(1.0);
        image.cover = Some(image.cover.map_or(cover, |c| c.max(cover)));
    }
}

/// What must be remembered between pages.
struct Reader<'k> {
    known: &'k Known,
    /// Forms already worked through; `None` while one is being worked through, and for what is no form.
    forms: HashMap<ObjectIdentifier, Option<Rc<Sketch>>>,
    left: u64,
}

/// The part of the graphics state that matters here.
#[derive(Clone, Copy)]
struct State {
    matrix: Matrix,
    clip: Option<Box4>,
    line_width: f64,
    font: Option<usize>,
    /// Whether codes number the glyphs of the font.
    numbers_glyphs: bool,
    size: f64,
    /// `Tc`, `Tw`, `Tz` as a factor, `Ts`.
    letter_gap: f64,
    word_gap: f64,
    stretch: f64,
    rise: f64,
    /// Whether text leaves no mark (`Tr` 3 and 7).
    unseen: bool,
    /// The colour of fills, where it is plain RGB or grey.
    colour: Option<Rgb>,
    /// How many numbers of `sc` make such a colour: 1 or 3, or 0 in other spaces.
    components: usize,
    /// Whether fills cover what lies beneath.
    opaque: bool,
}

impl State {
    const START: State = State {
        matrix: Matrix::IDENTITY,
        clip: None,
        line_width: 1.0,
        font: None,
        numbers_glyphs: false,
        size: 0.0,
        letter_gap: 0.0,
        word_gap: 0.0,
        stretch: 1.0,
        rise: 0.0,
        unseen: false,
        colour: Some(Rgb::BLACK),
        components: 1,
        opaque: true,
    };
}

impl Reader<'_> {
    fn page<'a>(&mut self, page: &Page<'a>) -> Option<Sketch> {
        let bytes = unpack::contents(page)?;
        self.stream(&bytes, page.resources(), page.xref(), 0)
    }

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

    /// A `Do`: a picture or a form.
    fn use_object<'a>(
        &mut self,
        sketch: &mut Sketch,
        state: &State,
        resources: &Resources<'a>,
        name: &[u8],
        xref: &'a XRef,
        depth: usize,
    ) -> Option<()> {
        let Some(MaybeRef::Ref(r)) = resources.x_objects.get_raw::<Object>(name) else { return Some(()) };
        let id: ObjectIdentifier = r.into();
        if let Some((image, pixels, masked)) = self.known.images.get(&id) {
            sketch.drawn.images += 1;
            sketch.drawn.masks += u64::from(*masked);
            sketch.drawn.pixels = sketch.drawn.pixels.saturating_add(*pixels);
            if sketch.images.len() < MAX_MARKS {
                sketch.images.push((*image, state.matrix));
            }
            mark(sketch, state, state.matrix.unit_square());
            let extent = state.matrix.unit_square();
            sketch.ground(state.clip.map_or(extent, |c| c.intersection(extent)), None);
            return Some(());
        }
        if !self.forms.contains_key(&id) {
            // Whoever uses this form while it is worked through (a form within itself) finds nothing.
            self.forms.insert(id, None);
            if depth < MAX_DEPTH
                && let Some(Object::Stream(form)) = xref.get::<Object>(id)
            {
                let drawn = self.form(&form, resources, xref, depth)?;
                self.forms.insert(id, drawn.map(Rc::new));
            }
        }
        if let Some(Some(form)) = self.forms.get(&id).cloned() {
            sketch.take(&form, state.matrix, state.clip);
            if let (Some(frame), true) = (form.frame, sketch.forms.len() < MAX_MARKS) {
                let there = state.matrix.apply_box(frame);
                sketch.forms.push((state.clip.map_or(there, |c| there.intersection(c)), state.matrix.lengths().0));
            }
        }
        Some(())
    }

    /// Works through a form; its own matrix and box are applied.
    fn form<'a>(
        &mut self,
        form: &Stream<'a>,
        outer: &Resources<'a>,
        xref: &'a XRef,
        depth: usize,
    ) -> Option<Option<Sketch>> {
        let dict = form.dict();
        let Some(bytes) = unpack::stream(form) else { return Some(None) };
        let resources = dict.get::<Dict>("Resources").map_or_else(|| outer.clone(), Resources::new);
        let inner = self.stream(&bytes, &resources, xref, depth + 1)?;
        let numbers = |key: &str| -> Vec<f64> {
            let array = dict.get::<Array>(key);
            let numbers = array.map(|a| super::items(&a, xref).filter_map(Object::into_number).collect::<Vec<_>>());
            numbers.unwrap_or_default().iter().map(|n| n.as_f64()).collect()
        };
        let matrix = match numbers("Matrix").as_slice() {
            &[a, b, c, d, e, f] => Matrix([a, b, c, d, e, f]),
            _ => Matrix::IDENTITY,
        };
        let clip = match numbers("BBox").as_slice() {
            &[x0, y0, x1, y1] => {
                let shown = Box4 { x0: x0.min(x1), y0: y0.min(y1), x1: x0.max(x1), y1: y0.max(y1) };
                Some(matrix.apply_box(shown))
            }
            _ => None,
        };
        let mut placed = Sketch::default();
        placed.take(&inner, matrix, clip);
        placed.frame = clip;
        Some(Some(placed))
    }
}

/// Notes a mark, as far as the clip lets it show.
fn mark(sketch: &mut Sketch, state: &State, extent: Box4) {
    sketch.mark(state.clip.map_or(extent, |c| c.intersection(extent)));
}
