//! The text of a manifest and the faults found in it: all of them in one run, each with line, column and the
//! nearest word that would have been right.

use super::syntax;
pub use base::model::fault::{suggest, suggest_file};
use base::model::{Fault, SourceSpan};
use base::reading::{Misfit, Reading};
use serde::de::DeserializeOwned;
use std::collections::BTreeSet;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A text that values are taken from.
struct Part<'t> {
    file: String,
    text: &'t str,
    /// Where its first byte stands: the texts stand behind each other, so that a place tells which of them it is in.
    from: usize,
    /// What leads from the product's folder to the text's own: nothing, or `../` and so on.
    home: String,
}

/// A manifest as text, with what its shop shares, and what is wrong with both so far.
pub struct Source<'t> {
    /// The manifest, then the shop's file and that of the original, where there are such.
    parts: Vec<Part<'t>>,
    shop: Option<usize>,
    original: Option<usize>,
    faults: Vec<Fault>,
    /// Tables out of which something was taken that did not fit, by place, with its key.
    holed: Vec<(Range<usize>, String)>,
}

impl<'t> Source<'t> {
    /// A manifest by name and text.
    pub fn new(file: &str, text: &'t str) -> Source<'t> {
        let manifest = Part { file: file.to_owned(), text, from: 0, home: String::new() };
        Source { parts: vec![manifest], shop: None, original: None, faults: Vec::new(), holed: Vec::new() }
    }

    /// The same with the shop's file by path and text.
    pub fn with_shop(mut self, path: &str, text: &'t str) -> Source<'t> {
        let home = path.rsplit_once('/').map_or(String::new(), |(folder, _)| format!("{folder}/"));
        self.shop = Some(self.append(path, text, home));
        self
    }

    /// The same with the manifest of the original by path and text. Its files are named as those of the product's folder.
    pub fn with_original(mut self, path: &str, text: &'t str) -> Source<'t> {
        self.original = Some(self.append(path, text, String::new()));
        self
    }

    fn append(&mut self, path: &str, text: &'t str, home: String) -> usize {
        let from = self.parts.iter().map(|part| part.from + part.text.len() + 1).max().unwrap_or(0);
        self.parts.push(Part { file: path.to_owned(), text, from, home });
        self.parts.len() - 1
    }

    /// The text that a place is in.
    fn part(&self, at: usize) -> &Part<'t> {
        // The first one begins at 0.
        self.parts.iter().rev().find(|part| part.from <= at).unwrap_or(&self.parts[0])
    }

    /// What leads from the product's folder to that of the text in which a value stands.
    pub fn home(&self, span: &Range<usize>) -> &str {
        &self.part(span.start).home
    }

    /// Whether a value stands in the shop's file.
    pub fn is_shared(&self, span: &Range<usize>) -> bool {
        self.stands_in(self.shop, span)
    }

    /// Whether a value stands in the manifest of the original.
    pub fn is_of_original(&self, span: &Range<usize>) -> bool {
        self.stands_in(self.original, span)
    }

    fn stands_in(&self, part: Option<usize>, span: &Range<usize>) -> bool {
        part.is_some_and(|part| self.parts[part].from == self.part(span.start).from)
    }

    /// A value as it is written.
    pub fn written(&self, span: &Range<usize>) -> &'t str {
        let part = self.part(span.start);
        part.text.get(span.start - part.from..span.end - part.from).unwrap_or_default()
    }

    /// The file that a value stands in.
    pub fn file(&self, span: &Range<usize>) -> &str {
        &self.part(span.start).file
    }

    /// Notes a fault at a span of bytes. What a table as a whole lacks is not said where a key of it is at fault: that may
    /// be what it lacks.
    pub fn fault(&mut self, span: Range<usize>, message: impl Into<String>, help: Option<String>) {
        if self.holed.iter().any(|(table, _)| *table == span) {
            return;
        }
        let part = self.part(span.start);
        // Files are called as they are in the text that the fault is about.
        let said = |text: String| if part.home.is_empty() { text } else { from_home(&text, &part.home) };
        let mut fault = Fault::new(said(message.into())).in_file(&part.file).at(self.span(span));
        fault.help = help.map(said);
        self.faults.push(fault);
    }

    /// The place of a span of bytes, for messages that can only be written later.
    pub fn span(&self, bytes: Range<usize>) -> SourceSpan {
        let part = self.part(bytes.start);
        let local = bytes.start - part.from..bytes.end.saturating_sub(part.from);
        let file = (part.from > 0).then(|| part.file.clone());
        SourceSpan { file, ..of_bytes(part.text, local) }
    }

    /// Notes a fault that came from elsewhere, at a span of bytes.
    pub fn blame(&mut self, span: Range<usize>, fault: Fault) {
        self.fault(span, fault.message, fault.help);
    }

    /// Notes a fault of another file.
    pub fn tell(&mut self, fault: Fault) {
        self.faults.push(fault);
    }

    /// A place in the manifest by line and column.
    pub fn line(&self, line: usize, column: usize) -> SourceSpan {
        let text = self.parts[0].text.lines().nth(line.saturating_sub(1)).unwrap_or_default();
        SourceSpan { line, column, text: text.to_owned(), width: 1, file: None }
    }

    /// Notes a fault about the manifest as a whole.
    pub fn fault_whole(&mut self, message: impl Into<String>, help: &str) {
        self.faults.push(Fault::new(message).in_file(&self.parts[0].file).help(help));
    }

    /// Whether a key of the top level stands there with a value that does not fit.
    pub fn refused(&self, key: &str) -> bool {
        self.holed.iter().any(|(table, name)| table.is_empty() && name == key)
    }

    /// Whether anything is wrong so far.
    pub fn is_sound(&self) -> bool {
        self.faults.is_empty()
    }

    /// The faults, in the order of the text; those of the shop's file and of the original come last.
    pub fn into_faults(mut self) -> Vec<Fault> {
        let rest: Vec<&String> = self.parts[1..].iter().map(|part| &part.file).collect();
        let place = |f: &Fault| f.span.as_ref().map(|s| (s.line, s.column));
        self.faults.sort_by_key(|f| (rest.iter().position(|file| Some(*file) == f.file.as_ref()), place(f)));
        // What is wrong with a line that several variants share is wrong once.
        let mut said = BTreeSet::new();
        self.faults.retain(|f| {
            let span = f.span.as_ref().map(|s| (s.line, s.column, s.width));
            said.insert((span, f.file.clone(), f.message.clone(), f.help.clone()))
        });
        self.faults
    }

    /// Reads the manifest into its tables; `None` when it is no TOML (every break of syntax is a fault then).
    pub fn tables(&mut self) -> Option<Spanned<DeTable<'t>>> {
        self.tables_of(0)
    }

