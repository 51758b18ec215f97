//! What listing pictures say.

pub mod arabic;
pub mod dutch;
pub mod english;
pub mod french;
pub mod german;
pub mod hebrew;
pub mod italian;
pub mod japanese;
pub mod polish;
pub mod portuguese;
pub mod portuguese_portugal;
pub mod spanish;
pub mod swedish;

crate::sentences::sentences! {
    /// Titles, counts and captions of listing pictures.
    ///
    /// `pages` to `years` are the words beside a number that is set by itself; `every` takes a row of `every_month` and so on, and
    /// a row of `several_months` and so on stands alone where not every day has a page.
    Pictures {
        inside, frame, every, every_month, every_week, every_day, every_quarter, every_year, several_months,
        several_weeks, several_days, several_quarters, several_years, tabs_months, go_together,
    }
    counts {
        book, planner, tabs, more, set_of, variants, colourways, sizes, languages, pages, links, sections, templates,
        covers, stickers, days, weeks, months, quarters, years,
    }
}
