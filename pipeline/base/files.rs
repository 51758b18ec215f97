//! What a stage may ask of the product's folder. The program answers from the disk; nothing else does.

use crate::model::{Blob, Fault, Sha};
use std::any::Any;
use std::collections::BTreeMap;
use std::path::{MAIN_SEPARATOR, Path};
use std::sync::Arc;

/// Name of the file that holds what the products of a shop share: in a product's folder or in one above it.
pub const SHOP: &str = "shop.toml";

/// Something that was made of a file's bytes.
pub type Made = Arc<dyn Any + Send + Sync>;

/// What is remembered of bytes from one run to the next: little, under what it is and their digest.
pub trait Notes: Send + Sync {
    /// What was noted.
    fn noted(&self, what: &str, of: Sha) -> Option<Vec<u8>>;

    /// Notes something.
    fn note(&self, what: &str, of: Sha, found: &[u8]);
}

/// The files of a product's folder. Paths lead from the folder, with `/` between folders.
pub trait Files {
    /// The folder, for messages.
    fn root(&self) -> &Path;

    /// The path of the shop's file from the product's folder, such as `../shop.toml`, where there is one. What begins as it
    /// does before its name is read from the folder that it lies in.
    fn shop(&self) -> Option<String> {
        None
    }

    /// Reads a file; what does not lie inside of the folder, or of the shop's, is refused.
    ///
    /// # Errors
    /// The file is not there, too large, or cannot be read.
    fn read(&self, path: &str) -> Result<Blob, Fault>;

    /// Whether there is such a file.
    fn has(&self, path: &str) -> bool {
        self.read(path).is_ok()
    }

    /// Files of the folder in which `path` would lie, by path, sorted; for suggestions.
    fn nearby(&self, path: &str) -> Vec<String>;

    /// Everything that was read so far, by path.
    fn inputs(&self) -> BTreeMap<String, Blob>;

    /// The folder of another product, by the way that leads there: `../tide-log`. What is read of it counts among what was read
    /// for this one.
    ///
    /// # Errors
    /// No product lies there.
    fn beside(&self, way: &str) -> Result<Arc<dyn Files>, Fault> {
        Err(Fault::new(format!("{way:?} cannot be opened: there are no other products here")))
    }

    /// What was kept under `what` of these very bytes of this file, by this or an earlier look at the folder.
    fn kept(&self, what: &str, path: &str, bytes: &Blob) -> Option<Made>;

    /// Keeps what was made of a file's bytes. `what` tells apart what is made of one file in different ways.
    fn keep(&self, what: &str, path: &str, bytes: &Blob, made: Made);

    /// Where is noted what takes long to find out of a file; `None` where nothing is remembered.
    fn notes(&self) -> Option<&dyn Notes> {
        None
    }

    /// Reads a text file; a byte order mark is dropped.
    ///
    /// # Errors
    /// The file cannot be read, or is not UTF-8.
    fn read_text(&self, path: &str) -> Result<String, Fault> {
        let bytes = self.read(path)?;
        let text = String::from_utf8(bytes.to_vec()).map_err(|e| {
            let good = &bytes[..e.utf8_error().valid_up_to()];
            let line = good.iter().filter(|b| **b == b'\n').count() + 1;
            Fault::new(format!("{path:?} is not UTF-8 text: line {line} has a byte that no character begins with"))
                .help("save it again as UTF-8")
        })?;
        Ok(text.strip_prefix('\u{feff}').unwrap_or(&text).to_owned())
    }
}

/// What is made of a file's bytes: at hand if it was made of these very bytes before.
///
/// # Errors
/// What `make` says.
pub fn made<T: Any + Send + Sync>(
    files: &dyn Files,
    what: &str,
    path: &str,
    bytes: &Blob,
    make: impl FnOnce() -> Result<T, Fault>,
) -> Result<Arc<T>, Fault> {
    if let Some(known) = files.kept(what, path, bytes).and_then(|made| made.downcast().ok()) {
        return Ok(known);
    }
    let made = Arc::new(make()?);
    files.keep(what, path, bytes, made.clone());
    Ok(made)
}

/// A path as texts, records, reports and messages have it, on every system: with `/` between folders.
pub fn slashed(path: &Path) -> String {
    with_slashes(&path.to_string_lossy(), MAIN_SEPARATOR)
}

/// The same of a text, from a system that has this sign between folders. Where that is no slash, a full path may begin with
/// the sign of paths that are taken as they stand, which only the system itself needs.
fn with_slashes(path: &str, separator: char) -> String {
    if separator == '/' {
        return path.to_owned();
    }
    let share = path.strip_prefix(r"\\?\UNC\").map(|rest| format!(r"\\{rest}"));
    let plain = share.as_deref().or_else(|| path.strip_prefix(r"\\?\")).unwrap_or(path);
    plain.replace(separator, "/")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_have_slashes_on_every_system() {
        let windows = |path: &str| with_slashes(path, '\\');
        assert_eq!(windows(r"dist\log\1.0.0\listing\a b.png"), "dist/log/1.0.0/listing/a b.png");
        assert_eq!(windows(r"\\?\C:\shop\tide-log"), "C:/shop/tide-log");
        assert_eq!(windows(r"\\?\UNC\studio\shop\tide-log"), "//studio/shop/tide-log");
        assert_eq!(windows(r"C:/shop\tide-log"), "C:/shop/tide-log");
        // Where a backslash parts no folders it is a sign like any other.
        assert_eq!(with_slashes("notes\\old/a.txt", '/'), "notes\\old/a.txt");
        assert_eq!(slashed(&Path::new("dist").join("log").join("bundle.json")), "dist/log/bundle.json");
    }
}
