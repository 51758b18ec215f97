//! The pages of a file in the order in which readers show them.
//!
//! The library that reads the file skips every node of the page tree that it met before. Readers do not: a page object
//! that stands in `Kids` twice is shown twice (poppler, MuPDF and qpdf count it so). So the tree is walked here once
//! more, and what the library skipped is put back.

use super::MAX_PAGES;
use hayro_syntax::Pdf;
use hayro_syntax::object::array::ArrayIter;
use hayro_syntax::object::{Array, Dict, MaybeRef, Name, ObjectIdentifier};
use hayro_syntax::page::Page;
use std::collections::{HashMap, HashSet};
use std::ops::Range;

/// A node of the page tree whose kids are being walked.
struct Frame<'a> {
    id: Option<ObjectIdentifier>,
    kids: ArrayIter<'a>,
    /// How many pages the order held when the node was begun.
    begun: usize,
}

/// All pages, those that stand in the tree several times as often as they do; never many more than are looked at.
pub fn pages(pdf: &Pdf) -> Vec<&Page<'_>> {
    places(pdf).into_iter().filter_map(|i| pdf.pages().get(i)).collect()
}

/// The places of all shown pages among those that the library read.
pub fn places(pdf: &Pdf) -> Vec<usize> {
    let read = pdf.pages().len();
    order(pdf).filter(|order| order.len() > read).unwrap_or_else(|| (0..read).collect())
}

/// The same by a walk of the tree; `None` where the library's was another one.
fn order(pdf: &Pdf) -> Option<Vec<usize>> {
    let xref = pdf.xref();
    let root: Dict = xref.get(xref.root_id())?;
    let tree = root.get::<Dict>("Pages")?;
    // What the library took for a page is one, and need not be read again, with all of its links.
    let leaves: HashSet<ObjectIdentifier> = pdf.pages().iter().filter_map(|page| page.raw().obj_id()).collect();
    let mut order: Vec<usize> = Vec::new();
    // What each node that was walked to its end came to, as a part of the order.
    let mut done: HashMap<ObjectIdentifier, Range<usize>> = HashMap::new();
    let mut met: HashSet<ObjectIdentifier> = tree.obj_id().into_iter().collect();
    let mut fresh = 0;
    let mut open = vec![Frame { id: tree.obj_id(), kids: tree.get::<Array>("Kids")?.raw_iter(), begun: 0 }];
    while let Some(frame) = open.last_mut() {
        let Some(kid) = frame.kids.next() else {
            if let Some(id) = frame.id {
                done.insert(id, frame.begun..order.len());
            }
            open.pop();
            continue;
        };
        let (id, dict) = match kid {
            MaybeRef::Ref(r) => {
                let id: ObjectIdentifier = r.into();
                if let Some(again) = done.get(&id).cloned() {
                    order.extend_from_within(again);
                    if order.len() > MAX_PAGES {
                        // Enough to be refused by its number.
                        return Some(order);
                    }
                    continue;
                }
                // A node within itself is a circle and no page.
                if !met.insert(id) {
                    continue;
                }
                if leaves.contains(&id) {
                    done.insert(id, order.len()..order.len() + 1);
                    order.push(fresh);
                    fresh += 1;
                    continue;
                }
                (Some(id), xref.get::<Dict>(id))
            }
            MaybeRef::NotRef(object) => (None, object.into_dict()),
        };
        let Some(dict) = dict else { continue };
        let begun = order.len();
        if dict.get::<Name>("Type").as_deref() == Some(b"Pages") {
            if let Some(kids) = dict.get::<Array>("Kids") {
                open.push(Frame { id, kids: kids.raw_iter(), begun });
            }
        } else {
            order.push(fresh);
            fresh += 1;
            if let Some(id) = id {
                done.insert(id, begun..order.len());
            }
        }
    }
    (fresh == pdf.pages().len()).then_some(order)
}
