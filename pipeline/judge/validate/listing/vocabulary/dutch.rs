//! Dutch.

use super::Vocabulary;
use crate::validate::listing::spelled::Compound;
use crate::validate::listing::truth::Role;
use crate::validate::listing::words::{Bound, Noun};

/// The words.
pub static WORDS: Vocabulary = Vocabulary {
    code: "nl",
    nouns: &[(Noun::Pages, &["pagina’s", "pagina's", "paginas", "bladzijden"]), (Noun::Links, &["links", "koppelingen"]), (Noun::Covers, &["omslagen", "kaften"]), (Noun::Stickers, &["stickers"]), (Noun::Sheets, &["stickervellen"]), (Noun::Sections, &["secties"]), (Noun::Templates, &["sjablonen", "paginasjablonen"]), (Noun::Files, &["bestanden"])],
    hyphened: &[],
    pairs: &[],
    bounds: &[(Bound::MoreThan, &["meer dan"]), (Bound::AtLeast, &["minstens", "ten minste", "minimaal"]), (Bound::LessThan, &["minder dan"]), (Bound::AtMost, &["tot", "hoogstens", "maximaal", "niet meer dan"]), (Bound::About, &["ongeveer", "circa", "bijna", "rond"])],
    generic: &["alternatieve", "digitale", "interne", "verschillende", "extra", "losse", "transparante", "gekleurde", "andere", "doorzichtige"],
    other: &["van", "de", "het", "een", "en", "of", "voor", "met", "op", "in", "om", "bij", "uit", "per", "die", "dat", "je", "jouw", "elke", "zijn", "is"],
    each: &["elk", "elke", "per", "ieder", "iedere"],
    range: &["tot", "en"],
    together: &["in totaal", "samen", "bij elkaar"],
    documents: &[(Role::Notebook, &["notitieboek", "planner"]), (Role::Covers, &["omslagen"]), (Role::Guide, &["handleiding"]), (Role::Sheet, &["stickervel", "stickervellen"])],
    within: &["in het ", "in de ", "van het ", "in je "],
    small: ["nul", "", "twee", "drie", "vier", "vijf", "zes", "zeven", "acht", "negen", "tien", "elf", "twaalf", "dertien", "veertien", "vijftien", "zestien", "zeventien", "achttien", "negentien"],
    tens: ["twintig", "dertig", "veertig", "vijftig", "zestig", "zeventig", "tachtig", "negentig"],
    compound: Compound::OnesFirst("een", "en"),
    round: &[("dozijn", 12), ("honderd", 100)],
    comma: true,
    spaced: false,
    behind: false,
    joined: None,
    by: &["bij"],
    units: [&["inch", "duim"], &[], &[], &["punten"], &["pixels"]],
    bytes: [&[], &[], &[]],
    longest: &["langste zijde", "langste kant"],
    proportions: &["verhouding"],
    of_pages: &["pagina’s", "formaat"],
    limits: &["limiet", "vrij", "ruimte", "opslag"],
    told: [&["download", "digitaal"], &["inch", "paginaformaat", "formaat"], &["licentie", "voorwaarden", "eigen gebruik", "persoonlijk"]],
};
