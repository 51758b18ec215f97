//! What counts where several say something: a variant's choices before the product, the product before its shop, and a named
//! style before whatever stands below the one that takes it.

use super::source::{Source, suggest};
use super::variants::{Matrix, lay};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Keys of `[style]` and of the top level that name a style.
const TAKE: &str = "named";
pub const STYLES: &str = "styles";

/// Fonts that belong together: of a family of which one is named, none is taken from elsewhere.
pub const FAMILIES: [&[&str]; 2] = [&["heading", "heading-italic"], &["label", "label-bold", "label-italic"]];

/// Lists that are added up instead of taking each other's place: the ledger, the checks that are lowered, the steps of a launch.
pub const ADDED: [&[&str]; 4] = [&["assets", "own"], &["assets", "item"], &["lower"], &["launch", "step"]];

/// The product's tables, and the shop's.
pub struct Layers<'t> {
    pub product: Spanned<DeTable<'t>>,
    pub shop: DeTable<'t>,
    /// The named styles of both.
    styles: DeTable<'t>,
}

impl<'t> Layers<'t> {
    /// Both, with what is said of their named styles looked through.
    pub fn new(source: &mut Source<'t>, product: Spanned<DeTable<'t>>, shop: DeTable<'t>, matrix: &Matrix<'t>) -> Self {
        let of = |tables: &DeTable<'t>| table_of(tables, STYLES).cloned().unwrap_or_default();
        let mut styles = of(product.get_ref());
        below(&mut styles, &of(&shop), &[]);
        for (_, style) in styles.iter_mut() {
            let DeValue::Table(style) = style.get_mut() else { continue };
            if let Some(other) = style.remove(TAKE) {
                let help = "take it out, and write its keys here".to_owned();
                source.fault(other.span(), "a named style cannot take another one", Some(help));
            }
        }
        let layers = Layers { product, shop, styles };
        let choices = (0..matrix.all.len()).flat_map(|mine| matrix.choices(mine));
        let both = [&layers.shop, layers.product.get_ref()];
        for (name, span) in both.into_iter().chain(choices).filter_map(taken) {
            if !layers.styles.contains_key(name.as_str()) {
                let help = if layers.styles.is_empty() {
                    format!("write it: [{STYLES}.{name}], in this file or in the shop's")
                } else {
                    suggest(&name, layers.styles.keys().map(|key| key.get_ref().as_ref()))
                };
                source.fault(span, format!("there is no style called `{name}`"), Some(help));
            }
        }
        layers
    }

    /// The manifest of a variant, as if all of it stood in one file.
    pub fn merged(&self, source: &mut Source<'t>, matrix: &Matrix<'t>, variant: usize) -> Spanned<DeTable<'t>> {
        let mut out = self.product.clone();
        let mut shop = self.shop.clone();
        let mut choices: Vec<DeTable<'t>> = matrix.choices(variant).cloned().collect();
        // The last one that takes a style takes it alone.
        let mut found = false;
        for layer in choices.iter_mut().rev().chain([out.get_mut(), &mut shop]) {
            let name = taken(layer);
            let Some(DeValue::Table(style)) = layer.get_mut("style").map(Spanned::get_mut) else { continue };
            let Some((name, _)) = name else { continue };
            style.remove(TAKE);
            if let (Some(named), false) = (table_of(&self.styles, &name), found) {
                below(style, named, &["style"]);
            }
            found = true;
        }
        below(out.get_mut(), &shop, &[]);
        choices.iter().for_each(|choice| lay(source, out.get_mut(), choice));
        out
    }
}

/// The style that a layer takes, with its place.
fn taken(layer: &DeTable) -> Option<(String, Range<usize>)> {
    let name = table_of(layer, "style")?.get(TAKE)?;
    name.get_ref().as_str().map(|text| (text.to_owned(), name.span()))
}

/// A table that stands in another.
pub fn table_of<'v, 't>(tables: &'v DeTable<'t>, key: &str) -> Option<&'v DeTable<'t>> {
    tables.get(key)?.get_ref().as_table()
}

/// Puts values where there are none. `path` are the keys that lead here.
fn below<'t>(tables: &mut DeTable<'t>, more: &DeTable<'t>, path: &[&str]) {
    let fonts = path.ends_with(&["fonts"]);
    let named: Vec<&[&str]> =
        FAMILIES.into_iter().filter(|f| fonts && f.iter().any(|k| tables.contains_key(*k))).collect();
    for (key, value) in more {
        let name = key.get_ref().as_ref();
        if named.iter().any(|family| family.contains(&name)) {
            continue;
        }
        match tables.get_mut(name).map(Spanned::get_mut) {
            None => {
                tables.insert(key.clone(), value.clone());
            }
            Some(DeValue::Table(there)) => {
                let DeValue::Table(more) = value.get_ref() else { continue };
                let path: Vec<&str> = path.iter().copied().chain([name]).collect();
                below(there, more, &path);
            }
            Some(DeValue::Array(there)) => {
                let added =
                    ADDED.iter().any(|list| list.split_last().is_some_and(|(l, way)| *l == name && *way == *path));
                if let (DeValue::Array(more), true) = (value.get_ref(), added) {
                    *there = there.iter().chain(more.iter()).cloned().collect();
                }
            }
            Some(_) => {}
        }
    }
}
