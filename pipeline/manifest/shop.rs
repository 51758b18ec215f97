//! `shop.toml`: what the products of a shop share. It has the keys of a manifest, but for those that are a product's own.

use super::raw;
use super::source::{Source, suggest};
use base::keys::{Described, Shape, Table};
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

/// The keys of a manifest that may stand in the shop's file.
pub const SHARED: [&str; 19] = [
    "language",
    "words",
    "translations",
    "classic-pdf",
    "shop",
    "page",
    "style",
    "styles",
    "stickers",
    "pictures",
    "assets",
    "guide",
    "licence",
    "limits",
    "delivery",
    "versions",
    "launch",
    "lower",
    "data",
];

/// Every key of the shop's file, with what is said of it.
pub fn keys() -> Table {
    let Shape::Table(mut table) = raw::Manifest::shape() else { unreachable!("a manifest is a table") };
    table.name = "Shop file";
    table.doc = "What the products of a shop share, `shop.toml`.";
    table.keys.retain(|key| SHARED.contains(&key.name));
    table
}

/// Reads the shop's file into its tables. What is no key of it is a fault and left out, and what does not fit is a fault even
/// where a product says something else; files are then named as from the product's folder.
pub fn read<'t>(source: &mut Source<'t>) -> Option<DeTable<'t>> {
    let whole = source.shop_tables()?;
    let span = whole.span();
    let home = source.home(&span).to_owned();
    let mut tables = DeTable::new();
    for (key, value) in whole.into_inner() {
        let name = key.get_ref().to_string();
        if SHARED.contains(&name.as_str()) {
            tables.insert(key, value);
            continue;
        }
        let own = super::keys().key(&name).is_some();
        let (message, help) = if own {
            (format!("`{name}` is a product's own"), "write it in the product.toml of each product".to_owned())
        } else {
            (format!("unknown key `{name}`"), suggest(&name, SHARED.into_iter()))
        };
        source.fault(key.span(), message, Some(help));
    }
    let tables = Spanned::new(span, tables);
    source.typed::<raw::Manifest>(&tables);
    let mut tables = tables.into_inner();
    if !home.is_empty() {
        lead_home(&mut tables, &home);
    }
    Some(tables)
}

/// Lets the files that the shop's file names be found from the product's folder.
fn lead_home(tables: &mut DeTable, home: &str) {
    let mut styles: Vec<&mut DeTable> = Vec::new();
    for (key, value) in tables.iter_mut() {
        match (key.get_ref().as_ref(), value.get_mut()) {
            ("style", DeValue::Table(style)) => styles.push(style),
            ("styles", DeValue::Table(all)) => styles.extend(all.iter_mut().filter_map(|(_, v)| table(v.get_mut()))),
            ("assets", DeValue::Table(assets)) => {
                assets.get_mut("own").into_iter().for_each(|own| lead(own, home, &|_| true));
                for item in assets.get_mut("item").and_then(|item| list(item.get_mut())).into_iter().flatten() {
                    let file = table(item.get_mut()).and_then(|item| item.get_mut("file"));
                    file.into_iter().for_each(|file| lead(file, home, &|_| true));
                }
            }
            ("guide", DeValue::Table(guide)) => {
                guide.get_mut("text").into_iter().for_each(|text| lead(text, home, &|_| true));
            }
            _ => {}
        }
    }
    for style in styles {
        let fonts = style.get_mut("fonts").and_then(|fonts| table(fonts.get_mut()));
        // A face that the tool brings along is named without a point.
        fonts
            .into_iter()
            .flat_map(DeTable::iter_mut)
            .for_each(|(_, font)| lead(font, home, &|name| name.contains('.')));
    }
}

fn lead(value: &mut Spanned<DeValue>, home: &str, is_file: &dyn Fn(&str) -> bool) {
    match value.get_mut() {
        DeValue::String(path) if is_file(path) => *path = DeString::from(format!("{home}{path}")),
        DeValue::Array(all) => all.iter_mut().for_each(|one| lead(one, home, is_file)),
        // A font with its weight.
        DeValue::Table(one) => one.get_mut("file").into_iter().for_each(|file| lead(file, home, is_file)),
        _ => {}
    }
}

fn table<'v, 't>(value: &'v mut DeValue<'t>) -> Option<&'v mut DeTable<'t>> {
    if let DeValue::Table(table) = value { Some(table) } else { None }
}

fn list<'v, 't>(value: &'v mut DeValue<'t>) -> Option<&'v mut [Spanned<DeValue<'t>>]> {
    if let DeValue::Array(list) = value { Some(list) } else { None }
}
