//! The manifest as written: one struct a table, every key optional, unknown keys refused.
//!
//! The comment above a key is what the manual, the schema for editors and `explain` say of it; `base::keys` has its form.

mod art;
mod finished;
mod fonts;
mod kin;
mod launch;
mod notebook;
mod shots;
mod stickers;
mod terms;
mod words;

pub use art::*;
pub use finished::*;
pub use fonts::*;
pub use kin::*;
pub use launch::*;
pub use notebook::*;
pub use shots::*;
pub use stickers::*;
pub use terms::*;
pub use words::*;

use super::values::{Colour, Length, PageSize};
use base::keys::Described;
use base::model::finish;
use base::model::look;
use serde::Deserialize;
use std::collections::BTreeMap;
use toml::Spanned;

type Word = Option<Spanned<String>>;

/// Keys of the top level that hold for a product as a whole, whatever its variants.
pub const TOP: [&str; 23] = [
    "translation-of",
    "translations",
    "name",
    "slug",
    "version",
    "released",
    "issued",
    "classic-pdf",
    "shop",
    "styles",
    "pictures",
    "picture",
    "assets",
    "licence",
    "listing",
    "limits",
    "delivery",
    "versions",
    "launch",
    "goes-with",
    "set",
    "lower",
    "variants",
];

