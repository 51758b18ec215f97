//! Content lines (RFC 5545, 3.1): folded lines joined, name, parameters and value taken apart, places kept.

/// A content line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Line {
    /// Where it begins, from 1.
    pub line: usize,
    /// The name, in capitals.
    pub name: String,
    /// The parameters: names in capitals, values without quotation marks.
    pub parameters: Vec<(String, String)>,
    /// The value, as it stands.
    pub value: String,
    /// The column at which the value begins, from 1; of a folded line, the column if it were not.
    pub value_column: usize,
}

/// A line that is none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Odd {
    pub line: usize,
    pub column: usize,
    pub what: String,
    pub help: String,
}

impl Line {
    /// The value of a parameter.
    pub fn parameter(&self, name: &str) -> Option<&str> {
        self.parameters.iter().find(|(each, _)| each == name).map(|(_, value)| value.as_str())
    }
}

/// All content lines of a text.
pub(super) fn lines(text: &str) -> impl Iterator<Item = Result<Line, Odd>> {
    let mut raw = text.split('\n').map(|line| line.strip_suffix('\r').unwrap_or(line)).enumerate().peekable();
    std::iter::from_fn(move || {
        loop {
            let (index, first) = raw.next()?;
            let mut whole = first.to_owned();
            while let Some((_, more)) = raw.next_if(|(_, line)| line.starts_with([' ', '\t'])) {
                whole.push_str(&more[1..]);
            }
            if !whole.trim().is_empty() {
                return Some(apart(&whole, index + 1));
            }
        }
    })
}

fn apart(text: &str, line: usize) -> Result<Line, Odd> {
    let odd = |at: usize, what: &str, help: &str| Odd {
        line,
        column: text[..at].chars().count() + 1,
        what: format!("{what} in `{}`", super::super::short(text)),
        help: help.to_owned(),
    };
    let end = text.find(|c: char| !c.is_ascii_alphanumeric() && c != '-').unwrap_or(text.len());
    if end == 0 || end == text.len() {
        let help = "a line is NAME:VALUE; a line that goes on must begin with a space";
        return Err(odd(end, if end == 0 { "no name" } else { "no value" }, help));
    }
    let name = text[..end].to_ascii_uppercase();
    let mut parameters = Vec::new();
    let mut at = end;
    while text[at..].starts_with(';') {
        at += 1;
        let Some(equals) = text[at..].find(['=', ':', ';']).filter(|found| text[at + found..].starts_with('=')) else {
            return Err(odd(at, "a parameter without a value", "a parameter is NAME=VALUE"));
        };
        let key = text[at..at + equals].to_ascii_uppercase();
        at += equals + 1;
        let start = at;
        let mut quoted = false;
        for (offset, character) in text[start..].char_indices() {
            match character {
                '"' => quoted = !quoted,
                ':' | ';' if !quoted => break,
                _ => {}
            }
            at = start + offset + character.len_utf8();
        }
        if quoted {
            return Err(odd(start, "a quotation mark that is not closed", "close it"));
        }
        parameters.push((key, text[start..at].replace('"', "")));
    }
    let Some(value) = text[at..].strip_prefix(':') else {
        return Err(odd(at, "no colon before the value", "a line is NAME:VALUE"));
    };
    let value_column = text[..=at].chars().count() + 1;
    Ok(Line { line, name, parameters, value: value.to_owned(), value_column })
}

/// A text value without its backslashes (RFC 5545, 3.3.11); line breaks become spaces.
pub(super) fn unescaped(value: &str) -> String {
    let mut text = String::with_capacity(value.len());
    let mut characters = value.chars();
    while let Some(character) = characters.next() {
        match (character, if character == '\\' { characters.next() } else { None }) {
            ('\\', Some('n' | 'N')) => text.push(' '),
            ('\\', Some(other)) => text.push(other),
            ('\\', None) => {}
            (other, _) => text.push(other),
        }
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
