//! Swedish.

use super::Vocabulary;
use crate::validate::listing::words::{Bound, Compound, Noun, Role};

/// The words.
pub static WORDS: Vocabulary = Vocabulary {
    code: "sv",
    nouns: &[
        (Noun::Pages, &["sidor"]),
        (Noun::Links, &["länkar"]),
        (Noun::Covers, &["omslag"]),
        (Noun::Stickers, &["klistermärken"]),
        (Noun::Sheets, &["klistermärksark", "ark med klistermärken"]),
        (Noun::Sections, &["avsnitt"]),
        (Noun::Templates, &["mallar", "sidmallar"]),
        (Noun::Files, &["filer"]),
        (Noun::Dpi, &["dpi"]),
    ],
    hyphened: &[],
    pairs: &[],
    bounds: &[
        (Bound::MoreThan, &["mer än", "fler än", "över"]),
        (Bound::AtLeast, &["minst", "åtminstone"]),
        (Bound::LessThan, &["mindre än", "färre än", "under"]),
        (Bound::AtMost, &["upp till", "högst", "som mest"]),
        (Bound::About, &["ungefär", "cirka", "omkring", "nästan", "runt"]),
    ],
    generic: &["alternativa", "digitala", "interna", "olika", "extra", "lösa", "genomskinliga", "färgade", "andra"],
    other: &[
        "av", "och", "eller", "för", "med", "på", "i", "om", "till", "från", "som", "en", "ett", "den", "det", "de",
        "din", "dina", "varje", "är", "per",
    ],
    each: &["varje", "vardera", "per"],
    range: &["till", "och"],
    together: &["sammanlagt", "totalt", "tillsammans"],
    documents: &[
        (Role::Notebook, &["anteckningsbok", "anteckningsboken", "planeringskalender"]),
        (Role::Covers, &["omslag"]),
        (Role::Guide, &["guide", "vägledning", "bruksanvisning"]),
        (Role::Sheet, &["ark med klistermärken"]),
    ],
    within: &["i ", "i din "],
    small: [
        "noll", "", "två", "tre", "fyra", "fem", "sex", "sju", "åtta", "nio", "tio", "elva", "tolv", "tretton",
        "fjorton", "femton", "sexton", "sjutton", "arton", "nitton",
    ],
    tens: ["tjugo", "trettio", "fyrtio", "femtio", "sextio", "sjuttio", "åttio", "nittio"],
    compound: Compound::Joined("ett"),
    round: &[("dussin", 12), ("hundra", 100)],
    comma: true,
    spaced: true,
    behind: false,
    joined: None,
    by: &["gånger"],
    units: [&["tum"], &[], &[], &["punkter"], &["pixlar", "bildpunkter"]],
    bytes: [&[], &[], &[]],
    longest: &["längsta sidan", "längsta sida"],
    proportions: &["proportion", "förhållande"],
    of_pages: &["sidor", "format", "storlek"],
    limits: &["gräns", "ledigt", "utrymme"],
    has: &["anteckningsbok på", "anteckningsboken har", "du har", "vart och ett av de"],
    joints: &[" och "],
    not_all: &["bland annat", "däribland", "till exempel", "såsom"],
    told: [
        &["nedladdning", "ladda ner", "digital"],
        &["tum", "sidstorlek", "sidans storlek"],
        &["licens", "villkor", "personliga bruk", "privat"],
    ],
};
