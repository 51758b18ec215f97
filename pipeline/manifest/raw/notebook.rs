//! `[notebook]` with its sections and templates, and covers.

use super::Word;
use super::art::{Art, ArtKeys, ArtLink, FitName, NavigationName, RoomName, Side, Welcome, artful};
use super::finished::{Labels, OutlineEntry, OverLink, Tabs};
use crate::values::{Colour, Length};
use base::keys::{Described, Shape};
use base::model::finish;
use base::model::look;
use base::model::weekday::Weekday;
use serde::de::value::SeqAccessDeserializer;
use serde::de::{Error, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer};
use std::collections::BTreeMap;
use std::fmt;
use toml::Spanned;

/// The notebook: cover, sections, templates, dated pages.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Notebook {
    /// The title on cover and welcome page.
    /// Default: the product's name.
    /// Example: `title = "Allotment Year"`
    pub title: Word,
    /// The day on which the weeks of all templates and stickers begin, where they do not say it themselves.
    /// Default: "monday".
    pub first_day: Option<Weekday>,
    /// The first page.
    /// Default: a framed cover in the accent.
    /// Example: `cover = { design = "banded" }`
    pub cover: Option<Cover>,
    /// The words of the welcome page, the path of a Markdown file, or art.
    /// Default: a short welcome.
    /// Example: `welcome = "Welcome to the plot."`
    pub welcome: Option<Spanned<Welcome>>,
    /// Art for the page that lists all sections.
    /// Default: the tool draws it.
    /// Example: `index = { art = "art/map.svg" }`
    pub index: Option<Art>,
    /// Art for the page that shows all templates.
    /// Default: the tool draws it.
    /// Example: `overview = { art = "art/map.svg" }`
    pub overview: Option<Art>,
    /// Art for the dividers of all sections that have none of their own.
    /// Default: the tool draws them.
    /// Example: `divider = { art = "art/map.svg" }`
    pub divider: Option<Art>,
    /// Which parts the notebook has, in which order.
    /// Default: cover, welcome, index, sections, overview, templates.
    /// Example: `parts = ["cover", "index", "sections", "templates"]`
    pub parts: Option<Spanned<Vec<Spanned<PartName>>>>,
    /// Whether sections begin with a page of their own.
    /// Default: true.
    /// Example: `dividers = false`
    /// `section = [{ name = "Notes", pages = [{ template = "lined", count = 2 }] }]`
    pub dividers: Option<Spanned<bool>>,
    /// Whether the pages have a foot with the title, which leads to the cover.
    /// Default: true.
    pub foot: Option<Spanned<bool>>,
    /// Whether the pages have the four little squares that lead to the overview.
    /// Default: true.
    pub marks: Option<Spanned<bool>>,
    /// Whether the stickers that pages name stand on them; a variant may leave them all off.
    /// Default: true.
    /// Example: `decorated = false`
    pub decorated: Option<Spanned<bool>>,
    /// The sections: a tab and a divider each, with the pages behind it. At most 24.
    /// Default: six blank ones, or none beside dated pages.
    /// Example: `section = [{ name = "Sowing" }, { name = "Harvest" }]`
    pub section: Vec<Spanned<Section>>,
    /// The page designs that buyers copy from, each once at the end of the notebook.
    /// Default: eight of the tool's rulings.
    /// Example: `template = [{ ruling = "lined" }, { ruling = "dot-grid" }]`
    pub template: Vec<Spanned<Template>>,
    /// Sets of dated pages, which stand before the sections. The months stand in `calendar`.
    /// Default: none.
    /// Example: `dated = [{ pages = "week" }]`
    pub dated: Vec<Spanned<Dated>>,
    /// The tabs of the months.
    /// Default: by the room that there is.
    /// Example: `months = { label = "narrow" }`
    pub months: Option<Months>,
    /// A finished PDF that is the notebook: it is taken as it is, and tabs, tap areas and an outline are laid over it.
    /// Default: the tool draws the notebook.
    /// Example: `file = "exports/notebook.pdf"`
    pub file: Word,
    /// Whether a finished PDF is written anew, in place of what is added being put behind it.
    /// Default: false.
    /// Example: `file = "exports/notebook.pdf"`
    /// `rewrite = true`
    pub rewrite: Option<Spanned<bool>>,
    /// Tabs over a finished PDF, one for each section.
    /// Default: on all pages.
    /// Example: `file = "exports/notebook.pdf"`
    /// `section = [{ name = "Start", page = 1 }]`
    /// `tabs = { depth = "9 mm" }`
    pub tabs: Option<Spanned<Tabs>>,
    /// Tap areas over a finished PDF.
    /// Default: none.
    /// Example: `file = "exports/notebook.pdf"`
    /// `link = [{ pages = 1, to = "page/1", at = [10, 5, 40, 12] }]`
    pub link: Option<Spanned<Vec<Spanned<OverLink>>>>,
    /// Pages of a finished PDF that have a name: cover, welcome, index, templates, template/….
    /// Default: sections alone.
    /// Example: `file = "exports/notebook.pdf"`
    /// `places = { index = 1 }`
    pub places: Option<Spanned<BTreeMap<String, Spanned<u32>>>>,
    /// The outline of a finished PDF, beside the one that it has.
    /// Default: made of the sections.
    /// Example: `file = "exports/notebook.pdf"`
    /// `outline = [{ title = "Start", page = 1 }]`
    pub outline: Option<Spanned<Vec<Spanned<OutlineEntry>>>>,
    /// Whether the outline that a finished PDF has is kept.
    /// Default: true.
    /// Example: `file = "exports/notebook.pdf"`
    /// `keep-outline = false`
    pub keep_outline: Option<Spanned<bool>>,
    /// How the pages of a finished PDF are numbered in readers.
    /// Default: as in the file.
    /// Example: `file = "exports/notebook.pdf"`
    /// `labels = [{ from = 1 }]`
    pub labels: Option<Spanned<Vec<Spanned<Labels>>>>,
}

