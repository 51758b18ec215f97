//! What is wrong with a value, in words, with the form that would be right.

use super::{DAY, Step, Way};
use crate::model::fault::suggest;
use serde::de::{Error, Expected, Unexpected};
use std::fmt;
use std::ops::Range;
use toml::de::DeValue;

/// What a key takes.
#[derive(Clone, Debug)]
pub enum Wanted {
    Text,
    YesOrNo,
    Whole,
    Number,
    Date,
    /// A table with keys of any name.
    Table,
    /// A table with these keys.
    Keys(&'static [&'static str]),
    /// One of these words.
    Words(&'static [&'static str]),
    /// A list, with what it holds.
    List(Option<Box<Wanted>>),
    /// As the type itself says it.
    Said(String),
}

/// What stands there.
pub enum Found {
    Text(String),
    YesOrNo(bool),
    Whole(String),
    Number(String),
    Date(String),
    List,
    Keys,
}

impl Found {
    /// What a value is.
    pub fn of(value: &DeValue) -> Found {
        match value {
            DeValue::String(text) => Found::Text(text.to_string()),
            DeValue::Boolean(yes) => Found::YesOrNo(*yes),
            DeValue::Integer(n) => Found::Whole(n.as_str().to_owned()),
            DeValue::Float(n) => Found::Number(n.as_str().to_owned()),
            DeValue::Datetime(date) => Found::Date(date.to_string()),
            DeValue::Array(_) => Found::List,
            DeValue::Table(_) => Found::Keys,
        }
    }

    /// As it stands in the manifest, where it is one word or number.
    fn plain(&self) -> Option<String> {
        match self {
            Found::Text(t) | Found::Whole(t) | Found::Number(t) | Found::Date(t) => Some(t.clone()),
            Found::YesOrNo(yes) => Some(yes.to_string()),
            Found::List | Found::Keys => None,
        }
    }
}

impl fmt::Display for Found {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Found::Text(text) if text.chars().count() <= 40 => write!(f, "\"{text}\""),
            Found::Text(_) => f.write_str("a long text"),
            Found::YesOrNo(yes) => write!(f, "{yes}"),
            Found::Whole(n) | Found::Number(n) => write!(f, "the number {n}"),
            Found::Date(_) => f.write_str("a date"),
            Found::List => f.write_str("a list in brackets"),
            Found::Keys => f.write_str("a table"),
        }
    }
}

impl fmt::Display for Wanted {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Wanted::Text => f.write_str("a text in quotes"),
            Wanted::YesOrNo => f.write_str("true or false"),
            Wanted::Whole => f.write_str("a whole number"),
            Wanted::Number => f.write_str("a number"),
            Wanted::Date => f.write_str("a date"),
            Wanted::Table => f.write_str("a table"),
            Wanted::Keys(_) => f.write_str("a table"),
            Wanted::Words(words) => write!(f, "{}", listed(words, '"')),
            Wanted::List(Some(item)) => match &**item {
                Wanted::Keys(_) | Wanted::Table => f.write_str("a list of tables"),
                Wanted::Text => f.write_str("a list of texts"),
                Wanted::Whole | Wanted::Number => f.write_str("a list of numbers"),
                _ => f.write_str("a list"),
            },
            Wanted::List(None) => f.write_str("a list"),
            Wanted::Said(said) => f.write_str(said),
        }
    }
}

/// Words in quotes of a kind, `or` before the last.
fn listed(words: &[&str], quote: char) -> String {
    let quoted: Vec<String> = words.iter().map(|w| format!("{quote}{w}{quote}")).collect();
    match quoted.as_slice() {
        [] => "a word".to_owned(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} or {last}", rest.join(", ")),
    }
}

/// What is wrong with a value, and where.
#[derive(Clone, Debug)]
pub struct Misfit {
    message: String,
    help: Option<String>,
    span: Option<Range<usize>>,
    /// What the type says that it takes, until the value is known.
    expected: Option<String>,
    answer: Option<Wanted>,
}

impl Misfit {
    fn new(message: impl Into<String>, help: Option<String>) -> Misfit {
        Misfit { message: message.into(), help, span: None, expected: None, answer: None }
    }

    /// What is wrong.
    pub fn message(&self) -> &str {
        &self.message
    }

    /// How to mend it.
    pub fn help(&self) -> Option<&str> {
        self.help.as_deref()
    }

