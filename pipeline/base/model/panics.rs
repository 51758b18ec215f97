//! Work on what others made: it may end in a panic of a library, and it gets a stack of its own.
//!
//! Libraries that read fonts, drawings, pictures and pages are well kept, and still a file turns up now and then that they
//! give up on. Such a file is refused with its name; the build says so, and a watch goes on.

use super::Fault;
use std::any::Any;
use std::cell::Cell;
use std::panic::{self, AssertUnwindSafe, UnwindSafe};
use std::sync::Once;
use std::thread;

/// Bytes of the stack on which foreign input is worked on. What is nested within it is counted before (a drawing's
/// elements, a page's forms), so that this is enough by far.
pub const STACK: usize = 64 << 20;
/// The most characters of what a library said that are passed on.
const MOST_SAID: usize = 160;

thread_local! {
    /// Whether a panic on this thread is caught and told in our own words.
    static GUARDED: Cell<bool> = const { Cell::new(false) };
}

/// A library gave up: what it said, as far as it said anything.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GaveUp(pub String);

impl GaveUp {
    fn of(payload: &(dyn Any + Send)) -> GaveUp {
        let said = payload.downcast_ref::<&str>().map(|s| (*s).to_owned());
        let said = said.or_else(|| payload.downcast_ref::<String>().cloned()).unwrap_or_default();
        let first = said.lines().next().unwrap_or_default();
        GaveUp(first.chars().take(MOST_SAID).collect())
    }

    /// The fault for a file; `kind` is what it is ("drawing").
    pub fn fault(&self, kind: &str, file: &str) -> Fault {
        let said = if self.0.is_empty() { String::new() } else { format!(" (it said: {})", self.0) };
        Fault::new(format!("the library that reads it gave up on this {kind}{said}"))
            .in_file(file)
            .help("this is a fault of the library and not of yours; export it in another way, or leave parts of it out to find the one")
    }
}

/// Runs work that may panic; nothing is printed of it.
///
/// # Errors
/// When it gave up.
pub fn caught<T>(work: impl FnOnce() -> T) -> Result<T, GaveUp> {
    quiet(AssertUnwindSafe(work)).map_err(|payload| GaveUp::of(&*payload))
}

/// The same on a thread with a stack of [`STACK`] bytes. The work must not wait for the pool of threads: with one
/// thread in the pool, that one waits here.
///
/// # Errors
/// When it gave up.
pub fn fenced<T: Send>(work: impl FnOnce() -> T + Send) -> Result<T, GaveUp> {
    thread::scope(|scope| {
        let run = || quiet(AssertUnwindSafe(work));
        let started = thread::Builder::new().name("foreign".to_owned()).stack_size(STACK).spawn_scoped(scope, run);
        match started {
            Ok(thread) => thread.join().unwrap_or_else(Err).map_err(|payload| GaveUp::of(&*payload)),
            Err(why) => Err(GaveUp(format!("no thread could be started for it: {why}"))),
        }
    })
}

/// The same for work that gives a fault of its own.
///
/// # Errors
/// What the work says, or the fault for a `kind` of file ("drawing") that was given up on.
pub fn file<T: Send>(kind: &str, file: &str, work: impl FnOnce() -> Result<T, Fault> + Send) -> Result<T, Fault> {
    fenced(work).unwrap_or_else(|gave_up| Err(gave_up.fault(kind, file)))
}

fn quiet<T>(work: impl FnOnce() -> T + UnwindSafe) -> thread::Result<T> {
    static HOOK: Once = Once::new();
    HOOK.call_once(|| {
        let usual = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            if !GUARDED.get() {
                usual(info);
            }
        }));
    });
    let before = GUARDED.replace(true);
    let done = panic::catch_unwind(work);
    GUARDED.set(before);
    done
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn a_panic_is_a_fault_that_names_the_file() {
        let fault =
            file("drawing", "art/x.svg", || -> Result<(), Fault> { panic!("index {} of 3\nmore", 5) }).unwrap_err();
        assert_eq!(fault.file.as_deref(), Some("art/x.svg"));
        assert!(fault.message.contains("this drawing") && fault.message.contains("index 5 of 3"), "{fault}");
        assert_eq!(caught(|| panic!("plain")), Err::<(), _>(GaveUp("plain".to_owned())));
        assert_eq!(caught(|| 7), Ok(7));
        // A guard within a guard does not end the outer one.
        assert_eq!(caught(|| (caught(|| panic!("inner")).is_err(), GUARDED.get())), Ok((true, true)));
        assert!(!GUARDED.get());
    }

    #[test]
    fn the_stack_holds_what_a_thread_of_the_pool_does_not() {
        fn deep(n: usize) -> usize {
            let room = std::hint::black_box([n; 128]);
            if n == 0 { 0 } else { deep(n - 1) + usize::from(room[n % 128] == n) }
        }
        // More than 16 MB of frames; threads have two of their own.
        assert_eq!(fenced(|| deep(16_000)), Ok(16_000));
    }
}
