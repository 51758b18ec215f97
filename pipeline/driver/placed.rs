//! Finished stickers for pages of the notebook: they are asked for before it is planned, since where they land depends on
//! their true size. The files that buyers get are the same tasks, so that none is made twice.

use super::context::{RenderContext, file, finished_sticker};
use super::files;
use super::session::{Session, all};
use base::model::fault::suggest;
use base::model::plan::Make;
use base::model::product::Sticker;
use base::model::{Fault, Item, Kind, Stop};
use plan::{Made, Placed};
use rayon::prelude::*;
use std::collections::BTreeMap;

/// The stickers that stand on pages of the notebook, by name; and names that no sticker has, as faults with their place in the
/// manifest, which are told with those of the plan.
///
/// # Errors
/// What keeps a sticker from being made.
pub fn made(session: &Session, context: &RenderContext) -> Result<(Placed, Vec<Fault>), Stop> {
    let all_of_them = &context.product.stickers.items;
    let named = |name: &str| all_of_them.iter().find(|s| s.name == name);
    let (mut wanted, mut faults): (BTreeMap<&str, &Sticker>, Vec<Fault>) = Default::default();
    for placed in context.product.notebook.iter().flat_map(|n| n.placed_stickers()) {
        match named(&placed.sticker) {
            Some(sticker) => {
                wanted.insert(&placed.sticker, sticker);
            }
            None => {
                let message = format!("no sticker is called `{}`", placed.sticker);
                let help = match all_of_them.is_empty() {
                    true => {
                        "the product has no stickers: add [[sticker]], or set decorated = false under [notebook]".into()
                    }
                    false => suggest(&placed.sticker, all_of_them.iter().map(|s| s.name.as_str())),
                };
                let fault = Fault::new(message).help(help).in_file(manifest::FILE);
                let fault = Fault { span: placed.named.clone(), ..fault };
                if !faults.contains(&fault) {
                    faults.push(fault);
                }
            }
        }
    }
    let wanted: Vec<(&str, &Sticker)> = wanted.into_iter().collect();
    let one = |(name, sticker): &(&str, &Sticker)| -> Result<(String, Made), Stop> {
        let path = format!("{name}.png");
        let item = Item { path, kind: Kind::Sticker, make: Make::Sticker((*sticker).clone()) };
        let made = session.ask(context.task(&item), || context.make(&item))?;
        let png = file(&item, &made);
        let read = files::all_inspected(session, std::slice::from_ref(&png))?;
        // One file was asked about, and one answer came.
        Ok(((*name).to_owned(), finished_sticker(session, &png, &read[0])?))
    };
    let made = all(wanted.par_iter().map(one).collect::<Vec<_>>())?;
    Ok((made.into_iter().collect(), faults))
}
