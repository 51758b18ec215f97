//! Findings: lines of the validator's report, each with its place.

use super::fault::SourceSpan;
use super::geometry::Rect;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// How bad a finding is.
#[derive(
    Clone,
    Copy,
    Debug,
    PartialEq,
    Eq,
    Hash,
    PartialOrd,
    Ord,
    Serialize,
    Deserialize,
    borsh::BorshSerialize,
    borsh::BorshDeserialize,
)]
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
#[derive(
    Clone,
    Copy,
    Debug,
    PartialEq,
    Eq,
    Hash,
    PartialOrd,
    Ord,
    Serialize,
    Deserialize,
    borsh::BorshSerialize,
    borsh::BorshDeserialize,
)]
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
    /// Dates of planners.
    Dates,
}

impl Severity {
    /// Its name in reports.
    pub fn name(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        }
    }
}

impl Family {
    /// Every family, in the order of the catalogue's chapters.
    pub const ALL: [Family; 12] = [
        Family::Links,
        Family::Pages,
        Family::File,
        Family::Fonts,
        Family::Images,
        Family::Stickers,
        Family::Names,
        Family::Archive,
        Family::Listing,
        Family::Licences,
        Family::Look,
        Family::Dates,
    ];

    /// Its name in reports.
    pub fn name(self) -> &'static str {
        match self {
            Family::Links => "links",
            Family::Pages => "pages",
            Family::File => "file",
            Family::Fonts => "fonts",
            Family::Images => "images",
            Family::Stickers => "stickers",
            Family::Names => "names",
            Family::Archive => "archive",
            Family::Listing => "listing",
            Family::Licences => "licences",
            Family::Look => "look",
            Family::Dates => "dates",
        }
    }
}

/// One check of the catalogue: its name says what is wrong when it speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Check {
    /// Its name: lower-case words with hyphens.
    pub name: &'static str,
    /// How bad it is in a file that this program planned, unless the manifest lowers it.
    pub severity: Severity,
    /// How bad it is in a file made elsewhere, of which nothing was promised.
    pub elsewhere: Severity,
    /// What it is about.
    pub family: Family,
    /// What it looks for.
    pub looks_for: &'static str,
    /// Why a buyer would notice.
    pub why: &'static str,
    /// How to mend it.
    pub mend: &'static str,
}

/// Where a finding is.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct Where {
    /// File, relative to the bundle or as given on the command line.
    pub file: String,
    /// Line and column, for texts and manifests.
    pub span: Option<SourceSpan>,
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

    /// The same, at a pixel.
    pub fn pixel(self, x: u32, y: u32) -> Where {
        Where { pixel: Some((x, y)), ..self }
    }

    /// The same, at a place in its text, or in the one that the place names.
    pub fn span(self, mut span: SourceSpan) -> Where {
        Where { file: span.file.take().unwrap_or(self.file), span: Some(span), ..self }
    }

    /// An entry of an archive.
    pub fn entry(file: impl Into<String>, entry: impl Into<String>) -> Where {
        Where { entry: Some(entry.into()), ..Where::file(file) }
    }
}

/// One line of the report.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct Finding {
    /// Name of the check.
    pub check: Cow<'static, str>,
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

impl Finding {
    /// A finding of this check; what the check knows by itself is filled in.
    pub fn of(check: &'static Check, place: Where, message: impl Into<String>) -> Finding {
        Finding {
            check: check.name.into(),
            severity: check.severity,
            family: check.family,
            place,
            message: message.into(),
            help: check.mend.to_owned(),
            lowered: None,
        }
    }
}
