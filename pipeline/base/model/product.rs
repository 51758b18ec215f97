//! The product: what the manifest describes, resolved and typed, every default filled in.

pub use super::date::Date;
pub use super::drawing::FontFiles;
pub use super::font::FontFile;

use super::art::ArtPage;
use super::assets::Assets;
use super::drawing::Picture;
use super::fault::SourceSpan;
use super::finish::Finish;
use super::finished::Finished;
use super::geometry::Size;
pub use super::look::Pattern;
use super::look::{Manner, Material};
use super::placed::PlacedSticker;
use super::plan::Remark;
use super::planner::Dated;
use super::shot::Shot;
use super::structure::{Leaf, Parts, as_json};
use super::units::{Mm, Rgb};
use super::variant::Variants;
use super::versions::Rule;
use super::words::Words;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

pub use super::sticker::*;

/// One product.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Product {
    /// The folder that the manifest lies in; nothing that is made depends on it.
    #[borsh(skip)]
    pub root: PathBuf,
    /// The variants that it comes in, and the one that this is.
    pub variants: Variants,
    /// Its name, as buyers read it.
    pub name: String,
    /// Its name in paths: lower-case letters, digits, hyphens.
    pub slug: String,
    /// Version, as `1.0.0`.
    pub version: String,
    /// Release date.
    pub released: Date,
    /// Whether this version has been given to buyers: it may then not change.
    pub frozen: bool,
    /// Who sells it.
    pub shop: Shop,
    /// Language of its texts, a BCP 47 tag.
    pub language: String,
    /// The words that the tool puts on its pages.
    pub words: Words,
    /// The page.
    pub page: PageSetup,
    /// Colours, fonts, corners.
    pub style: Style,
    /// The notebook; `None` for a product without one.
    pub notebook: Option<Notebook>,
    /// The alternate covers, the notebook's own not among them.
    pub covers: Vec<Cover>,
    /// The stickers.
    pub stickers: StickerSet,
    /// The how-to guide.
    pub guide: Guide,
    /// The licence terms.
    pub licence: Licence,
    /// Whose the files are that went into the product.
    pub assets: Assets,
    /// What the listing says beyond the facts.
    pub listing: Listing,
    /// The listing pictures.
    pub shots: Vec<Shot>,
    /// The shop's limits.
    pub limits: Limits,
    /// Address for the delivery card, where not all files fit.
    pub delivery: Option<String>,
    /// Checks that the designer lowered: name, new severity, reason.
    pub lowered: BTreeMap<String, Lowered>,
    /// The rule by which version numbers follow from what changed.
    pub versions: Rule,
    /// When it is launched and what that takes; no file depends on it.
    #[borsh(skip)]
    pub launch: Option<super::launch::Launch>,
    /// PDF 1.4 without object streams, for old reader apps.
    pub classic_pdf: bool,
    /// Fonts of the product's folder that drawings may use beside those of the style.
    pub art_fonts: Vec<FontFile>,
    /// Values of the designer's own for drawings that are templates.
    #[borsh(serialize_with = "as_json")]
    pub data: serde_json::Map<String, serde_json::Value>,
    /// The products that go with it.
    pub sisters: Vec<Sister>,
    /// The products that it is made of, where it is a set.
    pub members: Vec<Member>,
    /// Every text of the manifest with its place, for messages that speak of one on a page.
    pub texts: Vec<(String, SourceSpan)>,
    /// Texts that the manifest has in another language, and not in the product's, with the place of one that there is.
    pub untranslated: Vec<(String, SourceSpan)>,
    /// What the manifest asks for and will not be seen, though nothing is at fault.
    pub remarks: Vec<Remark>,
}

