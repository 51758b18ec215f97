//! The outline (ISO 32000-1, 12.3.3), flattened in reading order, and what is broken in its chain.

use super::destinations::Resolver;
use super::{integer, text, value};
use base::model::facts::{Leads, OutlineFacts};
use hayro_syntax::object::Dict;
use std::collections::HashSet;

/// The most entries that are read.
const MAX_ENTRIES: usize = 100_000;
/// The deepest nesting that is followed.
const MAX_DEPTH: usize = 64;

/// Reads the outline of a catalog: its entries, and what is wrong with it.
pub fn read<'a>(root: &Dict<'a>, resolver: &Resolver<'a>) -> (Vec<OutlineFacts>, Vec<String>) {
    let (mut entries, mut faults) = (Vec::new(), Vec::new());
    let Some(outlines) = root.get::<Dict>("Outlines") else { return (entries, faults) };
    let mut seen = HashSet::new();
    let mut stack: Vec<(Dict, usize)> = first(&outlines, 0, &mut faults).into_iter().collect();
    while let Some((entry, depth)) = stack.pop() {
        if entry.obj_id().is_some_and(|id| !seen.insert(id)) {
            faults.push(format!("the chain of entries runs in a circle after {} of them", entries.len()));
            break;
        }
        if entries.len() >= MAX_ENTRIES {
            faults.push(format!("it has more than {MAX_ENTRIES} entries"));
            break;
        }
        let title = text(&entry, "Title").unwrap_or_default();
        if value(&entry, "Next").is_none() && entry.contains_key("Next") {
            faults.push(format!("the entry after \u{201c}{title}\u{201d} is missing"));
        }
        if let Some(next) = entry.get::<Dict>("Next") {
            stack.push((next, depth));
        }
        if depth < MAX_DEPTH {
            stack.extend(first(&entry, depth + 1, &mut faults));
        }
        // Both keys may be left out (ISO 32000-1, table 153): such an entry is a heading, and leads nowhere by intent.
        let heading = value(&entry, "Dest").is_none() && value(&entry, "A").is_none();
        let leads = if heading { Leads::Action(String::new()) } else { resolver.aim(&entry).leads };
        entries.push(OutlineFacts { depth, title, leads });
    }
    count(&outlines, entries.len(), &mut faults);
    (entries, faults)
}

/// The first entry below a node.
fn first<'a>(node: &Dict<'a>, depth: usize, faults: &mut Vec<String>) -> Option<(Dict<'a>, usize)> {
    let below = node.get::<Dict>("First");
    if below.is_none() && node.contains_key("First") {
        faults.push("an entry says that others follow below it, but they are missing".to_owned());
    }
    Some((below?, depth))
}

/// The root counts the entries that are visible; it can never count more than there are.
fn count(outlines: &Dict, entries: usize, faults: &mut Vec<String>) {
    if let Some(claimed) = integer(outlines, "Count")
        && claimed.unsigned_abs() as usize > entries
    {
        faults.push(format!("it claims {claimed} entries, but has {entries}"));
    }
}