    /// Where in the text, in bytes.
    pub fn span(&self) -> Option<Range<usize>> {
        self.span.clone()
    }

    pub(super) fn is_placed(&self) -> bool {
        self.span.is_some()
    }

    pub(super) fn expected(&self) -> Option<String> {
        self.expected.clone()
    }

    pub(super) fn answer(wanted: Wanted) -> Misfit {
        Misfit { answer: Some(wanted), ..Misfit::new("", None) }
    }

    pub(super) fn asked(self) -> Option<Wanted> {
        self.answer.or(self.expected.map(Wanted::Said))
    }

    /// The same at a place, unless it has one.
    pub(super) fn at(self, span: Range<usize>, way: Option<&Way>) -> Misfit {
        if self.span.is_some() || self.answer.is_some() {
            return self;
        }
        match &self.expected {
            Some(said) => {
                Misfit { message: format!("{} takes {said}", name(way)), span: Some(span), expected: None, ..self }
            }
            None => Misfit { span: Some(span), ..self },
        }
    }

    /// Another kind of value than the key takes.
    pub(super) fn kind(wanted: Wanted, found: &Found, way: Option<&Way>, span: Range<usize>) -> Misfit {
        let same = matches!((&wanted, found), (Wanted::Whole, Found::Whole(_)));
        let message = match (found, same) {
            (Found::Whole(n), true) => format!("{} cannot be {n}: it takes {wanted}", name(way)),
            _ => format!("{} takes {wanted}, and here stands {found}", name(way)),
        };
        let help = help(&wanted, found, way);
        Misfit { span: Some(span), ..Misfit::new(message, help) }
    }
}

/// A key as a message calls it.
fn name(way: Option<&Way>) -> String {
    match way.map(|w| w.step) {
        Some(Step::Key(key)) => format!("`{key}`"),
        Some(Step::Item) => match way.and_then(|w| w.before).map(|w| w.step) {
            Some(Step::Key(key)) => format!("each entry of `{key}`"),
            _ => "each entry".to_owned(),
        },
        None => "this".to_owned(),
    }
}

/// The heading under which the keys of a table stand, as far as lists leave one: `notebook.cover`.
fn heading(way: Option<&Way>) -> Option<String> {
    let mut keys = Vec::new();
    let mut at = way;
    while let Some(w) = at {
        let Step::Key(key) = w.step else { return None };
        keys.insert(0, key);
        at = w.before;
    }
    (!keys.is_empty()).then(|| keys.join("."))
}

