//! The days of a month in rows of seven.

use crate::week::Week;
use crate::{Month, Settings};
use jiff::civil::Date;

/// The grid of a month: 4 to 6 rows, each a week.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MonthGrid {
    /// The month.
    pub month: Month,
    /// Its rows; a row is a week that touches the month, or a further one when six were asked for.
    pub rows: Vec<Row>,
}

/// A week of a month's grid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The week.
    pub week: Week,
    /// Its seven days, in the order of the week.
    pub cells: [Cell; 7],
}

/// A day of a month's grid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cell {
    /// The day.
    pub date: Date,
    /// Whether it lies in the month of the grid.
    pub inside: bool,
    /// Whether it lies in the span; a day outside of it has no page and leads nowhere.
    pub in_span: bool,
    /// Whether it is a day of the weekend.
    pub weekend: bool,
}

impl MonthGrid {
    /// The grid of a month with as many rows as it needs: 4, 5 or 6.
    pub fn fit(month: Month, settings: &Settings) -> MonthGrid {
        MonthGrid::with_rows(month, settings, 1)
    }

    /// The grid of a month with six rows, so that all months are alike.
    pub fn six(month: Month, settings: &Settings) -> MonthGrid {
        MonthGrid::with_rows(month, settings, 6)
    }

    fn with_rows(month: Month, settings: &Settings, least: usize) -> MonthGrid {
        let first = Week::of(month.first_day(), settings.first_day);
        let rows = std::iter::successors(Some(first), |week| Some(week.next()))
            .enumerate()
            .take_while(|(index, week)| *index < least || week.first_day() <= month.last_day())
            .map(|(_, week)| Row { week, cells: week.days().map(|date| Cell::of(date, month, settings)) })
            .collect();
        MonthGrid { month, rows }
    }
}

impl Cell {
    fn of(date: Date, month: Month, settings: &Settings) -> Cell {
        Cell {
            date,
            inside: Month::of(date) == month,
            in_span: settings.span.contains(date),
            weekend: settings.is_weekend(date),
        }
    }
}
