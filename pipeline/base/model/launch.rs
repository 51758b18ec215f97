//! The launch of a product: its day, and what has to be done by when.

use super::date::Date;

/// A launch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Launch {
    /// The day.
    pub on: Date,
    /// What has to be done, in the designer's order; the launch itself is none of it.
    pub steps: Vec<Step>,
}

/// A thing to be done before or after a launch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Its short name, as a manifest calls it: lower-case letters, digits, hyphens.
    pub name: String,
    /// What is to be done, in a line.
    pub title: String,
    /// How many days before the launch it is to be done; below 0 for days after it.
    pub days_before: i16,
    /// What shows that it is done; without it only the designer knows.
    pub shown_by: Option<Sign>,
    /// Whether it is for people who have an earlier version.
    pub for_past_buyers: bool,
}

/// What a bundle shows of itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// It is built, of the files as they are now.
    Built,
    /// It is built, without errors and warnings.
    Clean,
    /// It has listing pictures.
    Pictures,
    /// It is sealed: buyers have it.
    Issued,
}

/// The steps that a launch has unless a manifest says otherwise, with their days; an order of our own.
pub fn usual() -> Vec<Step> {
    let step = |name: &str, title: &str, days_before, shown_by| Step {
        name: name.to_owned(),
        title: title.to_owned(),
        days_before,
        shown_by,
        for_past_buyers: name == PAST_BUYERS,
    };
    vec![
        step("art", "Art done, and the product builds", 28, Some(Sign::Built)),
        step("checks", "Errors and warnings of the checks mended", 24, Some(Sign::Clean)),
        step("proof", "Proof looked over, page by page", 21, Some(Sign::Issued)),
        step("pictures", "Listing pictures made", 14, Some(Sign::Pictures)),
        step("tablet", "Test download opened and written in on a tablet", 10, Some(Sign::Issued)),
        step("upload", "Version sealed, files and listing uploaded", 3, Some(Sign::Issued)),
        step("announce", "Announced", 0, None),
        step(PAST_BUYERS, "Past buyers told what changed", 0, None),
    ]
}

/// The usual step that only a later version has.
const PAST_BUYERS: &str = "past-buyers";