artful! {
    /// A section: a tab, a divider and the pages behind it.
    pub struct Section {
        /// Its name on tab and divider; empty for one that buyers label themselves.
        /// Default: empty.
        /// Example: `name = "Sowing"`
        pub name: String,
        /// The colour of its tab.
        /// Default: the next of `style.sections`.
        /// Example: `colour = "#c8d5b9"`
        pub colour: Option<Colour>,
        /// An icon in the place of its name on the tab, and of its number in the index and on the divider: that of a motif which is
        /// a figure in a round mark.
        /// Default: none.
        /// Example: `icon = "sprout"`
        #[keys(of = "icon")]
        pub icon: Word,
        /// The pages behind its divider: templates, so many of each.
        /// Default: none.
        /// Example: `pages = [{ template = "lined", count = 3 }]`
        pub pages: Vec<Spanned<SectionPages>>,
        /// Sections within it, at most 12, each with a tab of its own along its pages.
        /// Default: none.
        /// Example: `section = [{ name = "Early" }, { name = "Late" }]`
        pub section: Vec<Spanned<SectionWithin>>,
        /// In a finished notebook: the last page of the section.
        /// Default: the one before the next section.
        /// Example: `page = 1`
        /// `last-page = 1`
        pub last_page: Option<Spanned<u32>>,
    }
}

/// A section within a section.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct SectionWithin {
    /// Its name on tab and divider.
    /// Default: empty.
    /// Example: `name = "Early"`
    pub name: String,
    /// The colour of its tab.
    /// Default: that of the section.
    /// Example: `colour = "#c8d5b9"`
    pub colour: Option<Colour>,
    /// The pages behind its divider.
    /// Default: none.
    /// Example: `pages = [{ template = "lined", count = 3 }]`
    pub pages: Vec<Spanned<SectionPages>>,
}

