//! English.

use super::MotifWords;

/// The words.
pub static TABLE: MotifWords = MotifWords {
    appointment: "Appointment",
    hello: "Hello",
    today: "Today",
    for_and_against: "For and against",
    goal: "Goal",
    good_things: "Three good things",
    habits: "Habits",
    meals: "Meals",
    this_month: "This month",
    phone_call: "Phone call",
    shopping: "Shopping",
    to_do: "To do",
    who: "Who",
    number: "Number",
    about: "About",
    date: "Date",
    time: "Time",
    with: "With",
    place: "Where",
    bring: "Bring",
    planned: "Planned",
    spent: "Spent",
    left: "Left",
};