    /// Reads the shop's file into its tables, as the manifest; empty where there is no such file.
    pub fn shop_tables(&mut self) -> Option<Spanned<DeTable<'t>>> {
        self.tables_or_none(self.shop)
    }

    /// Reads the manifest of the original into its tables; empty where there is none.
    pub fn original_tables(&mut self) -> Option<Spanned<DeTable<'t>>> {
        self.tables_or_none(self.original)
    }

    fn tables_or_none(&mut self, part: Option<usize>) -> Option<Spanned<DeTable<'t>>> {
        part.map_or_else(|| Some(Spanned::new(0..0, DeTable::new())), |part| self.tables_of(part))
    }

    fn tables_of(&mut self, part: usize) -> Option<Spanned<DeTable<'t>>> {
        let Part { text, from, .. } = self.parts[part];
        let (table, errors) = DeTable::parse_recoverable(text);
        for said in syntax::told(text, &errors) {
            self.fault(moved(said.span, from), said.message, said.help);
        }
        let span = moved(table.span(), from);
        errors.is_empty().then(|| Spanned::new(span, table_moved(table.into_inner(), from)))
    }

    /// Reads a typed value out of the tables. What does not fit is noted, left out, and reading goes on: all faults
    /// come in one run.
    pub fn typed<T: DeserializeOwned>(&mut self, tables: &Spanned<DeTable<'t>>) -> Option<T> {
        let mut rest = Spanned::new(tables.span(), DeValue::Table(tables.get_ref().clone()));
        loop {
            match T::deserialize(Reading::of(&rest)) {
                Ok(value) => return Some(value),
                Err(e) => {
                    self.note(&e, 0..0);
                    if !self.take_out(&mut rest, 0..0, &e) {
                        return None;
                    }
                }
            }
        }
    }

    /// Runs a reader over one value again and again, each time without what it objected to, until it is content. What is no
    /// table at all has been told before.
    pub fn each_fault(
        &mut self,
        value: &Spanned<DeValue<'t>>,
        read: impl Fn(Reading) -> Result<Result<(), String>, Misfit>,
    ) {
        let mut rest = value.clone();
        while rest.get_ref().is_table() {
            match read(Reading::of(&rest)) {
                Ok(Ok(())) => return,
                Ok(Err(message)) => return self.fault(value.span(), message, None),
                Err(e) => {
                    self.note(&e, value.span());
                    if !self.take_out(&mut rest, value.span(), &e) {
                        return;
                    }
                }
            }
        }
    }

    /// Takes what a misfit points at out of a table; false where nothing is to be taken.
    fn take_out(&mut self, rest: &mut Spanned<DeValue<'t>>, whole: Range<usize>, e: &Misfit) -> bool {
        let DeValue::Table(table) = rest.get_mut() else { return false };
        match e.span().and_then(|span| cut(table, &whole, &span)) {
            Some(hole) => {
                self.holed.push(hole);
                true
            }
            None => false,
        }
    }

    fn note(&mut self, e: &Misfit, whole: Range<usize>) {
        self.fault(e.span().unwrap_or(whole), e.message(), e.help().map(str::to_owned));
    }
}

