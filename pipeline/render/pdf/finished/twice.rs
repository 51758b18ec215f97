//! A page that stands in the page tree twice, parted into two pages: what is laid over the one is not what is laid over
//! the other. Clause numbers are those of ISO 32000-1.

use super::Patch;
use lopdf::{Object, ObjectId};
use std::collections::BTreeSet;

/// The deepest nesting of the page tree; 7.7.3 asks for balanced trees, and 64 levels of those hold any file.
const MAX_DEPTH: usize = 64;

impl Patch {
    /// Gives every page an object of its own, where one stands for several.
    ///
    /// # Errors
    /// A page tree that cannot be followed.
    pub(super) fn part_pages(&mut self) -> Result<(), String> {
        if self.pages.iter().collect::<BTreeSet<_>>().len() == self.pages.len() {
            return Ok(());
        }
        let catalog = self.doc.catalog().map_err(|e| e.to_string())?;
        let tree = catalog.get(b"Pages").and_then(Object::as_reference).map_err(|e| e.to_string())?;
        let mut met = BTreeSet::from([tree]);
        self.part_kids(tree, &mut met, 0)?;
        self.pages = self.doc.page_iter().collect();
        Ok(())
    }

    /// Goes through the kids of a node; each object that was met before is replaced by a copy.
    fn part_kids(&mut self, node: ObjectId, met: &mut BTreeSet<ObjectId>, depth: usize) -> Result<(), String> {
        deep(depth)?;
        let mut kids = self.kids(node);
        let mut changed = false;
        for kid in &mut kids {
            let Ok(id) = kid.as_reference() else { continue };
            if met.insert(id) {
                self.part_kids(id, met, depth + 1)?;
            } else {
                *kid = self.copied(id, node, depth + 1)?.into();
                changed = true;
            }
        }
        if changed {
            self.dict(node)?.set("Kids", kids);
        }
        Ok(())
    }

    fn kids(&self, node: ObjectId) -> Vec<Object> {
        let own = self.doc.get_dictionary(node).ok().and_then(|d| d.get(b"Kids").ok());
        own.map(|o| self.direct(o)).and_then(|o| o.as_array().ok().cloned()).unwrap_or_default()
    }

    /// A copy of a page, or of a node of the tree with all pages below it.
    fn copied(&mut self, id: ObjectId, parent: ObjectId, depth: usize) -> Result<ObjectId, String> {
        deep(depth)?;
        let mut dict = self.doc.get_dictionary(id).map_err(|e| e.to_string())?.clone();
        dict.set("Parent", parent);
        // The structure of the document speaks of the first one (14.7.4.4).
        dict.remove(b"StructParents");
        let copy = self.add(dict);
        let mut kids = self.kids(id);
        for kid in &mut kids {
            if let Ok(id) = kid.as_reference() {
                *kid = self.copied(id, copy, depth + 1)?.into();
            }
        }
        if !kids.is_empty() {
            self.dict(copy)?.set("Kids", kids);
        }
        let notes: Vec<Object> = self.annotations(id).iter().map(|note| self.note(note, copy)).collect();
        if !notes.is_empty() {
            self.dict(copy)?.set("Annots", notes);
        }
        Ok(copy)
    }

    /// A copy of an annotation for the page that it is to stand on (12.5.2: one belongs to a single page).
    fn note(&mut self, note: &Object, page: ObjectId) -> Object {
        let Ok(mut dict) = self.direct(note).as_dict().cloned() else { return note.clone() };
        dict.remove(b"StructParent");
        if dict.has(b"P") {
            dict.set("P", page);
        }
        self.add(dict).into()
    }
}

fn deep(depth: usize) -> Result<(), String> {
    if depth > MAX_DEPTH {
        return Err(format!("its page tree is more than {MAX_DEPTH} levels deep; {}", super::AGAIN));
    }
    Ok(())
}