/// The manifest of a product, `product.toml`.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Manifest {
    /// The product that this one is in another language, by the way to its folder: a listing of its own for each language. Its
    /// manifest and its files hold for this one too; what stands here goes before it, entry by entry as in a variant, and so does a
    /// file of the same path in this folder. `slug` is the original's with the language behind it.
    /// Default: it is no translation.
    /// Example: `translation-of = "../mending-log"`
    #[serde(rename = "translation-of")]
    pub _translation_of: Word,
    /// The name of the product, as buyers see it.
    /// Default: it must be given.
    /// Example: `name = "Allotment Year"`
    pub name: Word,
    /// The name of the product in files and folders: 1 to 60 lower-case letters, digits and hyphens.
    /// Default: made of the name.
    /// Example: `slug = "allotment-year"`
    pub slug: Word,
    /// The number of this version: three numbers with points. A change note says when to raise which.
    /// Default: "1.0.0".
    /// Example: `version = "1.2.0"`
    pub version: Word,
    /// The day of the release. It stands in the documents in place of the day of the build, so that the same product gives the same bytes.
    /// Default: it must be given.
    /// Example: `released = 2027-01-15`
    pub released: Option<Spanned<toml::value::Datetime>>,
    /// Whether buyers have this version. Then no build overwrites it with different bytes; `sheafwright release` does the same with a seal.
    /// Default: false.
    pub issued: bool,
    /// The language of the texts that the tool writes into pages, guide and terms, and the names of months and days, as a BCP 47 tag.
    /// Default: "en".
    /// Example: `language = "en-GB"`
    pub language: Word,
    /// Words in the place of those that the tool puts on pages.
    /// Default: those of the language, where the tool has its words, else English ones.
    /// Example: `words = { index = "Contents" }`
    pub words: Words,
    /// Your own texts in other languages, a table a language: names, titles, labels, and what the listing says, each by what it is
    /// in the rest of the manifest. They stand in every variant and every translation of that language; files and places keep the
    /// names that they have. A region goes before its language.
    /// Default: none.
    /// Example: `translations.de = { "Harbour Log" = "Hafenbuch" }`
    #[serde(rename = "translations")]
    pub _translations: BTreeMap<String, BTreeMap<String, String>>,
    /// Whether PDFs are written as PDF 1.4 does it, without object streams: larger, and for very old programs.
    /// Default: false.
    pub classic_pdf: bool,
    /// Who sells the product.
    /// Default: the product's name stands for the shop's.
    pub shop: Shop,
    /// The pages: size, papers, and what your reader app covers.
    /// Default: a landscape spread of 240 x 180 mm.
    pub page: Page,
    /// Colours and fonts of everything that is drawn.
    /// Default: a warm paper with a green accent.
    pub style: Style,
    /// Styles with a name, each with keys of `[style]`: what several products or variants can take, with `style.named`.
    /// Default: none.
    /// Example: `styles.winter = { accent = "#4a5f8a", paper = "#f7f9fc" }`
    #[serde(rename = "styles")]
    pub _styles: BTreeMap<String, Style>,
    /// The months of a dated planner, and what happens in them. The pages stand in `notebook.dated`.
    /// Default: the product has no dates.
    /// Example: `calendar = { first = "2027-01" }`
    /// `notebook = { dated = [{ pages = "month" }] }`
    pub calendar: Option<Spanned<calendar::table::CalendarTable>>,
    /// The notebook: cover, sections, templates, dated pages.
    /// Default: six blank sections with eight templates, where the product has no covers and stickers either.
    pub notebook: Option<Notebook>,
    /// Alternate covers, each a page of a PDF that buyers can paste from.
    /// Default: none.
    pub cover: Vec<Cover>,
    /// What all stickers share.
    /// Default: 300 dpi, with sheets as PDF and PNG.
    pub stickers: Stickers,
    /// Groups of stickers: a heading on the sheets, and what its stickers share.
    /// Default: none.
    pub sticker_group: Vec<Spanned<StickerGroup>>,
    /// Stickers, each a PNG on a clear ground and a picture on the sheets.
    /// Default: none.
    pub sticker: Vec<Spanned<Sticker>>,
    /// What all listing pictures share, and whether the usual set of them is made.
    /// Default: no pictures are made.
    pub pictures: Pictures,
    /// Listing pictures, one by one.
    /// Default: those of `pictures.usual`.
    pub picture: Vec<Spanned<Shot>>,
    /// Whose the files of the product are: the ledger out of which credits and cautions come.
    /// Default: no file is known to be yours, which is a finding for each.
    pub assets: Option<Assets>,
    /// The how-to guide.
    /// Default: one is written from the product.
    pub guide: Guide,
    /// What the licence terms say. They are a draft for your own review: the law where you sell stands above them.
    /// Default: personal use only.
    pub licence: Licence,
    /// What the listing says beyond the counted facts.
    /// Default: the product's name and its facts.
    pub listing: Listing,
    /// What the shop takes.
    /// Default: common practice of shops for downloads.
    pub limits: Limits,
    /// How the files reach buyers.
    /// Default: as uploads.
    pub delivery: Delivery,
    /// Which changes raise which number of the version, and when past buyers are told to download again.
    /// Default: the usual rule.
    pub versions: Option<Versions>,
    /// The day of the launch, and what is to be done by when. `sheafwright launch PRODUCT` shows the plan; no file of the bundle depends on it.
    /// Default: there is no plan.
    /// Example: `launch = { on = 2027-10-01 }`
    pub launch: Option<Spanned<Launch>>,
    /// Products that go with this one, each by the way to its folder: a line in the listing and in the guide names them, and the
    /// picture `together` shows them beside it. A table says besides in what they agree, which is then checked.
    /// Default: none.
    /// Example: `goes-with = ["../button-tin"]`
    pub goes_with: Vec<GoesWith>,
    /// The products that this one is made of, where it is a set. Its files are theirs, and its listing, guide, terms and uploads
    /// are its own. Without a `version` it has the sums of theirs, number by number: 1.0.0 and 1.2.1 make 2.2.1.
    /// Default: it is no set.
    /// Example: `set = { products = ["../mending-log", "../button-tin"] }`
    pub set: Option<Spanned<Set>>,
    /// Rows of choices, such as colourways and hands: every way to take one of each row is a variant. A choice holds the keys that it changes, and a `title`.
    /// Default: there is one product.
    /// Example: `variants.colourway.dusk = { style = { accent = "#4a5f8a" } }`
    /// `variants.colourway.plum = { style = { accent = "#7a4f7d" } }`
    #[serde(rename = "variants")]
    pub _variants: Option<Variants>,
    /// Checks that you lower for this product, each with a reason, which the report shows.
    /// Default: none.
    pub lower: Vec<Spanned<Lower>>,
    /// Values of your own for drawings that are templates.
    /// Default: none.
    /// Example: `data = { season = "spring" }`
    pub data: toml::Table,
}

impl Manifest {
    /// Whether it names nothing that makes a file, but perhaps a notebook.
    pub fn is_bare(&self) -> bool {
        self.cover.is_empty() && self.sticker.is_empty() && self.sticker_group.is_empty() && self.set.is_none()
    }
}

/// Taken out before the manifest is read; it stands there so that a word near to it is led to it.
pub struct Variants;

impl<'de> Deserialize<'de> for Variants {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Variants, D::Error> {
        serde::de::IgnoredAny::deserialize(d).map(|_| Variants)
    }
}

impl Described for Variants {
    fn shape() -> base::keys::Shape {
        use base::keys::Shape;
        // A row is a table of choices; `skip` is a list of ways that are left out.
        let choice = Shape::Map(Box::new(Shape::Free));
        let skip = Shape::List(Box::new(Shape::Map(Box::new(Shape::Free))));
        Shape::Map(Box::new(Shape::Either(vec![Shape::Map(Box::new(choice)), skip])))
    }
}

