//! The variants of a product while they are made: what is equal in two of them is rendered once, and what is the same in
//! all of them lies in the bundle once.

use super::bench::Bench;
use super::memory::Memory;
use super::progress::Progress;
use super::{cutting, keys, read_back};
use crate::store::Cache;
use base::model::facts::Inspected;
use base::model::{Artifact, Fault, Item, Plan, Product};
use draw::Fonts;
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A variant, or the whole of a product that has none.
pub struct Cell {
    /// What is built.
    pub product: Product,
    /// Its fonts.
    pub fonts: Arc<Fonts>,
    /// One digest over them.
    pub font_sum: String,
    /// What is planned of it; what another variant has already made for all is planned there.
    pub plan: Plan,
}

/// A file: how it was planned, its bytes, and what was read from them.
pub struct Part {
    pub item: Item,
    pub file: Artifact,
    pub read: Inspected,
}

/// The files of each variant, and what is worth saying of them.
pub type Made = (Vec<Vec<Part>>, Vec<String>);

impl Cell {
    /// Opens fonts, cuts sheets and plans what follows from the product alone. Gives what is worth saying as well.
    pub fn open(mut product: Product, memory: &Memory) -> Result<(Cell, Vec<String>), Vec<Fault>> {
        let fonts = Arc::new(Fonts::open(&product.style.fonts)?);
        let font_sum = keys::fonts(&product);
        let notes = cutting::cut(&mut product, &fonts, &font_sum, memory)?;
        let plan = plan::plan(&product, &fonts, rulings::TABLE)?;
        Ok((Cell { product, fonts, font_sum, plan }, notes))
    }

    /// A bench to make its files at.
    pub fn bench<'a>(&'a self, cache: Option<&'a Cache>, memory: &'a Memory, say: &'a Progress) -> Bench<'a> {
        Bench::new(&self.product, &self.fonts, &self.font_sum, cache, memory, say)
    }
}

/// Makes and reads back the files of all variants, given in lists of their own. A file that is planned and made in the
/// same way in two variants is made once.
pub fn render(benches: &[Bench], wanted: Vec<Vec<Item>>) -> Result<Made, Vec<Fault>> {
    // For each file the variant in which the same one is made.
    let twin = |cell: usize, i: usize| {
        let item = &wanted[cell][i];
        (0..cell).find_map(|other| {
            let at = wanted[other].iter().position(|o| o.path == item.path)?;
            (benches[cell].makes_as(&benches[other]) && wanted[other][at] == *item).then_some((other, at))
        })
    };
    let all: Vec<(usize, usize)> = (0..wanted.len()).flat_map(|c| (0..wanted[c].len()).map(move |i| (c, i))).collect();
    let twins: Vec<Option<(usize, usize)>> = all.par_iter().map(|(c, i)| twin(*c, *i)).collect();
    let made: Vec<_> = all
        .par_iter()
        .zip(&twins)
        .map(|((c, i), twin)| {
            twin.is_none().then(|| {
                let bench = &benches[*c];
                let (file, said) = bench.render(&wanted[*c][*i])?;
                let read = read_back::one(&file, bench.cache, bench.memory);
                Ok((file, read, said))
            })
        })
        .collect();
    let (mut parts, mut notes, mut faults) = (Vec::new(), Vec::new(), Vec::new());
    parts.resize_with(wanted.len(), Vec::<Part>::new);
    let mut items: Vec<std::vec::IntoIter<Item>> = wanted.into_iter().map(Vec::into_iter).collect();
    for (((c, _), twin), made) in all.into_iter().zip(twins).zip(made) {
        let Some(item) = items[c].next() else { continue };
        let copy = |(other, at): (usize, usize)| {
            let there: Option<&Part> = parts[other].get(at);
            there.map(|p| (p.file.clone(), p.read.clone()))
        };
        match made {
            Some(Ok((file, read, said))) => {
                notes.extend(said);
                parts[c].push(Part { item, file, read });
            }
            Some(Err(some)) => faults.extend::<Vec<Fault>>(some),
            // Where the twin could not be made, that was said.
            None => {
                if let Some((file, read)) = twin.and_then(copy) {
                    parts[c].push(Part { item, file, read });
                }
            }
        }
    }
    if faults.is_empty() { Ok((parts, notes)) } else { Err(faults) }
}

/// Finds the files that are the same in all variants, which stay with the first and where they are. Every other file goes
/// into the folder of its variant.
pub fn settle(cells: &[Cell], parts: &mut [Vec<Part>]) {
    let Some((first, others)) = parts.split_first() else { return };
    let everywhere = |part: &&Part| {
        let same = |p: &Part| p.item.path == part.item.path && p.read.sha256 == part.read.sha256;
        others.iter().all(|list| list.iter().any(same))
    };
    let shared: BTreeSet<String> = first.iter().filter(everywhere).map(|p| p.item.path.clone()).collect();
    for (i, (cell, list)) in cells.iter().zip(parts).enumerate() {
        list.retain(|p| i == 0 || !shared.contains(&p.item.path));
        for part in list.iter_mut().filter(|p| !shared.contains(&p.item.path)) {
            let path = cell.product.variants.place(&part.item.path);
            part.file.path.clone_from(&path);
            part.read.path.clone_from(&path);
            part.item.path = path;
        }
    }
}
