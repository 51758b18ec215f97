//! Drawings that differ little, taken apart into layers: what all have is drawn once, what differs page by page.
//!
//! A drawing of the designer's that is filled in for each day of a year is 365 drawings, most of which are one and the same.
//! They are compared object by object, in the order in which they are painted; objects that all have make layers of
//! their own, which all share, and between those lie layers of what differs. Laid over each other they are the whole
//! drawing. Where that might not be so, a drawing stays whole: where it blends with what lies below it, or where its
//! style sheet asks what stands beside an object.

use base::model::drawing::{Art, ArtBytes, SvgArt};
use resvg::usvg::roxmltree::{Document, Node};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::Arc;

/// Most layers that drawings share; what is left over is drawn with what differs.
const MOST_SHARED: usize = 6;
/// What takes fewer bytes than this is not worth a layer.
const LEAST: usize = 160;
/// More comparisons than these are not made: only what begins and ends alike is shared.
const MOST_PAIRS: usize = 4_000_000;

/// What is not painted where it stands, but used by others or by nobody.
const UNSEEN: [&str; 13] = [
    "defs",
    "style",
    "linearGradient",
    "radialGradient",
    "clipPath",
    "mask",
    "filter",
    "pattern",
    "marker",
    "symbol",
    "title",
    "desc",
    "metadata",
];
/// What a group does with all that is in it at once (SVG 2, 3.4; Compositing and Blending Level 1), or what decides
/// whether it is there.
const AT_ONCE: [&str; 8] =
    ["opacity", "filter", "mask", "clip-path", "systemLanguage", "requiredFeatures", "requiredExtensions", "display"];

/// An object that is painted.
struct Object {
    /// Where it is written.
    at: Range<usize>,
    /// The groups around it and itself, as they are written.
    key: u32,
    /// Whether another object uses it.
    used: bool,
}

/// A drawing as its objects.
struct Apart<'a> {
    text: &'a str,
    objects: Vec<Object>,
}

/// Takes drawings apart. Gives the layers of each, bottom first; a layer that several have is the same in all of them.
pub fn layers(arts: &[Arc<Art>]) -> Vec<Vec<Arc<Art>>> {
    let mut out: Vec<Vec<Arc<Art>>> = arts.iter().map(|art| vec![art.clone()]).collect();
    let mut keys: BTreeMap<String, u32> = BTreeMap::new();
    // What is not painted must be the same for a layer to be shared: it is styled and filled by it.
    let mut alike: BTreeMap<String, Vec<(usize, Apart)>> = BTreeMap::new();
    let mut seen = BTreeSet::new();
    for (i, art) in arts.iter().enumerate() {
        let ArtBytes::Drawing(drawing) = &art.source else { continue };
        if !seen.insert(drawing.text.as_str()) {
            continue;
        }
        if let Some((around, apart)) = apart(&drawing.text, &mut keys) {
            alike.entry(around).or_default().push((i, apart));
        }
    }
    for group in alike.into_values().filter(|group| group.len() > 1) {
        let rows: Vec<Vec<u32>> = group.iter().map(|(_, a)| a.objects.iter().map(|o| o.key).collect()).collect();
        let written =
            |key: u32| group[0].1.objects.iter().find(|o| o.key == key).map(|o| &group[0].1.text[o.at.clone()]);
        let weight = |key: u32| written(key).map_or(0, weight);
        let (all, runs) = runs(&rows, weight);
        let mut shared: Vec<Option<Arc<Art>>> = vec![None; runs.len()];
        for ((i, drawing), row) in group.iter().zip(&rows).filter(|_| !runs.is_empty()) {
            let ArtBytes::Drawing(whole) = &arts[*i].source else { continue };
            let made = |keep: Range<usize>| {
                let drawing = SvgArt { text: drawing.only(&keep), fonts: whole.fonts.clone() };
                Arc::new(Art { source: ArtBytes::Drawing(Arc::new(drawing)), ..Art::clone(&arts[*i]) })
            };
            let at = embedded(&all, row);
            let (mut pile, mut next) = (Vec::new(), 0);
            for (run, layer) in runs.iter().zip(&mut shared) {
                let place = at[run.start]..at[run.end - 1] + 1;
                if place.start > next {
                    pile.push(made(next..place.start));
                }
                next = place.end;
                pile.push(layer.get_or_insert_with(|| made(place)).clone());
            }
            if next < row.len() {
                pile.push(made(next..row.len()));
            }
            out[*i] = pile;
        }
    }
    // Drawings that are written alike have the layers of the first of them.
    for i in 0..arts.len() {
        let ArtBytes::Drawing(own) = &arts[i].source else { continue };
        let first = arts[..i].iter().position(|a| matches!(&a.source, ArtBytes::Drawing(d) if d.text == own.text));
        if let Some(first) = first {
            out[i] = out[first].clone();
        }
    }
    out
}

