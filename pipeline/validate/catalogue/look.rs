//! Checks of contrast, fit and margins.

use super::row;
use crate::model::Check;
use crate::model::finding::Family::Look;
use crate::model::finding::Severity::*;

pub(super) const ROWS: &[Check] = &[
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
    row(
        "text-off-tab",
        (Warning, Note),
        Look,
        "A label that is longer than the tab that it stands on.",
        "The label runs into the page or into the next tab.",
        "Shorten the label, or set it smaller.",
    ),
    row(
        "thumbnail-not-legible",
        (Warning, Note),
        Look,
        "Small pages on an overview that are shorter than 72 CSS pixels, or have fewer pixels than the screen.",
        "The buyer cannot tell the templates apart.",
        "Show fewer of them on a page, larger or in more pixels.",
    ),
    row(
        "margins-uneven",
        (Warning, Note),
        Look,
        "Pages with the same content as others, a little off the place that it has there.",
        "The content jumps when the buyer turns the page.",
        "Place the content at the same spot on every page.",
    ),
];
