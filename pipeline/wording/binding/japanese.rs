//! Japanese.

use super::{Bindings, named};

/// The names.
pub const TABLE: Bindings = Bindings {
    rings: named("リング", "リング", "リングから"),
    wire: named("ワイヤー", "ワイヤー", "ワイヤーから"),
    spiral: named("スパイラル", "スパイラル", "スパイラルから"),
    discs: named("ディスク", "ディスク", "ディスクから"),
    thread: named("とじ糸", "とじ糸", "とじ糸から"),
    fold: named("折り目", "折り目", "折り目から"),
    edge: named("上端", "上端", "上端から"),
};
