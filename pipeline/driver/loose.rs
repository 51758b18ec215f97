//! Files that somebody else made, or that lie there from before, read for the checks: no plan, no promise.

use super::session::all;
use crate::world;
use crate::world::Outside;
use base::files::slashed;
use base::model::facts::Inspected;
use base::model::{Artifact, Fault, Kind, Stop};
use rayon::prelude::*;
use std::path::Path;

/// A file, or the files below a folder. An archive that is named itself is looked into.
pub fn read(path: &Path) -> Result<Vec<Inspected>, Stop> {
    let named = path.is_file();
    let files = world::files_below(path)?;
    let read: Vec<Result<Vec<Inspected>, Fault>> = files
        .par_iter()
        .map(|file| {
            // The checks know files by their folders, which have `/` between them on every system.
            let name = slashed(file);
            match world::open_outside(file)? {
                Outside::Whole(bytes) if named => Ok(inspect::inspect_with_entries(&name, None, &bytes.into())),
                Outside::Whole(bytes) => Ok(vec![inspect::inspect(&name, None, &bytes.into())]),
                Outside::Archive(source) => inspect::inspect_source(&name, None, source, named)
                    .map_err(|e| Fault::new(format!("cannot be read: {e}")).in_file(&name)),
            }
        })
        .collect();
    Ok(all(read.into_iter().map(|file| file.map_err(Stop::from)))?.into_iter().flatten().collect())
}

/// All files of a folder by their paths inside of it, to be compared or shown.
///
/// # Errors
/// What cannot be read.
pub fn artifacts(folder: &Path) -> Result<Vec<Artifact>, Fault> {
    let inside = |full: &Path| slashed(full.strip_prefix(folder).unwrap_or(full));
    let paths = world::files_below(folder)?;
    let read = |p: &std::path::PathBuf| {
        Ok(Artifact { path: inside(p), kind: Kind::Listing, bytes: world::read_outside(p)?.into() })
    };
    paths.par_iter().map(read).collect()
}
