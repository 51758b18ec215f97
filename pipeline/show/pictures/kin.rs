//! Products beside each other: this one and those that go with it, or the members of a set, each as it looks from outside.

use super::PictureContext;
pub use super::open_files::Kin;
use super::open_files::{Form, Front, Seen, sticker};
use base::model::product::CoverDesign;
use base::model::structure::Part;
use base::model::{Artifact, Facts, Inspected, Kind, Product, Rect, Sha, Size};
use draw::cover::{self, Side};
use inspect::Reader;
use inspect::pdf::drawing::Unopened;
use serde_json::{Value as Json, json};

/// What a product shows of itself, the first of these that it has.
pub const FIRST: [Kind; 4] = [Kind::Notebook, Kind::Covers, Kind::Sheet, Kind::Sticker];

impl Kin {
    /// A product by one of its files; `None` where nothing of that can be seen.
    pub fn of(product: &Product, file: &Artifact, read: &Inspected, reader: &dyn Reader) -> Option<Kin> {
        let cover = match file.kind {
            Kind::Notebook => {
                product.notebook.as_ref().filter(|n| n.finished.is_none() && n.parts.has(Part::Cover)).map(|n| &n.cover)
            }
            Kind::Covers => product.covers.first(),
            _ => None,
        };
        let book = |cover: &base::model::product::Cover| Form::Book {
            whole: matches!(cover.design, CoverDesign::Art(_)),
            corner: product.style.corner.pt(),
            spine: Side::of(product.page.coil),
        };
        let (form, seen) = match &read.facts {
            Facts::Pdf(facts) => {
                let page = facts.pages.first()?;
                let look = Sha::of_value(&(reader.fingerprints(&file.bytes).first()?.digest, page.frame())).ok();
                let front = Front { size: page.size, look, pdf: Unopened::new(file.bytes.clone()) };
                (cover.map_or(Form::Sheet, book), Seen::Page(front))
            }
            Facts::Png(_) => (Form::Loose, Seen::Picture(sticker(file, &read.facts)?, file.bytes.sha256())),
            _ => return None,
        };
        Some(Kin { name: product.name.clone(), form, seen })
    }

    /// Its size as it lies there: a closed book without the desk round it.
    fn laid(&self) -> Size {
        match self.form {
            Form::Book { whole, corner, .. } => laid(self.size(), whole, corner),
            _ => self.size(),
        }
    }
}

/// The size of a closed book without the desk round it, of which there is none where art fills the page.
pub fn laid(page: Size, whole: bool, corner: f64) -> Size {
    let outline = if whole { Rect::page(page) } else { cover::outline(page, corner).0 };
    Size::new(outline.w, outline.h)
}

/// What layouts know of products that belong together.
pub fn seen(context: &PictureContext) -> Json {
    let kin = &context.open_files.kin;
    let shown: Vec<Json> = kin
        .iter()
        .enumerate()
        .map(|(i, one)| {
            let (size, lies) = (one.size(), one.laid());
            let (form, whole, corner, spine) = match one.form {
                Form::Book { whole, corner, spine } => ("book", whole, Some(corner), Some(spine.name())),
                Form::Sheet => ("sheet", false, None, None),
                Form::Loose => ("loose", false, None, None),
            };
            let href = format!("kin/{}", i + 1);
            json!({ "href": href, "name": one.name, "w": size.w, "h": size.h, "wide": lies.w, "high": lies.h, "form": form, "whole": whole, "corner": corner, "spine": spine })
        })
        .collect();
    let largest = |of: fn(Size) -> f64| kin.iter().map(|one| of(one.laid())).fold(0.0, f64::max);
    json!({ "shown": shown, "wide": largest(|s| s.w), "high": largest(|s| s.h) })
}
