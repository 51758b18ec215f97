//! The cache: rendered bytes by a key that names everything they depend on.
//!
//! It is only ever a short cut: whatever goes wrong here, the build goes on without it. An entry carries the digests of
//! its key and of its bytes, so one that is damaged or in the wrong place is noticed and thrown away; it is written under another name first, so builds that run
//! side by side never see half of one. When the cache has grown too large, what was not used for longest goes first.

use base::checksum::sha256_hex;
use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, SystemTime};

/// The most bytes that the cache keeps: 1 GiB.
const MOST: u64 = 1 << 30;

/// After so many bytes were put in, the size is looked at again.
const LOOK_AFTER: u64 = MOST / 16;

/// Hex digits of a digest.
const DIGEST: usize = 64;
/// An entry begins with the digest of its key and that of its bytes.
const HEAD: usize = 2 * DIGEST;

/// What an entry begins with.
fn head(key: &str, bytes: &[u8]) -> String {
    sha256_hex(key.as_bytes()) + &sha256_hex(bytes)
}

/// A folder of rendered bytes.
#[derive(Debug)]
pub struct Cache {
    folder: Option<PathBuf>,
    most: u64,
    put: AtomicU64,
    /// What the file system took for now when the cache was opened: only ever compared with its own times.
    opened: Option<SystemTime>,
}

impl Cache {
    /// Opens the cache in this folder, which is made if need be. A folder that cannot be written gives a cache that
    /// is always empty.
    pub fn open(folder: &Path) -> Cache {
        Cache::with_limit(folder, MOST)
    }

    /// The same with another limit in bytes.
    pub fn with_limit(folder: &Path, most: u64) -> Cache {
        let usable = fs::create_dir_all(folder).is_ok();
        let opened = tempfile::tempfile_in(folder).ok().and_then(|f| f.metadata().ok()?.modified().ok());
        let folder = (usable && opened.is_some()).then(|| folder.to_path_buf());
        let cache = Cache { folder, most, put: AtomicU64::new(0), opened };
        cache.trim();
        cache
    }

    /// A cache that keeps nothing.
    pub fn none() -> Cache {
        Cache { folder: None, most: 0, put: AtomicU64::new(0), opened: None }
    }

    /// Whether it keeps anything at all.
    pub fn keeps(&self) -> bool {
        self.folder.is_some()
    }

    /// The bytes that were put in under this key, if they are still there and whole.
    pub fn get(&self, key: &str) -> Option<Vec<u8>> {
        let path = self.path(key)?;
        let mut stored = fs::read(&path).ok()?;
        if stored.len() < HEAD || head(key, &stored[HEAD..]).as_bytes() != &stored[..HEAD] {
            let _ = fs::remove_file(&path);
            return None;
        }
        self.touch(&path);
        stored.drain(..HEAD);
        Some(stored)
    }

    /// Keeps bytes under a key; failures are of no consequence.
    pub fn put(&self, key: &str, bytes: &[u8]) {
        let Some(path) = self.path(key) else { return };
        let Some(folder) = path.parent() else { return };
        let write = || -> std::io::Result<()> {
            let new = || tempfile::Builder::new().prefix(".new-").tempfile_in(folder);
            // Nearly always the folder is there: of a year's 900 entries at most 256 are the first in theirs.
            let mut file = new().or_else(|_| fs::create_dir_all(folder).and_then(|()| new()))?;
            file.write_all(head(key, bytes).as_bytes())?;
            file.write_all(bytes)?;
            file.persist(&path)?;
            Ok(())
        };
        if write().is_ok() {
            let before = self.put.fetch_add(bytes.len() as u64, Ordering::Relaxed);
            let step = LOOK_AFTER.min(self.most / 4).max(1);
            if before / step != (before + bytes.len() as u64) / step {
                self.trim();
            }
        }
    }

    /// A folder for each first byte of the key's digest keeps the listings short.
    fn path(&self, key: &str) -> Option<PathBuf> {
        let name = sha256_hex(key.as_bytes());
        Some(self.folder.as_ref()?.join(&name[..2]).join(&name[2..]))
    }

    /// Marks an entry as used, at most once an hour.
    fn touch(&self, path: &Path) {
        let Some(now) = self.opened else { return };
        let stale = |t: SystemTime| now.duration_since(t).is_ok_and(|d| d > Duration::from_secs(3_600));
        if fs::metadata(path).and_then(|m| m.modified()).is_ok_and(stale)
            && let Ok(file) = File::options().append(true).open(path)
        {
            let _ = file.set_modified(now);
        }
    }

    /// Removes the entries that were not used for longest, until three quarters of the limit are left.
    fn trim(&self) {
        let Some(folder) = &self.folder else { return };
        let mut entries: Vec<(SystemTime, PathBuf, u64)> = walkdir::WalkDir::new(folder)
            .min_depth(2)
            .max_depth(2)
            .into_iter()
            .filter_map(|e| {
                let entry = e.ok()?;
                let meta = entry.metadata().ok().filter(fs::Metadata::is_file)?;
                Some((meta.modified().ok()?, entry.into_path(), meta.len()))
            })
            .collect();
        let mut size: u64 = entries.iter().map(|(_, _, n)| n).sum();
        if size <= self.most {
            return;
        }
        entries.sort();
        for (_, path, n) in entries {
            if size <= self.most / 4 * 3 {
                break;
            }
            if fs::remove_file(path).is_ok() {
                size -= n;
            }
        }
    }
}
