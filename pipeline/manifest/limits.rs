//! How much a manifest may say: looked at before anything is made of it, so that no list and no name takes minutes to
//! be refused.

use super::notebook::MOST_SECTIONS;
use super::source::Source;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The most bytes of a manifest.
pub const MOST_BYTES: usize = 4 << 20;
/// The most items of a list.
const MOST_ITEMS: usize = 10_000;
/// The most characters of a text.
const MOST_TEXT: usize = 20_000;
/// The most characters of what is set in one line: names, titles, labels.
const MOST_NAME: usize = 300;
/// Keys of such texts.
const LINES: [&str; 6] = ["name", "title", "label", "line", "slug", "heading"];
/// The most values that are told of.
const MOST_TOLD: usize = 20;

/// Notes what goes beyond a limit; whether there is none.
pub fn keeps(source: &mut Source, tables: &DeTable) -> bool {
    let mut told = 0;
    table(source, tables, &mut told);
    told == 0
}

fn table(source: &mut Source, table: &DeTable, told: &mut usize) {
    for (key, found) in table {
        value(source, key.get_ref(), found, told);
    }
}

fn value(source: &mut Source, key: &str, found: &Spanned<DeValue>, told: &mut usize) {
    if *told >= MOST_TOLD {
        return;
    }
    let mut beyond = |message: String, help: &str| {
        *told += 1;
        source.fault(found.span(), message, Some(help.to_owned()));
    };
    match found.get_ref() {
        DeValue::String(text) => {
            let most = if LINES.contains(&key) { MOST_NAME } else { MOST_TEXT };
            // Bytes are never fewer than characters.
            let has = if text.len() > most { text.chars().count() } else { 0 };
            if has > most {
                beyond(format!("`{key}` has {has} characters; {most} are the most"), "shorten it");
            }
        }
        DeValue::Array(items) => {
            let most = if key == "section" { MOST_SECTIONS } else { MOST_ITEMS };
            if items.len() > most {
                let help = if key == "section" {
                    format!("keep at most {most}: more tabs do not fit on the page edge")
                } else {
                    "make two products of it".to_owned()
                };
                let too_many = if key == "section" {
                    format!("{} sections are too many", items.len())
                } else {
                    format!("`{key}` has {} items; {most} are the most", items.len())
                };
                *told += 1;
                let at = items.get(most).map_or(found.span(), Spanned::span);
                source.fault(at, too_many, Some(help));
                return;
            }
            for item in items.iter() {
                value(source, key, item, told);
            }
        }
        DeValue::Table(inner) => table(source, inner, told),
        _ => {}
    }
}
