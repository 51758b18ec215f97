//! Rendering through the cache: what was made before of the same inputs is not made again.

use super::one;
use crate::checksum;
use crate::draw::Fonts;
use crate::model::plan::Make;
use crate::model::product::Sticker;
use crate::model::{Artifact, Fault, Item, Product};
use crate::render::pdf;
use crate::render::stickers::Workshop;
use crate::store::Cache;

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
    /// One digest over everything that was read.
    pub inputs: &'a str,
}

impl Bench<'_> {
    /// Makes a file of the plan.
    pub fn render(&self, item: &Item) -> Rendered {
        let artifact = |bytes| Artifact { path: item.path.clone(), kind: item.kind, bytes };
        match &item.make {
            Make::Text(text) => Ok((artifact(text.clone().into_bytes()), Vec::new())),
            Make::Pdf(pdf) => {
                let key = self.key(&format!("pdf {}", item.path));
                let bytes = self.cached(&key, || {
                    pdf::write(pdf, &self.about(), self.fonts).map_err(|why| vec![Fault::new(why).in_file(&item.path)])
                })?;
                Ok((artifact(bytes), Vec::new()))
            }
            Make::Picture(sheet) => {
                let key = self.key(&format!("picture {}", item.path));
                let bytes =
                    self.cached(&key, || self.workshop.sheet(sheet).map_err(|f| vec![f.in_file(&item.path)]))?;
                Ok((artifact(bytes), Vec::new()))
            }
            Make::Sticker(sticker) => self.sticker(sticker).map(|(bytes, notes)| (artifact(bytes), notes)),
        }
    }

    fn sticker(&self, sticker: &Sticker) -> Result<(Vec<u8>, Vec<String>), Vec<Fault>> {
        let mut notes = Vec::new();
        let key = self.key(&format!("sticker {sticker:?}"));
        let bytes = self.cached(&key, || {
            let made = self.workshop.sticker(sticker).map_err(one)?;
            notes = made.notes;
            Ok(made.png)
        })?;
        Ok((bytes, notes))
    }

    fn about(&self) -> pdf::About<'_> {
        pdf::About {
            author: &self.product.shop.name,
            language: &self.product.language,
            date: self.product.released,
            classic: self.product.classic_pdf,
        }
    }

    /// Key of a rendered thing: the tool, everything that was read, and what is made of it.
    fn key(&self, what: &str) -> String {
        let text = format!("{}\n{}\n{what}", env!("SHEAFWRIGHT_SOURCES"), self.inputs);
        checksum::sha256_hex(text.as_bytes())
    }

    fn cached(&self, key: &str, render: impl FnOnce() -> Result<Vec<u8>, Vec<Fault>>) -> Result<Vec<u8>, Vec<Fault>> {
        if let Some(bytes) = self.cache.and_then(|c| c.get(key)) {
            return Ok(bytes);
        }
        let bytes = render()?;
        if let Some(cache) = self.cache {
            cache.put(key, &bytes);
        }
        Ok(bytes)
    }
}
