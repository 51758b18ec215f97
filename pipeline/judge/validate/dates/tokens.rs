//! A text taken apart into the pieces that dates are made of.

use super::words::Words;

/// Years that are taken for years.
const YEARS: std::ops::RangeInclusive<i32> = 1900..=2199;
/// A piece of a date.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Token {
    /// A weekday, 0 for Monday.
    Weekday(u8),
    /// A month, from 1.
    Month(u8),
    /// A number that a day can have.
    Number(u8),
    /// A year.
    Year(i32),
    /// The number of a week.
    Week(u8),
    /// "Week of", before the day with which it begins.
    WeekFrom,
    /// The number of a quarter.
    Quarter(u8),
    /// What stands between the ends of a range.
    Dash,
    /// What belongs to no date.
    Other,
}

/// Takes a text apart. With `early`, what follows a piece that belongs to no date is not looked at.
pub fn tokens(text: &str, words: &Words, early: bool) -> Vec<Token> {
    let chars: Vec<char> = text.chars().collect();
    let mut out = Vec::new();
    let (mut at, mut pending): (usize, Option<Pending>) = (0, None);
    let run = |from: usize, is: fn(&char) -> bool| from + chars[from..].iter().take_while(|c| is(c)).count();
    while at < chars.len() {
        let c = chars[at];
        let mut found = None;
        if c.is_ascii_digit() {
            let end = run(at, char::is_ascii_digit);
            if let Some((date, after)) = iso(&chars[at..]) {
                out.extend(date);
                at += after;
                pending = None;
                continue;
            }
            let digits: String = chars[at..end].iter().collect();
            // What stands close to a digit on both sides of a point or colon is a time, a share or a version.
            let bound = |i: usize| matches!(chars.get(i), Some(':' | '.' | '/' | '+' | '%' | '\u{20ac}' | '$'));
            let after =
                bound(end) && chars.get(end + 1).is_some_and(char::is_ascii_digit) || chars.get(end) == Some(&'%');
            let before =
                at > 0 && (bound(at - 1) && (at == 1 || chars[at - 2].is_ascii_digit()) || chars[at - 1] == '$');
            let letters = run(end, |c| c.is_alphabetic());
            let suffix: String = chars[end..letters].iter().collect::<String>().to_lowercase();
            let ordinal = words.ordinals.contains(&suffix.as_str());
            if let (4, Some((year, to))) = (digits.len(), school_year(&chars, at, end)) {
                out.extend(year);
                at = to;
                pending = None;
                continue;
            }
            found = Some(if after || before || (!suffix.is_empty() && !ordinal) {
                Token::Other
            } else {
                number(&digits, pending.take())
            });
            at = if ordinal { letters } else { end };
        } else if c.is_alphabetic() {
            let end = run(at, |c| c.is_alphabetic() || *c == '\u{2019}' || *c == '\'');
            let word: String = chars[at..end].iter().collect::<String>().to_lowercase();
            let digit = |i: usize| chars.get(i).is_some_and(char::is_ascii_digit);
            let close = digit(end);
            if let Some(n) = words.weekday_of(&word) {
                found = Some(Token::Weekday(n));
            } else if let Some(n) = words.month_of(&word) {
                found = Some(Token::Month(n));
            } else if words.week.contains(&word.as_str()) || close && words.week_letter.contains(&word.as_str()) {
                pending = Some(Pending::Week);
                at = end;
                continue;
            } else if words.quarter.contains(&word.as_str()) {
                pending = Some(Pending::Quarter);
                at = end;
                continue;
            } else if words.to.contains(&word.as_str()) {
                found = Some(Token::Dash);
            } else if words.fillers.contains(&word.as_str()) {
                if matches!(pending, Some(Pending::Week)) {
                    pending = None;
                    found = Some(Token::WeekFrom);
                }
            } else {
                found = Some(Token::Other);
            }
            at = end;
        } else {
            if matches!(c, '-' | '\u{2010}'..='\u{2015}' | '\u{2212}') {
                found = Some(Token::Dash);
            } else if !c.is_whitespace()
                && !matches!(c, ',' | '.' | ':' | '|' | '\u{b7}' | '\u{2022}' | '(' | ')' | '/')
            {
                found = Some(Token::Other);
            }
            at += 1;
        }
        if let Some(token) = found {
            // A word that announced a number, and none came.
            if pending.take().is_some() {
                out.push(Token::Other);
            }
            out.push(token);
        }
        if early && out.contains(&Token::Other) {
            return out;
        }
    }
    if pending.is_some() {
        out.push(Token::Other);
    }
    out
}

/// A word that announces a number.
#[derive(Clone, Copy, PartialEq)]
enum Pending {
    Week,
    Quarter,
}

fn number(digits: &str, pending: Option<Pending>) -> Token {
    let Ok(value) = digits.parse::<i32>() else { return Token::Other };
    let small = u8::try_from(value).unwrap_or(0);
    match (pending, digits.len()) {
        (Some(Pending::Week), 1 | 2) if (1..=54).contains(&small) => Token::Week(small),
        (Some(Pending::Quarter), 1) if (1..=4).contains(&small) => Token::Quarter(small),
        (None, 4) if YEARS.contains(&value) => Token::Year(value),
        (None, 1 | 2) if (1..=31).contains(&small) => Token::Number(small),
        _ => Token::Other,
    }
}

/// A date as ISO 8601 writes it: its pieces, and how many characters it takes.
fn iso(chars: &[char]) -> Option<([Token; 3], usize)> {
    let shape = [4, 2, 2];
    let mut at = 0;
    let mut values = [0_i32; 3];
    for (i, digits) in shape.into_iter().enumerate() {
        if i > 0 {
            (chars.get(at) == Some(&'-')).then_some(())?;
            at += 1;
        }
        let piece: String = chars.get(at..at + digits)?.iter().collect();
        piece.bytes().all(|b| b.is_ascii_digit()).then_some(())?;
        values[i] = piece.parse().ok()?;
        at += digits;
    }
    if chars.get(at).is_some_and(|c| c.is_alphanumeric() || *c == '-') {
        return None;
    }
    let [year, month, day] = values;
    let fits = YEARS.contains(&year) && (1..=12).contains(&month) && (1..=31).contains(&day);
    fits.then_some(([Token::Number(day as u8), Token::Month(month as u8), Token::Year(year)], at))
}

/// `2026/27` or `2026/2027`: its pieces, and where it ends.
fn school_year(chars: &[char], at: usize, end: usize) -> Option<([Token; 3], usize)> {
    matches!(chars.get(end), Some('/' | '\u{2013}' | '-')).then_some(())?;
    let stop = end + 1 + chars[end + 1..].iter().take_while(|c| c.is_ascii_digit()).count();
    let year: i32 = chars[at..end].iter().collect::<String>().parse().ok()?;
    let next: String = chars[end + 1..stop].iter().collect();
    let written = (year + 1).to_string();
    let fits = YEARS.contains(&year) && (next == written || next == written[2..]);
    let alone = chars.get(stop).is_none_or(|c| !c.is_alphanumeric() && *c != '-');
    (fits && alone).then(|| ([Token::Year(year), Token::Dash, Token::Year(year + 1)], stop))
}
