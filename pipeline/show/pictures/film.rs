//! A film: the way of the flip-through with its pages turned, as MP4 that shops and phones play.
//!
//! Sources: ITU-T H.264 (constrained baseline: no picture waits for a later one); ISO/IEC 14496-15 (how H.264 lies in MP4); ITU-R
//! BT.709-6, 3 (brightness and two colours of red, green and blue). That shops take 5 to 15 seconds is common practice, no source.

mod frame;
#[cfg(feature = "film")]
mod write;

use super::compose::Still;
use super::way::{self, Moment};
use super::{PictureContext, Sketch, Taken};
use base::model::Fault;
use base::model::shot::Shot;
use frame::Frame;
use rayon::prelude::*;

/// Frames a second.
const RATE: u32 = 30;
/// How many frames a page takes to turn: 0.4 seconds.
const TURN: u32 = 12;
/// The shortest and the longest film in milliseconds, and one that is comfortably between.
const SHORTEST: u32 = 5_000;
const LONGEST: u32 = 15_000;
const USUAL: u32 = 12_000;

/// How far a tap has spread at each of its steps, and for how many milliseconds that stands: whole frames.
const SPREAD: [(f64, u32); 5] = [(0.0, 200), (0.3, 67), (0.6, 67), (0.85, 67), (1.0, 67)];

/// Lays the moments of the film out.
pub fn sketch(context: &PictureContext, shot: &Shot) -> Result<Sketch, Vec<Fault>> {
    let pages = way::pages(context, shot, true)?;
    let moments = way::moments(context, &pages, &SPREAD);
    let pause = pause(shot, &moments, pages.len())?;
    way::sketch(context, shot, moments, pause)
}

/// For how long each page stands, in milliseconds: as the designer says, or as long as fits.
fn pause(shot: &Shot, moments: &[Moment], pages: usize) -> Result<u32, Vec<Fault>> {
    let count = u32::try_from(pages).unwrap_or(u32::MAX).max(1);
    let taps: u32 = moments.iter().map(|m| m.delay).sum();
    let moves = taps.saturating_add((count - 1).saturating_mul((TURN - 1) * 1000 / RATE));
    let pause = shot.pause.unwrap_or_else(|| (USUAL.saturating_sub(moves) / count).clamp(600, SHORTEST));
    let whole = moves.saturating_add(pause.saturating_mul(count));
    if (SHORTEST..=LONGEST).contains(&whole) {
        return Ok(pause);
    }
    let fits = |whole: u32| f64::from(whole.saturating_sub(moves) / count / 100) / 10.0;
    let help = if whole < SHORTEST {
        format!("set pause = {:.1}, or name more pages", (fits(SHORTEST) + 0.1).min(20.0))
    } else if fits(LONGEST) >= 0.2 {
        format!("set pause = {:.1}, or name fewer pages", fits(LONGEST))
    } else {
        "name fewer pages".to_owned()
    };
    let message = format!(
        "the film `{}` takes {:.1} seconds, and shops take films of 5 to 15",
        shot.name,
        f64::from(whole) / 1000.0
    );
    Err(vec![Fault::new(message).help(help)])
}

/// Takes the pictures of the film and writes it. No more than one page with its taps is kept at a time.
pub fn through(context: &PictureContext, shot: &Shot, sketch: &Sketch) -> Result<Taken, Vec<Fault>> {
    let all: Vec<(&String, &Moment)> = sketch.frames.iter().zip(&sketch.moments).collect();
    let mut reel = Reel::new(shot)?;
    let mut before: Option<(Still, usize)> = None;
    let mut words = None;
    let right_to_left = context.product.page.right_to_left;
    for page in all.chunk_by(|a, b| a.1.page == b.1.page) {
        let stills: Vec<Result<Still, Vec<Fault>>> =
            page.par_iter().map(|(svg, _)| context.compose(shot, svg)).collect();
        let stills: Vec<Still> = stills.into_iter().collect::<Result<_, _>>()?;
        let Some(first) = stills.first() else { continue };
        let number = page[0].1.page;
        if let Some((last, from)) = before.take() {
            // A page lies on the one before it; one that leads back comes from the other side.
            let from_right = (number > from) != right_to_left;
            let turn: Vec<Frame> =
                (1..TURN).into_par_iter().map(|step| frame::turned(&last, first, eased(step), from_right)).collect();
            for frame in &turn {
                reel.show(frame)?;
            }
        }
        words.get_or_insert_with(|| first.words.clone());
        for (still, (_, moment)) in stills.iter().zip(page) {
            let frame = Frame::of(still);
            for _ in 0..frames(moment.delay) {
                reel.show(&frame)?;
            }
        }
        before = stills.into_iter().last().map(|still| (still, number));
    }
    Ok(Taken { bytes: reel.finish()?, words: words.unwrap_or_default() })
}

/// How many frames so many milliseconds are.
fn frames(milliseconds: u32) -> u32 {
    ((milliseconds * RATE + 500) / 1000).max(1)
}

/// How far a page has turned at a step, from 0 to 1: it begins and ends gently.
fn eased(step: u32) -> f64 {
    let t = f64::from(step) / f64::from(TURN);
    if t < 0.5 {
        4.0 * t * t * t
    } else {
        let left = 2.0 - 2.0 * t;
        1.0 - left * left * left / 2.0
    }
}

/// Frames on their way into a file.
#[cfg(feature = "film")]
struct Reel(write::Writer);

#[cfg(feature = "film")]
impl Reel {
    fn new(shot: &Shot) -> Result<Reel, Vec<Fault>> {
        write::Writer::new(shot.width, shot.height).map(Reel).map_err(|f| vec![f])
    }

    fn show(&mut self, frame: &Frame) -> Result<(), Vec<Fault>> {
        self.0.add(frame).map_err(|f| vec![f])
    }

    fn finish(self) -> Result<Vec<u8>, Vec<Fault>> {
        self.0.finish().map_err(|f| vec![f])
    }
}

/// What stands for it in a program that was built without films.
#[cfg(not(feature = "film"))]
struct Reel;

#[cfg(not(feature = "film"))]
impl Reel {
    fn new(shot: &Shot) -> Result<Reel, Vec<Fault>> {
        let message = format!("the picture `{}` is a film, and this program was built without films", shot.name);
        Err(vec![Fault::new(message).help("set format = \"gif\", or build the program with its feature `film`")])
    }

    fn show(&mut self, _frame: &Frame) -> Result<(), Vec<Fault>> {
        Ok(())
    }

    fn finish(self) -> Result<Vec<u8>, Vec<Fault>> {
        Ok(Vec::new())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_turns_evenly_there_and_back() {
        let steps: Vec<f64> = (0..=TURN).map(eased).collect();
        assert!(steps.windows(2).all(|two| two[0] < two[1]), "{steps:?}");
        assert_eq!((steps[0], steps[12]), (0.0, 1.0));
        for (a, b) in steps.iter().zip(steps.iter().rev()) {
            assert!((a + b - 1.0).abs() < 1e-12, "{steps:?}");
        }
    }
}
