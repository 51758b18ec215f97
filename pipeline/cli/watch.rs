//! `watch`: builds as the designer saves and keeps the proof in the browser up to date.

use super::notes;
use super::outcome::{CLEAN, complain, print, say};
use super::serve::{self, Window};
use crate::driver;
use crate::driver::{Memory, Options, Progress, Round, Step};
use base::files::slashed;
use base::model::Fault;
use judge::validate;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::Instant;

/// When each stage of a round began: for whoever makes it faster, who asks by SHEAFWRIGHT_TIMES.
#[derive(Clone, Default)]
struct Stages(Arc<Mutex<Vec<(&'static str, Instant)>>>);

impl Stages {
    fn teller(&self) -> Progress {
        let stages = self.clone();
        Box::new(move |step| {
            if let Step::Stage(name, _) = step {
                stages.lock().push((name, Instant::now()));
            }
        })
    }

    fn lock(&self) -> MutexGuard<'_, Vec<(&'static str, Instant)>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Says how long each took up to now, and begins anew.
    fn tell(&self) {
        let stages = std::mem::take(&mut *self.lock());
        if std::env::var_os("SHEAFWRIGHT_TIMES").is_none() {
            return;
        }
        let ends = stages.iter().skip(1).map(|s| s.1).chain([Instant::now()]);
        let took =
            stages.iter().zip(ends).map(|(s, end)| format!("{} {} ms", s.0, end.duration_since(s.1).as_millis()));
        say!("{}", took.collect::<Vec<_>>().join(", "));
    }
}

/// Runs until it is stopped.
pub fn watch(product: &Path, out: PathBuf, strict: bool, port: u16) -> u8 {
    let stages = Stages::default();
    let options = &Options { out, strict, progress: stages.teller(), memory: Arc::new(Memory::unlimited()) };
    let empty = match driver::empty_proof(product) {
        Ok(page) => page,
        Err(stop) => return complain(stop.faults()),
    };
    let (listener, address) = match serve::listen(port) {
        Ok(open) => open,
        Err(e) => {
            let fault = Fault::new(format!("port {port} of this machine cannot be used: {e}"));
            return complain(&[fault.help("give another one with --port, or none, to take any that is free")]);
        }
    };
    let window = Arc::new(Window::with_notes(empty.page, notes::beside(product)));
    let of_server = window.clone();
    thread::spawn(move || serve::serve(&listener, address, &of_server));
    print(&format!("http://{address}/\n"));
    say!("Open this address in your browser; it follows every save. Stop with Ctrl-C.");
    let mut begun = Instant::now();
    let mut shown = None;
    let watched = driver::watch(product, options, &mut |round| match round {
        Round::Begun => {
            stages.lock().clear();
            (begun, shown) = (Instant::now(), None);
        }
        Round::Proof(number, page) => {
            window.show(number, page);
            if shown.is_none() {
                stages.tell();
            }
            shown = shown.or(Some(begun.elapsed()));
        }
        Round::Done(built) => {
            let (errors, warnings, notes) = validate::counts(&built.findings);
            let where_to = built.folder.map_or("not written".to_owned(), |f| slashed(&f));
            let seen = shown.map_or(String::new(), |t| format!("shown after {:.2} s, ", t.as_secs_f64()));
            let took = begun.elapsed().as_secs_f64();
            say!("{errors} errors, {warnings} warnings, {notes} notes; {where_to}, {seen}done after {took:.2} s");
        }
        Round::Cancelled => {}
        Round::Broken(faults) => {
            complain(&faults);
            let words: Vec<String> = faults.iter().map(ToString::to_string).collect();
            window.complain(words.join("\n\n"));
        }
    });
    match watched {
        Ok(()) => CLEAN,
        Err(stop) => complain(stop.faults()),
    }
}
