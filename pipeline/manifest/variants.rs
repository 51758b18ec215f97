//! `[variants]`: rows of choices, each choice a few keys that are laid over the manifest. Every way to take one of each row
//! is a variant.

use super::slug;
use super::source::{Source, suggest};
use base::model::units::spoken;
use base::model::variant;
use base::model::variant::Variant;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// More than that nobody tells apart in a shop.
const MOST: usize = 48;

/// What a variant may change; everything else holds for the product as a whole.
const FREE: [&str; 12] = [
    "page",
    "style",
    "calendar",
    "notebook",
    "cover",
    "stickers",
    "sticker-group",
    "sticker",
    "guide",
    "language",
    "words",
    "data",
];

/// Folders that a bundle has anyway.
const TAKEN: [&str; 2] = ["stickers", "sticker-sheets"];

/// All variants with what each lays over the manifest.
pub struct Matrix<'t> {
    /// The variants in their order: the last row of choices changes fastest.
    pub all: Vec<Variant>,
    /// For each variant what it lays over.
    over: Vec<Vec<DeTable<'t>>>,
}

/// A row of choices.
struct Row<'t> {
    name: String,
    choices: Vec<Choice<'t>>,
}

struct Choice<'t> {
    name: String,
    title: String,
    over: DeTable<'t>,
}

/// Takes the rows of choices out of the manifest.
pub fn read<'t>(source: &mut Source<'t>, tables: &mut Spanned<DeTable<'t>>) -> Matrix<'t> {
    let none = Matrix { all: Vec::new(), over: Vec::new() };
    let Some(entry) = tables.get_mut().remove("variants") else { return none };
    let span = entry.span();
    let DeValue::Table(mut table) = entry.into_inner() else {
        let help = "write a table a row of choices, such as [variants.colourway]".to_owned();
        source.fault(span, "`variants` is a table", Some(help));
        return none;
    };
    let skipped = table.remove("skip");
    let mut rows: Vec<Row> = Vec::new();
    for (key, value) in table {
        if let Some(row) = row(source, key.get_ref(), key.span(), value) {
            rows.push(row);
        }
    }
    let skips = skipped.map_or(Vec::new(), |s| skips(source, s, &rows));
    let mut picks: Vec<Vec<usize>> = vec![Vec::new()];
    for row in &rows {
        picks = picks.iter().flat_map(|p| (0..row.choices.len()).map(|c| [p.as_slice(), &[c]].concat())).collect();
        if picks.len() > MOST * 8 {
            break;
        }
    }
    picks.retain(|p| p.len() == rows.len() && !p.is_empty() && !skips.iter().any(|s| s.hits(p)));
    if picks.len() > MOST {
        let help = format!("keep at most {MOST}, or leave some out with [[variants.skip]]");
        source.fault(span, format!("{} variants are too many", picks.len()), Some(help));
        return none;
    }
    if picks.is_empty() {
        let help = "add a row of choices, such as [variants.colourway] with a line for each".to_owned();
        source.fault(span, "no variant is left", Some(help));
        return none;
    }
    let taken = |p: &Vec<usize>| -> Vec<&Choice<'t>> { rows.iter().zip(p).map(|(row, i)| &row.choices[*i]).collect() };
    let all: Vec<Variant> = picks
        .iter()
        .map(|pick| {
            let choices = taken(pick);
            let join =
                |of: &dyn Fn(&Choice) -> String, by: &str| choices.iter().map(|c| of(c)).collect::<Vec<_>>().join(by);
            Variant {
                name: join(&|c| c.name.clone(), "-"),
                title: join(&|c| c.title.clone(), ", "),
                choices: rows
                    .iter()
                    .zip(&choices)
                    .map(|(row, c)| variant::Choice {
                        row: row.name.clone(),
                        name: c.name.clone(),
                        title: c.title.clone(),
                    })
                    .collect(),
            }
        })
        .collect();
    for (i, variant) in all.iter().enumerate() {
        if all[..i].iter().any(|other| other.name == variant.name) || TAKEN.contains(&variant.name.as_str()) {
            let help = "their files lie in a folder of that name: give a choice another one".to_owned();
            source.fault(
                span.clone(),
                format!("a variant cannot be called `{}`, which is taken", variant.name),
                Some(help),
            );
        }
    }
    let over = picks.iter().map(|pick| taken(pick).iter().map(|c| c.over.clone()).collect()).collect();
    Matrix { all, over }
}

