//! The tasks of one product, or of one of its variants: pieces of cut sheets, planned files, the pictures of all stickers.

use super::files;
use super::session::{Session, Task, all};
use super::values::{MadeBytes, Pictures, Rendered};
use base::model::drawing::Picture;
use base::model::finished::FinishedPlan;
use base::model::plan::Make;
use base::model::product::{CutSheet, Optimise, Sticker, StickerSource};
use base::model::{Artifact, Facts, Fault, Inspected, Item, Mm, Product, Sha, Size, Stop};
use draw::Fonts;
use plan::Made;
use rayon::prelude::*;
use render::pdf;
use render::stickers::contact::{Card, Layout, contact};
use render::stickers::{StickerContext, cut};
use std::sync::{Arc, OnceLock};

/// What files are rendered with.
pub struct RenderContext<'a> {
    /// What is built.
    pub product: &'a Product,
    /// Its fonts.
    pub fonts: &'a Fonts,
    /// Made when the first sticker is: it opens the fonts once more.
    context: OnceLock<StickerContext<'a>>,
}

impl<'a> RenderContext<'a> {
    /// The context of a product.
    pub fn new(product: &'a Product, fonts: &'a Fonts) -> RenderContext<'a> {
        RenderContext { product, fonts, context: OnceLock::new() }
    }

    fn context(&self) -> &StickerContext<'a> {
        self.context.get_or_init(|| {
            StickerContext::new(&self.product.style, self.fonts).effort(self.product.stickers.optimise.into())
        })
    }

    /// What a document says of itself, beside its plan.
    fn about(&self) -> pdf::About<'_> {
        pdf::About {
            author: &self.product.shop.name,
            language: &self.product.language,
            date: self.product.released,
            classic: self.product.classic_pdf,
            hasty: self.product.stickers.optimise == Optimise::Quick,
        }
    }

    /// The pieces of a sheet of drawings, with what there is to say of it.
    pub fn pieces(&self, session: &Session, sheet: &CutSheet) -> Result<(Vec<Sticker>, Vec<String>), Stop> {
        let task = Task::new("pieces of a sheet", &(&self.product.style, sheet));
        let made = session.ask(task, || {
            let cut = self.context().cut_sheet(sheet)?;
            let picture = |piece: Sticker| match piece.source {
                StickerSource::Png(picture) => Some((picture, piece.longest.0)),
                // Pieces are pixels, whatever the sheet was.
                StickerSource::Svg(..) | StickerSource::BuiltIn(..) => None,
            };
            Ok(Pictures { pictures: cut.stickers.into_iter().filter_map(picture).collect(), said: cut.notes })
        })?;
        let piece = |(picture, longest): &(_, f64)| cut::piece(&sheet.like, Arc::clone(picture), Mm(*longest));
        Ok((made.pictures.iter().map(piece).collect(), made.said.clone()))
    }

    /// The task of a planned file: all that its bytes are made of, and nothing else.
    pub fn task<'i>(&self, item: &'i Item) -> Task<'i> {
        let Product { style, stickers, art_fonts, .. } = self.product;
        let task = match &item.make {
            Make::Text(text) => Task::new("text", text),
            Make::Pdf(plan) => Task::new("drawn PDF", &(self.about(), &style.fonts, art_fonts, plan)),
            Make::Finished(plan) => Task::new("finished PDF", &(self.about(), &style.fonts, plan)),
            Make::Picture(plan) => Task::new("sheet of stickers", &(style, stickers.optimise, plan)),
            Make::Sticker(sticker) => Task::new("sticker", &(style, stickers.optimise, sticker)),
        };
        task.called(&item.path)
    }

    /// Makes a planned file.
    pub fn make(&self, item: &Item) -> Result<Rendered, Stop> {
        let at = |path: &str, why: String| Fault::new(why).in_file(path);
        let (bytes, said) = match &item.make {
            Make::Text(text) => (text.clone().into_bytes(), Vec::new()),
            Make::Pdf(plan) => {
                let bytes = pdf::write(plan, &self.about(), self.fonts).map_err(|why| at(&item.path, why))?;
                (bytes, Vec::new())
            }
            Make::Finished(plan) => {
                let bytes = pdf::finish(plan, &self.about(), self.fonts).map_err(|why| at(&plan.from, why))?;
                (bytes, overlaid(plan, self.product.classic_pdf))
            }
            Make::Picture(plan) => (self.context().sheet(plan).map_err(|fault| fault.in_file(&item.path))?, Vec::new()),
            Make::Sticker(sticker) => {
                let made = self.context().sticker(sticker)?;
                (made.png, made.notes)
            }
        };
        Ok(MadeBytes { bytes: bytes.into(), said })
    }

    /// All stickers with their names, on as many pictures as keep the names legible in the guide.
    pub fn contact_pictures(&self, session: &Session, made: &[Made], from: &[Sha]) -> Result<Arc<Pictures>, Stop> {
        let (product, fonts) = (self.product, self.fonts);
        if made.is_empty() || !product.guide.wanted {
            return Ok(Arc::default());
        }
        let cards: Vec<Card> = made
            .iter()
            .zip(&product.stickers.items)
            .map(|(m, s)| Card { name: &s.name, picture: &m.picture, placed: m.size })
            .collect();
        let columns = plan::contact_columns(product);
        // Rows are shared out evenly, so that no picture ends with a single one.
        let rows = cards.len().div_ceil(columns);
        let rows = rows.div_ceil(rows.div_ceil(plan::CONTACT_ROWS));
        let right_to_left = product.page.right_to_left;
        let width = 1400;
        let least = plan::contact_type(product) * f64::from(width);
        let layout = Layout { width, columns, least, ground: product.style.desk, right_to_left };
        let names: Vec<&str> = cards.iter().map(|card| card.name).collect();
        let sizes: Vec<Size> = made.iter().map(|m| m.size).collect();
        let task = Task::new(
            "contact pictures",
            &(&product.style, names, sizes, from, layout.width, (columns, rows), least.to_bits(), right_to_left),
        );
        session.ask(task, || {
            let page = |(i, cards): (usize, &[Card])| {
                let page = contact(cards, layout, &product.style, fonts)?;
                Ok((Arc::new(held_small(&page.picture(format!("all-stickers-{}.png", i + 1)))), 1.0))
            };
            let pages: Vec<_> = cards.par_chunks(rows * columns).enumerate().map(page).collect();
            Ok(Pictures { pictures: all(pages)?, said: Vec::new() })
        })
    }
}

