//! Polish.

use super::{Bindings, named};

/// The names.
pub const TABLE: Bindings = Bindings {
    rings: named("Kółka", "kółka", "Kółka prowadzą"),
    wire: named("Druty", "druty", "Druty prowadzą"),
    spiral: named("Spirala", "spirala", "Spirala prowadzi"),
    discs: named("Krążki", "krążki", "Krążki prowadzą"),
    thread: named("Szew", "szew", "Szew prowadzi"),
    fold: named("Zgięcie", "zgięcie", "Zgięcie prowadzi"),
    edge: named("Górny brzeg", "górny brzeg", "Górny brzeg prowadzi"),
};
