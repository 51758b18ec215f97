//! German.

use super::MotifWords;

/// The words.
pub static TABLE: MotifWords = MotifWords {
    appointment: "Termin",
    hello: "Hallo",
    today: "Heute",
    for_and_against: "Für und Wider",
    goal: "Ziel",
    good_things: "Drei gute Dinge",
    habits: "Gewohnheiten",
    meals: "Essensplan",
    this_month: "Dieser Monat",
    phone_call: "Telefonat",
    shopping: "Einkauf",
    to_do: "Aufgaben",
    who: "Wer",
    number: "Nummer",
    about: "Thema",
    date: "Datum",
    time: "Zeit",
    with: "Mit",
    place: "Wo",
    bring: "Dabei",
    planned: "Geplant",
    spent: "Bezahlt",
    left: "Rest",
};
