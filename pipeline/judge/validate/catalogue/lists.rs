//! Checks of the lists of dates that a planner is made from.

use super::row;
use base::model::Check;
use base::model::finding::Family::Dates;
use base::model::finding::Severity::*;

pub(super) const ROWS: &[Check] = &[
    row(
        "dates-list-stale",
        (Warning, Warning),
        Dates,
        "A list of dates that ends long before the planner does, or begins long after it.",
        "Half of the year has no holidays, and looks as if there were none.",
        "Get the list for the planner's months.",
    ),
    row(
        "dates-list-outside",
        (Warning, Warning),
        Dates,
        "A date outside of the planner's months, or a rule that never happens in them.",
        "An event that was meant to be seen is on no page.",
        "Correct the year, write it as a yearly date (03-14), or take it out.",
    ),
    row(
        "leap-event-unsaid",
        (Warning, Warning),
        Dates,
        "A yearly event of 29 February that does not say what it does in common years.",
        "It is left out in those years, and nobody is told.",
        "Write leap = \"28 february\", \"1 march\" or \"skip\".",
    ),
    row(
        "event-zone-unsaid",
        (Warning, Warning),
        Dates,
        "A time in a list whose zone is not said, or not known.",
        "A rehearsal at eight may be printed at seven.",
        "Write zone = \"Europe/Lisbon\" (yours) to the list, or export it with its zone.",
    ),
    row(
        "rule-unread",
        (Warning, Warning),
        Dates,
        "A recurrence of a list that could not be followed to its end.",
        "Its later dates are missing from the planner.",
        "Write the dates that are missing as events of their own, or end the recurrence.",
    ),
];
