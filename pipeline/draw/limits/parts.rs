//! Elements within elements, and elements that are used many times over.

use super::{MOST_DEPTH, MOST_PARTS};
use crate::source_span::span;
use base::model::Fault;
use resvg::usvg::roxmltree::{Document, Node, TextPos};
use std::collections::HashMap;

/// So many levels of uses within uses are written out.
const LEVELS: usize = 64;

/// Looks at how deep the elements of a text are nested, before anybody who reads it goes as deep. Entities are counted
/// along where they are defined.
///
/// # Errors
/// The first element that lies too deep.
pub fn text(text: &str) -> Result<(), Fault> {
    let bytes = text.as_bytes();
    let (mut depth, mut at) = (0usize, 0);
    let past = |from: usize, mark: &str| {
        text.get(from..).and_then(|t| t.find(mark)).map_or(bytes.len(), |n| from + n + mark.len())
    };
    while let Some(begin) = bytes[at..].iter().position(|b| *b == b'<').map(|n| at + n) {
        let next = bytes.get(begin + 1).copied().unwrap_or(b' ');
        at = begin + 1;
        if bytes[begin..].starts_with(b"<!--") {
            at = past(begin + 4, "-->");
        } else if bytes[begin..].starts_with(b"<![CDATA[") {
            at = past(begin + 9, "]]>");
        } else if next == b'/' {
            depth = depth.saturating_sub(1);
        } else if next.is_ascii_alphabetic() || next == b'_' || next == b':' || next >= 0x80 {
            let mut quote = None;
            let end = bytes[at..].iter().position(|b| match quote {
                Some(q) => {
                    quote = (*b != q).then_some(q);
                    false
                }
                None => {
                    quote = matches!(b, b'"' | b'\'').then_some(*b);
                    *b == b'>' || *b == b'<'
                }
            });
            at = end.map_or(bytes.len(), |n| at + n);
            depth += usize::from(bytes.get(at - 1) != Some(&b'/'));
            if depth > MOST_DEPTH + 1 {
                let row = bytes[..begin].iter().filter(|b| **b == b'\n').count() + 1;
                let column = text.get(..begin).and_then(|t| t.rsplit('\n').next()).map_or(1, |l| l.chars().count() + 1);
                return Err(too_deep(text, TextPos::new(row as u32, column as u32)));
            }
        }
    }
    Ok(())
}

fn too_deep(text: &str, at: TextPos) -> Fault {
    Fault::new(format!("an element lies more than {MOST_DEPTH} elements deep in others"))
        .at(span(text, at))
        .help("ungroup what is grouped many times over, and export the drawing again")
}

/// Counts a drawing out.
///
/// # Errors
/// What is nested too deep, or comes to too much.
pub fn check(doc: &Document, text: &str) -> Result<(), Fault> {
    depth(doc, text)?;
    let parts = whole(doc);
    if parts > MOST_PARTS {
        return Err(Fault::new(format!(
            "the drawing comes to {parts} parts once its uses, patterns, masks and markers are written out; {MOST_PARTS} are the most"
        ))
        .help("parts that use parts that use parts multiply; draw the innermost ones as plain shapes, or leave some out"));
    }
    Ok(())
}

/// Nodes come with numbers in the order of the text, so that each has its parent before it.
fn depth(doc: &Document, text: &str) -> Result<(), Fault> {
    let mut depths: Vec<u32> = Vec::new();
    for node in doc.descendants() {
        let of = node.parent().and_then(|p| depths.get(p.id().get_usize())).map_or(0, |d| d + 1);
        depths.push(of);
        if of as usize > MOST_DEPTH {
            return Err(too_deep(text, doc.text_pos_at(node.range().start)));
        }
    }
    Ok(())
}

/// An element that stands for others as well.
struct Use {
    at: usize,
    of: usize,
    times: u64,
}

