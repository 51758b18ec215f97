//! Checks of pictures, loose or on a page.

use super::row;
use base::model::Check;
use base::model::finding::Family::Images;
use base::model::finding::Severity::*;

pub(super) const ROWS: &[Check] = &[
    row(
        "image-cmyk",
        (Warning, Warning),
        Images,
        "A picture in CMYK, the colours of printing presses.",
        "Tablets convert it each in their own way, mostly to dull colours.",
        "Convert the picture to sRGB.",
    ),
    row(
        "image-colour-odd",
        (Warning, Note),
        Images,
        "A picture in spot colours or in Lab, which are made for printing.",
        "Reader apps on tablets guess its colours, or leave it out.",
        "Convert the picture to sRGB.",
    ),
    row(
        "image-damaged",
        (Error, Warning),
        Images,
        "A picture inside a PDF whose data are cut short, are damaged or do not fit its size.",
        "Where the picture should be the reader app shows a part of it, noise or nothing.",
        "Place the picture again from a file that opens whole, and export the document anew.",
    ),
    row(
        "image-profile-missing",
        (Note, Note),
        Images,
        "Pictures without a colour profile in a file whose other pictures have one.",
        "On a screen with a wide range of colours the two kinds don't match.",
        "Export all pictures in one way, as sRGB.",
    ),
    row(
        "image-too-coarse",
        (Warning, Note),
        Images,
        "A picture that is placed at less than 96 dots an inch over a good part of the page.",
        "It looks soft on a tablet's screen.",
        "Use a picture with more pixels, or place it smaller.",
    ),
    row(
        "image-too-fine",
        (Note, Note),
        Images,
        "A picture that is placed at more than 620 dots an inch.",
        "The file is larger than anybody can see.",
        "Scale the picture down before placing it.",
    ),
    row(
        "picture-damaged",
        (Error, Error),
        Images,
        "A picture whose data is cut short or whose checksums are wrong.",
        "It doesn't open, or opens only half.",
        "Export the picture again.",
    ),
    row(
        "picture-stray-bytes",
        (Warning, Warning),
        Images,
        "A PNG with bytes after its last chunk.",
        "It is shown as it should be, but the file is larger than its picture, and what is in there nobody has seen.",
        "Export the picture again.",
    ),
    row(
        "picture-too-large",
        (Warning, Note),
        Images,
        "A picture file with a side of more than 8,192 pixels.",
        "Many apps refuse it or shrink it badly.",
        "Scale it down.",
    ),
    row(
        "pictures-alike",
        (Warning, Note),
        Images,
        "Two picture files that show the very same thing.",
        "The buyer counts and finds fewer than promised.",
        "Delete one, or replace it with what was meant.",
    ),
    row(
        "colour-cmyk",
        (Warning, Note),
        Images,
        "Lines, areas or texts that are drawn in CMYK.",
        "Every reader app makes other colours of them on a screen.",
        "Draw in RGB instead.",
    ),
];
