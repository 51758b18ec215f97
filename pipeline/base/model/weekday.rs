//! Days of the week.

use crate::keys::Described;
use serde::{Deserialize, Serialize};

/// A weekday.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, Described, borsh::BorshSerialize)]
#[serde(rename_all = "kebab-case")]
#[keys(here)]
pub enum Weekday {
    /// The first day of the ISO 8601 week.
    #[default]
    Monday,
    /// Tuesday.
    Tuesday,
    /// Wednesday.
    Wednesday,
    /// Thursday.
    Thursday,
    /// Friday.
    Friday,
    /// Saturday.
    Saturday,
    /// Sunday.
    Sunday,
}

impl Weekday {
    /// The days of a week, given Monday first, turned so that the week begins on this day.
    pub fn turned<T>(self, mut days: [T; 7]) -> [T; 7] {
        days.rotate_left(self as usize);
        days
    }

    /// Seven labels that are given Monday first, turned so that the week begins on this day.
    pub fn first_of<T: Clone>(self, labels: &[T]) -> Vec<T> {
        let start = self as usize;
        (0..labels.len()).map(|i| labels[(start + i) % labels.len()].clone()).collect()
    }
}