/// Who sells the product.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Shop {
    /// The name of the shop, in guide, terms and the facts of the files.
    /// Default: the product's name.
    /// Example: `name = "Fernlea Paper Room"`
    pub name: Word,
    /// Where buyers can ask: an address of mail or of a page.
    /// Default: none is named.
    /// Example: `contact = "help@example.com"`
    pub contact: Option<String>,
}

/// The pages: size, papers, and what your reader app covers.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Page {
    /// The size of a page: a name, or width and height with a unit. `paper` is the sheet that is printed on where the product's
    /// language is at home: A4, or Letter where its region has that, as `en-US`, `fr-CA` or `es-MX`.
    /// Default: "tablet-4x3".
    /// Example: `size = "240 x 180 mm"`
    pub size: Option<PageSize>,
    /// Which way a size that is given by name lies.
    /// Default: landscape where no size is given or the layout is a spread, else portrait.
    pub orientation: Option<Orientation>,
    /// One paper to a page, or two side by side as an open book.
    /// Default: a spread where no size is given and the page is landscape, else single.
    pub layout: Option<Layout>,
    /// The strip at the edge that your reader app's own buttons cover; nothing is drawn there that is to be tapped. At most a quarter of the page's shorter side.
    /// Range: 0 or more mm. Default: 8.
    /// Example: `toolbar = "10 mm"`
    pub toolbar: Option<Spanned<Length>>,
    /// The edge at which that strip lies.
    /// Default: "top".
    pub toolbar_edge: Option<EdgeName>,
    /// Where the coil is drawn, which leads to the index. One in the middle needs a spread.
    /// Default: the middle of a spread, the top of a single page.
    /// Example: `coil = "none"`
    pub coil: Option<Spanned<CoilName>>,
    /// The hand that writes: the tabs come from the side of the other one first.
    /// Default: "right".
    pub hand: Option<HandName>,
}

/// A hand.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum HandName {
    /// The pen is in the left hand.
    Left,
    /// The pen is in the right hand.
    Right,
}

/// Which way a page lies.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum Orientation {
    /// Higher than wide.
    Portrait,
    /// Wider than high.
    Landscape,
}

/// How many papers a page shows.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum Layout {
    /// One paper.
    Single,
    /// Two papers side by side.
    Spread,
}

/// An edge of the page.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum EdgeName {
    /// The upper one.
    Top,
    /// The lower one.
    Bottom,
    /// The left one.
    Left,
    /// The right one.
    Right,
}

/// Where a coil is drawn.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum CoilName {
    /// Between the two papers of a spread.
    Middle,
    /// Along the upper edge.
    Top,
    /// Nowhere.
    None,
}

