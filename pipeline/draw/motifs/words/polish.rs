//! Polish.

use super::MotifWords;

/// The words.
pub static TABLE: MotifWords = MotifWords {
    appointment: "Spotkanie",
    hello: "Cześć",
    today: "Dziś",
    for_and_against: "Za i przeciw",
    goal: "Cel",
    good_things: "Trzy dobre rzeczy",
    habits: "Nawyki",
    meals: "Posiłki",
    this_month: "W tym miesiącu",
    phone_call: "Rozmowa telefoniczna",
    shopping: "Zakupy",
    to_do: "Do zrobienia",
    who: "Kto",
    number: "Numer",
    about: "Temat",
    date: "Data",
    time: "Godzina",
    with: "Z kim",
    place: "Gdzie",
    bring: "Zabrać",
    planned: "Plan",
    spent: "Wydano",
    left: "Zostało",
};
