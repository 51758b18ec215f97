//! `diff --pack`: an update pack is written, and told.

use super::outcome::say;
use crate::driver::Packed;
use crate::store;
use base::files::slashed;
use base::model::Fault;
use plan::pack::Words;
use serde_json::{Value, json};
use std::path::Path;

/// Writes the files of a pack, and says what there is.
///
/// # Errors
/// What cannot be written.
pub fn write(folder: &Path, packed: &Packed) -> Result<(), Fault> {
    for (path, bytes) in &packed.files {
        store::new_bytes(&folder.join(path), bytes)?;
    }
    if packed.files.is_empty() {
        say!(
            "Nothing to pack: no page, cover, sticker or guide is new or changed, so {} is not made.",
            slashed(folder)
        );
    } else {
        let pages: usize = packed.pack.books.iter().map(|book| book.pages().count()).sum();
        let word = if pages == 1 { "page" } else { "pages" };
        say!("Wrote {}: {} files with {pages} {word} to take over.", slashed(folder), packed.files.len());
    }
    for book in &packed.pack.books {
        let words = Words::of(None);
        for line in words.limits(book) {
            say!("note: {}: {line}", book.path);
        }
    }
    Ok(())
}

/// What was packed, for other programs.
pub fn json(packed: &Packed) -> Value {
    let words = Words::of(None);
    let books = packed.pack.books.iter().map(|book| {
        let pages: Vec<Value> = book
            .runs
            .iter()
            .flat_map(|run| {
                run.pages.iter().map(|page| json!({ "page": page.page + 1, "goes": words.place(&run.spot) }))
            })
            .collect();
        json!({
            "path": book.path,
            "pages": pages,
            "moved": book.moved.len(),
            "removed": book.removed.len(),
            "left_out": book.edges,
            "links_cut": book.cut,
        })
    });
    json!({
        "files": packed.files.iter().map(|(path, _)| path).collect::<Vec<_>>(),
        "documents": books.collect::<Vec<_>>(),
    })
}
