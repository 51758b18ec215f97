//! Polish.

use super::Vocabulary;
use crate::validate::listing::spelled::Compound;
use crate::validate::listing::truth::Role;
use crate::validate::listing::words::{Bound, Noun};

/// The words.
pub static WORDS: Vocabulary = Vocabulary {
    code: "pl",
    nouns: &[(Noun::Pages, &["strony", "stron", "stronami"]), (Noun::Links, &["linki", "linków", "linkami", "odnośniki", "odnośników"]), (Noun::Covers, &["okładki", "okładek", "okładkami"]), (Noun::Stickers, &["naklejki", "naklejek", "naklejkami"]), (Noun::Sheets, &["arkusze", "arkuszy", "arkuszami"]), (Noun::Sections, &["działy", "działów", "działami"]), (Noun::Templates, &["szablony", "szablonów", "szablonami"]), (Noun::Files, &["pliki", "plików"])],
    hyphened: &[],
    pairs: &[],
    bounds: &[(Bound::MoreThan, &["więcej niż", "ponad"]), (Bound::AtLeast, &["co najmniej", "przynajmniej"]), (Bound::LessThan, &["mniej niż", "poniżej"]), (Bound::AtMost, &["do", "najwyżej", "co najwyżej"]), (Bound::About, &["około", "ok", "prawie", "niemal"])],
    generic: &["alternatywnych", "alternatywne", "cyfrowych", "różnych", "różne", "dodatkowych", "dodatkowe", "przezroczystych", "pojedynczych", "wewnętrznych", "png", "pdf"],
    other: &["z", "ze", "i", "oraz", "lub", "albo", "dla", "na", "w", "we", "do", "od", "po", "za", "przez", "który", "które", "która", "się", "jest", "są", "każdy", "każda"],
    each: &["każdy", "każda", "każde", "po", "na"],
    range: &["do", "i"],
    together: &["razem", "łącznie", "w sumie"],
    documents: &[(Role::Notebook, &["notatnik", "planer", "notes"]), (Role::Covers, &["okładki"]), (Role::Guide, &["poradnik", "instrukcja", "przewodnik"]), (Role::Sheet, &["arkusz naklejek", "arkusze naklejek"])],
    within: &["w ", "we "],
    small: ["zero", "jeden", "dwa/dwie/dwóch", "trzy/trzech", "cztery/czterech", "pięć/pięciu", "sześć/sześciu", "siedem/siedmiu", "osiem/ośmiu", "dziewięć/dziewięciu", "dziesięć/dziesięciu", "jedenaście", "dwanaście", "trzynaście", "czternaście", "piętnaście", "szesnaście", "siedemnaście", "osiemnaście", "dziewiętnaście"],
    tens: ["dwadzieścia", "trzydzieści", "czterdzieści", "pięćdziesiąt", "sześćdziesiąt", "siedemdziesiąt", "osiemdziesiąt", "dziewięćdziesiąt"],
    compound: Compound::Spaced(" "),
    round: &[("tuzin", 12), ("sto", 100)],
    comma: true,
    spaced: true,
    behind: true,
    joined: None,
    by: &["na", "x"],
    units: [&["cal", "cale", "cala", "cali"], &[], &[], &["punktów", "punkty"], &["piksel", "piksele", "pikseli"]],
    bytes: [&[], &[], &[]],
    longest: &["najdłuższy bok", "najdłuższym boku", "dłuższy bok"],
    proportions: &["proporcj", "stosunek"],
    of_pages: &["strony", "stron", "format", "rozmiar"],
    limits: &["limit", "wolne", "wolnego", "miejsca", "pamięci"],
    told: [&["pobrania", "pobranie", "pobrać", "cyfrow"], &["cala", "cali", "rozmiar strony", "format"], &["licencj", "warunki", "użytku osobistego"]],
};
