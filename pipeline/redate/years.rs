//! Years in texts: where they stand, and the same text with other ones.

use std::ops::Range;

/// Every year in a text, as four digits that stand by themselves, with the place of its digits. `2026/27` is two.
pub fn years(text: &str) -> Vec<(i32, Range<usize>)> {
    let bytes = text.as_bytes();
    let digit = |i: usize| bytes.get(i).is_some_and(u8::is_ascii_digit);
    let mut out = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        if !digit(at) {
            at += 1;
            continue;
        }
        let end = (at..).find(|i| !digit(*i)).unwrap_or(bytes.len());
        // A point or comma between digits makes a number of it.
        let bound = |i: usize| matches!(bytes.get(i), Some(b'.' | b','));
        let decimal = bound(end) && digit(end + 1) || at > 1 && bound(at - 1) && digit(at - 2);
        if end - at == 4
            && !decimal
            && let Ok(year) = text[at..end].parse::<i32>()
        {
            out.push((year, at..end));
            // The second year of a school year, in two digits.
            let short = end + 1..end + 3;
            let parted = matches!(bytes.get(end), Some(b'/' | b'-'));
            let two =
                parted && digit(end + 1) && digit(end + 2) && !digit(end + 3) && bytes.get(end + 3) != Some(&b'-');
            if two && text[short.clone()].parse::<i32>().is_ok_and(|n| n == (year + 1) % 100) {
                out.push((year + 1, short));
            }
        }
        at = end;
    }
    out
}

/// The text with its years moved; `None` where nothing moves.
pub fn moved(text: &str, by: i32) -> Option<String> {
    let found = years(text);
    if found.is_empty() || by == 0 {
        return None;
    }
    let mut out = text.to_owned();
    for (year, at) in found.into_iter().rev() {
        let year = year + by;
        let written = if at.len() == 2 { format!("{:02}", year % 100) } else { format!("{year:04}") };
        out.replace_range(at, &written);
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn years_stand_by_themselves() {
        let found = |text: &str| years(text).into_iter().map(|(year, _)| year).collect::<Vec<_>>();
        assert_eq!(found("Choir 2027"), [2027]);
        assert_eq!(found("choir-2026-27, 2026/27 and 2026/2027"), [2026, 2027, 2026, 2027, 2026, 2027]);
        assert_eq!(found("20270 12027 2027.5 1,2027 a2027b 2027-03"), [2027, 2027]);
        assert_eq!(moved("Season 2026/27", 1).as_deref(), Some("Season 2027/28"));
        assert_eq!(moved("Season 1999/00", 1).as_deref(), Some("Season 2000/01"));
        assert_eq!(moved("Season", 1), None);
    }
}
