//! Checks of what the listing claims, and what the licences ask.

use super::row;
use crate::model::Check;
use crate::model::finding::Family::{Licences, Listing};
use crate::model::finding::Severity::*;

pub(super) const ROWS: &[Check] = &[
    row(
        "claim-wrong",
        (Error, Warning),
        Listing,
        "A number in the description that is not the number of the files: pages, covers, stickers, links, resolution.",
        "The buyer gets something else than was promised.",
        "Correct the number.",
    ),
    row(
        "credit-missing",
        (Warning, Warning),
        Licences,
        "A font file of the product's own that no credit names.",
        "Many open fonts ask for a credit when they are passed on, and a buyer or the font's maker may ask.",
        "Name the font and its licence among the credits of the manifest.",
    ),
    row(
        "listing-leaves-out",
        (Note, Note),
        Listing,
        "A description that does not say what buyers ask first: that it is a download, which size the pages have, what the licence allows.",
        "Buyers ask, or are let down and want their money back.",
        "Add a sentence on each.",
    ),
    row(
        "picture-text-cut",
        (Error, Error),
        Listing,
        "Words on a listing picture that run out of it.",
        "The shop's visitor reads half a word.",
        "Shorten the words, or give them more room in the layout.",
    ),
    row(
        "picture-text-small",
        (Warning, Warning),
        Listing,
        "Words on a listing picture whose capitals are lower than 5 pixels when it is shown 300 pixels wide.",
        "In a list of results a picture is that small, and nobody can read it.",
        "Say less, and set it larger.",
    ),
    row(
        "picture-too-heavy",
        (Error, Warning),
        Listing,
        "A listing picture of more megabytes than the shop takes.",
        "The shop refuses it.",
        "Make it a JPEG, give it a lower quality or fewer pixels, or, where it moves, fewer pages.",
    ),
    row(
        "picture-side-too-long",
        (Error, Warning),
        Listing,
        "A listing picture with a side longer than the shop takes.",
        "The shop refuses it or makes it smaller in its own way.",
        "Give the picture a smaller size.",
    ),
    row(
        "tag-too-long",
        (Error, Warning),
        Listing,
        "A tag longer than the shop allows.",
        "The shop refuses it.",
        "Shorten the tag.",
    ),
    row(
        "title-too-long",
        (Error, Warning),
        Listing,
        "A listing title longer than the shop allows.",
        "The shop cuts it off or refuses it.",
        "Shorten the title.",
    ),
    row(
        "too-many-pictures",
        (Error, Warning),
        Listing,
        "More listing pictures than the shop takes.",
        "The shop drops the rest.",
        "Keep the best ones.",
    ),
    row(
        "too-many-tags",
        (Error, Warning),
        Listing,
        "More tags than the shop allows.",
        "The shop drops the rest.",
        "Keep the best ones.",
    ),
    row(
        "claim-size-wrong",
        (Error, Warning),
        Listing,
        "A size in the description that no page and no sticker has.",
        "The buyer orders a size that is not there.",
        "Correct the size.",
    ),
    row(
        "claim-name-unknown",
        (Error, Warning),
        Listing,
        "A template or section that the description lists and the files do not have.",
        "The buyer looks for something that is not there.",
        "Name only what the files have.",
    ),
];
