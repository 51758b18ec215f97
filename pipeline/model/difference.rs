//! Differences: what changed between two versions of a bundle, line by line, and what that comes to.

use serde::Serialize;

/// What kind of change it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Change {
    /// A file that was not there.
    FileAdded,
    /// A file that is gone.
    FileRemoved,
    /// The same file under another name.
    FileRenamed,
    /// A file of which no more is known than that its bytes differ.
    FileChanged,
    /// A page more.
    PageInserted,
    /// A page less.
    PageRemoved,
    /// The same page elsewhere.
    PageMoved,
    /// A page that looks different.
    PageRedrawn,
    /// Other words.
    TextChanged,
    /// A link more.
    LinkAdded,
    /// A link less.
    LinkRemoved,
    /// A link that leads elsewhere.
    LinkRetargeted,
    /// The same link at another spot of its page.
    LinkMoved,
    /// Another picture.
    ImageChanged,
    /// Title, outline, page labels, fonts: what a file says of itself.
    MetadataChanged,
    /// It looks the same and leads to the same places; its bytes differ.
    StoredDifferently,
}

impl Change {
    /// Its name in reports.
    pub fn name(self) -> &'static str {
        match self {
            Change::FileAdded => "file-added",
            Change::FileRemoved => "file-removed",
            Change::FileRenamed => "file-renamed",
            Change::FileChanged => "file-changed",
            Change::PageInserted => "page-inserted",
            Change::PageRemoved => "page-removed",
            Change::PageMoved => "page-moved",
            Change::PageRedrawn => "page-redrawn",
            Change::TextChanged => "text-changed",
            Change::LinkAdded => "link-added",
            Change::LinkRemoved => "link-removed",
            Change::LinkRetargeted => "link-retargeted",
            Change::LinkMoved => "link-moved",
            Change::ImageChanged => "image-changed",
            Change::MetadataChanged => "metadata-changed",
            Change::StoredDifferently => "stored-differently",
        }
    }
}

/// What a version number must become.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Nothing changed.
    Same,
    /// Something was mended; nothing was added and nothing lost.
    Patch,
    /// Something was added or moved; nothing was lost.
    Minor,
    /// Pages, files or links that older copies have are gone or lead elsewhere.
    Major,
}

impl Verdict {
    /// Its name in reports.
    pub fn name(self) -> &'static str {
        match self {
            Verdict::Same => "same",
            Verdict::Patch => "patch",
            Verdict::Minor => "minor",
            Verdict::Major => "major",
        }
    }
}

/// One change.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Difference {
    /// The file, by its path in the bundle; files in archives lie below them.
    pub path: String,
    /// What kind of change it is.
    pub kind: Change,
    /// The page of the old version, from 1.
    pub page_old: Option<usize>,
    /// The page of the new version, from 1.
    pub page_new: Option<usize>,
    /// What changed, in words.
    pub message: String,
    /// How much it weighs by itself.
    #[serde(skip)]
    pub weight: Verdict,
}

impl Difference {
    /// A change of a whole file.
    pub fn of(path: &str, kind: Change, weight: Verdict, message: impl Into<String>) -> Difference {
        Difference { path: path.to_owned(), kind, page_old: None, page_new: None, message: message.into(), weight }
    }

    /// The same, on these pages (from 0).
    pub fn on(mut self, old: Option<usize>, new: Option<usize>) -> Difference {
        self.page_old = old.map(|p| p + 1);
        self.page_new = new.map(|p| p + 1);
        self
    }
}

/// A count before and after.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Count {
    /// What is counted.
    pub what: String,
    /// How many there were; `None` if it was not there.
    pub old: Option<u64>,
    /// How many there are.
    pub new: Option<u64>,
}

/// All that changed between two versions.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Comparison {
    /// Whether nothing at all differs, not even in the bytes.
    pub same: bool,
    /// What a version number must become.
    pub verdict: Verdict,
    /// Whether past buyers gain anything by downloading again.
    pub download_again: bool,
    /// The changes: licence terms first, then file by file.
    pub differences: Vec<Difference>,
    /// Counts that changed.
    pub facts: Vec<Count>,
}
