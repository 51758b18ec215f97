//! Hebrew.

use super::{Bindings, named};

/// The names.
pub const TABLE: Bindings = Bindings {
    rings: named("טבעות", "הטבעות", "הטבעות מובילות"),
    wire: named("חוטי מתכת", "חוטי המתכת", "חוטי המתכת מובילים"),
    spiral: named("ספירלה", "הספירלה", "הספירלה מובילה"),
    discs: named("דסקיות", "הדסקיות", "הדסקיות מובילות"),
    thread: named("תפר", "התפר", "התפר מוביל"),
    fold: named("קפל", "הקפל", "הקפל מוביל"),
    edge: named("קצה עליון", "הקצה העליון", "הקצה העליון מוביל"),
};
