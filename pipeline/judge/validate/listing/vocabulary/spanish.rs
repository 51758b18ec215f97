//! Spanish.

use super::Vocabulary;
use crate::validate::listing::spelled::Compound;
use crate::validate::listing::truth::Role;
use crate::validate::listing::words::{Bound, Noun};

/// The words.
pub static WORDS: Vocabulary = Vocabulary {
    code: "es",
    nouns: &[(Noun::Pages, &["páginas"]), (Noun::Links, &["enlaces", "hipervínculos", "vínculos"]), (Noun::Covers, &["portadas"]), (Noun::Stickers, &["pegatinas"]), (Noun::Sheets, &["hojas de pegatinas", "hojas de stickers"]), (Noun::Sections, &["secciones"]), (Noun::Templates, &["plantillas"]), (Noun::Files, &["archivos", "ficheros"]), (Noun::Dpi, &["ppp"])],
    hyphened: &[],
    pairs: &[],
    bounds: &[(Bound::MoreThan, &["más de"]), (Bound::AtLeast, &["al menos", "por lo menos", "como mínimo"]), (Bound::LessThan, &["menos de"]), (Bound::AtMost, &["hasta", "como máximo", "a lo sumo"]), (Bound::About, &["unas", "unos", "alrededor de", "cerca de", "casi", "aproximadamente"])],
    generic: &["alternativas", "digitales", "internos", "distintas", "diferentes", "adicionales", "transparentes", "png", "pdf", "interactivas", "individuales", "fechadas", "sueltas"],
    other: &["de", "del", "la", "las", "los", "el", "un", "una", "y", "o", "u", "para", "con", "a", "al", "en", "por", "que", "tu", "tus", "cada", "es", "son"],
    each: &["cada", "por"],
    range: &["a", "y", "hasta"],
    together: &["en total", "en conjunto", "todo junto"],
    documents: &[(Role::Notebook, &["cuaderno", "agenda", "libreta"]), (Role::Covers, &["portadas"]), (Role::Guide, &["guía"]), (Role::Sheet, &["hoja de pegatinas", "hojas de pegatinas"])],
    within: &["en el ", "del ", "en la ", "de la ", "en tu "],
    small: ["cero", "", "dos", "tres", "cuatro", "cinco", "seis", "siete", "ocho", "nueve", "diez", "once", "doce", "trece", "catorce", "quince", "dieciséis", "diecisiete", "dieciocho", "diecinueve"],
    tens: ["veinte", "treinta", "cuarenta", "cincuenta", "sesenta", "setenta", "ochenta", "noventa"],
    compound: Compound::Spanish,
    round: &[("docena", 12), ("cien", 100)],
    comma: true,
    spaced: true,
    behind: true,
    joined: None,
    by: &["por", "x"],
    units: [&["pulgada", "pulgadas", "pulg"], &[], &[], &["puntos"], &["píxel", "píxeles"]],
    bytes: [&[], &[], &[]],
    longest: &["lado más largo", "lado mayor"],
    proportions: &["proporción", "relación"],
    of_pages: &["páginas", "formato", "tamaño"],
    limits: &["límite", "libre", "espacio", "almacenamiento"],
    told: [&["descarga", "descargar", "digital"], &["pulgadas", "tamaño de página", "tamaño de la página"], &["licencia", "condiciones", "uso personal"]],
};
