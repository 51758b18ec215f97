//! Notes that the designer writes on pages of the proof while `watch` shows it: a file beside the manifest.

use crate::{store, world};
use base::model::Fault;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};

/// The file that they are kept in.
pub const FILE: &str = "proof-notes.json";

/// Most notes, and the most characters of one.
const MOST: usize = 1000;
const LONGEST: usize = 2000;

/// A note on a page.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Note {
    /// The file of the bundle.
    file: String,
    /// Its page, from 1, when the note was written.
    page: u32,
    /// The name that the page had, by which it is found again when pages move.
    name: String,
    /// What is to be done.
    text: String,
    /// Whether it is done.
    done: bool,
}

/// Where the notes of a product are kept; it may be named by its manifest.
pub fn beside(product: &Path) -> PathBuf {
    let folder = if product.ends_with(manifest::FILE) { product.parent().unwrap_or(product) } else { product };
    folder.join(FILE)
}

/// The notes as JSON; none where there is no file, or one that is none of these.
pub fn read(file: &Path) -> String {
    let bytes = world::read_outside(file).unwrap_or_default();
    let sound: Vec<Note> = serde_json::from_slice(&bytes).unwrap_or_default();
    serde_json::to_string(&sound).unwrap_or_else(|_| "[]".to_owned())
}

/// Keeps notes in place of those that there are.
///
/// # Errors
/// What is no list of notes, and a file that cannot be written.
pub fn keep(file: &Path, bytes: &[u8]) -> Result<(), Fault> {
    let notes: Vec<Note> = serde_json::from_slice(bytes).map_err(|e| Fault::new(format!("these are no notes: {e}")))?;
    if notes.len() > MOST || notes.iter().any(|n| n.text.chars().count() > LONGEST) {
        return Err(Fault::new(format!("{MOST} notes of {LONGEST} characters are the most")));
    }
    // A file that somebody edited by hand and left unsound is not written over.
    if world::read_outside(file).is_ok_and(|there| serde_json::from_slice::<Vec<Note>>(&there).is_err()) {
        return Err(Fault::new("it is no list of notes; mend it or move it away").in_file(FILE));
    }
    let text = serde_json::to_string_pretty(&notes).map_err(|e| Fault::new(e.to_string()))?;
    store::replace_file(file, &(text + "\n"))
}
