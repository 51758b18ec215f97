//! Portuguese.

use super::{Bindings, named};

/// The names.
pub const TABLE: Bindings = Bindings {
    rings: named("Argolas", "as argolas", "As argolas levam"),
    wire: named("Arames", "os arames", "Os arames levam"),
    spiral: named("Espiral", "a espiral", "A espiral leva"),
    discs: named("Discos", "os discos", "Os discos levam"),
    thread: named("Costura", "a costura", "A costura leva"),
    fold: named("Dobra", "a dobra", "A dobra leva"),
    edge: named("Borda superior", "a borda superior", "A borda superior leva"),
};
