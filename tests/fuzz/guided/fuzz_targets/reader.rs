//! One reader, by the name in `SHEAFWRIGHT_FUZZ_TARGET`. With `SHEAFWRIGHT_FUZZ_SEEDS` it writes the files to begin with into that
//! folder first.

#![no_main]

#[path = "../../folder.rs"]
mod folder;
#[path = "../../targets.rs"]
mod targets;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::OnceLock;
use targets::Target;

/// The reader that is asked for.
fn target() -> &'static Target {
    static CHOSEN: OnceLock<&'static Target> = OnceLock::new();
    CHOSEN.get_or_init(|| {
        // What a library panics over is caught where its readers are guarded; the hook that was set before would end the
        // process at once.
        std::panic::set_hook(Box::new(|_| {}));
        let name = std::env::var("SHEAFWRIGHT_FUZZ_TARGET").unwrap_or_default();
        let names = || targets::ALL.map(|target| target.name).join(", ");
        let target = targets::find(&name)
            .unwrap_or_else(|| refuse(&format!("SHEAFWRIGHT_FUZZ_TARGET is `{name}`; give one of {}", names())));
        if let Ok(folder) = std::env::var("SHEAFWRIGHT_FUZZ_SEEDS") {
            for (n, seed) in (target.seeds)().iter().enumerate() {
                let path = format!("{folder}/{n}");
                std::fs::write(&path, seed).unwrap_or_else(|e| refuse(&format!("{path}: {e}")));
            }
        }
        target
    })
}

fn refuse(why: &str) -> ! {
    eprintln!("{why}");
    std::process::exit(2)
}

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    let target = target();
    if catch_unwind(AssertUnwindSafe(|| (target.read)(bytes))).is_err() {
        eprintln!("{}: a reader panicked", target.name);
        std::process::abort();
    }
});
