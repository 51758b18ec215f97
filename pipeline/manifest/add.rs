//! One more template, section, sticker, cover or variant, written into a manifest whose comments and order stay as they are.

use base::model::Fault;
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, Value};

/// What is added.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Thing {
    /// A page design: the name of a ruling, or a file of art.
    Template,
    /// A section, by its name.
    Section,
    /// A sticker: the name of a motif, or a file.
    Sticker,
    /// A cover: a design, a pattern, or a file of art.
    Cover,
    /// A choice of a row of variants, as `colourway/dusk`.
    Variant,
}

/// What is to be written.
#[derive(Clone, Debug)]
pub struct Wanted<'a> {
    /// What it is.
    pub thing: Thing,
    /// Which one.
    pub which: &'a str,
    /// The name that it is to have.
    pub name: Option<&'a str>,
    /// The colour that it is to have; the accent of a variant.
    pub colour: Option<&'a str>,
}

/// The manifest with it, and what is worth saying of what it changes.
///
/// # Errors
/// When the text is no TOML, or `which` does not say what is wanted.
pub fn add(text: &str, wanted: &Wanted) -> Result<(String, Vec<String>), Fault> {
    let bare = text.strip_prefix('\u{feff}');
    let mut document: DocumentMut = bare.unwrap_or(text).parse().map_err(|_| {
        Fault::new("it is not sound TOML").in_file(super::FILE).help("`sheafwright check` says where; mend that first")
    })?;
    let mut notes = Vec::new();
    keep_the_notebook(&mut document, wanted.thing, &mut notes);
    match wanted.thing {
        Thing::Variant => variant(&mut document, wanted, &mut notes)?,
        _ => entry(&mut document, wanted, &mut notes)?,
    }
    let mut out = document.to_string();
    if text.contains("\r\n") {
        out = out.replace("\r\n", "\n").replace('\n', "\r\n");
    }
    if bare.is_some() {
        out.insert(0, '\u{feff}');
    }
    Ok((out, notes))
}

/// A product that names nothing is a notebook; with a sticker or a cover alone it would be one no more.
fn keep_the_notebook(document: &mut DocumentMut, thing: Thing, notes: &mut Vec<String>) {
    let things = ["notebook", "cover", "sticker", "sticker-group"];
    if matches!(thing, Thing::Sticker | Thing::Cover) && !things.iter().any(|t| document.contains_key(t)) {
        document.insert("notebook", Item::Table(Table::new()));
        notes.push("[notebook] stands there now: without it the product would be no notebook any more".to_owned());
    }
}

/// Whether a word is the path of a file.
fn is_file(which: &str) -> bool {
    which.contains('/') || [".svg", ".pdf", ".png", ".jpg", ".jpeg"].iter().any(|e| which.to_lowercase().ends_with(e))
}

/// The keys of an entry, in their order.
fn keys(wanted: &Wanted) -> Vec<(&'static str, String)> {
    let which = wanted.which.to_owned();
    let file = is_file(wanted.which);
    let mut out = match wanted.thing {
        Thing::Section => vec![("name", wanted.name.unwrap_or(wanted.which).to_owned())],
        _ => wanted.name.map(|name| ("name", name.to_owned())).into_iter().collect(),
    };
    match wanted.thing {
        Thing::Template if file => out.push(("art", which)),
        Thing::Template => out.push(("ruling", which)),
        Thing::Sticker if file => out.push(("file", which)),
        Thing::Sticker => out.push(("motif", which)),
        Thing::Cover if file => out.push(("art", which)),
        Thing::Cover if ["flat", "banded", "framed"].contains(&wanted.which) => out.push(("design", which)),
        Thing::Cover => out.push(("pattern", which)),
        Thing::Section | Thing::Variant => {}
    }
    if wanted.thing != Thing::Template {
        out.extend(wanted.colour.map(|colour| ("colour", colour.to_owned())));
    }
    out
}