/// A text without the ways home that paths in it begin with. What else leads up is the designer's own.
fn from_home(text: &str, home: &str) -> String {
    let (mut out, mut rest) = (String::new(), text);
    while let Some(at) = rest.find(home) {
        out.push_str(&rest[..at]);
        rest = &rest[at + home.len()..];
        while let Some(more) = rest.strip_prefix("../") {
            out.push_str("../");
            rest = more;
        }
    }
    out + rest
}

fn moved(span: Range<usize>, by: usize) -> Range<usize> {
    span.start + by..span.end + by
}

/// The same table with every place so many bytes further.
fn table_moved<'t>(table: DeTable<'t>, by: usize) -> DeTable<'t> {
    if by == 0 {
        return table;
    }
    let one = |(key, value): (Spanned<_>, Spanned<DeValue<'t>>)| {
        (Spanned::new(moved(key.span(), by), key.into_inner()), value_moved(value, by))
    };
    table.into_iter().map(one).collect()
}

fn value_moved(value: Spanned<DeValue<'_>>, by: usize) -> Spanned<DeValue<'_>> {
    let span = moved(value.span(), by);
    let value = match value.into_inner() {
        DeValue::Table(table) => DeValue::Table(table_moved(table, by)),
        DeValue::Array(list) => DeValue::Array(list.into_iter().map(|item| value_moved(item, by)).collect()),
        plain => plain,
    };
    Spanned::new(span, value)
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
        file: None,
    }
}

/// Takes the entry that a span points at out of a table: the key itself, or the innermost value that holds it. Gives the
/// place of the table that it was in, and its key.
fn cut(table: &mut DeTable<'_>, place: &Range<usize>, span: &Range<usize>) -> Option<(Range<usize>, String)> {
    let holds = |outer: Range<usize>| outer.start <= span.start && span.end <= outer.end;
    let keys: Vec<String> = table.keys().map(|k| k.get_ref().to_string()).collect();
    for key in keys {
        let at_key = table.get_key_value(key.as_str()).is_some_and(|(k, _)| holds(k.span()));
        let inside = table.get_mut(key.as_str()).and_then(|value| {
            let place = value.span();
            match value.get_mut() {
                DeValue::Table(inner) => cut(inner, &place, span),
                DeValue::Array(items) => items.iter_mut().find_map(|item| {
                    let place = item.span();
                    match item.get_mut() {
                        DeValue::Table(inner) => cut(inner, &place, span),
                        _ => None,
                    }
                }),
                _ => None,
            }
        });
        if inside.is_some() {
            return inside;
        }
        if at_key || table.get(key.as_str()).is_some_and(|v| holds(v.span())) {
            table.remove(key.as_str());
            return Some((place.clone(), key));
        }
    }
    None
}
