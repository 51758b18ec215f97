//! Checks of fonts: embedding, rights, glyphs.

use super::row;
use base::model::Check;
use base::model::finding::Family::Fonts;
use base::model::finding::Severity::*;

pub(super) const ROWS: &[Check] = &[
    row(
        "font-embedding-forbidden",
        (Error, Warning),
        Fonts,
        "An embedded font whose own flags forbid embedding, or allow only bitmaps.",
        "The font's maker may demand that the product is withdrawn.",
        "Use another font, or get a written permission and record it.",
    ),
    row(
        "font-embedding-limited",
        (Warning, Note),
        Fonts,
        "An embedded font whose own flags allow it only in documents that nobody edits, or only whole.",
        "People write on the product, which such a font does not allow.",
        "Use another font, or get a written permission and record it.",
    ),
    row(
        "font-weight-unsaid",
        (Note, Note),
        Fonts,
        "A variable font without a stated weight: it is set at the one that it has by itself.",
        "Text is thinner or bolder than it was meant to be.",
        "State the weight: heading = { file = \"fonts/Hedgerow.ttf\", weight = 400 }.",
    ),
    row(
        "font-glyph-missing",
        (Error, Warning),
        Fonts,
        "Text shown with a glyph that its font does not have.",
        "The buyer sees an empty box in place of the character.",
        "Add a font that has the character to those of the role (style.fonts takes a list), or use other words.",
    ),
    row(
        "font-letters-missing",
        (Note, Note),
        Fonts,
        "Figures or small capitals that the style asks for and a font does not have: what is set in it stays as it is.",
        "Names and labels look otherwise than they were meant to.",
        "Take a font that has them for that role, or take the key out.",
    ),
    row(
        "font-not-embedded",
        (Error, Error),
        Fonts,
        "A font that is used, but is not inside the file.",
        "Every device puts another font in its place, and lettering shifts or turns to boxes.",
        "Embed the font.",
    ),
    row(
        "font-not-subset",
        (Warning, Note),
        Fonts,
        "An embedded font that is stored whole.",
        "The file is larger than it needs to be.",
        "Embed only the glyphs that are used.",
    ),
    row(
        "font-without-unicode",
        (Warning, Note),
        Fonts,
        "A font that does not say which characters its glyphs are.",
        "Searching, copying and reading aloud give nonsense.",
        "Write a ToUnicode map for the font.",
    ),
    row(
        "pages-are-pictures",
        (Note, Note),
        Fonts,
        "A file most of whose pages are one picture each, without any text.",
        "Nothing can be searched or read aloud, and lettering is soft when enlarged.",
        "Export the pages with their lettering as text.",
    ),
    row(
        "standard-font-relied-on",
        (Error, Warning),
        Fonts,
        "One of the fourteen standard PDF fonts that is used without being embedded.",
        "Devices replace it by a font of their own, of slightly other shape and width.",
        "Embed a font of your own.",
    ),
];
