//! French.

use super::MotifWords;

/// The words.
pub static TABLE: MotifWords = MotifWords {
    appointment: "Rendez-vous",
    hello: "Bonjour",
    today: "Aujourd’hui",
    for_and_against: "Pour et contre",
    goal: "Objectif",
    good_things: "Trois bonnes choses",
    habits: "Habitudes",
    meals: "Repas",
    this_month: "Ce mois-ci",
    phone_call: "Appel",
    shopping: "Courses",
    to_do: "À faire",
    who: "Qui",
    number: "Numéro",
    about: "Sujet",
    date: "Date",
    time: "Heure",
    with: "Avec",
    place: "Où",
    bring: "Apporter",
    planned: "Prévu",
    spent: "Dépensé",
    left: "Reste",
};