/// Pages behind a divider.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct SectionPages {
    /// Which template: its slug.
    /// Default: it must be given.
    /// Example: `template = "lined"`
    pub template: Word,
    /// How many of it.
    /// Default: 1.
    /// Example: `count = 3`
    pub count: Option<Spanned<u32>>,
    /// Their name in outline and index.
    /// Default: the template's.
    /// Example: `name = "Beds"`
    pub name: Word,
    /// Values of your own for a template that is a drawing.
    /// Default: none.
    /// Example: `data = { bed = "north" }`
    pub data: toml::Table,
    /// Stickers of the product that stand on each of these pages; a later one lies over an earlier one.
    /// Default: none.
    /// Example: `stickers = [{ sticker = "star", at = ["60 mm", "40 mm"], turn = 12 }]`
    pub stickers: Vec<Spanned<PlacedSticker>>,
}

/// A sticker of the product on a page, above what is drawn there.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct PlacedSticker {
    /// Which sticker: its name.
    /// Default: it must be given.
    /// Example: `sticker = "star"`
    pub sticker: Word,
    /// Where its middle lies: from the side on which lines begin and from the top of the page, in mm or in % of the page.
    /// Default: it must be given.
    /// Example: `at = ["50 %", "40 mm"]`
    pub at: Option<Spanned<Vec<Side>>>,
    /// How wide it is without its clear rim, from 2 to 400 mm; its height follows.
    /// Default: its true size.
    /// Example: `width = "30 mm"`
    pub width: Option<Spanned<Length>>,
    /// How far it is turned, in degrees clockwise.
    /// Range: -360 to 360. Default: 0.
    /// Example: `turn = 12`
    pub turn: Option<Spanned<f64>>,
}

/// A part of the notebook.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum PartName {
    /// The first page.
    Cover,
    /// The welcome page.
    Welcome,
    /// The list of sections.
    Index,
    /// The sections with their pages.
    Sections,
    /// Small pictures of all templates.
    Overview,
    /// The templates themselves.
    Templates,
}

artful! {
    /// A page design that buyers copy from.
    pub struct Template {
        /// Its name in the overview.
        /// Default: that of the ruling or of the art's file.
        /// Example: `name = "Sowing plan"`
        pub name: Word,
        /// Its name in places and links.
        /// Default: made of the name.
        /// Example: `slug = "sowing-plan"`
        pub slug: Word,
        /// Which of the tool's page designs.
        /// Default: `art` must be given.
        /// Example: `ruling = "lined"`
        #[keys(of = "ruling")]
        pub ruling: Word,
        /// Parameters of the ruling; `sheafwright explain RULING` lists them.
        /// Default: as the ruling has it.
        /// Example: `with = { pitch = "wide" }`
        #[serde(rename = "with")]
        pub parameters: toml::Table,
        /// A second ruling on the other paper of a spread, or on the other half of a page.
        /// Default: the ruling fills the page.
        /// Example: `beside = "dot-grid"`
        #[keys(of = "ruling")]
        pub beside: Word,
        /// Parameters of that second ruling.
        /// Default: as the ruling has it.
        /// Example: `beside = "dot-grid"`
        /// `beside-with = { pitch = 5 }`
        pub beside_with: toml::Table,
        /// Whether it is offered in the overview.
        /// Default: true.
        pub overview: Option<bool>,
        /// An icon before the titles of its pages that have a name, and before its name in the overview: that of a motif which is a
        /// figure in a round mark. It is drawn in lines of the accent; pages without a title, and pages of art, have none.
        /// Default: none.
        /// Example: `icon = "sprout"`
        #[keys(of = "icon")]
        pub icon: Word,
        /// Stickers of the product that stand on each of its pages; a later one lies over an earlier one.
        /// Default: none.
        /// Example: `ruling = "lined"`
        /// `stickers = [{ sticker = "star", at = ["60 mm", "40 mm"], turn = 12 }]`
        pub stickers: Vec<Spanned<PlacedSticker>>,
    }
}

