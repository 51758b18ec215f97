//! The table of what buyers get: file or folder, and what it is.

use base::model::plan::Make;
use base::model::variant;
use base::model::{Item, Kind, Product};
use wording::{Tongue, fill};

/// The rows of a table of what buyers get, in the language of the product. A variant has a row for its folder.
pub fn file_rows<'a>(product: &Product, items: impl Iterator<Item = &'a Item>) -> Vec<(String, String)> {
    let (variants, tongue) = (&product.folders(), Tongue::of(product));
    let mut of: Vec<Vec<&Item>> = vec![Vec::new(); variants.len() + 1];
    for item in items {
        of[variant::of(variants, &item.path).map_or(0, |v| v + 1)].push(item);
    }
    let mut rows = Vec::new();
    for (variant, own) in variants.iter().zip(&of[1..]).filter(|(_, own)| !own.is_empty()) {
        let what: Vec<String> = table(own, &tongue).into_iter().map(|(_, what)| what).collect();
        let start = &tongue.documents().start;
        let what = what.join(start.semicolon);
        rows.push((format!("{}/", variant.name), format!("{}{}{what}", variant.title, start.colon)));
    }
    rows.extend(table(&of[0], &tongue));
    rows
}

/// A row for each file but stickers and PNG sheets, which have one for their folder.
fn table(items: &[&Item], tongue: &Tongue) -> Vec<(String, String)> {
    let says = &tongue.documents().start;
    let (mut rows, mut stickers, mut sheets) = (Vec::new(), 0, 0);
    for item in items {
        let name = item.path.trim_start_matches("contents/").to_owned();
        let pages = tongue.count(item.pages(), says.pages);
        let told = |sentence: &str| fill(sentence, &[("pages", &pages)]);
        match item.kind {
            Kind::Notebook => rows.push((name, told(says.row_notebook))),
            Kind::Covers => rows.push((name, told(says.row_covers))),
            Kind::Sheet if matches!(item.make, Make::Picture(_)) => sheets += 1,
            Kind::Sheet => rows.push((name, told(says.row_sheet))),
            Kind::Sticker => stickers += 1,
            _ => rows.push((name, pages)),
        }
    }
    if sheets > 0 {
        rows.push(("sticker-sheets/".to_owned(), tongue.count(sheets, says.row_sheets)));
    }
    if stickers > 0 {
        rows.push(("stickers/".to_owned(), tongue.count(stickers, says.row_stickers)));
    }
    rows
}
