//! Where a value of a product comes from: the file, line and column in which it is written, and what it goes before.

use super::layers::{FAMILIES, table_of};
use super::source::Source;
use super::variants::names;
use super::{Texts, layered, looks, slug, translations};
use base::files::Files;
use base::model::{Fault, SourceSpan};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A place at which something is said of a key.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// The file, from the product's folder; none for a look that the tool brings along.
    pub file: Option<String>,
    /// The place in it.
    pub span: SourceSpan,
    /// The keys under which it is written there, with points: `styles.winter.accent`.
    pub keys: String,
}

/// A value that counts, and where it is from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Origin {
    /// Its key, with points.
    pub key: String,
    /// The value as it is written.
    pub value: String,
    /// Where it stands.
    pub said: Said,
    /// Where the product or its shop say something else, which does not count.
    pub instead: Vec<Said>,
    /// The variants in which it counts; none where there are no variants, or it counts in all.
    pub variants: Vec<String>,
}

/// What is written of a key of a product, or of all keys of a table; nothing where only the tool's default is left. Entries of
/// lists are counted from 1, or called by their name, as in `notebook.section.2.name`.
///
/// # Errors
/// A manifest or a shop's file that cannot be read at all.
pub fn origins(world: &dyn Files, key: &str) -> Result<Vec<Origin>, Vec<Fault>> {
    let texts = Texts::read(world)?;
    let mut source = texts.source();
    let Some((layers, matrix)) = layered(&texts, &mut source) else { return Err(source.into_faults()) };
    let (Some(product), Some(shop), Some(original)) = (source.tables(), source.shop_tables(), source.original_tables())
    else {
        return Err(source.into_faults());
    };
    let behind = texts.original().map(|original| original.behind(world));
    let world = behind.as_ref().map_or(world, |behind| behind as &dyn Files);
    let place = |source: &Source, span: Range<usize>| {
        let mut at = source.span(span.clone());
        at.file = None;
        let whole = match () {
            () if source.is_shared(&span) => shop.get_ref(),
            () if source.is_of_original(&span) => original.get_ref(),
            () => product.get_ref(),
        };
        Said { file: Some(source.file(&span).to_owned()), span: at, keys: way_to(whole, &span).unwrap_or_default() }
    };
    let way: Vec<&str> = key.split('.').collect();
    let mut out: Vec<Origin> = Vec::new();
    for mine in 0..matrix.all.len().max(1) {
        let tables = layers.merged(&mut source, &matrix, mine);
        let mut found: Vec<Origin> = leaves_at(tables.get_ref(), &way)
            .into_iter()
            .map(|(key, span)| {
                let others = instead([layers.product.get_ref(), original.get_ref(), &layers.shop], &key, &span);
                // Of a text that has a translation, that counts.
                let way: Vec<&str> = key.split('.').collect();
                let text = at(tables.get_ref(), &way).and_then(|value| value.get_ref().as_str());
                let translated = text.and_then(|text| translations::place_of(tables.get_ref(), text));
                let own = translated.as_ref().map(|_| span.clone());
                let span = translated.unwrap_or(span);
                let said = place(&source, span.clone());
                let instead = own.into_iter().chain(others).map(|span| place(&source, span)).collect();
                Origin { key, value: source.written(&span).to_owned(), said, instead, variants: Vec::new() }
            })
            .collect();
        let known: Vec<String> = found.iter().map(|origin| origin.key.clone()).collect();
        found.extend(of_look(world, tables.get_ref(), &way).into_iter().filter(|more| !known.contains(&more.key)));
        for origin in found {
            let at = out.iter().position(|o| Origin { variants: Vec::new(), ..o.clone() } == origin);
            let at = at.unwrap_or_else(|| {
                out.push(origin);
                out.len() - 1
            });
            out[at].variants.extend(matrix.all.get(mine).map(|variant| variant.name.clone()));
        }
    }
    for origin in &mut out {
        if origin.variants.len() == matrix.all.len() {
            origin.variants.clear();
        }
    }
    Ok(out)
}

