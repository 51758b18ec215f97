//! Hebrew.

use super::MotifWords;

/// The words.
pub static TABLE: MotifWords = MotifWords {
    appointment: "פגישה",
    hello: "שלום",
    today: "היום",
    for_and_against: "בעד ונגד",
    goal: "מטרה",
    good_things: "שלושה דברים טובים",
    habits: "הרגלים",
    meals: "ארוחות",
    this_month: "החודש",
    phone_call: "שיחת טלפון",
    shopping: "קניות",
    to_do: "מטלות",
    who: "מי",
    number: "מספר",
    about: "בנושא",
    date: "תאריך",
    time: "שעה",
    with: "עם",
    place: "היכן",
    bring: "להביא",
    planned: "תכנון",
    spent: "הוצאה",
    left: "נותר",
};
