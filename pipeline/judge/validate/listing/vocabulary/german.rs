//! German.

use super::Vocabulary;
use crate::validate::listing::spelled::Compound;
use crate::validate::listing::truth::Role;
use crate::validate::listing::words::{Bound, Noun};

/// The words.
pub static WORDS: Vocabulary = Vocabulary {
    code: "de",
    nouns: &[(Noun::Pages, &["seiten"]), (Noun::Links, &["verknüpfungen", "verlinkungen"]), (Noun::Covers, &["deckblätter", "umschläge", "einbände", "cover", "deckblättern", "umschlägen", "einbänden"]), (Noun::Stickers, &["aufkleber", "sticker", "stickern", "aufklebern"]), (Noun::Sheets, &["stickerbögen", "stickerblätter", "bögen"]), (Noun::Sections, &["abschnitte", "abschnitten"]), (Noun::Templates, &["vorlagen", "seitenvorlagen"]), (Noun::Files, &["dateien"])],
    hyphened: &[(Noun::Pages, &["seitig", "seitige", "seitiges", "seitiger", "seitigen", "seitigem"])],
    pairs: &[],
    bounds: &[(Bound::MoreThan, &["mehr als", "über"]), (Bound::AtLeast, &["mindestens"]), (Bound::LessThan, &["weniger als", "unter"]), (Bound::AtMost, &["bis zu", "höchstens"]), (Bound::About, &["etwa", "rund", "fast", "knapp"])],
    generic: &["digitale", "digitalen", "einzelne", "verschiedene", "verschiedenen", "zusätzliche", "verlinkte", "farbige", "farbigen", "alternativen", "transparente", "passende", "weitere", "interne"],
    other: &["der", "die", "das", "den", "mit", "für", "von", "und", "oder", "auf", "zum", "pro"],
    each: &["je", "jeweils", "pro", "jede", "jeder"],
    range: &["bis", "und"],
    together: &["insgesamt", "zusammen"],
    documents: &[(Role::Notebook, &["notizbuch"]), (Role::Covers, &["deckblätter", "einbände"]), (Role::Guide, &["anleitung"]), (Role::Sheet, &["stickerbögen", "stickerbogen"])],
    within: &["im ", "in der "],
    small: ["null", "eins", "zwei", "drei", "vier", "fünf", "sechs", "sieben", "acht", "neun", "zehn", "elf", "zwölf", "dreizehn", "vierzehn", "fünfzehn", "sechzehn", "siebzehn", "achtzehn", "neunzehn"],
    tens: ["zwanzig", "dreißig", "vierzig", "fünfzig", "sechzig", "siebzig", "achtzig", "neunzig"],
    compound: Compound::OnesFirst("ein", "und"),
    round: &[("dutzend", 12), ("hundert", 100)],
    comma: true,
    spaced: false,
    behind: false,
    joined: None,
    by: &["mal"],
    units: [&["zoll"], &[], &[], &["punkt"], &[]],
    bytes: [&[], &[], &[]],
    longest: &["längsten seite"],
    proportions: &["verhältnis"],
    of_pages: &["seiten", "größe"],
    limits: &["speicher", "frei"],
    told: [&["herunterladen"], &["zoll", "seitengröße"], &["lizenz", "privat", "nutzung"]],
};