fn help(wanted: &Wanted, found: &Found, way: Option<&Way>) -> Option<String> {
    let key = match way.map(|w| w.step) {
        Some(Step::Key(key)) => format!("{key} = "),
        _ => String::new(),
    };
    let plain = found.plain();
    Some(match (wanted, plain) {
        (Wanted::Text, Some(plain)) if key == "version = " => {
            let lacking = 3usize.saturating_sub(plain.split('.').count());
            format!("write three numbers in quotes: {key}\"{plain}{}\"", ".0".repeat(lacking))
        }
        (Wanted::Text, Some(plain)) => format!("write it in quotes: {key}\"{plain}\""),
        (Wanted::Text, None) => format!("write one text in quotes: {key}\"…\""),
        (Wanted::YesOrNo, plain) => match plain.map(|p| p.to_lowercase()).as_deref() {
            Some("yes" | "true" | "on" | "1") => format!("write it without quotes: {key}true"),
            Some("no" | "false" | "off" | "0") => format!("write it without quotes: {key}false"),
            _ => format!("write {key}true or {key}false"),
        },
        (Wanted::Whole | Wanted::Number, Some(plain)) if matches!(found, Found::Text(_)) && is_number(&plain) => {
            format!("write it without quotes: {key}{}", plain.trim())
        }
        (Wanted::Whole, Some(plain)) if plain.starts_with('-') => format!("write 0 or more: {key}3"),
        (Wanted::Whole, Some(plain)) if matches!(found, Found::Number(_)) => {
            format!("write it without a point: {key}{}", plain.split(['.', 'e', 'E']).next().unwrap_or("3"))
        }
        (Wanted::Whole, _) => format!("write a number without quotes: {key}3"),
        (Wanted::Number, _) => format!("write a number without quotes: {key}2.5"),
        (Wanted::Date, Some(plain)) if is_date(&plain) => format!("write it without quotes: {key}{}", plain.trim()),
        (Wanted::Date, _) => format!("write year, month and day without quotes: {key}2027-01-15"),
        (Wanted::Table, _) => match heading(way) {
            Some(heading) => format!("write [{heading}] and below it a line for each key, or {key}{{ … }}"),
            None => format!("write {key}{{ … }} with a key and a value"),
        },
        (Wanted::Keys(keys), _) => match (heading(way), found) {
            (Some(heading), Found::List) => {
                format!("write [{heading}] in single brackets: there is one; its keys are {}", keys.join(", "))
            }
            (Some(heading), _) => {
                format!("write [{heading}] and below it what is to be so; its keys are {}", keys.join(", "))
            }
            (None, _) => format!("write {key}{{ … }}; its keys are {}", keys.join(", ")),
        },
        (Wanted::Words(words), Some(plain)) => match suggest(&plain, words.iter().copied()) {
            near if near.starts_with("did") => near,
            _ => format!("write {key}\"{}\"", words.first().unwrap_or(&"…")),
        },
        (Wanted::Words(words), None) => format!("write {key}\"{}\"", words.first().unwrap_or(&"…")),
        (Wanted::List(Some(item)), plain) => match (&**item, heading(way), plain) {
            (Wanted::Keys(keys), Some(heading), _) => {
                format!("write [[{heading}]] in double brackets, once for each; its keys are {}", keys.join(", "))
            }
            (Wanted::Keys(keys), None, _) => {
                format!("write {key}[{{ … }}]; the keys of an entry are {}", keys.join(", "))
            }
            (Wanted::Text, _, Some(plain)) => format!("write it in brackets: {key}[\"{plain}\"]"),
            (Wanted::Text, ..) => format!("write {key}[\"…\", \"…\"]"),
            (Wanted::Said(said), ..) => format!("write {key}[…], with {said} in it"),
            _ => format!("write it in brackets: {key}[…]"),
        },
        (Wanted::List(None), _) => format!("write it in brackets: {key}[…]"),
        (Wanted::Said(_), _) => return None,
    })
}

fn is_number(text: &str) -> bool {
    text.trim().parse::<f64>().is_ok()
}

fn is_date(text: &str) -> bool {
    text.trim().parse::<toml::value::Datetime>().is_ok()
}

impl fmt::Display for Misfit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Misfit {}

impl Error for Misfit {
    /// Text of a type's own; a help may follow on a line of its own, or behind a semicolon as the calendar's types write it.
    fn custom<T: fmt::Display>(message: T) -> Misfit {
        let text = message.to_string();
        match text.split_once('\n').or_else(|| text.split_once("; ")) {
            Some((message, help)) => Misfit::new(message, Some(help.to_owned())),
            None => Misfit::new(text, None),
        }
    }

    fn invalid_type(_: Unexpected, expected: &dyn Expected) -> Misfit {
        Misfit { expected: Some(expected.to_string()), ..Misfit::new("", None) }
    }

    fn invalid_value(_: Unexpected, expected: &dyn Expected) -> Misfit {
        Misfit { expected: Some(expected.to_string()), ..Misfit::new("", None) }
    }

    fn invalid_length(_: usize, expected: &dyn Expected) -> Misfit {
        Misfit { expected: Some(expected.to_string()), ..Misfit::new("", None) }
    }

    fn unknown_variant(word: &str, words: &'static [&'static str]) -> Misfit {
        Misfit::new(format!("unknown value `{word}`"), Some(suggest(word, words.iter().copied())))
    }

    fn unknown_field(key: &str, keys: &'static [&'static str]) -> Misfit {
        // The library gives a date as a table, which whoever wrote it did not write.
        if key == DAY {
            let said = format!("a table with {}", listed(keys, '`'));
            return Misfit { expected: Some(said), ..Misfit::new("", None) };
        }
        Misfit::new(format!("unknown key `{key}`"), Some(suggest(key, keys.iter().copied())))
    }

    fn missing_field(key: &'static str) -> Misfit {
        Misfit::new(format!("`{key}` is missing"), None)
    }

    fn duplicate_field(key: &'static str) -> Misfit {
        Misfit::new(format!("`{key}` stands here twice"), None)
    }
}
