//! Italian.

use super::{Bindings, named};

/// The names.
pub const TABLE: Bindings = Bindings {
    rings: named("Anelli", "gli anelli", "Gli anelli portano"),
    wire: named("Fili metallici", "i fili metallici", "I fili metallici portano"),
    spiral: named("Spirale", "la spirale", "La spirale porta"),
    discs: named("Dischi", "i dischi", "I dischi portano"),
    thread: named("Cucitura", "la cucitura", "La cucitura porta"),
    fold: named("Piega", "la piega", "La piega porta"),
    edge: named("Bordo superiore", "il bordo superiore", "Il bordo superiore porta"),
};
