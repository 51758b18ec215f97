//! `watch`: builds whenever something in the product's folder is saved.

use super::memory::Memory;
use super::{Built, Desk, Live, Options, build_with, one};
use crate::world::World;
use crate::world::watch::Watch;
use base::files::Files;
use base::model::Fault;
use base::model::guard::caught;
use show::proof::Written;
use std::path::Path;

/// What a round of watching came to.
pub enum Round {
    /// A build begins.
    Begun,
    /// There is a proof, under this number. The bundle is not written yet, and a second proof follows where the listing
    /// pictures had to be taken anew.
    Proof(u64, Written),
    /// The bundle is written, or findings kept it from that.
    Done(Box<Built>),
    /// Something else was saved meanwhile: the next round begins at once.
    Overtaken,
    /// It could not be made; the last proof stays.
    Broken(Vec<Fault>),
}

/// Builds now and after every change, and tells of each round. Returns only when there is nothing to watch.
///
/// # Errors
/// When the folder cannot be opened or watched.
pub fn watch(path: &Path, options: &Options, tell: &mut dyn FnMut(Round)) -> Result<(), Vec<Fault>> {
    let mut world = World::open(path).map_err(one)?;
    let desk = Desk::open(&options.out, Memory::long())?;
    // Watched before the first build, so that no save in between is lost.
    let watch = Watch::open(world.root(), &options.out).map_err(one)?;
    let (pending, mut shown) = (watch.pending(), 0);
    loop {
        tell(Round::Begun);
        let live =
            Live { shown: &mut shown, show: &mut |number, page| tell(Round::Proof(number, page)), overtaken: &pending };
        // Whatever ends a round, the next save begins another one.
        let built = caught(|| build_with(&world, options, &desk, Some(live))).unwrap_or_else(|gave_up| {
            Err(one(Fault::new(format!("this round ended in a fault of the program: {}", gave_up.0))
                .help("undo what was changed last, and report it; the next save is built anew")))
        });
        tell(match built {
            Ok(Some(built)) => Round::Done(Box::new(built)),
            Ok(None) => Round::Overtaken,
            Err(faults) => Round::Broken(faults),
        });
        desk.memory.next_round();
        world = world.again();
        if !watch.wait() {
            return Ok(());
        }
    }
}
