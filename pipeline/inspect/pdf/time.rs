//! Times as a PDF states them: in the document information (ISO 32000-1, 7.9.4) and in XMP (ISO 16684-1, 8.2.1.2).

use hayro_syntax::object::DateTime;

/// Days of the months before each month of a year that is no leap year.
const BEFORE: [i64; 12] = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];

/// A time as it is written.
struct Time {
    /// Year, month, day.
    date: [i64; 3],
    /// Hour, minute, second.
    clock: [i64; 3],
    /// Minutes that its zone is ahead of UTC.
    ahead: i64,
}

/// A time of the document information, in seconds since the beginning of 1970 in UTC; `None` if there is no such day.
pub fn of_info(time: &DateTime) -> Option<i64> {
    let hours = i64::from(time.utc_offset_hour);
    let minutes = i64::from(time.utc_offset_minute) * if hours < 0 { -1 } else { 1 };
    let date = [i64::from(time.year), i64::from(time.month), i64::from(time.day)];
    let clock = [i64::from(time.hour), i64::from(time.minute), i64::from(time.second)];
    Time { date, clock, ahead: hours * 60 + minutes }.seconds()
}

/// A time of XMP, likewise: `2027-01-15T10:20:30+01:00`. Fractions of a second are dropped, a time without a zone counts
/// as UTC.
pub fn of_xmp(text: &str) -> Option<i64> {
    let (day, clock) = text.split_once('T')?;
    let numbers = |text: &str, mark: char| -> Option<Vec<i64>> {
        text.split(mark).map(|n| n.parse::<i32>().ok().map(i64::from)).collect()
    };
    let zone = clock.find(['Z', '+', '-']).unwrap_or(clock.len());
    let (clock, zone) = clock.split_at(zone);
    let clock = clock.split('.').next()?;
    let ahead = match zone.trim_start_matches(['Z', '+', '-']) {
        "" => 0,
        ahead => match numbers(ahead, ':')?.as_slice() {
            [hours, minutes] => (hours * 60 + minutes) * if zone.starts_with('-') { -1 } else { 1 },
            _ => 0,
        },
    };
    let date = numbers(day, '-')?.try_into().ok()?;
    let mut clock = numbers(clock, ':')?;
    if clock.len() == 2 {
        clock.push(0);
    }
    Time { date, clock: clock.try_into().ok()?, ahead }.seconds()
}

impl Time {
    /// Seconds since the beginning of 1970 in UTC.
    fn seconds(self) -> Option<i64> {
        let ([year, month, day], [hour, minute, second]) = (self.date, self.clock);
        let before = *BEFORE.get(usize::try_from(month - 1).ok()?)?;
        if !(1..=9999).contains(&year) || !(1..=31).contains(&day) {
            return None;
        }
        let fits = (0..=24).contains(&hour) && (0..60).contains(&minute) && (0..=60).contains(&second);
        if !fits || self.ahead.abs() > 24 * 60 {
            return None;
        }
        let leaps = |year: i64| year / 4 - year / 100 + year / 400;
        let is_leap = leaps(year) > leaps(year - 1);
        let days =
            (year - 1970) * 365 + leaps(year - 1) - leaps(1969) + before + i64::from(is_leap && month > 2) + day - 1;
        Some(((days * 24 + hour) * 60 + minute - self.ahead) * 60 + second)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seconds(date: [i64; 3], clock: [i64; 3], ahead: i64) -> Option<i64> {
        Time { date, clock, ahead }.seconds()
    }

    #[test]
    fn days_are_counted_through_leap_years() {
        // As Python's datetime reckons them.
        assert_eq!(seconds([1970, 1, 1], [0, 0, 0], 0), Some(0));
        assert_eq!(seconds([2000, 3, 1], [0, 0, 0], 0), Some(951_868_800));
        assert_eq!(seconds([2027, 1, 15], [10, 20, 30], 60), Some(1_800_004_830));
        assert_eq!(seconds([1900, 2, 28], [23, 59, 59], 0), Some(-2_203_891_201));
        assert_eq!(seconds([2027, 13, 1], [0, 0, 0], 0), None);
    }

    #[test]
    fn times_are_read_with_and_without_a_zone() {
        assert_eq!(of_xmp("1970-01-01T00:00:10.25Z"), Some(10));
        assert_eq!(of_xmp("1970-01-01T00:01"), Some(60));
        assert_eq!(of_xmp("1969-12-31T19:00:00-05:00"), Some(0));
        assert_eq!(of_xmp("2027-01-15"), None);
    }

    #[test]
    fn both_ways_of_writing_a_time_mean_the_same() {
        for (hour, minute, zone) in [(1, 0, "+01:00"), (-5, 30, "-05:30"), (0, 0, "Z"), (12, 45, "+12:45")] {
            let info = DateTime {
                year: 2028,
                month: 2,
                day: 29,
                hour: 10,
                minute: 20,
                second: 30,
                utc_offset_hour: hour,
                utc_offset_minute: minute,
            };
            let xmp = of_xmp(&format!("2028-02-29T10:20:30{zone}"));
            assert!(xmp.is_some() && of_info(&info) == xmp, "{zone}");
        }
    }

    #[test]
    fn no_number_is_too_large_to_be_refused() {
        let most = i64::MAX;
        assert_eq!(of_xmp(&format!("2027-01-15T{most}:00:00Z")), None);
        assert_eq!(of_xmp(&format!("2027-01-15T00:{most}:00Z")), None);
        assert_eq!(of_xmp(&format!("{most}-01-15T00:00:00Z")), None);
        assert_eq!(of_xmp(&format!("2027-{}-15T00:00:00Z", i64::MIN)), None);
        assert_eq!(of_xmp(&format!("2027-01-15T00:00:00+{most}:00")), None);
    }
}
