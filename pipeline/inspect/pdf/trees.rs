//! Name trees and number trees (ISO 32000-1, 7.9.6 and 7.9.7), walked once and flat.

use super::items;
use hayro_syntax::object::{Array, Dict, Object};
use hayro_syntax::xref::XRef;
use std::collections::HashSet;

/// The most nodes of one tree that are visited.
const MAX_NODES: usize = 100_000;

/// Calls `leaf` for every key and value below `root`. `list` is the key of the leaves: `Names` or `Nums`.
pub fn walk<'a>(root: Dict<'a>, xref: &'a XRef, list: &str, mut leaf: impl FnMut(Object<'a>, Object<'a>)) {
    let mut seen = HashSet::new();
    let mut stack = vec![root];
    let mut visited = 0;
    while let Some(node) = stack.pop() {
        visited += 1;
        if visited > MAX_NODES || node.obj_id().is_some_and(|id| !seen.insert(id)) {
            continue;
        }
        if let Some(pairs) = node.get::<Array>(list) {
            let mut both = items(&pairs, xref);
            while let (Some(key), Some(value)) = (both.next(), both.next()) {
                leaf(key, value);
            }
        }
        if let Some(kids) = node.get::<Array>("Kids") {
            let mut below: Vec<Dict> = items(&kids, xref).filter_map(Object::into_dict).collect();
            below.reverse();
            stack.append(&mut below);
        }
    }
}
