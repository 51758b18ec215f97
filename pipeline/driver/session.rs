//! The executor: a build is a set of remembered tasks, and nothing but this file knows what is remembered, where, and
//! whether anybody still waits for it.
//!
//! A task is a pure function with named inputs. Its key is the digest of this program's sources, of the task's name and of
//! its inputs in their canonical form, so that equal keys mean equal results. Tasks ask for tasks. Nobody ever waits for a
//! task that somebody else is at: a worker that waits may be lent the very work that it waits for. Whoever asks while a
//! task is being made makes it as well, and both come to the same. A list that is asked for at once is made once a key.

use super::progress::{Progress, Step};
use crate::store::Cache;
use base::files::Notes;
use base::model::{Sha, Stop};
use borsh::BorshSerialize;
use rayon::prelude::*;
use std::any::Any;
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// What a task gives. One that says no more is held in memory by a session that lasts, and never lies on the disk: right
/// for what is made as quickly as it would be read.
pub trait Value: Any + Send + Sync + Sized {
    /// Whether what it holds is what its build keeps anyway, so that to remember it costs nothing.
    const IS_KEPT: bool = false;

    /// About how many bytes it takes in memory.
    fn weight(&self) -> usize {
        size_of::<Self>()
    }

    /// Its form on the disk.
    fn to_disk(&self) -> Option<Vec<u8>> {
        None
    }

    /// What such a form stands for; `None` for anything else.
    fn from_disk(_: &[u8]) -> Option<Self> {
        None
    }
}

/// A task that is asked for.
#[derive(Clone, Copy, Debug)]
pub struct Task<'a> {
    /// `None` where inputs have no canonical form (a NaN among them): such a task is made each time.
    key: Option<Sha>,
    label: Option<&'a str>,
}

impl<'a> Task<'a> {
    /// A task by its name and all of its inputs.
    pub fn new(name: &str, inputs: &impl BorshSerialize) -> Task<'a> {
        Task { key: Sha::of_value(&(env!("SHEAFWRIGHT_SOURCES"), name, inputs)).ok(), label: None }
    }

    /// The same, called so where progress is told.
    pub fn called(self, label: &'a str) -> Task<'a> {
        Task { label: Some(label), ..self }
    }
}

/// How much a session remembers in memory.
#[derive(Clone, Copy, Debug)]
enum Span {
    /// One build: only what is read from the disk or written to it, so that it is not read twice, and what is kept anyway.
    Build,
    /// Many: everything, up to so many bytes.
    Rounds(usize),
}

/// What a lasting session holds in memory at most: 1 GiB. Beyond, things are taken from the disk or made anew.
const MOST: usize = 1 << 30;

/// Something that is held: with its weight, and the round that asked for it last.
struct Held {
    value: Arc<dyn Any + Send + Sync>,
    weight: usize,
    round: u64,
}

/// What is held, and what it weighs together.
#[derive(Default)]
struct Memory {
    held: BTreeMap<Sha, Held>,
    weight: usize,
}

/// A run of the pipeline, or many after each other.
pub struct Session<'a> {
    disk: Arc<Cache>,
    memory: Mutex<Memory>,
    span: Span,
    round: AtomicU64,
    progress: Option<&'a Progress>,
    cancelled: Option<&'a (dyn Fn() -> bool + Sync)>,
}

