//! An update pack: what somebody who has an older version takes over from a new one without starting over.

/// Where a bundle holds its update pack.
pub const FOLDER: &str = "listing/update-pack/";

/// What goes into the pack, and what does not.
#[derive(Clone, Debug, Default, PartialEq, Eq, borsh::BorshSerialize)]
pub struct Pack {
    /// PDFs of which pages are taken over.
    pub books: Vec<Book>,
    /// Files that are taken over whole, by their paths in the new version.
    pub whole: Vec<String>,
    /// Files that the new version no longer has.
    pub gone: Vec<String>,
}

impl Pack {
    /// Whether there is nothing to take over.
    pub fn is_empty(&self) -> bool {
        self.whole.is_empty() && self.books.iter().all(|book| book.runs.is_empty())
    }
}

/// A PDF of which pages are taken over.
#[derive(Clone, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub struct Book {
    /// Its path in the new version.
    pub path: String,
    /// Document title, or the name of the file.
    pub title: String,
    /// Its language, where it states one.
    pub language: Option<String>,
    /// New and changed pages, in the order of the new version.
    pub runs: Vec<Run>,
    /// Pages that stand elsewhere now, and after which page of the old version; `None` for the front.
    pub moved: Vec<(Named, Option<Named>)>,
    /// Pages of the old version that the new one no longer has.
    pub removed: Vec<Named>,
    /// Pages on which nothing but what stands on most pages (tabs, ways home) looks or leads otherwise. They stay out.
    pub edges: usize,
    /// Whether it is a planner for other months, of which no page stands for an old one.
    pub other_dates: bool,
    /// Whether entries of the outline came, went or lead elsewhere.
    pub outline: bool,
    /// Links of the pages in the pack that lead to pages which are not in it.
    pub cut: usize,
    /// Pages of the new version outside of the pack that lead to new pages in it.
    pub leading_in: usize,
}

impl Book {
    /// The pages of the pack by their index in the new version, in order.
    pub fn pages(&self) -> impl Iterator<Item = usize> {
        self.runs.iter().flat_map(|run| run.pages.iter().map(|page| page.page))
    }
}

/// Pages that belong together and go to one spot.
#[derive(Clone, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub struct Run {
    /// Where they go.
    pub spot: Spot,
    /// The pages, as the new version names them.
    pub pages: Vec<Named>,
}

/// Where pages go, in the old version.
#[derive(Clone, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub enum Spot {
    /// In the place of as many pages, from the first to the last.
    InPlaceOf(Named, Named),
    /// After a page.
    After(Named),
    /// Before the first page.
    Front,
}

/// A page and what it is called.
#[derive(Clone, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub struct Named {
    /// Its index in its version, from 0.
    pub page: usize,
    /// Its page label, where that says something else than its number.
    pub label: Option<String>,
    /// The entry of the outline that it belongs to, with those above it; empty without an outline.
    pub titles: Vec<String>,
}

/// A page of a PDF to be made that is copied from another PDF: which one it becomes, and which one it was. From 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, borsh::BorshSerialize)]
pub struct CopiedPage {
    /// Its index in the PDF to be made.
    pub to: usize,
    /// Its index in the other PDF.
    pub from: usize,
}
