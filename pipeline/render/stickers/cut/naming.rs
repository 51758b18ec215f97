//! What the drawings of a sheet are called: names from a list, in reading order, or from the ids and labels of an SVG
//! (the one whose own shapes fill the cut part best), or the sheet's own name and a number. None stands twice.

use base::model::product::{CutSheet, StickerSource};
use draw::artwork::ids::renamed;
use raster::Raster;
use raster::parts::Part;
use resvg::usvg;
use std::collections::{BTreeMap, BTreeSet};

/// An id of a drawing with the box of what it names, in pixels (left, top, right, bottom), and how deep it lies.
struct Named {
    id: String,
    sides: [f64; 4],
    depth: usize,
}

/// A name for each part.
pub fn names(sheet: &CutSheet, tree: Option<&usvg::Tree>, raster: &Raster, parts: &[Part]) -> Vec<String> {
    let renamed = if let StickerSource::Svg(_, text) = &sheet.source { renamed(text) } else { BTreeMap::new() };
    let ids = tree.map_or_else(Vec::new, |t| ids(t, raster.w as f64 / f64::from(t.size().width()), &renamed));
    let mut taken = BTreeSet::new();
    parts
        .iter()
        .enumerate()
        .map(|(i, part)| {
            let listed = sheet.names.get(i).cloned();
            let wanted = listed.or_else(|| best_id(&ids, part, &taken));
            let wanted = wanted.unwrap_or_else(|| format!("{}-{}", sheet.like.name, i + 1));
            let mut name = wanted.clone();
            let mut n = 2;
            while !taken.insert(name.clone()) {
                name = format!("{wanted}-{n}");
                n += 1;
            }
            name
        })
        .collect()
}

/// Ids that say something, with what they name.
fn ids(tree: &usvg::Tree, scale: f64, renamed: &BTreeMap<String, String>) -> Vec<Named> {
    let mut out = Vec::new();
    let mut todo: Vec<(&usvg::Node, usize)> = tree.root().children().iter().map(|n| (n, 0)).collect();
    while let Some((node, depth)) = todo.pop() {
        let name = renamed.get(node.id()).map_or(node.id(), String::as_str);
        if !name.is_empty() && !is_counter(name) {
            let b = node.abs_stroke_bounding_box();
            let sides = [b.left(), b.top(), b.right(), b.bottom()].map(|v| f64::from(v) * scale);
            out.push(Named { id: name.to_owned(), sides, depth });
        }
        if let usvg::Node::Group(group) = node {
            todo.extend(group.children().iter().map(|n| (n, depth + 1)));
        }
    }
    out.sort_by(|a, b| a.id.cmp(&b.id));
    out
}

/// Whether a drawing program made the id up: the kind of the element and a number, as `path-12` or `g3`. The words are
/// what such programs are seen to write (common practice, no source).
fn is_counter(id: &str) -> bool {
    const KINDS: [&str; 22] = [
        "a",
        "axes",
        "circle",
        "clip",
        "ellipse",
        "figure",
        "g",
        "group",
        "image",
        "layer",
        "line",
        "line2d",
        "mask",
        "patch",
        "path",
        "pathcollection",
        "polygon",
        "polyline",
        "rect",
        "surface",
        "text",
        "use",
    ];
    let stem = id.trim_end_matches(|c: char| c.is_ascii_digit() || matches!(c, '-' | '_' | '.'));
    stem.len() < id.len() && KINDS.contains(&stem.to_ascii_lowercase().as_str())
}

/// The id whose box agrees best with a part: at least half of what either covers is common to both. Of two that agree
/// alike, the outer one names the drawing and the inner one a shape of it.
fn best_id(ids: &[Named], part: &Part, taken: &BTreeSet<String>) -> Option<String> {
    let a = part.area;
    let p = [a.x as f64, a.y as f64, (a.x + a.w) as f64, (a.y + a.h) as f64];
    let area = |b: &[f64; 4]| (b[2] - b[0]).max(0.0) * (b[3] - b[1]).max(0.0);
    let agreement = |b: &[f64; 4]| {
        let common = area(&[p[0].max(b[0]), p[1].max(b[1]), p[2].min(b[2]), p[3].min(b[3])]);
        common / (area(&p) + area(b) - common).max(1e-9)
    };
    ids.iter()
        .filter(|n| !taken.contains(&n.id))
        .map(|n| (n, (agreement(&n.sides) * 1e4).round()))
        .filter(|(_, v)| *v >= 5e3)
        .max_by(|(a, x), (b, y)| x.total_cmp(y).then(b.depth.cmp(&a.depth)))
        .map(|(n, _)| n.id.clone())
}

#[cfg(test)]
mod tests {
    use super::is_counter;

    #[test]
    fn ids_that_programs_count_say_nothing() {
        for id in ["path-12", "g3", "patch_2", "PathCollection_1", "rect1042", "layer1", "surface0"] {
            assert!(is_counter(id), "{id}");
        }
        for id in ["kettle", "kettle-2", "path", "garden-path-2", "gate3"] {
            assert!(!is_counter(id), "{id}");
        }
    }
}
