//! What goes out to the disk: the bundle, written whole or not at all, and the cache of rendered files.
//!
//! A bundle is written into a hidden folder beside its place and flushed to the disk; only then does it change
//! places with the previous one. Whatever goes wrong before that, the previous bundle is as it was. A version that
//! buyers have is never changed at all.

pub mod cache;
mod copy;
mod swap;
mod versions;

pub use cache::Cache;
pub use copy::{check_new, copy_folder};
pub use versions::{Earlier, earlier, earlier_beside, issued_record, newest, note_product, product_of};

use base::checksum::sha256_hex;
use base::files::slashed;
use base::model::{Artifact, Fault, Sha, Stop};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File, TryLockError};
use std::io::{self, Write};
use std::path::{Component, Path, PathBuf};
use std::time::Duration;

/// The file that marks a folder as a bundle of ours.
const RECORD: &str = "bundle.json";

/// Folders whose files buyers get: they may not change in a version that was released.
const FOR_BUYERS: [&str; 2] = ["upload/", "contents/"];

/// What of a version has to stay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kept<'a> {
    /// Nothing: nobody has it yet.
    No,
    /// The bundle that lies there, whichever it is.
    AsItLies,
    /// The one whose record has this digest.
    Sealed(&'a str),
}

impl Kept<'_> {
    /// Whether a bundle with this digest of its record is the one that has to stay.
    fn is(self, record: Option<&str>) -> bool {
        match self {
            Kept::No => false,
            Kept::AsItLies => record.is_some(),
            Kept::Sealed(digest) => record == Some(digest),
        }
    }
}

/// Writes a bundle as `dist/<slug>/<version>/` and gives the path of that folder.
///
/// With the same files already there, nothing is written; a file that is already there is taken over as it lies, without
/// writing its bytes again. Of a version that buyers have (`kept`), the bundle that is there
/// stays as it is: it is a fault if what buyers get from it differs from `files`. Where the sealed bundle is not there, only
/// the very same is written. A folder that is no bundle of ours is never replaced.
/// `cancelled` is asked between the files; when it says so, the place stays as it was.
pub fn publish(
    dist: &Path,
    slug: &str,
    version: &str,
    files: &[Artifact],
    kept: Kept,
    cancelled: &(dyn Fn() -> bool + Sync),
) -> Result<PathBuf, Stop> {
    let odd: Vec<Fault> = [slug, version]
        .into_iter()
        .filter(|name| !is_one_name(name))
        .map(|name| Fault::new(format!("“{name}” cannot be the name of a folder")))
        .chain(files.iter().filter(|f| !is_inside(&f.path)).map(|f| {
            Fault::new("this path leads out of the bundle").in_file(&f.path).help("use a plain relative path")
        }))
        .collect();
    if !odd.is_empty() {
        return Err(odd.into());
    }
    let product_folder = dist.join(slug);
    fs::create_dir_all(&product_folder).map_err(|e| cannot("make the folder", &product_folder, &e))?;
    let _lock = lock(&product_folder, version)?;
    swap::clear_leftovers(&product_folder, version).map_err(|e| cannot("tidy up", &product_folder, &e))?;

    let digest = |record: Option<&[u8]>| record.map(sha256_hex);
    let fresh_record = digest(files.iter().find(|f| f.path == RECORD).map(|f| &*f.bytes));
    // The very bytes that were sealed may always be written.
    let very = matches!(kept, Kept::Sealed(_)) && kept.is(fresh_record.as_deref());
    let target = product_folder.join(version);
    let mut there = BTreeMap::new();
    if target.exists() {
        there = read_all(&target).map_err(|e| cannot("read", &target, &e))?;
        if !there.is_empty() && !there.contains_key(RECORD) {
            return Err(Fault::new("this folder has files in it, and is no bundle of ours: it is not replaced")
                .in_file(slashed(&target))
                .help("move it away, or build to another folder with --out")
                .into());
        }
        if kept != Kept::No && kept.is(digest(there.get(RECORD).map(Vec::as_slice)).as_deref()) {
            let changed = differing(&there, files);
            if changed.is_empty() {
                return Ok(target);
            }
            if !very {
                return Err(released(&target, version, &changed).into());
            }
        }
        if same(&there, files) && (very || !matches!(kept, Kept::Sealed(_))) {
            return Ok(target);
        }
    }
    if matches!(kept, Kept::Sealed(_)) && !very {
        return Err(released(&target, version, &[format!("{RECORD} is not the one that was sealed")]).into());
    }

    let lies = |file: &Artifact| there.get(&file.path).is_some_and(|b| **b == *file.bytes);
    let parts: Vec<_> = files.iter().map(|f| (f.path.as_str(), (!lies(f)).then_some(&*f.bytes))).collect();
    replace(&product_folder, version, &parts, cancelled)?;
    Ok(target)
}

