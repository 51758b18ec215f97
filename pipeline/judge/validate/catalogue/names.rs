//! Checks of file names.

use super::row;
use base::model::Check;
use base::model::finding::Family::Names;
use base::model::finding::Severity::*;

pub(super) const ROWS: &[Check] = &[
    row(
        "name-illegal",
        (Error, Error),
        Names,
        "A file name with a character that some system forbids, or with a dot or a space at its end.",
        "The archive doesn't unpack there, or the file vanishes.",
        "Use letters, digits, dot, hyphen and underscore only.",
    ),
    row(
        "name-not-portable",
        (Warning, Note),
        Names,
        "A file name outside the portable set: letters A to Z, digits, dot, hyphen, underscore.",
        "Old unpackers garble the name.",
        "Use only letters, digits, dot, hyphen and underscore.",
    ),
    row(
        "name-reserved",
        (Error, Error),
        Names,
        "A file name that a desktop system keeps for devices, such as CON or LPT1, with any ending.",
        "The file can't be unpacked there.",
        "Give the file another name.",
    ),
    row(
        "names-clash",
        (Error, Error),
        Names,
        "Two names that are one and the same on systems that ignore case or compose accents.",
        "One file overwrites the other when unpacked.",
        "Give the files different names.",
    ),
    row(
        "path-too-long",
        (Warning, Warning),
        Names,
        "A path that is too long to unpack into a usual download folder.",
        "Unpacking stops with an error on desktop systems that allow 259 characters.",
        "Shorten the names of the file and its folders.",
    ),
];
