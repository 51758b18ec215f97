//! `[translations]`: the designer's own texts in other languages, a table a language, each text by what it is in the language that
//! the manifest is written in. They take its place in every product and variant of that language; what texts name files and
//! places by stays as it is, so that links and numbers are the same in all of them.

use super::layers::table_of;
use super::source::{Source, suggest};
use base::model::Product;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The key of the tables.
pub const KEY: &str = "translations";

/// The texts of products before any is translated, and the tables that were met.
#[derive(Default)]
pub struct Translations {
    known: BTreeSet<String>,
    entries: BTreeMap<(String, String), Range<usize>>,
}

/// A text in another language.
struct Entry<'v> {
    into: &'v str,
    at: Range<usize>,
}

/// The table of a language by text.
type Table<'v> = BTreeMap<&'v str, Entry<'v>>;

impl Translations {
    /// Puts the texts of a product's language in the place of those that the manifest has.
    pub fn apply(&mut self, source: &mut Source, tables: &Spanned<DeTable>, product: &mut Product) {
        let mut texts = BTreeSet::new();
        product.each_text(&mut |text| {
            if !text.is_empty() {
                texts.insert(text.clone());
            }
        });
        let Some(all) = table_of(tables.get_ref(), KEY) else { return self.known.extend(texts) };
        let of = languages(all);
        for (tag, span) in all.keys().map(|key| (key.get_ref().as_ref(), key.span())) {
            if !is_tag(tag) {
                let help = "write a BCP 47 tag, such as de or pt-BR".to_owned();
                source.fault(span, format!("`{tag}` is not a language tag"), Some(help));
            }
        }
        for (tag, table) in &of {
            for (text, entry) in table {
                if entry.into.trim().is_empty() {
                    let help = format!("write what it is in {tag}, or take the line out");
                    source.fault(entry.at.clone(), format!("the translation of {text:?} is empty"), Some(help));
                }
                self.entries.insert(((*tag).to_owned(), (*text).to_owned()), entry.at.clone());
            }
        }
        let mine = in_language(&of, &product.language);
        if !mine.is_empty() {
            let lacks = |text: &&String| !mine.contains_key(text.as_str());
            let elsewhere = |text: &String| of.iter().find_map(|(_, table)| table.get(text.as_str()));
            let untranslated = texts.iter().filter(lacks).filter_map(|text| Some((text, elsewhere(text)?)));
            product.untranslated =
                untranslated.map(|(text, entry)| (text.clone(), source.span(entry.at.clone()))).collect();
        }
        product.each_text(&mut |text| {
            if let Some(entry) = mine.get(text.as_str()) {
                entry.into.trim().clone_into(text);
            }
        });
        self.known.extend(texts);
    }

    /// Tells of texts that no product has. What the shop says for all products does not concern one of them, and the original's
    /// lines are looked at when it is built.
    pub fn told(self, source: &mut Source) {
        for ((_, text), at) in self.entries {
            let elsewhere = source.is_shared(&at) || source.is_of_original(&at);
            if elsewhere || self.known.contains(&text) {
                continue;
            }
            let near = suggest(&text, self.known.iter().map(String::as_str));
            source.fault(at, format!("no text of this product says {text:?}"), Some(near));
        }
    }
}

/// The place of what a text is in the language of these tables, where they have it.
pub fn place_of(tables: &DeTable, text: &str) -> Option<Range<usize>> {
    let language = tables.get("language").and_then(|value| value.get_ref().as_str()).unwrap_or("en");
    let of = languages(table_of(tables, KEY)?);
    let mine = in_language(&of, language);
    mine.get(text).map(|entry| entry.at.clone())
}

/// The tables by language.
fn languages<'v>(all: &'v DeTable) -> Vec<(&'v str, Table<'v>)> {
    all.iter().map(|(tag, table)| (tag.get_ref().as_ref(), entries(table.get_ref()))).collect()
}

fn entries<'v>(table: &'v DeValue) -> Table<'v> {
    let all = table.as_table().into_iter().flat_map(|table| table.iter());
    let one = |(key, value): (&'v Spanned<_>, &'v Spanned<DeValue>)| {
        let key: &'v std::borrow::Cow<str> = key.get_ref();
        Some((key.as_ref(), Entry { into: value.get_ref().as_str()?, at: value.span() }))
    };
    all.filter_map(one).collect()
}

/// What holds for a language: its own table, and behind it that of the language whatever the region.
fn in_language<'v, 'o>(of: &'o [(&'v str, Table<'v>)], language: &str) -> BTreeMap<&'v str, &'o Entry<'v>> {
    let primary = language.split('-').next().unwrap_or_default();
    let tags = [primary, language];
    let tables = tags.iter().flat_map(|tag| of.iter().filter(|(known, _)| known.eq_ignore_ascii_case(tag)));
    tables.flat_map(|(_, table)| table.iter().map(|(text, entry)| (*text, entry))).collect()
}

/// Whether a text has the form of a language tag, as the manifest takes it for `language`.
pub fn is_tag(text: &str) -> bool {
    let fine = |part: &str| (1..=8).contains(&part.len()) && part.chars().all(|c| c.is_ascii_alphanumeric());
    text.split('-').all(fine) && text.split('-').next().is_some_and(|first| (2..=3).contains(&first.len()))
}
