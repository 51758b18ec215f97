//! Dates: what a finished file says of days, weeks and months, held against the calendar and against its own links.
//!
//! Nothing here knows how a planner was made. Dates are read off the texts of pages and their places; where a file says
//! too little to tell a date, nothing is said of it. What is reckoned is reckoned with `icu_calendar`.

mod book;
mod claims;
mod day;
mod events;
mod grid;
mod grid_days;
mod grids;
mod heading;
mod left_over;
mod lines;
mod lists;
mod phrase;
mod promised;
mod runs;
mod steps;
mod taps;
mod texts;
mod tokens;
mod weeks;
mod words;

pub use claims::check as check_claims;

use super::catalogue::Findings;
use base::model::Rect;
use base::model::facts::{Inspected, PageFacts, PdfFacts};
use base::model::pdf_plan::Place;
use book::Book;
use std::collections::BTreeMap;

/// The lines of text on a page, with their places.
pub fn shown(page: &PageFacts) -> impl Iterator<Item = (Rect, String)> {
    lines::shown(page).into_iter().map(|line| (line.area, line.text))
}

/// Checks what a file says of dates; of a planned one, `places` are those of its pages.
pub fn check(file: &Inspected, facts: &PdfFacts, places: Option<&BTreeMap<Place, usize>>, findings: &mut Findings) {
    let Some(book) = Book::read(file, facts) else { return };
    if let Some(places) = places {
        promised::check(&book, places, findings);
    }
    texts::check(&book, findings);
    grids::check(&book, findings);
    lists::check(&book, findings);
    weeks::check(&book, findings);
    if book.span().is_none() {
        return;
    }
    taps::check(&book, findings);
    runs::check(&book, findings);
    steps::check(&book, findings);
    events::check(&book, findings);
    left_over::check(&book, findings);
}
