//! `watch`: builds as the designer saves and keeps the proof in the browser up to date.

use super::notes;
use super::outcome::{CLEAN, complain, print, say};
use super::serve::{self, Window};
use super::stages::Stages;
use crate::driver;
use crate::driver::{Memory, Options, Round};
use base::files::slashed;
use base::model::Fault;
use judge::validate;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::thread;
use std::time::Instant;

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
            stages.begin();
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
