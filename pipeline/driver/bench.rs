//! Rendering through the cache: what was made before of the same inputs is not made again.

use super::memory::Memory;
use super::progress::{Progress, Step};
use super::{keep, one};
use crate::store::Cache;
use base::model::finished::FinishedPlan;
use base::model::plan::Make;
use base::model::product::Sticker;
use base::model::{Artifact, Fault, Item, Product};
use draw::Fonts;
use render::pdf;
use render::stickers::Workshop;

/// A file and what is worth saying of it, or what is wrong.
pub type Rendered = Result<(Artifact, Vec<String>), Vec<Fault>>;

/// What rendering needs.
pub struct Bench<'a> {
    /// What is built.
    pub product: &'a Product,
    /// Its fonts.
    pub fonts: &'a Fonts,
    /// Where stickers are made.
    pub workshop: Workshop<'a>,
    /// What was made before, if it is kept.
    pub cache: Option<&'a Cache>,
    /// What earlier rounds of a watch left.
    pub memory: &'a Memory,
    /// One digest over the product's fonts.
    pub font_sum: &'a str,
    /// Told of every file that is made.
    pub say: &'a Progress,
}

impl<'a> Bench<'a> {
    /// A bench for a product.
    pub fn new(
        product: &'a Product,
        fonts: &'a Fonts,
        font_sum: &'a str,
        cache: Option<&'a Cache>,
        memory: &'a Memory,
        say: &'a Progress,
    ) -> Bench<'a> {
        let workshop = Workshop::new(&product.style, fonts).effort(product.stickers.optimise.into());
        Bench { product, fonts, workshop, cache, memory, font_sum, say }
    }
}

impl Bench<'_> {
    /// Whether both benches make the same file of the same plan.
    pub fn makes_as(&self, other: &Bench) -> bool {
        let about = self.about_key() == other.about_key() && self.font_sum == other.font_sum;
        let (mine, its) = (self.product, other.product);
        about && mine.style == its.style && mine.stickers.optimise == its.stickers.optimise
    }

    /// Makes a file of the plan.
    pub fn render(&self, item: &Item) -> Rendered {
        let made = self.made(item);
        (self.say)(Step::Done(&item.path));
        made
    }

    fn made(&self, item: &Item) -> Rendered {
        let artifact = |bytes| Artifact { path: item.path.clone(), kind: item.kind, bytes };
        match &item.make {
            Make::Text(text) => Ok((artifact(text.clone().into_bytes()), Vec::new())),
            Make::Pdf(pdf) => {
                let key = self.pdf_key(&item.path, pdf);
                let bytes = self.cached(&key, || {
                    pdf::write(pdf, &self.about(), self.fonts).map_err(|why| vec![Fault::new(why).in_file(&item.path)])
                })?;
                Ok((artifact(bytes), Vec::new()))
            }
            Make::Finished(finished) => {
                let key = self.finished_key(&item.path, finished);
                let bytes = self.cached(&key, || {
                    pdf::finish(finished, &self.about(), self.fonts)
                        .map_err(|why| vec![Fault::new(why).in_file(&finished.from)])
                })?;
                let notes = said(finished, self.product.classic_pdf);
                Ok((artifact(bytes), notes))
            }
            Make::Picture(sheet) => {
                let key = self.picture_key(&item.path, sheet);
                let bytes =
                    self.cached(&key, || self.workshop.sheet(sheet).map_err(|f| vec![f.in_file(&item.path)]))?;
                Ok((artifact(bytes), Vec::new()))
            }
            Make::Sticker(sticker) => self.sticker(sticker).map(|(bytes, notes)| (artifact(bytes), notes)),
        }
    }

    /// A sticker with what there is to say of it, which is kept beside its bytes.
    fn sticker(&self, sticker: &Sticker) -> Result<(Vec<u8>, Vec<String>), Vec<Fault>> {
        let key = self.sticker_key(sticker);
        if let Some(kept) = self.cache.and_then(|c| keep::recall(c, self.memory, &key)) {
            return Ok(kept);
        }
        let made = self.workshop.sticker(sticker).map_err(one)?;
        if let Some(cache) = self.cache {
            keep::keep(cache, self.memory, &key, &made.notes, &made.png);
        }
        Ok((made.png, made.notes))
    }

    fn about(&self) -> pdf::About<'_> {
        pdf::About {
            author: &self.product.shop.name,
            language: &self.product.language,
            date: self.product.released,
            classic: self.product.classic_pdf,
        }
    }

    fn cached(&self, key: &str, render: impl FnOnce() -> Result<Vec<u8>, Vec<Fault>>) -> Result<Vec<u8>, Vec<Fault>> {
        if let Some(bytes) = self.cache.and_then(|c| self.memory.get(c, key)) {
            return Ok(bytes.to_vec());
        }
        let bytes = render()?;
        if let Some(cache) = self.cache {
            self.memory.put(cache, key, &bytes);
        }
        Ok(bytes)
    }
}

/// What comes from a finished file and what is laid over it, in numbers.
fn said(plan: &FinishedPlan, classic: bool) -> Vec<String> {
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
