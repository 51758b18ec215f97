//! Tasks about files that are there: what is known of a file, what its pages draw, its pixels. They are found by the digest
//! of the bytes, so that a file of an earlier bundle is as well known as one that was made just now.

use super::session::{Session, Task, all};
use super::values::Fingerprints;
use crate::package::archive;
use base::model::drawing::Picture;
use base::model::facts::{Facts, Inspected};
use base::model::{Artifact, Blob, Stop};
use inspect::Reader;
use inspect::pdf::drawing;
use inspect::pdf::fingerprint::PageFingerprint;
use show::proof::{Small, Source};
use std::sync::Arc;

/// What is read of a file depends on its bytes, and on the ending of its name where the bytes alone do not tell.
fn reading(path: &str, bytes: &Blob) -> Task<'static> {
    let ending = path.rsplit_once('.').map(|(_, ending)| ending.to_ascii_lowercase());
    Task::new("facts of a file", &(ending, bytes))
}

/// Reads finished files back, in their order.
pub fn all_inspected(session: &Session, files: &[Artifact]) -> Result<Vec<Inspected>, Stop> {
    let facts = session.ask_each(
        files,
        |file| reading(&file.path, &file.bytes),
        |file| Ok(inspect::read(&file.path, &file.bytes)),
    );
    Ok(files.iter().zip(all(facts)?).map(|(file, facts)| named(file, &facts)).collect())
}

fn named(file: &Artifact, facts: &Facts) -> Inspected {
    Inspected {
        path: file.path.clone(),
        kind: Some(file.kind),
        size: file.bytes.len() as u64,
        sha256: file.bytes.sha256().to_string(),
        facts: facts.clone(),
    }
}

/// The pixels of a finished picture, left in its file: all stickers wait for their sheets at once.
pub fn pixels(session: &Session, file: &Artifact) -> Result<Arc<Picture>, Stop> {
    let task = Task::new("pixels", &(&file.path, &file.bytes));
    session.ask(task, || manifest::decode_picture(&file.path, &file.bytes).map_err(Stop::from))
}

/// Whether a file gains by deflate.
pub fn gains(session: &Session, file: &Artifact) -> bool {
    let task = Task::new("worth of deflate", &(&file.path, &file.bytes));
    session.ask(task, || Ok(archive::worth(file))).map_or_else(|_| archive::worth(file), |worth| *worth)
}

/// Readings are remembered. They do not give way by themselves: what asks for them does.
impl Reader for Session<'_> {
    fn facts(&self, path: &str, bytes: &Blob) -> Facts {
        let read = || inspect::read(path, bytes);
        self.ask(reading(path, bytes), || Ok(read())).map_or_else(|_| read(), |facts| (*facts).clone())
    }

    fn fingerprints(&self, bytes: &Blob) -> Arc<Vec<PageFingerprint>> {
        let read = || Arc::new(drawing::fingerprints(bytes));
        let task = Task::new("page fingerprints", bytes);
        self.ask(task, || Ok(Fingerprints(read()))).map_or_else(|_| read(), |prints| prints.0.clone())
    }
}

/// So are the small pictures of a proof.
impl Source for Session<'_> {
    fn small(&self, of: Small, make: &dyn Fn() -> Option<String>) -> Result<Option<String>, Stop> {
        let made = self.ask(Task::new("small picture", &of), || Ok(make()))?;
        Ok(Option::clone(&made))
    }
}
