//! The one door for outside input: files of the product's folder, what the command line names, and today's date.
//!
//! Nothing outside of the product's folder, and of the shop's that it lies in, is ever read on behalf of a manifest, and
//! everything that is read is written down, so that the bundle's record can say what went into it.

mod beside;
mod products;
mod shop;
pub mod watch;

pub use products::{bytes_below, products_named, products_near};
pub use shop::Shop;

use base::files::{Files, Made, Notes, slashed};
use base::model::{Blob, Fault};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::{Read, Seek};
use std::path::{Component, Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

/// Files larger than this are refused: no page, font or picture of a notebook is so large.
const LARGEST: u64 = 512 * 1024 * 1024;

/// A product's folder, and what was read from it.
pub struct World {
    root: PathBuf,
    /// The folder whose `shop.toml` holds for the product.
    shop: Option<Shop>,
    /// What was asked for of the shop's folder, whether it was there or not.
    asked: Mutex<BTreeSet<PathBuf>>,
    read: Mutex<Bytes>,
    /// What an earlier look at the same folder read: bytes that are still the same are not held twice.
    before: Bytes,
    seen: Mutex<Seen>,
    /// Other products that were asked for, by the way to their folders.
    beside: Mutex<BTreeMap<String, Arc<World>>>,
    notes: Option<Arc<dyn Notes>>,
}

/// Bytes by path.
type Bytes = BTreeMap<String, Blob>;

/// What was made of files, by what it is and the file's path, with the bytes that it was made of.
type Seen = BTreeMap<(String, String), (Blob, Made)>;

impl World {
    /// Opens a product's folder (or the folder of the manifest, if a file is named).
    pub fn open(path: &Path) -> Result<World, Fault> {
        let shown = slashed(path);
        let found = fs::canonicalize(path).map_err(|e| {
            Fault::new(format!("cannot be opened: {}", reason(&e)))
                .in_file(&shown)
                .help("name a folder with a product.toml in it; `sheafwright new DIR` makes one")
        })?;
        let root = if found.is_file() { found.parent().map(Path::to_owned).unwrap_or_default() } else { found };
        let shop = Shop::of(&root);
        let (read, seen, asked, beside) = Default::default();
        Ok(World { root, shop, asked, read, before: Bytes::new(), seen, beside, notes: None })
    }

    /// The same, with what earlier runs found out of files.
    #[must_use]
    pub fn noting(self, notes: Arc<dyn Notes>) -> World {
        World { notes: Some(notes), ..self }
    }

    /// A new look at the folder. Every file is read anew; where its bytes are the ones of this look, what was made of
    /// them stays at hand.
    pub fn again(self) -> World {
        let before = self.read.into_inner().unwrap_or_else(PoisonError::into_inner);
        let shop = Shop::of(&self.root);
        let (asked, read, beside) = Default::default();
        World { root: self.root, shop, asked, read, before, seen: self.seen, beside, notes: self.notes }
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, BTreeMap<String, Blob>> {
        // Entries are inserted whole, so a panic elsewhere cannot leave the map half written.
        self.read.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The folder of the shop that the product belongs to.
    pub fn shop_folder(&self) -> Option<&Path> {
        self.shop.as_ref().map(|shop| shop.folder.as_path())
    }

    /// Every file outside of the product's folder on which it rests: those of the shop's folder that were asked for, and where
    /// a `shop.toml` is looked for.
    pub fn rests_on(&self) -> Vec<PathBuf> {
        let asked = self.asked.lock().unwrap_or_else(PoisonError::into_inner);
        let own = asked.iter().cloned().chain(shop::looked_for(&self.root));
        own.chain(self.others().into_iter().flat_map(|(_, other)| other.every_file())).collect()
    }

    /// The folder that a path leads into, with the rest of the path: the shop's, or the product's own.
    fn folder_of<'p>(&self, path: &'p str) -> (&Path, &'p str) {
        let shop = self.shop.as_ref().filter(|shop| !shop.way.is_empty());
        match shop.and_then(|shop| Some((shop.folder.as_path(), path.strip_prefix(&shop.way)?))) {
            Some((folder, rest)) => {
                self.asked.lock().unwrap_or_else(PoisonError::into_inner).insert(folder.join(rest));
                (folder, rest)
            }
            None => (&self.root, path),
        }
    }

    /// The full path of a file that must lie inside of the folder, or of the shop's, links followed.
    fn inside(&self, path: &str) -> Result<PathBuf, Fault> {
        let (root, inner) = self.folder_of(path);
        if path.contains('\\') {
            return Err(Fault::new(format!("{path:?} has backslashes"))
                .help(format!("write folders with a slash: {}", path.replace('\\', "/"))));
        }
        let climbs = Path::new(inner).components().any(|c| !matches!(c, Component::Normal(_) | Component::CurDir));
        if climbs || path.contains('\0') || inner.is_empty() {
            return Err(Fault::new(format!("{path:?} does not stay inside the product's folder"))
                .help("copy the file into the product's folder and give its path from there, with / between folders"));
        }
        let full = fs::canonicalize(root.join(inner))
            .map_err(|e| Fault::new(format!("{path:?} cannot be read: {}", reason(&e))))?;
        if FORGIVING && other_case(Path::new(inner), &full) {
            return Err(Fault::new(format!("{path:?} cannot be read: {NOT_THERE}")));
        }
        if full.starts_with(root) {
            Ok(full)
        } else {
            Err(Fault::new(format!("{path:?} is a link that leads out of the product's folder"))
                .help("copy the file itself into the product's folder"))
        }
    }
}

impl Files for World {
    fn kept(&self, what: &str, path: &str, bytes: &Blob) -> Option<Made> {
        let seen = self.seen.lock().unwrap_or_else(PoisonError::into_inner);
        let (of, made) = seen.get(&(what.to_owned(), path.to_owned()))?;
        of.is_shared_with(bytes).then(|| made.clone())
    }

    fn keep(&self, what: &str, path: &str, bytes: &Blob, made: Made) {
        let mut seen = self.seen.lock().unwrap_or_else(PoisonError::into_inner);
        seen.insert((what.to_owned(), path.to_owned()), (bytes.clone(), made));
    }

    fn notes(&self) -> Option<&dyn Notes> {
        self.notes.as_deref()
    }

    fn root(&self) -> &Path {
        &self.root
    }

    fn shop(&self) -> Option<String> {
        self.shop.as_ref().map(Shop::file)
    }

    fn read(&self, path: &str) -> Result<Blob, Fault> {
        if let Some(bytes) = self.lock().get(path) {
            return Ok(bytes.clone());
        }
        let full = self.inside(path)?;
        let about = |e: &std::io::Error| Fault::new(format!("{path:?} cannot be read: {}", reason(e)));
        let size = fs::metadata(&full).map_err(|e| about(&e))?;
        if size.is_dir() {
            return Err(Fault::new(format!("{path:?} is a folder, not a file")));
        }
        if !size.is_file() {
            return Err(
                Fault::new(format!("{path:?} is {NO_FILE}")).help("copy the file itself into the product's folder")
            );
        }
        if size.len() > LARGEST {
            return Err(Fault::new(format!("{path:?} is larger than 512 MB")).help("make it smaller first"));
        }
        let fresh = fs::read(&full).map_err(|e| about(&e))?;
        let bytes = match self.before.get(path) {
            Some(known) if **known == *fresh => known.clone(),
            _ => fresh.into(),
        };
        self.lock().insert(path.to_owned(), bytes.clone());
        Ok(bytes)
    }

    fn has(&self, path: &str) -> bool {
        self.inside(path).is_ok()
    }

    fn inputs(&self) -> BTreeMap<String, Blob> {
        let mut all = self.lock().clone();
        for (way, other) in self.others() {
            all.extend(other.inputs().into_iter().map(|(path, bytes)| (beside::joined(&way, &path), bytes)));
        }
        all
    }

    fn beside(&self, way: &str) -> Result<Arc<dyn Files>, Fault> {
        Ok(self.open_beside(way)?)
    }

    fn nearby(&self, path: &str) -> Vec<String> {
        let folder = path.rsplit_once('/').map_or("", |(folder, _)| folder);
        let Ok(full) = self
            .inside(&if folder.is_empty() { ".".to_owned() } else { format!("{folder}/.") })
            .and_then(|full| if full.is_dir() { Ok(full) } else { Err(Fault::new("no folder")) })
        else {
            return self.somewhere(path);
        };
        let mut names: Vec<String> = walkdir::WalkDir::new(full)
            .min_depth(1)
            .max_depth(1)
            .into_iter()
            .filter_map(Result::ok)
            .filter(|e| e.file_type().is_file())
            .map(|e| e.file_name().to_string_lossy().into_owned())
            .map(|n| if folder.is_empty() { n } else { format!("{folder}/{n}") })
            .collect();
        names.extend(self.somewhere(path));
        names.sort();
        names.dedup();
        names
    }
}

impl World {
    /// Files of this name, whatever the case, wherever they lie: for a folder that is not there.
    fn somewhere(&self, path: &str) -> Vec<String> {
        let name = path.rsplit(['/', '\\']).next().unwrap_or_default().to_lowercase();
        let mut found: Vec<String> = walkdir::WalkDir::new(&self.root)
            .min_depth(1)
            .max_depth(4)
            .into_iter()
            .filter_map(Result::ok)
            .take(MOST_SEEN)
            .filter(|e| e.file_type().is_file() && e.file_name().to_string_lossy().to_lowercase() == name)
            .filter_map(|e| Some(slashed(e.path().strip_prefix(&self.root).ok()?)))
            .collect();
        found.sort();
        found
    }
}

/// Most files that are looked through for one that is somewhere else.
const MOST_SEEN: usize = 5_000;

/// Whether the system finds a file by its name in other capitals. Such a name is refused, as it is elsewhere: a product that
/// builds on one system builds on all.
const FORGIVING: bool = cfg!(any(windows, target_os = "macos"));

/// Whether a file was found whose name, or the name of a folder above it, has other capitals than the path that was asked for.
fn other_case(asked: &Path, found: &Path) -> bool {
    let names = |path: &Path| -> Vec<String> {
        let names = path.components().filter(|c| *c != Component::CurDir);
        names.rev().map(|c| c.as_os_str().to_string_lossy().into_owned()).collect()
    };
    // Behind a link, and above a way up, the names are others altogether.
    let alike = |(a, b): &(String, String)| a.to_lowercase() == b.to_lowercase();
    names(asked).into_iter().zip(names(found)).take_while(alike).any(|(a, b)| a != b)
}

/// What is said of a file that is not there.
const NOT_THERE: &str = "there is no such file";

/// Says why a file could not be used, in plain words.
pub fn reason(e: &std::io::Error) -> String {
    match e.kind() {
        std::io::ErrorKind::NotFound => NOT_THERE.to_owned(),
        std::io::ErrorKind::PermissionDenied => "permission denied".to_owned(),
        _ => e.to_string(),
    }
}

/// The full path of what the command line names, links followed.
///
/// # Errors
/// When it is not there.
pub fn full(path: &Path) -> Result<PathBuf, Fault> {
    fs::canonicalize(path).map_err(|e| unread(path, &e))
}

/// A file that the command line names, or every file below a folder, in the order of their names.
pub fn files_below(path: &Path) -> Result<Vec<PathBuf>, Fault> {
    if !path.is_dir() {
        return Ok(vec![path.to_owned()]);
    }
    let mut files = Vec::new();
    for entry in walkdir::WalkDir::new(path).sort_by_file_name() {
        let entry = entry.map_err(|e| Fault::new(format!("cannot be read: {e}")).in_file(slashed(path)))?;
        if entry.file_type().is_file() {
            files.push(entry.into_path());
        }
    }
    Ok(files)
}

/// What the command line names: read whole, or, where it is a large archive, open to be read piece by piece.
pub enum Outside {
    /// The bytes.
    Whole(Vec<u8>),
    /// A ZIP archive of more than 64 MB.
    Archive(fs::File),
}

/// What is said of something in a product's folder that never ends, or waits for another program.
const NO_FILE: &str = "no file but a pipe, a socket or a device";

/// Opens a file that the command line names. Only an archive may be of any size, since its entries are read one by one.
///
/// # Errors
/// A file that cannot be read, or one of more than 512 MB that is no ZIP archive.
pub fn open_outside(path: &Path) -> Result<Outside, Fault> {
    let (mut file, archive) = open(path)?;
    let size = file.metadata().map_err(|e| unread(path, &e))?.len();
    if archive && size > 64 << 20 {
        return Ok(Outside::Archive(file));
    }
    read_up_to(path, &mut file, size, LARGEST).map(Outside::Whole)
}

/// Reads a file that the command line names.
///
/// # Errors
/// As [`open_outside`].
pub fn read_outside(path: &Path) -> Result<Vec<u8>, Fault> {
    let (mut file, archive) = open(path)?;
    let size = file.metadata().map_err(|e| unread(path, &e))?.len();
    read_up_to(path, &mut file, size, if archive { u64::MAX - 1 } else { LARGEST })
}

/// Opens a file and looks whether it begins as a ZIP archive does (APPNOTE 6.3, 4.3.7 and 4.3.16).
fn open(path: &Path) -> Result<(fs::File, bool), Fault> {
    let mut file = fs::File::open(path).map_err(|e| unread(path, &e))?;
    if !file.metadata().map_err(|e| unread(path, &e))?.is_file() {
        // What is no file on a disk, such as a pipe, gives its bytes once: there is no looking at them first.
        return Ok((file, false));
    }
    let mut head = Vec::new();
    (&file).take(4).read_to_end(&mut head).and_then(|_| file.rewind()).map_err(|e| unread(path, &e))?;
    Ok((file, matches!(head.as_slice(), b"PK\x03\x04" | b"PK\x05\x06")))
}

/// Reads to the end, or says that it is too much: what grows while it is read, or never ends, does not fill the memory.
fn read_up_to(path: &Path, file: &mut impl Read, size: u64, most: u64) -> Result<Vec<u8>, Fault> {
    let mut bytes = Vec::new();
    if size <= most {
        bytes.reserve_exact(usize::try_from(size).unwrap_or(0));
        file.take(most + 1).read_to_end(&mut bytes).map_err(|e| unread(path, &e))?;
    }
    if size > most || bytes.len() as u64 > most {
        return Err(Fault::new("it is larger than 512 MB, and no ZIP archive")
            .in_file(slashed(path))
            .help("no notebook, picture or text of a product is so large: make it smaller, or name another file"));
    }
    Ok(bytes)
}

fn unread(path: &Path, e: &std::io::Error) -> Fault {
    Fault::new(format!("cannot be read: {}", reason(e))).in_file(slashed(path))
}

/// Today's date (UTC), for the manifest of a new product and for the catalogue: nothing that buyers get depends on it.
pub fn today() -> base::model::product::Date {
    let seconds = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).map_or(0, |d| d.as_secs());
    civil(seconds / 86_400)
}

/// The day (UTC) of a moment in seconds since 1970, as documents state it; what lies before counts as the first day.
pub fn day_of(seconds: i64) -> base::model::product::Date {
    civil(u64::try_from(seconds).unwrap_or_default() / 86_400)
}

/// The Gregorian date of a day counted from 1970-01-01: years are counted from March, so that the leap day comes
/// last.
fn civil(day: u64) -> base::model::product::Date {
    let mut rest = day + 306 + 719_162;
    let cycles = rest / 146_097;
    rest %= 146_097;
    let centuries = (rest / 36_524).min(3);
    rest -= centuries * 36_524;
    let fours = rest / 1_461;
    rest -= fours * 1_461;
    let years = (rest / 365).min(3);
    rest -= years * 365;
    let month = (5 * rest + 2) / 153;
    let day = rest - (153 * month + 2) / 5 + 1;
    let year = 400 * cycles + 100 * centuries + 4 * fours + years + u64::from(month >= 10);
    base::model::product::Date {
        year: year as u16,
        month: if month < 10 { month + 3 } else { month - 9 } as u8,
        day: day as u8,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use std::io::Write;

    fn refused(result: Result<Vec<u8>, Fault>) -> bool {
        result.is_err_and(|fault| fault.to_string().contains("larger than 512 MB"))
    }

    /// A file that begins with these bytes and is so large; it takes no room on the disk.
    fn file(folder: &Path, begins: &[u8], size: u64) -> PathBuf {
        let path = folder.join("a-file");
        let mut file = fs::File::create(&path).unwrap();
        file.write_all(begins).unwrap();
        file.set_len(size).unwrap();
        path
    }

    #[test]
    fn only_an_archive_may_be_of_any_size() {
        let folder = tempfile::tempdir().unwrap();
        let archive = file(folder.path(), b"PK\x03\x04", LARGEST + 1);
        assert!(
            matches!(open_outside(&archive), Ok(Outside::Archive(file)) if (&file).stream_position().unwrap() == 0)
        );
        let other = file(folder.path(), b"%PDF-1.7", LARGEST + 1);
        assert!(refused(read_outside(&other)));
        assert!(open_outside(&other).is_err_and(|f| f.to_string().contains("larger than 512 MB")));
    }

    #[test]
    fn a_small_file_comes_whole_whatever_it_is() {
        let folder = tempfile::tempdir().unwrap();
        for begins in [&b"PK\x03\x04"[..], b"PK\x05\x06", b"%PDF-1.7", b"P", b""] {
            let path = file(folder.path(), begins, begins.len() as u64);
            assert_eq!(read_outside(&path).unwrap(), begins);
            assert!(matches!(open_outside(&path).unwrap(), Outside::Whole(bytes) if bytes == begins));
        }
    }

    #[test]
    fn what_grows_while_it_is_read_is_cut_off() {
        let path = Path::new("endless");
        assert!(refused(read_up_to(path, &mut std::io::repeat(7), 0, 1000)));
        assert_eq!(read_up_to(path, &mut std::io::repeat(7).take(1000), 0, 1000).unwrap(), [7; 1000]);
    }

    #[test]
    fn other_capitals_are_seen() {
        let found = Path::new("/shop/Tide log/Art/Plots.svg");
        for asked in ["Art/Plots.svg", "./Art/./Plots.svg", "link/Plots.svg", "../Tide log/Art/Plots.svg", "link.svg"] {
            assert!(!other_case(Path::new(asked), found), "{asked}");
        }
        for asked in ["Art/plots.svg", "art/Plots.svg", "art/./Plots.svg", "../tide log/Art/Plots.svg"] {
            assert!(other_case(Path::new(asked), found), "{asked}");
        }
    }
}
