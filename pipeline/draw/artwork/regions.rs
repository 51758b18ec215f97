//! Tap areas in a drawing: elements whose id begins with `link:`, and where they lie.
//!
//! Drawing programs differ in what they let an id be: some write `_x3A_` for a colon, some put the designer's name of
//! an object elsewhere, and none allows the same id twice. So `data-link`, the object's label and plain links around
//! shapes (`<a href>`) count as well.

use super::ids;
use crate::svg_loader::{SvgLoader, span};
use base::model::fault::SourceSpan;
use base::model::{Fault, Rect};
use resvg::usvg::{self, roxmltree};
use std::collections::BTreeMap;
use std::ops::Range;

/// A tap area as drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    /// Where it leads, as the designer wrote it, without `link:`.
    pub to: String,
    /// Whether it is called as a tap area is; otherwise it is one if there is such a place.
    pub sure: bool,
    /// Where it lies, in the drawing's own units (CSS pixels).
    pub rect: Rect,
    /// Where it stands in the file.
    pub span: SourceSpan,
}

/// A drawing with its tap areas.
pub struct Linked {
    /// The areas, in the order of the file.
    pub regions: Vec<Region>,
    /// The text without the elements that only mark an area, if there are any.
    pub cleared: Option<String>,
}

/// An element that is to be a tap area.
struct Marked {
    to: String,
    sure: bool,
    id: Option<String>,
    /// Where its id attribute stands, if it has one.
    id_at: Option<Range<usize>>,
    /// Where the element stands.
    at: Range<usize>,
    hidden: bool,
    span: SourceSpan,
}

