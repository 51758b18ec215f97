//! Pages of other PDF files as form XObjects (ISO 32000-1, 8.10), each stored once however often it is used.

use super::embed::art_name;
use base::model::Blob;
use base::model::drawing::Art;
use draw::artwork::page as pages;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A file that pages were taken from: its bytes, and its pages as they are numbered here.
type Taken = (Blob, BTreeMap<u32, ObjectId>);

/// Copies every piece of art into the document; gives the forms by resource name.
pub fn embed(doc: &mut Document, arts: &[Arc<Art>]) -> Result<BTreeMap<String, Object>, String> {
    let mut out = BTreeMap::new();
    let mut files: Vec<Taken> = Vec::new();
    for (i, art) in arts.iter().enumerate() {
        let id = one(doc, art, &mut files).map_err(|e| format!("{}: its page cannot be taken over: {e}", art.name))?;
        out.insert(art_name(i), Object::Reference(id));
    }
    Ok(out)
}

fn one(doc: &mut Document, art: &Art, files: &mut Vec<Taken>) -> Result<ObjectId, String> {
    let page = match files.iter().find(|(bytes, _)| bytes.is_shared_with(&art.pdf)) {
        Some((_, pages)) => pages.get(&(art.page as u32 + 1)).copied(),
        None => {
            let mut source = Document::load_mem(&art.pdf).map_err(|e| e.to_string())?;
            source.renumber_objects_with(doc.max_id + 1);
            let pages = source.get_pages();
            let page = pages.get(&(art.page as u32 + 1)).copied();
            files.push((art.pdf.clone(), pages));
            doc.max_id = doc.max_id.max(source.max_id);
            // What the form does not reach (the old page tree, metadata) is pruned with everything else that is
            // unreached.
            doc.objects.append(&mut source.objects);
            page
        }
    };
    let page = page.ok_or("there is no such page")?;
    let content = pages::content(doc, page)?;
    let frame = pages::frame(doc, page)?;
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
    form.set("Resources", pages::inherited(doc, page, b"Resources").unwrap_or_else(|| Dictionary::new().into()));
    if let Ok(group) = doc.get_dictionary(page).and_then(|d| d.get(b"Group")).cloned() {
        form.set("Group", group);
    }
    Ok(doc.add_object(Stream::new(form, content)))
}
