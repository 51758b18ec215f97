//! Texts in a drawing that are longer than the room they have: a name that is filled in may be of any length.
//!
//! The room is the drawing's canvas, or what `data-width` on the text says, in the text's own units.

use super::PT_PER_PX;
use crate::svg_loader::span;
use base::model::fault::SourceSpan;
use base::model::units::PT_PER_MM;
use resvg::usvg::{self, roxmltree};

/// How far a text may hang over and still count as inside, in mm.
const SLACK: f64 = 0.1;

/// A text that is too long.
#[derive(Clone, Debug, PartialEq)]
pub struct Overlong {
    /// What it says.
    pub text: String,
    /// How far it hangs over, in mm.
    pub by: f64,
    /// Where it stands in the file, once filled in, if the room was given with it.
    pub span: Option<SourceSpan>,
}

/// Finds them.
pub fn find(text: &str, tree: &usvg::Tree) -> Vec<Overlong> {
    let mut out = Vec::new();
    let canvas = (f64::from(tree.size().width()), f64::from(tree.size().height()));
    texts(tree.root(), &mut |run| {
        let at = run.abs_bounding_box();
        let over = [
            -f64::from(at.left()),
            -f64::from(at.top()),
            f64::from(at.right()) - canvas.0,
            f64::from(at.bottom()) - canvas.1,
        ];
        let over = over.into_iter().fold(0.0, f64::max) * PT_PER_PX / PT_PER_MM;
        // What lies wholly outside of the canvas was put there on purpose: nobody sees it.
        let seen = f64::from(at.right()) > 0.0
            && f64::from(at.left()) < canvas.0
            && f64::from(at.bottom()) > 0.0
            && f64::from(at.top()) < canvas.1;
        if seen && over > SLACK {
            out.push(Overlong { text: words(run), by: over, span: None });
        }
    });
    out.extend(boxed(text, tree));
    out
}

fn texts(group: &usvg::Group, each: &mut impl FnMut(&usvg::Text)) {
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => texts(group, each),
            usvg::Node::Text(run) => each(run),
            _ => {}
        }
    }
}

fn words(run: &usvg::Text) -> String {
    run.chunks().iter().map(usvg::TextChunk::text).collect::<String>().trim().to_owned()
}

/// Texts that say how wide they may be. An element without an id cannot be found again in the drawing.
fn boxed(text: &str, tree: &usvg::Tree) -> Vec<Overlong> {
    if !text.contains("data-width") {
        return Vec::new();
    }
    let options = roxmltree::ParsingOptions { allow_dtd: true, ..Default::default() };
    // The drawing was read before: what cannot be read has been told.
    let Ok(doc) = roxmltree::Document::parse_with_options(text, options) else { return Vec::new() };
    let mut out = Vec::new();
    for node in doc.descendants() {
        let wanted = node.attribute("data-width").and_then(|w| w.trim().parse::<f64>().ok());
        let (Some(wanted), Some(id)) = (wanted, node.attribute("id")) else { continue };
        let Some(found) = tree.node_by_id(id) else { continue };
        let (scale, _) = found.abs_transform().get_scale();
        let over = (f64::from(found.bounding_box().width()) - wanted) * f64::from(scale) * PT_PER_PX / PT_PER_MM;
        if over > SLACK {
            let place = span(text, doc.text_pos_at(node.range().start));
            let says: String = node.descendants().filter(roxmltree::Node::is_text).filter_map(|t| t.text()).collect();
            out.push(Overlong { text: says.trim().to_owned(), by: over, span: Some(place) });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::svg_loader::SvgLoader;
    use base::model::product::FontFile;

    fn found(inner: &str) -> Vec<Overlong> {
        let inner = inner.replace("<text", "<text font-family=\"Noto Sans\"");
        let text = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100mm\" height=\"50mm\" viewBox=\"0 0 100 50\">{inner}</svg>"
        );
        let font =
            FontFile { from: "Noto Sans".into(), bytes: notosans::REGULAR_TTF.into(), built_in: true, figures: None };
        let svg = SvgLoader::with(&sample::product().style, &[font]);
        let tree = svg.read("a.svg", &text).unwrap().tree;
        find(&text, &tree)
    }

    #[test]
    fn a_text_over_the_edge_is_told_in_millimetres() {
        let long = found("<text x=\"80\" y=\"20\" font-size=\"10\">Broad beans</text>");
        assert_eq!(long.len(), 1);
        assert!((10.0..60.0).contains(&long[0].by), "{long:?}");
        assert_eq!(long[0].text, "Broad beans");
        assert!(found("<text x=\"5\" y=\"20\" font-size=\"10\">Broad beans</text>").is_empty());
        assert!(found("<text x=\"500\" y=\"20\" font-size=\"10\">Broad beans</text>").is_empty());
    }

    #[test]
    fn a_text_may_say_how_wide_it_may_be() {
        let with = |width: f64| {
            found(&format!(
                "<text id=\"t\" data-width=\"{width}\" x=\"5\" y=\"20\" font-size=\"10\">Broad beans</text>"
            ))
        };
        let (tight, tighter) = (with(20.0), with(15.0));
        assert!((tighter[0].by - tight[0].by - 5.0).abs() < 1e-3, "{tight:?} {tighter:?}");
        assert!(with(90.0).is_empty());
    }
}
