//! A product's folder in memory.

use base::files::{Files, Made};
use base::model::{Blob, Fault};
use std::collections::BTreeMap;
use std::path::Path;

/// Files by path.
pub struct Folder(BTreeMap<String, Blob>);

impl Folder {
    /// A folder with these files.
    pub fn new<'a>(files: impl IntoIterator<Item = (&'a str, &'a [u8])>) -> Folder {
        Folder(files.into_iter().map(|(path, bytes)| (path.to_owned(), bytes.into())).collect())
    }
}

impl Files for Folder {
    fn root(&self) -> &Path {
        Path::new("/product")
    }

    fn read(&self, path: &str) -> Result<Blob, Fault> {
        self.0.get(path).cloned().ok_or_else(|| Fault::new(format!("{path:?} cannot be read: there is no such file")))
    }

    fn nearby(&self, _: &str) -> Vec<String> {
        self.0.keys().cloned().collect()
    }

    fn inputs(&self) -> BTreeMap<String, Blob> {
        self.0.clone()
    }

    fn kept(&self, _: &str, _: &str, _: &Blob) -> Option<Made> {
        None
    }

    fn keep(&self, _: &str, _: &str, _: &Blob, _: Made) {}
}
