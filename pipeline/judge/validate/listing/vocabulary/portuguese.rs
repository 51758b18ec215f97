//! Portuguese, of both forms.

use super::Vocabulary;
use crate::validate::listing::spelled::Compound;
use crate::validate::listing::truth::Role;
use crate::validate::listing::words::{Bound, Noun};

/// The words.
pub static WORDS: Vocabulary = Vocabulary {
    code: "pt",
    nouns: &[(Noun::Pages, &["páginas"]), (Noun::Links, &["links", "ligações", "hiperligações"]), (Noun::Covers, &["capas"]), (Noun::Stickers, &["adesivos", "autocolantes"]), (Noun::Sheets, &["folhas de adesivos", "folhas de autocolantes"]), (Noun::Sections, &["seções", "secções"]), (Noun::Templates, &["modelos"]), (Noun::Files, &["arquivos", "ficheiros"]), (Noun::Dpi, &["ppp"])],
    hyphened: &[],
    pairs: &[],
    bounds: &[(Bound::MoreThan, &["mais de"]), (Bound::AtLeast, &["pelo menos", "no mínimo"]), (Bound::LessThan, &["menos de"]), (Bound::AtMost, &["até", "no máximo"]), (Bound::About, &["cerca de", "aproximadamente", "quase", "uns", "umas"])],
    generic: &["alternativas", "digitais", "internos", "diferentes", "adicionais", "transparentes", "png", "pdf", "interativas", "individuais", "datadas", "avulsos"],
    other: &["de", "do", "da", "dos", "das", "o", "a", "os", "as", "um", "uma", "e", "ou", "para", "com", "em", "no", "na", "por", "que", "seu", "sua", "cada", "é", "são"],
    each: &["cada", "por"],
    range: &["a", "e", "até"],
    together: &["ao todo", "no total", "em conjunto"],
    documents: &[(Role::Notebook, &["caderno", "agenda"]), (Role::Covers, &["capas"]), (Role::Guide, &["guia"]), (Role::Sheet, &["folha de adesivos", "folhas de adesivos", "folha de autocolantes", "folhas de autocolantes"])],
    within: &["no ", "do ", "na ", "da ", "no seu "],
    small: ["zero", "", "dois/duas", "três", "quatro", "cinco", "seis", "sete", "oito", "nove", "dez", "onze", "doze", "treze", "catorze/quatorze", "quinze", "dezesseis/dezasseis", "dezessete/dezassete", "dezoito", "dezenove/dezanove"],
    tens: ["vinte", "trinta", "quarenta", "cinquenta", "sessenta", "setenta", "oitenta", "noventa"],
    compound: Compound::Spaced(" e "),
    round: &[("dúzia", 12), ("cem", 100)],
    comma: true,
    spaced: true,
    behind: true,
    joined: None,
    by: &["por", "x"],
    units: [&["polegada", "polegadas"], &[], &[], &["pontos"], &["píxel", "píxeis", "pixels"]],
    bytes: [&[], &[], &[]],
    longest: &["lado mais longo", "lado maior", "lado mais comprido"],
    proportions: &["proporção", "relação"],
    of_pages: &["páginas", "formato", "tamanho"],
    limits: &["limite", "livre", "espaço", "armazenamento"],
    told: [&["download", "baixar", "transferir", "digital"], &["polegadas", "tamanho da página", "tamanho de página"], &["licença", "condições", "termos", "uso pessoal"]],
};
