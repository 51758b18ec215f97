//! Putting a finished folder in the place of the previous one, and tidying up after builds that were killed.

use super::cannot;
use base::model::Fault;
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

/// The hidden folder that a build of this version writes to.
pub fn fresh(product_folder: &Path, version: &str) -> PathBuf {
    product_folder.join(format!(".{version}.new"))
}

/// Where the previous bundle waits for the moment of the change.
fn previous(product_folder: &Path, version: &str) -> PathBuf {
    product_folder.join(format!(".{version}.old"))
}

/// Whether a killed build of this version left anything, or one is writing at this moment.
pub fn has_leftovers(product_folder: &Path, version: &str) -> bool {
    fresh(product_folder, version).exists() || previous(product_folder, version).exists()
}

/// Removes what a killed build of this version left. If it was killed in the middle of the change, the previous
/// bundle is put back. Only for the holder of the lock.
pub fn clear_leftovers(product_folder: &Path, version: &str) -> io::Result<()> {
    let (new, old, target) =
        (fresh(product_folder, version), previous(product_folder, version), product_folder.join(version));
    if old.exists() && !target.exists() {
        fs::rename(&old, &target)?;
    }
    for left in [new, old] {
        match fs::remove_dir_all(&left) {
            Err(e) if e.kind() != io::ErrorKind::NotFound => return Err(e),
            _ => {}
        }
    }
    Ok(())
}

/// Puts `new` in the place of `target`. On Linux the two change places in one step. Elsewhere, and on file systems
/// that cannot do that, it takes two renames: for a moment between them there is no `target`. A program killed in that
/// moment leaves the previous bundle as `.<version>.old`, and the next build of this version puts it back.
pub fn into_place(new: &Path, target: &Path) -> Result<(), Fault> {
    let product_folder = target.parent().unwrap_or(target);
    let fail = |e: io::Error| cannot("put the bundle in place", target, &e);
    if !target.exists() {
        fs::rename(new, target).map_err(fail)?;
    } else if exchange(new, target) {
        remove_quietly(new);
    } else {
        in_two_renames(new, target, product_folder).map_err(fail)?;
    }
    sync_folder(product_folder).map_err(fail)
}

/// The previous one steps aside, the new one steps in; if it cannot, the previous one comes back.
pub(super) fn in_two_renames(new: &Path, target: &Path, product_folder: &Path) -> io::Result<()> {
    let version = target.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
    let old = previous(product_folder, &version);
    fs::rename(target, &old)?;
    if let Err(e) = fs::rename(new, target) {
        fs::rename(&old, target)?;
        return Err(e);
    }
    remove_quietly(&old);
    Ok(())
}

/// What is left of the previous bundle goes; if it cannot, the next build sweeps it.
fn remove_quietly(folder: &Path) {
    let _ = fs::remove_dir_all(folder);
}

#[cfg(target_os = "linux")]
fn exchange(a: &Path, b: &Path) -> bool {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    renameat_with(CWD, a, CWD, b, RenameFlags::EXCHANGE).is_ok()
}

#[cfg(not(target_os = "linux"))]
fn exchange(_: &Path, _: &Path) -> bool {
    false
}

/// Flushes a folder's list of names to the disk, where the system lets a folder be opened.
pub fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}
