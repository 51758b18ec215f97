//! What objects refer to, and what of a document is reached from its trailer.

use lopdf::{Document, Object, ObjectId};
use std::collections::HashSet;

/// Adds what a value refers to.
pub fn references(object: &Object, into: &mut Vec<ObjectId>) {
    match object {
        Object::Reference(id) => into.push(*id),
        Object::Array(items) => items.iter().for_each(|item| references(item, into)),
        Object::Dictionary(dict) => dict.iter().for_each(|(_, value)| references(value, into)),
        Object::Stream(stream) => stream.dict.iter().for_each(|(_, value)| references(value, into)),
        Object::Null | Object::Boolean(_) | Object::Integer(_) | Object::Real(_) => {}
        Object::Name(_) | Object::String(..) => {}
    }
}

/// Drops the objects that nothing leads to. The library's own way compares each reference with all before it, which takes longer
/// than everything else from some thousand pages on.
pub fn prune(doc: &mut Document) {
    let mut open = Vec::new();
    doc.trailer.iter().for_each(|(_, value)| references(value, &mut open));
    let mut reached: HashSet<ObjectId> = HashSet::new();
    while let Some(id) = open.pop() {
        if reached.insert(id)
            && let Some(object) = doc.objects.get(&id)
        {
            references(object, &mut open);
        }
    }
    doc.objects.retain(|id, _| reached.contains(id));
}
