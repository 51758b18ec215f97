//! Spanish.

use super::{Bindings, named};

/// The names.
pub const TABLE: Bindings = Bindings {
    rings: named("Anillas", "las anillas", "Las anillas llevan"),
    wire: named("Alambres", "los alambres", "Los alambres llevan"),
    spiral: named("Espiral", "la espiral", "La espiral lleva"),
    discs: named("Discos", "los discos", "Los discos llevan"),
    thread: named("Costura", "la costura", "La costura lleva"),
    fold: named("Pliegue", "el pliegue", "El pliegue lleva"),
    edge: named("Borde superior", "el borde superior", "El borde superior lleva"),
};