/// Colours and fonts of everything that is drawn.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Style {
    /// The colour of words.
    /// Default: "#333138", and "#eeeae2" on dark paper.
    /// Example: `ink = "#2b2a33"`
    pub ink: Option<Colour>,
    /// The colour of rules and grids.
    /// Default: a grey between ink and paper at a contrast of 1.9 : 1.
    /// Example: `rule = "#b9b4a8"`
    pub rule: Option<Colour>,
    /// The colour of the papers.
    /// Default: "#fdfbf6".
    /// Example: `paper = "#fffdf7"`
    pub paper: Option<Colour>,
    /// The colour round the papers.
    /// Default: a step darker than the paper, with a breath of the accent.
    /// Example: `desk = "#e7e3da"`
    pub desk: Option<Colour>,
    /// The colour of what stands out: headings, covers, stickers without a colour of their own; the colours of sections go round from it.
    /// Default: "#4c8056", a green.
    /// Example: `accent = "#5f7d5a"`
    pub accent: Option<Colour>,
    /// The radius of corners of papers, tabs and boxes.
    /// Range: 0 to 20 mm. Default: 2.5.
    /// Example: `corner = "3 mm"`
    pub corner: Option<Spanned<Length>>,
    /// The colours of the tabs, in the order of the sections; they are gone through again and again.
    /// Default: a family of soft colours that begins at the accent.
    /// Example: `sections = ["#c8d5b9", "#f0d9b5", "#e3b7a0"]`
    pub sections: Vec<Colour>,
    /// Fonts of your own.
    /// Default: Libertinus Serif for headings, Noto Sans for everything else.
    pub fonts: Fonts,
    /// A style out of `[styles]`, of this file or of the shop's. What stands beside it goes before it, and it goes before what the
    /// product says, where a variant takes it, and before what the shop says.
    /// Default: none.
    /// Example: `named = "winter"`
    pub named: Word,
    /// A whole of colours, typefaces and manners: one that comes along, or `looks/NAME.toml` of the product. What `[style]` says
    /// beside it goes before it.
    /// Default: none; each part then has the default of its own key.
    /// Example: `look = "pressed-fern"`
    #[keys(of = "look")]
    pub look: Word,
    /// The outer side of tabs.
    /// Default: "rounded".
    /// Example: `tabs = "arched"`
    pub tabs: Option<look::TabShape>,
    /// What holds the papers together.
    /// Default: "rings".
    /// Example: `binding = "thread"`
    pub binding: Option<look::Binding>,
    /// What rings, wires and discs are made of, or the colour of the thread.
    /// Default: "silver".
    /// Example: `metal = "brass"`
    pub metal: Option<look::Metal>,
    /// The grain of the papers of the notebook.
    /// Default: "smooth".
    /// Example: `grain = "laid"`
    pub grain: Option<look::Grain>,
    /// The titles of index, overview and named pages.
    /// Default: "plain".
    /// Example: `heading = "flourish"`
    pub heading: Option<look::Heading>,
    /// The rules that are written on.
    /// Default: "line".
    /// Example: `rules = "dotted"`
    pub rules: Option<look::Rules>,
    /// The face of dividers.
    /// Default: "full".
    /// Example: `divider = "arch"`
    pub divider: Option<look::Divider>,
    /// The entries of the index.
    /// Default: "boxes".
    /// Example: `index = "cards"`
    pub index: Option<look::Index>,
    /// The figures among words, in names, titles, labels and texts, where a font has such figures: Libertinus Serif, Crimson Pro, Zilla
    /// Slab, Karla, Nunito, Work Sans, Playfair Display and Patrick Hand have both kinds. Figures without a word beside them, as in
    /// tables and calendars, stay as they are: as high as capitals, and in labels of one width, where the font has them so.
    /// Default: those that each font has by itself.
    /// Example: `figures = "oldstyle"`
    pub figures: Option<Spanned<look::Figures>>,
    /// The small labels of page designs (names above columns, before rows and on lines) and the names below the pictures of the overview,
    /// where the font of labels has small capitals: Libertinus Serif, Zilla Slab, Work Sans and Playfair Display have them.
    /// Default: "plain".
    /// Example: `capitals = "small"`
    /// `fonts = { label = "Work Sans" }`
    pub capitals: Option<Spanned<look::Capitals>>,
    /// How the notebook's cover is drawn where the cover itself does not say it.
    /// Default: "flat".
    /// Example: `cover = "leaves"`
    pub cover: Option<look::Cover>,
    /// The colour of that cover.
    /// Default: the accent.
    /// Example: `board = "#5c6d5a"`
    pub board: Option<Colour>,
    /// What the boards of covers are made of where a cover itself does not say it.
    /// Default: "plain".
    /// Example: `material = "linen"`
    pub material: Option<look::Material>,
    /// The shape of the blank label, where a cover itself does not say it.
    /// Default: "rectangle".
    /// Example: `label-shape = "arch"`
    pub label_shape: Option<finish::LabelShape>,
    /// The foil with which the words at the foot, the lines of a frame and the emblem are stamped, where a cover itself does not say it.
    /// Default: "none".
    /// Example: `foil = "gold"`
    pub foil: Option<finish::Foil>,
    /// An emblem that is stamped into the board below the label, or in its place where there is none: in foil, or blind, where a cover itself does not say it.
    /// Default: "none".
    /// Example: `stamp = "sprig"`
    pub stamp: Option<finish::Stamp>,
    /// Quarter binding: what the strip along the spine is made of, where a cover itself does not say it.
    /// Default: "none".
    /// Example: `quarter = "linen"`
    pub quarter: Option<finish::Quarter>,
    /// The colour of that strip, where a cover itself does not say it.
    /// Default: made of the board's.
    /// Example: `quarter-colour = "#3d4a3c"`
    pub quarter_colour: Option<Colour>,
    /// What guards the two outer corners: metal as the foil or the `metal` of the style says, or cloth, where a cover itself does not say it.
    /// Default: "none".
    /// Example: `corner-pieces = "metal"`
    pub corner_pieces: Option<finish::CornerPieces>,
    /// Stitches of thread through the board, where a cover itself does not say it.
    /// Default: "none".
    /// Example: `stitching = "round"`
    pub stitching: Option<finish::Stitching>,
    /// An elastic that holds the book shut; it takes the place of the band of a banded cover, where a cover itself does not say it.
    /// Default: "none".
    /// Example: `elastic = "upright"`
    pub elastic: Option<finish::Elastic>,
    /// How many ribbons hang out at the foot, where a cover itself does not say it.
    /// Range: 0 to 3. Default: 0.
    /// Example: `ribbons = 2`
    pub ribbons: Option<Spanned<u32>>,
    /// The colour of elastic, ribbons, thread and cloth corners, where a cover itself does not say it.
    /// Default: the second colour of the cover.
    /// Example: `trim = "#e9efe2"`
    pub trim: Option<Colour>,
}
