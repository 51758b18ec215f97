//! Plans as a calendar file (RFC 5545): an event of a whole day for each step.

use super::{Plan, Standing};
use base::checksum::sha256_hex;
use base::model::product::Date;

/// The most octets of a line, its end not counted (RFC 5545, 3.1).
const LINE: usize = 75;

/// The calendar of some plans. A step keeps its identifier (RFC 5545, 3.8.4.7) when its day moves, so that a calendar which has it
/// moves it too; another version has steps of its own.
pub fn calendar(plans: &[Plan], today: Date) -> String {
    let mut out = String::new();
    let mut line = |name: &str, value: &str| fold(&mut out, &format!("{name}:{value}"));
    line("BEGIN", "VCALENDAR");
    line("VERSION", "2.0");
    line("PRODID", "-//Sheafwright//Launch plan//EN");
    line("CALSCALE", "GREGORIAN");
    let digits = |day: &str| day.replace('-', "");
    for plan in plans {
        for row in &plan.steps {
            let whose = [&plan.shop, &plan.product, &plan.version, &row.name].map(String::as_str).join("\n");
            let digest = sha256_hex(whose.as_bytes());
            let (title, summary) = (format!("{} {}", plan.name, plan.version), &row.title);
            let state = match row.standing {
                Standing::Done => "Done",
                Standing::Late(_) => "Late",
                Standing::Today | Standing::Ahead(_) => "To do",
            };
            let because = if row.because.is_empty() { String::new() } else { format!(": {}", row.because) };
            line("BEGIN", "VEVENT");
            line("UID", &format!("{}@sheafwright.invalid", &digest[..32]));
            line("DTSTAMP", &format!("{}T000000Z", digits(&today.to_string())));
            // A date alone is a whole day (RFC 5545, 3.6.1), which keeps nobody from other things.
            line("DTSTART;VALUE=DATE", &digits(&row.day));
            line("TRANSP", "TRANSPARENT");
            line("SUMMARY", &text(&format!("{title}: {summary}")));
            line("DESCRIPTION", &text(&format!("As of {today}: {}{because}.", state.to_lowercase())));
            line("END", "VEVENT");
        }
    }
    line("END", "VCALENDAR");
    out
}

/// A value of text (RFC 5545, 3.3.11).
fn text(value: &str) -> String {
    let mut out = String::new();
    for c in value.chars() {
        match c {
            '\\' | ';' | ',' => out.extend(['\\', c]),
            '\n' => out.push_str("\\n"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// Writes a line, folded at 75 octets and never within a character.
fn fold(out: &mut String, line: &str) {
    let mut room = LINE;
    for c in line.chars() {
        if c.len_utf8() > room {
            out.push_str("\r\n ");
            room = LINE - 1;
        }
        out.push(c);
        room -= c.len_utf8();
    }
    out.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_folded_between_characters() {
        for n in 60..90 {
            let mut out = String::new();
            let line = "a".repeat(n) + &"é🌿".repeat(40);
            fold(&mut out, &line);
            assert!(out.ends_with("\r\n") && out.split("\r\n").all(|line| line.len() <= LINE));
            assert_eq!(out.trim_end().replace("\r\n ", ""), line);
        }
    }
}
