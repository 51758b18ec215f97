//! `diff`: two versions read from the disk and compared.

use super::seals;
use super::session::{Session, Task};
use crate::store;
use crate::store::Earlier;
use base::files::slashed;
use base::model::difference::{Comparison, Since};
use base::model::pack;
use base::model::{Artifact, Blob, Fault, Stop};
use judge::diff;
pub use judge::diff::note::Note;
use judge::diff::{Compared, DiffOptions};
use rayon::prelude::*;
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The note to past buyers about a comparison, in plain words.
pub fn change_note(found: &Comparison) -> Note {
    diff::note::write(found)
}

/// The list of changes of a product, beside its manifest.
const CHANGES: &str = "CHANGES.md";

/// Puts the note into the list of changes of a product, before all others; an entry of the same version that is
/// already there stays as the designer left it. Gives the path, and whether anything was written.
///
/// # Errors
/// Without a version number there is nothing to call the entry; a list that cannot be read or written.
pub fn record_change(found: &Comparison, product: &Path) -> Result<(PathBuf, bool), Fault> {
    let Some(numbers) = &found.numbers else {
        let help = "compare two bundle folders with a bundle.json each";
        return Err(Fault::new("the versions state no numbers, so that the entry cannot be named").help(help));
    };
    let folder = if product.is_file() { product.parent().unwrap_or(Path::new(".")) } else { product };
    let path = folder.join(CHANGES);
    let before = if path.exists() { crate::world::read_outside(&path)? } else { Vec::new() };
    let before = String::from_utf8(before)
        .map_err(|_| Fault::new("it is not UTF-8 text").in_file(slashed(&path)).help("save it again as UTF-8"))?;
    let entry = diff::note::entry(&change_note(found).text, &numbers.new, found.released.as_deref());
    let after = diff::note::with_entry(&before, &numbers.new, &entry);
    if let Some(after) = &after {
        store::replace_file(&path, after)?;
    }
    Ok((path, after.is_some()))
}

/// What files would change of the bundle that lies in a folder; `None` if none lies there. A quick look at it costs
/// little and says less.
pub fn against(
    session: &Session,
    folder: &Path,
    files: &[Artifact],
    quick: bool,
) -> Result<Option<Arc<Comparison>>, Stop> {
    if !folder.join(RECORD).is_file() {
        return Ok(None);
    }
    let Ok((old, _)) = version(folder) else { return Ok(None) };
    Ok(Some(compared(session, old, tree(&files.iter().collect::<Vec<_>>()), quick)?.0))
}

/// What changed since the version that buyers have, or else since the newest earlier one that lies there; `None` if
/// there is none, or if it cannot be read. `files` are those of the new version, with its record.
pub fn since(session: &Session, earlier: Option<&Earlier>, files: &[Artifact]) -> Result<Option<Since>, Stop> {
    let Some(sides) = earlier.and_then(|earlier| Sides::of(earlier, files)) else { return Ok(None) };
    Ok(Some(sides.since(session)?.0))
}

/// An earlier version and the files of a new one, both without what follows from all others.
pub struct Sides<'e> {
    earlier: &'e Earlier,
    /// The files of the earlier version.
    pub old: diff::Tree,
    /// Those of the new one.
    pub new: diff::Tree,
}

