//! Dutch.

use super::{Bindings, named};

/// The names.
pub const TABLE: Bindings = Bindings {
    rings: named("Ringen", "de ringen", "De ringen leiden"),
    wire: named("Draadbinding", "de draadbinding", "De draadbinding leidt"),
    spiral: named("Spiraal", "de spiraal", "De spiraal leidt"),
    discs: named("Schijven", "de schijven", "De schijven leiden"),
    thread: named("Stiksel", "het stiksel", "Het stiksel leidt"),
    fold: named("Vouw", "de vouw", "De vouw leidt"),
    edge: named("Bovenrand", "de bovenrand", "De bovenrand leidt"),
};
