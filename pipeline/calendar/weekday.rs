//! The days of the week.

use jiff::civil::{self, Date};

crate::words::words! {
    /// A day of the week, written in lower case: `monday`.
    Weekday, "day of the week" {
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
    }
}

impl Weekday {
    /// The weekday of a date.
    pub fn of(date: Date) -> Weekday {
        date.weekday().into()
    }

    /// Days from Monday, 0 to 6.
    pub fn from_monday(self) -> i8 {
        civil::Weekday::from(self).to_monday_zero_offset()
    }

    /// Days from another weekday on to this one, 0 to 6.
    pub fn since(self, first: Weekday) -> i8 {
        (self.from_monday() - first.from_monday()).rem_euclid(7)
    }

    /// The seven days of a week that begins with this one.
    pub fn week(self) -> [Weekday; 7] {
        std::array::from_fn(|index| Weekday::ALL[(self as usize + index) % 7])
    }
}

impl From<civil::Weekday> for Weekday {
    fn from(day: civil::Weekday) -> Weekday {
        Weekday::ALL[day.to_monday_zero_offset() as usize]
    }
}

impl From<Weekday> for civil::Weekday {
    fn from(day: Weekday) -> civil::Weekday {
        match day {
            Weekday::Monday => civil::Weekday::Monday,
            Weekday::Tuesday => civil::Weekday::Tuesday,
            Weekday::Wednesday => civil::Weekday::Wednesday,
            Weekday::Thursday => civil::Weekday::Thursday,
            Weekday::Friday => civil::Weekday::Friday,
            Weekday::Saturday => civil::Weekday::Saturday,
            Weekday::Sunday => civil::Weekday::Sunday,
        }
    }
}
