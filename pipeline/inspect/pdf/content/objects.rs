//! What a page uses: pictures and the size at which they come out, and forms, each of which is worked through once.

use super::extent::{Box4, Matrix};
use super::sketch::{Damage, MAX_MARKS, Sketch};
use super::state::State;
use super::{Reader, mark, told, unpack};
use crate::pdf::pictures::{bits, pixels, plain_components};
use crate::pdf::sound;
use crate::pdf::sound::Promise;
use crate::pdf::{items, name};
use base::model::facts::{ImageFacts, PageFacts};
use hayro_syntax::object::{Array, Dict, MaybeRef, Object, ObjectIdentifier, Stream};
use hayro_syntax::page::Resources;
use hayro_syntax::xref::XRef;
use std::rc::Rc;

/// The deepest nesting of forms.
const MAX_DEPTH: usize = 12;
/// The most kinds of damage that are told of a page.
const MAX_TOLD: usize = 8;

/// Notes on a page what is damaged of what it uses.
pub(super) fn damage(sketch: &Sketch, facts: &mut PageFacts, images: &[ImageFacts]) {
    let used = sketch.images.iter().map(|(image, _)| image).chain(&sketch.within);
    let Damage { instructions, pictures } = &sketch.damage;
    facts.broken.extend(instructions.iter().take(MAX_TOLD).cloned());
    facts.broken_pictures.extend(pictures.iter().take(MAX_TOLD).cloned());
    facts.gaps =
        !(facts.broken.is_empty() && pictures.is_empty()) || used.into_iter().any(|i| images[*i].fault.is_some());
}

/// The size at which pictures come out.
pub(super) fn place(sketch: &Sketch, facts: &PageFacts, images: &mut [ImageFacts]) {
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

impl Reader<'_> {
    /// A `Do`: a picture or a form.
    pub(super) fn use_object<'a>(
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
        if let Some(form) = self.known_form(id, resources, xref, depth)? {
            sketch.take(&form, state.matrix, state.clip);
            if let (Some(frame), true) = (form.frame, sketch.forms.len() < MAX_MARKS) {
                let there = state.matrix.apply_box(frame);
                sketch.forms.push((state.clip.map_or(there, |c| there.intersection(c)), state.matrix.lengths().0));
            }
        }
        Some(())
    }

    /// A pattern or a mask: where it comes to lie is not followed, only what of it is damaged.
    pub(super) fn use_within<'a>(
        &mut self,
        sketch: &mut Sketch,
        used: Option<MaybeRef<Object<'a>>>,
        resources: &Resources<'a>,
        xref: &'a XRef,
        depth: usize,
    ) -> Option<()> {
        let Some(MaybeRef::Ref(r)) = used else { return Some(()) };
        if let Some(form) = self.known_form(r.into(), resources, xref, depth)? {
            sketch.within.extend(form.images.iter().map(|(image, _)| image));
            sketch.know(&form);
        }
        Some(())
    }

    /// What a form draws, worked through when it is first met.
    fn known_form<'a>(
        &mut self,
        id: ObjectIdentifier,
        resources: &Resources<'a>,
        xref: &'a XRef,
        depth: usize,
    ) -> Option<Option<Rc<Sketch>>> {
        if !self.forms.contains_key(&id) {
            // Whoever uses this form while it is worked through (a form within itself) finds nothing.
            self.forms.insert(id, None);
            if depth < MAX_DEPTH
                && let Some(Object::Stream(form)) = xref.get::<Object>(id)
            {
                let drawn = self.form(&form, resources, xref, depth)?;
                self.forms.insert(id, Some(Rc::new(drawn)));
            }
        }
        Some(self.forms.get(&id).cloned().flatten())
    }

    /// A picture written among the instructions.
    pub(super) fn written<'a>(sketch: &mut Sketch, picture: Option<&Object<'a>>, xref: &'a XRef) {
        let Some(Object::Stream(picture)) = picture else {
            sketch.damage.pictures.insert("has no end".to_owned());
            return;
        };
        let dict = picture.dict();
        let either = |long: &'static str, short: &'static str| if dict.contains_key(long) { long } else { short };
        let stencil = dict.get::<bool>(either("ImageMask", "IM")) == Some(true);
        let components = match name(dict, either("ColorSpace", "CS")).as_deref() {
            _ if stencil => 1,
            Some("RGB") => 3,
            Some("CMYK") => 4,
            // One of the page's own colour spaces, or one that is indexed: a component at least.
            family => family.and_then(plain_components).unwrap_or(1),
        };
        let promise = Promise {
            width: pixels(dict, either("Width", "W")),
            height: pixels(dict, either("Height", "H")),
            components,
            bits: bits(dict, either("BitsPerComponent", "BPC")),
        };
        sketch.damage.pictures.extend(sound::picture(picture, promise, xref));
    }

    /// Works through a form; its own matrix and box are applied.
    fn form<'a>(&mut self, form: &Stream<'a>, outer: &Resources<'a>, xref: &'a XRef, depth: usize) -> Option<Sketch> {
        let dict = form.dict();
        let unpacked = unpack::told(form);
        let mut placed = Sketch::default();
        placed.damage.instructions.extend(told("a part that it uses is", &unpacked));
        let Some(bytes) = unpacked.bytes else { return Some(placed) };
        let resources = dict.get::<Dict>("Resources").map_or_else(|| outer.clone(), Resources::new);
        let inner = self.stream(&bytes, &resources, xref, depth + 1)?;
        let numbers = |key: &str| -> Vec<f64> {
            let array = dict.get::<Array>(key);
            let numbers = array.map(|a| items(&a, xref).filter_map(Object::into_number).collect::<Vec<_>>());
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
        placed.take(&inner, matrix, clip);
        placed.frame = clip;
        Some(placed)
    }
}