/// Writes some files of the bundle that lies there anew; all others stay as they are. The whole changes places in one step,
/// as when it is published. Nothing is done, and `false` given, where another bundle lies there by now than the one whose
/// record has this digest: somebody else built meanwhile.
pub fn renew(
    dist: &Path,
    (slug, version): (&str, &str),
    record: Option<&str>,
    files: &[Artifact],
    cancelled: &(dyn Fn() -> bool + Sync),
) -> Result<bool, Stop> {
    let product_folder = dist.join(slug);
    let target = product_folder.join(version);
    let _lock = lock(&product_folder, version)?;
    if record_digest(dist, slug, version).as_deref() != record {
        return Ok(false);
    }
    swap::clear_leftovers(&product_folder, version).map_err(|e| cannot("tidy up", &product_folder, &e))?;
    let lies = paths_below(&target).map_err(|e| cannot("read", &target, &e))?;
    let stays = lies.iter().filter(|path| files.iter().all(|f| f.path != **path)).map(|path| (path.as_str(), None));
    let parts: Vec<_> = files.iter().map(|f| (f.path.as_str(), Some(&*f.bytes))).chain(stays).collect();
    replace(&product_folder, version, &parts, cancelled)?;
    Ok(true)
}

/// A file of a bundle: its path, and its bytes, or nothing where it stays as it lies in the bundle before.
type Part<'p> = (&'p str, Option<&'p [u8]>);

/// Puts a bundle together beside its place, and there when it is whole. Only for the holder of the lock.
fn replace(
    product_folder: &Path,
    version: &str,
    parts: &[Part],
    cancelled: &(dyn Fn() -> bool + Sync),
) -> Result<(), Stop> {
    let (fresh, target) = (swap::fresh(product_folder, version), product_folder.join(version));
    let written = write_all(&fresh, &target, parts, cancelled).and_then(|()| Ok(swap::into_place(&fresh, &target)?));
    written.inspect_err(|_| {
        // The folder is hidden and will be swept by the next build if it cannot be removed now.
        let _ = fs::remove_dir_all(&fresh);
    })
}

/// Removes what a killed build of this version left, where nobody builds it at this moment; for a build that has nothing to
/// write.
pub fn sweep(dist: &Path, slug: &str, version: &str) -> Result<(), Fault> {
    let product_folder = dist.join(slug);
    if !swap::has_leftovers(&product_folder, version) {
        return Ok(());
    }
    // Whoever holds the lock writes there, and sweeps.
    let Ok(_lock) = lock(&product_folder, version) else { return Ok(()) };
    swap::clear_leftovers(&product_folder, version).map_err(|e| cannot("tidy up", &product_folder, &e))
}

/// Writes a page beside the versions of a product and gives its path.
pub fn put_beside(dist: &Path, slug: &str, name: &str, bytes: &[u8]) -> Result<PathBuf, Fault> {
    let path = dist.join(slug).join(name);
    replace_bytes(&path, bytes)?;
    Ok(path)
}

/// Takes such a page away again; it is of no consequence if there is none.
pub fn drop_beside(dist: &Path, slug: &str, name: &str) {
    let _ = fs::remove_file(dist.join(slug).join(name));
}

/// The folder in which a version of a product lies, or will.
pub fn place(dist: &Path, slug: &str, version: &str) -> PathBuf {
    dist.join(slug).join(version)
}

/// The digest of the record of the bundle that lies there as a version of a product.
pub fn record_digest(dist: &Path, slug: &str, version: &str) -> Option<String> {
    fs::read(place(dist, slug, version).join(RECORD)).ok().map(|bytes| sha256_hex(&bytes))
}

/// The paths at which the bundle that lies there is another than one of these digests: files that are altered, missing, or
/// there besides. `None` where no bundle can be read.
pub fn unlike(dist: &Path, slug: &str, version: &str, digests: &BTreeMap<String, String>) -> Option<BTreeSet<String>> {
    let target = place(dist, slug, version);
    let lies: BTreeSet<String> = paths_below(&target).ok()?.into_iter().collect();
    let mut every: Vec<&String> =
        digests.keys().chain(lies.iter().filter(|path| !digests.contains_key(*path))).collect();
    // The largest first, so that none of them is what all wait for.
    let long = |path: &&String| fs::metadata(target.join(path)).map_or(0, |file| file.len());
    every.sort_by_cached_key(|path| std::cmp::Reverse(long(path)));
    let same = |path: &str| {
        let lies = File::open(target.join(path)).and_then(Sha::of_read).ok();
        lies.zip(digests.get(path)).is_some_and(|(lies, digest)| *digest == lies.to_string())
    };
    Some(every.into_par_iter().with_max_len(1).filter(|path| !same(path)).cloned().collect())
}

