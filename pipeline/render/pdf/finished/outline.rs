//! Entries added to the outline of a finished file (ISO 32000-1, 12.3.3).

use super::Patch;
use base::model::finished::FinishedPlan;
use base::model::pdf_plan::Entry;
use lopdf::{Object, ObjectId, dictionary, text_string};
use std::collections::BTreeSet;

impl Patch {
    /// Adds the planned entries behind the file's own, or puts them in their place.
    pub fn outline(&mut self, plan: &FinishedPlan) -> Result<(), String> {
        let entries = &plan.over.outline;
        if entries.is_empty() && plan.keep_outline {
            return Ok(());
        }
        let root = self.doc.trailer.get(b"Root").and_then(Object::as_reference).map_err(|e| e.to_string())?;
        let own = self.doc.get_dictionary(root).map_err(|e| e.to_string())?.get(b"Outlines").ok().cloned();
        if entries.is_empty() {
            let catalog = self.dict(root)?;
            catalog.remove(b"Outlines");
            catalog.remove(b"PageMode");
            return Ok(());
        }
        let own = own.filter(|_| plan.keep_outline);
        let tops = own.as_ref().map_or(Vec::new(), |o| self.tops(o));
        // An outline without entries is no outline to add to.
        let id = match own.and_then(|o| o.as_reference().ok()).filter(|_| !tops.is_empty()) {
            Some(id) => id,
            None => self.add(dictionary! { "Type" => "Outlines" }),
        };
        let Some((first, last)) = self.branch(plan, entries, id)? else { return Ok(()) };
        if let Some(before) = tops.last() {
            self.dict(*before)?.set("Next", first);
            self.dict(first)?.set("Prev", *before);
        }
        let dict = self.dict(id)?;
        let visible = dict.get(b"Count").and_then(Object::as_i64).unwrap_or(0).max(tops.len() as i64);
        if tops.is_empty() {
            dict.set("First", first);
        }
        dict.set("Last", last);
        dict.set("Count", visible + entries.len() as i64);
        let catalog = self.dict(root)?;
        catalog.set("Outlines", id);
        if !catalog.has(b"PageMode") {
            catalog.set("PageMode", "UseOutlines");
        }
        Ok(())
    }

    /// The entries of the top level, in order.
    fn tops(&self, outlines: &Object) -> Vec<ObjectId> {
        let outlines = self.direct(outlines);
        let first = outlines.as_dict().ok().and_then(|d| d.get(b"First").ok()?.as_reference().ok());
        let mut seen = BTreeSet::new();
        let next = |id: &ObjectId| self.doc.get_dictionary(*id).ok()?.get(b"Next").ok()?.as_reference().ok();
        // An outline that runs in a circle ends where it meets itself.
        std::iter::successors(first, next).take_while(|id| seen.insert(*id)).collect()
    }

    fn branch(
        &mut self,
        plan: &FinishedPlan,
        entries: &[Entry],
        parent: ObjectId,
    ) -> Result<Option<(ObjectId, ObjectId)>, String> {
        let ids: Vec<ObjectId> = entries.iter().map(|_| self.add(Object::Null)).collect();
        for (i, entry) in entries.iter().enumerate() {
            let mut dict = dictionary! {
                "Title" => text_string(&entry.title),
                "Parent" => parent,
                "Dest" => self.destination(entry.page, plan)?,
            };
            if i > 0 {
                dict.set("Prev", ids[i - 1]);
            }
            if let Some(next) = ids.get(i + 1) {
                dict.set("Next", *next);
            }
            if let Some((first, last)) = self.branch(plan, &entry.children, ids[i])? {
                dict.set("First", first);
                dict.set("Last", last);
                dict.set("Count", -(entry.children.len() as i64));
            }
            self.doc.set_object(ids[i], dict);
        }
        Ok(ids.first().copied().zip(ids.last().copied()))
    }
}
