//! The one door for outside input: files of the product's folder, what the command line names, and today's date.
//!
//! Nothing outside of the product's folder is ever read on behalf of a manifest, and everything that is read is
//! written down, so that the bundle's record can say what went into it.

pub mod watch;

use base::files::{Files, Made};
use base::model::Fault;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Component, Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

/// Files larger than this are refused: no page, font or picture of a notebook is so large.
const LARGEST: u64 = 512 * 1024 * 1024;

/// A product's folder, and what was read from it.
pub struct World {
    root: PathBuf,
    read: Mutex<Bytes>,
    /// What an earlier look at the same folder read: bytes that are still the same are not held twice.
    before: Bytes,
    seen: Mutex<Seen>,
}

/// Bytes by path.
type Bytes = BTreeMap<String, Arc<Vec<u8>>>;

/// What was made of files, by what it is and the file's path, with the bytes that it was made of.
type Seen = BTreeMap<(String, String), (Arc<Vec<u8>>, Made)>;

impl World {
    /// Opens a product's folder (or the folder of the manifest, if a file is named).
    pub fn open(path: &Path) -> Result<World, Fault> {
        let shown = path.display().to_string();
        let found = fs::canonicalize(path).map_err(|e| {
            Fault::new(format!("cannot be opened: {}", reason(&e)))
                .in_file(&shown)
                .help("name a folder with a product.toml in it; `sheafwright new DIR` makes one")
        })?;
        let root = if found.is_file() { found.parent().map(Path::to_owned).unwrap_or_default() } else { found };
        Ok(World { root, read: Mutex::default(), before: Bytes::new(), seen: Mutex::default() })
    }

    /// A new look at the folder. Every file is read anew; where its bytes are the ones of this look, what was made of
    /// them stays at hand.
    pub fn again(self) -> World {
        let before = self.read.into_inner().unwrap_or_else(PoisonError::into_inner);
        World { root: self.root, read: Mutex::default(), before, seen: self.seen }
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, BTreeMap<String, Arc<Vec<u8>>>> {
        // Entries are inserted whole, so a panic elsewhere cannot leave the map half written.
        self.read.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The full path of a file that must lie inside of the folder, links followed.
    fn inside(&self, path: &str) -> Result<PathBuf, Fault> {
        let climbs = Path::new(path).components().any(|c| !matches!(c, Component::Normal(_) | Component::CurDir));
        if climbs || path.contains('\\') || path.contains('\0') || path.is_empty() {
            return Err(Fault::new(format!("{path:?} does not stay inside the product's folder"))
                .help("copy the file into the product's folder and give its path from there, with / between folders"));
        }
        let full = fs::canonicalize(self.root.join(path))
            .map_err(|e| Fault::new(format!("{path:?} cannot be read: {}", reason(&e))))?;
        if full.starts_with(&self.root) {
            Ok(full)
        } else {
            Err(Fault::new(format!("{path:?} is a link that leads out of the product's folder"))
                .help("copy the file itself into the product's folder"))
        }
    }
}

impl Files for World {
    fn kept(&self, what: &str, path: &str, bytes: &Arc<Vec<u8>>) -> Option<Made> {
        let seen = self.seen.lock().unwrap_or_else(PoisonError::into_inner);
        let (of, made) = seen.get(&(what.to_owned(), path.to_owned()))?;
        Arc::ptr_eq(of, bytes).then(|| made.clone())
    }

    fn keep(&self, what: &str, path: &str, bytes: &Arc<Vec<u8>>, made: Made) {
        let mut seen = self.seen.lock().unwrap_or_else(PoisonError::into_inner);
        seen.insert((what.to_owned(), path.to_owned()), (bytes.clone(), made));
    }

    fn root(&self) -> &Path {
        &self.root
    }

    fn read(&self, path: &str) -> Result<Arc<Vec<u8>>, Fault> {
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
            Some(known) if **known == fresh => known.clone(),
            _ => Arc::new(fresh),
        };
        self.lock().insert(path.to_owned(), bytes.clone());
        Ok(bytes)
    }

    fn inputs(&self) -> BTreeMap<String, Arc<Vec<u8>>> {
        self.lock().clone()
    }

    fn nearby(&self, path: &str) -> Vec<String> {
        let folder = path.rsplit_once('/').map_or("", |(folder, _)| folder);
        let Ok(full) = self.inside(if folder.is_empty() { "." } else { folder }) else { return Vec::new() };
        let mut names: Vec<String> = walkdir::WalkDir::new(full)
            .min_depth(1)
            .max_depth(1)
            .into_iter()
            .filter_map(Result::ok)
            .filter(|e| e.file_type().is_file())
            .map(|e| e.file_name().to_string_lossy().into_owned())
            .map(|n| if folder.is_empty() { n } else { format!("{folder}/{n}") })
            .collect();
        names.sort();
        names
    }
}

/// Says why a file could not be used, in plain words.
pub fn reason(e: &std::io::Error) -> String {
    match e.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
        std::io::ErrorKind::PermissionDenied => "permission denied".to_owned(),
        _ => e.to_string(),
    }
}

/// A file that the command line names, or every file below a folder, in the order of their names.
pub fn files_below(path: &Path) -> Result<Vec<PathBuf>, Fault> {
    if !path.is_dir() {
        return Ok(vec![path.to_owned()]);
    }
    let mut files = Vec::new();
    for entry in walkdir::WalkDir::new(path).sort_by_file_name() {
        let entry =
            entry.map_err(|e| Fault::new(format!("cannot be read: {e}")).in_file(path.display().to_string()))?;
        if entry.file_type().is_file() {
            files.push(entry.into_path());
        }
    }
    Ok(files)
}

/// What the command line names: read whole, or, where it is large, open to be read piece by piece.
pub enum Outside {
    /// The bytes.
    Whole(Vec<u8>),
    /// A file of more than 64 MB.
    Large(fs::File),
}

/// What is said of something that never ends, or waits for another program.
const NO_FILE: &str = "no file but a pipe, a socket or a device";

/// Refuses what is no file: reading it could last for ever.
fn plain(path: &Path) -> Result<(), Fault> {
    match fs::metadata(path) {
        Ok(found) if !found.is_file() && !found.is_dir() => {
            Err(Fault::new(format!("is {NO_FILE}")).in_file(path.display().to_string()).help("name a file"))
        }
        // What is not there is told by whoever opens it.
        _ => Ok(()),
    }
}

/// Opens a file that the command line names.
pub fn open_outside(path: &Path) -> Result<Outside, Fault> {
    let about =
        |e: std::io::Error| Fault::new(format!("cannot be read: {}", reason(&e))).in_file(path.display().to_string());
    plain(path)?;
    let file = fs::File::open(path).map_err(about)?;
    if file.metadata().map_err(about)?.len() > 64 << 20 {
        return Ok(Outside::Large(file));
    }
    fs::read(path).map(Outside::Whole).map_err(about)
}

/// Reads a file that the command line names.
pub fn read_outside(path: &Path) -> Result<Vec<u8>, Fault> {
    plain(path)?;
    fs::read(path)
        .map_err(|e| Fault::new(format!("cannot be read: {}", reason(&e))).in_file(path.display().to_string()))
}

/// Today's date (UTC), for the manifest of a new product and nothing else.
pub fn today() -> base::model::product::Date {
    let seconds = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).map_or(0, |d| d.as_secs());
    civil(seconds / 86_400)
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