/// A product that goes with this one, as far as anything of this one depends on it.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Sister {
    /// The way to its folder, as the manifest writes it.
    pub way: String,
    /// Where the manifest names it.
    pub place: SourceSpan,
    /// In what the two are said to agree.
    pub same: Vec<Same>,
    /// Its name.
    pub name: String,
    /// Its page.
    pub page: PageSetup,
    /// Its colours and fonts.
    pub style: Style,
    /// The colours of its sections.
    pub sections: Vec<Rgb>,
    /// All of it, for its picture: the variant of the same name as this one, or the leading one.
    #[borsh(skip)]
    pub product: Arc<Product>,
}

/// In what sisters agree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, borsh::BorshSerialize)]
pub enum Same {
    /// Width and height of the pages.
    PageSize,
    /// The side at which tabs lie.
    Tabs,
    /// Paper, ink, rules, ground and accent, and the colours of sections as far as both have some.
    Colours,
}

/// A product of a set.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Member {
    /// The way to its folder, as the set's manifest writes it.
    pub way: String,
    /// Where the manifest names it.
    pub place: SourceSpan,
    /// The product, or its variants with the leading one first; there is one at least.
    pub products: Arc<Vec<Product>>,
}

/// A check that the manifest lowers.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Lowered {
    /// Severity from now on; `None` switches the check off.
    pub to: Option<super::finding::Severity>,
    /// Why.
    pub reason: String,
}

/// Who sells the product.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Shop {
    /// Its name.
    pub name: String,
    /// Where buyers get help: an address or e-mail.
    pub contact: Option<String>,
}

/// The page that everything is drawn on.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct PageSetup {
    /// Size in points.
    pub size: Size,
    /// How the manifest named it: `tablet-4x3`, `240 × 180 mm`.
    pub named: String,
    /// Two papers side by side.
    pub spread: bool,
    /// Which edge the reader app's toolbar covers.
    pub toolbar_edge: Edge,
    /// How deep it is kept free.
    pub toolbar: Mm,
    /// The coil.
    pub coil: Coil,
    /// The hand that writes.
    pub hand: Hand,
    /// Whether the language is written from right to left: the page is mirrored as a whole.
    pub right_to_left: bool,
}

impl PageSetup {
    /// The edge that is kept free for the toolbar on the page as it is drawn, before it is mirrored: a reader app mirrors nothing.
    pub fn drawn_toolbar_edge(&self) -> Edge {
        match self.toolbar_edge {
            Edge::Left if self.right_to_left => Edge::Right,
            Edge::Right if self.right_to_left => Edge::Left,
            edge => edge,
        }
    }
}

/// The hand that writes: the tabs that are still to come lie on its side.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Hand {
    /// The left.
    Left,
    /// The right.
    #[default]
    Right,
}

/// An edge of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Edge {
    /// The top.
    Top,
    /// The bottom.
    Bottom,
    /// The left.
    Left,
    /// The right.
    Right,
}

/// The coil that holds the papers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Coil {
    /// Down the gutter of a spread.
    Middle,
    /// Along the top of the paper.
    Top,
    /// None.
    None,
}

/// Colours, fonts, corners.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Style {
    /// Font files by role.
    pub fonts: FontFiles,
    /// Text.
    pub ink: Rgb,
    /// Rules: mid grey unless told otherwise.
    pub rule: Rgb,
    /// Paper.
    pub paper: Rgb,
    /// What the papers lie on.
    pub desk: Rgb,
    /// The one accent.
    pub accent: Rgb,
    /// Corner radius of papers, tabs and boxes.
    pub corner: Mm,
    /// Shapes and manners.
    pub manner: Manner,
}

/// The notebook.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Notebook {
    /// Line above the label of the cover, and document title.
    pub title: String,
    /// Its own cover.
    pub cover: Cover,
    /// Text of the welcome page, in Markdown.
    pub welcome: String,
    /// The designer's own art for pages that there are once.
    pub art: FrontArt,
    /// Sections, 1 to 24; of a notebook with dated pages also none.
    pub sections: Vec<Section>,
    /// Templates, at least one.
    pub templates: Vec<Template>,
    /// The dated pages, where it has some.
    pub dated: Option<Arc<Dated>>,
    /// Which parts there are, and in which order.
    pub parts: Parts,
    /// The finished file that is taken in place of all that; its sections are then those of the tabs laid over it.
    pub finished: Option<Arc<Finished>>,
}

