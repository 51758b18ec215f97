//! Variants on the page: the switch between them, and what of the page belongs to which.

use super::Sheet;
use crate::model::{Variant, variant};
use serde::Serialize;
use std::collections::BTreeMap;

/// Choices that lie side by side, one tap each; more of them, or longer ones, go into a list.
const SIDE_BY_SIDE: usize = 4;
/// Characters of all choices that lie side by side.
const CHARACTERS: usize = 44;
/// Rows of which the order is looked for; a product has two or three.
const ROWS: usize = 6;

/// What switches between variants.
#[derive(Serialize)]
pub struct Switch {
    /// A control each.
    rows: Vec<Row>,
    /// The variants.
    cells: Vec<Cell>,
}

/// A row of choices.
#[derive(Serialize)]
struct Row {
    title: String,
    choices: Vec<String>,
    side_by_side: bool,
}

/// A variant: its choice of each row.
#[derive(Serialize)]
struct Cell {
    name: String,
    title: String,
    picks: Vec<usize>,
}

impl Sheet<'_> {
    /// Whether there is anything to switch.
    pub fn varies(&self) -> bool {
        self.variants.len() > 1
    }

    /// The variant that a file belongs to, where there is more than one.
    pub fn variant_of(&self, path: &str) -> Option<usize> {
        if self.varies() { variant::of(self.variants, path) } else { None }
    }

    /// What a file is called in all variants: its place without the name of its own.
    pub fn kin(&self, path: &str) -> String {
        let Some(mine) = self.variant_of(path).map(|v| &self.variants[v].name) else { return path.to_owned() };
        let inner = path.strip_prefix("contents/").and_then(|p| p.strip_prefix(mine.as_str())).unwrap_or(path);
        match inner.rsplit_once('.') {
            Some((stem, ending)) => {
                let stem = stem.strip_suffix(mine.as_str()).and_then(|s| s.strip_suffix('-')).unwrap_or(stem);
                format!("contents{stem}.{ending}")
            }
            None => format!("contents{inner}"),
        }
    }
}

/// Attributes of an element that only some variants have; the page begins with the first variant.
pub fn only(variants: &[usize]) -> String {
    let list: Vec<String> = variants.iter().map(usize::to_string).collect();
    match variants {
        [] => String::new(),
        [0, ..] => format!(" data-variant=\"{}\"", list.join(" ")),
        _ => format!(" data-variant=\"{}\" hidden", list.join(" ")),
    }
}

/// Attributes of an element that some of these variants have; `None` is one that all have.
pub fn any(mut of: Vec<Option<usize>>, sheet: &Sheet) -> String {
    of.sort();
    of.dedup();
    let known: Vec<usize> = of.iter().flatten().copied().collect();
    if known.len() < of.len() || known.len() == sheet.variants.len() { String::new() } else { only(&known) }
}

/// The switch; `None` where there is nothing to switch.
pub fn switch(sheet: &Sheet) -> Option<Switch> {
    if !sheet.varies() {
        return None;
    }
    let all = sheet.variants;
    let (rows, picks) = rows(all).unwrap_or_else(|| {
        let titles = all.iter().map(|v| v.title.clone()).collect();
        (vec![row("variant", titles)], (0..all.len()).map(|i| vec![i]).collect())
    });
    let cells = all.iter().zip(picks);
    let cells = cells.map(|(v, picks)| Cell { name: v.name.clone(), title: v.title.clone(), picks }).collect();
    Some(Switch { rows, cells })
}

fn row(name: &str, choices: Vec<String>) -> Row {
    let characters: usize = choices.iter().map(|c| c.chars().count()).sum();
    Row { title: spoken(name), side_by_side: choices.len() <= SIDE_BY_SIDE && characters <= CHARACTERS, choices }
}

