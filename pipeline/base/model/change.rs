//! Kinds of change between two versions of a bundle, and what they may ask of the version number.

use serde::Serialize;

/// What kind of change it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, borsh::BorshSerialize)]
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
    /// A planner for other months: its dated pages are other ones.
    DatesMoved,
    /// Title, outline, page labels, fonts: what a file says of itself.
    MetadataChanged,
    /// It looks the same and leads to the same places; its bytes differ.
    StoredDifferently,
}

impl Change {
    /// All of them, in the order in which they are told.
    pub const ALL: [Change; 17] = [
        Change::FileAdded,
        Change::FileRemoved,
        Change::FileRenamed,
        Change::FileChanged,
        Change::PageInserted,
        Change::PageRemoved,
        Change::PageMoved,
        Change::PageRedrawn,
        Change::TextChanged,
        Change::LinkAdded,
        Change::LinkRemoved,
        Change::LinkRetargeted,
        Change::LinkMoved,
        Change::ImageChanged,
        Change::DatesMoved,
        Change::MetadataChanged,
        Change::StoredDifferently,
    ];

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
            Change::DatesMoved => "dates-moved",
            Change::MetadataChanged => "metadata-changed",
            Change::StoredDifferently => "stored-differently",
        }
    }

    /// The kind in words that follow a number.
    pub fn words(self, count: usize) -> &'static str {
        let (one, many) = match self {
            Change::FileAdded => ("file new", "files new"),
            Change::FileRemoved => ("file gone", "files gone"),
            Change::FileRenamed => ("file renamed", "files renamed"),
            Change::FileChanged => ("file changed", "files changed"),
            Change::PageInserted => ("page new", "pages new"),
            Change::PageRemoved => ("page gone", "pages gone"),
            Change::PageMoved => ("page moved", "pages moved"),
            Change::PageRedrawn => ("page redrawn", "pages redrawn"),
            Change::TextChanged => ("text changed", "texts changed"),
            Change::LinkAdded => ("link new", "links new"),
            Change::LinkRemoved => ("link gone", "links gone"),
            Change::LinkRetargeted => ("link leads elsewhere", "links lead elsewhere"),
            Change::LinkMoved => ("link moved", "links moved"),
            Change::ImageChanged => ("picture changed", "pictures changed"),
            Change::DatesMoved => ("planner for other months", "planners for other months"),
            Change::MetadataChanged => ("property changed", "properties changed"),
            Change::StoredDifferently => ("stored differently", "stored differently"),
        };
        if count == 1 { one } else { many }
    }
}

/// What a version number must become, by the product's rule or by the usual one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, borsh::BorshSerialize)]
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
