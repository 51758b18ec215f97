//! Checks of the dates of planners.

use super::row;
use base::model::Check;
use base::model::finding::Family::Dates;
use base::model::finding::Severity::*;

pub(super) const ROWS: &[Check] = &[
    row(
        "date-weekday-wrong",
        (Error, Error),
        Dates,
        "A weekday beside a date that falls on another one, or a date that no calendar has.",
        "The buyer comes on the wrong day, and stops trusting every other page.",
        "Correct the weekday or the date; a drawing of your own takes both from the page's date.",
    ),
    row(
        "date-grid-wrong",
        (Error, Error),
        Dates,
        "A number under the wrong weekday in the grid of a month, one that is missing, or one that is there twice.",
        "Everything that is written into the grid stands on the wrong day.",
        "Draw the grid from the month's data in place of copying another month.",
    ),
    row(
        "date-heading-off-plan",
        (Error, Error),
        Dates,
        "A page that was planned for a date and does not say it, or is headed by another one.",
        "The buyer does not know which day it is.",
        "Let the drawing say its date; a drawing of your own has it at hand.",
    ),
    row(
        "date-link-astray",
        (Error, Error),
        Dates,
        "A number or a date whose tap leads to a page that is headed by another date.",
        "The buyer writes on the wrong day without noticing.",
        "Lead the link to the page of its own date.",
    ),
    row(
        "date-missing",
        (Error, Warning),
        Dates,
        "A day, week or month between the first and the last that has no page, where the others have one.",
        "The buyer comes to a day that cannot be planned.",
        "Add the page.",
    ),
    row(
        "date-twice",
        (Error, Warning),
        Dates,
        "A day, week or month that heads more pages than others of its kind.",
        "Notes of one day end up on two pages; most often the heading of a copied page was left.",
        "Correct the heading, or take the page out.",
    ),
    row(
        "date-steps-broken",
        (Error, Warning),
        Dates,
        "A step to the previous or next page that skips a day, week or month, or leads elsewhere.",
        "Who goes through the planner page by page ends up somewhere else, or never comes to a page.",
        "Lead previous and next to the pages before and after of the same kind.",
    ),
    row(
        "week-number-wrong",
        (Error, Warning),
        Dates,
        "A number of a week that is not the one of its days, by the way of counting of the other numbers.",
        "Offices and schools make appointments by the number of the week.",
        "Correct the number.",
    ),
    row(
        "week-scheme-mixed",
        (Error, Warning),
        Dates,
        "Numbers of weeks that are counted in two ways in one file.",
        "The same week has two numbers.",
        "Count all weeks one way: ISO 8601, or from the week with 1 January.",
    ),
    row(
        "year-left-over",
        (Warning, Note),
        Dates,
        "A year outside of the planner's months in a text or in the file's name.",
        "It looks like last year's planner.",
        "Write the year of this edition, or take it out.",
    ),
    row(
        "event-cut",
        (Warning, Warning),
        Dates,
        "A name in the cell of a day that is cut short.",
        "The buyer cannot tell what happens on the day.",
        "Give the event a shorter name, or choose a drawing with larger cells.",
    ),
    row(
        "event-crowd",
        (Warning, Warning),
        Dates,
        "A count of further events in the cell of a day, such as +2, that does not lead to the day.",
        "The buyer cannot come to what is not shown.",
        "Lead the count to the page of the day, or show fewer lists there.",
    ),
    row(
        "date-name-cut",
        (Warning, Warning),
        Dates,
        "The name of a month or weekday that is cut short with an ellipsis.",
        "It looks broken, and months such as June and July are mixed up.",
        "Set it smaller, or use the short form of the language.",
    ),
];
