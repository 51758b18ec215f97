//! Portuguese of Portugal, where it is written otherwise than in Brazil.

use super::Words;

pub fn words() -> Words {
    let text = str::to_owned;
    Words {
        table: text("pt-PT"),
        sections: text("Secções"),
        section: text("Secção"),
        stickers: text("autocolantes"),
        to_first_section: text("à primeira secção"),
        ..super::portuguese::words()
    }
}
