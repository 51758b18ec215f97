//! Fonts: is what is drawn with them inside the file.

use super::catalogue::{Findings, found};
use base::model::Where;
use base::model::facts::{FontFacts, Inspected, PdfFacts};

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
        if !font.to_unicode && (font.subtype == "Type0" || !font.encoded) {
            found!(findings, "font-without-unicode", at(), "the font {name} has no ToUnicode map");
        }
        if font.missing_glyphs > 0 {
            let n = font.missing_glyphs;
            found!(
                findings,
                "font-glyph-missing",
                at(),
                "the font {name} lacks {n} of the glyphs that are shown in it"
            );
        }
        rights(font, name, &at(), findings);
    }
}

/// What the font's own flags allow (OpenType specification, OS/2 table, `fsType`). Where several of the first bits are
/// set, the most generous one counts.
fn rights(font: &FontFacts, name: &str, at: &Where, findings: &mut Findings) {
    const RESTRICTED: u16 = 1 << 1;
    const PREVIEW: u16 = 1 << 2;
    const EDITABLE: u16 = 1 << 3;
    const NO_SUBSET: u16 = 1 << 8;
    const BITMAPS: u16 = 1 << 9;
    let Some(bits) = font.fs_type else { return };
    let usage = bits & (RESTRICTED | PREVIEW | EDITABLE);
    if usage == RESTRICTED || bits & BITMAPS != 0 {
        let why = if usage == RESTRICTED { "may not be embedded" } else { "may only be embedded as bitmaps" };
        found!(findings, "font-embedding-forbidden", at.clone(), "the font {name} says that it {why} (fsType {bits})");
    } else if usage == PREVIEW {
        let why = "may only be embedded in documents that nobody edits";
        found!(findings, "font-embedding-limited", at.clone(), "the font {name} says that it {why} (fsType {bits})");
    } else if bits & NO_SUBSET != 0 && font.subset {
        let why = "may only be embedded whole, and it is embedded as a subset";
        found!(findings, "font-embedding-limited", at.clone(), "the font {name} says that it {why} (fsType {bits})");
    }
}

fn missing(font: &FontFacts, name: &str, at: Where, findings: &mut Findings) {
    if STANDARD.contains(&font.name.as_str()) {
        found!(findings, "standard-font-relied-on", at, "the standard font {name} is used and not embedded");
    } else {
        found!(findings, "font-not-embedded", at, "the font {name} is used and not embedded");
    }
}
