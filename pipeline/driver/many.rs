//! Many products in one go: side by side, none stopped by another.

use super::built::{Built, Options};
use crate::world::World;
use base::files::slashed;
use base::model::panics::caught;
use base::model::{Fault, Stop};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};
use std::thread;

/// Bytes of the stack of a thread that builds: as much as a main thread has.
const STACK: usize = 8 << 20;

/// What is told while products are built, each by its place in the list.
pub enum Turn<'a> {
    /// A product's build begins.
    Begins(usize),
    /// It is over.
    Ends(usize, &'a Result<Built, Stop>),
}

/// Builds products side by side: as many as there are threads in the pool, as far as the memory of the options, which all
/// of them share, goes round. What each came to, in the order of the list; a product that cannot be built stops no other.
pub fn build_many(
    products: &[PathBuf],
    options: &(dyn Fn() -> Options + Sync),
    tell: &(dyn Fn(Turn) + Sync),
) -> Vec<Result<Built, Stop>> {
    let twice = named_twice(products);
    let build = |i: usize| match twice.get(&i) {
        Some(fault) => Err(fault.clone().into()),
        None => caught(|| super::build(&products[i], &options())).unwrap_or_else(|gave_up| {
            let fault = Fault::new(format!("its build ended in a fault of the program: {}", gave_up.0));
            Err(fault.help("report it; the other products are built all the same").into())
        }),
    };
    let done: Vec<Mutex<Option<Result<Built, Stop>>>> = products.iter().map(|_| Mutex::new(None)).collect();
    let build_all = |list: &[usize]| {
        let next = AtomicUsize::new(0);
        let work = || {
            while let Some(i) = list.get(next.fetch_add(1, Ordering::Relaxed)).copied() {
                tell(Turn::Begins(i));
                let made = build(i);
                tell(Turn::Ends(i, &made));
                *done[i].lock().unwrap_or_else(PoisonError::into_inner) = Some(made);
            }
        };
        let threads = rayon::current_num_threads().min(list.len()).max(1);
        thread::scope(|scope| {
            for _ in 1..threads {
                // Where no more threads can be had, those that there are do all of it.
                let _ = thread::Builder::new().stack_size(STACK).spawn_scoped(scope, work);
            }
            work();
        });
    };
    // Sets come last: what they are made of is then built already.
    let is_set = |i: &usize| World::open(&products[*i]).is_ok_and(|world| manifest::is_set(&world));
    let (sets, others): (Vec<usize>, Vec<usize>) = (0..products.len()).partition(is_set);
    build_all(&others);
    build_all(&sets);
    let made = done.into_iter().map(|place| place.into_inner().unwrap_or_else(PoisonError::into_inner));
    // Every place was taken by one thread, which filled it.
    made.map(|made| made.unwrap_or(Err(Stop::Cancelled))).collect()
}

/// Products that would land in one folder: none of them is built, and each is told of the first other.
fn named_twice(products: &[PathBuf]) -> BTreeMap<usize, Fault> {
    let mut by_name: BTreeMap<(String, String), Vec<usize>> = BTreeMap::new();
    for (i, path) in products.iter().enumerate() {
        if let Some(called) = called(path) {
            by_name.entry((called.slug, called.version)).or_default().push(i);
        }
    }
    let mut out = BTreeMap::new();
    for ((slug, version), places) in by_name.iter().filter(|(_, places)| places.len() > 1) {
        for i in places {
            let other = places.iter().find(|n| *n != i).map_or_else(String::new, |n| slashed(&products[*n]));
            let said = format!("this product and {other} are both {slug} {version}: they would land in one folder");
            let fault = Fault::new(said)
                .in_file(manifest::FILE)
                .help("give one of them a slug of its own, such as slug = \"tide-log-small\"");
            out.insert(*i, fault);
        }
    }
    out
}

/// What a product is called, if its manifest can be read so far.
fn called(product: &Path) -> Option<manifest::Called> {
    manifest::called(&World::open(product).ok()?)
}
