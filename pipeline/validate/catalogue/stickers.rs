//! Checks of stickers: a picture each, cut out.

use super::row;
use crate::model::Check;
use crate::model::finding::Family::Stickers;
use crate::model::finding::Severity::*;

pub(super) const ROWS: &[Check] = &[
    row(
        "sticker-clear-not-clean",
        (Warning, Note),
        Stickers,
        "Fully transparent pixels that still carry a colour.",
        "Scaling bleeds that colour into the edge as a pale rim.",
        "Clear the colour of fully transparent pixels.",
    ),
    row(
        "sticker-corner-opaque",
        (Error, Warning),
        Stickers,
        "A sticker with a corner that isn't fully transparent.",
        "A box shows about the art when it lies on a coloured page.",
        "Clear the ground up to the edge of the art.",
    ),
    row(
        "sticker-dpi-off-plan",
        (Error, Error),
        Stickers,
        "A sticker whose stated resolution is not the planned one.",
        "It is pasted at the wrong size.",
        "Build again; if the finding stays, this is a fault of the program: report it.",
    ),
    row(
        "sticker-empty",
        (Error, Error),
        Stickers,
        "A sticker without any visible pixel.",
        "The buyer pastes it and sees nothing.",
        "Draw something, or take the file out.",
    ),
    row(
        "sticker-has-rim",
        (Warning, Warning),
        Stickers,
        "Edge pixels that carry the white or black of a former ground.",
        "A pale or dark rim shows on coloured paper.",
        "Cut the art from a transparent original, or remove the matte colour.",
    ),
    row(
        "sticker-has-specks",
        (Warning, Note),
        Stickers,
        "Tiny islands of a few pixels beside the art.",
        "They look like dirt on the page, and the lasso catches them.",
        "Erase whatever lies apart from the art.",
    ),
    row(
        "sticker-art-too-small",
        (Warning, Warning),
        Stickers,
        "A sticker whose picture has fewer pixels than its size at the asked resolution needs.",
        "It looks soft when it lies on the page at its full size.",
        "Export the picture larger, ask for a smaller size, or for fewer dpi. Nothing is enlarged unasked.",
    ),
    row(
        "sticker-not-rgba8",
        (Error, Warning),
        Stickers,
        "A sticker that is not 8-bit RGB with alpha.",
        "Some apps turn it grey, drop its transparency or refuse it.",
        "Export it as 8-bit RGBA.",
    ),
    row(
        "sticker-not-transparent",
        (Error, Error),
        Stickers,
        "A sticker without a transparent pixel.",
        "It is pasted as a solid block over the page.",
        "Export it with a transparent ground.",
    ),
    row(
        "sticker-numbers-gap",
        (Warning, Note),
        Stickers,
        "Numbered stickers with a number missing or used twice.",
        "The buyer thinks that a file is missing.",
        "Number the files without gaps.",
    ),
    row(
        "sticker-touches-edge",
        (Error, Warning),
        Stickers,
        "A sticker whose art reaches the edge of its picture.",
        "It looks cut off, and a lasso catches no margin.",
        "Leave clear padding round the art.",
    ),
    row(
        "sticker-without-dpi",
        (Error, Note),
        Stickers,
        "A sticker that does not say its resolution.",
        "Apps paste it far too large or too small.",
        "Write a pHYs chunk with its pixels per metre.",
    ),
    row(
        "sticker-without-srgb",
        (Error, Note),
        Stickers,
        "A sticker that does not say that its colours are sRGB.",
        "Colours shift from device to device.",
        "Write an sRGB chunk into it.",
    ),
];
