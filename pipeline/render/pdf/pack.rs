//! The pages of an update pack, copied from the PDF that they come from: their drawing, boxes, fonts and pictures object for
//! object, their links led to the pages that are copied with them.
//!
//! What a page refers to is taken along, each object once; other pages are not. Clause numbers are those of ISO 32000-1.

use super::numbers::number;
use super::{About, document, reach, save};
use base::model::Blob;
use base::model::facts::{Leads, LinkFacts, PdfFacts};
use base::model::pack::CopiedPage;
use base::model::panics;
use base::model::pdf_plan::PdfPlan;
use draw::Fonts;
use draw::artwork::page as pages;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};
use std::collections::{BTreeMap, BTreeSet};

/// What of a page is copied. The rest (actions, thumbnails, places in a structure tree) would lead out of the pack.
const KEPT: [&[u8]; 10] = [
    b"MediaBox",
    b"CropBox",
    b"TrimBox",
    b"BleedBox",
    b"ArtBox",
    b"Rotate",
    b"UserUnit",
    b"Resources",
    b"Contents",
    b"Group",
];

/// Writes a pack: the pages of `plan`, of which those in `copied` come from `source`, whose `facts` another reader found.
///
/// # Errors
/// A message when the source cannot be taken apart, or when the two readers do not see the same pages.
pub fn pack(
    plan: &PdfPlan,
    copied: &[CopiedPage],
    (source, facts): (&Blob, &PdfFacts),
    about: &About,
    fonts: &Fonts,
) -> Result<Vec<u8>, String> {
    let from = panics::fenced(|| pages::open(source)).map_err(|gave_up| gave_up.0)?.map_err(|f| f.to_string())?;
    let sources: Vec<ObjectId> = from.page_iter().collect();
    if sources.len() != facts.pages.len() {
        let (a, b) = (sources.len(), facts.pages.len());
        return Err(format!("one reader finds {a} pages in it, another one {b}"));
    }
    let (mut into, own) = document(plan, about, fonts)?;
    let targets: Vec<ObjectId> = into.page_iter().collect();
    let mut known = BTreeMap::new();
    for page in copied {
        let (to, from) = (targets.get(page.to), sources.get(page.from));
        let (to, from) = to.zip(from).ok_or("a page of the pack is missing")?;
        known.insert(*from, *to);
    }
    let others: BTreeSet<ObjectId> = sources.iter().copied().filter(|id| !known.contains_key(id)).collect();
    let by_index: BTreeMap<usize, ObjectId> = copied.iter().map(|p| (p.from, targets[p.to])).collect();
    let mut copy = Copy { from: &from, into: &mut into, known, others, waiting: Vec::new() };
    for page in copied {
        let at = |why: String| format!("page {}: {why}", page.from + 1);
        copy.page(sources[page.from], targets[page.to], &facts.pages[page.from].links, &by_index).map_err(at)?;
    }
    copy.layers()?;
    copy.rest();
    reach::prune(&mut into);
    Ok(if about.classic { save::classic(into, &own) } else { save::compact(into, &own) })
}

/// Objects on their way from one document into another.
struct Copy<'a> {
    from: &'a Document,
    into: &'a mut Document,
    /// Objects that are copied, and what they are now.
    known: BTreeMap<ObjectId, ObjectId>,
    /// Pages that are not.
    others: BTreeSet<ObjectId>,
    /// Objects that have a number and are not there yet.
    waiting: Vec<(ObjectId, ObjectId)>,
}

