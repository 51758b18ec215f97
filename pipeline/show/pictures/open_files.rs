//! What pictures are made of: pages of the finished notebook, covers and stickers, drawn from their files at the size at
//! which they are shown.

use super::shade::Shade;
use base::model::drawing::Picture;
use base::model::{Artifact, Blob, Facts, Inspected, Kind, Sha, Size, Variants};
use draw::cover::Side;
use inspect::Reader;
use inspect::pdf::drawing::Unopened;
use raster::{Raster, resize};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The finished files, open.
pub struct OpenFiles {
    notebook: Option<Unopened>,
    covers: Option<Unopened>,
    /// Sizes of the notebook's pages in points.
    pub pages: Vec<Size>,
    /// Sizes of the alternate covers in points.
    pub alternates: Vec<Size>,
    /// The stickers.
    pub stickers: Vec<Sticker>,
    /// The notebook's first page in each variant.
    pub variants: Vec<Front>,
    /// Products beside each other.
    pub kin: Vec<Kin>,
}

/// The first page of a variant's notebook.
pub struct Front {
    /// Its size in points.
    pub size: Size,
    /// Digest of what it draws and of how it lies; `None` where that is no number.
    pub look: Option<Sha>,
    pub(super) pdf: Unopened,
}

/// A product as it looks from outside.
pub struct Kin {
    /// Its name.
    pub(super) name: String,
    pub(super) form: Form,
    /// What is shown of it.
    pub(super) seen: Seen,
}

/// What is shown of a product.
pub(super) enum Seen {
    /// The first page of a file.
    Page(Front),
    /// A picture.
    Picture(Sticker, Sha),
}

/// How it lies there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Form {
    /// A closed book: whether its art fills the page, the radius of its papers' corners in points, and where its spine lies.
    Book { whole: bool, corner: f64, spine: Side },
    /// A sheet of paper.
    Sheet,
    /// Something with an outline of its own.
    Loose,
}

impl Kin {
    /// Digest of what is shown of it.
    pub(super) fn look(&self) -> Option<Sha> {
        match &self.seen {
            Seen::Page(front) => front.look,
            Seen::Picture(_, look) => Some(*look),
        }
    }

    /// Its size in points.
    pub(super) fn size(&self) -> Size {
        match &self.seen {
            Seen::Page(front) => front.size,
            Seen::Picture(sticker, _) => sticker.size,
        }
    }
}

/// A finished sticker.
pub struct Sticker {
    /// Its name: that of its file, without number and ending.
    pub name: String,
    /// Its size in points.
    pub size: Size,
    bytes: Blob,
}

impl OpenFiles {
    /// Opens the files of a bundle: those of the leading variant, and the first page of each.
    pub fn open(variants: &Variants, contents: &[Artifact], inspected: &[Inspected], reader: &dyn Reader) -> OpenFiles {
        let mine = || contents.iter().filter(|a| variants.has(&a.path));
        let of = |kind: Kind| mine().find(|a| a.kind == kind).map(|a| Unopened::new(a.bytes.clone()));
        let sizes = |kind: Kind| {
            inspected.iter().find(|i| i.kind == Some(kind) && variants.has(&i.path)).map_or(Vec::new(), |i| {
                match &i.facts {
                    Facts::Pdf(pdf) => pdf.pages.iter().map(|p| p.size).collect(),
                    _ => Vec::new(),
                }
            })
        };
        let read: BTreeMap<&str, &Facts> = inspected.iter().map(|i| (i.path.as_str(), &i.facts)).collect();
        let stickers =
            mine().filter(|a| a.kind == Kind::Sticker).filter_map(|a| sticker(a, read.get(a.path.as_str())?));
        OpenFiles {
            notebook: of(Kind::Notebook),
            covers: of(Kind::Covers),
            pages: sizes(Kind::Notebook),
            alternates: sizes(Kind::Covers),
            stickers: stickers.collect(),
            variants: fronts(variants, contents, &read, reader),
            kin: Vec::new(),
        }
    }

    /// The size in points of what an address names.
    pub fn size(&self, address: &str) -> Option<Size> {
        if let Some(shade) = Shade::at(address) {
            return Some(shade.size());
        }
        let (kind, index) = parts(address)?;
        match kind {
            "page" => self.pages.get(index).copied(),
            "cover" => self.alternates.get(index).copied(),
            "sticker" => self.stickers.get(index).map(|s| s.size),
            "variant" => self.variants.get(index).map(|v| v.size),
            "kin" => self.kin.get(index).map(Kin::size),
            _ => None,
        }
    }