impl Apart<'_> {
    /// The drawing with these of its objects and no others.
    fn only(&self, keep: &Range<usize>) -> String {
        let mut out = self.text.to_owned();
        for (_, object) in self.objects.iter().enumerate().rev().filter(|(i, _)| !keep.contains(i)) {
            // What others use stays at hand, and is not painted.
            let instead =
                if object.used { format!("<defs>{}</defs>", &self.text[object.at.clone()]) } else { String::new() };
            out.replace_range(object.at.clone(), &instead);
        }
        out
    }
}

/// The objects of a drawing, and all that they are styled and placed by; `None` where it must stay whole.
fn apart<'a>(text: &'a str, keys: &mut BTreeMap<String, u32>) -> Option<(String, Apart<'a>)> {
    // Entities stand for what is not written where it is; a drawing that blends does so with all below.
    if ["mix-blend-mode", "isolation", "<!DOCTYPE", "enable-background"].iter().any(|word| text.contains(word)) {
        return None;
    }
    let doc = Document::parse(text).ok()?;
    let root = doc.root_element();
    let sheets: String = root.descendants().filter(|n| local(n) == "style").filter_map(|n| n.text()).collect();
    if asks_around(&sheets) {
        return None;
    }
    let plain = sheets.replace("fill-opacity", "").replace("stroke-opacity", "").replace("stop-opacity", "");
    let grouped = AT_ONCE.iter().any(|word| plain.contains(word));
    let mut around = text[root.range().start..inside(&root)].to_owned();
    let mut found: Vec<(Node, String)> = Vec::new();
    let mut open: Vec<(Node, String)> = vec![(root, String::new())];
    // Depth first, in the order of painting.
    while let Some((node, path)) = open.pop() {
        if node != root {
            let name = local(&node);
            if UNSEEN.contains(&name) || node.tag_name().namespace().is_some_and(|n| n != "http://www.w3.org/2000/svg")
            {
                around.push_str(&text[node.range()]);
                continue;
            }
            if name != "g" || grouped || at_once(&node) {
                found.push((node, path));
                continue;
            }
        }
        let path = if node == root { path } else { path + &text[node.range().start..inside(&node)] };
        let children: Vec<Node> = node.children().filter(Node::is_element).collect();
        open.extend(children.into_iter().rev().map(|child| (child, path.clone())));
    }
    let uses: String = root
        .descendants()
        .flat_map(|n| n.attributes())
        .map(|a| a.value())
        .filter(|v| v.contains('#'))
        .collect::<Vec<_>>()
        .join("\n");
    let mut objects = Vec::new();
    for (node, path) in found {
        let ids = node.descendants().filter_map(|n| n.attribute("id"));
        let used = ids.into_iter().any(|id| uses.contains(&format!("#{id}")));
        let written = &text[node.range()];
        if used {
            around.push_str(written);
        }
        let count = u32::try_from(keys.len()).ok()?;
        let key = *keys.entry(path + written).or_insert(count);
        objects.push(Object { at: node.range(), key, used });
    }
    Some((around, Apart { text, objects }))
}

fn local<'a>(node: &Node<'a, '_>) -> &'a str {
    node.tag_name().name()
}

/// About how many bytes an object takes when it is drawn: text takes many for each letter, and a gradient is a function.
fn weight(written: &str) -> usize {
    let letters =
        if written.contains("<text") { 60 * written.chars().filter(|c| c.is_alphanumeric()).count() } else { 0 };
    written.len() + letters + if written.contains("url(#") { LEAST } else { 0 }
}

