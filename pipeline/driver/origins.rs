//! Where the values of a product come from.

use crate::world::World;
use base::model::Fault;
use manifest::Origin;
use std::path::Path;

/// What is written of a key of a product, and where.
///
/// # Errors
/// The folder, the manifest or the shop's file cannot be read.
pub fn origins(product: &Path, key: &str) -> Result<Vec<Origin>, Vec<Fault>> {
    let world = World::open(product).map_err(|fault| vec![fault])?;
    manifest::origins(&world, key)
}
