//! What a page uses: pictures and the size at which they come out, and forms, each of which is worked through once.

use super::extent::{Box4, Matrix};
use super::sketch::{MAX_MARKS, Sketch};
use super::state::State;
use super::{Reader, mark, unpack};
use crate::inspect::pdf::items;
use crate::model::facts::{ImageFacts, PageFacts};
use hayro_syntax::object::{Array, Dict, MaybeRef, Object, ObjectIdentifier, Stream};
use hayro_syntax::page::Resources;
use hayro_syntax::xref::XRef;
use std::rc::Rc;

/// The deepest nesting of forms.
const MAX_DEPTH: usize = 12;

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
        let mut placed = Sketch::default();
        placed.take(&inner, matrix, clip);
        placed.frame = clip;
        Some(Some(placed))
    }
}
