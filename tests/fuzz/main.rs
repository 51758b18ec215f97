//! Files that somebody else made, changed at random, against every reader: none may panic, run over its stack, or take long.
//!
//! All targets together take `SHEAFWRIGHT_FUZZ_SECONDS` (60). `SHEAFWRIGHT_FUZZ_SEED` gives other changes. What breaks a reader
//! is kept as `target/fuzz/<target>`, and belongs into a test of its kind once it is mended.

mod change;
mod folder;
mod targets;

use change::Dice;
use std::fs;
use std::io::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};
use targets::{Target, root};

/// How many targets share the time.
const TARGETS: u32 = targets::ALL.len() as u32;
/// No input of a few kilobytes may take longer, on a machine that does other things as well.
const LONGEST: Duration = Duration::from_secs(40);

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

/// Changes the seeds at random and gives them to a reader, for this target's share of the time.
fn target(target: &Target) {
    let Target { name, seeds, read } = target;
    let seeds = seeds();
    let budget = Duration::from_secs(number("SHEAFWRIGHT_FUZZ_SECONDS", 60)) / TARGETS;
    let kept = root().join("target/fuzz").join(name);
    fs::create_dir_all(kept.parent().expect("it has a folder")).expect("a folder for what is found");
    // On the disk before it is read: what runs over the stack takes the process along.
    let keep = |bytes: &[u8]| fs::File::create(&kept).and_then(|mut f| f.write_all(bytes)).expect("inputs can be kept");
    let (begun, number_of) = (Instant::now(), Arc::new(AtomicU64::new(0)));
    let since = Arc::new(Mutex::new(Instant::now()));
    let (watched, over, shown) = (since.clone(), number_of.clone(), kept.clone());
    thread::spawn(move || {
        while over.load(Ordering::Relaxed) != u64::MAX {
            thread::sleep(Duration::from_millis(500));
            if watched.lock().is_ok_and(|since| since.elapsed() > LONGEST) {
                eprintln!("an input takes longer than {LONGEST:?}: {}", shown.display());
                std::process::abort();
            }
        }
    });
    let mut dice = Dice::new(number("SHEAFWRIGHT_FUZZ_SEED", 1), name);
    let mut runs = 0u64;
    while runs == 0 || begun.elapsed() < budget {
        // The seeds themselves come first, each once.
        let input = match seeds.get(runs as usize) {
            Some(seed) => seed.clone(),
            None => dice.changed(&seeds),
        };
        keep(&input);
        *since.lock().expect("nobody panics with it") = Instant::now();
        if catch_unwind(AssertUnwindSafe(|| read(&input))).is_err() {
            number_of.store(u64::MAX, Ordering::Relaxed);
            panic!("{name}: a reader panicked, see {}", kept.display());
        }
        runs += 1;
    }
    number_of.store(u64::MAX, Ordering::Relaxed);
    let _ = fs::remove_file(&kept);
    println!("{name}: {runs} inputs in {:.1} s", begun.elapsed().as_secs_f64());
}

macro_rules! tried {
    ($( $test:ident $name:literal )*) => { $(
        #[test]
        fn $test() {
            target(targets::find($name).expect("it is a target"));
        }
    )*

        #[test]
        fn every_target_is_tried() {
            let tried = [$($name),*];
            assert_eq!(tried.to_vec(), targets::ALL.iter().map(|target| target.name).collect::<Vec<_>>());
        }
    };
}

tried! {
    manifests_and_their_plans "manifest"
    drawings "svg"
    guides_in_markdown "markdown"
    pdfs "pdf"
    pngs "png"
    jpegs "jpeg"
    archives "zip"
    fonts "font"
    lists_of_events_as_tables "csv"
    lists_of_events_as_calendars "ics"
    films "mp4"
}

#[test]
fn the_seed_of_films_is_one() {
    let target = targets::find("mp4").expect("it is a target");
    for seed in (target.seeds)() {
        assert!(matches!(inspect::read("a.mp4", &seed.into()), base::model::Facts::Picture(_)));
    }
}

#[test]
fn the_seed_of_fonts_is_one() {
    assert!(targets::read_font(notosans::REGULAR_TTF));
}