impl Notebook {
    /// The templates that buyers find in the overview, to copy.
    pub fn offered(&self) -> impl Iterator<Item = (usize, &Template)> {
        self.templates.iter().enumerate().filter(|(_, t)| t.offered)
    }

    /// Every sticker that stands on a page of it.
    pub fn placed_stickers(&self) -> impl Iterator<Item = &PlacedSticker> {
        let behind = self.sections.iter().flat_map(|s| &s.pages).flat_map(|leaf| &leaf.stickers);
        self.templates.iter().flat_map(|t| &t.stickers).chain(behind)
    }

    /// Whether any page of it is a drawing of the designer's, which may hold text.
    pub fn has_drawings(&self) -> bool {
        let front = [&self.art.welcome, &self.art.index, &self.art.overview];
        front
            .into_iter()
            .chain(self.sections.iter().map(|s| &s.art))
            .chain(self.templates.iter().map(|t| &t.art))
            .any(|art| art.as_ref().is_some_and(ArtPage::is_drawing))
            || self.cover.has_drawing()
    }
}

impl Cover {
    /// Whether it is a drawing of the designer's.
    pub fn has_drawing(&self) -> bool {
        matches!(&self.design, CoverDesign::Art(art) if art.is_drawing())
    }
}

/// The designer's own art in the place of pages that the tool would draw.
#[derive(Clone, Debug, Default, PartialEq, borsh::BorshSerialize)]
pub struct FrontArt {
    /// The welcome page.
    pub welcome: Option<ArtPage>,
    /// The index.
    pub index: Option<ArtPage>,
    /// The overview of all templates.
    pub overview: Option<ArtPage>,
}

/// A section.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Section {
    /// Its name; empty leaves the tab and the line blank.
    pub name: String,
    /// Its colour.
    pub colour: Rgb,
    /// The icon on its tab and divider, by the name of its motif.
    pub icon: Option<String>,
    /// Pages that stand behind its divider from the start.
    pub pages: Vec<Leaf>,
    /// Sections within it: each is a run of its pages, with a tab at their top. Pages before the first are its own.
    pub within: Vec<SectionWithin>,
    /// The designer's own art for the divider.
    pub art: Option<ArtPage>,
}

impl Section {
    /// Its pages in runs: those of its own, then those of each section within.
    pub fn runs(&self) -> Vec<&[Leaf]> {
        let ends = self.within.iter().map(|w| w.first).chain([self.pages.len()]);
        let begins = std::iter::once(0).chain(self.within.iter().map(|w| w.first));
        begins.zip(ends).map(|(from, to)| &self.pages[from..to]).collect()
    }
}

/// A section within a section.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct SectionWithin {
    /// Its name; empty leaves a number on its tab.
    pub name: String,
    /// Its colour.
    pub colour: Rgb,
    /// Which of the pages of the whole section is its first, from 0.
    pub first: usize,
}

/// A template.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Template {
    /// Its name, as buyers read it.
    pub name: String,
    /// Its name in places.
    pub slug: String,
    /// Name of the ruling, as `rulings::TABLE` lists it.
    pub ruling: String,
    /// The ruling's parameters, already checked.
    #[borsh(serialize_with = "as_json")]
    pub with: toml::Table,
    /// Ruling and parameters for the second half of the page, where the two differ.
    #[borsh(serialize_with = "as_json")]
    pub beside: Option<(String, toml::Table)>,
    /// The designer's own art in the place of the ruling.
    pub art: Option<ArtPage>,
    /// Whether it is offered for copying: listed in the overview, with a page of its own.
    pub offered: bool,
    /// The icon before its name in the overview and before the titles of its pages, by the name of its motif.
    pub icon: Option<String>,
    /// Stickers that stand on each of its pages, bottom first.
    pub stickers: Vec<PlacedSticker>,
}

