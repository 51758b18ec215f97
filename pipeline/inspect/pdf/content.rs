//! What pages draw: how much of it, where, in which fonts, and how large the pictures come out.
//!
//! Only as much of a content stream is understood as the checks need: the transformation, the extent of paths, where
//! text begins, which fonts and pictures are used. A form is worked through once, whatever the number of its uses.

mod extent;
mod sketch;

use super::resources::{Key, Known};
use super::unpack;
use crate::model::facts::{FontFacts, ImageFacts, PageFacts};
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
/// A mark that covers more of the page than this is a ground, not something to tap on.
const GROUND: f64 = 0.6;

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
        under_links(&sketch, facts);
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

/// Whether anything is drawn where a finger is to tap.
fn under_links(sketch: &Sketch, facts: &mut PageFacts) {
    if sketch.crowded {
        return;
    }
    let [x0, y0, x1, y1] = facts.crop_box;
    let whole = Box4 { x0, y0, x1, y1 }.area();
    let marks: Vec<Box4> = sketch.marks.iter().copied().filter(|m| m.area() < whole * GROUND).collect();
    for link in &mut facts.links {
        let (left, top) = (link.rect.x + x0, y1 - link.rect.y);
        let area = Box4 { x0: left, y0: top - link.rect.h, x1: left + link.rect.w, y1: top };
        // A picture over the whole page is ground and may show anything: the tap area may well be painted in it.
        let picture = sketch.images.iter().any(|(_, matrix)| matrix.unit_square().touches(area));
        link.over_marks = Some(picture || marks.iter().any(|m| m.touches(area)));
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
    two_byte: bool,
    size: f64,
}

impl Reader<'_> {
    fn page<'a>(&mut self, page: &Page<'a>) -> Option<Sketch> {
        let bytes = unpack::contents(page)?;
        self.stream(&bytes, page.resources(), page.xref(), 0)
    }

    /// Works through a content stream; `None` when the budget is spent.
    fn stream<'a>(&mut self, bytes: &[u8], resources: &Resources<'a>, xref: &'a XRef, depth: usize) -> Option<Sketch> {
        let mut sketch = Sketch::default();
        let mut state =
            State { matrix: Matrix::IDENTITY, clip: None, line_width: 1.0, font: None, two_byte: false, size: 0.0 };
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
                    for pair in n[..given & !1].chunks_exact(2) {
                        let (x, y) = state.matrix.apply(pair[0], pair[1]);
                        path.extent.add(x, y);
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
                    path.extent.add(there.x0, there.y0);
                    path.extent.add(there.x1, there.y1);
                }
                b"W" | b"W*" => path.clips = true,
                b"f" | b"F" | b"f*" | b"B" | b"B*" | b"b" | b"b*" | b"S" | b"s" | b"n" => {
                    if operator != b"n" && path.extent.x0.is_finite() {
                        let (w, h) = state.matrix.lengths();
                        let pen = if operator[0] == b'f' || operator[0] == b'F' { 0.0 } else { state.line_width / 2.0 };
                        mark(&mut sketch, &state, path.extent.grown(pen * w.max(h)));
                    }
                    if path.clips {
                        state.clip = Some(state.clip.map_or(path.extent, |c| c.intersection(path.extent)));
                    }
                    path = Path::EMPTY;
                }
                b"sh" => mark(&mut sketch, &state, state.clip.unwrap_or(Box4::NOTHING)),
                b"BI" => {
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
                        state.two_byte = found.is_some_and(|(_, two)| *two);
                    }
                }
                b"TL" => leading = n[0],
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
                    if operator == b"'" || operator == b"\"" {
                        line = Matrix([1.0, 0.0, 0.0, 1.0, 0.0, -leading]).then(line);
                        text = line;
                    }
                    if let Some(shown) = last() {
                        text = show(&mut sketch, &state, text, shown);
                    }
                }
                _ => {}
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
        Some(Some(placed))
    }
}

/// Notes a mark, as far as the clip lets it show.
fn mark(sketch: &mut Sketch, state: &State, extent: Box4) {
    sketch.mark(state.clip.map_or(extent, |c| c.intersection(extent)));
}

/// Notes a shown text; gives the place after it, reckoning half an em a glyph.
fn show(sketch: &mut Sketch, state: &State, text: Matrix, shown: &Object) -> Matrix {
    let mut codes = 0;
    let mut missing = 0;
    let mut count = |bytes: &[u8]| {
        if state.two_byte {
            codes += bytes.len() as u64 / 2;
            missing += bytes.chunks_exact(2).filter(|c| *c == [0, 0]).count() as u64;
        } else {
            codes += bytes.len() as u64;
        }
    };
    match shown {
        Object::String(s) => count(s.as_bytes()),
        Object::Array(parts) => {
            for part in parts.raw_iter() {
                if let MaybeRef::NotRef(Object::String(s)) = part {
                    count(s.as_bytes());
                }
            }
        }
        _ => {}
    }
    if codes == 0 {
        return text;
    }
    sketch.drawn.glyphs += codes;
    if let Some(font) = state.font {
        sketch.fonts.insert(font);
        if missing > 0 {
            sketch.miss(font, missing);
        }
    }
    let width = codes as f64 * state.size * 0.5;
    let line = Box4 { x0: 0.0, y0: -0.2 * state.size, x1: width, y1: state.size };
    let there = text.then(state.matrix).apply_box(line);
    mark(sketch, state, there);
    Matrix([1.0, 0.0, 0.0, 1.0, width, 0.0]).then(text)
}
