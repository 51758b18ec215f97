//! French.

use super::Vocabulary;
use crate::validate::listing::spelled::Compound;
use crate::validate::listing::truth::Role;
use crate::validate::listing::words::{Bound, Noun};

/// The words.
pub static WORDS: Vocabulary = Vocabulary {
    code: "fr",
    nouns: &[
        (Noun::Pages, &["pages"]),
        (Noun::Links, &["liens"]),
        (Noun::Covers, &["couvertures"]),
        (Noun::Stickers, &["autocollants"]),
        (Noun::Sheets, &["planches"]),
        (Noun::Sections, &["sections"]),
        (Noun::Templates, &["modèles"]),
        (Noun::Files, &["fichiers"]),
        (Noun::Dpi, &["ppp"]),
    ],
    hyphened: &[],
    pairs: &[],
    bounds: &[
        (Bound::MoreThan, &["plus de"]),
        (Bound::AtLeast, &["au moins"]),
        (Bound::LessThan, &["moins de"]),
        (Bound::AtMost, &["jusqu’à", "jusqu'à", "au plus", "au maximum"]),
        (Bound::About, &["environ", "près de", "presque", "à peu près"]),
    ],
    generic: &[
        "alternatives",
        "alternative",
        "différentes",
        "différents",
        "numériques",
        "supplémentaires",
        "internes",
        "transparents",
        "png",
        "pdf",
        "interactifs",
        "cliquables",
        "individuels",
        "datées",
    ],
    other: &[
        "de", "des", "du", "d’", "le", "la", "les", "un", "une", "et", "ou", "pour", "avec", "à", "au", "aux", "en",
        "dans", "sur", "par", "qui", "que", "vos", "votre", "chaque", "est", "sont",
    ],
    each: &["chaque", "chacun", "chacune", "par"],
    range: &["à", "et"],
    together: &["en tout", "au total", "ensemble"],
    documents: &[
        (Role::Notebook, &["carnet", "agenda", "planificateur"]),
        (Role::Covers, &["couvertures"]),
        (Role::Guide, &["guide", "mode d’emploi"]),
        (Role::Sheet, &["planche d’autocollants", "planches d’autocollants"]),
    ],
    within: &["dans le ", "du ", "dans votre "],
    small: [
        "zéro", "", "deux", "trois", "quatre", "cinq", "six", "sept", "huit", "neuf", "dix", "onze", "douze", "treize",
        "quatorze", "quinze", "seize", "dix-sept", "dix-huit", "dix-neuf",
    ],
    tens: ["vingt", "trente", "quarante", "cinquante", "soixante", "soixante-dix", "quatre-vingts", "quatre-vingt-dix"],
    compound: Compound::French,
    round: &[("douzaine", 12), ("cent", 100)],
    comma: true,
    spaced: true,
    behind: true,
    joined: None,
    by: &["sur", "par"],
    units: [&["po", "pouce", "pouces"], &[], &[], &["points"], &["pixels"]],
    bytes: [&["ko"], &["mo"], &["go"]],
    longest: &["plus long côté", "côté le plus long", "plus grand côté"],
    proportions: &["proportion", "rapport", "format"],
    of_pages: &["pages", "format"],
    limits: &["limite", "libre", "stockage", "espace"],
    told: [
        &["téléchargement", "télécharger", "numérique"],
        &["pouces", "taille des pages", "format"],
        &["licence", "conditions", "usage personnel"],
    ],
};
