//! English.

use super::{Bindings, named};

/// The names.
pub const TABLE: Bindings = Bindings {
    rings: named("Rings", "the rings", "The rings lead"),
    wire: named("Wires", "the wires", "The wires lead"),
    spiral: named("Spiral", "the spiral", "The spiral leads"),
    discs: named("Discs", "the discs", "The discs lead"),
    thread: named("Stitches", "the stitches", "The stitches lead"),
    fold: named("Fold", "the fold", "The fold leads"),
    edge: named("Top edge", "the top edge", "The top edge leads"),
};
