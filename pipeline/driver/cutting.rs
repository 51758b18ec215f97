//! Sheets of drawings become stickers of the product, before anything is planned: the plan counts and names them.

use super::keys;
use super::memory::Memory;
use base::model::product::Sticker;
use base::model::{Fault, Product};
use draw::Fonts;
use rayon::prelude::*;
use render::stickers::Workshop;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Cuts every sheet; the pieces take their places in front of their group's other stickers. Gives what is worth saying.
///
/// # Errors
/// Sheets that cannot be cut, or that hold another number of drawings than the manifest says.
pub fn cut(product: &mut Product, fonts: &Fonts, font_sum: &str, memory: &Memory) -> Result<Vec<String>, Vec<Fault>> {
    if product.stickers.cuts.is_empty() {
        return Ok(Vec::new());
    }
    let workshop = Workshop::new(&product.style, fonts);
    let cuts = &product.stickers.cuts;
    let whole: &Product = product;
    let results: Vec<_> = cuts
        .par_iter()
        .map(|sheet| {
            memory.pieces(keys::cut_key(whole, font_sum, sheet, memory), || {
                workshop.cut_sheet(sheet).map(|cut| Arc::new((cut.stickers, cut.notes)))
            })
        })
        .collect();
    let (mut pieces, mut notes, mut faults) = (Vec::new(), Vec::new(), Vec::new());
    for result in results {
        match result {
            Ok(cut) => {
                pieces.extend(cut.0.iter().cloned());
                notes.extend(cut.1.iter().cloned());
            }
            Err(fault) => faults.push(fault),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut taken: BTreeSet<String> = product.stickers.items.iter().map(|s| s.name.clone()).collect();
    for sticker in &mut pieces {
        sticker.name = free(manifest::slug(&sticker.name), &mut taken);
    }
    let place = |s: &Sticker| product.stickers.groups.iter().position(|g| *g == s.group).map_or(0, |i| i + 1);
    pieces.append(&mut product.stickers.items);
    pieces.sort_by_key(place);
    product.stickers.items = pieces;
    Ok(notes)
}

/// The name, with a number if it is taken.
fn free(name: String, taken: &mut BTreeSet<String>) -> String {
    let name = if name.is_empty() { "sticker".to_owned() } else { name };
    let all = std::iter::once(name.clone()).chain((2..).map(|n| format!("{name}-{n}")));
    // The numbers never end, so one of them is free.
    let found = all.into_iter().find(|n| !taken.contains(n)).unwrap_or(name);
    taken.insert(found.clone());
    found
}
