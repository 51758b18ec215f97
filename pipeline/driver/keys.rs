//! Keys of the cache: digests of all that a file is made of, and of nothing else, so that a change makes anew what it
//! reaches and leaves the rest alone.
//!
//! A plan is taken in as its `Debug` text, which tells every number of it; pixels and bytes, which that text leaves out,
//! are taken in beside it.

use super::bench::Bench;
use super::memory::Memory;
use base::checksum::Sum;
use base::model::Product;
use base::model::drawing::{Drawing, Shape};
use base::model::finished::FinishedPlan;
use base::model::pdf_plan::PdfPlan;
use base::model::plan::PicturePlan;
use base::model::product::{CutSheet, Date, FontFile, Sticker, StickerSource};
use plan::Made;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A key begins with the tool's own digest: another tool makes everything anew.
fn begin(what: &str) -> Sum {
    let mut sum = Sum::default();
    sum.add(&(env!("SHEAFWRIGHT_SOURCES"), what));
    sum
}

/// The fonts of a product, each by its bytes.
pub fn fonts(product: &Product) -> String {
    let mut sum = Sum::default();
    let mut add = |role: &dyn std::fmt::Debug, file: &FontFile| {
        sum.add(&(role, &file.from, file.built_in));
        sum.bytes(&file.bytes);
    };
    for (role, file) in &product.style.fonts {
        add(role, file);
    }
    for file in &product.art_fonts {
        add(&"art", file);
    }
    sum.hex()
}

impl Bench<'_> {
    /// Key of a drawn PDF.
    pub fn pdf_key(&self, path: &str, plan: &PdfPlan) -> String {
        let mut sum = begin("pdf");
        sum.add(&(path, self.about_key(), &self.font_sum));
        add_plan(&mut sum, plan, self.memory);
        sum.hex()
    }

    /// Key of a finished PDF with what is laid over it.
    pub fn finished_key(&self, path: &str, plan: &FinishedPlan) -> String {
        let FinishedPlan { from, source, facts: _, sheets, over, keep_outline, rewrite } = plan;
        let mut sum = begin("finished");
        sum.add(&(path, self.about_key(), &self.font_sum, from, sheets, keep_outline, rewrite));
        // What was read of the file follows from its bytes.
        sum.bytes(source);
        add_plan(&mut sum, over, self.memory);
        sum.hex()
    }

    /// Key of a sheet of stickers as one picture.
    pub fn picture_key(&self, path: &str, plan: &PicturePlan) -> String {
        let mut sum = begin("picture");
        sum.add(&(path, &self.product.style, &self.font_sum, self.product.stickers.optimise, plan));
        add_pixels(&mut sum, [&plan.drawing].into_iter(), self.memory);
        sum.hex()
    }

    /// Key of a sticker.
    pub fn sticker_key(&self, sticker: &Sticker) -> String {
        let mut sum = begin("sticker");
        sum.add(&(&self.product.style, &self.font_sum, self.product.stickers.optimise, sticker));
        add_source(&mut sum, &sticker.source, self.memory);
        sum.hex()
    }

    /// Key of the pictures that show all stickers.
    pub fn contact_key(&self, names: &[&str], made: &[Made], layout: (u32, usize, usize)) -> String {
        let mut sum = begin("contact");
        sum.add(&(&self.product.style, &self.font_sum, names, layout));
        for sticker in made {
            sum.add(&(sticker.size, self.memory.sum(&sticker.picture)));
        }
        sum.hex()
    }

    /// What goes into every file beside its plan, fonts and style.
    pub fn about_key(&self) -> (&str, &str, Date, bool) {
        let p = self.product;
        (&p.shop.name, &p.language, p.released, p.classic_pdf)
    }
}

/// Key of the pieces of a sheet of drawings.
pub fn cut_key(product: &Product, font_sum: &str, sheet: &CutSheet, memory: &Memory) -> String {
    let mut sum = begin("cut");
    sum.add(&(&product.style, font_sum, sheet));
    add_source(&mut sum, &sheet.source, memory);
    add_source(&mut sum, &sheet.like.source, memory);
    sum.hex()
}

/// Art of a sticker: a drawing or the name of one is told whole, a picture lacks its pixels.
fn add_source(sum: &mut Sum, source: &StickerSource, memory: &Memory) {
    if let StickerSource::Png(picture) = source {
        sum.add(&memory.sum(picture));
    }
}

fn add_plan(sum: &mut Sum, plan: &PdfPlan, memory: &Memory) {
    sum.add(plan);
    add_pixels(sum, plan.forms.iter().chain(plan.pages.iter().map(|p| &p.drawing)), memory);
}

/// Pixels of pictures and bytes of art, each once for its first use and by its number for every other.
fn add_pixels<'d>(sum: &mut Sum, drawings: impl Iterator<Item = &'d Drawing>, memory: &Memory) {
    let mut seen: BTreeMap<usize, usize> = BTreeMap::new();
    for shape in drawings.flat_map(|d| &d.shapes) {
        let address = match shape {
            Shape::Picture { picture, .. } => Arc::as_ptr(picture) as usize,
            Shape::Art { art, .. } => Arc::as_ptr(&art.pdf) as usize,
            _ => continue,
        };
        if let Some(number) = seen.get(&address) {
            sum.add(number);
            continue;
        }
        seen.insert(address, seen.len());
        match shape {
            Shape::Picture { picture, .. } => sum.add(&memory.sum(picture)),
            Shape::Art { art, .. } => sum.bytes(&art.pdf),
            _ => {}
        }
    }
}
