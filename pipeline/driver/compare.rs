//! `diff`: two versions read from the disk and compared, and the pack that leads from one to the other.

use super::pack;
use super::pack::Packed;
use super::versions::{RECORD, version};
use base::files::slashed;
use base::model::difference::Comparison;
use base::model::{Fault, Stop};
use inspect::Uncached;
use judge::diff;
use judge::diff::DiffOptions;
use judge::validate;
use std::path::Path;

/// What `diff` shows beside the changes.
#[derive(Clone, Copy, Debug, Default)]
pub struct Wanted {
    /// Pictures of what changed.
    pub pictures: bool,
    /// What people who have the old version take over from the new one.
    pub pack: bool,
}

/// Compares two versions: bundle folders, archives, or single files; with pictures of what changed and with an update pack, if
/// wanted.
///
/// # Errors
/// A path that cannot be read; for a pack, a folder that is no version of anything, and pages that cannot be copied.
pub fn diff(old: &Path, new: &Path, wanted: Wanted) -> Result<(Comparison, Option<Packed>), Stop> {
    if wanted.pack {
        let faults: Vec<Fault> = [old, new].into_iter().filter_map(no_version).collect();
        if !faults.is_empty() {
            return Err(faults.into());
        }
    }
    let (a, b) = rayon::join(|| version(old), || version(new));
    let ((mut a, from), (mut b, to)) = match (a, b) {
        (Ok(a), Ok(b)) => (a, b),
        (a, b) => return Err(Stop::Faults(a.err().into_iter().chain(b.err()).collect())),
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
        // A folder against an archive: what the archive holds. A folder against a file: the file of that name in it.
        match (&from, &to) {
            (Some(file), None) => beside(&mut a, file, &mut b, new)?,
            (None, Some(file)) => beside(&mut b, file, &mut a, old)?,
            _ => {}
        }
    }
    let options = DiffOptions { pictures: wanted.pictures, checks: true, quick: false, drawn: usize::MAX };
    let trees = wanted.pack.then(|| (a.clone(), b.clone()));
    let compared = diff::compare(a, b, outer.as_deref(), options, &Uncached);
    let packed = trees.map(|(a, b)| pack::make(&compared, (&a, &b), &Uncached)).transpose()?;
    let judge = |files| validate::judge(&validate::with_kinds(files), &[]);
    let (before, after) = rayon::join(|| judge(compared.old), || judge(compared.new));
    Ok((Comparison { checks: diff::checks::compare(&before, &after), ..compared.found }, packed))
}

/// Why a path is no version that a pack could lead from or to; `None` if it is one.
fn no_version(path: &Path) -> Option<Fault> {
    let source = path.is_dir() && path.join(manifest::FILE).is_file() && !path.join(RECORD).is_file();
    source.then(|| {
        Fault::new("this is the folder of a product, not a bundle that was built from it")
            .in_file(slashed(path))
            .help("build it, and name the bundle, such as dist/my-notebook/1.1.0")
    })
}

/// Makes a file and a folder comparable.
///
/// # Errors
/// A folder without a file of that name, or with several that differ.
fn beside(one: &mut diff::Tree, file: &str, many: &mut diff::Tree, folder: &Path) -> Result<(), Fault> {
    if let Some(inside) = one.get(file).and_then(diff::entries) {
        *one = inside;
        return Ok(());
    }
    let named = |path: &&String| path.rsplit('/').next() == Some(file);
    let same: Vec<String> = many.keys().filter(named).cloned().collect();
    let fault = |message: String, help: &str| Fault::new(message).in_file(slashed(folder)).help(help);
    let Some(first) = same.first() else {
        let message = format!("this folder holds no {file} to compare the other file with");
        return Err(fault(message, "name two folders or archives, or two files"));
    };
    if same.iter().any(|path| many[path].sha256 != many[first].sha256) {
        let message = format!("this folder holds several files of that name: {}", same.join(", "));
        return Err(fault(message, "name the one that is meant"));
    }
    let leaf = many[first].clone();
    *many = diff::Tree::from([(file.to_owned(), leaf)]);
    Ok(())
}
