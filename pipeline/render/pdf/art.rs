//! Pages of other PDF files as form XObjects (ISO 32000-1, 8.10), each stored once however often it is used.

use super::embed::art_name;
use crate::model::drawing::Art;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Copies every piece of art into the document; gives the forms by resource name.
pub fn embed(doc: &mut Document, arts: &[Arc<Art>]) -> Result<BTreeMap<String, Object>, String> {
    let mut out = BTreeMap::new();
    for (i, art) in arts.iter().enumerate() {
        let id = one(doc, art).map_err(|e| format!("{}: its page cannot be taken over: {e}", art.name))?;
        out.insert(art_name(i), Object::Reference(id));
    }
    Ok(out)
}

fn one(doc: &mut Document, art: &Art) -> Result<ObjectId, String> {
    let text = |e: lopdf::Error| e.to_string();
    let mut source = Document::load_mem(&art.pdf).map_err(text)?;
    source.renumber_objects_with(doc.max_id + 1);
    let page = *source.get_pages().get(&(art.page as u32 + 1)).ok_or("there is no such page")?;
    let content = source.get_page_content(page);
    let sides = numbers(&source, &inherited(&source, page, b"MediaBox").ok_or("the page has no size")?);
    let [x0, y0, x1, y1] = sides[..] else { return Err("the page has no size".to_owned()) };
    let (left, low) = (x0.min(x1), y0.min(y1));
    let mut form = Dictionary::new();
    form.set("Type", "XObject");
    form.set("Subtype", "Form");
    form.set("BBox", sides.iter().map(|v| Object::Real(*v as f32)).collect::<Vec<_>>());
    if left != 0.0 || low != 0.0 {
        let matrix = [1.0, 0.0, 0.0, 1.0, -left, -low].map(|v| Object::Real(v as f32));
        form.set("Matrix", matrix.to_vec());
    }
    form.set("Resources", inherited(&source, page, b"Resources").unwrap_or_else(|| Dictionary::new().into()));
    if let Ok(group) = source.get_dictionary(page).and_then(|d| d.get(b"Group")) {
        form.set("Group", group.clone());
    }
    doc.max_id = doc.max_id.max(source.max_id);
    // What the form does not reach (the old page tree, metadata) is pruned with everything else that is unreached.
    doc.objects.append(&mut source.objects);
    Ok(doc.add_object(Stream::new(form, content)))
}

/// A page's entry, its own or that of a branch above (7.7.3.4).
pub fn inherited(doc: &Document, page: ObjectId, key: &[u8]) -> Option<Object> {
    let mut id = page;
    // A tree that runs in a circle is no tree.
    for _ in 0..64 {
        let dict = doc.get_dictionary(id).ok()?;
        if let Ok(value) = dict.get(key) {
            return Some(value.clone());
        }
        id = dict.get(b"Parent").and_then(Object::as_reference).ok()?;
    }
    None
}

/// The numbers of an array, references followed.
pub fn numbers(doc: &Document, array: &Object) -> Vec<f64> {
    let direct = |o: &Object| doc.dereference(o).map_or(Object::Null, |(_, o)| o.clone());
    let list = direct(array);
    let items = list.as_array().map_or(&[][..], Vec::as_slice);
    items.iter().filter_map(|o| direct(o).as_float().ok()).map(f64::from).filter(|v| v.is_finite()).collect()
}