artful! {
    /// A set of dated pages.
    pub struct Dated {
        /// The kind of the pages.
        /// Default: it must be given.
        /// Example: `pages = "week"`
        pub pages: Option<Spanned<calendar::Kind>>,
        /// The name of a second set of the same kind, in places.
        /// Default: a kind has one set.
        /// Example: `name = "gratitude"`
        pub name: Option<Spanned<calendar::SetName>>,
        /// How they are drawn: a dated ruling that is made for this kind, or any other below its date.
        /// Default: the usual one of the kind.
        /// Example: `ruling = "month-list"`
        #[keys(of = "dated ruling")]
        pub ruling: Word,
        /// Parameters of the ruling.
        /// Default: as the ruling has it.
        /// Example: `with = { weight = 0.4 }`
        #[serde(rename = "with")]
        pub parameters: toml::Table,
        /// Pages behind each of them.
        /// Default: none.
        /// Example: `companions = [{ ruling = "lined", name = "Notes" }]`
        pub companions: Vec<Spanned<Companion>>,
        /// Which days get a page, in a set of days: also a list of weekdays, two of which may share a page.
        /// Default: "all".
        /// Example: `pages = "day"`
        /// `weekdays = ["monday+tuesday", "wednesday+thursday", "friday", "saturday+sunday"]`
        pub weekdays: Option<calendar::DayChoice>,
    }
}

artful! {
    /// Pages behind each dated page of a set.
    pub struct Companion {
        /// Its name on the links to it.
        /// Default: that of the ruling.
        /// Example: `name = "Notes"`
        pub name: Word,
        /// How many of it, 1 to 50.
        /// Default: 1.
        /// Example: `count = 2`
        pub count: Option<Spanned<u32>>,
        /// How it is drawn.
        /// Default: `art` must be given.
        /// Example: `ruling = "lined"`
        #[keys(of = "dated ruling")]
        pub ruling: Word,
        /// Parameters of the ruling.
        /// Default: as the ruling has it.
        /// Example: `with = { weight = 0.4 }`
        #[serde(rename = "with")]
        pub parameters: toml::Table,
    }
}

/// The tabs of the months.
#[derive(Default, Deserialize, Described)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Months {
    /// The edge at which they lie.
    /// Default: by the room that there is.
    pub edge: Option<MonthsEdge>,
    /// What they say.
    /// Default: "short".
    pub label: Option<MonthLabel>,
    /// Their colours: those of the sections, or a list that is gone through again and again.
    /// Default: a family round the accent; with a look those of its sections.
    /// Example: `colours = ["#c8d5b9", "#f0d9b5"]`
    pub colours: Option<Spanned<MonthColours>>,
}

/// The edge of the months' tabs.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum MonthsEdge {
    /// Down the side.
    Side,
    /// Along the top.
    Top,
}

/// What the months' tabs say.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum MonthLabel {
    /// Jan, Feb, Mar.
    Short,
    /// J, F, M.
    Narrow,
    /// 1, 2, 3.
    Number,
}

/// The colours of months: those of the sections, or a list of its own, which is gone through again and again.
pub enum MonthColours {
    Sections,
    Each(Vec<Colour>),
}

impl Described for MonthColours {
    fn shape() -> Shape {
        let sections = base::keys::Word { word: "sections", doc: "Those of the sections." };
        Shape::Either(vec![Shape::Words(vec![sections]), Vec::<Colour>::shape()])
    }
}

impl<'de> Deserialize<'de> for MonthColours {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<MonthColours, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = MonthColours;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("\"sections\", or a list of colours")
            }
            fn visit_str<E: Error>(self, v: &str) -> Result<MonthColours, E> {
                match v {
                    "sections" => Ok(MonthColours::Sections),
                    _ => Err(E::unknown_variant(v, &["sections"])),
                }
            }
            fn visit_seq<A: SeqAccess<'de>>(self, list: A) -> Result<MonthColours, A::Error> {
                Vec::deserialize(SeqAccessDeserializer::new(list)).map(MonthColours::Each)
            }
        }
        d.deserialize_any(Reader)
    }
}

