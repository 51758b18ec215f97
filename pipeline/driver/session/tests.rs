//! Whatever is remembered, lost, damaged or given up: a task comes to what it comes to when it is made by itself.
#![allow(clippy::unwrap_used)]

use super::*;
use base::model::Fault;
use proptest::prelude::*;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicUsize;

/// A value that lies on the disk.
#[derive(Clone, Debug, PartialEq, borsh::BorshSerialize, borsh::BorshDeserialize)]
struct Number(u64, Vec<u8>);

impl Value for Number {
    fn weight(&self) -> usize {
        self.1.len()
    }

    fn to_disk(&self) -> Option<Vec<u8>> {
        borsh::to_vec(self).ok()
    }

    fn from_disk(form: &[u8]) -> Option<Self> {
        borsh::from_slice(form).ok()
    }
}

/// A value that is held in memory alone.
#[derive(Clone, Debug, PartialEq)]
struct Light(u64);

impl Value for Light {}

/// A heap of tasks: each asks for some of those before it, and for one of them twice at once.
#[derive(Clone, Debug)]
struct Heap(Vec<Vec<usize>>);

impl Heap {
    /// What a task comes to, without any session.
    fn plainly(&self, task: usize) -> u64 {
        self.0[task]
            .iter()
            .fold(task as u64 + 1, |sum, needed| sum.wrapping_mul(31).wrapping_add(self.plainly(*needed)))
    }

    /// The same through a session; `made` counts what had to be made.
    fn ask(&self, session: &Session, task: usize, made: &AtomicUsize) -> Result<u64, Stop> {
        let (needs, twice) = (&self.0[task], [task, task]);
        let number = |task: usize| -> Result<Number, Stop> {
            made.fetch_add(1, Ordering::Relaxed);
            let parts: Vec<_> = needs.par_iter().map(|needed| self.ask(session, *needed, made)).collect();
            let sum = all(parts)?.iter().fold(task as u64 + 1, |sum, part| sum.wrapping_mul(31).wrapping_add(*part));
            Ok(Number(sum, vec![task as u8; task * 3]))
        };
        // By the parity of its number a task lies on the disk or is held in memory alone.
        let results: Vec<u64> = if task.is_multiple_of(2) {
            let named = |task: &usize| Task::new("number", task);
            all(session.ask_each(&twice, named, |task| number(*task)))?.iter().map(|n| n.0).collect()
        } else {
            let named = |task: &usize| Task::new("light", task);
            all(session.ask_each(&twice, named, |task| Ok(Light(number(*task)?.0))))?.iter().map(|n| n.0).collect()
        };
        assert_eq!(results[0], results[1]);
        Ok(results[0])
    }
}

fn heap() -> impl Strategy<Value = Heap> {
    (1usize..9).prop_flat_map(|count| {
        let needs = move |task: usize| proptest::collection::vec(0..task.max(1), 0..if task == 0 { 1 } else { 4 });
        (0..count).map(needs).collect::<Vec<_>>().prop_map(Heap)
    })
}

/// What can befall an entry of the cache.
#[derive(Clone, Copy, Debug)]
enum Harm {
    Lost,
    CutShort,
    Flipped,
    OfAnotherVersion,
    OfAnotherTask,
}

fn harm() -> impl Strategy<Value = Harm> {
    prop_oneof![
        Just(Harm::Lost),
        Just(Harm::CutShort),
        Just(Harm::Flipped),
        Just(Harm::OfAnotherVersion),
        Just(Harm::OfAnotherTask),
    ]
}

fn entries(folder: &Path) -> Vec<PathBuf> {
    let files = walkdir::WalkDir::new(folder).sort_by_file_name().into_iter().map(Result::unwrap);
    files.filter(|e| e.file_type().is_file()).map(walkdir::DirEntry::into_path).collect()
}

fn befall(path: &Path, harm: Harm, at: usize) {
    let mut bytes = fs::read(path).unwrap();
    // An earlier harm may have cut it to nothing.
    let length = bytes.len().max(1);
    match harm {
        Harm::Lost => return fs::remove_file(path).unwrap(),
        Harm::CutShort => bytes.truncate(at % length),
        Harm::Flipped => {
            if let Some(byte) = bytes.get_mut(at % length) {
                *byte ^= 1 << (at % 8);
            }
        }
        // Whole, and of a form that this version does not read.
        Harm::OfAnotherVersion => bytes = whole(&vec![7; at % 40]),
        // Whole and readable as something else.
        Harm::OfAnotherTask => bytes = whole(&borsh::to_vec(&("a text of another task", at as u64)).unwrap()),
    }
    fs::write(path, bytes).unwrap();
}

/// An entry as the cache writes it, with its digest.
fn whole(form: &[u8]) -> Vec<u8> {
    [Sha::of(form).to_string().as_bytes(), form].concat()
}

