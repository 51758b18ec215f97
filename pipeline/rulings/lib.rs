//! The built-in page designs: one file a family, one table that lists them all.
//!
//! A ruling is a struct of parameters that serde reads, with a default for each, and a drawing. `TABLE` is all that
//! the manifest and the planner get of them: adding a ruling is adding a file and a line here.

mod chart;
mod dated;
mod day;
mod drawing;
mod grids;
mod habits;
mod kit;
mod lattices;
mod lined;
mod lists;
mod mind_map;
mod month;
mod mood_year;
mod notes;
mod params;
mod parts;
mod sheets;
mod staves;
mod storyboard;
#[cfg(test)]
mod tests;
mod week;
mod year;

use sheets::{Form, Listed, Monthly, Several, Ticked, Weekly, WeeklyTicked};

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
    entry::<Weekly<sheets::MealPlan>>("meal-plan", "a week of meals, with what to buy"),
    entry::<Ticked<sheets::Shopping>>("shopping", "shopping by aisle"),
    entry::<Ticked<sheets::Recipe>>("recipe", "a recipe: ingredients beside method"),
    entry::<Listed<sheets::BudgetMonth>>("budget-month", "a month's income and spending"),
    entry::<Listed<sheets::SavingsGoal>>("savings-goal", "saving for something, with a bar to fill in"),
    entry::<Listed<sheets::Bills>>("bills", "bills and subscriptions"),
    entry::<Listed<sheets::Ledger>>("ledger", "amounts in and out, with the balance"),
    entry::<Listed<sheets::Inventory>>("inventory", "what there is, where it is, what it is worth"),
    entry::<Form<sheets::ProjectBoard>>("project-board", "a project's tasks on cards in three columns"),
    entry::<Form<sheets::Timeline>>("timeline", "stations on a line, with dates"),
    entry::<Listed<sheets::MeetingNotes>>("meeting-notes", "a meeting: agenda, notes, next steps"),
    entry::<Form<sheets::Decision>>("decision", "a decision: for and against"),
    entry::<Several<sheets::Goals>>("goals", "goals of a quarter, each with its steps"),
    entry::<Monthly<sheets::YearGoals>>("year-goals", "a year's goals by month"),
    entry::<Listed<sheets::LessonPlan>>("lesson-plan", "a lesson: aims, course, homework"),
    entry::<WeeklyTicked<sheets::CleaningRota>>("cleaning-rota", "what is cleaned every day, week, month"),
    entry::<Ticked<sheets::PackingList>>("packing-list", "what to pack, by bag"),
    entry::<Form<sheets::TripDay>>("trip-day", "a day of a journey"),
    entry::<Listed<sheets::GiftList>>("gift-list", "gifts, from the idea to the wrapping"),
    entry::<Monthly<sheets::Birthdays>>("birthdays", "birthdays by month"),
    entry::<Form<sheets::Contacts>>("contacts", "addresses on cards"),
    entry::<Form<sheets::PasswordHints>>("password-hints", "hints at passwords, never the passwords"),
    entry::<Form<sheets::PlantCare>>("plant-care", "plants on cards: place, water, food"),
    entry::<Listed<sheets::ReadingLog>>("reading-log", "books, with stars to fill in"),
    entry::<Listed<sheets::FilmLog>>("film-log", "films, with stars to fill in"),
    entry::<Listed<sheets::TrainingLog>>("training-log", "exercises and sets, and how they felt"),
    entry::<Weekly<sheets::SleepAndWater>>("sleep-and-water", "a week of sleep and glasses of water"),
    entry::<Listed<sheets::SymptomLog>>("symptom-log", "symptoms, how strong, what helped"),
    entry::<mood_year::MoodYear>("mood-year", "a box to colour for each day of a year"),
    entry::<mind_map::MindMap>("mind-map", "a thought in the middle, branches around it"),
    entry::<drawing::Perspective>("perspective", "lines towards one vanishing point or two"),
    entry::<drawing::Calligraphy>("calligraphy", "guide lines for lettering, with a slant"),
    entry::<kit::Composed>("parts", "a page of your own, composed of parts"),
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
