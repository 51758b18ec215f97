//! What one page of a set of days is for: a day of the week, or two that follow each other.

use crate::Weekday;

crate::words::words! {
    /// A day of the week, or two that share a page: `monday`, `monday+tuesday`.
    DayPage, "day of the week, or two" {
        /// Monday.
        Monday = "monday",
        /// Tuesday.
        Tuesday = "tuesday",
        /// Wednesday.
        Wednesday = "wednesday",
        /// Thursday.
        Thursday = "thursday",
        /// Friday.
        Friday = "friday",
        /// Saturday.
        Saturday = "saturday",
        /// Sunday.
        Sunday = "sunday",
        /// Monday and Tuesday on one page.
        MondayTuesday = "monday+tuesday",
        /// Tuesday and Wednesday on one page.
        TuesdayWednesday = "tuesday+wednesday",
        /// Wednesday and Thursday on one page.
        WednesdayThursday = "wednesday+thursday",
        /// Thursday and Friday on one page.
        ThursdayFriday = "thursday+friday",
        /// Friday and Saturday on one page.
        FridaySaturday = "friday+saturday",
        /// Saturday and Sunday on one page.
        SaturdaySunday = "saturday+sunday",
        /// Sunday and Monday on one page.
        SundayMonday = "sunday+monday",
    }
}

impl DayPage {
    /// The page of a day alone, or of a day and the one after it.
    pub fn of(day: Weekday, with_next: bool) -> DayPage {
        DayPage::ALL[day as usize + if with_next { 7 } else { 0 }]
    }

    /// Its first day.
    pub fn first(self) -> Weekday {
        Weekday::ALL[self as usize % 7]
    }

    /// Whether the day after that shares it.
    pub fn is_shared(self) -> bool {
        self as usize >= 7
    }

    /// Its days, one or two.
    pub fn days(self) -> impl Iterator<Item = Weekday> {
        let first = self as usize % 7;
        (first..=first + usize::from(self.is_shared())).map(|day| Weekday::ALL[day % 7])
    }
}
