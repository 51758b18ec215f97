//! Checks of contrast, fit and margins.

use super::row;
use crate::model::Check;
use crate::model::finding::Family::Look;
use crate::model::finding::Severity::*;

pub(super) const ROWS: &[Check] = &[
    row(
        "art-character-missing",
        (Error, Error),
        Look,
        "A character in a drawing of yours that no font of the product has.",
        "The buyer sees an empty box in its place.",
        "Write it otherwise, or add a font that has it to fonts/.",
    ),
    row(
        "art-font-missing",
        (Warning, Warning),
        Look,
        "A text in a drawing of yours that asks for a font which the product does not have.",
        "Another font stands in: letters have other widths, and words another look.",
        "Put the font into fonts/, or turn the text into outlines in the drawing program.",
    ),
    row(
        "art-left-out",
        (Note, Note),
        Look,
        "Something in art of yours that a page cannot show: movement, a piece of a web page, a second frame.",
        "The page looks different from the file.",
        "Export the art again without it.",
    ),
    row(
        "art-shape-off",
        (Warning, Warning),
        Look,
        "Art whose shape or size is not that of the room it is put into.",
        "Empty strips beside the art, or parts of it cut off.",
        "Draw it in the size of the room, or choose another fit: exact, fit, fill or bleed.",
    ),
    row(
        "text-too-long",
        (Warning, Warning),
        Look,
        "A text that is longer than its box, even in the smallest type that can be read.",
        "The buyer reads half a word, or one word over another.",
        "Shorten the text.",
    ),
    row(
        "rules-not-gentle",
        (Warning, Warning),
        Look,
        "Rules whose contrast with the paper is below 1.25 or above 4.5.",
        "Faint rules vanish on a tablet, loud ones drown handwriting.",
        "Choose a mid grey for the rules.",
    ),
    row(
        "section-colours-alike",
        (Warning, Warning),
        Look,
        "Colours of neighbouring sections that differ by less than 7 (CIEDE2000).",
        "The buyer mixes the tabs up.",
        "Choose colours that lie further apart.",
    ),
    row(
        "section-colours-confusable",
        (Note, Note),
        Look,
        "Colours of neighbouring sections that are the same to people with a common colour-vision deficiency.",
        "Those buyers mix the tabs up.",
        "Let neighbours differ in lightness as well.",
    ),
    row(
        "text-contrast-low",
        (Warning, Warning),
        Look,
        "Text whose contrast with its ground is below 4.5, or below 3 for large text (WCAG 2.2, 1.4.3).",
        "It is hard to read, above all outdoors.",
        "Make the text darker or its ground lighter.",
    ),
    row(
        "text-off-page",
        (Error, Error),
        Look,
        "Text that reaches past the edge of its page.",
        "A part of it is cut off.",
        "Shorten the text, or make it smaller.",
    ),
    row(
        "toolbar-margin-used",
        (Warning, Warning),
        Look,
        "A tap area within the margin that is kept free for the reader app's toolbar.",
        "The toolbar covers it, and it can't be tapped.",
        "Move it into the page, or choose another edge for the margin.",
    ),
];
