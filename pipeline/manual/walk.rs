//! All keys of the manifest, with the tables that they stand in.

use base::keys::{Doc, Key, Shape, Table, Word};

/// A key at its place.
#[derive(Clone, Debug)]
pub struct Place {
    /// The names that lead to it, with points: `style.fonts.heading`.
    pub path: String,
    /// How the table is headed in which it stands: `[style.fonts]`, `[[sticker]]`, or nothing at the top.
    pub heading: String,
    /// The key.
    pub key: Key,
}

impl Place {
    /// The words that it takes.
    pub fn words(&self) -> Vec<Word> {
        words(&(self.key.shape)())
    }

    /// The tables that it leads to.
    pub fn tables(&self) -> Vec<Table> {
        tables(&(self.key.shape)())
    }
}

/// Every key, tables before what they hold. A table that may hold itself is gone into once.
pub fn places() -> Vec<Place> {
    let mut out = Vec::new();
    below(&manifest::keys(), "", "", &mut Vec::new(), &mut out);
    out
}

fn below(table: &Table, path: &str, heading: &str, on_the_way: &mut Vec<&'static str>, out: &mut Vec<Place>) {
    if on_the_way.contains(&table.name) {
        return;
    }
    on_the_way.push(table.name);
    for key in &table.keys {
        let path = if path.is_empty() { key.name.to_owned() } else { format!("{path}.{}", key.name) };
        out.push(Place { path: path.clone(), heading: heading.to_owned(), key: key.clone() });
        let shape = (key.shape)();
        let heading = if is_list(&shape) { format!("[[{path}]]") } else { format!("[{path}]") };
        for inner in tables(&shape) {
            below(&inner, &path, &heading, on_the_way, out);
        }
    }
    on_the_way.pop();
}

fn is_list(shape: &Shape) -> bool {
    matches!(shape, Shape::List(_))
}

/// Tables that a shape leads to, through lists and choices.
fn tables(shape: &Shape) -> Vec<Table> {
    match shape {
        Shape::Table(table) => vec![table.clone()],
        Shape::List(inner) => tables(inner),
        Shape::Either(some) => some.iter().flat_map(tables).collect(),
        _ => Vec::new(),
    }
}

/// Words that a shape takes, through lists and choices.
fn words(shape: &Shape) -> Vec<Word> {
    match shape {
        Shape::Words(words) => words.clone(),
        Shape::List(inner) => words(inner),
        Shape::Either(some) => some.iter().flat_map(words).collect(),
        _ => Vec::new(),
    }
}

/// What a key takes, in words.
pub fn takes(shape: &Shape) -> String {
    match shape {
        Shape::Text => "a text in quotes".to_owned(),
        Shape::Form(what, _) => format!("{what}, in quotes"),
        Shape::Whole(..) => "a whole number".to_owned(),
        Shape::Number => "a number".to_owned(),
        Shape::YesOrNo => "true or false".to_owned(),
        Shape::Date => "a date such as 2027-01-15, without quotes".to_owned(),
        Shape::Words(words) => either(words.iter().map(|w| format!("\"{}\"", w.word)).collect()),
        Shape::Numbers(numbers) => either(numbers.iter().map(ToString::to_string).collect()),
        Shape::Table(_) => "a table".to_owned(),
        Shape::List(inner) => match &**inner {
            Shape::Table(_) => "a list of tables".to_owned(),
            Shape::Text => "a list of texts".to_owned(),
            inner => format!("a list, in brackets, of {}", takes(inner)),
        },
        Shape::Map(_) => "a table with keys of any name".to_owned(),
        Shape::Free => "anything".to_owned(),
        Shape::Either(some) => either(some.iter().map(takes).collect()),
    }
}

/// What a parameter takes, with its range: "a whole number, 1 to 6".
pub fn takes_within(key: &Key, told: &Doc) -> String {
    let takes = takes(&(key.shape)());
    told.range.as_ref().map_or(takes.clone(), |range| format!("{takes}, {range}"))
}

fn either(parts: Vec<String>) -> String {
    match parts.as_slice() {
        [] => "nothing".to_owned(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} or {last}", rest.join(", ")),
    }
}