fn entry(document: &mut DocumentMut, wanted: &Wanted, notes: &mut Vec<String>) -> Result<(), Fault> {
    let (parent, key) = match wanted.thing {
        Thing::Template => (Some("notebook"), "template"),
        Thing::Section => (Some("notebook"), "section"),
        Thing::Sticker => (None, "sticker"),
        _ => (None, "cover"),
    };
    let table: &mut dyn toml_edit::TableLike = match parent {
        None => document.as_table_mut(),
        Some(parent) => {
            let fresh = || {
                let mut table = Table::new();
                table.set_implicit(true);
                Item::Table(table)
            };
            let inner = document.entry(parent).or_insert_with(fresh);
            inner
                .as_table_like_mut()
                .ok_or_else(|| Fault::new(format!("`{parent}` is no table")).in_file(super::FILE))?
        }
    };
    if !table.contains_key(key) {
        match wanted.thing {
            Thing::Template => {
                notes.push("the eight usual templates give way to those that the manifest names".to_owned())
            }
            Thing::Section => notes.push("the six blank sections give way to those that the manifest names".to_owned()),
            _ => {}
        }
        table.insert(key, Item::ArrayOfTables(ArrayOfTables::new()));
    }
    let mut keys = keys(wanted);
    let same =
        if wanted.thing == Thing::Template && wanted.name.is_none() { same(table.get(key), wanted.which) } else { 0 };
    if same > 0 {
        // Its name follows from the ruling and the language, so it is the same: the slug tells the two apart.
        keys.push(("slug", format!("{}-{}", wanted.which, same + 1)));
        notes.push(format!(
            "there is a `{}` already: this one has a slug of its own, and --name gives it a name",
            wanted.which
        ));
    }
    match table.get_mut(key) {
        Some(Item::ArrayOfTables(list)) => {
            let mut one = Table::new();
            one.decor_mut().set_prefix("\n");
            keys.into_iter().for_each(|(key, value)| {
                one.insert(key, toml_edit::value(value));
            });
            list.push(one);
            Ok(())
        }
        Some(Item::Value(Value::Array(list))) => {
            push(list, keys);
            Ok(())
        }
        _ => Err(Fault::new(format!("`{key}` is no list")).in_file(super::FILE)),
    }
}

/// How many entries of a list have this ruling.
fn same(list: Option<&Item>, ruling: &str) -> usize {
    let has = |one: &dyn toml_edit::TableLike| one.get("ruling").and_then(Item::as_str) == Some(ruling);
    match list {
        Some(Item::ArrayOfTables(list)) => list.iter().filter(|one| has(*one)).count(),
        Some(Item::Value(Value::Array(list))) => {
            list.iter().filter_map(Value::as_inline_table).filter(|one| has(*one)).count()
        }
        _ => 0,
    }
}

