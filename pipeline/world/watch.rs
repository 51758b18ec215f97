//! Notices when something in a product's folder is saved, moved or taken away.

use base::files::slashed;
use base::model::Fault;
use notify::{Event, EventKind, RecursiveMode, Watcher};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

/// Editors save in several steps, and one save is often followed by the next: so long nothing may happen before a
/// change counts as done.
const QUIET: Duration = Duration::from_millis(20);
/// Steps of `QUIET` after which a change counts although more keeps coming.
const MOST_STEPS: usize = 20;

/// Watches a folder.
pub struct Watch {
    /// Holds the system's watch; dropping it ends the watch.
    watcher: notify::RecommendedWatcher,
    changes: Receiver<()>,
    /// Files outside of the folder that count as well.
    beside: Arc<Mutex<BTreeSet<PathBuf>>>,
    /// The folder, and those that are watched for the sake of such files.
    watched: BTreeSet<PathBuf>,
    /// Whether anything was saved since the last `wait`.
    pending: Arc<AtomicBool>,
}

impl Watch {
    /// Watches a folder and everything below it, but for what lies below `but`: a build may not wake itself.
    ///
    /// # Errors
    /// When the system cannot watch it.
    pub fn open(folder: &Path, but: &Path) -> Result<Watch, Fault> {
        let (send, changes) = channel();
        let out = std::fs::canonicalize(but).unwrap_or_else(|_| but.to_owned());
        let pending = Arc::new(AtomicBool::new(false));
        let mark = pending.clone();
        let beside: Arc<Mutex<BTreeSet<PathBuf>>> = Arc::default();
        let root = std::fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
        let (counts, watched) = (beside.clone(), BTreeSet::from([root.clone()]));
        let inside = move |path: &PathBuf| {
            path.starts_with(&root) || counts.lock().unwrap_or_else(PoisonError::into_inner).contains(path)
        };
        let told = move |event: notify::Result<Event>| {
            if event.map_or(true, |e| matters(&e, &out, &inside)) {
                mark.store(true, Ordering::Relaxed);
                // Nobody listens any more when the watch ends.
                let _ = send.send(());
            }
        };
        let cannot = |e: notify::Error| {
            Fault::new(format!("cannot be watched: {e}"))
                .in_file(slashed(folder))
                .help("the system may allow too few watches, or the folder lies on a drive that tells of no changes")
        };
        let mut watcher = notify::recommended_watcher(told).map_err(cannot)?;
        watcher.watch(folder, RecursiveMode::Recursive).map_err(cannot)?;
        Ok(Watch { watcher, changes, beside, watched, pending })
    }

    /// Watches these files as well, and no longer those that were named before. Where a folder cannot be watched, the files in
    /// it are not.
    pub fn beside(&mut self, files: Vec<PathBuf>) {
        for folder in files.iter().filter_map(|file| file.parent()) {
            if !self.watched.contains(folder) && self.watcher.watch(folder, RecursiveMode::NonRecursive).is_ok() {
                self.watched.insert(folder.to_owned());
            }
        }
        *self.beside.lock().unwrap_or_else(PoisonError::into_inner) = files.into_iter().collect();
    }

    /// Waits for a change, and until it seems done. False when there is nothing left to watch.
    pub fn wait(&self) -> bool {
        if self.changes.recv().is_err() {
            return false;
        }
        for _ in 0..MOST_STEPS {
            match self.changes.recv_timeout(QUIET) {
                Ok(()) => while self.changes.try_recv().is_ok() {},
                Err(RecvTimeoutError::Timeout) => break,
                Err(RecvTimeoutError::Disconnected) => return false,
            }
        }
        // What is saved from here on is not in the build that follows.
        self.pending.store(false, Ordering::Relaxed);
        true
    }

    /// Tells, from any thread, whether something was saved since the last `wait`, so that what is being made is out of date.
    pub fn pending(&self) -> impl Fn() -> bool + Sync + use<> {
        let pending = self.pending.clone();
        move || pending.load(Ordering::Relaxed)
    }
}

/// Files that the page of `watch` writes: its notes, and what they are written in before they take their place.
const PAGE_WRITES: [&str; 2] = ["proof-notes.json", ".writing-"];

/// Reading is no change, and neither is what a build or the page of `watch` writes.
fn matters(event: &Event, out: &Path, inside: &dyn Fn(&PathBuf) -> bool) -> bool {
    let name = |path: &PathBuf| path.file_name().map_or(String::new(), |n| n.to_string_lossy().into_owned());
    let ours = |path: &PathBuf| {
        !inside(path) || path.starts_with(out) || PAGE_WRITES.iter().any(|own| name(path).starts_with(own))
    };
    !matches!(event.kind, EventKind::Access(_)) && (event.paths.is_empty() || !event.paths.iter().all(ours))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use std::fs;

    /// Saves are noticed however they are made; reading and building wake nobody.
    #[test]
    fn saves_are_noticed_and_reading_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let root = fs::canonicalize(folder.path()).unwrap();
        fs::create_dir(root.join("dist")).unwrap();
        fs::create_dir(root.join("art")).unwrap();
        fs::write(root.join("product.toml"), "a").unwrap();
        let above = tempfile::tempdir().unwrap();
        let other = fs::canonicalize(above.path()).unwrap();
        let mut watch = Watch::open(&root, &root.join("dist")).unwrap();
        watch.beside(vec![root.join("shop.toml"), other.join("shop.toml")]);
        let noticed = |what: &dyn Fn()| {
            while watch.changes.recv_timeout(QUIET * 6).is_ok() {}
            what();
            watch.changes.recv_timeout(Duration::from_secs(2)).is_ok()
        };
        assert!(noticed(&|| fs::write(root.join("product.toml"), "b").unwrap()));
        assert!(noticed(&|| {
            fs::write(root.join(".product.swp"), "c").unwrap();
            fs::rename(root.join(".product.swp"), root.join("product.toml")).unwrap();
        }));
        assert!(noticed(&|| fs::write(root.join("art/leaf.svg"), "<svg/>").unwrap()));
        assert!(noticed(&|| fs::remove_file(root.join("art/leaf.svg")).unwrap()));
        assert!(noticed(&|| {
            fs::write(other.join(".shop.swp"), "c").unwrap();
            fs::rename(other.join(".shop.swp"), other.join("shop.toml")).unwrap();
        }));
        assert!(noticed(&|| fs::remove_file(other.join("shop.toml")).unwrap()));
        assert!(!noticed(&|| fs::write(other.join("notes.txt"), "d").unwrap()));
        // A folder that is made later is still watched.
        fs::create_dir(root.join("texts")).unwrap();
        std::thread::sleep(QUIET * 10);
        assert!(noticed(&|| fs::write(root.join("texts/guide.md"), "e").unwrap()));
        assert!(!noticed(&|| drop(fs::read(root.join("product.toml")).unwrap())));
        assert!(!noticed(&|| fs::write(root.join("dist/proof.html"), "d").unwrap()));
        assert!(!noticed(&|| fs::write(root.join("proof-notes.json"), "[]").unwrap()));
    }
}
