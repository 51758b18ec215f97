//! A planned PDF made into bytes: printpdf for the document model, then a pass over its objects for what it
//! cannot say (`structure`), then our own way of writing them small (`save`).

mod art;
mod embed;
mod finished;
mod links;
mod numbers;
mod ops;
mod pack;
mod picture;
mod reach;
mod save;
mod shading;
mod structure;
mod xmp;

pub use finished::finish;
pub use pack::pack;

use base::model::pdf_plan::PdfPlan;
use base::model::product::Date;
use draw::Fonts;
use links::Links;
use printpdf::{PdfDocument, PdfPage, PdfSaveOptions, Pt, Rect};

/// What a document says of itself, beyond its plan.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct About<'a> {
    /// Who made it: the shop.
    pub author: &'a str,
    /// BCP 47 tag of its language.
    pub language: &'a str,
    /// Date of creation, from the manifest and never from the clock.
    pub date: Date,
    /// PDF 1.4 without object streams, for old reader apps.
    pub classic: bool,
    /// Whether painted pictures are packed in haste, for a first look: the pixels are the same.
    pub hasty: bool,
}

/// Writes a planned PDF.
///
/// The result depends on the arguments alone: same plan, same bytes.
///
/// # Errors
/// A message when the document model has no room for something (a font that cannot be cut down to the glyphs in
/// use, a place that no page has).
pub fn write(plan: &PdfPlan, about: &About, fonts: &Fonts) -> Result<Vec<u8>, String> {
    let (objects, links) = document(plan, about, fonts)?;
    Ok(if about.classic { save::classic(objects, &links) } else { save::compact(objects, &links) })
}

/// A planned PDF as objects, and the links of its pages, which are none.
fn document<'a>(plan: &'a PdfPlan, about: &About, fonts: &Fonts) -> Result<(lopdf::Document, Links<'a>), String> {
    let mut doc = PdfDocument::new(&plan.title);
    let mut resources = embed::Resources::collect(plan, fonts)?;
    resources.register(&mut doc, about.hasty);
    let sheet = Rect::from_wh(Pt(plan.size.w as f32), Pt(plan.size.h as f32));
    // Forms are written as extra pages after the real ones; `structure` turns them into form XObjects.
    let drawings = plan.pages.iter().map(|p| &p.drawing).chain(&plan.forms);
    doc.pages = drawings
        .map(|drawing| PdfPage {
            media_box: sheet.clone(),
            trim_box: sheet.clone(),
            crop_box: sheet.clone(),
            ops: ops::translate(drawing, plan.size, &resources, fonts),
        })
        .collect();
    let options = PdfSaveOptions { optimize: false, subset_fonts: false, secure: true, image_optimization: None };
    let mut objects = doc.to_lopdf_document(&options, &mut Vec::new());
    let links = structure::finish(&mut objects, plan, about, &resources)?;
    Ok((objects, links))
}
