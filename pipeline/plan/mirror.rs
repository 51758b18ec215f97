//! Whole documents for languages that are written from right to left.
//!
//! Everything on a page changes sides: tabs, coil, columns, lists, boxes to tick, margins. Outline, labels, places and the
//! order of pages stay. Art of the designer's own is moved and not mirrored, with the tap areas inside of it.

use base::model::Product;
use base::model::pdf_plan::PdfPlan;
use draw::{Fonts, mirror};

/// The document as it is for the product's language.
pub fn document(mut pdf: PdfPlan, product: &Product, fonts: &Fonts) -> PdfPlan {
    if !product.page.right_to_left {
        return pdf;
    }
    let width = pdf.size.w;
    for form in &mut pdf.forms {
        *form = mirror::drawing(std::mem::take(form), width, fonts);
    }
    for page in &mut pdf.pages {
        page.drawing = mirror::drawing(std::mem::take(&mut page.drawing), width, fonts);
        for link in &mut page.links {
            link.rect = mirror::rect(link.rect, width);
        }
    }
    pdf.right_to_left = true;
    pdf
}