/// Where the contents of an element begin.
fn inside(node: &Node) -> usize {
    node.first_child().map_or(node.range().end, |child| child.range().start)
}

/// Whether a group does something with all that is in it at once.
fn at_once(node: &Node) -> bool {
    node.attributes().any(|a| AT_ONCE.contains(&a.name()))
        || node.attribute("style").is_some_and(|style| {
            style.split(';').any(|rule| AT_ONCE.contains(&rule.split(':').next().unwrap_or_default().trim()))
        })
}

/// Whether a style sheet asks what stands beside or above an object (Selectors Level 3, 6.6 and 8).
fn asks_around(sheets: &str) -> bool {
    let selectors = sheets.split('}').map(|rule| rule.split('{').next().unwrap_or_default());
    selectors.into_iter().any(|selector| selector.contains(['>', '+', '~', ':', '[']))
}

/// The keys that all rows have in one order, and runs of them between which no row has anything of its own: the heaviest,
/// in their order.
fn runs(rows: &[Vec<u32>], weight: impl Fn(u32) -> usize) -> (Vec<u32>, Vec<Range<usize>>) {
    let Some((first, others)) = rows.split_first() else { return Default::default() };
    let all = others.iter().fold(first.clone(), |all, row| common(&all, row));
    // Before which keys a row has something of its own.
    let mut parted: BTreeSet<usize> = BTreeSet::new();
    for row in rows {
        let at = embedded(&all, row);
        parted.extend(at.windows(2).enumerate().filter(|(_, two)| two[1] > two[0] + 1).map(|(i, _)| i + 1));
    }
    let begins: Vec<usize> = (0..all.len()).filter(|i| *i == 0 || parted.contains(i)).collect();
    let ends = begins.iter().skip(1).copied().chain([all.len()]);
    let weight = |run: &Range<usize>| all[run.clone()].iter().map(|key| weight(*key)).sum::<usize>();
    let mut runs: Vec<Range<usize>> = begins.iter().zip(ends).map(|(from, to)| *from..to).collect();
    runs.retain(|run| weight(run) >= LEAST);
    runs.sort_by_key(|run| (std::cmp::Reverse(weight(run)), run.start));
    runs.truncate(MOST_SHARED);
    runs.sort_by_key(|run| run.start);
    (all, runs)
}

/// Where keys lie in a row that has them all, in their order.
fn embedded(keys: &[u32], row: &[u32]) -> Vec<usize> {
    let mut row = row.iter().enumerate();
    keys.iter().filter_map(|key| row.find(|(_, other)| *other == key)).map(|(at, _)| at).collect()
}

/// The longest row that is part of both.
fn common(a: &[u32], b: &[u32]) -> Vec<u32> {
    let begin = a.iter().zip(b).take_while(|(a, b)| a == b).count();
    let (rest_a, rest_b) = (&a[begin..], &b[begin..]);
    let end = rest_a.iter().rev().zip(rest_b.iter().rev()).take_while(|(a, b)| a == b).count();
    let (mid_a, mid_b) = (&rest_a[..rest_a.len() - end], &rest_b[..rest_b.len() - end]);
    let mut out = a[..begin].to_vec();
    if mid_a.len() * mid_b.len() <= MOST_PAIRS {
        // How long the longest is from each pair on.
        let width = mid_b.len() + 1;
        let mut longest = vec![0_u32; (mid_a.len() + 1) * width];
        for i in (0..mid_a.len()).rev() {
            for j in (0..mid_b.len()).rev() {
                longest[i * width + j] = if mid_a[i] == mid_b[j] {
                    longest[(i + 1) * width + j + 1] + 1
                } else {
                    longest[(i + 1) * width + j].max(longest[i * width + j + 1])
                };
            }
        }
        let (mut i, mut j) = (0, 0);
        while i < mid_a.len() && j < mid_b.len() {
            if mid_a[i] == mid_b[j] {
                out.push(mid_a[i]);
                (i, j) = (i + 1, j + 1);
            } else if longest[(i + 1) * width + j] >= longest[i * width + j + 1] {
                i += 1;
            } else {
                j += 1;
            }
        }
    }
    out.extend(&a[a.len() - end..]);
    out
}
