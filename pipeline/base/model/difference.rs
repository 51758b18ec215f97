//! Differences: what changed between two versions of a bundle, line by line, and what that comes to.

use super::artifact::Kind;
use super::change::{Change, Verdict};
use super::variant::Variant;
use super::versions::Rule;
use serde::Serialize;
use std::collections::BTreeMap;

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
    /// The entry of the outline that the page belongs to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Boxes about what looks different: x, y, width, height, in points (PNG: pixels) from the top left.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub boxes: Vec<[u32; 4]>,
    /// Whether it only says that a copy changed as its original did.
    #[serde(skip)]
    copy: bool,
    /// Whether the words are the same, and only numbers and dates among them differ.
    #[serde(skip)]
    pub figures: bool,
    /// What the rule for version numbers calls it: its kind, or a case of it.
    #[serde(skip)]
    pub case: &'static str,
    /// What it alone asks of the version number, by the rule.
    pub weight: Verdict,
    /// Pictures of it, where they were asked for.
    #[serde(skip)]
    pub shot: Option<Box<Shot>>,
}

/// Pictures of a page or a PNG before and after, each a PNG file.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Shot {
    /// The old one; `None` for what is new.
    pub before: Option<Still>,
    /// The new one; `None` for what is gone.
    pub after: Option<Still>,
    /// The new one, paled, with what changed in colour; `None` where the sizes differ.
    pub overlay: Option<Still>,
    /// Boxes about what changed, in thousandths of the width and the height: left, top, width, height.
    pub marks: Vec<[u32; 4]>,
}

/// A picture as a PNG file.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Still {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// The file.
    pub png: Vec<u8>,
}

impl Difference {
    /// A change of a whole file; its weight comes with the judgement.
    pub fn of(path: &str, kind: Change, message: impl Into<String>) -> Difference {
        Difference {
            path: path.to_owned(),
            kind,
            page_old: None,
            page_new: None,
            message: message.into(),
            name: None,
            boxes: Vec::new(),
            copy: false,
            figures: false,
            case: kind.name(),
            weight: Verdict::Patch,
            shot: None,
        }
    }

    /// A file that changed exactly as another one did, whose changes are told.
    pub fn copy(path: &str, of: &str) -> Difference {
        let message = format!("it changed as {of} did");
        Difference { copy: true, ..Difference::of(path, Change::FileChanged, message) }
    }

    /// Whether it only says that a copy changed as its original did.
    pub fn is_copy(&self) -> bool {
        self.copy
    }

    /// The same, as a case that the rule for version numbers has a weight of its own for.
    pub fn as_case(mut self, case: &'static str) -> Difference {
        self.case = case;
        self
    }

    /// The same, on these pages (from 0).
    pub fn on(mut self, old: Option<usize>, new: Option<usize>) -> Difference {
        self.page_old = old.map(|p| p + 1);
        self.page_new = new.map(|p| p + 1);
        self
    }
}

/// A file that is not what it was, with sizes in bytes and SHA-256 in hex before and after.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FileChange {
    /// Its path; that of the old version if it is gone.
    pub path: String,
    /// Its path in the old version, if that was another one.
    pub path_old: Option<String>,
    /// How large it was.
    pub size_old: Option<u64>,
    /// How large it is.
    pub size_new: Option<u64>,
    /// What it was.
    pub sha256_old: Option<String>,
    /// What it is.
    pub sha256_new: Option<String>,
}

impl FileChange {
    /// A file by its path, its path before, and size and digest before and after.
    pub fn of(path: &str, path_old: Option<&str>, old: Option<(u64, &str)>, new: Option<(u64, &str)>) -> FileChange {
        FileChange {
            path: path.to_owned(),
            path_old: path_old.map(str::to_owned),
            size_old: old.map(|(size, _)| size),
            size_new: new.map(|(size, _)| size),
            sha256_old: old.map(|(_, digest)| digest.to_owned()),
            sha256_new: new.map(|(_, digest)| digest.to_owned()),
        }
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

/// A finding of the checks that only one of two versions has.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Told {
    /// Name of the check.
    pub check: String,
    /// How bad it is: `error`, `warning` or `note`.
    pub severity: String,
    /// The file.
    pub file: String,
    /// Page, from 1.
    pub page: Option<usize>,
    /// What was found.
    pub message: String,
}

/// Findings of the checks, before and after.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Checks {
    /// Those that are gone.
    pub mended: Vec<Told>,
    /// Those that were not there.
    pub new: Vec<Told>,
}

/// Version numbers, where both versions state one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Numbers {
    /// That of the old version.
    pub old: String,
    /// That of the new version.
    pub new: String,
    /// The least that the new one may have by what changed.
    pub needed: String,
    /// Whether the new one is at least that.
    pub enough: bool,
}

/// All that changed between two versions.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Comparison {
    /// Whether nothing at all differs, not even in the bytes.
    pub same: bool,
    /// What a version number must become, by the product's rule or by the usual one.
    pub verdict: Verdict,
    /// Whether past buyers gain anything by downloading again.
    pub download_again: bool,
    /// The changes: licence terms first, then file by file.
    pub differences: Vec<Difference>,
    /// Sizes and digests of the files that are not what they were.
    pub files: Vec<FileChange>,
    /// Counts that changed.
    pub facts: Vec<Count>,
    /// Findings of the checks that came and went.
    pub checks: Checks,
    /// The version numbers and what they must be.
    pub numbers: Option<Numbers>,
    /// The rule by which it was judged: that of the new version, or the usual one.
    #[serde(skip)]
    pub rule: Rule,
    /// What decided the verdict: by the rule, in words that follow "because of".
    #[serde(skip)]
    pub decisive: Vec<String>,
    /// What the product is called, where a record says so.
    #[serde(skip)]
    pub product: Option<String>,
    /// The date of release of the new version, where a record says so.
    #[serde(skip)]
    pub released: Option<String>,
    /// The language of the product, where a document states it.
    pub language: Option<String>,
    /// What the files of both versions are, by path, where records say so.
    #[serde(skip)]
    pub kinds: BTreeMap<String, Kind>,
    /// The variants of both versions, where records say so.
    #[serde(skip)]
    pub variants: Vec<Variant>,
}

/// What changed since an earlier version of the same product.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Since {
    /// The earlier version.
    pub version: String,
    /// Its date of release, where its record states one.
    pub released: Option<String>,
    /// Whether it is known to have been given to buyers.
    pub issued: bool,
    /// What changed, in one line.
    pub line: String,
    /// What changed, without pictures.
    pub found: Comparison,
}
