//! Fonts: is what is drawn with them inside the file.

use super::catalogue::{Findings, found};
use crate::model::Where;
use crate::model::facts::{FontFacts, Inspected, PdfFacts};

/// The fourteen fonts that every reader once had (ISO 32000-1, 9.6.2.2), and the names that it takes for them.
const STANDARD: [&str; 14] = [
    "Courier",
    "Courier-Bold",
    "Courier-BoldOblique",
    "Courier-Oblique",
    "Helvetica",
    "Helvetica-Bold",
    "Helvetica-BoldOblique",
    "Helvetica-Oblique",
    "Symbol",
    "Times-Bold",
    "Times-BoldItalic",
    "Times-Italic",
    "Times-Roman",
    "ZapfDingbats",
];

/// Checks every font.
pub fn check(file: &Inspected, facts: &PdfFacts, findings: &mut Findings) {
    for font in &facts.fonts {
        let at = || Where::page(&file.path, font.first_page);
        let name = if font.name.is_empty() { "without a name" } else { &font.name };
        if !font.embedded {
            if font.used {
                missing(font, name, at(), findings);
            }
            continue;
        }
        if font.subtype == "Type3" {
            continue;
        }
        if !font.subset {
            found!(findings, "font-not-subset", at(), "the font {name} is stored whole, {} bytes", font.bytes);
        }
        if !font.to_unicode && font.subtype == "Type0" {
            found!(findings, "font-without-unicode", at(), "the font {name} has no ToUnicode map");
        }
    }
}

fn missing(font: &FontFacts, name: &str, at: Where, findings: &mut Findings) {
    if STANDARD.contains(&font.name.as_str()) {
        found!(findings, "standard-font-relied-on", at, "the standard font {name} is used and not embedded");
    } else {
        found!(findings, "font-not-embedded", at, "the font {name} is used and not embedded");
    }
}
