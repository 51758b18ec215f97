//! German.

use super::{Bindings, named};

/// The names.
pub const TABLE: Bindings = Bindings {
    rings: named("Ringe", "die Ringe", "Die Ringe führen"),
    wire: named("Drähte", "die Drähte", "Die Drähte führen"),
    spiral: named("Spirale", "die Spirale", "Die Spirale führt"),
    discs: named("Scheiben", "die Scheiben", "Die Scheiben führen"),
    thread: named("Naht", "die Naht", "Die Naht führt"),
    fold: named("Falz", "der Falz", "Der Falz führt"),
    edge: named("Oberer Rand", "der obere Rand", "Der obere Rand führt"),
};
