//! Page labels, and the outline that a reader shows beside the pages.

use super::{PageId, Planner};
use crate::{Kind, Period};

/// An entry of the outline.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its period; what it is called follows from the language.
    pub period: Period,
    /// The page to which it leads.
    pub page: PageId,
    /// Whether it is shown open. Months are shown closed.
    pub open: bool,
    /// What stands below it.
    pub below: Vec<Entry>,
}

impl Planner {
    /// The label of a page: `2027-03-14`, `W11`, `2027-03`, `2027-Q1`, `2027`; of a set with a name
    /// `2027-03-14/gratitude`, of a companion `W11/2`. A week without a number has its first day.
    ///
    /// # Panics
    /// When there is no such page.
    pub fn label(&self, id: PageId) -> String {
        let place = &self.pages[id].place;
        let mut label = match place.period {
            Period::Week(week) => match week.number(&self.settings) {
                Some(number) => format!("W{:02}", number.number),
                None => week.first_day().to_string(),
            },
            // A year from August on: its first month alone would be the label of that month too.
            Period::Year(first) => {
                let last = self.span().nearest(place.period.days().1);
                if last.year() == first.year() {
                    first.year().to_string()
                } else {
                    format!("{}/{:02}", first.year(), last.year() % 100)
                }
            }
            period => period.to_string(),
        };
        if let Some(set) = &place.set {
            label.push_str(&format!("/{set}"));
        }
        if place.page > 1 {
            label.push_str(&format!("/{}", place.page));
        }
        label
    }

    /// The outline: years, their months, their weeks. Quarters and days are not in it, and of several sets of a kind
    /// only the first. Where a kind has no pages, what would stand below it moves up.
    pub fn outline(&self) -> Vec<Entry> {
        let mut top: Vec<Entry> = Vec::new();
        for kind in [Kind::Year, Kind::Month, Kind::Week] {
            let Some(set) = self.sets.iter().position(|set| set.kind == kind) else { continue };
            for page in self.by_set[set].values() {
                let period = self.pages[*page].place.period;
                let entry = Entry { period, page: *page, open: kind == Kind::Year, below: Vec::new() };
                self.attach(&mut top, entry);
            }
        }
        top
    }

    /// Puts an entry under the finest of those that are there and hold the day by which it is filed.
    fn attach(&self, entries: &mut Vec<Entry>, entry: Entry) {
        let date = entry.period.filed(self.span());
        let kind = entry.period.kind();
        match entries.iter_mut().find(|above| above.period.kind() < kind && above.period.contains(date)) {
            Some(above) => self.attach(&mut above.below, entry),
            None => entries.push(entry),
        }
    }
}
