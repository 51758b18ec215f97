//! Filters over fields that nobody sees: their regions are cut to the canvas, and to as much around it as reaches in.

use resvg::usvg::filter::{Filter, Kind};
use resvg::usvg::roxmltree::Document;
use resvg::usvg::{Group, Node, Tree};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Regions are left alone up to so many times the area of the canvas.
const LARGE: f64 = 4.0;

/// A filter with the group that it is used on, and how often it is used.
struct Use<'t> {
    group: &'t Group,
    filter: &'t Arc<Filter>,
    times: usize,
}

/// The text of a drawing with the regions of its filters cut; `None` if there is nothing to cut. A filter that is used at
/// several places is left alone: what is seen of the one is not what is seen of the other.
pub fn cut(doc: &Document, text: &str, tree: &Tree) -> Option<String> {
    let mut uses: BTreeMap<&str, Use> = BTreeMap::new();
    let mut open = vec![tree.root()];
    while let Some(group) = open.pop() {
        for filter in group.filters() {
            uses.entry(filter.id()).or_insert(Use { group, filter, times: 0 }).times += 1;
        }
        open.extend(group.children().iter().filter_map(|n| if let Node::Group(g) = n { Some(&**g) } else { None }));
    }
    let canvas = f64::from(tree.size().width()) * f64::from(tree.size().height());
    let mut edits: Vec<(std::ops::Range<usize>, String)> = Vec::new();
    for (id, used) in uses.iter().filter(|(_, u)| u.times == 1) {
        let there = used.group.abs_layer_bounding_box();
        if f64::from(there.width()) * f64::from(there.height()) <= canvas * LARGE {
            continue;
        }
        let (Some(seen), Some(node)) = (seen(tree, used), doc.descendants().find(|n| n.attribute("id") == Some(*id)))
        else {
            continue;
        };
        if node.tag_name().name() != "filter" {
            continue;
        }
        for attribute in node.attributes() {
            if attribute.namespace().is_none()
                && matches!(attribute.name(), "x" | "y" | "width" | "height" | "filterUnits")
            {
                edits.push((attribute.range(), String::new()));
            }
        }
        let start = node.range().start;
        let name = text[start..].find(|c: char| c.is_whitespace() || c == '>' || c == '/')?;
        let [x, y, w, h] = seen;
        let said = format!(r#" filterUnits="userSpaceOnUse" x="{x}" y="{y}" width="{w}" height="{h}" "#);
        edits.push((start + name..start + name, said));
    }
    if edits.is_empty() {
        return None;
    }
    edits.sort_by_key(|(at, _)| at.start);
    let (mut out, mut from) = (String::with_capacity(text.len() + 100), 0);
    for (at, new) in edits {
        out.push_str(text.get(from..at.start)?);
        out.push_str(&new);
        from = at.end;
    }
    out.push_str(&text[from..]);
    Some(out)
}

/// What is seen of a filter's region, in the space in which the filter works: x, y, width, height.
fn seen(tree: &Tree, used: &Use) -> Option<[f32; 4]> {
    let back = used.group.abs_transform().invert()?;
    let canvas = resvg::tiny_skia::Rect::from_xywh(0.0, 0.0, tree.size().width(), tree.size().height())?;
    let canvas = canvas.transform(back)?;
    let reach = reach(used.filter);
    let region = used.filter.rect();
    let x0 = region.left().max(canvas.left() - reach);
    let y0 = region.top().max(canvas.top() - reach);
    let x1 = region.right().min(canvas.right() + reach);
    let y1 = region.bottom().min(canvas.bottom() + reach);
    (x1 > x0 && y1 > y0).then_some([x0, y0, x1 - x0, y1 - y0])
}

/// How far away a pixel may come from: three deviations of a blur, offsets, radii; all steps may add up.
fn reach(filter: &Filter) -> f32 {
    let of = |kind: &Kind| match kind {
        Kind::GaussianBlur(b) => 3.0 * b.std_dev_x().get().max(b.std_dev_y().get()),
        Kind::DropShadow(d) => 3.0 * d.std_dev_x().get().max(d.std_dev_y().get()) + d.dx().abs().max(d.dy().abs()),
        Kind::Offset(o) => o.dx().abs().max(o.dy().abs()),
        Kind::Morphology(m) => m.radius_x().get().max(m.radius_y().get()),
        Kind::ConvolveMatrix(m) => m.matrix().columns().max(m.matrix().rows()) as f32,
        Kind::DisplacementMap(d) => d.scale().abs() / 2.0,
        Kind::DiffuseLighting(_) | Kind::SpecularLighting(_) => 2.0,
        _ => 0.0,
    };
    filter.primitives().iter().map(|p| of(p.kind())).sum::<f32>() + 1.0
}
