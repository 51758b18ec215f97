//! Sticker sheets: the finished stickers at their true size on pages of the notebook's size, each a picture of its
//! own, with room enough between them to be picked up one by one.

use crate::draw::shelf;
use crate::model::drawing::{Path, Picture, Shape};
use crate::model::plan::{LabelRun, LabelStyle, Make, PdfPlan};
use crate::model::{Drawing, Item, Kind, Mm, Page, Product, Rect, Size};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A finished sticker: its pixels and its true size.
#[derive(Clone, Debug)]
pub struct Made {
    /// Pixels.
    pub picture: Arc<Picture>,
    /// Width and height in points, padding included.
    pub size: Size,
}

/// Plans the sheets; `None` without stickers.
pub fn sheets(product: &Product, made: &[Made]) -> Option<Item> {
    if made.is_empty() {
        return None;
    }
    let page = product.page.size;
    let least = page.w.min(page.h);
    let margin = (least * 0.06).clamp(Mm(5.0).pt(), Mm(14.0).pt());
    let bar = product.page.toolbar.pt();
    // The toolbar's strip is taken off the page first; the margin is counted from there.
    let strip = (bar + Mm(2.0).pt() - margin).max(0.0);
    let sizes: Vec<Size> = made.iter().map(|m| m.size).collect();
    let shelves = shelf::shelves(&sizes, Size::new(page.w, page.h - strip), margin, Mm(6.0).pt());
    let pages: Vec<Page> = shelves
        .pages
        .into_iter()
        .map(|placed| {
            let mut drawing = Drawing::new();
            drawing.fill(Path::rect(Rect::page(page)), product.style.paper);
            for (index, at) in placed {
                let at = Rect::new(at.x, at.y + strip, at.w, at.h);
                drawing.push(Shape::Picture { picture: made[index].picture.clone(), at });
            }
            Page { drawing, ..Page::default() }
        })
        .collect();
    let pdf = PdfPlan {
        title: format!("{} – stickers", product.name),
        size: page,
        forms: Vec::new(),
        pages,
        outline: Vec::new(),
        labels: vec![LabelRun { page: 0, prefix: String::new(), style: LabelStyle::Decimal }],
        places: BTreeMap::new(),
    };
    let path = format!("contents/{}-sticker-sheet.pdf", product.slug);
    Some(Item { path, kind: Kind::Sheet, make: Make::Pdf(Box::new(pdf)) })
}
