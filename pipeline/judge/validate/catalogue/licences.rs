//! Checks of the ledger: whose the files are, and whether their licences allow what is done with them.

use super::row;
use base::model::Check;
use base::model::finding::Family::Licences;
use base::model::finding::Severity::*;

pub(super) const ROWS: &[Check] = &[
    row(
        "asset-may-not-be-changed",
        (Warning, Warning),
        Licences,
        "A file under a licence without derivatives (ND), or whose receipt does not allow changes, that is cut, resized or drawn over.",
        "Its maker can forbid the sale, and buyers lose updates.",
        "Ask the maker, note the answer as a receipt that allows \"change\", or use other art.",
    ),
    row(
        "asset-may-not-be-file",
        (Warning, Warning),
        Licences,
        "A sticker made of a file whose receipt does not allow to hand it on as a file of its own.",
        "Most clip-art licences allow art in a design and forbid to pass it on alone, and a sticker is the art alone.",
        "Ask the maker, note the answer as a receipt that allows \"extract\", or use other art for stickers.",
    ),
    row(
        "asset-not-for-sale",
        (Error, Error),
        Licences,
        "A file under a non-commercial licence (NC), or whose receipt does not allow a product that is sold.",
        "The shop has to take the product down, and buyers lose it.",
        "Buy a commercial licence and note its receipt, or use other art.",
    ),
    row(
        "asset-not-listed",
        (Warning, Warning),
        Licences,
        "A file that went into the product and is neither hers by a pattern nor in the ledger.",
        "Nobody can tell later whether it may be sold.",
        "Add it to own under [assets] if you made it, or as an [[assets.item]] with its source and licence.",
    ),
    row(
        "asset-not-used",
        (Note, Note),
        Licences,
        "An entry of the ledger under which no file of the product stands.",
        "The licence terms credit somebody for nothing, or the path is misspelt and the file stands unlisted.",
        "Correct the path, or take the entry out.",
    ),
    row(
        "asset-rights-not-declared",
        (Note, Note),
        Licences,
        "A product that uses files of its folder, and a manifest that does not say whose they are.",
        "A licence that forbids the sale is found when it is too late.",
        "Add [assets] with own = [\"art/**\"] for what you made, and an [[assets.item]] for what you did not.",
    ),
    row(
        "asset-shares-alike",
        (Warning, Warning),
        Licences,
        "A file under a licence whose terms pass on to what is made of it (SA, GPL and their kin).",
        "Buyers may then share what the licence terms of the product say that they may not.",
        "Ask the maker for other terms and note the receipt, or use other art.",
    ),
];
