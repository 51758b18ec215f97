//! Page designs for dates: a year, a quarter, a month, a week, a day.
//!
//! All share one head ([`head`]): the date set large, arrows to the pages before and after and one step up. Below it
//! each has its own drawing. What is the same for every page of a set goes on the ground, what depends on the date on
//! the layer. A number that stands in a field to write in is tapped in its corner only, so that a pen that writes does
//! not turn the page.

mod blank;
mod cells;
mod day;
mod day_notes;
mod events;
mod head;
mod month;
mod month_list;
mod notes;
mod open_week;
mod quarter;
mod sheet;
mod small;
#[cfg(test)]
mod tests;
mod two_days;
mod wall_plan;
mod week;
mod week_hours;
mod week_rows;
mod year;

pub use day::DatedDay;
pub use day_notes::DayNotes;
pub use month::DatedMonth;
pub use month_list::MonthList;
pub use notes::DatedNotes;
pub use open_week::DatedOpenWeek;
pub use quarter::Quarter;
pub use two_days::TwoDays;
pub use wall_plan::WallPlan;
pub use week::DatedWeek;
pub use week_hours::WeekHours;
pub use week_rows::WeekRows;
pub use year::DatedYear;

use base::model::Drawing;
use draw::ruling::{DatedRuling, Ruling, RulingContext};

/// A dated ruling without its date: the ground of a page of its first kind.
fn undated<R: DatedRuling>(ruling: &R, context: &RulingContext) -> Drawing {
    R::KINDS.first().map(|kind| ruling.draw_dated(context, &blank::page(*kind)).ground).unwrap_or_default()
}
