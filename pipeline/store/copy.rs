//! A folder copied as a whole into a new place.

use super::cannot;
use base::files::slashed;
use base::model::Fault;
use std::fs;
use std::path::Path;

/// Whether a folder can be made of this name: nothing is there yet, and it does not lie within the folder that is copied.
///
/// # Errors
/// Why not.
pub fn check_new(into: &Path, from: &Path) -> Result<(), Fault> {
    let shown = slashed(into);
    if into.symlink_metadata().is_ok() {
        let help = "name a folder that is not there yet; nothing is ever written over";
        return Err(Fault::new("there is something already").in_file(shown).help(help));
    }
    let parent = into.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let above = parent.ancestors().find_map(|folder| fs::canonicalize(folder).ok());
    if above.is_some_and(|above| above.starts_with(from)) {
        let help = "name a folder beside the product's";
        return Err(Fault::new("the new folder would lie within the old one").in_file(shown).help(help));
    }
    Ok(())
}

/// Copies the named files of a folder into a new one, all of them or none; `other` is written in place of a file.
///
/// # Errors
/// Files that cannot be copied, each of them.
pub fn copy_folder(from: &Path, into: &Path, names: &[&str], other: (&str, &str)) -> Result<(), Vec<Fault>> {
    check_new(into, from).map_err(|fault| vec![fault])?;
    let parent = into.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let failed = |what: &str, path: &Path, e: &std::io::Error| vec![cannot(what, path, e)];
    fs::create_dir_all(parent).map_err(|e| failed("make the folder", parent, &e))?;
    // Made beside its place and moved there when it is whole.
    let fresh = tempfile::Builder::new().prefix(".redating-").tempdir_in(parent);
    let fresh = fresh.map_err(|e| failed("make a folder in", parent, &e))?;
    let mut faults = Vec::new();
    for name in names {
        let (source, target) = (from.join(name), fresh.path().join(name));
        let made = target.parent().map_or(Ok(()), fs::create_dir_all).and_then(|()| match *name == other.0 {
            true => fs::write(&target, other.1),
            false => fs::copy(&source, &target).map(drop),
        });
        if let Err(e) = made {
            faults.push(cannot("copy", &source, &e));
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // A temporary folder is for its owner alone.
        let mode = fs::metadata(from).map_or(0o755, |m| m.permissions().mode());
        let set = fs::set_permissions(fresh.path(), fs::Permissions::from_mode(mode));
        set.map_err(|e| failed("open to others", fresh.path(), &e))?;
    }
    let made = fresh.keep();
    fs::rename(&made, into).map_err(|e| {
        let _ = fs::remove_dir_all(&made);
        failed("make the folder", into, &e)
    })
}
