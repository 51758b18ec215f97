//! Swedish.

use super::MotifWords;

/// The words.
pub static TABLE: MotifWords = MotifWords {
    appointment: "Möte",
    hello: "Hej",
    today: "I dag",
    for_and_against: "För och emot",
    goal: "Mål",
    good_things: "Tre bra saker",
    habits: "Vanor",
    meals: "Måltider",
    this_month: "Den här månaden",
    phone_call: "Telefonsamtal",
    shopping: "Inköp",
    to_do: "Att göra",
    who: "Vem",
    number: "Nummer",
    about: "Om",
    date: "Datum",
    time: "Tid",
    with: "Med",
    place: "Var",
    bring: "Ta med",
    planned: "Planerat",
    spent: "Använt",
    left: "Kvar",
};
