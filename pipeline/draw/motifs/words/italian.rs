//! Italian.

use super::MotifWords;

/// The words.
pub static TABLE: MotifWords = MotifWords {
    appointment: "Appuntamento",
    hello: "Ciao",
    today: "Oggi",
    for_and_against: "Pro e contro",
    goal: "Obiettivo",
    good_things: "Tre cose belle",
    habits: "Abitudini",
    meals: "Pasti",
    this_month: "Questo mese",
    phone_call: "Telefonata",
    shopping: "Spesa",
    to_do: "Da fare",
    who: "Chi",
    number: "Numero",
    about: "Motivo",
    date: "Data",
    time: "Ora",
    with: "Con",
    place: "Dove",
    bring: "Portare",
    planned: "Previsto",
    spent: "Speso",
    left: "Resta",
};
