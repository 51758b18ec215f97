//! Variants on the page: the switch between them, and what of the page belongs to which.

use super::ProofInput;
use base::model::units::spoken;
use base::model::variant;
use base::model::variant::{Choice, Variant};
use serde::Serialize;

/// Choices that lie side by side, one tap each; more of them, or longer ones, go into a list.
const SIDE_BY_SIDE: usize = 4;
/// Characters of all choices that lie side by side.
const CHARACTERS: usize = 44;

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

impl ProofInput<'_> {
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
        if self.varies() { variant::common(self.variants, path) } else { path.to_owned() }
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
pub fn any(mut of: Vec<Option<usize>>, sheet: &ProofInput) -> String {
    of.sort();
    of.dedup();
    let known: Vec<usize> = of.iter().flatten().copied().collect();
    if known.len() < of.len() || known.len() == sheet.variants.len() { String::new() } else { only(&known) }
}

/// The switch; `None` where there is nothing to switch.
pub fn switch(sheet: &ProofInput) -> Option<Switch> {
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
    let keys: Vec<&str> = all[0].choices.iter().map(|c| c.row.as_str()).collect();
    if all.iter().any(|v| !v.choices.iter().map(|c| c.row.as_str()).eq(keys.iter().copied())) {
        return None;
    }
    let mut rows = Vec::new();
    let mut picks: Vec<Vec<usize>> = vec![Vec::new(); all.len()];
    for (n, key) in keys.iter().enumerate() {
        let mut choices: Vec<&Choice> = Vec::new();
        for choice in all.iter().map(|v| &v.choices[n]) {
            if !choices.iter().any(|c| c.name == choice.name) {
                choices.push(choice);
            }
        }
        // A row in which nothing can be chosen is none.
        if choices.len() < 2 {
            continue;
        }
        rows.push(row(key, choices.iter().map(|c| c.title.clone()).collect()));
        for (variant, picks) in all.iter().zip(&mut picks) {
            picks.extend(choices.iter().position(|c| c.name == variant.choices[n].name));
        }
    }
    let alone = picks.iter().enumerate().all(|(i, p)| !picks[..i].contains(p));
    (alone && !rows.is_empty()).then_some((rows, picks))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cell(choices: &[(&str, &str, &str)]) -> Variant {
        let choice = |(row, name, title): &(&str, &str, &str)| Choice {
            row: (*row).to_owned(),
            name: (*name).to_owned(),
            title: (*title).to_owned(),
        };
        Variant { choices: choices.iter().map(choice).collect(), ..Variant::default() }
    }

    fn told(all: &[Variant]) -> Option<(Vec<String>, Vec<Vec<usize>>)> {
        let (rows, picks) = rows(all)?;
        Some((rows.iter().map(|r| format!("{}: {}", r.title, r.choices.join("/"))).collect(), picks))
    }

    #[test]
    fn rows_come_in_the_order_of_the_manifest_with_the_titles_of_their_choices() {
        let (moss, clay) = (("colourway", "moss", "Moss"), ("colourway", "clay-pot", "Clay pot, new"));
        let (left, right) = (("a-hand", "left", "Left hand"), ("a-hand", "right", "Right hand"));
        let all = [cell(&[moss, left]), cell(&[moss, right]), cell(&[clay, left])];
        let rows = vec!["Colourway: Moss/Clay pot, new".to_owned(), "A hand: Left hand/Right hand".to_owned()];
        assert_eq!(told(&all), Some((rows, vec![vec![0, 0], vec![0, 1], vec![1, 0]])));
    }

    #[test]
    fn a_row_without_a_choice_is_left_out_and_rows_that_tell_nothing_apart_are_none() {
        let a5 = ("size", "a5", "A5");
        let all = [cell(&[a5, ("colourway", "moss", "Moss")]), cell(&[a5, ("colourway", "clay", "Clay")])];
        assert_eq!(told(&all), Some((vec!["Colourway: Moss/Clay".to_owned()], vec![vec![0], vec![1]])));
        assert_eq!(told(&[cell(&[a5]), cell(&[a5])]), None);
        assert_eq!(told(&[cell(&[a5]), cell(&[("hand", "left", "Left")])]), None);
    }
}
