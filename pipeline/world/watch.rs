//! Notices when something in a product's folder is saved, moved or taken away.

use base::model::Fault;
use notify::{Event, EventKind, RecursiveMode, Watcher};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::Duration;

/// Editors save in several steps, and one save is often followed by the next: so long nothing may happen before a
/// change counts as done.
const QUIET: Duration = Duration::from_millis(20);
/// Steps of `QUIET` after which a change counts although more keeps coming.
const MOST_STEPS: usize = 20;

/// Watches a folder.
pub struct Watch {
    /// Holds the system's watch; dropping it ends the watch.
    _watcher: notify::RecommendedWatcher,
    changes: Receiver<()>,
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
        let told = move |event: notify::Result<Event>| {
            if event.map_or(true, |e| matters(&e, &out)) {
                mark.store(true, Ordering::Relaxed);
                // Nobody listens any more when the watch ends.
                let _ = send.send(());
            }
        };
        let cannot = |e: notify::Error| {
            Fault::new(format!("cannot be watched: {e}"))
                .in_file(folder.display().to_string())
                .help("the system may allow too few watches, or the folder lies on a drive that tells of no changes")
        };
        let mut watcher = notify::recommended_watcher(told).map_err(cannot)?;
        watcher.watch(folder, RecursiveMode::Recursive).map_err(cannot)?;
        Ok(Watch { _watcher: watcher, changes, pending })
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
fn matters(event: &Event, out: &Path) -> bool {
    let name = |path: &PathBuf| path.file_name().map_or(String::new(), |n| n.to_string_lossy().into_owned());
    let ours = |path: &PathBuf| path.starts_with(out) || PAGE_WRITES.iter().any(|own| name(path).starts_with(own));
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
        let watch = Watch::open(&root, &root.join("dist")).unwrap();
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
        assert!(!noticed(&|| drop(fs::read(root.join("product.toml")).unwrap())));
        assert!(!noticed(&|| fs::write(root.join("dist/proof.html"), "d").unwrap()));
        assert!(!noticed(&|| fs::write(root.join("proof-notes.json"), "[]").unwrap()));
    }
}