/// Where the product, its original and its shop say something of a key that another place says as well.
fn instead(layers: [&DeTable; 3], key: &str, counts: &Range<usize>) -> Vec<Range<usize>> {
    let way: Vec<&str> = key.split('.').collect();
    let mut all: Vec<Range<usize>> = layers.into_iter().filter_map(|t| at(t, &way)).map(Spanned::span).collect();
    // What the original says, the product may have from there.
    all.dedup();
    all.retain(|span| span != counts);
    all
}

/// What the look says that a style names, where nothing else does.
fn of_look(world: &dyn Files, tables: &DeTable, way: &[&str]) -> Vec<Origin> {
    let (Some(("style", rest)), Some(style)) = (way.split_first().map(|(s, r)| (*s, r)), table_of(tables, "style"))
    else {
        return Vec::new();
    };
    let name = style.get("look").and_then(|look| look.get_ref().as_str());
    let Some((path, text)) = name.and_then(|name| looks::find(world, name).ok()) else { return Vec::new() };
    let mut source = Source::new(&path, &text);
    let Some(look) = source.tables() else { return Vec::new() };
    let fonts = table_of(style, "fonts");
    let own = |key: &str| {
        let family = FAMILIES.iter().find(|family| family.iter().any(|font| key == format!("fonts.{font}")));
        family.is_some_and(|family| family.iter().any(|font| fonts.is_some_and(|fonts| fonts.contains_key(*font))))
    };
    // What the tool brings along is read from no folder.
    let file = world.inputs().contains_key(&path).then_some(path);
    let found = leaves_at(look.get_ref(), rest).into_iter().filter(|(key, _)| !own(key));
    found
        .map(|(keys, span)| Origin {
            key: format!("style.{keys}"),
            value: source.written(&span).to_owned(),
            said: Said { file: file.clone(), span: source.span(span), keys },
            instead: Vec::new(),
            variants: Vec::new(),
        })
        .collect()
}

/// What stands at a way through tables and lists.
fn at<'v, 't>(tables: &'v DeTable<'t>, way: &[&str]) -> Option<&'v Spanned<DeValue<'t>>> {
    let (first, rest) = way.split_first()?;
    let mut here = tables.get(*first)?;
    for step in rest {
        here = match here.get_ref() {
            DeValue::Table(table) => table.get(*step)?,
            DeValue::Array(list) => {
                let named = || list.iter().position(|entry| names(entry.get_ref()).contains(&slug(step)));
                let number = step.parse::<usize>().ok().and_then(|n| n.checked_sub(1)).filter(|n| *n < list.len());
                list.get(number.or_else(named)?)?
            }
            _ => return None,
        };
    }
    Some(here)
}

/// All values at a way and below it that are no tables, with their keys.
fn leaves_at(tables: &DeTable, way: &[&str]) -> Vec<(String, Range<usize>)> {
    let mut out = Vec::new();
    match at(tables, way) {
        Some(value) => leaves(value, &way.join("."), &mut out),
        None if way.is_empty() => tables.iter().for_each(|(key, value)| leaves(value, key.get_ref(), &mut out)),
        None => {}
    }
    out
}

fn leaves(value: &Spanned<DeValue>, key: &str, out: &mut Vec<(String, Range<usize>)>) {
    match value.get_ref() {
        DeValue::Table(table) => table.iter().for_each(|(k, v)| leaves(v, &format!("{key}.{}", k.get_ref()), out)),
        DeValue::Array(list) if list.iter().any(|entry| entry.get_ref().is_table()) => {
            list.iter().enumerate().for_each(|(i, entry)| leaves(entry, &format!("{key}.{}", i + 1), out));
        }
        _ => out.push((key.to_owned(), value.span())),
    }
}

/// The keys that lead to the value at a place.
fn way_to(tables: &DeTable, span: &Range<usize>) -> Option<String> {
    let mut all = Vec::new();
    tables.iter().for_each(|(key, value)| leaves(value, key.get_ref(), &mut all));
    all.into_iter().find(|(_, at)| at == span).map(|(key, _)| key)
}
