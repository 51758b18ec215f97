//! The built-in page designs: one file a family, one table that lists them all.
//!
//! A ruling is a struct of parameters that serde reads, with a default for each, and a drawing. `TABLE` is all that
//! the manifest and the planner get of them: adding a ruling is adding a file and a line here.

mod chart;
mod dated;
mod day;
mod grids;
mod habits;
mod lattices;
mod lined;
mod lists;
mod month;
mod notes;
mod params;
mod parts;
mod staves;
mod storyboard;
#[cfg(test)]
mod tests;
mod week;
mod year;

use draw::ruling::{DatedTable, Ruling, RulingContext, Rulings, Table, dated as dated_entry, entry};

/// All rulings, with dates and without.
pub static ALL: Rulings = Rulings { plain: TABLE, dated: DATED };

/// Every ruling, by name.
pub static TABLE: Table = &[
    entry::<lined::Blank>("blank", "an empty page"),
    entry::<lined::Lined>("lined", "rules from edge to edge"),
    entry::<lined::MarginRuled>("margin-ruled", "rules with a margin line"),
    entry::<lined::Titled>("titled", "rules below a title and a date"),
    entry::<grids::SquareGrid>("square-grid", "squares"),
    entry::<grids::DotGrid>("dot-grid", "dots in rows and columns"),
    entry::<lattices::Isometric>("isometric", "triangles for drawing solids"),
    entry::<lattices::Hexagons>("hexagons", "a honeycomb"),
    entry::<chart::Chart>("chart", "rows and columns below a heading row"),
    entry::<lists::TwoColumnList>("two-column-list", "two columns of rules under headings"),
    entry::<lists::Checklist>("checklist", "rows with a box to tick"),
    entry::<notes::CueNotes>("cue-notes", "notes beside cue words, with a summary at the foot"),
    entry::<day::Day>("day", "a day by the hour, with things to do and notes"),
    entry::<week::Week>("week", "a week with named days and lines"),
    entry::<week::OpenWeek>("open-week", "a week in open boxes"),
    entry::<month::Month>("month", "a month grid without dates"),
    entry::<year::Year>("year", "twelve months at a glance"),
    entry::<habits::Habits>("habits", "habits in rows, days in columns"),
    entry::<staves::Staves>("staves", "music staves"),
    entry::<storyboard::Storyboard>("storyboard", "picture frames with lines below"),
];

/// Every dated ruling, by name. The first one of a kind is what pages of that kind take by default.
pub static DATED: DatedTable = &[
    dated_entry::<dated::DatedYear>("year", "a year of small months, each day linked"),
    dated_entry::<dated::WallPlan>("wall-plan", "months as columns, days as rows"),
    dated_entry::<dated::Quarter>("quarter", "three months to write in, with notes"),
    dated_entry::<dated::DatedMonth>("month", "a month grid with notes"),
    dated_entry::<dated::MonthList>("month-list", "a row for each day of a month"),
    dated_entry::<dated::DatedWeek>("week", "a week in columns, with notes"),
    dated_entry::<dated::WeekRows>("week-rows", "a week in rows, with notes"),
    dated_entry::<dated::WeekHours>("week-hours", "a week by the hour"),
    dated_entry::<dated::DatedOpenWeek>("open-week", "a week in boxes"),
    dated_entry::<dated::DatedDay>("day", "a day by the hour, with priorities and notes"),
    dated_entry::<dated::DayNotes>("day-notes", "a day with a checklist and notes"),
    dated_entry::<dated::TwoDays>("two-days", "two days on a page, each with a checklist and notes"),
    dated_entry::<dated::DatedNotes>("notes", "an open page under its date"),
];