    /// Draws what an address names, `width` pixels wide.
    pub fn draw(&self, address: &str, width: f64) -> Option<Raster> {
        if let Some(shade) = Shade::at(address) {
            return Some(shade.pixels(width));
        }
        let (kind, index) = parts(address)?;
        let size = self.size(address)?;
        let scale = scale(size, width);
        let (pdf, index) = match kind {
            "page" => (self.notebook.as_ref()?, index),
            "cover" => (self.covers.as_ref()?, index),
            "variant" => (&self.variants.get(index)?.pdf, 0),
            "kin" => match &self.kin.get(index)?.seen {
                Seen::Page(front) => (&front.pdf, 0),
                Seen::Picture(sticker, _) => return sticker.pixels(width),
            },
            _ => return self.stickers.get(index)?.pixels(width),
        };
        let made = pdf.get()?.pixels(index, scale)?;
        Some(Raster { w: made.width, h: made.height, px: made.rgba.as_chunks::<4>().0.to_vec() })
    }
}

/// How large a page is drawn to be so many pixels wide: a hair more than that, for pixels are cut off, not rounded.
fn scale(size: Size, width: f64) -> f64 {
    (width.round().max(1.0) + 0.01) / size.w
}

/// How many rows of pixels the drawing of a page has that is so many pixels wide.
pub(super) fn rows(size: Size, width: f64) -> f64 {
    (size.h * scale(size, width)).floor().max(1.0)
}

/// A finished sticker, or another picture that states its resolution.
pub(super) fn sticker(file: &Artifact, facts: &Facts) -> Option<Sticker> {
    let Facts::Png(png) = facts else { return None };
    let points = 72.0 / png.dpi().unwrap_or(300.0);
    let name = file.name().trim_end_matches(".png").trim_start_matches(|c: char| c.is_ascii_digit() || c == '-');
    let size = Size::new(f64::from(png.width) * points, f64::from(png.height) * points);
    Some(Sticker { name: name.to_owned(), size, bytes: file.bytes.clone() })
}

impl Sticker {
    fn pixels(&self, width: f64) -> Option<Raster> {
        let picture = image::load_from_memory(&self.bytes).ok()?.into_rgba8();
        let (w, h) = picture.dimensions();
        let rgba = picture.into_raw().into();
        let whole = Raster::of(&Picture { name: String::new(), width: w, height: h, rgba });
        Some(smaller(whole, width))
    }
}

/// The first page of every variant's notebook: its own, or the one that all share.
fn fronts(
    variants: &Variants,
    contents: &[Artifact],
    read: &BTreeMap<&str, &Facts>,
    reader: &dyn Reader,
) -> Vec<Front> {
    let of = |mine: usize| {
        let mine = Variants { mine, ..variants.clone() };
        let file = contents.iter().find(|a| a.kind == Kind::Notebook && mine.has(&a.path))?;
        let Some(Facts::Pdf(facts)) = read.get(file.path.as_str()) else { return None };
        let page = facts.pages.first()?;
        let look = Sha::of_value(&(reader.fingerprints(&file.bytes).first()?.digest, page.frame())).ok();
        Some(Front { size: page.size, look, pdf: Unopened::new(file.bytes.clone()) })
    };
    (0..variants.all.len()).map_while(of).collect()
}

/// A picture of the designer's, at the size at which it is shown.
pub fn art(picture: &Arc<Picture>, width: f64) -> Raster {
    smaller(Raster::of(picture), width)
}

/// Made smaller in linear light where there is more than is shown; never larger.
fn smaller(whole: Raster, width: f64) -> Raster {
    let w = width.round().max(1.0) as usize;
    if w >= whole.w {
        return whole;
    }
    let h = ((whole.h * w) as f64 / whole.w as f64).round().max(1.0) as usize;
    resize::resize(&whole, w, h)
}

/// `page/12` is the kind and the index from 0.
fn parts(address: &str) -> Option<(&str, usize)> {
    let (kind, number) = address.split_once('/')?;
    Some((kind, number.parse::<usize>().ok()?.checked_sub(1)?))
}
