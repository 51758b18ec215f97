//! Italian.

use super::Vocabulary;
use crate::validate::listing::spelled::Compound;
use crate::validate::listing::truth::Role;
use crate::validate::listing::words::{Bound, Noun};

/// The words.
pub static WORDS: Vocabulary = Vocabulary {
    code: "it",
    nouns: &[(Noun::Pages, &["pagine"]), (Noun::Links, &["link", "collegamenti"]), (Noun::Covers, &["copertine"]), (Noun::Stickers, &["adesivi"]), (Noun::Sheets, &["fogli di adesivi"]), (Noun::Sections, &["sezioni"]), (Noun::Templates, &["modelli"]), (Noun::Files, &["file"])],
    hyphened: &[],
    pairs: &[],
    bounds: &[(Bound::MoreThan, &["più di", "oltre"]), (Bound::AtLeast, &["almeno", "minimo"]), (Bound::LessThan, &["meno di"]), (Bound::AtMost, &["fino a", "al massimo", "non più di"]), (Bound::About, &["circa", "quasi"])],
    generic: &["alternative", "digitali", "interni", "diversi", "diverse", "aggiuntive", "trasparenti", "png", "pdf", "interattive", "singoli", "datate"],
    other: &["di", "del", "della", "dei", "delle", "il", "lo", "la", "i", "gli", "le", "un", "una", "e", "o", "per", "con", "a", "al", "in", "da", "che", "tuo", "tua", "ogni", "è", "sono"],
    each: &["ogni", "ognuna", "ognuno", "ciascuno", "ciascuna", "per"],
    range: &["a", "e"],
    together: &["in tutto", "in totale", "insieme"],
    documents: &[(Role::Notebook, &["quaderno", "agenda", "taccuino"]), (Role::Covers, &["copertine"]), (Role::Guide, &["guida"]), (Role::Sheet, &["foglio di adesivi", "fogli di adesivi"])],
    within: &["nel ", "del ", "nella ", "nell’"],
    small: ["zero", "", "due", "tre", "quattro", "cinque", "sei", "sette", "otto", "nove", "dieci", "undici", "dodici", "tredici", "quattordici", "quindici", "sedici", "diciassette", "diciotto", "diciannove"],
    tens: ["venti", "trenta", "quaranta", "cinquanta", "sessanta", "settanta", "ottanta", "novanta"],
    compound: Compound::Italian,
    round: &[("dozzina", 12), ("cento", 100)],
    comma: true,
    spaced: false,
    behind: true,
    joined: None,
    by: &["per", "x"],
    units: [&["pollice", "pollici"], &[], &[], &["punti"], &["pixel"]],
    bytes: [&[], &[], &[]],
    longest: &["lato più lungo", "lato maggiore"],
    proportions: &["proporzion", "rapporto"],
    of_pages: &["pagine", "formato"],
    limits: &["limite", "libero", "spazio", "memoria"],
    told: [&["download", "scaricare", "digitale"], &["pollici", "dimensioni della pagina", "formato"], &["licenza", "condizioni", "uso personale"]],
};
