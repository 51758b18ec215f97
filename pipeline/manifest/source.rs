//! The text of a manifest and the faults found in it: all of them in one run, each with line, column and the
//! nearest word that would have been right.

pub use base::model::fault::suggest;
use base::model::{Fault, SourceSpan};
use serde::de::DeserializeOwned;
use std::collections::BTreeSet;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue, Deserializer, Error, ValueDeserializer};

/// A manifest as text, and what is wrong with it so far.
pub struct Source<'t> {
    file: String,
    text: &'t str,
    faults: Vec<Fault>,
}

impl<'t> Source<'t> {
    /// A manifest by name and text.
    pub fn new(file: &str, text: &'t str) -> Source<'t> {
        Source { file: file.to_owned(), text, faults: Vec::new() }
    }

    /// Notes a fault at a span of bytes.
    pub fn fault(&mut self, span: Range<usize>, message: impl Into<String>, help: Option<String>) {
        let mut fault = Fault::new(message).in_file(&self.file).at(self.span(span));
        fault.help = help;
        self.faults.push(fault);
    }

    /// The place of a span of bytes, for messages that can only be written later.
    pub fn span(&self, bytes: Range<usize>) -> SourceSpan {
        of_bytes(self.text, bytes)
    }

    /// Notes a fault that came from elsewhere, at a span of bytes.
    pub fn blame(&mut self, span: Range<usize>, fault: Fault) {
        self.fault(span, fault.message, fault.help);
    }

    /// Notes a fault of another file.
    pub fn tell(&mut self, fault: Fault) {
        self.faults.push(fault);
    }

    /// A place by line and column.
    pub fn line(&self, line: usize, column: usize) -> SourceSpan {
        let text = self.text.lines().nth(line.saturating_sub(1)).unwrap_or_default();
        SourceSpan { line, column, text: text.to_owned(), width: 1 }
    }

    /// Notes a fault about the file as a whole.
    pub fn fault_whole(&mut self, message: impl Into<String>, help: &str) {
        self.faults.push(Fault::new(message).in_file(&self.file).help(help));
    }

    /// Whether anything is wrong so far.
    pub fn is_sound(&self) -> bool {
        self.faults.is_empty()
    }

    /// The faults, in the order of the text.
    pub fn into_faults(mut self) -> Vec<Fault> {
        self.faults.sort_by_key(|f| f.span.as_ref().map(|s| (s.line, s.column)));
        // What is wrong with a line that several variants share is wrong once.
        let mut said = BTreeSet::new();
        self.faults.retain(|f| {
            let span = f.span.as_ref().map(|s| (s.line, s.column, s.width));
            said.insert((span, f.file.clone(), f.message.clone(), f.help.clone()))
        });
        self.faults
    }

    /// Reads the text into its tables; `None` when it is no TOML (every break of syntax is a fault then).
    pub fn tables(&mut self) -> Option<Spanned<DeTable<'t>>> {
        let (table, errors) = DeTable::parse_recoverable(self.text);
        for e in &errors {
            self.note(e);
        }
        errors.is_empty().then_some(table)
    }

    /// Reads a typed value out of the tables. What does not fit is noted, left out, and reading goes on: all faults
    /// come in one run.
    pub fn typed<T: DeserializeOwned>(&mut self, tables: &Spanned<DeTable<'t>>) -> Option<T> {
        let mut rest = tables.clone();
        loop {
            match T::deserialize(Deserializer::from(rest.clone())) {
                Ok(value) => return Some(value),
                Err(e) => {
                    self.note(&e);
                    if !e.span().is_some_and(|span| cut(rest.get_mut(), &span)) {
                        return None;
                    }
                }
            }
        }
    }

    /// Runs a reader over one value again and again, each time without what it objected to, until it is content.
    pub fn each_fault(
        &mut self,
        value: &Spanned<DeValue<'t>>,
        read: impl Fn(ValueDeserializer<'_>) -> Result<Result<(), String>, Error>,
    ) {
        let mut rest = value.clone();
        loop {
            match read(ValueDeserializer::from(rest.clone())) {
                Ok(Ok(())) => return,
                Ok(Err(message)) => return self.fault(value.span(), message, None),
                Err(e) => {
                    self.note(&e);
                    let DeValue::Table(table) = rest.get_mut() else { return };
                    if !e.span().is_some_and(|span| cut(table, &span)) {
                        return;
                    }
                }
            }
        }
    }

    fn note(&mut self, e: &Error) {
        let (message, help) = plain(e.message());
        self.fault(e.span().unwrap_or(0..0), message, help);
    }
}

/// A span of bytes as line, column and the line's text.
fn of_bytes(text: &str, span: Range<usize>) -> SourceSpan {
    let start = span.start.min(text.len());
    let from = text[..start].rfind('\n').map_or(0, |i| i + 1);
    let to = text[start..].find('\n').map_or(text.len(), |i| start + i);
    let end = span.end.max(start).min(to);
    SourceSpan {
        line: text[..start].matches('\n').count() + 1,
        column: text[from..start].chars().count() + 1,
        text: text[from..to].trim_end_matches('\r').to_owned(),
        width: text[start..end].chars().count().max(1),
    }
}

/// Takes the entry that a span points at out of a table: the key itself, or the innermost value that holds it.
fn cut(table: &mut DeTable<'_>, span: &Range<usize>) -> bool {
    let holds = |outer: Range<usize>| outer.start <= span.start && span.end <= outer.end;
    let keys: Vec<String> = table.keys().map(|k| k.get_ref().to_string()).collect();
    for key in keys {
        let at_key = table.get_key_value(key.as_str()).is_some_and(|(k, _)| holds(k.span()));
        let inside = table.get_mut(key.as_str()).is_some_and(|value| match value.get_mut() {
            DeValue::Table(inner) => cut(inner, span),
            DeValue::Array(items) => items.iter_mut().any(|item| match item.get_mut() {
                DeValue::Table(inner) => cut(inner, span),
                _ => false,
            }),
            _ => false,
        });
        if inside {
            return true;
        }
        if at_key || table.get(key.as_str()).is_some_and(|v| holds(v.span())) {
            table.remove(key.as_str());
            return true;
        }
    }
    false
}

/// Serde's words made plain, with the nearest valid word as help.
fn plain(message: &str) -> (String, Option<String>) {
    if let Some((message, help)) = message.split_once('\n') {
        return (message.to_owned(), Some(help.to_owned()));
    }
    let quoted: Vec<&str> = message.split('`').skip(1).step_by(2).collect();
    // The calendar's words say how to mend them behind a semicolon.
    if let Some((message, help)) = message.split_once("; ") {
        return (message.to_owned(), Some(help.to_owned()));
    }
    if let (Some(rest), [given, valid @ ..]) = (message.strip_prefix("unknown "), quoted.as_slice()) {
        let kind = if rest.starts_with("variant") { "value" } else { "key" };
        return (format!("unknown {kind} `{given}`"), Some(suggest(given, valid.iter().copied())));
    }
    let message =
        message.replace("invalid type: ", "wrong kind of value: ").replace("invalid value: ", "wrong value: ");
    (message, None)
}
