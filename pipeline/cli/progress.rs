//! One line on the terminal that says what a long piece of work is at: the stage, how many of its things are done, the
//! last of them, and the time.
//!
//! It is drawn on standard error and only on a terminal; short work never shows it, and it is gone when the work is done.
//! A terminal that cannot move its cursor gets a plain line for each stage that takes long.

use crate::driver::Step;
use std::fmt::Write as _;
use std::io::{IsTerminal, Write};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

/// Work that is done sooner needs no line.
const SHORT: Duration = Duration::from_millis(250);
/// A stage that takes so long is worth a line on a plain terminal.
const LONG: Duration = Duration::from_secs(1);
/// How often the line is drawn.
const BEAT: Duration = Duration::from_millis(80);
/// Columns where the terminal does not say.
const COLUMNS: usize = 80;

/// What can be shown.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Screen {
    /// A line that is drawn over and over.
    Moving,
    /// Lines that stay.
    Plain,
}

/// The state of the work.
struct Work {
    begun: Instant,
    stage: &'static str,
    stage_begun: Instant,
    of: usize,
    done: usize,
    last: String,
    /// On a plain terminal: the stage that was told last.
    told: &'static str,
    over: bool,
}

impl Work {
    /// Work that begins now.
    fn new() -> Work {
        let now = Instant::now();
        Work { begun: now, stage: "", stage_begun: now, of: 0, done: 0, last: String::new(), told: "", over: false }
    }
}

/// A line that shows the work until it is dropped.
pub struct Line {
    shared: Arc<(Mutex<Work>, Condvar)>,
    drawing: Option<JoinHandle<()>>,
}

impl Line {
    /// Begins to show work, if standard error is a terminal.
    pub fn begin() -> Option<Line> {
        if !std::io::stderr().is_terminal() {
            return None;
        }
        let plain = std::env::var_os("TERM").is_some_and(|t| t == "dumb");
        let work = Work::new();
        let shared = Arc::new((Mutex::new(work), Condvar::new()));
        let of_thread = shared.clone();
        let screen = if plain { Screen::Plain } else { Screen::Moving };
        Some(Line { shared, drawing: Some(thread::spawn(move || draw(&of_thread, screen))) })
    }

    /// What is to be told of the work's steps.
    pub fn teller(&self) -> impl Fn(Step) + Send + Sync + 'static {
        let shared = self.shared.clone();
        move |step| {
            let mut work = lock(&shared.0);
            match step {
                Step::Stage(name, of) => {
                    (work.stage, work.of, work.done, work.stage_begun) = (name, of, 0, Instant::now());
                    work.last.clear();
                }
                Step::Done(what) => {
                    work.done += 1;
                    what.clone_into(&mut work.last);
                }
            }
        }
    }
}

impl Drop for Line {
    fn drop(&mut self) {
        lock(&self.shared.0).over = true;
        self.shared.1.notify_all();
        if let Some(drawing) = self.drawing.take() {
            // A line that could not be drawn is no reason to stop.
            let _ = drawing.join();
        }
    }
}

fn lock(work: &Mutex<Work>) -> MutexGuard<'_, Work> {
    // Every change is made of plain assignments, so a panic cannot leave half of one.
    work.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Draws until the work is over, then takes the line away.
fn draw(shared: &(Mutex<Work>, Condvar), screen: Screen) {
    let (mut work, mut drawn) = (lock(&shared.0), false);
    while !work.over {
        (work, _) = shared.1.wait_timeout(work, BEAT).unwrap_or_else(PoisonError::into_inner);
        if work.over {
            break;
        }
        let mut err = std::io::stderr().lock();
        // A terminal that went away is no fault of ours.
        let _ = match screen {
            Screen::Moving if work.begun.elapsed() >= SHORT => {
                drawn = true;
                let columns = terminal_size::terminal_size_of(std::io::stderr()).map_or(COLUMNS, |(w, _)| w.0.into());
                write!(err, "\r\x1b[K{}", line(&work, columns))
            }
            Screen::Plain if work.stage != work.told && work.stage_begun.elapsed() >= LONG => {
                work.told = work.stage;
                writeln!(err, "{}", line(&work, COLUMNS))
            }
            _ => Ok(()),
        };
        let _ = err.flush();
    }
    if drawn {
        let mut err = std::io::stderr().lock();
        let _ = write!(err, "\r\x1b[K");
        let _ = err.flush();
    }
}

/// The line, short enough for these columns.
fn line(work: &Work, columns: usize) -> String {
    let mut out = work.stage.to_owned();
    if work.of > 0 {
        let _ = write!(out, " {}/{}", work.done.min(work.of), work.of);
    }
    let time = format!("{:.1} s", work.begun.elapsed().as_secs_f64());
    // A terminal breaks the line that fills it, so one column stays free.
    let room = columns.saturating_sub(out.chars().count() + time.chars().count() + 5);
    if !work.last.is_empty() && room >= 8 {
        let _ = write!(out, "  {}", shortened(&work.last, room));
    }
    let _ = write!(out, "  {time}");
    out.chars().take(columns.saturating_sub(1)).collect()
}

/// The end of a text, which of a path says most.
fn shortened(text: &str, room: usize) -> String {
    let length = text.chars().count();
    if length <= room {
        return text.to_owned();
    }
    std::iter::once('\u{2026}').chain(text.chars().skip(length - room + 1)).collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn the_line_says_stage_count_item_and_time_and_fits() {
        let last = "contents/stickers/12-watering-can.png".to_owned();
        let work = Work { stage: "render", of: 48, done: 12, last, ..Work::new() };
        assert_eq!(line(&work, 80), "render 12/48  contents/stickers/12-watering-can.png  0.0 s");
        for columns in 1..90 {
            let short = line(&work, columns);
            assert!(short.chars().count() < columns.max(2), "{columns}: {short}");
        }
        assert_eq!(line(&work, 40), "render 12/48  \u{2026}-watering-can.png  0.0 s");
        assert_eq!(line(&work, 24), "render 12/48  0.0 s");
    }

    #[test]
    fn steps_are_counted() {
        let work = Work::new();
        let line = Line { shared: Arc::new((Mutex::new(work), Condvar::new())), drawing: None };
        let tell = line.teller();
        tell(Step::Stage("render", 3));
        tell(Step::Done("a.pdf"));
        tell(Step::Done("b.png"));
        {
            let work = lock(&line.shared.0);
            assert_eq!((work.stage, work.of, work.done, work.last.as_str()), ("render", 3, 2, "b.png"));
        }
        tell(Step::Stage("write", 0));
        let work = lock(&line.shared.0);
        assert_eq!((work.stage, work.of, work.done, work.last.as_str()), ("write", 0, 0, ""));
    }
}