fn pool(jobs: usize) -> rayon::ThreadPool {
    rayon::ThreadPoolBuilder::new().num_threads(jobs).build().unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn in_any_order_with_any_number_of_jobs_and_whatever_befalls_the_cache(
        heap in heap(),
        orders in proptest::collection::vec(proptest::collection::vec(0usize..64, 1..12), 1..4),
        jobs in 1usize..6,
        lasting: bool,
        harms in proptest::collection::vec((harm(), 0usize..64, 0usize..10_000), 0..6),
    ) {
        let folder = tempfile::tempdir().unwrap();
        let (made, say, never) = (AtomicUsize::new(0), crate::driver::silent(), || false);
        for order in orders {
            let disk = Cache::open(folder.path());
            let session = if lasting { Session::lasting(disk, &say, &never) } else { Session::once(disk, &say) };
            let found: Vec<_> = pool(jobs).install(|| {
                order.par_iter().map(|i| { let task = i % heap.0.len(); (task, heap.ask(&session, task, &made)) }).collect()
            });
            for (task, result) in found {
                prop_assert_eq!(result, Ok(heap.plainly(task)));
            }
            for (harm, which, at) in &harms {
                let there = entries(folder.path());
                if !there.is_empty() {
                    befall(&there[which % there.len()], *harm, *at);
                }
            }
        }
    }

    #[test]
    fn cancelled_at_any_task(heap in heap(), moment in 0usize..24, jobs in 1usize..5, rounds: bool) {
        let folder = tempfile::tempdir().unwrap();
        let (made, say, asked) = (AtomicUsize::new(0), crate::driver::silent(), AtomicUsize::new(0));
        let cancelled = || asked.fetch_add(1, Ordering::Relaxed) >= moment;
        let session = Session::lasting(Cache::open(folder.path()), &say, &cancelled);
        let last = heap.0.len() - 1;
        let first = pool(jobs).install(|| heap.ask(&session, last, &made));
        prop_assert!(first == Ok(heap.plainly(last)) || first == Err(Stop::Cancelled));
        if rounds {
            session.next_round();
        }
        // What is remembered is what was made whole: whoever asks next goes on from there and comes to the same.
        let next = Session::once(Cache::open(folder.path()), &say);
        prop_assert_eq!(pool(jobs).install(|| heap.ask(&next, last, &made)), Ok(heap.plainly(last)));
    }
}

#[test]
fn a_task_is_made_once_and_then_known() {
    let folder = tempfile::tempdir().unwrap();
    let (say, made) = (crate::driver::silent(), AtomicUsize::new(0));
    let make = || {
        made.fetch_add(1, Ordering::Relaxed);
        Ok(Number(7, vec![1]))
    };
    let session = || Session::once(Cache::open(folder.path()), &say);
    let one = session();
    let items = ["a", "b", "a", "a"];
    let all_of = |session: &Session| all(session.ask_each(&items, |i| Task::new("n", i), |_| make())).unwrap().len();
    assert_eq!((all_of(&one), made.load(Ordering::Relaxed)), (4, 2), "once a key");
    assert_eq!((all_of(&session()), made.load(Ordering::Relaxed)), (4, 2), "found on the disk");
    fs::remove_dir_all(folder.path()).unwrap();
    assert_eq!((all_of(&one), made.load(Ordering::Relaxed)), (4, 2), "found in memory");
    // Another name, another input: another task.
    for task in [Task::new("m", &"a"), Task::new("n", &("a", 1u8))] {
        assert!(one.known::<Number>(task).is_none());
    }
    // The same key never gives a value of another type.
    assert!(one.known::<Light>(Task::new("n", &"a")).is_none());
}

#[test]
fn faults_are_told_all_and_once_and_not_remembered() {
    let session = Session::plain();
    let wrong = |task: &&str| Err::<Light, Stop>(Fault::new(format!("no {task}")).into());
    let told = all(session.ask_each(&["a", "b", "a"], |t| Task::new("t", t), wrong)).unwrap_err();
    let messages: Vec<&str> = told.faults().iter().map(|f| f.message.as_str()).collect();
    assert_eq!(messages, ["no a", "no b"]);
    assert!(session.ask(Task::new("t", &"a"), || Ok(Light(1))).is_ok());
}

#[test]
fn what_has_no_canonical_form_is_made_each_time() {
    let (say, never, made) = (crate::driver::silent(), || false, AtomicUsize::new(0));
    let session = Session::lasting(Cache::none(), &say, &never);
    let task = || Task::new("t", &f64::NAN);
    for _ in 0..2 {
        session.ask(task(), || Ok(Light(made.fetch_add(1, Ordering::Relaxed) as u64))).unwrap();
    }
    assert_eq!(made.load(Ordering::Relaxed), 2);
}

#[test]
fn what_a_round_did_not_ask_for_is_let_go() {
    let (say, never) = (crate::driver::silent(), || false);
    let session = Session::lasting(Cache::none(), &say, &never);
    let ask = |name: &str, value: u64| session.ask(Task::new("t", &name), || Ok(Light(value))).unwrap().0;
    assert_eq!((ask("one", 1), ask("one", 9), ask("two", 2)), (1, 1, 2));
    session.next_round();
    assert_eq!(ask("one", 9), 1);
    session.next_round();
    assert_eq!((ask("one", 9), ask("two", 3)), (1, 3), "only one was asked for in the last round");
    // A single build holds only what the disk has as well.
    let once = Session::once(Cache::none(), &say);
    let again = |value: u64| once.ask(Task::new("t", &"one"), || Ok(Light(value))).unwrap().0;
    assert_eq!((again(1), again(2)), (1, 2));
}
