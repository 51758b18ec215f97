//! Artwork as form XObjects (ISO 32000-1, 8.10), each stored once however often it is used.
//!
//! Of a file, only what its page reaches is taken over, numbered by the way from the page to it: the order in which a
//! library has written its objects is seen nowhere.

use super::embed::art_name;
use base::model::drawing::{Art, ArtBytes, SvgArt};
use base::model::panics;
use draw::artwork::{drawings, idle, page as pages};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use std::collections::{BTreeMap, HashMap, VecDeque};
use std::sync::Arc;

/// Copies every piece of art into the document; gives the forms by resource name. `classic` asks for what PDF 1.4 has.
///
/// # Errors
/// A file that cannot be taken apart, a drawing that cannot be made into a page.
pub fn embed(doc: &mut Document, arts: &[Arc<Art>], classic: bool) -> Result<BTreeMap<String, Object>, String> {
    let drawn: Vec<(&str, &SvgArt)> = arts.iter().filter_map(|art| Some((art.name.as_str(), drawing(art)?))).collect();
    // All drawings come from one file, in which they share their fonts.
    let mut of_drawings = if drawn.is_empty() { None } else { Some(Source::open(&drawings::pages(&drawn, classic)?)?) };
    // A file lies open for as long as a page of it is still to come: a book of photographs is a file a page.
    let mut files: Vec<(usize, Source)> = Vec::new();
    let last: HashMap<usize, usize> = arts.iter().enumerate().map(|(i, art)| (art.source.address(), i)).collect();
    let mut out = BTreeMap::new();
    let mut next_drawing = 0;
    for (i, art) in arts.iter().enumerate() {
        let about = |e: String| format!("{}: its page cannot be taken over: {e}", art.name);
        let (source, page) = match (&art.source, &mut of_drawings) {
            (ArtBytes::Drawing(_), Some(source)) => {
                next_drawing += 1;
                (source, next_drawing - 1)
            }
            (source, _) => {
                let at = match files.iter().position(|(address, _)| *address == source.address()) {
                    Some(at) => at,
                    None => {
                        files.push((source.address(), Source::open(source.bytes()).map_err(about)?));
                        files.len() - 1
                    }
                };
                let ArtBytes::Page { page, .. } = source else { continue };
                (&mut files[at].1, *page)
            }
        };
        let id = embed_page(doc, art, source, page).map_err(about)?;
        out.insert(art_name(i), Object::Reference(id));
        files.retain(|(address, _)| last.get(address).is_some_and(|last| *last > i));
    }
    Ok(out)
}

fn drawing(art: &Art) -> Option<&SvgArt> {
    match &art.source {
        ArtBytes::Drawing(drawing) => Some(drawing),
        ArtBytes::Page { .. } => None,
    }
}

/// A file that pages are taken from, and what was taken of it: its objects and their numbers in the new document.
struct Source {
    doc: Document,
    pages: BTreeMap<u32, ObjectId>,
    taken: HashMap<ObjectId, ObjectId>,
}

impl Source {
    fn open(bytes: &[u8]) -> Result<Source, String> {
        let read = panics::fenced(|| Document::load_mem(bytes)).map_err(|gave_up| gave_up.0)?;
        let mut doc = read.map_err(|e| e.to_string())?;
        idle::drop_fonts_of_forms(&mut doc);
        let pages = doc.get_pages();
        Ok(Source { doc, pages, taken: HashMap::new() })
    }

    /// Copies all that an object reaches, nearest first, and leads its references to the copies.
    fn take(&mut self, into: &mut Document, object: &mut Object) {
        let mut open = VecDeque::new();
        self.lead(into, object, &mut open);
        while let Some((old, new)) = open.pop_front() {
            let mut copy = self.doc.get_object(old).cloned().unwrap_or(Object::Null);
            self.lead(into, &mut copy, &mut open);
            into.objects.insert(new, copy);
        }
    }

    /// Leads the references within an object to new numbers, in the order of the keys; notes what has to be copied.
    fn lead(&mut self, into: &mut Document, object: &mut Object, open: &mut VecDeque<(ObjectId, ObjectId)>) {
        match object {
            Object::Reference(id) => {
                let new = *self.taken.entry(*id).or_insert_with(|| {
                    let new = into.new_object_id();
                    open.push_back((*id, new));
                    new
                });
                *id = new;
            }
            Object::Array(items) => items.iter_mut().for_each(|item| self.lead(into, item, open)),
            Object::Dictionary(dict) => self.lead_entries(into, dict, open),
            Object::Stream(stream) => self.lead_entries(into, &mut stream.dict, open),
            _ => {}
        }
    }

    fn lead_entries(&mut self, into: &mut Document, dict: &mut Dictionary, open: &mut VecDeque<(ObjectId, ObjectId)>) {
        // The way up leads to the file's page tree and from there to all of it.
        for key in [&b"Parent"[..], b"StructParent", b"StructParents", b"PieceInfo"] {
            dict.remove(key);
        }
        let mut entries: Vec<(&Vec<u8>, &mut Object)> = dict.iter_mut().collect();
        entries.sort_by(|a, b| a.0.cmp(b.0));
        for (_, value) in entries {
            self.lead(into, value, open);
        }
    }
}

fn embed_page(doc: &mut Document, art: &Art, source: &mut Source, page: usize) -> Result<ObjectId, String> {
    let page = u32::try_from(page + 1).ok().and_then(|n| source.pages.get(&n)).copied();
    let page = page.ok_or("there is no such page")?;
    let mut content = pages::content(&source.doc, page)?;
    let frame = pages::frame(&source.doc, page)?;
    let mut form = Dictionary::new();
    form.set("Type", "XObject");
    form.set("Subtype", "Form");
    form.set("BBox", frame.seen.map(|v| Object::Real(v as f32)).to_vec());
    let [sx, sy] = [art.size.w / frame.size.w, art.size.h / frame.size.h];
    let [sx, sy] = if (sx - 1.0).abs() + (sy - 1.0).abs() > 1e-6 { [sx, sy] } else { [1.0, 1.0] };
    let [a, b, c, d, e, f] = frame.matrix;
    let matrix = [a * sx, b * sy, c * sx, d * sy, e * sx, f * sy];
    if matrix != [1.0, 0.0, 0.0, 1.0, 0.0, 0.0] {
        form.set("Matrix", matrix.map(|v| Object::Real(v as f32)).to_vec());
    }
    let resources = pages::inherited(&source.doc, page, b"Resources");
    let mut resources =
        resources.and_then(|r| pages::direct(&source.doc, &r).as_dict().cloned().ok()).unwrap_or_default();
    idle::drop_fonts(&source.doc, &mut resources, &mut content);
    form.set("Resources", resources);
    let group = source.doc.get_dictionary(page).and_then(|d| d.get(b"Group")).cloned();
    if let Ok(group) = group {
        form.set("Group", group);
    } else if drawing(art).is_some() {
        // What a drawing blends, it blends with itself and not with the page below (Compositing and Blending Level 1,
        // 2.2: the root element is an isolated group).
        form.set("Group", dictionary! { "S" => "Transparency", "I" => true, "CS" => "DeviceRGB" });
    }
    let mut form = Object::Stream(Stream::new(form, content));
    source.take(doc, &mut form);
    Ok(doc.add_object(form))
}