impl<'e> Sides<'e> {
    /// Both; `None` if the earlier one cannot be read.
    pub fn of(earlier: &'e Earlier, files: &[Artifact]) -> Option<Sides<'e>> {
        let (mut old, _) = version(&earlier.folder).ok()?;
        old.retain(|path, _| !derived(path));
        let files: Vec<&Artifact> = files.iter().filter(|f| !derived(&f.path)).collect();
        Some(Sides { earlier, old, new: tree(&files) })
    }

    /// The PDFs of the earlier version as buyers have them, by their paths.
    pub fn documents(&self) -> BTreeMap<String, Blob> {
        let pdf = |path: &str| path.starts_with("contents/") && path.ends_with(".pdf");
        let files = self.old.iter().filter(|(path, _)| pdf(path));
        files.filter_map(|(path, file)| Some((path.clone(), file.bytes.clone()?))).collect()
    }

    /// What changed; and the comparison, where it was made just now and a closer one would say nothing else.
    pub fn since(&self, session: &Session) -> Result<(Since, Option<Compared>), Stop> {
        let (found, made) = compared(session, self.old.clone(), self.new.clone(), false)?;
        let Earlier { folder, version, issued, .. } = self.earlier;
        let (released, line) = (released(folder), diff::line(&found));
        let since = Since { version: version.clone(), released, issued: *issued, line, found: (*found).clone() };
        Ok((since, made.filter(|made| made.undrawn == 0)))
    }
}

/// Whether a file follows from all others, so that it may not be made yet in a new version.
fn derived(path: &str) -> bool {
    path == show::proof::FILE || path == "SHA256SUMS" || path.starts_with(pack::FOLDER)
}

/// Name of the record.
pub const RECORD: &str = "bundle.json";

/// The version that a bundle with this record follows, of those of the same product that lie beside it.
///
/// # Errors
/// A list of releases that is none.
pub fn earlier_of(bundle: &Path, record: &Value) -> Result<Option<Earlier>, Stop> {
    let sealed = seals::of_bundle(bundle)?.versions();
    let earlier = record["version"].as_str().and_then(|version| store::earlier_beside(bundle, version, &sealed));
    Ok(earlier.filter(|e| record_of(&e.folder).is_some_and(|old| old["product"] == record["product"])))
}

/// The date of release in the record of a bundle.
fn released(folder: &Path) -> Option<String> {
    record_of(folder)?["released"].as_str().map(str::to_owned)
}

fn record_of(folder: &Path) -> Option<Value> {
    let record = crate::world::read_outside(&folder.join(RECORD)).ok()?;
    serde_json::from_slice(&record).ok()
}

fn tree(files: &[&Artifact]) -> diff::Tree {
    files.par_iter().map(|f| (f.path.clone(), diff::leaf(f.bytes.clone()))).collect()
}

/// What changed between two versions, and the comparison as a whole where it was not remembered.
fn compared(
    session: &Session,
    old: diff::Tree,
    new: diff::Tree,
    quick: bool,
) -> Result<(Arc<Comparison>, Option<Compared>), Stop> {
    let mut made = None;
    let found = session.ask(Task::new("comparison", &(digests(&old), digests(&new), quick)), || {
        let options = DiffOptions { pictures: false, checks: false, quick, drawn: DRAWN };
        let compared = diff::compare(old, new, None, options, session);
        let found = compared.found.clone();
        made = Some(compared);
        Ok(found)
    })?;
    Ok((found, made))
}

/// What tells a tree from others.
pub fn digests(tree: &diff::Tree) -> Vec<(String, String)> {
    tree.iter().map(|(path, leaf)| (path.clone(), leaf.sha256.clone())).collect()
}

/// A build that changes every page need not wait until all of them are drawn twice.
const DRAWN: usize = 40;

/// What changed, in one line.
pub fn line(found: &Comparison) -> String {
    diff::line(found)
}

/// The same stop; of a released version it says what a build would change of it.
pub fn explained(stop: Stop, found: Option<&Comparison>) -> Stop {
    match stop {
        Stop::Faults(faults) => Stop::Faults(faults.into_iter().map(|f| explain(f, found)).collect()),
        Stop::Cancelled => Stop::Cancelled,
    }
}

fn explain(fault: Fault, found: Option<&Comparison>) -> Fault {
    const SHOWN: usize = 8;
    let Some(found) = found.filter(|f| !f.same && fault.message.contains("was released")) else { return fault };
    let told: Vec<_> = found.differences.iter().filter(|d| !d.is_copy()).collect();
    let mut message = fault.message.clone();
    for d in told.iter().take(SHOWN) {
        let page = d.page_new.or(d.page_old).map(|p| format!(", page {p}")).unwrap_or_default();
        let first = d.message.lines().next().unwrap_or_default();
        message.push_str(&format!("\n    {}{page}: {first}", d.path));
    }
    if told.len() > SHOWN {
        message.push_str(&format!("\n    and {} more changes", told.len() - SHOWN));
    }
    let number = found.numbers.as_ref().map(|n| format!(" ({} or higher, by what changed)", n.needed));
    let help = fault
        .help
        .as_ref()
        .map(|h| h.replacen("a new version number", &format!("a new version number{}", number.unwrap_or_default()), 1));
    Fault { message, help, ..fault }
}

/// Writes a comparison as a page for a browser.
///
/// # Errors
/// When the file cannot be written.
pub fn changes_page(found: &Comparison, path: &Path) -> Result<(), Fault> {
    store::replace_file(path, &diff::page::write(found)?)
}

/// The files of a version by their paths inside of it, and the name of the file if it is a single one.
pub fn version(path: &Path) -> Result<(diff::Tree, Option<String>), Fault> {
    let files = crate::world::files_below(path)?;
    let read = |file: &Path| Ok(diff::leaf(crate::world::read_outside(file)?.into()));
    if !path.is_dir() {
        let name = path.file_name().map_or_else(|| slashed(path), |n| n.to_string_lossy().into_owned());
        let tree = diff::Tree::from([(name.clone(), read(path)?)]);
        return Ok((tree, Some(name)));
    }
    let inside = |full: &Path| {
        let below = full.strip_prefix(path).unwrap_or(full);
        slashed(below)
    };
    let tree: Result<diff::Tree, Fault> = files.par_iter().map(|file| Ok((inside(file), read(file)?))).collect();
    Ok((tree?, None))
}