/// The picture, its pixels held small.
fn held_small(picture: &Picture) -> Picture {
    Picture { rgba: picture.rgba.held_small(), ..picture.clone() }
}

/// The file that an item became.
pub fn file(item: &Item, made: &Rendered) -> Artifact {
    Artifact { path: item.path.clone(), kind: item.kind, bytes: made.bytes.clone() }
}

/// A finished sticker's pixels and its true size, from the file that buyers get.
pub fn finished_sticker(session: &Session, file: &Artifact, read: &Inspected) -> Result<Made, Stop> {
    let picture = files::pixels(session, file)?;
    // The file counts pixels in a metre; a resolution is meant as a round number of dots in an inch.
    let dpi = if let Facts::Png(png) = &read.facts { png.dpi().map(|d| (d * 100.0).round() / 100.0) } else { None };
    let dpi = dpi.ok_or_else(|| Fault::new("the sticker does not state its resolution").in_file(&file.path))?;
    let size = Size::new(f64::from(picture.width) / dpi * 72.0, f64::from(picture.height) / dpi * 72.0);
    Ok(Made { picture, size })
}

/// What comes from a finished file and what is laid over it, in numbers.
fn overlaid(plan: &FinishedPlan, classic: bool) -> Vec<String> {
    let counted = |n: usize, one: &str, many: &str| format!("{n} {}", if n == 1 { one } else { many });
    let from = &plan.from;
    let links = plan.facts.pages.iter().map(|p| p.links.len()).sum();
    let own = [
        counted(plan.facts.pages.len(), "page", "pages"),
        counted(links, "link", "links"),
        counted(plan.facts.outline.len(), "outline entry", "outline entries"),
    ]
    .join(", ");
    let mut notes = vec![match (plan.is_untouched(), plan.is_laid_over()) {
        (true, _) => format!("{from} is taken as it is, byte for byte: {own}"),
        (_, false) => format!("{from} is written anew, with nothing laid over it: {own}"),
        _ => {
            let over = &plan.over;
            let tabs = over.pages.iter().filter(|p| !p.drawing.shapes.is_empty()).count();
            let links = over.pages.iter().map(|p| p.links.len()).sum();
            let laid: Vec<String> = [
                (tabs > 0).then(|| format!("tabs on {}", counted(tabs, "page", "pages"))),
                (links > 0).then(|| counted(links, "tap area", "tap areas")),
                (!over.outline.is_empty()).then(|| counted(over.outline.len(), "outline entry", "outline entries")),
                (!over.labels.is_empty()).then(|| "page labels".to_owned()),
                (!plan.keep_outline).then(|| "its own outline left out".to_owned()),
            ]
            .into_iter()
            .flatten()
            .collect();
            format!("{from} has {own}; laid over it: {}", laid.join(", "))
        }
    }];
    if classic && !plan.rewrite {
        notes.push(format!("classic-pdf does not reach {from}: add rewrite = true under [notebook]"));
    }
    notes
}
