//! `diff`: two versions read from the disk and compared.

use crate::diff::{self, Care};
use crate::model::Fault;
use crate::model::difference::Comparison;
use crate::{store, validate};
use rayon::prelude::*;
use std::path::Path;

/// The note to past buyers about a comparison, in plain words.
///
/// # Errors
/// When the note's template cannot be filled.
pub fn change_note(found: &Comparison) -> Result<String, Fault> {
    diff::note::write(found)
}

/// Writes a comparison as a page for a browser.
///
/// # Errors
/// When the file cannot be written.
pub fn changes_page(found: &Comparison, path: &Path) -> Result<(), Fault> {
    store::replace_file(path, &diff::page::write(found)?)
}

/// Compares two versions: bundle folders, archives, or single files; with pictures of what changed, if wanted.
///
/// # Errors
/// A path that cannot be read.
pub fn diff(old: &Path, new: &Path, pictures: bool) -> Result<Comparison, Vec<Fault>> {
    let (a, b) = rayon::join(|| version(old), || version(new));
    let ((mut a, from), (mut b, to)) = match (a, b) {
        (Ok(a), Ok(b)) => (a, b),
        (a, b) => return Err(a.err().into_iter().chain(b.err()).collect()),
    };
    let mut outer = None;
    if let (Some(from), Some(to)) = (&from, &to) {
        let differ = a.get(from).map(|l| &l.sha256) != b.get(to).map(|l| &l.sha256);
        // Two files are compared as one file, whatever they are called; two archives by what they hold.
        let inside = (a.get(from).and_then(diff::entries), b.get(to).and_then(diff::entries));
        if let (Some(x), Some(y)) = inside {
            (a, b) = (x, y);
            outer = differ.then(|| to.clone());
        } else if let Some(leaf) = a.remove(from) {
            a.insert(to.clone(), leaf);
        }
    } else {
        // A folder against an archive: what the archive holds.
        for (tree, file) in [(&mut a, &from), (&mut b, &to)] {
            if let Some(inside) = file.as_ref().and_then(|f| tree.get(f)).and_then(diff::entries) {
                *tree = inside;
            }
        }
    }
    let compared = diff::compare(a, b, outer.as_deref(), Care { pictures, quick: false });
    let judge = |files| validate::judge(&validate::with_kinds(files), None);
    let (before, after) = rayon::join(|| judge(compared.old), || judge(compared.new));
    Ok(Comparison { checks: diff::checks::compare(&before, &after), ..compared.found })
}

/// The files of a version by their paths inside of it, and the name of the file if it is a single one.
fn version(path: &Path) -> Result<(diff::Tree, Option<String>), Fault> {
    let files = crate::world::files_below(path)?;
    let read = |file: &Path| Ok(diff::leaf(crate::world::read_outside(file)?));
    if !path.is_dir() {
        let name = path.file_name().map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into_owned());
        let tree = diff::Tree::from([(name.clone(), read(path)?)]);
        return Ok((tree, Some(name)));
    }
    let inside = |full: &Path| {
        let below = full.strip_prefix(path).unwrap_or(full);
        below.components().map(|c| c.as_os_str().to_string_lossy().into_owned()).collect::<Vec<_>>().join("/")
    };
    let tree: Result<diff::Tree, Fault> = files.par_iter().map(|file| Ok((inside(file), read(file)?))).collect();
    Ok((tree?, None))
}
