//! How a build is to run, and what it leaves.

use super::memory::Memory;
use super::progress::Progress;
use base::model::difference::Since;
use base::model::facts::{Facts, Inspected};
use base::model::{Finding, Kind, Product};
use std::path::PathBuf;
use std::sync::Arc;

/// How a build is to run.
pub struct Options {
    /// Where bundles land.
    pub out: PathBuf,
    /// Whether warnings stop the build as errors do.
    pub strict: bool,
    /// Told what is being done.
    pub progress: Progress,
    /// The memory that this build and those beside it may need together.
    pub memory: Arc<Memory>,
}

/// What a build leaves.
pub struct Built {
    /// The bundle's folder; `None` when findings stopped the build.
    pub folder: Option<PathBuf>,
    /// The proof: in the bundle, or beside it when findings stopped the build.
    pub proof: Option<PathBuf>,
    /// What the checks say.
    pub findings: Vec<Finding>,
    /// Every file that was made.
    pub files: Vec<MadeFile>,
    /// The product.
    pub product: Product,
    /// Things worth saying that no check covers.
    pub notes: Vec<String>,
    /// What changed since the last build, in one line, if there was one and anything was made anew.
    pub since: Option<String>,
    /// What changed since the version that buyers have, or else since the newest earlier one, if there is one and
    /// anything was made anew.
    pub earlier: Option<Since>,
}

/// A file that was made.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
pub struct MadeFile {
    /// Its path in the bundle.
    pub path: String,
    /// What it is.
    pub kind: Kind,
    /// Its size in bytes.
    pub size: u64,
    /// Pages of a PDF; 0 for anything else.
    pub pages: usize,
}

impl MadeFile {
    /// A file by what was read from it; `None` for one that nobody planned.
    pub fn of(read: &Inspected) -> Option<MadeFile> {
        let pages = if let Facts::Pdf(pdf) = &read.facts { pdf.pages.len() } else { 0 };
        Some(MadeFile { path: read.path.clone(), kind: read.kind?, size: read.size, pages })
    }
}