/// The rows of choices, and which choice of each a variant takes; `None` if rows do not tell the variants apart.
fn rows(all: &[Variant]) -> Option<(Vec<Row>, Vec<Vec<usize>>)> {
    let keys: Vec<&str> = all[0].values.keys().map(String::as_str).collect();
    if all.iter().any(|v| !v.values.keys().eq(keys.iter())) {
        return None;
    }
    let names: Vec<&str> = all.iter().map(|v| v.name.as_str()).collect();
    // The record keeps the values by the alphabet; a variant's name has them in the order of the manifest.
    let found = if keys.len() <= ROWS { order(all, &names, &keys) } else { None };
    let (ordered, keys) = (found.is_some(), found.unwrap_or(keys));
    let mut rows = Vec::new();
    let mut picks: Vec<Vec<usize>> = vec![Vec::new(); all.len()];
    for (n, key) in keys.iter().enumerate() {
        let mut values: Vec<&str> = Vec::new();
        for value in all.iter().map(|v| v.values[*key].as_str()) {
            if !values.contains(&value) {
                values.push(value);
            }
        }
        // A row in which nothing can be chosen is none.
        if values.len() < 2 {
            continue;
        }
        let titles = ordered.then(|| titles(all, key, n, keys.len())).flatten();
        let title = |value: &&str| titles.as_ref().and_then(|t| t.get(value).map(|t| (*t).to_owned()));
        rows.push(row(key, values.iter().map(|v| title(v).unwrap_or_else(|| spoken(v))).collect()));
        for (variant, picks) in all.iter().zip(&mut picks) {
            picks.extend(values.iter().position(|v| *v == variant.values[*key]));
        }
    }
    let alone = picks.iter().enumerate().all(|(i, p)| !picks[..i].contains(p));
    (alone && !rows.is_empty()).then_some((rows, picks))
}

/// The order of the rows in which the names of all variants are composed: `moss-left` is colourway, then hand.
fn order<'a>(all: &[Variant], names: &[&str], left: &[&'a str]) -> Option<Vec<&'a str>> {
    if left.is_empty() {
        return names.iter().all(|rest| rest.is_empty()).then(Vec::new);
    }
    left.iter().enumerate().find_map(|(i, key)| {
        let rests: Option<Vec<&str>> = all
            .iter()
            .zip(names)
            .map(|(v, name)| {
                let rest = name.strip_prefix(v.values[*key].as_str())?;
                if rest.is_empty() { Some(rest) } else { rest.strip_prefix('-') }
            })
            .collect();
        let others = [&left[..i], &left[i + 1..]].concat();
        let found = order(all, &rests?, &others)?;
        Some([vec![*key], found].concat())
    })
}

/// What the choices of a row are called: a variant's title has the title of each of its choices, in the order of the rows.
fn titles<'a>(all: &'a [Variant], key: &str, n: usize, rows: usize) -> Option<BTreeMap<&'a str, &'a str>> {
    let mut out = BTreeMap::new();
    for variant in all {
        let parts: Vec<&str> = if rows == 1 { vec![&variant.title] } else { variant.title.split(", ").collect() };
        if parts.len() != rows || parts[n].is_empty() {
            return None;
        }
        if *out.entry(variant.values[key].as_str()).or_insert(parts[n]) != parts[n] {
            return None;
        }
    }
    Some(out)
}

/// `left-hand` becomes `Left hand`.
fn spoken(name: &str) -> String {
    let mut chars = name.chars();
    let first: String = chars.next().into_iter().flat_map(char::to_uppercase).collect();
    first + &chars.as_str().replace('-', " ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cell(name: &str, title: &str, values: &[(&str, &str)]) -> Variant {
        let values = values.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect();
        Variant { name: name.to_owned(), title: title.to_owned(), values }
    }

    fn told(all: &[Variant]) -> Option<(Vec<String>, Vec<Vec<usize>>)> {
        let (rows, picks) = rows(all)?;
        Some((rows.iter().map(|r| format!("{}: {}", r.title, r.choices.join("/"))).collect(), picks))
    }

    #[test]
    fn rows_come_in_the_order_of_the_manifest_with_the_titles_of_their_choices() {
        let all = [
            cell("moss-left", "Moss, Left hand", &[("colourway", "moss"), ("a-hand", "left")]),
            cell("moss-right", "Moss, Right hand", &[("colourway", "moss"), ("a-hand", "right")]),
            cell("clay-pot-left", "Clay pot (new), Left hand", &[("colourway", "clay-pot"), ("a-hand", "left")]),
        ];
        let rows = vec!["Colourway: Moss/Clay pot (new)".to_owned(), "A hand: Left hand/Right hand".to_owned()];
        assert_eq!(told(&all), Some((rows, vec![vec![0, 0], vec![0, 1], vec![1, 0]])));
    }

    #[test]
    fn a_row_without_a_choice_is_left_out_and_titles_that_cannot_be_told_apart_are_made_from_names() {
        let all = [
            cell("a5-moss", "A5, narrow, Moss", &[("colourway", "moss"), ("size", "a5")]),
            cell("a5-clay-pot", "A5, narrow, Clay", &[("colourway", "clay-pot"), ("size", "a5")]),
        ];
        assert_eq!(told(&all), Some((vec!["Colourway: Moss/Clay pot".to_owned()], vec![vec![0], vec![1]])));
        let twice = [cell("one", "One", &[("size", "a5")]), cell("two", "Two", &[("size", "a5")])];
        assert_eq!(told(&twice), None);
    }
}
