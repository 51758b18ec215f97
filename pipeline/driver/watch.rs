//! `watch`: builds whenever something in the product's folder is saved.

use super::{Built, Options, build_with, one};
use crate::model::Fault;
use crate::world::World;
use crate::world::watch::Watch;
use std::path::Path;

/// What a round of watching came to.
pub enum Round {
    /// A build begins.
    Begun,
    /// The bundle was made: its proof, and what there is to say of it. The bundle is not written yet.
    Proof(Vec<u8>),
    /// The bundle is written, or findings kept it from that.
    Done(Box<Built>),
    /// It could not be made; the last proof stays.
    Broken(Vec<Fault>),
}

/// Builds now and after every change, and tells of each round. `number` in the proofs counts the rounds. Returns only
/// when there is nothing to watch.
///
/// # Errors
/// When the folder cannot be opened or watched.
pub fn watch(path: &Path, options: &Options, tell: &mut dyn FnMut(u64, Round)) -> Result<(), Vec<Fault>> {
    let world = World::open(path).map_err(one)?;
    // Watched before the first build, so that no save in between is lost.
    let watch = Watch::open(world.root(), &options.out).map_err(one)?;
    for number in 1.. {
        tell(number, Round::Begun);
        let built = build_with(path, options, Some(number), &mut |page| tell(number, Round::Proof(page)));
        tell(
            number,
            match built {
                Ok(built) => Round::Done(Box::new(built)),
                Err(faults) => Round::Broken(faults),
            },
        );
        if !watch.wait() {
            break;
        }
    }
    Ok(())
}
