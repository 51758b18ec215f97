//! The links of a document's pages, written from the plan while the file is written: as objects of the document model they would be
//! most of what it holds, a kilobyte and more each.
//!
//! Clause numbers are those of ISO 32000-1.

use super::numbers::number;
use base::model::geometry::Rect;
use base::model::pdf_plan::{Link, PdfPlan, Target};
use lopdf::{Dictionary, Object, ObjectId, StringFormat, dictionary, text_string};
use std::collections::HashMap;

/// What stands for the links of a page in its dictionary until they are written.
pub const AWAITED: Object = Object::Null;

/// The links of the pages of a plan.
pub struct Links<'a> {
    plan: Option<&'a PdfPlan>,
    /// Objects of its pages, in order.
    pages: Vec<ObjectId>,
    /// Which pages have links, by their objects.
    with_links: HashMap<ObjectId, usize>,
}

impl<'a> Links<'a> {
    /// Those of a document whose links are all objects.
    pub fn none() -> Links<'static> {
        Links { plan: None, pages: Vec::new(), with_links: HashMap::new() }
    }

    /// Those of a plan whose pages are these objects.
    ///
    /// # Errors
    /// A message when a link leads to a place that no page is.
    pub fn of(plan: &'a PdfPlan, pages: &[ObjectId]) -> Result<Links<'a>, String> {
        let mut with_links = HashMap::new();
        for (i, (page, id)) in plan.pages.iter().zip(pages).enumerate() {
            for link in &page.links {
                if let Target::Place(place) = &link.target
                    && plan.places.get(place).is_none_or(|to| *to >= pages.len())
                {
                    return Err(format!("a link leads to {place}, which no page is"));
                }
            }
            if !page.links.is_empty() {
                with_links.insert(*id, i);
            }
        }
        Ok(Links { plan: Some(plan), pages: pages.to_vec(), with_links })
    }

    /// The links of a page, as the values of its `Annots`, one by one.
    pub fn on(&self, page: ObjectId) -> Option<impl Iterator<Item = Dictionary>> {
        let plan = self.plan?;
        let page = plan.pages.get(*self.with_links.get(&page)?)?;
        Some(page.links.iter().map(move |link| annotation(link, plan, &self.pages)))
    }
}

/// An explicit destination: the page's top left corner, zoom left as it is (12.3.2.2).
pub fn destination(page: ObjectId, plan: &PdfPlan) -> Object {
    Object::Array(vec![page.into(), Object::Name(b"XYZ".to_vec()), 0.into(), number(plan.size.h), Object::Null])
}

/// A link annotation (12.5.6.5): no border, printed flag, says where it goes.
fn annotation(link: &Link, plan: &PdfPlan, pages: &[ObjectId]) -> Dictionary {
    let Rect { x, y, w, h } = link.rect;
    let up = |y: f64| number(plan.size.h - y);
    let mut dict = dictionary! {
        "Type" => "Annot",
        "Subtype" => "Link",
        "Rect" => vec![number(x), up(y + h), number(x + w), up(y)],
        "Border" => vec![0.into(), 0.into(), 0.into()],
        "F" => 4,
        "Contents" => text_string(&link.says),
    };
    match &link.target {
        Target::Place(place) => {
            // `of` has looked: there is one.
            let page = plan.places.get(place).and_then(|to| pages.get(*to));
            dict.set("Dest", page.map_or(Object::Null, |page| destination(*page, plan)));
        }
        Target::Address(uri) => {
            let uri = Object::String(uri.as_bytes().to_vec(), StringFormat::Literal);
            dict.set("A", dictionary! { "Type" => "Action", "S" => "URI", "URI" => uri });
        }
    }
    dict
}
