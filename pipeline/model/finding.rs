//! Findings: lines of the validator's report, each with its place.

use super::fault::Spot;
use super::geometry::Rect;
use serde::{Deserialize, Serialize};

/// How bad a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// A buyer would be harmed: the build fails.
    Error,
    /// A buyer might stumble.
    Warning,
    /// Worth knowing.
    Note,
}

/// What a check is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Family {
    /// Tap areas and where they lead.
    Links,
    /// Page boxes, labels, counts.
    Pages,
    /// The file as a whole.
    File,
    /// Embedding and rights of fonts.
    Fonts,
    /// Pictures.
    Images,
    /// Stickers.
    Stickers,
    /// File names.
    Names,
    /// Archives and upload slots.
    Archive,
    /// The listing's claims.
    Listing,
    /// Licences of fonts and art.
    Licences,
    /// Contrast, fit, margins.
    Look,
}

/// Where a finding is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Where {
    /// File, relative to the bundle or as given on the command line.
    pub file: String,
    /// Line and column, for texts and manifests.
    pub spot: Option<Spot>,
    /// Page, from 1.
    pub page: Option<usize>,
    /// Rectangle on the page, in points from the top left.
    pub rect: Option<Rect>,
    /// Pixel of a picture.
    pub pixel: Option<(u32, u32)>,
    /// Entry of an archive.
    pub entry: Option<String>,
}

impl Where {
    /// A file as a whole.
    pub fn file(file: impl Into<String>) -> Where {
        Where { file: file.into(), ..Where::default() }
    }

    /// A page of a file, from 1.
    pub fn page(file: impl Into<String>, page: usize) -> Where {
        Where { page: Some(page), ..Where::file(file) }
    }

    /// The same, at a rectangle.
    pub fn rect(self, rect: Rect) -> Where {
        Where { rect: Some(rect), ..self }
    }

    /// An entry of an archive.
    pub fn entry(file: impl Into<String>, entry: impl Into<String>) -> Where {
        Where { entry: Some(entry.into()), ..Where::file(file) }
    }
}

/// One line of the report.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Name of the check.
    pub check: &'static str,
    /// How bad it is (after the manifest lowered it, if it did).
    pub severity: Severity,
    /// What the check is about.
    pub family: Family,
    /// Where it is.
    pub place: Where,
    /// What is wrong, with the numbers.
    pub message: String,
    /// How to mend it.
    pub help: String,
    /// Why the manifest lowered the check, if it did.
    pub lowered: Option<String>,
}