/// Writes a new file, and the folders above it; a file that is there already stays and is a fault.
pub fn new_file(path: &Path, text: &str) -> Result<(), Fault> {
    new_bytes(path, text.as_bytes())
}

/// The same for a file that is no text.
pub fn new_bytes(path: &Path, bytes: &[u8]) -> Result<(), Fault> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(|e| cannot("make the folder", folder, &e))?;
    }
    let mut file = File::create_new(path).map_err(|e| cannot("make the file", path, &e))?;
    file.write_all(bytes).map_err(|e| cannot("write", path, &e))
}

/// Writes a file whole or not at all, in place of one that may be there; the folders above it are made.
pub fn replace_file(path: &Path, text: &str) -> Result<(), Fault> {
    replace_bytes(path, text.as_bytes())
}

fn replace_bytes(path: &Path, bytes: &[u8]) -> Result<(), Fault> {
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    fs::create_dir_all(folder).map_err(|e| cannot("make the folder", folder, &e))?;
    let write = || -> io::Result<()> {
        let mut file = tempfile::Builder::new().prefix(".writing-").tempfile_in(folder)?;
        file.write_all(bytes)?;
        file.as_file().sync_all()?;
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            // A temporary file is for its owner alone; a page is for whoever may read the one that it replaces.
            let mode = fs::metadata(path).map_or(0o644, |m| m.permissions().mode());
            file.as_file().set_permissions(fs::Permissions::from_mode(mode))?;
        }
        file.persist(path).map(drop).map_err(|e| e.error)
    };
    write().map_err(|e| cannot("write", path, &e))
}

/// Whether bundles can be written under `dist`: makes the folder if need be and writes a file to it.
pub fn check_writable(dist: &Path) -> Result<(), Fault> {
    fs::create_dir_all(dist).map_err(|e| cannot("make the folder", dist, &e))?;
    // Where the system can, a file without a name: whatever happens, nothing of it stays.
    tempfile::tempfile_in(dist).and_then(|mut f| f.write_all(b"x")).map_err(|e| cannot("write to the folder", dist, &e))
}

/// How often a lock is asked for again, 20 ms apart, before another build is taken to hold it.
const PATIENCE: usize = 15;

/// One build at a time for a version: the system frees the lock when a build ends, however it ends.
fn lock(product_folder: &Path, version: &str) -> Result<File, Fault> {
    let path = product_folder.join(format!(".{version}.lock"));
    let file = File::options()
        .create(true)
        .truncate(false)
        .write(true)
        .open(&path)
        .map_err(|e| cannot("write to the folder", product_folder, &e))?;
    let mut held = file.try_lock();
    // A program that was started at the wrong moment holds the lock of a build that is over, until it has begun.
    for _ in 0..PATIENCE {
        if !matches!(held, Err(TryLockError::WouldBlock)) {
            break;
        }
        std::thread::sleep(Duration::from_millis(20));
        held = file.try_lock();
    }
    match held {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => {
            Err(Fault::new(format!("another build is writing version {version} at this moment"))
                .in_file(slashed(product_folder))
                .help("wait until it is done, then build again"))
        }
        // Some network file systems know no locks; the swap is still one step.
        Err(TryLockError::Error(e)) if e.kind() == io::ErrorKind::Unsupported => Ok(file),
        Err(TryLockError::Error(e)) => Err(cannot("lock", &path, &e)),
    }
}

/// Writes all files of a bundle and waits until they are on the disk; what stays is taken over from the folder `before`.
fn write_all(folder: &Path, before: &Path, parts: &[Part], cancelled: &(dyn Fn() -> bool + Sync)) -> Result<(), Stop> {
    let cannot = |what: &str, path: &Path, e: &io::Error| Stop::from(cannot(what, path, e));
    let go_on = || if cancelled() { Err(Stop::Cancelled) } else { Ok(()) };
    fs::create_dir_all(folder).map_err(|e| cannot("make the folder", folder, &e))?;
    let mut folders: Vec<PathBuf> =
        parts.iter().filter_map(|(path, _)| folder.join(path).parent().map(Path::to_path_buf)).collect();
    folders.push(folder.to_path_buf());
    folders.sort();
    folders.dedup();
    for f in &folders {
        fs::create_dir_all(f).map_err(|e| cannot("make the folder", f, &e))?;
    }
    parts.par_iter().try_for_each(|(inside, bytes)| {
        go_on()?;
        let path = folder.join(inside);
        let write = || match bytes {
            Some(bytes) => write_new(&path, bytes, cancelled),
            None => take_over(&before.join(inside), &path, cancelled),
        };
        write().map_err(|e| cannot("write", Path::new(inside), &e))?;
        go_on()
    })?;
    for f in &folders {
        go_on()?;
        swap::sync_folder(f).map_err(|e| cannot("flush", f, &e))?;
    }
    Ok(())
}