impl<'a> Session<'a> {
    /// A session that remembers nothing, tells nobody and is never cancelled.
    pub fn plain() -> Session<'static> {
        let memory = Mutex::default();
        Session {
            disk: Arc::new(Cache::none()),
            memory,
            span: Span::Build,
            round: 0.into(),
            progress: None,
            cancelled: None,
        }
    }

    /// A session for one build.
    pub fn once(disk: Cache, progress: &'a Progress) -> Session<'a> {
        Session { disk: Arc::new(disk), progress: Some(progress), ..Session::plain() }
    }

    /// A session that lasts: what a round made is at hand in the next one.
    pub fn lasting(disk: Cache, progress: &'a Progress, cancelled: &'a (dyn Fn() -> bool + Sync)) -> Session<'a> {
        Session { span: Span::Rounds(MOST), cancelled: Some(cancelled), ..Session::once(disk, progress) }
    }

    /// Where is noted on the disk what was found out of files before anything is made of them.
    pub fn notes(&self) -> Arc<dyn Notes> {
        Arc::new(OnDisk(self.disk.clone()))
    }

    /// A round has come to its end: what it did not ask for is let go. One that was cancelled did not come to ask for all
    /// that it needs, and is no reason to let go of anything.
    pub fn next_round(&self) {
        let round = self.round.fetch_add(1, Ordering::Relaxed);
        let mut memory = self.memory();
        memory.held.retain(|_, held| held.round >= round);
        memory.weight = memory.held.values().map(|held| held.weight).sum();
    }

    /// A stage begins, with so many things to do; 0 where nobody counts them.
    pub fn stage(&self, name: &'static str, count: usize) {
        self.tell(Step::Stage(name, count));
    }

    /// The result of a task: remembered, or made and remembered.
    ///
    /// # Errors
    /// Those of the task, which are not remembered; and that nobody wants it any more, where it would have to be made.
    pub fn ask<V: Value>(&self, task: Task, make: impl FnOnce() -> Result<V, Stop>) -> Result<Arc<V>, Stop> {
        let value = match self.known(task) {
            Some(value) => value,
            None => {
                self.go_on()?;
                self.remember(task, make()?)
            }
        };
        if let Some(label) = task.label {
            self.tell(Step::Done(label));
        }
        Ok(value)
    }

    /// The results of many tasks in their order, made side by side; those with one key are made once.
    pub fn ask_each<'i, I: Sync, V: Value>(
        &self,
        items: &'i [I],
        task: impl Fn(&'i I) -> Task<'i> + Sync + Send,
        make: impl Fn(&'i I) -> Result<V, Stop> + Sync + Send,
    ) -> Vec<Result<Arc<V>, Stop>> {
        let tasks: Vec<Task> = items.par_iter().map(task).collect();
        let mut first: BTreeMap<Sha, usize> = BTreeMap::new();
        // Of each task the place at which it is made.
        let places: Vec<usize> =
            (0..tasks.len()).map(|i| tasks[i].key.map_or(i, |key| *first.entry(key).or_insert(i))).collect();
        let made: Vec<Option<Result<Arc<V>, Stop>>> = items
            .par_iter()
            .enumerate()
            .map(|(i, item)| (places[i] == i).then(|| self.ask(tasks[i], || make(item))))
            .collect();
        // The place of a task is its own or one before it.
        places.iter().map(|place| made[*place].clone().unwrap_or(Err(Stop::Cancelled))).collect()
    }

    /// The result of a task if it is remembered.
    pub fn known<V: Value>(&self, task: Task) -> Option<Arc<V>> {
        let key = task.key?;
        let round = self.round.load(Ordering::Relaxed);
        let held = self.memory().held.get_mut(&key).map(|held| {
            held.round = round;
            held.value.clone()
        });
        if let Some(value) = held.and_then(|value| value.downcast().ok()) {
            return Some(value);
        }
        let value = Arc::new(V::from_disk(&self.disk.get(&key.to_string())?)?);
        self.hold(key, &value, true);
        Some(value)
    }

    /// Remembers the result of a task.
    pub fn remember<V: Value>(&self, task: Task, value: V) -> Arc<V> {
        let value = Arc::new(value);
        if let Some(key) = task.key {
            let form = if self.disk.keeps() { value.to_disk() } else { None };
            if let Some(form) = &form {
                self.disk.put(&key.to_string(), form);
            }
            self.hold(key, &value, form.is_some());
        }
        value
    }

    /// Does something that is seen outside of the session; it may ask on its way whether anybody still wants it.
    ///
    /// # Errors
    /// Its own, and that nobody wants it any more.
    pub fn act<T>(&self, act: impl FnOnce(&(dyn Fn() -> bool + Sync)) -> Result<T, Stop>) -> Result<T, Stop> {
        self.go_on()?;
        act(self.cancelled.unwrap_or(&|| false))
    }

    fn go_on(&self) -> Result<(), Stop> {
        if self.cancelled.is_some_and(|cancelled| cancelled()) { Err(Stop::Cancelled) } else { Ok(()) }
    }

    fn hold<V: Value>(&self, key: Sha, value: &Arc<V>, on_disk: bool) {
        let most = match self.span {
            Span::Build if !on_disk && !V::IS_KEPT => return,
            Span::Build => usize::MAX,
            Span::Rounds(most) => most,
        };
        let (weight, round) = (value.weight(), self.round.load(Ordering::Relaxed));
        let mut memory = self.memory();
        if memory.weight.saturating_add(weight) > most {
            return;
        }
        memory.weight += weight;
        // Two may have made it side by side.
        if let Some(before) = memory.held.insert(key, Held { value: value.clone(), weight, round }) {
            memory.weight -= before.weight;
        }
    }

    fn memory(&self) -> MutexGuard<'_, Memory> {
        // Entries are inserted whole, so a panic elsewhere cannot leave the map half written.
        self.memory.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn tell(&self, step: Step) {
        if let Some(progress) = self.progress {
            progress(step);
        }
    }
}

/// Notes beside the tasks, under keys that are made as theirs.
struct OnDisk(Arc<Cache>);

impl OnDisk {
    fn key(what: &str, of: Sha) -> Option<String> {
        Task::new(what, &of).key.map(|key| key.to_string())
    }
}

impl Notes for OnDisk {
    fn noted(&self, what: &str, of: Sha) -> Option<Vec<u8>> {
        self.0.get(&OnDisk::key(what, of)?)
    }

    fn note(&self, what: &str, of: Sha, found: &[u8]) {
        if let Some(key) = OnDisk::key(what, of) {
            self.0.put(&key, found);
        }
    }
}

/// All results, or every reason why there are not: a list of tasks does not stop at the first that fails.
///
/// # Errors
/// All faults in the order of the tasks; that nobody wants it any more, if any task was given up.
pub fn all<T>(results: impl IntoIterator<Item = Result<T, Stop>>) -> Result<Vec<T>, Stop> {
    let (mut values, mut faults) = (Vec::new(), Vec::new());
    for result in results {
        match result {
            Ok(value) => values.push(value),
            // A task that stands in the list twice fails once.
            Err(Stop::Faults(some)) => {
                faults.extend(some.into_iter().filter(|f| !faults.contains(f)).collect::<Vec<_>>())
            }
            Err(Stop::Cancelled) => return Err(Stop::Cancelled),
        }
    }
    if faults.is_empty() { Ok(values) } else { Err(Stop::Faults(faults)) }
}

#[cfg(test)]
mod tests;
