//! Swedish.

use super::{Bindings, named};

/// The names.
pub const TABLE: Bindings = Bindings {
    rings: named("Ringar", "ringarna", "Ringarna leder"),
    wire: named("Metalltrådar", "metalltrådarna", "Metalltrådarna leder"),
    spiral: named("Spiral", "spiralen", "Spiralen leder"),
    discs: named("Skivor", "skivorna", "Skivorna leder"),
    thread: named("Söm", "sömmen", "Sömmen leder"),
    fold: named("Veck", "vecket", "Vecket leder"),
    edge: named("Överkant", "överkanten", "Överkanten leder"),
};
