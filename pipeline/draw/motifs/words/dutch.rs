//! Dutch.

use super::MotifWords;

/// The words.
pub static TABLE: MotifWords = MotifWords {
    appointment: "Afspraak",
    hello: "Hallo",
    today: "Vandaag",
    for_and_against: "Voor en tegen",
    goal: "Doel",
    good_things: "Drie goede dingen",
    habits: "Gewoontes",
    meals: "Maaltijden",
    this_month: "Deze maand",
    phone_call: "Telefoontje",
    shopping: "Boodschappen",
    to_do: "Taken",
    who: "Wie",
    number: "Nummer",
    about: "Waarover",
    date: "Datum",
    time: "Tijd",
    with: "Met",
    place: "Waar",
    bring: "Meenemen",
    planned: "Gepland",
    spent: "Uitgegeven",
    left: "Over",
};
