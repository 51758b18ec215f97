//! Breaks of the syntax in plain words: what a hand that is no programmer's writes, and how it is written instead.
//!
//! One slip makes the library stumble over all that follows, so a line is blamed once, and nothing is said of what stands
//! behind a list or table that is left open.

use std::ops::Range;
use toml::de::Error;

/// A fault of the text.
pub struct Slip {
    pub span: Range<usize>,
    pub message: String,
    pub help: Option<String>,
}

/// What is wrong with a text, from what the library says of it.
pub fn told(text: &str, errors: &[Error]) -> Vec<Slip> {
    let mut out: Vec<Slip> = Vec::new();
    let mut lines: Vec<usize> = Vec::new();
    let open = errors.iter().find_map(|e| match e.message() {
        said if said.starts_with("unclosed array") => Some(('[', ']', "list")),
        said if said.starts_with("unclosed inline table") => Some(('{', '}', "table")),
        _ => None,
    });
    let opened = open.and_then(|(open, close, what)| Some((left_open(text, open, close)?, close, what)));
    for e in errors {
        let span = e.span().unwrap_or(0..0);
        if opened.as_ref().is_some_and(|(at, ..)| span.start >= *at) {
            continue;
        }
        let line = text[..span.start.min(text.len())].matches('\n').count();
        if lines.contains(&line) {
            continue;
        }
        lines.push(line);
        out.push(slip(text, span, e.message()));
    }
    if let Some((at, close, what)) = opened {
        out.push(Slip {
            span: at..at + 1,
            message: format!("the {what} that begins here has no end"),
            help: Some(format!("close it with {close}")),
        });
    }
    out
}

/// Where a bracket stands that nothing closes: the last one that begins a value on the outermost level.
fn left_open(text: &str, open: char, close: char) -> Option<usize> {
    let mut starts: Vec<usize> = Vec::new();
    let (mut quote, mut before) = (None, ' ');
    let mut in_comment = false;
    for (at, c) in text.char_indices() {
        match (quote, c) {
            (_, '\n') => (quote, in_comment) = (None, false),
            _ if in_comment => {}
            (Some(q), c) if c == q && before != '\\' => quote = None,
            (Some(_), _) => {}
            (None, '"' | '\'') => quote = Some(c),
            (None, '#') => in_comment = true,
            (None, c) if c == open => {
                // A heading opens no list.
                let line = text[..at].rfind('\n').map_or(0, |i| i + 1);
                if open != '[' || !starts.is_empty() || text[line..at].contains('=') {
                    starts.push(at);
                }
            }
            (None, c) if c == close => {
                starts.pop();
            }
            _ => {}
        }
        before = c;
    }
    starts.first().copied()
}

