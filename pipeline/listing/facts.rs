//! The figures of the finished files that a buyer asks for, as the texts of a listing take them.

use base::model::Kind;
use serde::Serialize;
use wording::Tongue;

/// The figures of a bundle, read off its files.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct BundleFacts {
    /// The loose files, in the order in which a buyer looks at them.
    pub contents: Vec<File>,
    /// The files to download, in the order of their paths.
    pub uploads: Vec<File>,
    /// The page that the PDF files share.
    pub page: Option<PageSize>,
    /// The notebook.
    pub notebook: Option<NotebookFacts>,
    /// The alternate covers.
    pub covers: Option<CoverFacts>,
    /// The stickers.
    pub stickers: Option<StickerFacts>,
    /// Pages of the sticker sheets.
    pub sheets: usize,
    /// Sticker sheets that are pictures.
    pub sheet_pictures: usize,
    /// Pages of the guide.
    pub guide: usize,
    /// The variants that it comes in; figures outside of them are those of the first, and of what all share.
    pub variants: Vec<VariantFacts>,
    /// Whether the page is the same in all variants.
    pub same_page: bool,
    /// The dated pages, where there are some.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub dated: Option<DatedFacts>,
    /// Figures over all variants: the least and the most.
    pub spans: Spans,
    /// The same as they are written: `12`, `12–14`.
    pub said: Said,
    /// What each member of a set has, without texts and uploads; figures outside of them are the sums.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub members: Vec<MemberFacts>,
}

/// A member of a set as read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MemberFacts {
    /// Its name.
    pub name: String,
    /// Its folder below `contents/`.
    pub folder: String,
    /// Its figures.
    pub facts: BundleFacts,
}

/// The dated pages of all variants in words, as texts and pictures of a listing take them.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct DatedFacts {
    /// A sentence for the description.
    pub sentence: String,
    /// `2027`, `2026/27`.
    pub years: String,
    /// `January to December 2027`.
    pub months: String,
    /// `Every month, week and day`: the first three kinds.
    pub every: String,
    /// The kinds of pages that there are: months, weeks and days first.
    pub kinds: Vec<DatedKindFacts>,
}

/// The pages of a kind.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct DatedKindFacts {
    /// `month`.
    pub kind: String,
    /// `12 months`.
    pub said: String,
    /// The number alone: `12`, `12 or 13`.
    pub number: String,
    /// The largest of the numbers, on which the form of a word beside them depends.
    pub most: usize,
    /// The place of a page that shows the kind well, in the leading variant: `month/2027-03`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
}

/// Figures over all variants, the least and the most of each; of a product without variants both are the same.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Spans {
    /// Pages of the notebook.
    pub pages: [usize; 2],
    /// Its links from page to page.
    pub links: [usize; 2],
    /// Its sections.
    pub sections: [usize; 2],
    /// Sections within its sections.
    pub within: [usize; 2],
    /// Its templates.
    pub templates: [usize; 2],
    /// Covers.
    pub covers: [usize; 2],
    /// Stickers.
    pub stickers: [usize; 2],
    /// Sticker sheets, as pages of a PDF or else as pictures.
    pub sheets: [usize; 2],
    /// Those that are pages of a PDF.
    pub sheet_pages: [usize; 2],
    /// Sticker sheets that are pictures.
    pub sheet_pictures: [usize; 2],
    /// Pages of the guide.
    pub guide: [usize; 2],
}

/// Figures as they are written on pictures.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Said {
    /// Pages of the notebook.
    pub pages: String,
    /// Its links from page to page.
    pub links: String,
    /// Its sections.
    pub sections: String,
    /// Its templates.
    pub templates: String,
    /// Covers.
    pub covers: String,
    /// Stickers.
    pub stickers: String,
}

/// A variant as read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct VariantFacts {
    /// What it is called.
    pub title: String,
    /// Its folder below `contents/`; empty where all of its files are those of all variants.
    pub folder: String,
    /// Its notebook.
    pub notebook: Option<NotebookFacts>,
    /// Whether that notebook is its own, and not the one of all variants.
    pub own_notebook: bool,
    /// Its page.
    pub page: Option<PageSize>,
    /// Its covers.
    pub covers: Option<CoverFacts>,
    /// Its stickers.
    pub stickers: usize,
    /// Its sticker sheets, as pages of a PDF or else as pictures.
    pub sheets: usize,
    /// Those that are pages of a PDF.
    pub sheet_pages: usize,
    /// Its sticker sheets that are pictures.
    pub sheet_pictures: usize,
    /// Pages of its guide.
    pub guide: usize,
}