impl Copy<'_> {
    fn page(
        &mut self,
        from: ObjectId,
        to: ObjectId,
        links: &[LinkFacts],
        pages_of: &BTreeMap<usize, ObjectId>,
    ) -> Result<(), String> {
        let own = self.from.get_dictionary(from).map_err(|e| e.to_string())?;
        let mut dict = Dictionary::new();
        for key in KEPT {
            // Boxes, turn and resources may stand above the page (7.7.3.4).
            let inherits = matches!(key, b"MediaBox" | b"CropBox" | b"Rotate" | b"Resources");
            let value = if inherits { pages::inherited(self.from, from, key) } else { own.get(key).ok().cloned() };
            if let Some(value) = value {
                dict.set(key, self.object(&value));
            }
        }
        let annotations = self.annotations(from, to, links, pages_of)?;
        let page = self.into.get_dictionary_mut(to).map_err(|e| e.to_string())?;
        let parent = page.get(b"Parent").map_err(|e| e.to_string())?.clone();
        dict.set("Type", "Page");
        dict.set("Parent", parent);
        if !annotations.is_empty() {
            dict.set("Annots", annotations);
        }
        *page = dict;
        Ok(())
    }

    /// The annotations of a page: links that lead to an address or to a page of the pack, and what is no link and no
    /// field of a form.
    fn annotations(
        &mut self,
        from: ObjectId,
        to: ObjectId,
        links: &[LinkFacts],
        pages_of: &BTreeMap<usize, ObjectId>,
    ) -> Result<Vec<Object>, String> {
        let own = self.from.get_dictionary(from).ok().and_then(|d| d.get(b"Annots").ok());
        let all = own.map(|o| pages::direct(self.from, o)).and_then(|o| o.as_array().ok()).cloned().unwrap_or_default();
        let mut found = links.iter();
        let mut out = Vec::new();
        for entry in &all {
            let Ok(dict) = pages::direct(self.from, entry).as_dict() else { continue };
            let kind = dict.get(b"Subtype").map(|o| pages::direct(self.from, o)).and_then(Object::as_name);
            match kind.unwrap_or_default() {
                b"Link" => {
                    let link = found.next().ok_or("two readers find different links on it")?;
                    if let Some(dict) = self.link(dict, to, link, pages_of) {
                        out.push(dict.into());
                    }
                }
                // Fields belong to a form of the whole document, windows of notes to their notes.
                b"Widget" | b"Popup" => {}
                _ => {
                    let mut kept: Dictionary = dict.clone();
                    for key in [&b"P"[..], b"Popup", b"StructParent", b"A", b"AA", b"Dest"] {
                        kept.remove(key);
                    }
                    let mut kept = self.dictionary(&kept);
                    kept.set("P", to);
                    out.push(kept.into());
                }
            }
        }
        if found.next().is_some() {
            return Err("two readers find different links on it".to_owned());
        }
        Ok(out)
    }

    /// A link as it is in the pack; `None` where its target is not in it.
    fn link(
        &mut self,
        dict: &Dictionary,
        page: ObjectId,
        link: &LinkFacts,
        pages_of: &BTreeMap<usize, ObjectId>,
    ) -> Option<Dictionary> {
        let mut kept = dict.clone();
        for key in [&b"P"[..], b"StructParent", b"AA", b"PA", b"Dest"] {
            kept.remove(key);
        }
        let mut out = match &link.leads {
            Leads::Uri(_) => self.dictionary(&kept),
            Leads::Page { page, left, top } => {
                let target = *pages_of.get(page)?;
                kept.remove(b"A");
                let mut out = self.dictionary(&kept);
                let place = |v: &Option<f64>| v.map_or(Object::Null, number);
                // Zoom left as it is (12.3.2.2).
                let name = Object::Name(b"XYZ".to_vec());
                out.set("Dest", vec![target.into(), name, place(left), place(top), Object::Null]);
                out
            }
            Leads::Nowhere(_) | Leads::Action(_) => return None,
        };
        if dict.has(b"P") {
            out.set("P", page);
        }
        Some(out)
    }

    /// Layers that can be switched (8.11) are stated by the document; without that all of them would be shown.
    fn layers(&mut self) -> Result<(), String> {
        let Ok(root) = self.from.catalog() else { return Ok(()) };
        let Some(layers) = root.get(b"OCProperties").ok().cloned() else { return Ok(()) };
        let layers = self.object(&layers);
        self.into.catalog_mut().map_err(|e| e.to_string())?.set("OCProperties", layers);
        Ok(())
    }

    fn dictionary(&mut self, dict: &Dictionary) -> Dictionary {
        dict.iter().map(|(key, value)| (key.clone(), self.object(value))).collect()
    }

    /// A value with all that it refers to; pages that stay behind become nothing.
    fn object(&mut self, object: &Object) -> Object {
        match object {
            Object::Reference(id) => self.reference(*id),
            Object::Array(items) => Object::Array(items.iter().map(|o| self.object(o)).collect()),
            Object::Dictionary(dict) => Object::Dictionary(self.dictionary(dict)),
            other => other.clone(),
        }
    }

    fn reference(&mut self, id: ObjectId) -> Object {
        if let Some(known) = self.known.get(&id) {
            return Object::Reference(*known);
        }
        if self.others.contains(&id) {
            return Object::Null;
        }
        // Objects refer to each other in circles and in long chains: each has its number before it is there, and waits.
        let copy = self.into.new_object_id();
        self.known.insert(id, copy);
        self.waiting.push((id, copy));
        Object::Reference(copy)
    }

    /// Copies what the pages refer to.
    fn rest(&mut self) {
        while let Some((id, copy)) = self.waiting.pop() {
            let copied = match self.from.objects.get(&id) {
                Some(Object::Stream(stream)) => {
                    let mut dict = self.dictionary(&stream.dict);
                    dict.set("Length", stream.content.len() as i64);
                    dict.set(save::FINISHED, true);
                    Object::Stream(Stream { dict, ..stream.clone() })
                }
                Some(other) => self.object(other),
                None => Object::Null,
            };
            self.into.objects.insert(copy, copied);
        }
    }
}
