//! Who made a document, with what, and when: as the document information tells it.

use super::strings;
use base::model::facts::Making;
use hayro_syntax::metadata::Metadata;

/// Days of the months before each month of a year that is no leap year.
const BEFORE: [i64; 12] = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];

/// What the document information says.
pub fn of_info(info: &Metadata) -> Making {
    let text = |bytes: &Option<Box<[u8]>>| {
        let text = bytes.as_deref().map(strings::decode).map(|t| t.trim().to_owned());
        text.filter(|t| !t.is_empty())
    };
    let time = |t: &hayro_syntax::object::DateTime| {
        let hours = i64::from(t.utc_offset_hour);
        let minutes = i64::from(t.utc_offset_minute) * if hours < 0 { -1 } else { 1 };
        let clock = [i64::from(t.hour), i64::from(t.minute), i64::from(t.second)];
        seconds([i64::from(t.year), i64::from(t.month), i64::from(t.day)], clock, hours * 60 + minutes)
    };
    Making {
        author: text(&info.author),
        creator: text(&info.creator),
        producer: text(&info.producer),
        created: info.creation_date.as_ref().and_then(time),
        changed: info.modification_date.as_ref().and_then(time),
    }
}

/// Seconds since the beginning of 1970 in UTC, of a time that is `offset` minutes ahead of it.
pub fn seconds([year, month, day]: [i64; 3], [hour, minute, second]: [i64; 3], offset: i64) -> Option<i64> {
    let before = *BEFORE.get(usize::try_from(month - 1).ok()?)?;
    if !(1..=9999).contains(&year) || !(1..=31).contains(&day) {
        return None;
    }
    let leaps = |year: i64| year / 4 - year / 100 + year / 400;
    let is_leap = leaps(year) > leaps(year - 1);
    let days = (year - 1970) * 365 + leaps(year - 1) - leaps(1969) + before + i64::from(is_leap && month > 2) + day - 1;
    Some(((days * 24 + hour) * 60 + minute - offset) * 60 + second)
}

#[cfg(test)]
mod tests {
    use super::seconds;

    #[test]
    fn days_are_counted_through_leap_years() {
        // As Python's datetime reckons them.
        assert_eq!(seconds([1970, 1, 1], [0, 0, 0], 0), Some(0));
        assert_eq!(seconds([2000, 3, 1], [0, 0, 0], 0), Some(951_868_800));
        assert_eq!(seconds([2027, 1, 15], [10, 20, 30], 60), Some(1_800_004_830));
        assert_eq!(seconds([1900, 2, 28], [23, 59, 59], 0), Some(-2_203_891_201));
        assert_eq!(seconds([2027, 13, 1], [0, 0, 0], 0), None);
    }
}