/// A file.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct File {
    /// Its name, with folders below `contents/` or `upload/`.
    pub name: String,
    /// What it is.
    pub kind: Kind,
    /// The same in words: `notebook`, `zip archive`.
    pub what: String,
    /// Size in bytes.
    pub bytes: u64,
    /// Size for people.
    pub size: String,
    /// Pages, for a PDF.
    pub pages: Option<usize>,
    /// Names of the entries, for an archive.
    pub entries: Option<Vec<String>>,
    /// Width and height, for a picture.
    pub pixels: Option<(u32, u32)>,
    /// Resolution in whole dots per inch, for a picture that says it.
    pub dpi: Option<u64>,
}

/// A page size in every unit that buyers ask in.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PageSize {
    /// `1024 × 768 pt`.
    pub pt: String,
    /// `361.2 × 270.9 mm`.
    pub mm: String,
    /// `14.22 × 10.67 in`.
    pub inches: String,
    /// `3,755 × 2,816 px`.
    pub px: String,
    /// The density that the pixels are for.
    pub px_dpi: u64,
    /// `4 : 3`.
    pub aspect: String,
    /// `landscape`, `portrait` or `square`.
    pub orientation: String,
}

/// The notebook as read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NotebookFacts {
    /// Its file.
    pub file: String,
    /// Pages.
    pub pages: usize,
    /// Links to a page of the same file.
    pub links: usize,
    /// The same with commas.
    pub links_text: String,
    /// Links to an address.
    pub links_outside: usize,
    /// How many sections it has.
    pub sections: usize,
    /// How many sections there are within those, each with a tab at the top of its pages.
    pub within: usize,
    /// Those of them that have a name.
    pub section_names: Vec<String>,
    /// Templates by name.
    pub templates: Vec<String>,
    /// The finished file that it was taken from, if it was; pages and links are then those counted in that file and laid
    /// over it.
    pub from: Option<String>,
    /// Titles of the outline's top entries, where the notebook came finished and has no sections of the manifest.
    pub chapters: Vec<String>,
}

/// The alternate covers as read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CoverFacts {
    /// Their file.
    pub file: String,
    /// How many there are.
    pub count: usize,
    /// Their names, where there are as many as pages.
    pub names: String,
    /// Links in their file.
    pub links: usize,
    /// Whether every one has the size of the notebook's pages.
    pub fits: bool,
    /// Whether each variant has a file of its own; the one named here is that of the first.
    pub of_variant: bool,
}

/// The stickers as read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StickerFacts {
    /// How many there are.
    pub count: usize,
    /// `300`, or `150 to 300` where they differ; empty where none says it.
    pub dpi: String,
    /// Longest sides in pixels: `412 to 1,200`.
    pub longest: String,
    /// Whether every one has transparent pixels.
    pub transparent: bool,
    /// Size of them all.
    pub size: String,
}

impl BundleFacts {
    /// Whether any notebook has links.
    pub fn has_links(&self) -> bool {
        let books = self.notebook.iter().chain(self.variants.iter().filter_map(|v| v.notebook.as_ref()));
        books.into_iter().any(|n| n.links + n.links_outside > 0) || self.members.iter().any(|m| m.facts.has_links())
    }
}

/// What a kind of file is called.
pub fn words(kind: Kind, tongue: &Tongue) -> &'static str {
    let says = &tongue.documents().start;
    match kind {
        Kind::Notebook => says.notebook,
        Kind::Covers => says.covers,
        Kind::Sticker => says.sticker,
        Kind::Sheet => says.sheet,
        Kind::Guide => says.how_to,
        Kind::Licence => says.licence,
        Kind::StartHere => says.text_first,
        Kind::DeliveryCard => says.card_file,
        Kind::Upload => says.upload,
        Kind::Listing => says.listing,
        Kind::Picture => says.picture,
    }
}

impl File {
    /// Its figures in one line: `notebook, 312,345 bytes (312.3 kB), 128 pages`.
    pub fn figures(&self, tongue: &Tongue) -> String {
        let says = &tongue.documents().start;
        let comma = says.comma;
        let mut out = format!("{}{comma}{}", self.what, tongue.count(self.bytes as usize, says.bytes));
        if self.bytes >= 1_000 {
            out.push_str(&format!(" ({})", self.size));
        }
        if let Some(pages) = self.pages {
            out.push_str(&format!("{comma}{}", tongue.count(pages, says.pages)));
        }
        if let Some(entries) = &self.entries {
            out.push_str(&format!("{comma}{}", tongue.count(entries.len(), says.files)));
        }
        if let Some((w, h)) = self.pixels {
            let [w, h] = [w, h].map(|side| tongue.number(u64::from(side)));
            out.push_str(&format!("{comma}{w} × {h} px"));
        }
        if let Some(dpi) = self.dpi {
            out.push_str(&wording::fill(says.dpi, &[("n", &dpi.to_string())]));
        }
        out
    }
}