artful! {
    /// A cover.
    pub struct Cover {
        /// Its name in files and listing.
        /// Default: that of its design or art.
        /// Example: `name = "Moss"`
        pub name: Option<String>,
        /// How it is drawn.
        /// Default: "framed", or what `pattern` and `texture` ask for.
        /// Example: `design = "banded"`
        pub design: Option<Spanned<Design>>,
        /// Its colour.
        /// Default: that of the look's boards, or the accent; of another cover that would look as one before it, the next of a family of
        /// colours.
        /// Example: `colour = "#5f7d5a"`
        pub colour: Option<Colour>,
        /// The colour of bands, frames and patterns.
        /// Default: made of the first.
        /// Example: `second = "#e9efe2"`
        pub second: Option<Colour>,
        /// What its board is made of: a grain over the colour and whatever is drawn on it.
        /// Default: that of the style.
        /// Example: `material = "leather"`
        pub material: Option<Spanned<look::Material>>,
        /// The shape of the blank label.
        /// Default: that of the style.
        /// Example: `label-shape = "arch"`
        pub label_shape: Option<Spanned<finish::LabelShape>>,
        /// The foil with which the words at the foot, the lines of a frame and the emblem are stamped.
        /// Default: that of the style.
        /// Example: `foil = "gold"`
        pub foil: Option<Spanned<finish::Foil>>,
        /// An emblem that is stamped into the board below the label, or in its place where there is none: in foil, or blind.
        /// Default: that of the style.
        /// Example: `stamp = "sprig"`
        pub stamp: Option<Spanned<finish::Stamp>>,
        /// Quarter binding: what the strip along the spine is made of.
        /// Default: that of the style.
        /// Example: `quarter = "linen"`
        pub quarter: Option<Spanned<finish::Quarter>>,
        /// The colour of that strip.
        /// Default: that of the style.
        /// Example: `quarter-colour = "#3d4a3c"`
        pub quarter_colour: Option<Colour>,
        /// What guards the two outer corners: metal as the foil or the `metal` of the style says, or cloth.
        /// Default: that of the style.
        /// Example: `corner-pieces = "metal"`
        pub corner_pieces: Option<Spanned<finish::CornerPieces>>,
        /// Stitches of thread through the board.
        /// Default: that of the style.
        /// Example: `stitching = "round"`
        pub stitching: Option<Spanned<finish::Stitching>>,
        /// An elastic that holds the book shut; it takes the place of the band of a banded cover.
        /// Default: that of the style.
        /// Example: `elastic = "upright"`
        pub elastic: Option<Spanned<finish::Elastic>>,
        /// How many ribbons hang out at the foot.
        /// Range: 0 to 3. Default: that of the style.
        /// Example: `ribbons = 2`
        pub ribbons: Option<Spanned<u32>>,
        /// The colour of elastic, ribbons, thread and cloth corners.
        /// Default: that of the style.
        /// Example: `trim = "#e9efe2"`
        pub trim: Option<Colour>,
        /// The pattern of a patterned cover.
        /// Default: "dots".
        /// Example: `pattern = "leaves"`
        pub pattern: Option<Spanned<look::Pattern>>,
        /// A picture that fills the cover.
        /// Default: none.
        /// Example: `texture = "art/paper.png"`
        pub texture: Word,
        /// Whether there is a blank label to write on.
        /// Default: true, and false on art.
        pub label: Option<bool>,
        /// The words below the label.
        /// Default: the title on the notebook's own cover, else nothing.
        /// Example: `line = "A year on the plot"`
        pub line: Option<String>,
    }
}

/// How a cover is drawn.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize, Described)]
#[serde(rename_all = "kebab-case")]
pub enum Design {
    /// One colour.
    Flat,
    /// With a band across.
    Banded,
    /// With a frame.
    Framed,
    /// With a pattern.
    Patterned,
    /// With a picture of yours.
    Texture,
}
