//! French.

use super::{Bindings, named};

/// The names.
pub const TABLE: Bindings = Bindings {
    rings: named("Anneaux", "les anneaux", "Les anneaux mènent"),
    wire: named("Fils de métal", "les fils de métal", "Les fils de métal mènent"),
    spiral: named("Spirale", "la spirale", "La spirale mène"),
    discs: named("Disques", "les disques", "Les disques mènent"),
    thread: named("Couture", "la couture", "La couture mène"),
    fold: named("Pli", "le pli", "Le pli mène"),
    edge: named("Bord supérieur", "le bord supérieur", "Le bord supérieur mène"),
};