/// Writes one file and waits until it is on the disk, unless nobody wants it any more.
fn write_new(path: &Path, bytes: &[u8], cancelled: &(dyn Fn() -> bool + Sync)) -> io::Result<()> {
    // `create_new`: two artifacts of one path are an error, not a race.
    let mut out = File::create_new(path)?;
    out.write_all(bytes)?;
    // To wait for the disk takes the longest.
    if cancelled() { Ok(()) } else { out.sync_all() }
}

/// A second name for a file that is on the disk already; the first goes with the folder that is replaced. A file system that
/// knows no second names gets a copy, and so does whoever put a link in the place of a file.
fn take_over(from: &Path, to: &Path, cancelled: &(dyn Fn() -> bool + Sync)) -> io::Result<()> {
    let linked = fs::symlink_metadata(from)?.is_file() && fs::hard_link(from, to).is_ok();
    if linked { Ok(()) } else { write_new(to, &fs::read(from)?, cancelled) }
}

/// The path of every file under a folder, with `/`, in order.
fn paths_below(folder: &Path) -> io::Result<Vec<String>> {
    let mut out = Vec::new();
    for entry in walkdir::WalkDir::new(folder).sort_by_file_name() {
        let entry = entry?;
        if entry.file_type().is_dir() {
            continue;
        }
        let inside = entry.path().strip_prefix(folder).unwrap_or(entry.path());
        let parts: Vec<_> = inside.components().map(|c| c.as_os_str().to_string_lossy().into_owned()).collect();
        out.push(parts.join("/"));
    }
    Ok(out)
}

/// Every file under a folder: path with `/`, and its bytes.
fn read_all(folder: &Path) -> io::Result<BTreeMap<String, Vec<u8>>> {
    let paths = paths_below(folder)?;
    paths.into_par_iter().map(|path| fs::read(folder.join(&path)).map(|bytes| (path, bytes))).collect()
}

fn same(there: &BTreeMap<String, Vec<u8>>, files: &[Artifact]) -> bool {
    there.len() == files.len() && files.iter().all(|f| there.get(&f.path).is_some_and(|b| **b == *f.bytes))
}

/// What buyers would get otherwise than before: a line a file.
fn differing(there: &BTreeMap<String, Vec<u8>>, files: &[Artifact]) -> Vec<String> {
    let for_buyers = |path: &str| FOR_BUYERS.iter().any(|f| path.starts_with(f));
    let new: BTreeMap<&str, &[u8]> =
        files.iter().filter(|f| for_buyers(&f.path)).map(|f| (f.path.as_str(), &*f.bytes)).collect();
    let old: BTreeMap<&str, &[u8]> =
        there.iter().filter(|(p, _)| for_buyers(p)).map(|(p, b)| (p.as_str(), b.as_slice())).collect();
    let mut paths: Vec<&str> = new.keys().chain(old.keys()).copied().collect();
    paths.sort_unstable();
    paths.dedup();
    paths
        .into_iter()
        .filter_map(|path| match (old.get(path), new.get(path)) {
            (Some(a), Some(b)) if a == b => None,
            (Some(_), Some(_)) => Some(format!("{path} has changed")),
            (None, _) => Some(format!("{path} is new")),
            (_, None) => Some(format!("{path} is gone")),
        })
        .collect()
}

fn released(target: &Path, version: &str, changed: &[String]) -> Fault {
    const SHOWN: usize = 12;
    let mut list = changed.iter().take(SHOWN).cloned().collect::<Vec<_>>().join(", ");
    if changed.len() > SHOWN {
        list.push_str(&format!(", and {} more", changed.len() - SHOWN));
    }
    Fault::new(format!("version {version} was released, and this build would change it: {list}"))
        .in_file(slashed(target))
        .help("give the product a new version number; the released one stays as buyers have it")
}

fn cannot(what: &str, path: &Path, e: &io::Error) -> Fault {
    let help = match e.kind() {
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
            "allow yourself to write there, or build to another folder with --out"
        }
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "free some room on the disk; nothing was changed",
        io::ErrorKind::NotADirectory | io::ErrorKind::AlreadyExists => {
            "a file stands where a folder is needed, or the other way round: move it away"
        }
        _ => "nothing was changed",
    };
    Fault::new(format!("cannot {what}: {e}")).in_file(slashed(path)).help(help)
}

/// Whether a path stays inside its folder.
fn is_inside(path: &str) -> bool {
    !path.is_empty()
        && !path.contains('\\')
        && Path::new(path).components().all(|c| matches!(c, Component::Normal(_)))
        && !path.ends_with('/')
}

/// Whether a text is one visible folder name.
fn is_one_name(name: &str) -> bool {
    is_inside(name) && !name.contains('/') && !name.starts_with('.')
}

#[cfg(test)]
mod tests;