impl<'t> Matrix<'t> {
    /// What a variant lays over the manifest, choice by choice.
    pub fn choices(&self, variant: usize) -> impl Iterator<Item = &DeTable<'t>> {
        self.over.get(variant).into_iter().flatten()
    }
}

fn row<'t>(source: &mut Source<'t>, name: &str, span: Range<usize>, value: Spanned<DeValue<'t>>) -> Option<Row<'t>> {
    named(source, name, span.clone());
    let DeValue::Table(table) = value.into_inner() else {
        let help = format!(
            "write [variants.{name}] and below it a line for each choice, such as moss = {{ style = {{ … }} }}"
        );
        source.fault(span, format!("`{name}` is a row of choices"), Some(help));
        return None;
    };
    let mut choices = Vec::new();
    for (key, value) in table {
        let (name, span) = (key.get_ref().to_string(), key.span());
        named(source, &name, span.clone());
        let DeValue::Table(mut over) = value.into_inner() else {
            let help = format!("write {name} = {{ … }} with the keys that it changes; {{}} changes nothing");
            source.fault(span, format!("the choice `{name}` is a table"), Some(help));
            continue;
        };
        let title = match over.remove("title").map(|t| (t.span(), t.into_inner())) {
            Some((_, DeValue::String(text))) if !text.trim().is_empty() => text.trim().to_owned(),
            Some((span, _)) => {
                source.fault(span, "the title of a choice is a text", Some("such as title = \"Left hand\"".into()));
                String::new()
            }
            None => spoken(&name),
        };
        for (key, _) in over.iter().filter(|(key, _)| !FREE.contains(&key.get_ref().as_ref())) {
            let key_name = key.get_ref();
            let help = if crate::raw::TOP.contains(&key_name.as_ref()) {
                "write it outside of [variants]; a variant changes ".to_owned() + &FREE.join(", ")
            } else {
                suggest(key_name, FREE.into_iter().chain(["title"]))
            };
            source.fault(key.span(), format!("a variant cannot change `{key_name}`"), Some(help));
        }
        let over: DeTable = over.into_iter().filter(|(key, _)| FREE.contains(&key.get_ref().as_ref())).collect();
        choices.push(Choice { name, title, over });
    }
    if choices.is_empty() {
        let help =
            format!("write below [variants.{name}] a line for each choice, such as moss = {{ style = {{ … }} }}");
        source.fault(span, format!("the row `{name}` has no choices"), Some(help));
        return None;
    }
    Some(Row { name: name.to_owned(), choices })
}

/// A name that files and folders can carry.
fn named(source: &mut Source, name: &str, span: Range<usize>) {
    if slug(name) != name || name.len() > 24 {
        let better = slug(name);
        let help = if better.is_empty() || better == name {
            "such as moss, left or a5".to_owned()
        } else {
            format!("write it as `{better}`, and title = \"{name}\" for people")
        };
        source.fault(span, format!("`{name}` names files: 1 to 24 lower-case letters, digits and hyphens"), Some(help));
    }
}

/// Ways to choose that are left out: for each row the choices that count, none for any.
struct Skip(Vec<Vec<usize>>);

impl Skip {
    fn hits(&self, pick: &[usize]) -> bool {
        self.0.iter().zip(pick).all(|(some, i)| some.is_empty() || some.contains(i))
    }
}