/// Finds the tap areas of a drawing that was read before. `hide` leaves all their elements out of the picture.
pub fn find(svg: &SvgLoader, name: &str, text: &str, tree: &usvg::Tree, hide: bool) -> Result<Linked, Vec<Fault>> {
    let mut linked = Linked { regions: Vec::new(), cleared: None };
    if !["link", "Link", "LINK", "href"].iter().any(|word| text.contains(word)) {
        return Ok(linked);
    }
    let marked = marked(text, hide);
    if marked.is_empty() {
        return Ok(linked);
    }
    // Elements without an id, or with one that others have too, get one for measuring.
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    for id in marked.iter().filter_map(|m| m.id.as_deref()) {
        *seen.entry(id).or_default() += 1;
    }
    let own = |m: &Marked| m.id.clone().filter(|id| seen.get(id.as_str()) == Some(&1));
    let given = |i: usize| format!("tap-area-{i}");
    let names: Vec<String> = marked.iter().enumerate().map(|(i, m)| own(m).unwrap_or_else(|| given(i))).collect();
    let nameless = || marked.iter().enumerate().filter(|(_, m)| own(m).is_none());
    let measured = if nameless().next().is_some() {
        let edits = nameless().map(|(i, m)| naming(text, m, &given(i))).collect();
        Some(svg.read(name, &edited(text, edits)).map_err(|f| vec![f])?.tree)
    } else {
        None
    };
    let tree = measured.as_ref().unwrap_or(tree);
    let mut faults = Vec::new();
    for (m, id) in marked.iter().zip(&names) {
        match tree.node_by_id(id).and_then(area) {
            Some(rect) => linked.regions.push(Region { to: m.to.clone(), sure: m.sure, rect, span: m.span.clone() }),
            // What is called a little like a tap area may be anything.
            None if !m.sure => {}
            None => faults.push(
                Fault::new(format!("the tap area `link:{}` has no area on the page", m.to))
                    .in_file(name)
                    .at(m.span.clone())
                    .help("it may be hidden, empty or a definition; draw it as a shape, without fill if it is not to be seen"),
            ),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    linked.cleared = cleared(text, &marked);
    Ok(linked)
}

fn marked(text: &str, hide: bool) -> Vec<Marked> {
    let options = roxmltree::ParsingOptions { allow_dtd: true, ..Default::default() };
    // The drawing was read before: what cannot be read has been told.
    let Ok(doc) = roxmltree::Document::parse_with_options(text, options) else { return Vec::new() };
    let mut out = Vec::new();
    for node in doc.descendants().filter(roxmltree::Node::is_element) {
        let id = node.attributes().find(|a| a.name() == "id" && a.namespace().is_none());
        let href = || node.attributes().find(|a| a.name() == "href" && node.tag_name().name() == "a");
        let prefixed = |text: &str| ids::aimed(&ids::plain(text));
        let sure = |text: &str| prefixed(text).filter(|(_, sure)| *sure);
        let own = || id.as_ref().map(|a| a.value());
        let to = node
            .attribute("data-link")
            .map(|v| (v.trim().trim_start_matches("link:").to_owned(), true))
            .or_else(|| own().and_then(sure))
            .or_else(|| ids::beside(&node).find_map(sure))
            .or_else(|| {
                let href = href()?;
                let address = || href.value().starts_with("https://").then(|| (href.value().to_owned(), true));
                sure(href.value()).or_else(address)
            })
            // A layer of tap areas is none itself.
            .or_else(|| {
                own().into_iter().chain(ids::beside(&node)).find_map(prefixed).filter(|_| !node.has_children())
            });
        let Some((to, sure)) = to else { continue };
        let hidden = match node.attribute("data-hidden") {
            Some(word) => !matches!(word.trim(), "false" | "no" | "0"),
            None => hide,
        };
        let at = node.range();
        out.push(Marked {
            to,
            sure,
            id: id.as_ref().map(|a| a.value().to_owned()),
            id_at: id.as_ref().map(roxmltree::Attribute::range),
            span: span(text, doc.text_pos_at(at.start)),
            at,
            hidden,
        });
    }
    out
}

/// The change that gives an element this id.
fn naming(text: &str, m: &Marked, name: &str) -> (Range<usize>, String) {
    match &m.id_at {
        Some(at) => (at.clone(), format!("id=\"{name}\"")),
        None => {
            let tag = text[m.at.start..].find(|c: char| c.is_whitespace() || c == '>' || c == '/');
            let at = m.at.start + tag.unwrap_or(1);
            (at..at, format!(" id=\"{name}\""))
        }
    }
}

fn cleared(text: &str, marked: &[Marked]) -> Option<String> {
    let edits: Vec<_> = marked.iter().filter(|m| m.hidden).map(|m| (m.at.clone(), String::new())).collect();
    (!edits.is_empty()).then(|| edited(text, edits))
}

/// Replaces ranges by texts, from the last to the first; what lies inside of a range that goes is gone with it.
fn edited(text: &str, mut edits: Vec<(Range<usize>, String)>) -> String {
    edits.sort_by_key(|(at, _)| at.start);
    let (mut out, mut from) = (String::with_capacity(text.len()), 0);
    for (at, new) in edits.into_iter() {
        if at.start < from {
            continue;
        }
        out.push_str(&text[from..at.start]);
        out.push_str(&new);
        from = at.end;
    }
    out.push_str(&text[from..]);
    out
}

/// The area of an element on the canvas, its own transform and those around it included; its outline's width does not
/// count, unless the element has no other extent.
fn area(node: &usvg::Node) -> Option<Rect> {
    let rect = |r: usvg::Rect| Rect::new(r.x().into(), r.y().into(), r.width().into(), r.height().into());
    let sound = |r: &Rect| r.w > 0.01 && r.h > 0.01;
    Some(rect(node.abs_bounding_box()))
        .filter(sound)
        .or_else(|| Some(rect(node.abs_stroke_bounding_box())).filter(sound))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn found(text: &str, hide: bool) -> Linked {
        let svg = SvgLoader::new(&sample::product().style);
        let tree = svg.read("a.svg", text).unwrap().tree;
        find(&svg, "a.svg", text, &tree, hide).unwrap()
    }

    fn svg(inner: &str) -> String {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200\" height=\"100\" viewBox=\"0 0 400 200\">{inner}</svg>"
        )
    }

    #[test]
    fn areas_are_measured_where_they_are_drawn() {
        let text = svg(
            "<g transform=\"translate(40 20)\"><rect id=\"link:index\" x=\"10\" y=\"10\" width=\"100\" height=\"20\" fill=\"none\"/></g>\
             <rect id=\"link_x3A_section_x2F_3\" width=\"20\" height=\"10\" transform=\"translate(100 100) rotate(90)\"/>",
        );
        let found = found(&text, false);
        let close = |r: Rect, x: f64, y: f64, w: f64, h: f64| {
            for (a, b) in [(r.x, x), (r.y, y), (r.w, w), (r.h, h)] {
                assert!((a - b).abs() < 1e-3, "{r:?}");
            }
        };
        assert_eq!(found.regions.iter().map(|r| r.to.as_str()).collect::<Vec<_>>(), ["index", "section/3"]);
        close(found.regions[0].rect, 25.0, 15.0, 50.0, 10.0);
        close(found.regions[1].rect, 45.0, 50.0, 5.0, 10.0);
        assert!(found.cleared.is_none());
    }

    #[test]
    fn ids_may_be_missing_or_repeated() {
        let text = svg(
            "<rect data-link=\"index\" width=\"40\" height=\"40\"/><rect id=\"link:cover\" width=\"10\" height=\"10\"/>\
             <rect id=\"link:cover\" x=\"200\" width=\"20\" height=\"20\"/><a href=\"https://fernlea.example\"><rect width=\"4\" height=\"4\"/></a>",
        );
        let found = found(&text, false);
        let widths: Vec<f64> = found.regions.iter().map(|r| r.rect.w.round()).collect();
        assert_eq!(widths, [20.0, 5.0, 10.0, 2.0]);
    }

    /// Drawing programs that allow no colon in an id keep the designer's name elsewhere, or write it otherwise and count it.
    #[test]
    fn names_are_found_where_programs_put_them() {
        let named = "<rect xmlns:d=\"urn:d\" d:id=\"link:section/2\" id=\"link-section2\" width=\"40\" height=\"40\"/>\
             <rect xmlns:d=\"urn:d\" d:label=\"link:index\" id=\"rect7\" width=\"40\" height=\"40\"/>\
             <rect id=\"link_x3A_cover\" width=\"40\" height=\"40\"/><rect id=\"link_x3A_cover_1_\" width=\"40\" height=\"40\"/>\
             <rect id=\"link_x3A_section_x2F_3_12_\" width=\"40\" height=\"40\"/>";
        let to: Vec<String> = found(&svg(named), false).regions.into_iter().map(|r| r.to).collect();
        assert_eq!(to, ["section/2", "index", "cover", "cover", "section/3"]);
    }

    #[test]
    fn hidden_areas_leave_the_picture() {
        let text = svg("<rect id=\"link:index\" data-hidden=\"true\" width=\"40\" height=\"40\"/><circle r=\"9\"/>");
        let one = found(&text, false);
        assert_eq!(one.regions.len(), 1);
        assert!(!one.cleared.unwrap().contains("link:index"));
        assert!(
            !found(&svg("<rect id=\"link:index\" width=\"40\" height=\"40\"/>"), true)
                .cleared
                .unwrap()
                .contains("rect")
        );
    }
}