/// A cover.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Cover {
    /// Its name.
    pub name: String,
    /// How it is drawn.
    pub design: CoverDesign,
    /// Main colour.
    pub colour: Rgb,
    /// Second colour.
    pub second: Rgb,
    /// What its board is made of; of no account under a picture or art, which cover it.
    pub material: Material,
    /// What is stamped into it and fitted to it.
    pub finish: Finish,
    /// Whether it has a blank label.
    pub label: bool,
    /// A line of text near the foot, usually the product's name; empty for none.
    pub line: String,
}

/// How a cover is drawn.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub enum CoverDesign {
    /// One colour.
    Flat,
    /// One colour with an elastic band.
    Banded,
    /// A frame of lines.
    Framed,
    /// A repeated motif.
    Patterned(Pattern),
    /// A picture over the whole page.
    Texture(Arc<Picture>),
    /// The designer's own art for the whole page.
    Art(Box<ArtPage>),
}

/// The how-to guide.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Guide {
    /// Whether one is made.
    pub wanted: bool,
    /// Where the text comes from, for messages.
    pub from: String,
    /// Markdown through tera.
    pub text: String,
    /// Pictures that the text names, by path.
    pub pictures: BTreeMap<String, Arc<Picture>>,
}

/// The licence terms.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Licence {
    /// Personal use is always allowed; small commercial use up to this many sold items, if at all.
    pub small_commercial: Option<u32>,
    /// Seats for a classroom, if allowed.
    pub classroom_seats: Option<u32>,
    /// What the designer says of refunds.
    pub refunds: Refunds,
    /// Credits for third-party fonts and art.
    pub credits: Vec<String>,
    /// A sentence or more of the designer's own.
    pub extra: Option<String>,
}

/// What the designer says of refunds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Refunds {
    /// None once downloaded, as far as local law allows.
    NoneOnceDownloaded,
    /// Within so many days.
    Days(u32),
    /// Says nothing.
    Unstated,
}

/// What the listing says beyond the facts.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize)]
pub struct Listing {
    /// Title.
    pub title: String,
    /// A sentence or two in front.
    pub summary: String,
    /// Tags.
    pub tags: Vec<String>,
}

/// The shop's limits, as they also stand in the record of a bundle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, borsh::BorshSerialize)]
pub struct Limits {
    /// Files per listing.
    pub files: usize,
    /// Size of a file in bytes.
    pub bytes: u64,
    /// Characters of a title.
    pub title: usize,
    /// Number of tags.
    pub tags: usize,
    /// Characters of a tag.
    pub tag: usize,
    /// Listing pictures, where the manifest says how many the shop takes.
    pub pictures: Option<usize>,
    /// Longest side of a listing picture in pixels, likewise.
    pub picture_pixels: Option<u32>,
    /// Size of a listing picture in bytes, likewise.
    pub picture_bytes: Option<u64>,
    /// Whether every variant is packed as an archive of its own.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub apart: bool,
}

impl Default for Limits {
    /// What shops commonly allow (common practice, no source).
    fn default() -> Limits {
        Limits {
            files: 5,
            bytes: 20_000_000,
            title: 140,
            tags: 13,
            tag: 20,
            pictures: None,
            picture_pixels: None,
            picture_bytes: None,
            apart: false,
        }
    }
}

impl Leaf {
    /// What it is called.
    pub fn title<'a>(&'a self, notebook: &'a Notebook) -> &'a str {
        if self.name.is_empty() {
            notebook.templates.get(self.template).map_or("", |t| t.name.as_str())
        } else {
            &self.name
        }
    }
}

impl Section {
    /// Whether any of its pages has a name of its own.
    pub fn names_pages(&self) -> bool {
        self.pages.iter().any(|leaf| !leaf.name.is_empty())
    }
}
