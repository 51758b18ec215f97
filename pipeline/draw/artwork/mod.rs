//! The designer's own artwork made ready for a page: filled in, read, measured, and turned into the page of a PDF.

pub mod drawings;
mod fill;
pub mod idle;
pub mod ids;
mod ink;
pub mod inner;
pub mod layers;
pub mod overlong;
pub mod page;
pub mod pdf;
mod picture;
pub mod profile;
pub mod regions;
pub mod tokens;

pub use picture::{of_jpeg, of_pixels};
pub use regions::Region;

use super::limits;
use super::svg_loader::{MissingGlyph, SvgLoader};
use base::model::drawing::{Art, ArtBytes, SvgArt};
use base::model::{Fault, Size};
use resvg::usvg::roxmltree;
use serde_json::{Map, Value};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Points in a CSS pixel, the unit of an SVG file.
pub const PT_PER_PX: f64 = 0.75;

/// A drawing made ready.
pub struct Ready {
    /// The drawing as the page of a PDF.
    pub art: Arc<Art>,
    /// Its tap areas, in its own units.
    pub regions: Vec<Region>,
    /// What its texts ask for and no font of the product has.
    pub lacks: BTreeSet<MissingGlyph>,
    /// Its texts that are longer than their room.
    pub overlong: Vec<overlong::Overlong>,
    /// What is left out of it.
    pub notes: Vec<String>,
}

impl Ready {
    /// Art that is a picture: nothing in it can be lacking.
    pub fn of(art: Art) -> Ready {
        Ready {
            art: Arc::new(art),
            regions: Vec::new(),
            lacks: BTreeSet::new(),
            overlong: Vec::new(),
            notes: Vec::new(),
        }
    }
}

/// Makes an SVG ready: `data` fills it in if it is a template; `hide` leaves the shapes of its tap areas out.
///
/// # Errors
/// What is wrong with the file, each with its line and column.
pub fn svg(
    svg: &SvgLoader,
    file: &str,
    text: &str,
    data: &Map<String, Value>,
    hide: bool,
) -> Result<Ready, Vec<Fault>> {
    let one = |fault: Fault| vec![fault];
    let text = fill::fill(file, text, data).map_err(one)?;
    let loaded = svg.read(file, &text).map_err(one)?;
    let linked = regions::find(svg, file, &text, &loaded.tree, hide)?;
    let tree = match &linked.cleared {
        Some(text) => svg.read(file, text).map_err(one)?.tree,
        None => loaded.tree,
    };
    if let Some(why) = inner::damaged(&tree) {
        let fault = Fault::new(format!("a picture in the drawing cannot be read ({why})"));
        return Err(one(fault.in_file(file).help("put it into the drawing anew, as PNG or JPEG")));
    }
    let overlong = overlong::find(&text, &tree);
    let scale = limits::raster_scale(&tree, drawings::FILTER_SCALE);
    limits::work(&tree, limits::Paper::Page(scale.into())).map_err(|f| one(f.in_file(file)))?;
    let size = Size::new(f64::from(tree.size().width()) * PT_PER_PX, f64::from(tree.size().height()) * PT_PER_PX);
    let mut notes = loaded.left_out;
    let mut text = linked.cleared.unwrap_or_else(|| text.into_owned());
    if let Some((name, once)) = drawn_once(&text) {
        notes.push(format!(
            "the gradient `{name}` repeats (spreadMethod), which no page of a PDF can: it is drawn once, and its last \
             colour goes on; write the repeats out as stops"
        ));
        text = once;
    }
    let drawing = SvgArt { text, fonts: svg.files().clone() };
    let art = Arc::new(Art { name: file.to_owned(), source: ArtBytes::Drawing(Arc::new(drawing)), size });
    Ok(Ready { art, regions: linked.regions, lacks: loaded.lacks, overlong, notes })
}

/// The drawing with gradients that repeat drawn once, and the name of the first of them. Shadings cannot repeat
/// (ISO 32000-1, 8.7.4.5.3: they extend or end), and functions that do so for them are not drawn alike everywhere.
fn drawn_once(text: &str) -> Option<(String, String)> {
    if !text.contains("spreadMethod") {
        return None;
    }
    let options = roxmltree::ParsingOptions { allow_dtd: true, ..Default::default() };
    // The drawing was read before: what cannot be read has been told.
    let doc = roxmltree::Document::parse_with_options(text, options).ok()?;
    let method = |node: &roxmltree::Node<'_, '_>| {
        node.attribute_node("spreadMethod")
            .filter(|a| matches!(a.value(), "reflect" | "repeat"))
            .map(|a| a.range_value())
    };
    let first = doc.descendants().find(|n| method(n).is_some())?;
    let mut once = text.to_owned();
    let mut places: Vec<_> = doc.descendants().filter_map(|n| method(&n)).collect();
    places.sort_by_key(|place| place.start);
    for place in places.into_iter().rev() {
        once.replace_range(place, "pad");
    }
    Some((first.attribute("id").unwrap_or_default().to_owned(), once))
}