/// How many parts the drawing has when everything is written out.
fn whole(doc: &Document) -> u64 {
    let mut ends: Vec<usize> = Vec::new();
    let mut named: HashMap<&str, (usize, &str)> = HashMap::new();
    let mut marked: Vec<bool> = Vec::new();
    let mut heaviest: Option<usize> = None;
    let styled =
        doc.descendants().any(|n| n.has_tag_name_of("style") && n.text().is_some_and(|t| t.contains("marker")));
    for (at, node) in doc.descendants().enumerate() {
        ends.push(at + 1);
        if let Some(id) = node.attribute("id") {
            named.entry(id).or_insert((at, node.tag_name().name()));
        }
        let above = node.parent().and_then(|p| marked.get(p.id().get_usize())).copied().unwrap_or(styled);
        let sets = |name: &str| matches!(name, "marker" | "marker-start" | "marker-mid" | "marker-end");
        let own = node.attributes().any(|a| {
            sets(a.name()) || a.name() == "style" && a.value().contains("marker") && a.value().contains("url(")
        });
        // A marker's own lines carry none.
        let within = node.ancestors().take(2).any(|n| n.has_tag_name_of("marker"));
        marked.push((above || own) && !within);
    }
    for (at, node) in doc.descendants().enumerate().collect::<Vec<_>>().into_iter().rev() {
        if let Some(parent) = node.parent() {
            let parent = parent.id().get_usize();
            ends[parent] = ends[parent].max(ends[at]);
        }
        if node.has_tag_name_of("marker") && heaviest.is_none_or(|h| ends[h] - h < ends[at] - at) {
            heaviest = Some(at);
        }
    }
    let mut uses: Vec<Use> = Vec::new();
    for (at, node) in doc.descendants().enumerate().filter(|(_, n)| n.is_element()) {
        let tag = node.tag_name().name();
        for attribute in node.attributes() {
            let value = attribute.value();
            if tag == "use" && attribute.name() == "href" {
                let of = value.trim().strip_prefix('#').and_then(|id| named.get(id));
                uses.extend(of.map(|(of, _)| Use { at, of: *of, times: 1 }));
            }
            for (i, _) in value.match_indices("url(#") {
                let id = value[i + 5..].split(')').next().unwrap_or_default();
                let of = named.get(id).filter(|(_, tag)| matches!(*tag, "pattern" | "mask" | "clipPath"));
                uses.extend(of.map(|(of, _)| Use { at, of: *of, times: 1 }));
            }
        }
        if let (Some(of), true, "path" | "polyline" | "polygon" | "line") = (heaviest, marked[at], tag) {
            uses.push(Use { at, of, times: corners(&node) });
        }
    }
    // What uses itself is broken off by whoever draws it.
    uses.retain(|one| !(one.of..ends[one.of]).contains(&one.at));
    if uses.is_empty() {
        return ends.len() as u64;
    }
    let mut total: Vec<u64> = vec![0; ends.len()];
    for _ in 0..LEVELS {
        let mut value: Vec<u64> = vec![1; ends.len()];
        for one in &uses {
            value[one.at] = value[one.at].saturating_add(total[one.of].saturating_mul(one.times));
        }
        // What comes before each node, so that a branch is the difference of two.
        let mut before: Vec<u64> = vec![0];
        for v in &value {
            before.push(before.last().copied().unwrap_or(0).saturating_add(*v));
        }
        let all = before.last().copied().unwrap_or(0);
        if all > MOST_PARTS {
            return all;
        }
        let next: Vec<u64> = ends.iter().enumerate().map(|(at, end)| before[*end] - before[at]).collect();
        if next == total {
            return all;
        }
        total = next;
    }
    // A circle, which whoever draws it breaks off.
    total.first().copied().unwrap_or(0)
}

/// Corners of a line, of which each may carry a marker: half of its numbers at the most.
fn corners(node: &Node) -> u64 {
    let data = node.attribute("d").or_else(|| node.attribute("points")).unwrap_or_default();
    let mut numbers = 0;
    let mut within = false;
    for c in data.chars() {
        let part = c.is_ascii_digit() || c == '.';
        numbers += u64::from(part && !within);
        within = part;
    }
    (numbers / 2).max(2)
}

/// Looks at the local name alone: drawings come with and without a namespace.
trait Tagged {
    fn has_tag_name_of(&self, name: &str) -> bool;
}

impl Tagged for Node<'_, '_> {
    fn has_tag_name_of(&self, name: &str) -> bool {
        self.is_element() && self.tag_name().name() == name
    }
}