fn slip(text: &str, span: Range<usize>, said: &str) -> Slip {
    let start = span.start.min(text.len());
    let from = text[..start].rfind('\n').map_or(0, |i| i + 1);
    let to = text[start..].find('\n').map_or(text.len(), |i| start + i);
    let line = text[from..to].trim();
    let (key, value) = line.split_once('=').map_or((line, ""), |(k, v)| (k.trim(), v.trim()));
    let at =
        |span: Range<usize>, message: &str, help: String| Slip { span, message: message.to_owned(), help: Some(help) };
    const CURLY: [char; 10] = ['“', '”', '„', '‘', '’', '‚', '«', '»', '‹', '›'];
    if let Some(at_curly) = value.starts_with(CURLY).then(|| text[from..].find(CURLY)).flatten() {
        let bare = value.trim_matches(CURLY);
        let begin = from + at_curly;
        return at(
            begin..begin + text[begin..].chars().next().map_or(1, char::len_utf8),
            "typographic quotes do not hold a text",
            format!("write straight ones: {key} = \"{bare}\""),
        );
    }
    if line.starts_with("//") || line.starts_with("/*") || line.starts_with("--") || line.starts_with(';') {
        return at(span, "this is no line of a manifest", "a comment begins with #".to_owned());
    }
    if line.starts_with('[') && !line.contains('=') {
        let bare = line.split('#').next().unwrap_or(line).trim().trim_matches(['[', ']']).trim();
        let help = if line.starts_with("[[") { format!("[[{bare}]]") } else { format!("[{bare}]") };
        if said.contains("duplicate key") {
            let message = format!("there is a second table `{bare}`");
            return at(span, &message, "write its keys below the first, and take this heading out".to_owned());
        }
        return at(span, "the brackets of this heading do not match", format!("write {help}"));
    }
    if said.contains("duplicate key") {
        let message = format!("`{key}` stands here a second time");
        return at(span, &message, "take one of the two out".to_owned());
    }
    if !line.contains('=') || (line.contains(':') && line.find(':') < line.find('=')) {
        let (key, value) = line.split_once(':').map_or((line, "…"), |(k, v)| (k.trim(), v.trim()));
        let (key, value) = if key.contains(char::is_whitespace) {
            key.split_once(char::is_whitespace).map_or((key, value), |(k, v)| (k, v.trim()))
        } else {
            (key, value)
        };
        return at(span, "between a key and its value stands =", format!("write {key} = {value}"));
    }
    if let Some(rest) = value.strip_prefix('=') {
        return at(span, "one = is enough", format!("write {key} = {}", rest.trim_start_matches('=').trim()));
    }
    if said.starts_with("missing escaped value") || said.contains("escape") {
        let right = value.replace('\\', "/");
        return at(
            span,
            "a backslash does not stand in a text by itself",
            format!("write folders with a slash: {key} = {right}"),
        );
    }
    let first = value.split(['#']).next().unwrap_or(value).trim();
    match first.to_lowercase().trim_end_matches(',') {
        word @ ("true" | "false") => {
            return at(span, "true and false are written small", format!("write {key} = {word}"));
        }
        "yes" | "on" => return at(span, "a switch is true or false", format!("write {key} = true")),
        "no" | "off" => return at(span, "a switch is true or false", format!("write {key} = false")),
        _ => {}
    }
    if value.starts_with('"') && value.matches('"').count() == 1
        || value.starts_with('\'') && value.matches('\'').count() == 1
    {
        let quote = &value[..1];
        return at(span, "the text has no end", format!("close it on the same line: {key} = {value}{quote}"));
    }
    let digits = |c: char| c.is_ascii_digit();
    if value.starts_with(digits) {
        let parts: Vec<&str> = first.split(['.', '-', '/']).collect();
        if parts.len() == 3 && parts.iter().all(|p| !p.is_empty() && p.chars().all(digits)) {
            if key == "version" {
                return at(span, "a version is a text in quotes", format!("write version = \"{first}\""));
            }
            let help = "write year, month and day: 2027-01-15".to_owned();
            return at(span, "this is no date", help);
        }
        if let Some((whole, part)) = first.split_once(',')
            && whole.chars().all(digits)
            && !part.is_empty()
            && part.chars().all(digits)
        {
            return at(span, "a number has a point and no comma", format!("write {key} = {whole}.{part}"));
        }
        if said.contains("leading zero") {
            return at(
                span,
                "a number does not begin with 0",
                format!("write {key} = {}", first.trim_start_matches('0')),
            );
        }
        if first.chars().any(char::is_alphabetic) {
            return at(span, "a number with a unit stands in quotes", format!("write {key} = \"{first}\""));
        }
    }
    if value.is_empty() {
        return at(span, "there is no value", format!("write {key} = \"…\""));
    }
    if said.contains("must be quoted") {
        if value.starts_with('#') {
            let bare = value.split_whitespace().next().unwrap_or(value);
            return at(span, "what follows # is a comment", format!("write a colour in quotes: {key} = \"{bare}\""));
        }
        if value.starts_with('[') {
            return at(span, "a text of a list stands in quotes", format!("write {key} = [\"…\", \"…\"]"));
        }
        return at(span, "a text stands in quotes", format!("write {key} = \"{first}\""));
    }
    if said.contains("missing comma") {
        return at(span, "between two entries of a list stands a comma", "write [\"…\", \"…\"]".to_owned());
    }
    if said.contains("unexpected key or value") {
        return at(
            span,
            "here the value has ended, and something follows",
            "write every key on a line of its own; a comment begins with #".to_owned(),
        );
    }
    let said = said.split(", expected").next().unwrap_or(said);
    Slip { span, message: format!("this cannot be read: {said}"), help: None }
}
