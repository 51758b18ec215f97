//! SVG drawings as pages of one PDF file, so that every face that they use is cut down and stored once.

use crate::limits;
use crate::svg_loader::SvgLoader;
use base::model::Fault;
use base::model::drawing::SvgArt;
use base::model::panics;
use krilla::configure::{Configuration, ConfigurationBuilder, PdfVersion};
use krilla::error::KrillaError;
use krilla::geom::Size;
use krilla::page::PageSettings;
use krilla::{Document, SerializeSettings};
use krilla_svg::{SurfaceExt, SvgSettings};
use rayon::prelude::*;
use resvg::usvg::Tree;
use std::num::NonZeroU64;
use std::sync::Arc;

/// Pixels in a unit of a drawing where a filter has to be shown as a picture.
pub const FILTER_SCALE: f32 = 3.0;

/// Makes a file of the drawings, a page each, a point a CSS pixel. `names` are the files that they come from; `classic`
/// asks for what PDF 1.4 has.
///
/// The result depends on the arguments alone: the library numbers its objects and the glyphs of a font in the order of
/// their first use.
///
/// # Errors
/// A drawing that cannot be read again, a picture in it that is damaged, a font that cannot be cut down.
pub fn pages(drawings: &[(&str, &SvgArt)], classic: bool) -> Result<Vec<u8>, String> {
    let mut presses: Vec<SvgLoader> = Vec::new();
    let mut with = Vec::with_capacity(drawings.len());
    for (_, drawing) in drawings {
        let known = presses.iter().position(|p| Arc::ptr_eq(p.files(), &drawing.fonts) || *p.files() == drawing.fonts);
        with.push(known.unwrap_or_else(|| {
            presses.push(SvgLoader::of(drawing.fonts.clone()));
            presses.len() - 1
        }));
    }
    let trees: Result<Vec<Tree>, String> = (drawings, &with)
        .into_par_iter()
        .map(|((name, drawing), svg)| Ok(presses[*svg].read(name, &drawing.text).map_err(told)?.tree))
        .collect();
    let trees = trees?;
    let settings = settings(classic)?;
    panics::fenced(|| document(&trees, drawings, settings)).map_err(|gave_up| {
        let names: Vec<&str> = drawings.iter().map(|(name, _)| *name).collect();
        gave_up.fault("drawing", &names.join(", ")).to_string()
    })?
}

/// The file of these trees, a page each.
fn document(trees: &[Tree], drawings: &[(&str, &SvgArt)], settings: SerializeSettings) -> Result<Vec<u8>, String> {
    let mut document = Document::new_with(settings);
    for ((i, tree), (name, _)) in trees.iter().enumerate().zip(drawings) {
        let size = (tree.size().width(), tree.size().height());
        let wrong = || format!("{name}: the drawing cannot be made into a page");
        let page = PageSettings::from_wh(size.0, size.1).ok_or_else(wrong)?;
        // Of a picture that cannot be read, the library says at which place it stood.
        document.set_location(NonZeroU64::MIN.saturating_add(i as u64));
        let mut page = document.start_page_with(page);
        let mut surface = page.surface();
        let options = SvgSettings { embed_text: true, filter_scale: limits::raster_scale(tree, FILTER_SCALE) };
        surface.draw_svg(tree, Size::from_wh(size.0, size.1).ok_or_else(wrong)?, options).ok_or_else(wrong)?;
        surface.finish();
        page.finish();
    }
    document.finish().map_err(|e| refused(e, drawings))
}

fn settings(classic: bool) -> Result<SerializeSettings, String> {
    let configuration: Configuration = ConfigurationBuilder::new()
        .with_version(if classic { PdfVersion::Pdf14 } else { PdfVersion::Pdf17 })
        .finish()
        .map_err(|e| format!("{e:?}"))?;
    Ok(SerializeSettings {
        // Packed once, when the document is written.
        compress_content_streams: false,
        xmp_metadata: false,
        enable_tagging: false,
        configuration,
        ..SerializeSettings::default()
    })
}

fn told(fault: Fault) -> String {
    fault.to_string()
}

fn refused(error: KrillaError, drawings: &[(&str, &SvgArt)]) -> String {
    let at = |location: Option<NonZeroU64>| {
        let name = location.and_then(|n| drawings.get(usize::try_from(n.get() - 1).ok()?)).map(|(name, _)| *name);
        name.unwrap_or("a drawing").to_owned()
    };
    match error {
        KrillaError::Image(_, location, why) => {
            format!("{}: a picture in the drawing cannot be read ({why})", at(location))
        }
        KrillaError::Font(font, why) => format!("{font:?}: the font cannot be cut down to the glyphs in use ({why})"),
        other => format!("the drawings cannot be made into pages: {other:?}"),
    }
}