/// Adds to a list in brackets, laid out as its last entry is.
fn push(list: &mut Array, keys: Vec<(&'static str, String)>) {
    let mut one = InlineTable::new();
    keys.into_iter().for_each(|(key, value)| {
        one.insert(key, value.into());
    });
    let mut value = Value::InlineTable(one);
    let before = list.iter().last().and_then(|last| last.decor().prefix()?.as_str().map(str::to_owned));
    // A comment before the last entry belongs to that one.
    let indent = before.map(|b| match b.rfind('\n') {
        Some(at) => b[at..].to_owned(),
        None => b,
    });
    value
        .decor_mut()
        .set_prefix(indent.unwrap_or_else(|| if list.is_empty() { String::new() } else { " ".to_owned() }));
    list.push_formatted(value);
}

fn variant(document: &mut DocumentMut, wanted: &Wanted, notes: &mut Vec<String>) -> Result<(), Fault> {
    let form = || {
        Fault::new(format!("`{}` names no choice of a row", wanted.which))
            .help("write the row and the choice, as in colourway/dusk")
    };
    let (row, choice) =
        wanted.which.split_once('/').filter(|(r, c)| !r.is_empty() && !c.is_empty()).ok_or_else(form)?;
    let mut implicit = Table::new();
    implicit.set_implicit(true);
    let no_table = |what: &str| Fault::new(format!("`{what}` is no table")).in_file(super::FILE);
    let rows = document.entry("variants").or_insert(Item::Table(implicit));
    let rows = rows.as_table_like_mut().ok_or_else(|| no_table("variants"))?;
    if !rows.contains_key(row) {
        let mut table = Table::new();
        table.decor_mut().set_prefix("\n");
        table.insert("usual", Item::Value(Value::InlineTable(InlineTable::new())));
        rows.insert(row, Item::Table(table));
        notes.push(format!("{row} is a new row: `usual` is the product as it was, beside `{choice}`"));
    }
    let choices = rows.get_mut(row).and_then(Item::as_table_like_mut).ok_or_else(|| no_table(row))?;
    if choices.contains_key(choice) {
        return Err(Fault::new(format!("the row `{row}` has a choice `{choice}` already"))
            .in_file(super::FILE)
            .help("give it another name"));
    }
    let mut over = InlineTable::new();
    if let Some(name) = wanted.name {
        over.insert("title", name.into());
    }
    match wanted.colour {
        Some(colour) => {
            let mut style = InlineTable::new();
            style.insert("accent", colour.into());
            over.insert("style", Value::InlineTable(style));
        }
        None => notes.push(format!("`{choice}` changes nothing yet: write into its braces what is different, such as style = {{ accent = \"#4a5f8a\" }}")),
    }
    choices.insert(choice, Item::Value(Value::InlineTable(over)));
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn added(text: &str, thing: Thing, which: &str) -> String {
        add(text, &Wanted { thing, which, name: None, colour: Some("#4a5f8a") }).expect("it can be added").0
    }

    #[test]
    fn comments_and_layout_stay() {
        let text = "# mine\nname = \"X\" # here\n\n[notebook]\nsection = [\n  { name = \"A\" }, # first\n  { name = \"B\" },\n]\n\n[style]\naccent = \"#123456\"\n";
        let section = added(text, Thing::Section, "C");
        assert!(section.contains("  { name = \"B\" },\n  { name = \"C\", colour = \"#4a5f8a\" },\n]"), "{section}");
        let template = added(text, Thing::Template, "lined");
        assert!(template.contains("[[notebook.template]]\nruling = \"lined\"\n"), "{template}");
        let variant = added(text, Thing::Variant, "colourway/dusk");
        assert!(
            variant.contains("[variants.colourway]\nusual = {}\ndusk = { style = { accent = \"#4a5f8a\" } }\n"),
            "{variant}"
        );
        for out in [
            section,
            template,
            variant,
            added(text, Thing::Sticker, "art/sun.svg"),
            added(text, Thing::Cover, "leaves"),
        ] {
            for line in text.lines().filter(|l| !l.is_empty()) {
                assert!(out.contains(line), "{line} is gone: {out}");
            }
            assert!(out.parse::<toml::Table>().is_ok(), "{out}");
        }
    }

    #[test]
    fn the_same_ruling_again_has_a_slug_of_its_own() {
        for list in ["[[notebook.template]]\nruling = \"lined\"\n", "[notebook]\ntemplate = [{ ruling = \"lined\" }]\n"]
        {
            let twice = added(list, Thing::Template, "lined");
            assert!(twice.contains("slug = \"lined-2\""), "{twice}");
            assert!(added(&twice, Thing::Template, "lined").contains("slug = \"lined-3\""), "{twice}");
            assert!(!added(list, Thing::Template, "chart").contains("slug"), "another ruling has its own");
        }
    }

    #[test]
    fn marks_and_line_ends_stay() {
        let text = "\u{feff}name = \"X\"\r\n";
        let out = added(text, Thing::Sticker, "star");
        assert!(out.starts_with("\u{feff}name = \"X\"\r\n") && !out.replace("\r\n", "").contains('\n'), "{out:?}");
        assert!(out.contains("[notebook]") && out.contains("motif = \"star\""), "{out}");
    }
}
