//! Easter of the western and the orthodox churches.

use crate::days::plus_days;
use jiff::civil::Date;

/// Easter Sunday of the western churches, by the anonymous Gregorian computus (in print since 1876; Meeus,
/// "Astronomical Algorithms", chapter 8). None before 1583.
pub fn easter(year: i16) -> Option<Date> {
    if year < 1583 {
        return None;
    }
    let y = i32::from(year);
    let (a, b, c) = (y % 19, y / 100, y % 100);
    let (d, e) = (b / 4, b % 4);
    let f = (b + 8) / 25;
    let g = (b - f + 1) / 3;
    let h = (19 * a + b - d - g + 15) % 30;
    let (i, k) = (c / 4, c % 4);
    let l = (32 + 2 * e + 2 * i - h - k) % 7;
    let m = (a + 11 * h + 22 * l) / 451;
    date(year, h + l - 7 * m + 114)
}

/// Easter Sunday of the orthodox churches, as a Gregorian date, by Meeus' rule for the Julian calendar. None before 1583.
pub fn orthodox_easter(year: i16) -> Option<Date> {
    if year < 1583 {
        return None;
    }
    let y = i32::from(year);
    let (a, b, c) = (y % 4, y % 7, y % 19);
    let d = (19 * c + 15) % 30;
    let e = (2 * a + 4 * b - d + 34) % 7;
    // The Julian calendar has a leap day more in each century year that 400 does not divide: 13 days from 1900 on.
    let behind = y / 100 - y / 400 - 2;
    date(year, d + e + 114).map(|julian| plus_days(julian, behind))
}

/// The date that both rules end in: month and day before the last in one number.
fn date(year: i16, sum: i32) -> Option<Date> {
    Date::new(year, i8::try_from(sum / 31).ok()?, i8::try_from(sum % 31 + 1).ok()?).ok()
}