fn skips<'t>(source: &mut Source<'t>, value: Spanned<DeValue<'t>>, rows: &[Row<'t>]) -> Vec<Skip> {
    let span = value.span();
    let help =
        || Some("write [[variants.skip]] and below it, for instance, colourway = \"moss\" and hand = \"left\"".into());
    let DeValue::Array(list) = value.into_inner() else {
        source.fault(span, "`skip` is a list of tables", help());
        return Vec::new();
    };
    let mut out = Vec::new();
    for entry in list {
        let span = entry.span();
        let DeValue::Table(table) = entry.into_inner() else {
            source.fault(span, "`skip` is a list of tables", help());
            continue;
        };
        let mut skip: Vec<Vec<usize>> = vec![Vec::new(); rows.len()];
        for (key, value) in &table {
            let Some(at) = rows.iter().position(|r| r.name == key.get_ref().as_ref()) else {
                let near = suggest(key.get_ref(), rows.iter().map(|r| r.name.as_str()));
                source.fault(key.span(), format!("there is no row of choices `{}`", key.get_ref()), Some(near));
                continue;
            };
            let words: Vec<&Spanned<DeValue>> = match value.get_ref() {
                DeValue::Array(list) => list.iter().collect(),
                _ => vec![value],
            };
            for word in words {
                let text = if let DeValue::String(text) = word.get_ref() { text.as_ref() } else { "" };
                match rows[at].choices.iter().position(|c| c.name == text) {
                    Some(choice) => skip[at].push(choice),
                    None => {
                        let near = suggest(text, rows[at].choices.iter().map(|c| c.name.as_str()));
                        source.fault(word.span(), format!("`{}` has no such choice", rows[at].name), Some(near));
                    }
                }
            }
        }
        if skip.iter().all(Vec::is_empty) {
            source.fault(span, "what is left out?", help());
            continue;
        }
        out.push(Skip(skip));
    }
    out
}

/// Lays tables over tables: values take the place of values, and where there is a list of tables, keys pick its entries by
/// name or number.
pub fn lay<'t>(source: &mut Source<'t>, base: &mut DeTable<'t>, over: &DeTable<'t>) {
    for (key, value) in over {
        match base.get_mut(key.get_ref().as_ref()) {
            Some(there) => match (there.get_mut(), value.get_ref()) {
                (DeValue::Table(base), DeValue::Table(over)) => lay(source, base, over),
                (DeValue::Array(list), DeValue::Table(over)) => pick(source, list, over),
                _ => *there = value.clone(),
            },
            None => {
                base.insert(key.clone(), value.clone());
            }
        }
    }
}

fn pick<'t>(source: &mut Source<'t>, list: &mut [Spanned<DeValue<'t>>], over: &DeTable<'t>) {
    let names: Vec<Vec<String>> = list.iter().map(|entry| names(entry.get_ref())).collect();
    for (key, value) in over {
        let word = key.get_ref();
        let by_number = word.parse::<usize>().ok().filter(|n| (1..=list.len()).contains(n)).map(|n| n - 1);
        let wanted = slug(word);
        let found = by_number.or_else(|| names.iter().position(|some| some.contains(&wanted)));
        match (found.map(|i| list[i].get_mut()), value.get_ref()) {
            (Some(DeValue::Table(entry)), DeValue::Table(over)) => lay(source, entry, over),
            (Some(_), _) => {
                let help = format!("write \"{word}\" = {{ … }} with the keys that change");
                source.fault(value.span(), "what changes of this entry?", Some(help));
            }
            (None, _) => {
                let near = suggest(&wanted, names.iter().filter_map(|some| some.first().map(String::as_str)));
                let message = format!("no entry of the list is called `{word}`");
                source.fault(key.span(), message, Some(format!("{near}; a number counts from 1")));
            }
        }
    }
}

/// What an entry of a list can be called by.
pub fn names(entry: &DeValue) -> Vec<String> {
    let text = |key: &str| match entry.get(key).map(Spanned::get_ref) {
        Some(DeValue::String(text)) => Some(text.to_string()),
        _ => None,
    };
    let stem = |path: String| {
        let file = path.rsplit('/').next().unwrap_or_default().to_owned();
        file.rsplit_once('.').map(|(stem, _)| stem.to_owned()).unwrap_or(file)
    };
    let all =
        [text("slug"), text("name"), text("motif"), text("file").map(stem), text("ruling"), text("art").map(stem)];
    all.into_iter().flatten().map(|name| slug(&name)).filter(|name| !name.is_empty()).collect()
}
