//! What each stage took: for whoever makes it faster, who asks by SHEAFWRIGHT_TIMES.

use super::outcome::say;
use crate::driver::{Progress, Step};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Instant;

/// When each stage began.
#[derive(Clone, Default)]
pub struct Stages(Arc<Mutex<Vec<(&'static str, Instant)>>>);

impl Stages {
    /// Whether anybody asks.
    pub fn asked() -> bool {
        std::env::var_os("SHEAFWRIGHT_TIMES").is_some()
    }

    /// What is told of every step notes here when the stages begin.
    pub fn teller(&self) -> Progress {
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

    /// Forgets what there was.
    pub fn begin(&self) {
        self.lock().clear();
    }

    /// Says how long each took up to now, if anybody asks, and begins anew.
    pub fn tell(&self) {
        let stages = std::mem::take(&mut *self.lock());
        if !Stages::asked() {
            return;
        }
        let ends = stages.iter().skip(1).map(|s| s.1).chain([Instant::now()]);
        let took =
            stages.iter().zip(ends).map(|(s, end)| format!("{} {} ms", s.0, end.duration_since(s.1).as_millis()));
        say!("{}", took.collect::<Vec<_>>().join(", "));
    }
}
